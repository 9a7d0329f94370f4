"""The real program on a ledger of its own, for the tests that are written in Python."""
import os
import pathlib
import shlex
import shutil
import sqlite3
import subprocess
import tempfile


class Farm:
    """A folder with a ledger in it, gone when the test is over."""

    def __init__(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="senbetsu-"))
        self.ledger = self.folder / "farm" / "ledger.db"

    def __enter__(self):
        return self

    def __exit__(self, *_):
        shutil.rmtree(self.folder)

    def stock(self):
        """Fills the ledger with the demonstration's."""
        self.ledger = self.folder / "farm.db"
        make = pathlib.Path(os.environ["SENBETSU_SOURCE"]) / "demo" / "make"
        subprocess.run([make, os.environ["SENBETSU_PROGRAM"], self.ledger], check=True,
                       capture_output=True)

    def file(self, name, content):
        path = self.folder / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    def run(self, *words, ledger=None, **variables):
        """Runs the program; the result has returncode, stdout and stderr (bytes)."""
        under = shlex.split(os.environ.get("SENBETSU_UNDER", ""))
        world = dict(os.environ, SENBETSU_LEDGER=str(ledger or self.ledger), HOME=str(self.folder))
        world.update(variables)
        command = under + [os.environ["SENBETSU_PROGRAM"], *map(str, words)]
        return subprocess.run(command, env=world, capture_output=True, stdin=subprocess.DEVNULL,
                              check=False)

    def do(self, *words, **more):
        """Runs what must succeed and gives its output."""
        result = self.run(*words, **more)
        if result.returncode != 0 or result.stderr:
            raise AssertionError(f"{words}: exit {result.returncode}: {result.stderr.decode()}")
        return result.stdout.decode()

    def query(self, sql, *values):
        with sqlite3.connect(f"file:{self.ledger}?mode=ro", uri=True) as ledger:
            return ledger.execute(sql, values).fetchall()

    def change(self, sql):
        """Changes the ledger behind the program's back."""
        subprocess.run([os.environ["SENBETSU_TAMPER"], self.ledger, sql], check=True)

    def dump(self):
        """Everything in the ledger, as SQL text."""
        with sqlite3.connect(f"file:{self.ledger}?mode=ro", uri=True) as ledger:
            return "\n".join(ledger.iterdump())
