"""Rates of a season worked out by hand, through the real commands; rounds come back as they were."""
import csv
import io
import math
import sys

from program import Farm

PARENTS = "parent,sex\nD1,f\nD2,f\nP1,m\nP2,m\nP3,m\n"
SPAWNINGS = ("spawning,season,variety,dam,sires,siring,hatched\n"
             "S1,2026,Showa,D1,P1,single,60000\n"
             "K1,2026,Kohaku,D2,P2,single,25000\n"
             "K2,2026,Kohaku,D2,P2;P3,group,\n")
HEAD = "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,rejected,dead,note\n"
# K1 is split after the first cull; what is left of K1 and K2 is put together for the harvest. At the
# third cull of S1 more fish came out of the pond than had gone in.
ROUNDS = HEAD + """K1,,first,2026-07-10,pick,20000,counted,,2000,counted,,17950,50,
K1,,second,2026-08-20,pick,960,counted,,229,counted,,,,
K1,west,second,2026-08-21,pick,900,counted,,300,counted,,,12,
K2,,first,2026-07-12,pick,10000,counted,,900,counted,,9100,,
K2,,second,2026-08-24,remove,880,counted,,264,counted,,,,
S1,,black,2026-06-12,pick,50000,weighed,0.05,15000,scooped,0.041234,,,windy
S1,,first,2026-07-15,pick,15000,scooped,0.041234,1500,counted,,,,
S1,,third,2026-08-30,remove,1400,counted,,1450,counted,,,,"torn net, mended"
K1;K2,both,harvest,2026-10-06,remove,500,counted,,280,counted,,215,5,
"""
FISH = "spawning,stage,bowl,fish,body,white\n"

# by, key, stage: in and kept; what is chained is the product of its stages.
BY_HAND = {
    ("lot", "K1", "first"): (20000, 2000), ("lot", "K1", "second"): (960, 229),
    ("lot", "west", "second"): (900, 300), ("lot", "both", "harvest"): (500, 280),
    ("spawning", "K1", "first"): (20000, 2000), ("spawning", "K1", "second"): (1860, 529),
    ("spawning", "K2", "first"): (10000, 900), ("spawning", "K2", "second"): (880, 264),
    ("pair", "D2+P2", "second"): (1860, 529), ("pair", "D2+P2;P3", "second"): (880, 264),
    ("pair", "D1+P1", "black"): (50000, 15000), ("pair", "D1+P1", "third"): (1400, 1450),
    ("season", "2026", "first"): (45000, 4400), ("season", "2026", "second"): (2740, 793),
    ("season", "2026", "third"): (1400, 1450), ("season", "2026", "harvest"): (500, 280),
    ("variety", "Kohaku", "first"): (30000, 2900), ("variety", "Kohaku", "second"): (2740, 793),
    ("variety", "Kohaku", "harvest"): (500, 280), ("variety", "Showa", "first"): (15000, 1500),
}
CHAINED = {
    ("lot", "K1", "first-second"): 0.1 * 229 / 960,
    ("spawning", "K1", "first-second"): 0.1 * 529 / 1860,
    ("pair", "D2+P2;P3", "first-second"): 0.09 * 0.3,
    ("variety", "Kohaku", "first-harvest"): 2900 / 30000 * 793 / 2740 * 0.56,
    ("season", "2026", "first-harvest"): 4400 / 45000 * 793 / 2740 * 1450 / 1400 * 0.56,
}
# Wilson 1927, as published for these counts: 229 of 960, 280 of 500.
INTERVALS = {("lot", "K1", "second"): (0.2127, 0.2665), ("lot", "both", "harvest"): (0.5162, 0.6029)}


def read_rates(farm, *more):
    rows = {}
    for by in ("lot", "spawning", "pair", "season", "variety"):
        for row in csv.DictReader(io.StringIO(farm.do("rates", "--by", by, "--csv", *more))):
            rows[(row["by"], row["key"], row["stage"])] = row
    return rows


def wilson(kept, total, z=1.959963984540054):
    centre = (kept + z * z / 2) / (total + z * z)
    reach = z * math.sqrt(kept * (total - kept) / total + z * z / 4) / (total + z * z)
    return centre - reach, centre + reach


def near(text, number, within=1e-9):
    return text != "" and abs(float(text) - number) <= within


def check_row(key, row, counts):
    went_in, kept = counts
    problems = []
    if (int(row["in"]), int(row["kept"])) != counts or not near(row["rate"], kept / went_in):
        problems.append(f"{key}: {row}")
    if (row["flag"] == "recovered") != (kept > went_in) or (row["low"] == "") != (kept > went_in):
        problems.append(f"{key}: flag and interval: {row}")
    counted = kept <= went_in and key[2] != "black" and key[1] not in ("Showa", "2026")
    if counted and not (near(row["low"], wilson(kept, went_in)[0]) and
                        near(row["high"], wilson(kept, went_in)[1])):
        problems.append(f"{key}: interval: {row}")
    return problems


