"""A source with one place in it changed: mutate.py SOURCE RESULT OLD NEW. OLD must be there once."""

import sys

source, result, old, new = sys.argv[1:]
with open(source) as file:
    text = file.read()
if text.count(old) != 1:
    sys.exit(f'{source}: "{old}" is there {text.count(old)} times; change tests/faults/meson.build')
with open(result, "w") as file:
    file.write(text.replace(old, new))
