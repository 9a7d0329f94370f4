"""Kinship through the real command, against whole fractions worked out by the definition."""
import functools
import random
import sys
from fractions import Fraction

from program import Farm

# Worked out by hand: what two fish of this farm are, their kinship and what has to be said.
HAND = """parent,sex,dam,sire
K7,m,K4,K5
K8,f,K4,K6
K4,f,K1,K2
K5,m,K1,K2
K6,m,,K2
K1,f,,
K2,m,,
X,,,
"""
PAIRS = [
    ("K4", "K5", Fraction(1, 4), "K4 and K5 are full sibs."),
    ("K4", "K6", Fraction(1, 8), "K4 and K6 are half sibs."),
    ("K1", "K5", Fraction(1, 4), "K1 and K5 are parent and offspring."),
    ("K8", "K5", Fraction(3, 16), "a fish and the offspring of its full sib"),
    ("K7", "K7", Fraction(5, 8), "one and the same fish"),
    ("K7", "K8", Fraction(1, 4), "K7 and K8 are half sibs."),
    ("X", "K7", Fraction(0), "not related as far as the pedigree goes"),
]
REFUSED = [
    (["K4"], 2, "kin needs CODE"),
    (["K4", "K5", "K6"], 2, "K6"),
    (["K4", "K5", "--stage", "first"], 2, "--stage"),
    (["K4", "k5"], 1, "There is no parent k5 in the ledger."),
    (["nobody", "K5"], 1, "There is no parent nobody in the ledger."),
]


def by_definition(parents):
    """`parents`: code -> (dam, sire), each after its own parents. The younger of two is followed."""
    age = {code: place for place, code in enumerate(parents)}

    @functools.cache
    def kinship(a, b):
        if not a or not b:
            return Fraction(0)
        if a == b:
            return (1 + kinship(*parents[a])) / 2
        younger, older = (a, b) if age[a] > age[b] else (b, a)
        return sum(kinship(parent, older) for parent in parents[younger]) / 2

    return kinship


def drawn_farm(chance):
    """Forty fish of some generations, parents that are known or not."""
    parents, sexes = {}, {}
    for i in range(40):
        dams = [code for code in parents if sexes[code] == "f"]
        sires = [code for code in parents if sexes[code] == "m"]
        known = i > 5 and chance.random() < 0.9
        dam = chance.choice(dams[-5:]) if known and chance.random() < 0.95 else ""
        sire = chance.choice(sires[-4:]) if known and chance.random() < 0.95 else ""
        parents[f"P{i}"], sexes[f"P{i}"] = (dam, sire), "fm"[i % 2]
    return parents, sexes


def fill(farm, parents, sexes, chance):
    rows = [f"{code},{sexes[code]},{dam},{sire}\n" for code, (dam, sire) in parents.items()]
    chance.shuffle(rows)
    farm.do("import", "parents", farm.file("drawn.csv", "parent,sex,dam,sire\n" + "".join(rows)))


def try_csv(farm, a, b, expected):
    head, row, rest = farm.do("kin", a, b, "--csv").split("\n")
    values = row.split(",")
    right = head == "kinship,offspring_inbreeding" and rest == "" and len(values) == 2
    if not right or any(abs(Fraction(value) - expected) > expected / 10**9 for value in values):
        return [f"kin {a} {b}: {row}, not {expected}"]
    return []


def try_by_hand(farm):
    farm.do("import", "parents", farm.file("hand.csv", HAND))
    problems = []
    for a, b, expected, words in PAIRS:
        problems += try_csv(farm, a, b, expected) + try_csv(farm, b, a, expected)
        said = farm.do("kin", a, b)
        if words not in said or f"kinship: {float(expected):g}\n" not in said:
            problems.append(f"kin {a} {b} does not say {words}, {expected}:\n{said}")
        if ("Kincaid 1976" in said) != (expected > 0 and a != b) or max(map(len, said.splitlines())) > 80:
            problems.append(f"kin {a} {b}:\n{said}")
    said = farm.do("kin", "K1", "K8", "--ascii")
    if not said.isascii() or "Both are female" not in said or "K1, 2 generations above K8, by 1 path" not in said:
        problems.append(f"kin K1 K8:\n{said}")
    return problems


def try_drawn(farm):
    chance = random.Random(4)
    parents, sexes = drawn_farm(chance)
    fill(farm, parents, sexes, chance)
    kinship = by_definition(parents)
    problems = []
    for a, b in [chance.choices(list(parents)[8:], k=2) for _ in range(60)]:
        problems += try_csv(farm, a, b, kinship(a, b))
    return problems


def try_refusals(farm):
    problems = []
    before = farm.dump()
    for words, status, sentence in REFUSED:
        result = farm.run("kin", *words)
        if result.returncode != status or result.stdout or sentence not in result.stderr.decode():
            problems.append(f"kin {words}: {result}")
    if farm.dump() != before:
        problems.append("kin has written into the ledger")
    return problems


def try_loop(farm):
    """No form takes a loop in, but a ledger may come with one."""
    farm.change("UPDATE parent SET dam = (SELECT id FROM parent WHERE code = 'K8') WHERE code = 'K1'")
    result = farm.run("kin", "K7", "K5")
    said = result.stderr.decode()
    if result.returncode != 1 or not all(f"{code} from" in said for code in ("K1", "K8", "K4")):
        return [f"a loop: {result}"]
    return try_csv(farm, "X", "K2", Fraction(0))


def main():
    with Farm() as farm:
        problems = try_by_hand(farm) + try_drawn(farm) + try_refusals(farm) + try_loop(farm)
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
