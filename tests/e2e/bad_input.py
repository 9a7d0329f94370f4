"""Twenty kinds and more of bad input for every file: each is answered by one sentence with its
place, exit status 1, and a ledger in which nothing has changed."""
import sqlite3
import sys
import unicodedata

from program import Farm

PARENTS = "parent,sex,variety,born,dam,sire,note\n"
SPAWNINGS = "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n"
ROUNDS = ("spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,rejected,dead,"
          "note\n")
LOTS = "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
FISH = "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults,white,lustre\n"
HEAD = """[standard]
name = trial
variety = Kikusui
stage = harvest
scale = 1-5
typical = 3
keep_at = 65
hold_at = 55
"""
ASPECT = "\n[aspect white]\nlabel = White ground\nweight = 4\n"
FAULT = "\n[fault spine]\nlabel = Bent spine\neffect = reject\n"
LONG = "x" * 33

# What the file is, what stands in it, and the line and column that must be named (None = the
# sentence names no column).
CSV_OF_ANY_KIND = [
    ("empty", lambda head, row: "", 1, None),
    ("only blank lines", lambda head, row: "\n\n", 1, None),
    ("not UTF-8", lambda head, row: head.encode() + row.encode()[:-1] + b"\xff\n", 2, "any"),
    ("a NUL byte", lambda head, row: head.encode() + b"\0" + row.encode(), 2, 1),
    ("a control character", lambda head, row: head + "\x07" + row, 2, 1),
    ("line ends of CR alone", lambda head, row: (head + row).replace("\n", "\r"), 1, "any"),
    ("columns without end", lambda head, row: head[:-1] + "".join(
        f",c{n}" for n in range(60000)) + "\n", 1, 1001),
    ("a field without end", lambda head, row: head + "x" * 20000 + row, 2, 1),
    ("an escape sequence", lambda head, row: head + "\x1b[2J" + row, 2, 1),
    ("a quote inside", lambda head, row: head + 'a"b' + row, 2, 1),
    ("text after the closing quote", lambda head, row: head + '"a"b' + row, 2, 1),
    ("a quote without end", lambda head, row: head + '"' + row, 2, 1),
    ("a field too many", lambda head, row: head + row[:-1] + ",x\n", 2, "any"),
    ("a field too few", lambda head, row: head + row[:row.rindex(",")] + "\n", 2, "any"),
    ("a column twice", lambda head, row: head[:-1] + "," + head.split(",")[0] + "\n", 1, "any"),
    ("a column without a name", lambda head, row: head[:-1] + ",\n" + row[:-1] + ",\n", 1, "any"),
    ("an unknown column", lambda head, row: head[:-1] + ",colour\n" + row[:-1] + ",\n", 1, "any"),
    ("the key column missing",
     lambda head, row: head[head.index(",") + 1:] + row[row.index(",") + 1:], 1, None),
]

PARENT_ROWS = [
    ("no code", [",f,,,,,"], 2, 1),
    ("a code too long", [LONG + ",f,,,,,"], 2, 1),
    ("a semicolon in a code", ["A;B,f,,,,,"], 2, 1),
    ("a plus sign in a code", ["A+B,f,,,,,"], 2, 1),
    ("a writing direction in a code", ["A\u202eB,f,,,,,"], 2, 1),
    ("a zero-width space in a code", ["A\u200bB,f,,,,,"], 2, 1),
    ("a joiner in a code", ["A\u200dB,f,,,,,"], 2, 1),
    ("a tag character in a variety", ["A,f,Ko\U000e0041haku,,,,"], 2, 3),
    ("a comma in a code", ['"A,B",f,,,,,'], 2, 1),
    ("a space before a code", [" A,f,,,,,"], 2, 1),
    ("a line break in a code", ['"A\nB",f,,,,,'], 2, 1),
    ("no sex of ours", ["A,x,,,,,"], 2, 2),
    ("a year in words", ["A,f,,then,,,"], 2, 4),
    ("a year too early", ["A,f,,1066,,,"], 2, 4),
    ("a dam who is nowhere", ["A,f,,,Q,,"], 2, 5),
    ("a sire who is nowhere", ["A,f,,,,Q,"], 2, 6),
    ("a male dam", ["A,f,,,P1,,"], 2, 5),
    ("a female sire", ["A,f,,,,K1,"], 2, 6),
    ("a dam who is male further down", ["A,f,,,B,,", "B,m,,,,,"], 2, 5),
    ("its own dam", ["A,f,,,A,,"], 2, 5),
    ("a circle", ["A,f,,,B,,", "B,f,,,A,,"], 2, 5),
    ("a circle through the ledger", ["K1,,,,K2,,"], 2, 1),
    ("a code twice", ["A,f,,,,,", "B,f,,,,,", "A,f,,,,,"], 4, 1),
    ("a note too long", ["A,f,,,,," + "n" * 201], 2, 7),
    ("a note of two lines", ['A,f,,,,,"a\nb"'], 2, 7),
    ("a variety too long", ["A,f," + LONG + ",,,,"], 2, 3),
    ("a dam that becomes male", ["K1,m,,,,,"], 2, 1),
    ("wrong only in the last row", ["A,f,,,,,", "B,f,,,,,", "C,q,,,,,"], 4, 2),
]

