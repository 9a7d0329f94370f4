"""Which spawnings a report is about: --variety in any spelling, --season, --spawning; and the day
and the season where none is said."""
import csv
import io

from program import Farm

PAIRS = ["KD2+KS2", "KD3+KS2"]
REPORTS = [["rates"], ["pairs"], ["effects"], ["season"], ["due"], ["compare", *PAIRS]]


def rows_of(text):
    return list(csv.DictReader(io.StringIO(text)))


def absent(farm, words, sentence):
    result = farm.run(*words)
    assert result.returncode == 1 and not result.stdout, f"{words}: exit {result.returncode}"
    assert sentence in result.stderr.decode(), f"{words}: {result.stderr.decode()}"


def try_rates(farm):
    rates = rows_of(farm.do("rates", "--csv"))
    seasons = {row["season"] for row in rates}
    assert len(seasons) > 1
    for season in seasons:
        found = rows_of(farm.do("rates", "--season", season, "--csv"))
        assert found == [row for row in rates if row["season"] == season]
    found = rows_of(farm.do("rates", "--spawning", "K25-1", "--csv"))
    assert found and found == [row for row in rates if row["key"] == "K25-1"]
    kikusui = farm.do("rates", "--variety", "kikusui", "--csv")
    assert rows_of(kikusui) and farm.do("rates", "--variety", "菊水", "--csv") == kikusui
    assert not rows_of(farm.do("rates", "--variety", "Asagi", "--csv"))
    return seasons


def try_pairs(farm):
    dams = {row["dam"] for row in rows_of(farm.do("pairs", "--csv"))}
    assert {row["dam"] for row in rows_of(farm.do("pairs", "--season", "2025", "--csv"))} <= dams
    both = rows_of(farm.do("compare", *PAIRS, "--csv"))
    one = rows_of(farm.do("compare", *PAIRS, "--season", both[0]["season"], "--csv"))
    assert len(one) == 2 and one[0]["in_a"] == both[0]["in_a"]


def try_season(farm, latest):
    assert farm.do("season") == farm.do("season", "--season", latest)
    assert farm.do("season") == farm.do("season", "--year", latest)
    alone = farm.do("season", "--spawning", "K25-1", "--season", "2025")
    assert "K25-1" in alone and "K25-2" not in alone
    absent(farm, ["season", "--spawning", "K25-1", "--season", "2024"], "no such spawning")


def try_due(farm):
    due = ["due", "--date", "2025-07-20", "--days", "60", "--csv"]
    assert not rows_of(farm.do(*due, "--season", "2024"))
    rows = rows_of(farm.do(*due))
    assert rows and rows_of(farm.do(*due, "--spawning", rows[0]["spawning"])) == [
        row for row in rows if row["spawning"] == rows[0]["spawning"]]


def main():
    with Farm() as farm:
        farm.stock()
        for report in REPORTS:
            absent(farm, [*report, "--variety", "Kohako"],
                   'There is no variety "Kohako"; the nearest is Kohaku 紅白.')
        absent(farm, ["rates", "--spawning", "K25"], "There is no spawning K25")
        seasons = try_rates(farm)
        try_pairs(farm)
        try_season(farm, max(seasons))
        try_due(farm)
        absent(farm, ["day"], "Nothing was culled on 2")
        assert farm.run("list").returncode != 2 and farm.do("due")


main()
