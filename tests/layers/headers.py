#!/usr/bin/env python3
"""Compile every header of the project by itself: headers.py ROOT COMPILER …"""
import concurrent.futures
import pathlib
import subprocess
import sys

FLAGS = ["-std=c17", "-D_POSIX_C_SOURCE=200809L", "-Wall", "-Wextra", "-Wpedantic", "-Werror",
         "-fsyntax-only", "-x", "c", "-"]


def compiles(root, compiler, header):
    # Twice, so that a missing include guard shows as well.
    text = f'#include "{header}"\n' * 2 + "int main(void) { return 0; }\n"
    run = subprocess.run([*compiler, f"-I{root}/include", f"-I{root}/tests", *FLAGS], input=text,
                         text=True, capture_output=True, check=False)
    return run.returncode == 0, f"{header} does not compile alone:\n{run.stderr}"


def main(root, *compiler):
    root = pathlib.Path(root)
    headers = [path.relative_to(root / "include") for path in sorted(root.glob("include/**/*.h"))]
    headers += [path.relative_to(root / "tests") for path in sorted(root.glob("tests/support/*.h"))]
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        results = list(pool.map(lambda header: compiles(root, compiler, header), headers))
    wrong = [why for good, why in results if not good]
    print("\n".join(wrong))
    return 1 if wrong or not headers else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
