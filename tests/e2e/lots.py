"""A season in which lots are split and put together, fish die, are lost and found: what `rates`,
`day` and `season` make of it agrees with a computation by hand; the files give it all back."""
import csv
import io
import sys

from program import Farm

SPAWNINGS = ("spawning,season,date,variety,hatched\n"
             "K1,2026,2026-05-20,Kohaku,25000\nK2,2026,2026-05-22,Kohaku,12500\n")
# 900 of K1's 2000 go to the west pond; later all there is of K1, west and K2 is put together. Of the
# mixed lot more fish came out than had gone in.
ROUNDS = """spawning,lot,stage,date,manner,in,in_how,kept,kept_how,dead
K1,,first,2026-07-10,pick,20000,counted,2000,counted,50
K1,,second,2026-08-20,pick,960,counted,240,counted,4
K1,west,second,2026-08-21,pick,870,counted,300,counted,
K2,,first,2026-07-12,pick,10000,counted,900,counted,
K2,,second,2026-08-24,pick,880,counted,264,counted,
K1;K2,both,harvest,2026-10-06,remove,700,counted,280,counted,5
K1;K2,both,house,2027-03-01,remove,270,counted,275,counted,
"""
HEAD = "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
LOTS = HEAD + """K1,,2026-07-11,transfer,900,counted,,K1,west,,
K1,west,2026-07-11,move,,,,,,North 3,
K1,,2026-07-20,dead,17,,,,,,
K1,west,2026-07-20,dead,12,,,,,,"hot, no wind"
K1,west,2026-07-20,dead,12,,,,,,"hot, no wind"
K1,,2026-09-01,transfer,,,,K1;K2,both,,
K1,west,2026-09-01,transfer,,,,K1;K2,both,,
K2,,2026-09-01,transfer,,,,K1;K2,both,,
K1;K2,both,2026-09-10,lost,60,estimated,0.25,,,,heron
K1;K2,both,2026-10-20,found,3,counted,,,,,
"""

# by, key, stage: in, kept, dead found since the stage before, share of those that should be there.
BY_HAND = {
    ("spawning", "K1", "first"): (20000, 2000, "50", 20000 / 25000),
    ("spawning", "K1", "second"): (1830, 540, "45", (960 + 870) / 2000),
    ("spawning", "K2", "second"): (880, 264, "", 880 / 900),
    ("lot", "K1", "second"): (960, 240, "21", 960 / (2000 - 900)),
    ("lot", "west", "second"): (870, 300, "24", 870 / 900),
    ("lot", "both", "harvest"): (700, 280, "5", 700 / (240 + 300 + 264)),
    ("lot", "both", "house"): (270, 275, "", 270 / 280),
    ("season", "2026", "second"): (2710, 804, "45", 2710 / 2900),
    ("season", "2026", "harvest"): (700, 280, "5", 700 / 804),
}
# What is left by the book: 280 kept, and 3 were found after that cull; the house cull came later.
SEASON = ("lot: dead 17, now 0 counted", "2026-07-11 split: 900 counted into lot west",
          "lot west: dead 24, now 0 counted, pond North 3",
          "2026-09-01 merged: all 300 counted into lot both",
          "lot: lost 60, found 3, now 275 counted")
DAY = ("K1: dead 17", "west of K1: dead 12 (hot, no wind)")


def read_rates(farm):
    rows = {}
    for by in ("lot", "spawning", "season"):
        for row in csv.DictReader(io.StringIO(farm.do("rates", "--by", by, "--csv"))):
            rows[(by, row["key"], row["stage"])] = row
    return rows


def try_rates(farm):
    problems = []
    rows = read_rates(farm)
    for key, (went_in, kept, dead, alive) in BY_HAND.items():
        row = rows[key]
        if (int(row["in"]), int(row["kept"]), row["dead"]) != (went_in, kept, dead) or \
                abs(float(row["survival"]) - alive) > 1e-9:
            problems.append(f"{key}: {row}")
        if abs(float(row["rate"]) - kept / went_in) > 1e-9 or \
                ("recovered" in row["flag"]) != (kept > went_in):
            problems.append(f"{key}: rate or flag: {row}")
    if any(by == "spawning" and stage in ("harvest", "house") for by, _, stage in rows):
        problems.append("a mixed lot is credited to a spawning")
    if "uneven" in rows[("spawning", "K1", "first-second")]["flag"]:
        problems.append("a split makes the chain uneven")
    return problems


def try_papers(farm):
    problems = []
    season, day = farm.do("season", "--year", "2026"), farm.do("day", "--date", "2026-07-20")
    problems += [f"season does not say \"{part}\":\n{season}" for part in SEASON
                 if part not in season]
    problems += [f"day does not say \"{part}\":\n{day}" for part in DAY if part not in day]
    rows = list(csv.DictReader(io.StringIO(farm.do("day", "--date", "2026-09-01", "--csv"))))
    if [(row["lot"], row["event"], row["number"], row["into"]) for row in rows] != [
            ("K1", "transfer", "240", "both"), ("west", "transfer", "300", "both"),
            ("K2", "transfer", "264", "both")]:
        problems.append(f"day --csv: {rows}")
    return problems


def try_names(farm):
    """A lot that was not there before is named: it may have been mistyped."""
    said = farm.do("import", "lots", farm.file(
        "typo.csv", "spawning,lot,date,event,number,into_spawning,into_lot\n"
        "K1,wset,2026-09-02,dead,1,,\nK1,,2026-09-03,transfer,1,K1;K2,boht\n"))
    expected = ("typo.csv: 2 read, 2 new, 0 changed, 0 as before.\n"
                "typo.csv: lot boht, mixed from K1;K2 begun.\n"
                "typo.csv: lot wset of K1 begun.\n")
    return [] if sorted(said.splitlines()) == sorted(expected.splitlines()) else [f"lots that were begun: {said}"]


def try_again(farm, other):
    """Reading twice changes nothing; an empty ledger gives back what it was given."""
    problems = []
    before = farm.dump()
    said = farm.do("import", "lots", farm.file("again.csv", LOTS))
    if "10 as before" not in said or farm.dump() != before:
        problems.append(f"lots were read a second time: {said}")
    if "begun" in said:
        problems.append(f"lots that were there are begun again: {said}")
    if farm.do("export", "lots") != LOTS:
        problems.append(f"export lots: {farm.do('export', 'lots')}")
    fill(other, farm.do("export", "lots"), farm.do("export", "rounds"))
    if other.do("export", "lots") != LOTS or read_rates(other) != read_rates(farm):
        problems.append("another ledger writes other lots or has other rates")
    if "Nothing is wrong" not in other.do("check"):
        problems.append("check finds something")
    return problems


def fill(farm, lots, rounds):
    farm.do("import", "spawnings", farm.file("s.csv", SPAWNINGS))
    farm.do("import", "lots", farm.file("l.csv", lots))
    farm.do("import", "rounds", farm.file("r.csv", rounds))


def main():
    with Farm() as farm, Farm() as other:
        fill(farm, LOTS, ROUNDS)
        problems = try_rates(farm) + try_papers(farm) + try_again(farm, other) + try_names(farm)
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
