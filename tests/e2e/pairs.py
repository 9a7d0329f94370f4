"""Parents of made-up farms through the real commands: what is found is held against another
program's fit of the same data, and the pairs against what was found."""
import csv
import io
import math
import os
import pathlib
import sys
from collections import defaultdict

from program import Farm

DATA = pathlib.Path(os.environ["SENBETSU_SOURCE"]) / "tests/data/parent_model"
KINDS = ["dam", "sire", "pair", "spawning"]
COLUMNS = ("dam,sires,siring,seasons,spawnings,in,kept,rate,low,high,expected,expected_low,"
           "expected_high,best,variety,untried,spawning_low,spawning_high,dam_spawnings,"
           "sire_spawnings,offspring_inbreeding,tosai,tosai_low,tosai_high,available")


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text)))


def near(problems, what, found, expected, tolerance):
    if not abs(float(found) - expected) <= tolerance:
        problems.append(f"{what}: {found}, not {expected}")


def fill(farm, rows, variety="Kohaku"):
    parents = sorted({(row["dam"], "f") for row in rows} | {(row["sire"], "m") for row in rows})
    farm.do("import", "parents", farm.file("parents.csv", "parent,sex,variety\n" + "".join(
        f"{code},{sex},{variety}\n" for code, sex in parents)))
    farm.do("import", "spawnings", farm.file("spawnings.csv", "spawning,season,variety,dam,sires,"
            "siring\n" + "".join(f"{row['spawning']},{row['season']},{row.get('variety', variety)},"
                                 f"{row['dam']},{row['sire']},single\n" for row in rows)))
    farm.do("import", "rounds", farm.file("rounds.csv", "spawning,lot,stage,in,in_how,kept,kept_how"
            "\n" + "".join(f"{row['spawning']},,harvest,{row['n']},counted,{row['kept']},counted\n"
                           for row in rows)))


def try_effects(farm, name):
    """Against lme4's fit, with the tolerances of two numerical searches."""
    problems = []
    found = {(row["kind"], row["level"]): row for row in rows_of(farm.do("effects", "--csv"))}
    for row in rows_of((DATA / f"{name}_lme4.csv").read_text()):
        kind, level, estimate = row["kind"], row["level"], float(row["estimate"])
        if kind == "fixed":
            kind, level = "season", level.removeprefix("season")
        level = level.replace("x", "+") if kind == "pair" else level
        mine = found.pop((kind, level), None)
        if mine is None:
            problems.append(f"{name}: {kind} {level} is missing")
            continue
        near(problems, f"{name}: {kind} {level}", mine["estimate"], estimate,
             1e-3 if kind == "loglik" else 2e-3)
        if row["se"] != "NA":
            near(problems, f"{name}: se of {kind} {level}", mine["se"], float(row["se"]), 2e-3)
        elif mine["se"]:
            problems.append(f"{name}: {kind} {level} has a standard error")
    if found:
        problems.append(f"{name}: {sorted(found)} too many")
    return problems


def wilson(kept, total, z=1.959963984540054):
    centre = (kept + z * z / 2) / (total + z * z)
    reach = z * math.sqrt(kept * (total - kept) / total + z * z / 4) / (total + z * z)
    return centre - reach, centre + reach


def try_pair(row, effects, set_pairs):
    """A row against the counts and against what `effects` says."""
    problems = []
    pair = f"{row['dam']}+{row['sires']}"
    counts = set_pairs.get(pair, [])
    total, kept = sum(int(c["n"]) for c in counts), sum(int(c["kept"]) for c in counts)
    seasons = {c["season"] for c in counts}
    expected = (str(len(seasons)), str(len(counts)), str(total or ""), str(kept if counts else ""),
                "" if counts else "yes", "single" if counts else "")
    if expected != tuple(row[key] for key in ("seasons", "spawnings", "in", "kept", "untried",
                                              "siring")):
        problems.append(f"{pair}: {row}, not {expected}")
    if counts:
        near(problems, f"{pair}: rate", row["rate"], kept / total, 1e-9)
        for key, end in zip(("low", "high"), wilson(kept, total)):
            near(problems, f"{pair}: {key}", row[key], end, 1e-6)
    elif row["rate"] or row["low"] or row["high"]:
        problems.append(f"{pair} was not tried and has a rate")
    levels = [float(e["estimate"]) for (kind, _), e in effects.items() if kind == "season"]
    logit = sum(levels) / len(levels)
    for key in (("dam", row["dam"]), ("sire", row["sires"]), ("pair", pair)):
        logit += float(effects[key]["estimate"]) if key in effects else 0
    near(problems, f"{pair}: expected", row["expected"], 1 / (1 + math.exp(-logit)), 1e-7)
    ends = [float(row[key]) for key in ("spawning_low", "expected_low", "expected",
                                        "expected_high", "spawning_high")]
    if ends != sorted(ends) or not 0 <= float(row["best"]) <= 1:
        problems.append(f"{pair}: {row}")
    return problems


def try_pairs(farm, data):
    problems = []
    said = farm.do("pairs", "--csv")
    if said != farm.do("pairs", "--csv", "--stage", "harvest", "--variety", "Kohaku"):
        problems.append("pairs differs from itself")
    if said.splitlines()[0] != COLUMNS:
        problems.append(f"pairs: {said.splitlines()[0]}")
    effects = {(row["kind"], row["level"]): row for row in rows_of(farm.do("effects", "--csv"))}
    set_pairs = defaultdict(list)
    for row in data:
        set_pairs[f"{row['dam']}+{row['sire']}"].append(row)
    rows = rows_of(said)
    for row in rows:
        problems += try_pair(row, effects, set_pairs)
    if not set_pairs.keys() <= {f"{row['dam']}+{row['sires']}" for row in rows}:
        problems.append("pairs are missing")
    if not any(row["untried"] for row in rows):
        problems.append("no cross is untried")
    near(problems, "all that is best", sum(float(row["best"]) for row in rows), 3, 1e-9)
    order = [float(row["expected"]) for row in rows]
    if order != sorted(order, reverse=True):
        problems.append("the best do not come first")
    return problems