SPAWNING_ROWS = [
    ("no code", [",2026,,,,,,,,"], 2, 1),
    ("a code too long", [LONG + ",2026,,,,,,,,"], 2, 1),
    ("no season and no date", ["S,,,,,,,,,"], 2, 2),
    ("a season in words", ["S,last,,,,,,,,"], 2, 2),
    ("a date that is none", ["S,,2026-02-30,,,,,,,"], 2, 3),
    ("a date of another form", ["S,,14.06.2026,,,,,,,"], 2, 3),
    ("a date outside its season", ["S,2025,2026-06-14,,,,,,,"], 2, 3),
    ("a dam who is nowhere", ["S,2026,,,Q,,,,,"], 2, 5),
    ("a male dam", ["S,2026,,,P1,,,,,"], 2, 5),
    ("a sire who is nowhere", ["S,2026,,,,P1;Q,pooled,,,"], 2, 6),
    ("a female sire", ["S,2026,,,,K1,,,,"], 2, 6),
    ("a sire twice", ["S,2026,,,,P1;P1,pooled,,,"], 2, 6),
    ("an empty sire", ["S,2026,,,,P1;,pooled,,,"], 2, 6),
    ("no siring of ours", ["S,2026,,,,P1,wild,,,"], 2, 7),
    ("several sires of a single one", ["S,2026,,,,P1;P2,single,,,"], 2, 7),
    ("eggs by the gram", ["S,2026,,,,,,2 kg,,"], 2, 8),
    ("fewer than no eggs", ["S,2026,,,,,,-1,,"], 2, 8),
    ("half a fry", ["S,2026,,,,,,,0.5,"], 2, 9),
    ("a note too long", ["S,2026,,,,,,,," + "n" * 201], 2, 10),
    ("a code twice", ["S,2026,,,,,,,,", "S,2026,,,,,,,,"], 3, 1),
    ("a variety with a comma", ['S,2026,,"a,b",,,,,,'], 2, 4),
]

