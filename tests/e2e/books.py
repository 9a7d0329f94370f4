"""The season book, the day's sheet and what is due, of the demonstration farm: they agree with its
files, and look as they did."""
import collections
import csv
import datetime
import io
import os
import pathlib
import sys

from program import Farm

SOURCE = pathlib.Path(os.environ["SENBETSU_SOURCE"])
DEMO = SOURCE / "demo"
DAYS_TO_HATCH = 5
# docs/rates.md, in days after hatching.
AGES = {"harvest": (110, 150), "house": (270, 330)}
# The lots of 2025 after the last cull: what they were kept at or counted at since (demo/lots.csv).
LOTS = {("R25-1", "R25-1"): ("2025-05-24", "harvest", 12),
        ("B25-1;S25-1", "barn"): ("2025-06-05", "harvest", 655),
        ("K25-1", "K25-1"): ("2025-05-30", "house", 18),
        ("K25-2", "K25-2"): ("2025-06-08", "house", 813 - 400),
        ("K25-2", "north"): ("2025-06-08", "house", 400)}
PICTURES = [("season-2025", ("season", "--year", "2025")),
            ("day-judged", ("day", "--date", "2025-10-08")),
            ("day-counted", ("day", "--date", "2025-08-03")),
            ("day-lots", ("day", "--date", "2025-09-20")),
            ("due", ("due", "--date", "2025-09-20", "--days", "14"))]


def read(text):
    return list(csv.DictReader(io.StringIO(text)))


def demo(name):
    return read((DEMO / name).read_text(encoding="utf-8"))


def try_season(farm):
    """The stages add up to the rounds of the notebook; its rows are those of `rates`."""
    problems = []
    book = farm.do("season", "--year", "2024", "--csv")
    sums = collections.defaultdict(lambda: [0, 0])
    for row in demo("rounds.csv"):
        if row["spawning"][1:3] == "24":
            for key in (row["spawning"], "2024"):
                sums[(key, row["stage"])][0] += int(row["in"])
                sums[(key, row["stage"])][1] += int(row["kept"])
    rows = {(row["key"], row["stage"]): row for row in read(book)}
    judged = {("K24-1", "harvest"), ("2024", "harvest")}
    for key, (went_in, kept) in sums.items():
        row = rows.get(key, {"in": "-", "kept": "-"})
        if key not in judged and (row["in"], row["kept"]) != (str(went_in), str(kept)):
            problems.append(f"season 2024, {key}: {row} is not {went_in}, {kept}")
    for by, word in (("spawning", "spawning,"), ("season", "season,")):
        rates = [line for line in farm.do("rates", "--by", by, "--csv").splitlines()
                 if line.split(",")[2] == "2024"]
        mine = [line for line in book.splitlines() if line.startswith(word)]
        if not rates or sorted(rates) != sorted(mine):
            problems.append(f"season 2024 has other rows than rates --by {by}")
    return problems


def counted_of(day):
    return sorted([row["spawning"], row["lot"] or row["spawning"], row["stage"], row["in"],
                   row["kept"], row["rejected"], row["dead"]]
                  for row in demo("rounds.csv") if row["date"] == day)


def events_of(day):
    return sorted(["" if ";" in row["spawning"] else row["spawning"], row["lot"] or row["spawning"],
                   row["event"], row["into_lot"], row["pond"]]
                  for row in demo("lots.csv") if row["date"] == day)


def try_days(farm):
    """Every day of a season on which something was counted or happened to a lot."""
    problems = []
    days = {row["date"] for name in ("rounds.csv", "lots.csv") for row in demo(name)
            if row["date"] > "2025"}
    for day in sorted(days):
        rows = read(farm.do("day", "--date", day, "--csv"))
        counted = sorted([row[column] for column in ("spawning", "lot", "stage", "in", "kept",
                                                     "rejected", "dead")]
                         for row in rows if row["in"])
        events = sorted([row[column] for column in ("spawning", "lot", "event", "into", "pond")]
                        for row in rows if row["event"])
        if counted != counted_of(day) or events != events_of(day):
            problems.append(f"day {day}: {rows}")
    return problems


def try_judged_days(farm):
    problems = []
    for path in sorted((DEMO / "fish").iterdir()):
        fish = read(path.read_text(encoding="utf-8"))
        for day, looked_at in collections.Counter(row["date"] for row in fish).items():
            rows = {(row["spawning"], row["stage"]): row
                    for row in read(farm.do("day", "--date", day, "--csv"))}
            row = rows.get((fish[0]["spawning"], fish[0]["stage"]))
            if row is None or row["looked_at"] != str(looked_at):
                problems.append(f"day {day}: {looked_at} fish of {path.name} were judged: {row}")
            elif sum(int(row[word]) for word in ("keep", "hold", "reject", "left")) != len(fish):
                problems.append(f"day {day}: not every fish of {path.name} is somewhere: {row}")
    return problems


def due_on(day, days):
    """By hand, for the season 2025."""
    rows = []
    for (spawnings, lot), (spawned, stage, fish) in LOTS.items():
        hatched = datetime.date.fromisoformat(spawned) + datetime.timedelta(DAYS_TO_HATCH)
        for at in list(AGES)[list(AGES).index(stage):]:
            first, last = (hatched + datetime.timedelta(age) for age in AGES[at])
            if day <= last + (last - first):
                if first <= day + datetime.timedelta(days):
                    rows.append((spawnings, lot, at, str(first), str(last),
                                 "late" if day > last else "", str(fish)))
                break
    return sorted(rows)


def try_due(farm):
    problems = []
    day = datetime.date(2025, 9, 1)
    while day < datetime.date(2026, 9, 1):
        rows = sorted(tuple(row[column] for column in ("spawning", "lot", "stage", "from", "to",
                                                       "late", "fish"))
                      for row in read(farm.do("due", "--date", day, "--days", "14", "--csv"))
                      if "25-" in row["spawning"])
        if rows != due_on(day, 14):
            problems.append(f"due on {day}: {rows}\n  by hand: {due_on(day, 14)}")
        day += datetime.timedelta(17)
    return problems


def try_pictures(farm):
    problems = []
    for name, words in PICTURES:
        said = farm.do(*words)
        path = SOURCE / "tests" / "data" / "books" / f"{name}.txt"
        if os.environ.get("SENBETSU_REGENERATE"):
            path.parent.mkdir(exist_ok=True)
            path.write_text(said, encoding="utf-8")
        elif path.read_text(encoding="utf-8") != said:
            problems.append(f"{' '.join(words)} is not as {path}:\n{said}")
    return problems


def try_list(farm):
    """Of a notebook's round the rejects are about what is left, on the list as elsewhere."""
    row = next(row for row in demo("rounds.csv")
               if (row["spawning"], row["stage"]) == ("K25-1", "first"))
    left = int(row["in"]) - int(row["kept"]) - int(row["dead"] or 0)
    page = farm.do("list", "--spawning", "K25-1", "--stage", "first")
    return [] if f"take out about {left}," in page else [f"the list takes out others than {left}: {page}"]


def main():
    with Farm() as farm:
        farm.stock()
        problems = (try_season(farm) + try_days(farm) + try_judged_days(farm) + try_due(farm) +
                    try_list(farm) + try_pictures(farm))
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
