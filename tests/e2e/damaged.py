"""A ledger with one wrong byte, each page in turn: a command either prints what it prints of the
sound ledger, or fails and says that the ledger is damaged. It never prints other numbers."""
import os

from program import Farm

PAGE = 4096
ONE_PAGE_IN = int(os.environ.get("SENBETSU_ONE_POINT_IN", "1"))
COMMANDS = [("season",), ("due", "--date", "2025-09-20"), ("rates",), ("export", "fish")]


def results(farm):
    return [(run.returncode, run.stdout, run.stderr.decode())
            for run in (farm.run(*words) for words in COMMANDS)]


def try_byte(farm, sound, at):
    bytes_before = farm.ledger.read_bytes()
    spoilt = bytearray(bytes_before)
    spoilt[at] ^= 1 << at % 8
    farm.ledger.write_bytes(spoilt)
    found, problems = 0, []
    for words, before, after in zip(COMMANDS, sound, results(farm)):
        if after == before:
            continue
        status, printed, said = after
        found += 1
        if status != 1 or printed or "The ledger is damaged" not in said:
            problems.append(f"byte {at}, {words}: {status} {printed[:200]} {said}")
    farm.ledger.write_bytes(bytes_before)
    return found, problems


def main():
    with Farm() as farm:
        farm.stock()
        sound = results(farm)
        assert all(status == 0 and printed for status, printed, _ in sound), sound
        pages = farm.ledger.stat().st_size // PAGE
        tries = [try_byte(farm, sound, page * PAGE + (page * 1237 + 200) % PAGE)
                 for page in range(0, pages, ONE_PAGE_IN)]
    problems = [problem for _, several in tries for problem in several]
    assert not problems, "\n".join(problems)
    found = sum(number for number, _ in tries)
    assert found > len(tries), f"{found} commands of {len(tries) * len(COMMANDS)} met a wrong byte"


main()