ROUND_ROWS = [
    ("no spawning", [",,first,,,9,,,,,,,,"], 2, 1),
    ("a spawning that is nowhere", ["Q,,first,,,9,,,,,,,,"], 2, 1),
    ("one of two that is nowhere", ["K26-1;Q,both,first,,,9,,,,,,,,"], 2, 1),
    ("an empty one of two", ["K26-1;,both,first,,,9,,,,,,,,"], 2, 1),
    ("a mixed lot without a name", ["K26-1;S26-1,,first,,,9,,,,,,,,"], 2, 2),
    ("a spawning twice in a mixed lot", ["K26-1;K26-1,both,first,,,9,,,,,,,,"], 2, 2),
    ("a lot too long", ["K26-1," + LONG + ",first,,,9,,,,,,,,"], 2, 2),
    ("a semicolon in a lot", ["K26-1,a;b,first,,,9,,,,,,,,"], 2, 2),
    ("no stage", ["K26-1,,,,,9,,,,,,,,"], 2, 3),
    ("no stage of ours", ["K26-1,,summer,,,9,,,,,,,,"], 2, 3),
    ("a date that is none", ["K26-1,,first,2026-06-31,,9,,,,,,,,"], 2, 4),
    ("no manner of ours", ["K26-1,,first,,net,9,,,,,,,,"], 2, 5),
    ("a number in words", ["K26-1,,first,,,many,,,,,,,,"], 2, 6),
    ("a number with thousands marks", ['K26-1,,first,,,"98,000",,,,,,,,'], 2, 6),
    ("fewer than no fish", ["K26-1,,first,,,-1,,,,,,,,"], 2, 6),
    ("a number beyond all ponds", ["K26-1,,first,,,100000001,,,,,,,,"], 2, 6),
    ("no how of ours", ["K26-1,,first,,,9,guessed,,,,,,,"], 2, 7),
    ("how, but no number", ["K26-1,,first,,,,weighed,,,,,,,"], 2, 7),
    ("an error, but no number", ["K26-1,,first,,,,weighed,0.1,,,,,,"], 2, 8),
    ("an error of counted fish", ["K26-1,,first,,,9,counted,0.1,,,,,,"], 2, 8),
    ("an error over one", ["K26-1,,first,,,9,weighed,1.000001,,,,,,"], 2, 8),
    ("an error in per cent", ["K26-1,,first,,,9,weighed,5%,,,,,,"], 2, 8),
    ("an error with a decimal comma", ['K26-1,,first,,,9,weighed,"0,05",,,,,,'], 2, 8),
    ("an error of seven decimals", ["K26-1,,first,,,9,weighed,0.0000001,,,,,,"], 2, 8),
    ("half a fish kept", ["K26-1,,first,,,9,,,4.5,,,,,"], 2, 9),
    ("no how of ours for those kept", ["K26-1,,first,,,9,,,4,by eye,,,,"], 2, 10),
    ("an error of counted keeps", ["K26-1,,first,,,9,,,4,counted,0.000001,,,"], 2, 11),
    ("rejects in words", ["K26-1,,first,,,9,,,4,,,rest,,"], 2, 12),
    ("fewer than no dead", ["K26-1,,first,,,9,,,4,,,,-2,"], 2, 13),
    ("a note too long", ["K26-1,,first,,,9,,,4,,,,," + "n" * 201], 2, 14),
    ("a note of two lines", ['K26-1,,first,,,9,,,4,,,,,"a\nb"'], 2, 14),
    ("a round twice", ["K26-1,,first,,,9,,,,,,,,", "K26-1,K26-1,first,,,9,,,,,,,,"], 3, 3),
    ("wrong only in the last row", ["K26-1,,first,,,9,,,,,,,,", "K26-1,,second,,,9,,,x,,,,,"], 3, 9),
]

