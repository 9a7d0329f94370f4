#!/usr/bin/env python3
"""See that the top of the tree holds what it should, that folders mirror each other, and that the
pages for developers name files that are there."""
import pathlib
import re
import subprocess
import sys

TOP = {"README.md", "DEVELOPERS.md", "LICENSE", "meson.build", "meson_options.txt", "src",
       "include", "tests", "migrations", "demo", "docs", ".gitignore", ".editorconfig",
       ".clang-format", ".clang-tidy", ".ci"}

# Headers without a source of their name: types alone, and what a family of files (command_import.c,
# exchange's one file for each kind of record) shares.
WITHOUT_SOURCE = {"key", "style", "screen", "screens", "exchange"}


def tracked(root):
    """What git knows of; outside a checkout, all that is there."""
    run = subprocess.run(["git", "-C", root, "ls-files"], text=True, capture_output=True,
                         check=False)
    if run.returncode == 0 and run.stdout:
        return run.stdout.splitlines()
    return [str(path.relative_to(root)) for path in pathlib.Path(root).rglob("*") if path.is_file()
            and not path.relative_to(root).parts[0].startswith(("build", ".git/"))]


def dead_paths(root, files):
    """Sources that the pages for people name and that are not there; NAME stands for any."""
    for name in sorted(files):
        if name.endswith(".md"):
            text = (pathlib.Path(root) / name).read_text(encoding="utf-8")
            for path in re.findall(r"`((?:src|include|tests|docs|demo)/[a-z0-9_./-]+\.\w+)`", text):
                if path not in files:
                    yield f"{name} names {path}, which is not there"


def main(root):
    files = set(tracked(root))
    top = {name.split("/")[0] for name in files}
    wrong = [f"{name} does not belong at the top of the tree" for name in sorted(top - TOP)]
    for name in sorted(files):
        header = pathlib.PurePath(name)
        source = f"src/{header.parent.relative_to('include/senbetsu')}/{header.stem}.c" if name.startswith("include/senbetsu/") else ""
        alone = header.stem in WITHOUT_SOURCE or source in files
        if name.startswith("include/") and not alone:
            wrong.append(f"{name} has no {source}")
    wrong += dead_paths(root, files)
    print("\n".join(wrong))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
