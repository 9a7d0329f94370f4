#!/usr/bin/env python3
"""Hold every #include against the table of layers: includes.py ROOT LAYER:BELOW:HEADERS:WHERE …

A layer includes its own headers and those of the layers below it; a library's header stands only
where the table says. The topmost layer, cli, may use all others, and main.c only cli and base.
"""
import pathlib
import re
import sys

INCLUDE = re.compile(r'^\s*#\s*include\s*(?:"senbetsu/(\w+)/[^"]*"|<([^>]+)>)', re.MULTILINE)


def sources(root, layer):
    for folder in (root / "src" / layer, root / "include" / "senbetsu" / layer):
        yield from sorted(folder.rglob("*.[ch]"))


def place(root, path):
    """The file as "core/score.c", whether it is a source or a header."""
    relative = path.relative_to(root)
    return "/".join(relative.parts[1 if relative.parts[0] == "src" else 2:])


def wrong_includes(root, path, layers, libraries):
    where = place(root, path)
    for layer, header in INCLUDE.findall(path.read_text(encoding="utf-8")):
        if layer and layer not in layers:
            yield f"{where} may not include anything of {layer}"
        for name, only in libraries:
            if header and header.startswith(name) and not where.startswith(only):
                yield f"{where} includes <{header}>, which only {only} may"


def main(root, *table):
    root = pathlib.Path(root)
    rows = [row.split(":") for row in table]
    libraries = [(header, only) for _, _, headers, only in rows
                 for header in filter(None, headers.split(","))]
    wrong = []
    for layer, below, _, _ in rows:
        for path in sources(root, layer):
            wrong += wrong_includes(root, path, [layer, *below.split(",")], libraries)
    everything = [row[0] for row in rows] + ["cli"]
    for path in sources(root, "cli"):
        wrong += wrong_includes(root, path, everything, libraries)
    wrong += wrong_includes(root, root / "src" / "main.c", ["cli", "base"], libraries)
    folders = {path.name for path in (root / "src").iterdir() if path.is_dir()}
    wrong += [f"src/{name} is no layer" for name in sorted(folders - set(everything))]
    print("\n".join(wrong))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