LOT_ROWS = [
    ("no spawning", [",,2026-07-01,dead,3,,,,,,"], 2, 1),
    ("a spawning that is nowhere", ["Q,,2026-07-01,dead,3,,,,,,"], 2, 1),
    ("a mixed lot without a name", ["K26-1;S26-1,,2026-07-01,dead,3,,,,,,"], 2, 2),
    ("a lot too long", ["K26-1," + LONG + ",2026-07-01,dead,3,,,,,,"], 2, 2),
    ("a plus sign in a lot", ["K26-1,a+b,2026-07-01,dead,3,,,,,,"], 2, 2),
    ("no date", ["K26-1,,,dead,3,,,,,,"], 2, 3),
    ("a date that is none", ["K26-1,,2026-13-01,dead,3,,,,,,"], 2, 3),
    ("a date in another form", ["K26-1,,1.7.2026,dead,3,,,,,,"], 2, 3),
    ("no event", ["K26-1,,2026-07-01,,3,,,,,,"], 2, 4),
    ("no event of ours", ["K26-1,,2026-07-01,sold,3,,,,,,"], 2, 4),
    ("an event in capitals", ["K26-1,,2026-07-01,Dead,3,,,,,,"], 2, 4),
    ("no number of dead", ["K26-1,,2026-07-01,dead,,,,,,,"], 2, 5),
    ("no number of a count", ["K26-1,,2026-07-01,count,,,,,,,"], 2, 5),
    ("a number in words", ["K26-1,,2026-07-01,found,some,,,,,,"], 2, 5),
    ("fewer than none lost", ["K26-1,,2026-07-01,lost,-3,,,,,,"], 2, 5),
    ("a number beyond all ponds", ["K26-1,,2026-07-01,count,100000001,,,,,,"], 2, 5),
    ("a move of some fish", ["K26-1,,2026-07-01,move,30,,,,,North,"], 2, 5),
    ("no how of ours", ["K26-1,,2026-07-01,count,9,guessed,,,,,"], 2, 6),
    ("how, but no number", ["K26-1,,2026-07-01,transfer,,counted,,,west,,"], 2, 6),
    ("an error of counted fish", ["K26-1,,2026-07-01,count,9,counted,0.1,,,,"], 2, 7),
    ("an error in per cent", ["K26-1,,2026-07-01,count,9,weighed,5%,,,,"], 2, 7),
    ("a target of the dead", ["K26-1,,2026-07-01,dead,9,,,K26-1,,,"], 2, 8),
    ("a target that is nowhere", ["K26-1,,2026-07-01,transfer,9,,,Q,west,,"], 2, 8),
    ("a target without a name", ["K26-1,,2026-07-01,transfer,9,,,,,,"], 2, 9),
    ("a lot of the lost", ["K26-1,,2026-07-01,lost,9,,,,west,,"], 2, 9),
    ("a transfer into itself", ["K26-1,west,2026-07-01,transfer,9,,,,west,,"], 2, 9),
    ("a mixed target without a name", ["K26-1,,2026-07-01,transfer,9,,,K26-1;S26-1,,,"], 2, 9),
    ("fish among strangers", ["K26-1,,2026-07-01,transfer,9,,,S26-1,west,,"], 2, 9),
    ("fish of two among one's", ["K26-1;S26-1,both,2026-07-01,transfer,9,,,K26-1,west,,"], 2, 9),
    ("a move to nowhere", ["K26-1,,2026-07-01,move,,,,,,,"], 2, 10),
    ("a pond of the dead", ["K26-1,,2026-07-01,dead,9,,,,,North,"], 2, 10),
    ("a pond with a mark of direction", ["K26-1,,2026-07-01,move,,,,,,No\u200frth,"], 2, 10),
    ("a pond too long", ["K26-1,,2026-07-01,move,,,,,," + LONG + ","], 2, 10),
    ("a note of two lines", ['K26-1,,2026-07-01,dead,9,,,,,,"a\nb"'], 2, 11),
    ("a note too long", ["K26-1,,2026-07-01,dead,9,,,,,," + "n" * 201], 2, 11),
    ("wrong only in the last row", ["K26-1,,2026-07-01,transfer,9,,,,new,,",
                                    "K26-1,new,2026-07-02,dead,x,,,,,,"], 3, 5),
]

FISH_ROWS = [
    ("no spawning", [",,harvest,1,9,,,,,,3,3"], 2, 1),
    ("a spawning that is nowhere", ["Q,,harvest,1,9,,,,,,3,3"], 2, 1),
    ("a lot too long", ["K26-1," + LONG + ",harvest,1,9,,,,,,3,3"], 2, 2),
    ("no stage", ["K26-1,,,1,9,,,,,,3,3"], 2, 3),
    ("no stage of ours", ["K26-1,,autumn,1,9,,,,,,3,3"], 2, 3),
    ("a stage without a standard", ["K26-1,,black,1,9,,,,,,3,3"], 2, 3),
    ("no bowl", ["K26-1,,harvest,,9,,,,,,3,3"], 2, 4),
    ("bowl nought", ["K26-1,,harvest,0,9,,,,,,3,3"], 2, 4),
    ("a bowl beyond all numbers", ["K26-1,,harvest,1000000,9,,,,,,3,3"], 2, 4),
    ("a fish in words", ["K26-1,,harvest,1,ninth,,,,,,3,3"], 2, 5),
    ("no fish", ["K26-1,,harvest,1,,,,,,,3,3"], 2, 5),
    ("a tag with a writing direction", ["K26-1,,harvest,1,9,,,,a\u2066b,,3,3"], 2, 9),
    ("a judge with a soft hyphen", ["K26-1,,harvest,1,9,A\u00adB,,,,,3,3"], 2, 6),
    ("a judge with a plus sign", ["K26-1,,harvest,1,9,A+B,,,,,3,3"], 2, 6),
    ("a date that is none", ["K26-1,,harvest,1,9,,2026-13-01,,,,3,3"], 2, 7),
    ("a length in words", ["K26-1,,harvest,1,9,,,abc,,,3,3"], 2, 8),
    ("a length beyond any carp", ["K26-1,,harvest,1,9,,,2001,,,3,3"], 2, 8),
    ("a length with a decimal", ["K26-1,,harvest,1,9,,,120.5,,,3,3"], 2, 8),
    ("a tag with a semicolon", ["K26-1,,harvest,1,9,,,,a;b,,3,3"], 2, 9),
    ("a tag of another fish", ["K26-1,,harvest,1,9,,,,T1,,3,3"], 2, 9),
    ("an unknown fault", ["K26-1,,harvest,1,9,,,,,tired,3,3"], 2, 10),
    ("a fault twice", ["K26-1,,harvest,1,9,,,,,spine;spine,3,3"], 2, 10),
    ("an empty fault", ["K26-1,,harvest,1,9,,,,,spine;,3,3"], 2, 10),
    ("a score under the scale", ["K26-1,,harvest,1,9,,,,,,0,3"], 2, 11),
    ("a score over the scale", ["K26-1,,harvest,1,9,,,,,,3,6"], 2, 12),
    ("half a score", ["K26-1,,harvest,1,9,,,,,,3.5,3"], 2, 11),
    ("a score in words", ["K26-1,,harvest,1,9,,,,,,3,good"], 2, 12),
    ("a fish twice", ["K26-1,,harvest,1,9,A,,,,,3,3", "K26-1,,harvest,1,9,A,,,,,3,4"], 3, 5),
    ("an aspect of another stage", ["K26-1,,harvest,1,9,,,,,,3,3", "S26-1,,harvest,1,9,,,,,,3,3"],
     3, 11),
    ("wrong only in the last row", [f"K26-1,,harvest,1,{n},,,,,,3,3" for n in range(9, 60)] +
     ["K26-1,,harvest,1,60,,,,,,3,x"], 53, 12),
]

