"""The recorded evening of the demonstration: its keys still find their way through the screens, and
the cull list at its end is that of the fish they judged."""
import csv
import io
import os
import pathlib
import subprocess
import sys

from program import Farm

DEMO = pathlib.Path(os.environ["SENBETSU_SOURCE"]) / "demo"
HARVEST = ("--spawning", "K25-1", "--stage", "harvest")


def bowl_4(text, **which):
    """Its rows, those of `which` alone."""
    return [row for row in csv.DictReader(io.StringIO(text))
            if {**row, **which, "bowl": "4"} == row]


def play(farm):
    done = subprocess.run([os.environ["SENBETSU_PLAY"], DEMO / "bowl.keys",
                           os.environ["SENBETSU_PROGRAM"], "--ledger", farm.ledger],
                          capture_output=True, check=False)
    assert done.returncode == 0, done.stdout.decode() + done.stderr.decode()


def main():
    with Farm() as farm:
        farm.stock()
        assert not bowl_4(farm.do("export", "fish"), spawning="K25-1")
        play(farm)
        judged = bowl_4(farm.do("export", "fish"), spawning="K25-1")
        assert len(judged) == 12 and {row["judge"] for row in judged} == {"Ines"}, judged
        out = bowl_4(farm.do("list", *HARVEST, "--csv"), verdict="reject")
        rejects = {row["fish"]: row["reason"] for row in out}
        assert rejects.get("2") == "fault spine", rejects
        page = farm.do("list", *HARVEST)
        rows = csv.DictReader(io.StringIO(farm.do("list", *HARVEST, "--csv")))
        all_out = sum(row["verdict"] == "reject" for row in rows)
        assert f"Reject basin: {all_out} fish, all out" in page, page
        assert "Never release a fish" in page, page


if __name__ == "__main__":
    sys.exit(main())
