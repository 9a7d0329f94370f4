"""Holds import, export and pass against an independent exact computation.

Random standards and 10,000 random fish with faults, gaps and ties are written as files, imported
and decided by the program, with and without places. Here the same is worked out with fractions
from the rules as the documentation has them, sharing nothing with the program.
"""
import csv
import io
import os
import random
from fractions import Fraction

from program import Farm

# Ledgers, standards in a ledger, fish of a standard: 10,000 fish in the one build that is asked for
# them, 200 in the others, where the compiler or a checker is what is tested.
FULL = os.environ.get("SENBETSU_ORACLE") == "10000"
LEDGERS, STANDARDS, FISH = (5, 5, 400) if FULL else (1, 5, 40)
STAGES = ["black", "first", "second", "third", "fourth", "harvest", "house"]
SCALES = [(0, 9), (1, 5), (1, 10), (2, 10), (0, 1), (3, 7), (1, 3)]
COLUMNS = ["spawning", "lot", "stage", "bowl", "fish", "judge", "date", "length_mm", "tag", "faults"]


def decimal(hundredths):
    text = f"{hundredths // 100}.{hundredths % 100:02d}"
    return random.choice([text, text.rstrip("0").rstrip(".")])


class Standard:
    def __init__(self, number):
        self.name = f"trial-{number}"
        self.variety = f"Variety {number}"
        self.stage = random.choice(STAGES)
        self.lowest, self.highest = random.choice(SCALES)
        weights = random.choice([[1], [1, 2, 3], range(1, 101)])
        self.aspects = [self.new_aspect(i, random.choice(weights))
                        for i in range(random.choice([1, 2, 4, 7, 24]))]
        self.faults = [self.new_fault(i) for i in range(random.choice([0, 1, 5, 26]))]
        self.choose_thresholds()

    def new_aspect(self, number, weight):
        floor = random.choice([None, None, random.randint(self.lowest, self.highest)])
        below = random.choice(["reject", "hold", None]) if floor is not None else None
        return {"code": f"a{number}", "weight": weight, "floor": floor, "below": below}

    def new_fault(self, number):
        effect = random.choice(["reject", "hold", "deduct", "deduct"])
        return {"code": f"f{number}", "effect": effect, "points": random.choice(
            [0, 1, 50, 500, 725, 1000, 3333]) if effect == "deduct" else 0}

    def choose_thresholds(self):
        """Often exactly a score that fish can have: there a rounding error would show."""
        def one():
            points = self.points({a["code"]: random.randint(self.lowest, self.highest)
                                  for a in self.aspects}, [])
            return int(points * 100) if random.random() < 0.7 else random.randint(0, 10_000)
        self.hold_at, self.keep_at = sorted([one(), one()])

    def points(self, scores, faults):
        total = sum(Fraction(100 * a["weight"] * (scores[a["code"]] - self.lowest),
                             self.highest - self.lowest) for a in self.aspects)
        total /= sum(a["weight"] for a in self.aspects)
        total -= sum(Fraction(f["points"], 100) for f in self.faults if f["code"] in faults)
        return max(total, Fraction(0))

    def text(self):
        lines = ["; a trial", "[standard]", f"name = {self.name}", f"variety = {self.variety}",
                 f"stage = {self.stage}", f"scale = {self.lowest}-{self.highest}",
                 f"typical = {self.lowest}", f"keep_at = {decimal(self.keep_at)}",
                 f"hold_at = {decimal(self.hold_at)}"]
        for a in self.aspects:
            lines += ["", f"[aspect {a['code']}]", f"label = Aspect {a['code']}",
                      f"weight = {a['weight']}"]
            lines += [f"floor = {a['floor']}"] if a["floor"] is not None else []
            lines += [f"below_floor = {a['below']}"] if a["below"] else []
        for f in self.faults:
            points = " " + decimal(f["points"]) if f["effect"] == "deduct" else ""
            lines += ["", f"[fault {f['code']}]", f"label = Fault {f['code']}",
                      f"effect = {f['effect']}{points}"]
        return "\n".join(lines) + "\n"