STANDARDS = [
    ("empty", "", "any"),
    ("no section", "name = trial\n", 1),
    ("no aspect", HEAD, "any"),
    ("an unknown section", HEAD + ASPECT + "\n[colour red]\nlabel = x\n", 14),
    ("the standard twice", HEAD + ASPECT + "\n" + HEAD, 14),
    ("an unknown key", HEAD + "mood = good\n" + ASPECT, 9),
    ("a key twice", HEAD + "keep_at = 66\n" + ASPECT, 9),
    ("a line that is none", HEAD + "keep at most\n" + ASPECT, 9),
    ("no name", HEAD.replace("name = trial\n", "") + ASPECT, "any"),
    ("a name too long", HEAD.replace("trial", LONG) + ASPECT, 2),
    ("no variety", HEAD.replace("variety = Kikusui\n", "") + ASPECT, "any"),
    ("no stage of ours", HEAD.replace("harvest", "autumn") + ASPECT, 4),
    ("no scale", HEAD.replace("scale = 1-5\n", "") + ASPECT, "any"),
    ("a scale upside down", HEAD.replace("1-5", "5-1") + ASPECT, 5),
    ("a scale of eleven", HEAD.replace("1-5", "0-10") + ASPECT, 5),
    ("a typical score off the scale", HEAD.replace("typical = 3", "typical = 6") + ASPECT, 6),
    ("a threshold over 100", HEAD.replace("65", "101") + ASPECT, 7),
    ("a threshold of three decimals", HEAD.replace("65", "65.125") + ASPECT, 7),
    ("hold above keep", HEAD.replace("hold_at = 55", "hold_at = 66") + ASPECT, 8),
    ("no weight", HEAD + ASPECT.replace("weight = 4\n", ""), "any"),
    ("weight nought", HEAD + ASPECT.replace("4", "0"), 12),
    ("a weight over 100", HEAD + ASPECT.replace("4", "101"), 12),
    ("a floor off the scale", HEAD + ASPECT + "floor = 6\n", 13),
    ("below the floor: keep", HEAD + ASPECT + "floor = 2\nbelow_floor = keep\n", 14),
    ("no label", HEAD + ASPECT.replace("label = White ground\n", ""), "any"),
    ("an aspect twice", HEAD + ASPECT + ASPECT, 14),
    ("ten thousand aspects", HEAD + "".join(
        f"[aspect a{n}]\nlabel = x\nweight = 1\n" for n in range(10000)), "any"),
    ("a line of a megabyte", HEAD + "; " + "x" * 1000000 + "\n" + ASPECT, 9),
    ("a name with a writing direction", HEAD.replace("trial", "tri\u202eal") + ASPECT, 2),
    ("an aspect named as a column", HEAD + ASPECT.replace("white", "bowl"), 10),
    ("no effect", HEAD + ASPECT + FAULT.replace("effect = reject\n", ""), "any"),
    ("an unknown effect", HEAD + ASPECT + FAULT.replace("reject", "frown"), 16),
    ("a deduction without points", HEAD + ASPECT + FAULT.replace("reject", "deduct"), 16),
    ("a deduction over 100", HEAD + ASPECT + FAULT.replace("reject", "deduct 101"), 16),
    ("a fault twice", HEAD + ASPECT + FAULT + FAULT, 18),
    ("a key that the sheet needs", HEAD + ASPECT + FAULT + "key = u\n", 17),
    ("not UTF-8", HEAD.encode() + ASPECT.encode().replace(b"White", b"W\xffite"), 11),
    ("a NUL byte", HEAD.encode() + b"note = a\0b\n" + ASPECT.encode(), 9),
]


