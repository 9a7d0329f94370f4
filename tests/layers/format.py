#!/usr/bin/env python3
"""See that every C file is laid out as .clang-format says: format.py ROOT CLANG_FORMAT"""
import pathlib
import subprocess
import sys


def main(root, clang_format):
    root = pathlib.Path(root)
    files = sorted(path for folder in ("src", "include", "tests")
                   for path in root.glob(f"{folder}/**/*.[ch]"))
    return subprocess.run([clang_format, "--dry-run", "--Werror", *files], check=False).returncode


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
