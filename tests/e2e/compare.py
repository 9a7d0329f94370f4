"""Pairs of made-up farms, compared by the real program and worked out here again in fractions."""
import csv
import io
import itertools
import math
import random
import sys
from fractions import Fraction

from program import Farm

STAGES = ["black", "first", "second", "third", "fourth", "harvest", "house"]
PAIRS = ["D1+P1", "D2+P1;P2", "D2+P2"]
Z = 1.959963984540054


def wilson(kept, total):
    centre = (kept + Z * Z / 2) / (total + Z * Z)
    reach = Z * math.sqrt(kept * (total - kept) / total + Z * Z / 4) / (total + Z * Z)
    return max(0, centre - reach), min(1, centre + reach)


def newcombe(n1, a, n0, c):
    (l1, u1), (l0, u0), d = wilson(a, n1), wilson(c, n0), a / n1 - c / n0
    return (d, d - math.sqrt((a / n1 - l1) ** 2 + (u0 - c / n0) ** 2),
            d + math.sqrt((u1 - a / n1) ** 2 + (c / n0 - l0) ** 2))


def fisher(n1, a, n0, c):
    ways = [math.comb(n1, k) * math.comb(n0, a + c - k) for k in range(a + c + 1)]
    return Fraction(sum(w for w in ways if w <= ways[a]), sum(ways))


def tail(x, df):
    """Of the chi-squared distribution, upward from one or two degrees of freedom."""
    q = math.erfc(math.sqrt(x / 2)) if df % 2 else math.exp(-x / 2)
    for k in range(1 if df % 2 else 2, df, 2):
        q += math.exp(k / 2 * math.log(x / 2) - x / 2 - math.lgamma(k / 2 + 1)) if x else 0
    return q


def odds_ratio(strata):
    cells = [(a, n1 - a, c, n0 - c, n1 + n0) for n1, a, n0, c in strata]
    r = sum(Fraction(a * d, n) for a, b, c, d, n in cells)
    s = sum(Fraction(b * c, n) for a, b, c, d, n in cells)
    if s == 0:
        return None, None, None
    if r == 0:
        return 0, None, None
    variance = sum(Fraction(a + d, n) * Fraction(a * d, n) / (2 * r * r) +
                   (Fraction(a + d, n) * Fraction(b * c, n) +
                    Fraction(b + c, n) * Fraction(a * d, n)) / (2 * r * s) +
                   Fraction(b + c, n) * Fraction(b * c, n) / (2 * s * s) for a, b, c, d, n in cells)
    reach = math.exp(Z * math.sqrt(variance))
    return r / s, float(r / s) / reach, float(r / s) * reach


def difference(strata):
    weight = sum(Fraction(n1 * n0, n1 + n0) for n1, a, n0, c in strata)
    d = sum(Fraction(a * n0 - c * n1, n1 + n0) for n1, a, n0, c in strata) / weight
    p = sum(Fraction(2 * n1 * n1 * c - 2 * n0 * n0 * a + n1 * n0 * (n0 - n1), 2 * (n1 + n0) ** 2)
            for n1, a, n0, c in strata)
    q = sum(Fraction(a * (n0 - c) + c * (n1 - a), 2 * (n1 + n0)) for n1, a, n0, c in strata)
    variance = (d * p + q) / weight ** 2
    if variance <= 0:
        return d, None, None
    return d, d - Z * math.sqrt(variance), d + Z * math.sqrt(variance)


def equal(strata):
    surplus = sum(a - Fraction(n1 * (a + c), n1 + n0) for n1, a, n0, c in strata)
    variance = sum(Fraction(n1 * n0 * (a + c) * (n1 + n0 - a - c), (n1 + n0) ** 2 * (n1 + n0 - 1))
                   for n1, a, n0, c in strata)
    return None if variance == 0 else tail(float(surplus ** 2 / variance), 1)


