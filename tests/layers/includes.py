#!/usr/bin/env python3
"""Hold every #include, and the page for developers, against the table of layers:
includes.py ROOT LAYER:BELOW:LIBRARIES:HEADERS:WHERE …

A layer includes its own headers and those of the layers below it; a library's header stands only
where the table says. main.c uses cli and base alone. The parent model, glmm, is a layer in a folder
of stats.
"""
import pathlib
import re
import sys

INCLUDE = re.compile(r'^\s*#\s*include\s*(?:"senbetsu/((?:stats/glmm|\w+))/[^"]*"|<([^>]+)>)', re.M)
PAGE_ROW = re.compile(r"^\| (?:stats/)?(\w+) \| ([^|]*) \|", re.M)
PAGE_NAMES = {"gsl": "GSL", "sqlite": "SQLite", "xxhash": "xxHash", "curses": "ncursesw"}
FOLDERS = {"glmm": "stats/glmm"}


def folder(layer):
    return FOLDERS.get(layer, layer)


def sources(root, layer):
    inner = [folder(other) for other in FOLDERS if FOLDERS[other].startswith(layer + "/")]
    for top in (root / "src", root / "include" / "senbetsu"):
        for path in sorted((top / folder(layer)).rglob("*.[ch]")):
            if not any((top / name) in path.parents for name in inner):
                yield path


def place(root, path):
    """The file as "core/score.c", whether it is a source or a header."""
    relative = path.relative_to(root)
    return "/".join(relative.parts[1 if relative.parts[0] == "src" else 2:])


def wrong_includes(root, path, layers, libraries):
    where = place(root, path)
    may = [folder(layer) for layer in layers]
    for layer, header in INCLUDE.findall(path.read_text(encoding="utf-8")):
        if layer and layer not in may:
            yield f"{where} may not include anything of {layer}"
        for name, only in libraries:
            if header and header.startswith(name) and not where.startswith(only):
                yield f"{where} includes <{header}>, which only {only} may"


def wrong_page(root, rows):
    """The table in DEVELOPERS.md says of each layer what the build's table says."""
    text = (root / "DEVELOPERS.md").read_text(encoding="utf-8")
    page = {name: set(uses.split(", ")) for name, uses in PAGE_ROW.findall(text)}
    for name, below, libraries, _, _ in rows:
        uses = set(filter(None, below.split(",")))
        uses |= {PAGE_NAMES.get(library, library) for library in filter(None, libraries.split(","))}
        said = page.get(name, set())
        if said != uses:
            yield (f"DEVELOPERS.md says that {name} may use {', '.join(sorted(said)) or 'nothing'};"
                   f" tests/layers/meson.build says {', '.join(sorted(uses))}")


def main(root, *table):
    root = pathlib.Path(root)
    rows = [row.split(":") for row in table]
    libraries = [(header, only) for _, _, _, headers, only in rows
                 for header in filter(None, headers.split(","))]
    wrong = []
    for layer, below, *_ in rows:
        for path in sources(root, layer):
            wrong += wrong_includes(root, path, [layer, *below.split(",")], libraries)
    wrong += wrong_includes(root, root / "src" / "main.c", ["cli", "base"], libraries)
    folders = {path.name for path in (root / "src").iterdir() if path.is_dir()}
    wrong += [f"src/{name} is no layer" for name in sorted(folders - {row[0] for row in rows})]
    wrong += wrong_page(root, rows)
    print("\n".join(wrong))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
