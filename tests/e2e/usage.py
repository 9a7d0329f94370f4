"""Wrong usage is answered by exit status 2 and one sentence that names what is wrong, and leaves
no ledger behind; help and version need none."""
import sys

from program import Farm

COMMANDS = ["import", "export", "pass", "list", "rates", "count", "kin", "pairs", "effects", "check", "backup", "restore", "help", "version"]
ROUND = ["--spawning", "S", "--stage", "harvest"]

# What is typed, and what the sentence must name.
WRONG = [
    (["frobnicate"], "frobnicate"),
    (["Pass", *ROUND], "Pass"),
    (["rates", "--by"], "--by"),
    (["rates", "--by", "pond"], "pond"),
    (["rates", "--stage", "autumn"], "autumn"),
    (["rates", "now"], "now"),
    (["--colour"], "--colour"),
    (["-h"], "-h"),
    (["pass", *ROUND, "--fast"], "--fast"),
    (["pass", "--stage", "harvest"], "--spawning"),
    (["pass", "--spawning", "S"], "--stage"),
    (["pass"], "--spawning"),
    (["pass", *ROUND, "--stage", "second"], "--stage"),
    (["pass", *ROUND, "--csv", "--csv"], "--csv"),
    (["--ledger", "a", "check", "--ledger", "b"], "--ledger"),
    (["pass", *ROUND, "--places"], "--places"),
    (["pass", *ROUND, "--places", "--csv"], "--places"),
    (["pass", *ROUND, "--places="], "--places"),
    (["pass", *ROUND, "--places", "many"], "many"),
    (["pass", *ROUND, "--places", "-1"], "-1"),
    (["pass", *ROUND, "--places", "1.5"], "1.5"),
    (["pass", *ROUND, "--csv=yes"], "--csv"),
    (["pass", "--spawning", "S", "--stage", "autumn"], "autumn"),
    (["pass", *ROUND, "extra"], "extra"),
    (["pass", *ROUND, "--date", "2026-11-05"], "--date"),
    (["list", "--spawning", "S"], "--stage"),
    (["list", "--stage", "harvest"], "--spawning"),
    (["list", "--date", "2026-11-31"], "2026-11-31"),
    (["list", "--date", "someday"], "someday"),
    (["list", "--date", "2026-11-05", *ROUND], "--date"),
    (["list", *ROUND, "--to", "f", "--printer"], "--printer"),
    (["rates", "--force"], "--force"),
    (["day", "--date", "2026-02-30"], "2026-02-30"),
    (["day", "--date", "2026-11-05", "--to", "f", "--printer"], "--printer"),
    (["day", "--date", "2026-11-05", "--stage", "first"], "--stage"),
    (["due", "--date", "tomorrow"], "tomorrow"),
    (["due", "--days", "0"], "--days"),
    (["due", "--to", "f", "--printer"], "--printer"),
    (["due", "K1"], "K1"),
    (["season", "--season", "this"], "this"),
    (["season", "--season", "2026", "--year", "2026"], "--season"),
    (["season", "--year", "1899"], "1899"),
    (["season", "--year", "2026", "--to", "f", "--printer"], "--printer"),
    (["season", "--year", "2026", "--by", "pair"], "--by"),
    (["season", "--year", "2026", "extra"], "extra"),
    (["import"], "import needs KIND FILE: KIND is varieties, parents, spawnings, rounds"),
    (["import", "fish"], "FILE"),
    (["count"], "count needs HOW: HOW is weighed, displaced or scooped"),
    (["import", "ponds", "f"], "ponds"),
    (["import", "fish", "a", "b"], "b"),
    (["import", "fish", "a", "b", "c", "d", "e"], "b"),
    (["export"], "KIND"),
    (["export", "ponds"], "ponds"),
    (["export", "standard"], "NAME"),
    (["export", "fish", "a", "b"], "b"),
    (["export", "standard", "a", "b", "c"], "c"),
    (["export", "parents", "--stage", "harvest"], "--stage"),
    (["export", "rounds", "--spawning", "S"], "--spawning"),
    (["kin"], "kin needs CODE CODE"),
    (["kin", "K1"], "kin needs CODE CODE: the codes of two parents"),
    (["compare", "A+B"], "compare needs PAIR PAIR: PAIR is DAM+SIRE"),
    (["kin", "K1", "K2", "K3"], "K3"),
    (["pairs", "--fry", "0"], "--fry"),
    (["pairs", "--fry", "many"], "many"),
    (["pairs", "--variety", "a;b"], "a;b"),
    (["pairs", "A+B"], "A+B"),
    (["pairs", "--to", "f", "--printer"], "--printer"),
    (["effects", "--stage", "autumn"], "autumn"),
    (["effects", "--fry", "5"], "--fry"),
    (["count"], "HOW"),
    (["count", "weighed", "--total", "5"], "--sample"),
    (["count", "guessed", "--sample", "5"], "guessed"),
    (["count", "counted", "--sample", "5"], "counted"),
    (["count", "weighed", "--sample", "200:10"], "--total"),
    (["count", "weighed", "--sample", "200:10", "--total", "9", "--scoops", "9"], "--scoops"),
    (["count", "scooped", "--sample", "480"], "--scoops"),
    (["count", "scooped", "--sample", "480", "--scoops", "9", "--total", "9"], "--total"),
    (["count", "scooped", "--sample", "480:2", "--scoops", "9"], "480:2"),
    (["count", "displaced", "--sample", "300:12", "--sample", "48", "--total", "9"], "48"),
    (["count", "displaced", "--sample", "300:0", "--total", "9"], "300:0"),
    (["count", "displaced", "--sample", "x:5", "--total", "9"], "x:5"),
    (["count", "displaced", "--sample", "300:1,5", "--total", "9"], "300:1,5"),
    (["count", "displaced", "--sample", "300:12", "--total", "0"], "--total"),
    (["count", "displaced", "--sample", "300:12", "--total", "nan"], "nan"),
    (["count", "displaced", "--sample", "300:12", "--total", "9", "--within", "5"], "--within"),
    (["count", "scooped", "--sample", "480", "--sample", "9", "--scoops", "1"], "2 scoops"),
    (["count", "scooped", "--sample", "480", "--scoops", "2.5"], "2.5"),
    (["count", "scooped", *["--sample", "480"] * 201, "--scoops", "900"], "200"),
    (["count", "scooped", "--sample", "480", "--scoops", "9", "now"], "now"),
    (["count", "scooped", "--sample", "480", "--scoops", "9", "--length", "30"], "--length"),
    (["count", "displaced", "--sample", "9:9", "--total", "9", "--days", "9"], "--days"),
    (["count", "weighed", "--sample", "9:9", "--total", "9", "--days", "9"], "--before"),
    (["count", "weighed", "--sample", "9:9", "--total", "9", "--before", "9"], "--days"),
    (["count", "weighed", "--sample", "9:9", "--total", "9", "--length", "0.5"], "0.5"),
    (["check", "now"], "now"),
    (["check", "--csv"], "--csv"),
    (["backup"], "FILE"),
    (["restore"], "FILE"),
    (["help", "frobnicate"], "frobnicate"),
    (["--judge", "A+B", "check"], "A+B"),
    (["--judge", "", "check"], "--judge"),
    (["--csv"], "--csv"),
]


