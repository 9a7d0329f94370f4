#!/usr/bin/env python3
"""Write a C file with the starting standards in it: embed.py OUT FILE.ini …

Every file must be UTF-8, end in a newline and be named as its standard is.
"""
import pathlib
import sys


def fail(path, why):
    sys.exit(f"{path}: {why}")


def read(path):
    data = path.read_bytes()
    if not data.endswith(b"\n"):
        fail(path, "the last line has no end")
    lines = data.decode("utf-8").splitlines()
    if f"name = {path.stem}" not in lines:
        fail(path, f"the standard in it is not named {path.stem}")
    return data


def main(out, *files):
    paths = sorted(pathlib.Path(name) for name in files)
    rows = []
    with open(out, "w", encoding="ascii") as c:
        c.write('#include "senbetsu/exchange/exchange.h"\n\n')
        for number, path in enumerate(paths):
            # Numbers, because a string literal may not be longer than 4095 bytes.
            data = read(path) + b"\0"
            c.write(f"static const char text_{number}[] = {{\n")
            for start in range(0, len(data), 16):
                codes = (str(byte if byte < 128 else byte - 256) for byte in data[start:start + 16])
                c.write("    " + ", ".join(codes) + ",\n")
            c.write("};\n\n")
            rows.append(f'    {{"{path.name}", text_{number}, sizeof text_{number} - 1}},\n')
        c.write("const struct starting_standard starting_standards[] = {\n")
        c.writelines(rows)
        c.write(f"}};\n\nconst int starting_standard_count = {len(paths)};\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
