"""Published counts by samples, asked of the real program: to the last fish, with their intervals
where there is one, and without any ledger."""
import csv
import io
import math
import os
import pathlib
import sys

from program import Farm


def thompson():
    path = pathlib.Path(os.environ["SENBETSU_SOURCE"]) / "tests" / "data" / "samples.csv"
    with path.open() as lines:
        return [row["fish"] for row in csv.DictReader(lines) if row["example"] == "thompson_caribou"]


# Source, words, number, low, high, cv. What is not published is recomputed in R 4.2.2,
# or, for the fingerlings, by hand.
PUBLISHED = [
    ("University of Florida, hatchery circular: 300 fry raise 50 to 62 ml, all 500 to 900",
     ["displaced", "--total", "400", "--sample", "300:12"], 10000, None, None, None),
    ("university lecture on egg counting; the mean of the ratios would give 7123",
     ["weighed", "--total", "316.8", "--sample", "36:1.5", "--sample", "35:1.6",
      "--sample", "41:1.9"], 7096, 6100.2896385828, 8092.3503614172, 231.492157043128 / 7096.32),
    ("University of Florida: 600 fingerlings weigh 2.06 lb, the load 500 lb",
     ["weighed", "--total", "500", "--sample", "600:2.06"], 145631, None, None, None),
    ("the same with the samples' 10, 11 and 12 oz",
     ["weighed", "--total", "8000", "--sample", "200:10", "--sample", "200:11",
      "--sample", "200:12"], 145455, 112606.443480, 178302.647429, 1 / 11 / math.sqrt(3)),
    ("a grower's account: 500 to a scoop, 300,000 black fry",
     ["scooped", "--scoops", "600", "--sample", "500"], 300000, None, None, None),
    ("Thompson 2012, Sampling, example 2.1: 15 of 286",
     ["scooped", "--scoops", "286", *[word for fish in thompson() for word in ("--sample", fish)]],
     7417, 2743.03086647657, 12090.8358001901, 2179.19222139255 / 7416.93333333333),
]


def agrees(text, expected):
    """Empty where nothing is known, and at least seven digits."""
    if expected is None or text == "":
        return expected is None and text == ""
    return math.isclose(float(text), expected, rel_tol=1e-6)


def try_published(farm, source, words, *expected):
    rows = list(csv.DictReader(io.StringIO(farm.do("count", *words, "--csv"))))
    columns = ["number", "low", "high", "cv"]
    problems = []
    if len(rows) != 1 or list(rows[0]) != columns or rows[0]["number"] != str(expected[0]):
        problems.append(f"{source}: {rows}")
    else:
        problems += [f"{source}: {column} is {rows[0][column]}"
                     for column, value in zip(columns, expected) if not agrees(rows[0][column], value)]
    said = farm.do("count", *words)
    if not said.startswith(f"{expected[0]} fish, {words[0]}\n"):
        problems.append(f"{source}: {said}")
    if ("no interval: a single sample" in said) != (expected[1] is None):
        problems.append(f"{source}: {said}")
    return problems


def try_precision(farm):
    words = ["count", "weighed", "--total", "8000", "--sample", "200:10", "--sample", "200:11",
             "--sample=200:12", "--within"]
    said = farm.do(*words, "0.05"), farm.do(*words, "0.05", "--csv"), farm.do(*words, "0.23", "--csv")
    right = ("takes 13 more samples" in said[0] and said[1].endswith(",13\n") and
             said[2].endswith(",0\n") and said[1].startswith("number,low,high,cv,more_samples\n"))
    return [] if right else [f"more samples: {said}"]


def try_growth(farm):
    """Published: 500 g and 30 cm have a condition factor of 1.852; 50 to 100 g in 10 days are
    6.931 % a day."""
    words = ["count", "weighed", "--total", "9000", "--sample"]
    condition = farm.do(*words, "2:1000", "--length", "300", "--csv")
    growth = farm.do(*words, "2:200", "--before", "50", "--days", "10", "--csv")
    right = (condition == "number,low,high,cv,condition_factor\n18,,,,1.851851852\n" and
             growth == "number,low,high,cv,growth_per_day\n90,,,,6.931471806\n")
    return [] if right else [f"condition and growth: {condition}{growth}"]


def main():
    with Farm() as farm:
        problems = [problem for row in PUBLISHED for problem in try_published(farm, *row)]
        problems += try_precision(farm) + try_growth(farm)
        if farm.ledger.exists():
            problems.append("counting has made a ledger")
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