def try_wrong(farm, words, named):
    result = farm.run(*words)
    said = result.stderr.decode()
    right = (result.returncode == 2 and named in said and said.count("\n") == 1 and
             said.endswith(".\n") and not result.stdout and not farm.ledger.exists())
    return [] if right else [f"{words}: exit status {result.returncode}: {said!r}"]


def try_help(farm):
    problems = []
    whole = farm.do("--help")
    if whole != farm.do("help"):
        problems.append("--help and help differ")
    for command in COMMANDS:
        said = farm.do(command, "--help")
        if said != farm.do("help", command) or not said.startswith(f"Usage: senbetsu {command}"):
            problems.append(f"{command} --help says {said!r}")
        if f"\n  {command} " not in whole:
            problems.append(f"help does not name {command}")
    version = farm.do("--version")
    if version != farm.do("version") or not version.startswith("senbetsu "):
        problems.append(f"--version says {version!r}")
    return problems


def try_no_ledger(farm):
    """Nothing but import and the screens makes a ledger."""
    problems = []
    for words in [["pass", *ROUND], ["list", *ROUND], ["check"], ["export", "fish"],
                  ["backup", "copy"]]:
        result = farm.run(*words)
        if result.returncode != 1 or result.stderr.count(b"\n") != 1 or farm.ledger.exists():
            problems.append(f"{words} without a ledger: {result}")
    return problems


def try_ways_to_say_it(farm):
    """Order and "=" make no difference, nor does the locale."""
    farm.do("import", "parents", farm.file("parents.csv", "parent\nK1\n"))
    ways = [["export", "parents", "--ledger", farm.ledger], [f"--ledger={farm.ledger}", "export",
            "parents"], ["--ledger", farm.ledger, "export", "parents", "--mono"],
            ["export", "--", "parents"]]
    answers = {farm.do(*words) for words in ways}
    answers |= {farm.do("export", "parents", LC_ALL=locale) for locale in ("C", "de_DE.UTF-8")}
    return [] if len(answers) == 1 else [f"the same asked in other ways gives {answers}"]


def try_restore(farm):
    """A copy comes back also on a machine where nothing is."""
    copy, other = farm.folder / "copy.db", farm.folder / "new" / "machine" / "ledger.db"
    farm.do("backup", copy)
    farm.do("restore", copy, ledger=other)
    same = farm.do("export", "parents") == farm.do("export", "parents", ledger=other)
    twice = farm.run("backup", copy)
    full = farm.run("restore", farm.folder / "none", ledger=other)
    return [] if same and twice.returncode == full.returncode == 1 else ["restore brings not back"]


def main():
    with Farm() as farm:
        problems = [problem for words, named in WRONG for problem in try_wrong(farm, words, named)]
        problems += try_help(farm) + try_no_ledger(farm)
        problems += try_ways_to_say_it(farm) + try_restore(farm)
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