class Fish:
    def __init__(self, standard, bowl, number, levels):
        self.bowl, self.number = bowl, number
        gap = random.choice([0, 0, 0, 0.1])
        seen = random.choice([0, 0, 1, 1, 2, 3])
        self.faults = random.sample([f["code"] for f in standard.faults],
                                    min(seen, len(standard.faults)))
        self.scores = {a["code"]: None if random.random() < gap else random.choice(levels)
                       for a in standard.aspects}

    def decide(self, standard):
        """Rules 1 to 5: sets verdict, reason and points (None where a score is missing)."""
        missing = [a["code"] for a in standard.aspects if self.scores[a["code"]] is None]
        self.points = None if missing else standard.points(self.scores, self.faults)
        self.verdict, self.reason = self.first_rule(standard, missing)

    def first_rule(self, standard, missing):
        seen = [f for f in standard.faults if f["code"] in self.faults]
        for fault in seen:
            if fault["effect"] == "reject":
                return "reject", f"fault {fault['code']}"
        if missing:
            return "open", f"unscored {missing[0]}"
        under = [a for a in standard.aspects
                 if a["floor"] is not None and self.scores[a["code"]] < a["floor"]]
        for verdict in ("reject", "hold"):
            for aspect in under:
                if (aspect["below"] or "reject") == verdict:
                    return verdict, f"floor {aspect['code']}"
        for fault in seen:
            if fault["effect"] == "hold":
                return "hold", f"fault {fault['code']}"
        if self.points >= Fraction(standard.keep_at, 100):
            return "keep", "score"
        return ("hold" if self.points >= Fraction(standard.hold_at, 100) else "reject"), "score"

    def row(self, standard, rank):
        score = ""
        if self.points is not None:
            tenths = int(self.points * 10 + Fraction(1, 2))
            score = f"{tenths // 10}.{tenths % 10}"
        return [str(self.bowl), str(self.number), score, str(rank or ""), self.verdict, self.reason]


def expected_rows(standard, fish, places):
    for one in fish:
        one.decide(standard)
    if places is not None:
        kept = sorted({one.points for one in fish if one.verdict == "keep"}, reverse=True)
        for points in kept:
            group = [one for one in fish if one.verdict == "keep" and one.points >= points]
            if len(group) > places:
                for one in fish:
                    if one.verdict == "keep" and one.points <= points:
                        one.verdict, one.reason = "hold", "places"
                break
    scored = sorted((one.points for one in fish if one.points is not None), reverse=True)
    best = {}
    for position, points in enumerate(scored, 1):
        best.setdefault(points, position)
    return [one.row(standard, best.get(one.points))
            for one in sorted(fish, key=lambda one: (one.bowl, one.number))]


