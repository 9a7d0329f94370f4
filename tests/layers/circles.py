#!/usr/bin/env python3
"""See that the files of a layer call each other in one direction only: circles.py NM LIBRARY …

Layers cannot call in a circle, for they would not link. Within a layer the names that its objects
define and lack tell which file calls which; files that reach each other belong in one file, or one
of them knows too much. The circles that are there for a reason are listed with it.
"""
import pathlib
import subprocess
import sys

# Layer, the files that may call each other ("*" for any), why.
ALLOWED = [
    ("cli", "commands help", "help prints the table of commands, in which it is a row"),
    ("screens", "*", "screens open each other"),
    ("store", "lots spawnings", "a spawning begins as one lot, and a lot names its spawning"),
]


def calls(nm, library):
    """File → the files of the same library that it calls."""
    listing = subprocess.run([nm, "-A", library], text=True, capture_output=True, check=True).stdout
    defines, lacks = {}, {}
    for line in listing.splitlines():
        _, member, symbol = line.split(":")
        words = symbol.split()
        file = pathlib.PurePath(member).name.removesuffix(".c.o")
        if words[-2] in "TDBRVW":
            defines[words[-1]] = file
        elif words[-2] == "U":
            lacks.setdefault(file, set()).add(words[-1])
    return {file: {defines[name] for name in names & defines.keys()} - {file}
            for file, names in lacks.items()}


def reach(graph, start):
    found, left = set(), [start]
    while left:
        for file in graph.get(left.pop(), ()):
            if file not in found:
                found.add(file)
                left.append(file)
    return found


def circles(graph):
    """The sets of files of which each reaches all others."""
    reached = {file: reach(graph, file) for file in graph}
    return {frozenset(other for other in reached[file] if file in reached.get(other, ()))
            for file in graph if file in reached[file]}


def allowed(layer, circle):
    return any(layer == name and (files == "*" or circle <= set(files.split()))
               for name, files, _ in ALLOWED)


def main(nm, *libraries):
    wrong = []
    for library in libraries:
        layer = pathlib.PurePath(library).name.removeprefix("lib").removesuffix(".a")
        wrong += [f"{layer}: these files call each other in a circle: {' '.join(sorted(circle))}"
                  for circle in circles(calls(nm, library)) if not allowed(layer, circle)]
    print("\n".join(wrong))
    return 1 if wrong or not libraries else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
