"""The real program on a ledger of its own, for the tests that are written in Python."""
import os
import pathlib
import shlex
import shutil
import sqlite3
import subprocess
import tempfile


class Commands:
    """The program's commands, one after another in one process (tests/support/commands.c): for what
    makes starting a program slow. A run gives what subprocess.run would."""

    def __init__(self, command):
        self.outputs = [tempfile.TemporaryFile() for _ in range(2)]
        self.files = [output.fileno() for output in self.outputs]
        self.process = subprocess.Popen(command + [str(file) for file in self.files], pass_fds=self.files,
                                        stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def run(self, words, world):
        fields = [f"{name}={value}" for name, value in world.items()] + ["--"] + words
        request = [os.fsencode(field) + b"\0" for field in [str(len(fields)), *fields]]
        self.process.stdin.write(b"".join(request))
        self.process.stdin.flush()
        answer = self.process.stdout.readline()
        out, err = (os.pread(file, os.fstat(file).st_size, 0) for file in self.files)
        if not answer:
            raise AssertionError(f"{words} ended it all: {err.decode()}")
        return subprocess.CompletedProcess(words, int(answer), out, err)

    def end(self):
        """Whoever checked the process has its say."""
        self.process.communicate()
        for output in self.outputs:
            output.close()
        assert self.process.returncode == 0, f"the commands ended with {self.process.returncode}"


class Farm:
    """A folder with a ledger in it, gone when the test is over."""

    def __init__(self):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="senbetsu-"))
        self.ledger = self.folder / "farm" / "ledger.db"
        self.under = shlex.split(os.environ.get("SENBETSU_UNDER", ""))
        self.commands = None
        if "SENBETSU_COMMANDS" in os.environ:
            self.commands = Commands(self.under + [os.environ["SENBETSU_COMMANDS"]])

    def __enter__(self):
        return self

    def __exit__(self, kind, *_):
        shutil.rmtree(self.folder)
        if self.commands and kind is None:
            self.commands.end()

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
        world = dict(os.environ, SENBETSU_LEDGER=str(ledger or self.ledger), HOME=str(self.folder))
        world.update(variables)
        words = [str(word) for word in words]
        if self.commands:
            return self.commands.run(words, world)
        command = self.under + [os.environ["SENBETSU_PROGRAM"], *words]
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