def try_rates(farm):
    rows = read_rates(farm)
    problems = []
    for key, counts in BY_HAND.items():
        problems += check_row(key, rows[key], counts) if key in rows else [f"{key} is not there"]
    for key, rate in CHAINED.items():
        if key not in rows or not near(rows[key]["rate"], rate):
            problems.append(f"{key} is not {rate}: {rows.get(key)}")
    for key, (low, high) in INTERVALS.items():
        if not (near(rows[key]["low"], low, 5e-5) and near(rows[key]["high"], high, 5e-5)):
            problems.append(f"{key}: {rows[key]}")
    if any(stage.startswith("black-") for _, _, stage in rows):
        problems.append("the black fry are chained with later culls")
    if any(key == "both" for by, key, _ in rows if by != "lot"):
        problems.append("a mixed lot is credited to a spawning or a pair")
    black = rows[("spawning", "S1", "black")]
    if float(black["high"]) - float(black["low"]) < 5 * (wilson(15000, 50000)[1] - 0.3):
        problems.append(f"the error of the estimates is not in the interval: {black}")
    return problems


def try_views(farm):
    problems = []
    one = read_rates(farm, "--stage", "second")
    if {stage for _, _, stage in one} != {"second"}:
        problems.append("--stage second prints other stages")
    said = farm.do("rates")
    for part in ("K1, 2026", "first-second", "some were found again",
                 "outside the usual 25 to 40 %", "check the standard or the count", "kept before"):
        if part not in said:
            problems.append(f"rates does not say \"{part}\":\n{said}")
    plain = farm.do("rates", "--ascii")
    if not plain.isascii() or max(map(len, (plain + said).splitlines())) > 80:
        problems.append("rates is too wide, or not ASCII")
    if farm.do("rates") != farm.do("rates", "--by", "spawning"):
        problems.append("rates are by spawning unless something else is asked for")
    return problems


def try_again(farm, other):
    """Reading twice changes nothing; an empty ledger gives back what it was given."""
    problems = []
    before = farm.dump()
    said = farm.do("import", "rounds", farm.file("rounds.csv", ROUNDS))
    if "9 as before" not in said or farm.dump() != before:
        problems.append(f"rounds were read a second time: {said}")
    rounds, fish = farm.do("export", "rounds"), farm.do("export", "fish")
    standard = farm.do("export", "standard", "red-on-white-harvest")
    fill(other, rounds, [("standard", "s.ini", standard), ("fish", "f.csv", fish)])
    if other.do("export", "rounds") != rounds or other.do("export", "fish") != fish:
        problems.append("another ledger writes other rounds or fish")
    if read_rates(other) != read_rates(farm):
        problems.append("another ledger has other rates")
    return problems


def try_judged_fish(farm):
    """Fish judged one by one are counted as they were decided, until somebody states numbers."""
    head = farm.do("export", "standard", "red-on-white-harvest")
    aspects = [line[8:-1] for line in head.splitlines() if line.startswith("[aspect ")]
    low = [line.split()[-1] for line in head.splitlines() if line.startswith("scale")][0]
    lowest, highest = low.split("-")
    rows = "".join(f"K1,harvest,1,{number},{','.join([score] * len(aspects))}\n"
                   for number, score in enumerate([highest, highest, lowest, lowest, lowest], 1))
    farm.do("import", "fish", farm.file("f.csv", "spawning,stage,bowl,fish," + ",".join(aspects) +
                                        "\n" + rows))
    row = read_rates(farm)[("lot", "K1", "harvest")]
    problems = [] if (row["in"], row["kept"]) == ("5", "2") else [f"judged fish: {row}"]
    if "K1,,harvest,,judge,,,,,,,,,,,,,\n" not in farm.do("export", "rounds"):
        problems.append("export rounds states numbers that nobody stated")
    return problems


def fill(farm, rounds, more=()):
    for kind, name, content in [("parents", "p.csv", PARENTS), ("spawnings", "s.csv", SPAWNINGS),
                                ("rounds", "r.csv", rounds), *more]:
        farm.do("import", kind, farm.file(name, content))


def main():
    with Farm() as farm, Farm() as other:
        fill(farm, ROUNDS)
        problems = try_rates(farm) + try_views(farm) + try_judged_fish(farm)
        problems += try_again(farm, other)
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