def place(name, line, column):
    if line == "any":
        return f"senbetsu: {name}, line "
    if column == "any":
        return f"senbetsu: {name}, line {line}, column "
    if column is None:
        return f"senbetsu: {name}, line {line}: "
    return f"senbetsu: {name}, line {line}, column {column}"


def hides(text):
    """Does it hold a character that a terminal obeys, or that nobody sees?"""
    return any(unicodedata.category(character) in ("Cc", "Cf", "Co", "Cn") for character in text)


def try_one(farm, kind, what, content, start, before):
    path = farm.file("bad." + ("ini" if kind == "standard" else "csv"), content)
    result = farm.run("import", kind, path)
    said = result.stderr.decode()
    problems = []
    if result.returncode != 1:
        problems.append(f"exit status {result.returncode}")
    if not said.startswith(start):
        problems.append(f"it should begin with \"{start}\"")
    if said.count("\n") != 1 or not said.endswith(".\n"):
        problems.append("it is not one sentence")
    if hides(said[:-1]):
        problems.append("it has characters that hide or move what is shown")
    if result.stdout:
        problems.append("it wrote to standard output")
    if farm.dump() != before:
        problems.append("the ledger changed")
    return [f"{kind}, {what}: {problem}: {said!r}" for problem in problems]


def try_csv(farm, kind, head, good_row, rows):
    problems, before = [], farm.dump()
    for what, make, line, column in CSV_OF_ANY_KIND:
        problems += try_one(farm, kind, what, make(head, good_row), place("bad.csv", line, column),
                            before)
    for what, lines, line, column in rows:
        content = head + "\n".join(lines) + "\n"
        problems += try_one(farm, kind, what, content, place("bad.csv", line, column), before)
    assert len(CSV_OF_ANY_KIND) + len(rows) >= 20
    return problems


def try_standards(farm):
    assert len(STANDARDS) >= 20
    problems, before = [], farm.dump()
    for what, content, line in STANDARDS:
        problems += try_one(farm, "standard", what, content, place("bad.ini", line, None), before)
    return problems