def expected(n1, n0, m, ratio):
    """By halving: the number kept of the first group at which the odds ratio is this one."""
    low, high = max(0, m - n0), min(n1, m)
    for _ in range(200):
        x = (low + high) / 2
        low, high = (x, high) if x * (n0 - m + x) < ratio * (n1 - x) * (m - x) else (low, x)
    return (low + high) / 2


def alike(strata):
    ratio = odds_ratio(strata)[0]
    telling = [s for s in strata if 0 < s[1] + s[3] < s[0] + s[2]]
    if not ratio or len(telling) < 2:
        return None
    chi = 0
    for n1, a, n0, c in telling:
        x, m = expected(n1, n0, a + c, float(ratio)), a + c
        chi += (a - x) ** 2 * (1 / x + 1 / (m - x) + 1 / (n1 - x) + 1 / (n0 - m + x))
    return tail(chi, len(telling) - 1)


def make_farm(chance):
    """Rounds of each pair's spawnings by season: {spawning: (pair, season, {stage: (in, kept)})}."""
    spawnings = {}
    for pair, season in itertools.product(PAIRS, range(2021, 2026)):
        for number in range(chance.choice([0, 1, 1, 2])):
            rounds = {}
            for stage in chance.sample(STAGES[1:], chance.randint(0, 4)):
                fish = chance.choice([0, 8, 40, 300, 1000])
                share = chance.choice([0, 0.1, 0.35, 0.5, 0.9, 1])
                rounds[stage] = (fish, sum(chance.random() < share for _ in range(fish)))
            spawnings[f"S{PAIRS.index(pair)}-{season}-{number}"] = (pair, season, rounds)
    return spawnings


def fill(farm, spawnings):
    farm.do("import", "parents", farm.file("p.csv", "parent\nD1\nD2\nP1\nP2\n"))
    rows = [f"{code},{season},{pair.replace('+', ',')},{'group' if ';' in pair else 'single'}\n"
            for code, (pair, season, _) in spawnings.items()]
    farm.do("import", "spawnings",
            farm.file("s.csv", "spawning,season,dam,sires,siring\n" + "".join(rows)))
    rows = [f"{code},{stage},{fish},{kept}\n" for code, (_, _, rounds) in spawnings.items()
            for stage, (fish, kept) in rounds.items()]
    farm.do("import", "rounds", farm.file("r.csv", "spawning,stage,in,kept\n" + "".join(rows)))


def seasons_of(spawnings, a, b, first, last):
    """{season: (in a, kept a, in b, kept b)} of the seasons that both have."""
    sums = {}
    for pair, season, rounds in spawnings.values():
        if pair in (a, b) and last in rounds and rounds.get(first, (0, 0))[0] > 0:
            at = sums.setdefault(season, [0, 0, 0, 0])
            at[2 * (pair == b)] += rounds[first][0]
            at[2 * (pair == b) + 1] += rounds[last][1]
    return {season: tuple(at) for season, at in sorted(sums.items()) if at[0] and at[2]}


def stages_of(spawnings, a, b):
    for last in reversed(STAGES[1:]):
        for first in STAGES[1:STAGES.index(last)]:
            if seasons_of(spawnings, a, b, first, last):
                return first, last
    alone = [stage for stage in STAGES if seasons_of(spawnings, a, b, stage, stage)]
    return (alone or ["black"])[-1], (alone or ["black"])[-1]


def wanted(seasons):
    """Rows as the program should print them; None = empty."""
    rows = {}
    for season, fish in seasons.items():
        n1, a, n0, c = fish
        if a > n1 or c > n0:
            rows[str(season)] = [*fish, Fraction(a, n1) - Fraction(c, n0)] + [None] * 7
        else:
            rows[str(season)] = [*fish, *newcombe(*fish), *odds_ratio([fish]), fisher(*fish), None]
    strata = [fish for fish in seasons.values() if fish[1] <= fish[0] and fish[3] <= fish[2]]
    if not strata:
        rows["all"] = [0, 0, 0, 0] + [None] * 8
    else:
        rows["all"] = [*map(sum, zip(*strata)), *difference(strata), *odds_ratio(strata),
                       equal(strata), alike(strata)]
    return rows