def try_paper(farm):
    problems = []
    for words in (["pairs"], ["pairs", "--fry", "40000"], ["effects"]):
        for said in (farm.do(*words), farm.do(*words, "--ascii")):
            if max(map(len, said.splitlines())) > 80:
                problems.append(f"{words} is too wide:\n{said}")
        if not said.isascii():
            problems.append(f"{words} --ascii:\n{said}")
    return problems


def try_tosai(farm):
    """At the harvest, the fish that are kept are the tosai."""
    problems = []
    for row in rows_of(farm.do("pairs", "--csv", "--fry", "5000")):
        for key, share in (("tosai", "expected"), ("tosai_low", "spawning_low"),
                           ("tosai_high", "spawning_high")):
            near(problems, key, row[key], 5000 * float(row[share]), 1e-4)
    return problems


def try_reference(name):
    data = rows_of((DATA / f"{name}_data.csv").read_text())
    with Farm() as farm:
        fill(farm, data)
        return try_effects(farm, name) + try_pairs(farm, data) + try_paper(farm) + try_tosai(farm)


PARENTS = "parent,sex,variety\nA,f,Showa\nB,f,Showa\nC,f,Showa\nP,m,Showa\nQ,m,Showa\nK,f,Kohaku\n"
SPAWNINGS = """spawning,season,variety,dam,sires,siring
S1,2023,Showa,A,P,single
S2,2023,Showa,B,Q,single
S3,2024,Showa,A,P;Q,pooled
S4,2024,Showa,B,Q,single
S5,2025,Showa,A,P;Q,group
S6,2025,Showa,B,P,single
S7,2025,Showa,,Q,single
S8,2025,Showa,C,Q,single
"""
ROUNDS = """spawning,lot,stage,in,in_how,in_cv,kept,kept_how,kept_cv
S1,,black,50000,weighed,0.05,9000,counted,
S1,,first,9000,counted,,900,counted,
S1,,third,800,counted,,300,counted,
S2,,first,8000,scooped,0.2,700,counted,
S2,,third,700,counted,,200,counted,
S3,,first,10000,counted,,1500,counted,
S3,,third,1500,counted,,600,counted,
S4,,first,9000,estimated,,800,counted,
S4,,third,800,counted,,250,counted,
S5,,first,7000,counted,,900,counted,
S5,,third,900,counted,,400,counted,
S6,,first,6000,counted,,600,counted,
S6,,third,6000,counted,,6200,counted,
S7,,first,6000,counted,,500,counted,
S7,,third,500,counted,,150,counted,
S7;S8,both,first,9000,counted,,8000,counted,
S7;S8,both,third,8000,counted,,7000,counted,
S8,,first,4000,counted,,400,counted,
"""


def try_rules():
    """Recovered fish, groups, mixed lots, an unknown dam, a spawning that went only half the way."""
    with Farm() as farm:
        for kind, text in (("parents", PARENTS), ("spawnings", SPAWNINGS), ("rounds", ROUNDS)):
            farm.do("import", kind, farm.file(f"{kind}.csv", text))
        rows = {row["dam"] + "+" + row["sires"]: row for row in rows_of(farm.do("pairs", "--csv"))}
        effects = {(row["kind"], row["level"]) for row in rows_of(farm.do("effects", "--csv"))}
        said = farm.do("pairs") + farm.do("effects")
        nothing = farm.run("effects", "--variety", "Asagi")
        bare = rows_of(farm.do("pairs", "--csv", "--stage", "house"))
    expected = {
        "A+P": ("single", "1", "1", "9000", "300", ""),
        "B+Q": ("single", "2", "2", "17000", "450", ""),
        "A+P;Q": ("pooled;group", "2", "2", "17000", "1000", ""),
        "B+P": ("single", "1", "1", "6000", "6200", ""),
        "C+Q": ("single", "0", "0", "", "", ""),
        "A+Q": ("", "0", "0", "", "", "yes"),
        "C+P": ("", "0", "0", "", "", "yes"),
    }
    found = {pair: tuple(row[key] for key in ("siring", "seasons", "spawnings", "in", "kept",
                                              "untried")) for pair, row in rows.items()}
    problems = [] if found == expected else [f"pairs: {found}"]
    if rows["B+P"]["low"] or not rows["B+P"]["expected"] or float(rows["B+P"]["rate"]) <= 1:
        problems.append(f"recovered: {rows['B+P']}")
    spawnings = {level for kind, level in effects if kind == "spawning"}
    if spawnings != {"S1", "S2", "S3", "S4", "S5", "S7"} or ("sire", "P;Q") not in effects:
        problems.append(f"effects: {sorted(effects)}")
    for words in ("first to third cull", "more fish were kept than went in: S6", "pooled;group",
                  "2 of 6 spawnings have a number that is an estimate (largest cv 0.2)",
                  "the error of 1 of them is unknown", "none was found"):
        if words not in said:
            problems.append(f"not said: {words}\n{said}")
    if nothing.returncode != 1 or b"No spawning of Asagi" not in nothing.stderr:
        problems.append(f"{nothing}")
    if len(bare) != 7 or any(row["expected"] or row["best"] for row in bare):
        problems.append(f"without counts: {bare}")
    return problems


def main():
    problems = try_reference("farm_large") + try_reference("farm_small") + try_rules()
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