def try_ledgers(farm):
    """A ledger that cannot be used is left as it is, whatever is asked of it."""
    other = farm.folder / "other.db"
    with sqlite3.connect(other) as database:
        database.execute("CREATE TABLE koi (name TEXT)")
    whole = farm.ledger.read_bytes()
    ledgers = [("text", farm.file("text", "spring cleaning\n" * 100)), ("other database", other),
               ("half a ledger", farm.file("half", whole[:len(whole) // 2])),
               ("one page", farm.file("page", whole[:4096])), ("a folder", farm.folder),
               ("nothing there", farm.folder / "nowhere" / "ledger.db")]
    problems = []
    for what, ledger in ledgers:
        for words in [("pass", "--spawning", "K26-1", "--stage", "harvest"), ("check",),
                      ("list", "--date", "2026-11-05"), ("export", "fish"),
                      ("backup", farm.folder / "copy")]:
            before = ledger.read_bytes() if ledger.is_file() else None
            result = farm.run(*words, ledger=ledger)
            after = ledger.read_bytes() if ledger.is_file() else None
            said = result.stderr.decode()
            if result.returncode != 1 or said.count("\n") != 1 or result.stdout or before != after:
                problems.append(f"{what}, {words}: exit status {result.returncode}: {said!r}")
    return problems


def try_marks(farm):
    """What a note or a file's name hides is shown as a mark, and only an export has it as it is."""
    note = "torn \u202een\u200b dam\u00ad"
    path = farm.file("lots\x1b[2J\u202e.csv", LOTS + f"K26-1,,2026-11-05,dead,3,,,,,,{note}\n")
    problems = []
    for words in [("import", "lots", path), ("day", "--date", "2026-11-05"),
                  ("backup", farm.folder / "copy\x1b[2J.db")]:
        said = farm.run(*words).stdout.decode()
        if hides(said.replace("\n", "")) or not said:
            problems.append(f"{words}: {said!r}")
    refused = farm.run("import", "fish", path).stderr.decode()
    if hides(refused[:-1]) or not refused.startswith("senbetsu: lots?[2J?.csv, line 1"):
        problems.append(f"refused: {refused!r}")
    if note not in farm.do("export", "lots"):
        problems.append("an export lost what a note hides")
    return problems


OUTPUTS = [("export", "fish", "FILE"), ("export", "standard", "kikusui-harvest", "FILE"),
           ("list", "--date", "2026-11-05", "--to", "FILE"),
           ("day", "--date", "2026-11-05", "--to", "FILE"),
           ("due", "--to", "FILE"), ("season", "--year", "2026", "--to", "FILE")]


def try_outputs(farm):
    """No output replaces a ledger, by whatever name; another file only with --force."""
    copy, page = farm.folder / "copy.db", farm.file("page.txt", "yesterday's\n")
    soft, hard = farm.folder / "soft", farm.folder / "hard"
    farm.do("backup", copy)
    soft.symlink_to(farm.ledger)
    hard.hardlink_to(farm.ledger)
    ledgers = [farm.ledger, copy, soft, hard, farm.folder / "copy.db-journal"]
    ledgers += [farm.ledger.with_name(farm.ledger.name + end) for end in ("-wal", "-shm", "-journal")]
    problems = []
    for words in OUTPUTS:

        def write(file, *more):
            return farm.run(*[file if word == "FILE" else word for word in words], *more)

        for file in ledgers:
            for force in ([], ["--force"]):
                before = (farm.ledger.read_bytes(), copy.read_bytes())
                result = write(file, *force)
                if (result.returncode != 1 or b"belongs to a ledger" not in result.stderr
                        or before != (farm.ledger.read_bytes(), copy.read_bytes())):
                    problems.append(f"{words} into {file} {force}: {result.stderr!r}")
        result = write(page)
        if (result.returncode != 1 or b"or --force to replace it." not in result.stderr
                or page.read_bytes() != b"yesterday's\n"):
            problems.append(f"{words} into a file that is there: {result.stderr!r}")
        result = write(page, "--force")
        if result.returncode != 0 or page.read_bytes() == b"yesterday's\n":
            problems.append(f"{words} --force: {result.stderr!r}")
        page.write_bytes(b"yesterday's\n")
    return problems


def main():
    with Farm() as farm:
        farm.do("import", "parents", farm.file("parents.csv", PARENTS +
                "K1,f,Kikusui,,,,\nP1,m,,,,,\nP2,m,,,,,\nK2,f,,,K1,P1,\n"))
        farm.do("import", "spawnings", farm.file("spawnings.csv", SPAWNINGS +
                "K26-1,2026,,Kikusui,K1,P1,,,,\nS26-1,2026,,Showa,K2,P2,,,,\n"))
        farm.do("import", "fish", farm.file("fish.csv", FISH +
                "K26-1,,harvest,1,1,A,2026-11-05,120,T1,,3,3\nK26-1,,harvest,1,2,A,,,,spine,3,\n"))
        problems = try_csv(farm, "parents", PARENTS, "A,f,,,,,\n", PARENT_ROWS)
        problems += try_csv(farm, "spawnings", SPAWNINGS, "S,2026,,,,,,,,\n", SPAWNING_ROWS)
        problems += try_csv(farm, "rounds", ROUNDS, "K26-1,,first,,,9,,,,,,,,\n", ROUND_ROWS)
        problems += try_csv(farm, "lots", LOTS, "K26-1,,2026-07-01,dead,3,,,,,,\n", LOT_ROWS)
        problems += try_csv(farm, "fish", FISH, "K26-1,,harvest,1,9,,,,,,3,3\n", FISH_ROWS)
        problems += try_standards(farm)
        problems += try_marks(farm)
        problems += try_ledgers(farm)
        problems += try_outputs(farm)
    sys.exit("\n".join(problems) or 0)


if __name__ == "__main__":
    main()
