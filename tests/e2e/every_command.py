"""Every command once on the demonstration ledger, into a page and into CSV: each ends well and says
something. What it says is held elsewhere; here a checker of memory sees all commands (see
tests/meson.build)."""
from program import Farm

REPORTS = [
    ("rates", "--by", "pair"), ("pairs",), ("effects",), ("season", "--year", "2025"),
    ("due", "--date", "2025-07-20", "--days", "60"), ("day", "--date", "8.10.25"),
    ("compare", "KD1+KS1", "KD2+KS2"), ("kin", "KD1", "KD2"),
    ("list", "--spawning", "K25-1", "--stage", "harvest"),
    ("pass", "--spawning", "K25-1", "--stage", "harvest", "--places", "12"),
    ("count", "weighed", "--total", "1000", "--sample", "200:10.5", "--sample", "210:10.9"),
]
EXPORTS = ["varieties", "parents", "spawnings", "rounds", "lots", "fish"]


def commands(farm):
    """The commands that the program's help names, one a line."""
    lines = farm.do("help").splitlines()
    return {line.split()[0] for line in lines if line.startswith("  ") and line.strip()}


def main():
    done = {"help"}
    with Farm() as farm:
        farm.stock()
        known = commands(farm)

        def do(*words):
            done.add(words[0])
            output = farm.do(*words)
            assert output, f"{words} says nothing"
            return output

        for report in REPORTS:
            do(*report)
            do(*report, "--csv")
        for kind in EXPORTS:
            text = do("export", kind)
            do("import", kind, farm.file(f"{kind}.csv", text))
        do("import", "standard", farm.file("harvest.ini", do("export", "standard", "kikusui-harvest")))
        do("check")
        do("version")
        do("backup", farm.folder / "copy.db")
        do("station", "office")
        do("join", farm.folder / "copy.db")
        farm.ledger = farm.folder / "restored.db"
        do("restore", farm.folder / "copy.db")
        missing = {name for name in known if name.isalpha() and name.islower()} - done
        assert not missing, f"no run of {sorted(missing)}"


if __name__ == "__main__":
    main()