def same(text, number):
    if number is None or text == "":
        return number is None and text == ""
    return math.isclose(float(text), number, rel_tol=1e-7, abs_tol=1e-12)


def check(farm, spawnings, a, b, stage):
    first, last = (stage, stage) if stage else stages_of(spawnings, a, b)
    words = ["compare", a, b, "--csv"] + (["--stage", stage] if stage else [])
    table = list(csv.reader(io.StringIO(farm.do(*words))))
    rows = wanted(seasons_of(spawnings, a, b, first, last))
    problems = []
    if [row[0] for row in table[1:]] != list(rows):
        problems.append(f"{words}: seasons {[row[0] for row in table[1:]]}, not {list(rows)}")
    for row in table[1:]:
        numbers = rows.get(row[0], [])
        if len(row) != 13 or not all(map(same, row[1:], numbers)):
            problems.append(f"{words}: {row}, not {[n and float(n) for n in numbers]}")
    return problems


def try_farm(seed):
    spawnings = make_farm(random.Random(seed))
    problems = []
    with Farm() as farm:
        fill(farm, spawnings)
        there = [pair for pair in PAIRS if any(s[0] == pair for s in spawnings.values())]
        for a, b in itertools.combinations(there if seed % 2 else there[::-1], 2):
            for stage in (None, "first", "harvest"):
                problems += check(farm, spawnings, a, b, stage)
    return problems


def try_words():
    """What is said and refused, of two pairs of which one differs from spawning to spawning."""
    spawnings = {"A1": ("D1+P1", 2024, {"first": (1000, 300), "second": (300, 100)}),
                 "A2": ("D1+P1", 2025, {"first": (1000, 100)}),
                 "B1": ("D2+P1;P2", 2024, {"first": (900, 200), "second": (190, 80)}),
                 "B2": ("D2+P1;P2", 2025, {"first": (800, 160)}),
                 "B3": ("D2+P1;P2", 2023, {"black": (800, 160)})}
    problems = []
    with Farm() as farm:
        fill(farm, spawnings)
        before = farm.dump()
        said = farm.do("compare", "D1+P1", "D2+P2;P1", "--stage", "first")
        plain = farm.do("compare", "D1+P1", "D2+P1;P2", "--ascii")
        for part in ("Two pairs side by side: first ", "they do not agree", "p < 0.0001",
                     "Spawnings of A: 2 kept 10.0 to 30.0 %. They differ more than chance explains",
                     "Spawnings of B: 2 kept 20.0 to 22.2 %. They differ no more than chance",
                     "B3 of B (not counted at first)"):
            if part not in " ".join(said.split()):
                problems.append(f"\"{part}\" is not in:\n{said}")
        if not plain.isascii() or max(map(len, (plain + said).splitlines())) > 80:
            problems.append(f"not ASCII, or too wide:\n{plain}")
        if "first to second" not in plain or "fish that died" not in plain:
            problems.append(f"the way without --stage is not told:\n{plain}")
        for words, status, sentence in [(["D1+P9", "D2+P1;P2"], 1, "is of D1+P9; the nearest: D1+P1"),
                                        (["D1P1", "D2+P1;P2"], 2, "write DAM+SIRE"),
                                        (["D1+P1", "D1+P1"], 2, "Name two different pairs"),
                                        (["D1+P1"], 2, "compare needs PAIR")]:
            run = farm.run("compare", *words)
            if run.returncode != status or sentence not in run.stderr.decode() or run.stdout:
                problems.append(f"{words}: {run}")
        if farm.dump() != before:
            problems.append("compare changes the ledger")
    return problems


def main():
    problems = try_words()
    for seed in range(5):
        problems += try_farm(seed)
    sys.exit("\n".join(problems[:20]) or 0)


if __name__ == "__main__":
    main()