def make_fish(standard, count):
    levels = random.sample(range(standard.lowest, standard.highest + 1),
                           random.randint(1, standard.highest - standard.lowest + 1))
    if max(levels) < standard.highest and random.random() < 0.7:
        levels.append(standard.highest)
    places = random.sample(range(1, 4 * count), count)
    return [Fish(standard, 1 + place // 37, 1 + place % 37, levels) for place in places]


def fish_file(rounds):
    aspects = sorted({a["code"] for standard, _ in rounds for a in standard.aspects})
    rows = []
    for number, (standard, fish) in enumerate(rounds):
        for one in fish:
            scores = ["" if one.scores.get(code) is None else str(one.scores[code])
                      for code in aspects]
            rows.append([f"S{number}", "", standard.stage, one.bowl, one.number, "Ines",
                         "2026-11-05", random.choice(["", random.randint(1, 2000)]), "",
                         ";".join(one.faults), *scores])
    random.shuffle(rows)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator=random.choice(["\n", "\r\n"]))
    writer.writerow(COLUMNS + aspects)
    writer.writerows(rows)
    return out.getvalue()


def spawnings_file(rounds):
    lines = ["season,spawning,variety,dam,sires,siring"]
    lines += [f"2026,S{number},{standard.variety},D,M;N,pooled"
              for number, (standard, _) in enumerate(rounds)]
    return "\n".join(lines) + "\n"


def import_all(farm, files):
    for kind, path in files:
        farm.do("import", kind, path)


def decisions_of(farm, turn):
    return farm.query("SELECT b.round, d.fish, d.verdict, w.reason, w.label, d.score, p.unit, d.rank"
                      " FROM decision d JOIN pass p ON p.id = d.pass JOIN fish f ON f.id = d.fish"
                      " JOIN decision_reason w ON w.pass = d.pass AND w.number = d.reason JOIN bowl b ON b.id = f.bowl WHERE p.revision = ? ORDER BY d.fish", turn)


def compare(farm, number, standard, fish, *options):
    places = int(options[1]) if options[:1] == ("--places",) else None
    output = farm.do("pass", "--spawning", f"S{number}", "--stage", standard.stage, "--csv",
                     *options)
    rows = list(csv.reader(io.StringIO(output)))
    assert rows[0] == ["bowl", "fish", "score", "rank", "verdict", "reason"], rows[0]
    wanted = expected_rows(standard, fish, places)
    assert len(rows) - 1 == len(wanted), (len(rows), len(wanted))
    for got, want in zip(rows[1:], wanted):
        assert got == want, f"{standard.text()}\n{options}: {got} should be {want}"


def try_places(farm, number, standard, fish):
    expected_rows(standard, fish, None)
    kept = sum(one.verdict == "keep" for one in fish)
    for places in {0, max(0, kept - 1), kept, random.randint(0, len(fish))}:
        compare(farm, number, standard, fish, "--places", str(places), "--dry-run")


def check_passes(farm, rounds):
    before = farm.dump()
    for number, (standard, fish) in enumerate(rounds):
        compare(farm, number, standard, fish, "--dry-run")
        try_places(farm, number, standard, fish)
    assert farm.dump() == before, "a dry run left a trace"
    for number, (standard, fish) in enumerate(rounds):
        options = ["--places", str(len(fish) // 10)] if number % 2 else []
        compare(farm, number, standard, fish, *options)
        compare(farm, number, standard, fish, *options)
    first = decisions_of(farm, 1)
    assert len(first) == STANDARDS * FISH and first == decisions_of(farm, 2), "a second pass decided otherwise"


def check_again(farm, files):
    before = farm.dump()
    import_all(farm, files)
    assert farm.dump() == before, "reading the files again changed the ledger"


def export_all(farm, rounds):
    kinds = ["parents", "spawnings", "fish"]
    return [farm.do("export", kind) for kind in kinds] + [
        farm.do("export", "standard", standard.name) for standard, _ in rounds]


def check_export(farm, rounds):
    """What is written reads into an empty ledger and is written from there the same."""
    written = export_all(farm, rounds)
    with Farm() as other:
        for number, text in enumerate(written[3:]):
            other.do("import", "standard", other.file(f"{number}.ini", text))
        for kind, text in zip(["parents", "spawnings", "fish"], written):
            other.do("import", kind, other.file(kind, text))
        assert export_all(other, rounds) == written, "export, import, export is not the same"


def try_ledger(first):
    rounds = []
    for number in range(first, first + STANDARDS):
        standard = Standard(number)
        rounds.append((standard, make_fish(standard, FISH)))
    with Farm() as farm:
        files = [("parents", farm.file("parents.csv", "parent,sex\nD,f\nM,m\nN,m\n")),
                 ("spawnings", farm.file("spawnings.csv", spawnings_file(rounds)))]
        files += [("standard", farm.file(f"{standard.name}.ini", standard.text()))
                  for standard, _ in rounds]
        files += [("fish", farm.file("fish.csv", fish_file(rounds)))]
        import_all(farm, files)
        check_again(farm, files)
        check_passes(farm, rounds)
        check_again(farm, files)
        check_export(farm, rounds)
        assert "Nothing is wrong" in farm.do("check")


if __name__ == "__main__":
    random.seed(20261105)
    for ledger in range(LEDGERS):
        try_ledger(ledger * STANDARDS)
    print(f"{LEDGERS * STANDARDS * FISH} fish")
