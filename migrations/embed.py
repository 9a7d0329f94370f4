#!/usr/bin/env python3
"""Writes the migration steps into one C file: embed.py OUT.c 0001_words.sql 0002_words.sql …

Byte-exact, so quotes, backslashes and UTF-8 need no care; each step carries its SHA-256, by which
an edited step is noticed later, and what the schema is after it, by which a ledger whose tables are
not as they were made is. What could go wrong with a step stops the build here.
"""
import hashlib
import os
import re
import sqlite3
import sys

# The runner's own work: a step must not open or close its transaction or set the version.
FORBIDDEN = re.compile(
    rb"\b(BEGIN\s*(;|IMMEDIATE|EXCLUSIVE|DEFERRED|TRANSACTION)|COMMIT|ROLLBACK|SAVEPOINT"
    rb"|PRAGMA\s+(user_version|application_id))",
    re.IGNORECASE,
)
COMMENT = re.compile(rb"--[^\n]*")


def read_step(path, expected_version):
    name = os.path.basename(path)
    match = re.fullmatch(r"(\d{4})_[a-z0-9_]+\.sql", name)
    if not match:
        sys.exit(f"{name}: a step is named NNNN_words.sql")
    if int(match.group(1)) != expected_version:
        sys.exit(f"{name}: step {expected_version:04d} is due here (a gap or a double)")
    with open(path, "rb") as file:
        text = file.read()
    if not text.endswith(b"\n"):
        sys.exit(f"{name}: the last line has no end")
    if b"\0" in text:
        sys.exit(f"{name}: there is a zero byte in it")
    if FORBIDDEN.search(COMMENT.sub(b"", text)):
        sys.exit(f"{name}: transactions and versions are the runner's work")
    return name.removesuffix(".sql"), text


def schema(database):
    """As src/store/migrate.c adds it up."""
    rows = database.execute("SELECT type, name, tbl_name, sql FROM sqlite_schema"
                            " ORDER BY type, name")
    return "".join("\x1f".join(text or "" for text in row) + "\x1e" for row in rows).encode()


def c_array(text):
    # Whether a char has a sign is the machine's business: a character constant fits either way.
    numbers = [str(byte) if byte < 128 else f"'\\{byte:03o}'" for byte in text] + ["0"]
    lines = [", ".join(numbers[i : i + 20]) for i in range(0, len(numbers), 20)]
    return ",\n    ".join(lines)


def main(out, paths):
    parts = ["/* Made by migrations/embed.py from the steps beside it. */", '#include "migrations.h"']
    rows = []
    database = sqlite3.connect(":memory:")
    for version, path in enumerate(paths, start=1):
        name, text = read_step(path, version)
        database.executescript(text.decode("utf-8"))
        parts.append(f"static const char step_{version}[] = {{\n    {c_array(text)}}};")
        parts.append(f"static const char schema_{version}[] = {{\n    {c_array(schema(database))}}};")
        checksum = hashlib.sha256(text).hexdigest()
        rows.append(f'    {{{version}, "{name}", step_{version}, "{checksum}", schema_{version}}},')
    table = "\n".join(rows)
    parts.append(f"const struct migration migrations[] = {{\n{table}\n}};")
    parts.append(f"const int migration_count = {len(rows)};")
    with open(out, "w", encoding="utf-8") as file:
        file.write("\n\n".join(parts) + "\n")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
