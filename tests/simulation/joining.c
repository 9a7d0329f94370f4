/* Joins of random histories: two and three stations, from a common copy or each from nothing, that
 * record, correct, rename, retire and join in between, with clocks that differ. Whoever joins them,
 * in whatever order and however often, must come to the same: every row of every table and every
 * exported file, byte for byte.
 *
 *   joining HISTORIES [SEED]
 */
#include "private.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/store/corrections.h"
#include "senbetsu/store/join.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/names.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/tallies.h"
#include "senbetsu/store/varieties.h"
#include "support/standard.h"

#include <dirent.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { STATIONS = 3 };

static uint64_t chance = 1;

static uint64_t draw(void)
{
    chance ^= chance << 13;
    chance ^= chance >> 7;
    chance ^= chance << 17;
    return chance * UINT64_C(0x2545f4914f6cdd1d);
}

static int below(int limit)
{
    return (int)(draw() >> 33) % limit;
}

static void give_up(const char *what, const struct err *err)
{
    fprintf(stderr, "joining: %s: %s\n", what, err->text);
    exit(1);
}

/* Places. */

static char folder[256];

static const char *at(const char *name)
{
    static char paths[8][512];
    static int next;
    char *path = paths[next++ % 8];
    snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

static void empty_folder(void)
{
    DIR *listing = opendir(folder);
    for (struct dirent *entry; listing != NULL && (entry = readdir(listing)) != NULL;)
        if (entry->d_name[0] != '.')
            unlink(at(entry->d_name));
    closedir(listing);
}

static void copy_file(const char *from, const char *to)
{
    char buffer[1 << 16];
    FILE *in = fopen(from, "rb"), *out = fopen(to, "wb");
    if (in == NULL || out == NULL)
        exit(1);
    for (size_t size; (size = fread(buffer, 1, sizeof buffer, in)) > 0;)
        fwrite(buffer, 1, size, out);
    fclose(in);
    fclose(out);
}

/* Ledgers. */

static int64_t clocks[STATIONS + 1];
static int64_t seeds;

static struct ledger *open_ledger(const char *path, int64_t *now)
{
    struct ledger *ledger = NULL;
    struct err err = {0};
    bool is_new;
    struct ledger_setup setup = {
        .path = path, .create = true, .clock = clock_fixed(now), .station = "somewhere"};
    seeds++;
    for (size_t i = 0; i < sizeof setup.seed; i++)
        setup.seed[i] = (uint8_t)(draw() >> 40);
    memcpy(setup.seed, &seeds, sizeof seeds);
    if (!ledger_open(&setup, &ledger, &is_new, &err))
        give_up("open", &err);
    return ledger;
}

/* A random row of a query for one number; 0 = there is none. */
static int64_t pick(struct ledger *ledger, const char *sql)
{
    char counted[512];
    sqlite3_stmt *statement;
    int64_t number = 0;
    snprintf(counted, sizeof counted,
             "SELECT * FROM (%s) LIMIT 1 OFFSET abs(%d) %% max(1, (SELECT "
             "count(*) FROM (%s)))",
             sql, below(1 << 20), sql);
    if (sqlite3_prepare_v2(ledger->db, counted, -1, &statement, NULL) != SQLITE_OK)
        abort();
    if (sqlite3_step(statement) == SQLITE_ROW)
        number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    return number;
}

static const char *pick_text(struct ledger *ledger, const char *sql)
{
    static char texts[4][CODE_SIZE];
    static int next;
    char *text = texts[next++ % 4];
    char counted[512];
    sqlite3_stmt *statement;
    *text = '\0';
    snprintf(counted, sizeof counted,
             "SELECT * FROM (%s) LIMIT 1 OFFSET abs(%d) %% max(1, (SELECT "
             "count(*) FROM (%s)))",
             sql, below(1 << 20), sql);
    if (sqlite3_prepare_v2(ledger->db, counted, -1, &statement, NULL) != SQLITE_OK)
        abort();
    if (sqlite3_step(statement) == SQLITE_ROW)
        snprintf(text, CODE_SIZE, "%s", (const char *)sqlite3_column_text(statement, 0));
    sqlite3_finalize(statement);
    return text;
}

static const char *word(const char *letter, int count)
{
    static char words[8][16];
    static int next;
    char *text = words[next++ % 8];
    snprintf(text, sizeof words[0], "%s%d", letter, 1 + below(count));
    return text;
}

/* What stations do. Much of it is refused, as it is when people do it; only what a ledger must
 * never say ends the test. */

static struct standard standards(int variant)
{
    struct standard standard = trial_standard();
    standard.keep_at = 6500 + 100 * variant;
    return standard;
}

static bool do_parent(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct parent parent = {.id = 0};
    enum saved saved;
    columns_init(parent_columns, PARENT_COLUMN_COUNT, &parent);
    snprintf(parent.code, sizeof parent.code, "%s", word("P", 8));
    parent.sex = (enum sex)below(3);
    if (below(3) == 0)
        parent.born = 2015 + below(8);
    if (below(3) == 0)
        snprintf(parent.dam, sizeof parent.dam, "%s",
                 pick_text(ledger, "SELECT code FROM live_parent ORDER BY id"));
    if (below(3) == 0)
        snprintf(parent.sire, sizeof parent.sire, "%s",
                 pick_text(ledger, "SELECT code FROM live_parent ORDER BY id"));
    if (below(3) == 0)
        snprintf(parent.variety, sizeof parent.variety, "%s",
                 pick_text(ledger, "SELECT name FROM live_variety ORDER BY id"));
    if (below(4) == 0)
        snprintf(parent.note, sizeof parent.note, "note %d", below(9));
    return parent_save(ledger, &parent, judge, "", &saved, err);
}

static bool do_parent_change(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct parent parent;
    enum saved saved;
    if (!parent_get(ledger, pick_text(ledger, "SELECT code FROM live_parent ORDER BY id"), &parent,
                    err))
        return false;
    switch (below(5)) {
    case 0:
        parent.dam[0] = '\0';
        break;
    case 1:
        snprintf(parent.sire, sizeof parent.sire, "%s",
                 pick_text(ledger, "SELECT code FROM live_parent ORDER BY id"));
        break;
    case 2:
        parent.state = (enum brood_state)below(4);
        snprintf(parent.since, sizeof parent.since, "%s",
                 parent.state == BROOD_UNSAID ? "" : "2026-05-01");
        break;
    case 3:
        snprintf(parent.code, sizeof parent.code, "%s", word("P", 8));
        break;
    default:
        parent.note[0] = '\0';
    }
    return parent_change(ledger, &parent, judge, "put right", &saved, err);
}

static void fill_spawning(struct ledger *ledger, struct spawning *spawning)
{
    if (below(2) == 0)
        snprintf(spawning->date, sizeof spawning->date, "%d-06-%02d", 2024 + below(3),
                 1 + below(28));
    spawning->season = spawning->date[0] != '\0' ? atoi(spawning->date) : 2024 + below(3);
    if (below(2) == 0)
        snprintf(
            spawning->dam, sizeof spawning->dam, "%s",
            pick_text(ledger, "SELECT code FROM live_parent WHERE sex IS NOT 'm' ORDER BY id"));
    if (below(2) == 0)
        snprintf(
            spawning->sires, sizeof spawning->sires, "%s",
            pick_text(ledger, "SELECT code FROM live_parent WHERE sex IS NOT 'f' ORDER BY id"));
    if (below(3) == 0)
        snprintf(spawning->variety, sizeof spawning->variety, "%s",
                 pick_text(ledger, "SELECT name FROM live_variety ORDER BY id"));
    if (below(3) == 0)
        spawning->hatched = below(1000);
}

static bool do_spawning(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct spawning spawning = {.id = 0};
    enum saved saved;
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, &spawning);
    snprintf(spawning.code, sizeof spawning.code, "%s", word("S", 5));
    fill_spawning(ledger, &spawning);
    return spawning_save(ledger, &spawning, judge, "", &saved, err);
}

static bool do_spawning_change(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct spawning spawning;
    char code[CODE_SIZE];
    enum saved saved;
    snprintf(code, sizeof code, "%s",
             pick_text(ledger, "SELECT code FROM live_spawning ORDER BY id"));
    if (!spawning_get(ledger, code, &spawning, err))
        return false;
    if (below(3) == 0)
        snprintf(spawning.code, sizeof spawning.code, "%s", word("S", 5));
    fill_spawning(ledger, &spawning);
    return spawning_change(ledger, code, &spawning, judge, "put right", &saved, err);
}

static bool do_round(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct round round;
    bool is_new;
    char spawning[CODE_SIZE];
    (void)judge;
    snprintf(spawning, sizeof spawning, "%s",
             pick_text(ledger, "SELECT code FROM live_spawning ORDER BY id"));
    return round_begin_as(ledger, spawning, below(3) == 0 ? word("L", 3) : "", (enum stage)below(3),
                          below(4) == 0 ? MANNER_PICK : MANNER_JUDGE, &round, &is_new, err);
}

static int64_t pick_round(struct ledger *ledger)
{
    return pick(ledger, "SELECT id FROM live_round ORDER BY id");
}

static bool do_round_change(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct round round;
    if (!round_get(ledger, pick_round(ledger), &round, err))
        return false;
    switch (below(6)) {
    case 0:
        round.places = below(10);
        break;
    case 1:
        round.fate = (enum fate)below(FATE_COUNT);
        break;
    case 2:
        round.stage = (enum stage)below(3);
        break;
    case 3:
        round.expected = 1 + below(100);
        break;
    case 4:
        round.waiting = (enum waiting)below(WAITING_COUNT);
        break;
    default:
        snprintf(round.standard, sizeof round.standard, "%s",
                 below(4) == 0 ? "kikusui-second" : "plain-first");
    }
    return round_save(ledger, &round, judge, err);
}

/* Fish are judged by a standard. */
static bool give_standard(struct ledger *ledger, int64_t id, int64_t judge, struct round *ret,
                          struct err *err)
{
    if (!round_get(ledger, id, ret, err))
        return false;
    if (ret->standard[0] != '\0')
        return true;
    snprintf(ret->standard, sizeof ret->standard, "plain-first");
    return round_save(ledger, ret, judge, err);
}

static bool do_bowl(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct bowl bowl;
    struct round round;
    return give_standard(ledger, pick_round(ledger), judge, &round, err) &&
           bowl_begin(ledger, round.id, 1 + below(4), below(2) * below(30), "2026-07-26", &bowl,
                      err);
}

static int64_t pick_bowl(struct ledger *ledger)
{
    return pick(ledger, "SELECT id FROM live_bowl ORDER BY id");
}

static bool do_bowl_change(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct bowl bowl;
    if (!bowl_get(ledger, pick_bowl(ledger), &bowl, err))
        return false;
    if (below(2) == 0)
        bowl.number = 1 + below(6);
    else
        bowl.expected = below(40);
    return bowl_change(ledger, &bowl, judge, "miscounted", err);
}

static bool do_fish(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct standard standard = standards(0);
    struct standard_version version;
    struct fish known;
    struct round round;
    struct bowl bowl;
    struct stroke stroke = {.judge = judge, .at_ms = clock_now(ledger_clock(ledger))};
    if (!bowl_get(ledger, pick_bowl(ledger), &bowl, err) ||
        !give_standard(ledger, bowl.round_id, judge, &round, err))
        return false;
    if (!standard_named(ledger, round.standard, &version, err) ||
        !fish_begin(ledger, bowl.id, 1 + below(5), &stroke.fish, err) ||
        !fish_load(ledger, stroke.fish, &version.standard, &known, err))
        return false;
    standard = version.standard;
    stroke.look = 1 + (below(6) == 0);
    stroke.standard = version.id;
    stroke.entry_count = 2;
    stroke.entries[0] = (struct entry){.kind = ENTRY_SCORE, .number = 1 + below(5)};
    snprintf(stroke.entries[0].what, sizeof stroke.entries[0].what, "%s", standard.aspects[0].code);
    stroke.entries[1] = (struct entry){.kind = ENTRY_CLOSE,
                                       .number = (int)(below(2) ? VERDICT_KEEP : VERDICT_REJECT)};
    for (int i = 0; i < 2; i++)
        fish_apply(&known, &standard, stroke.look, stroke.at_ms, &stroke.entries[i]);
    struct cached_verdict cached = fish_cached_verdict(&known, &standard);
    return stroke_record(ledger, &stroke, &cached, NULL, err);
}

static bool do_undo(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct undoable *undoable;
    struct standard_version version;
    struct round round;
    struct fish known;
    struct bowl bowl;
    size_t count;
    if (!bowl_get(ledger, pick_bowl(ledger), &bowl, err) ||
        !round_get(ledger, bowl.round_id, &round, err) ||
        !standard_named(ledger, round.standard, &version, err) ||
        !undoable_of(ledger, bowl.round_id, bowl.id, &undoable, &count, err))
        return false;
    struct stroke stroke = {.judge = judge, .at_ms = clock_now(ledger_clock(ledger)), .look = 1};
    if (count > 0) {
        stroke.fish = undoable[count - 1].fish;
        stroke.undoes = undoable[count - 1].stroke;
    }
    free(undoable);
    if (count == 0 || !fish_load(ledger, stroke.fish, &version.standard, &known, err))
        return false;
    struct cached_verdict cached = fish_cached_verdict(&known, &version.standard);
    return stroke_record(ledger, &stroke, &cached, NULL, err);
}

/* Another bowl of the round that this one is in. */
static int64_t pick_other_bowl(struct ledger *ledger, int64_t bowl)
{
    char sql[256];
    snprintf(sql, sizeof sql,
             "SELECT o.id FROM live_bowl AS b JOIN live_bowl AS o ON o.round = b.round AND o.id <> "
             "b.id WHERE b.id = %" PRId64 " ORDER BY o.id",
             bowl);
    return pick(ledger, sql);
}

static bool do_move(struct ledger *ledger, int64_t judge, struct err *err)
{
    int64_t fish = pick(ledger, "SELECT f.id FROM fish AS f JOIN live_bowl AS b ON b.id = f.bowl "
                                "ORDER BY f.id");
    char sql[96];
    snprintf(sql, sizeof sql, "SELECT bowl FROM fish WHERE id = %" PRId64, fish);
    int64_t from = pick(ledger, sql);
    snprintf(sql, sizeof sql, "SELECT number FROM fish WHERE id = %" PRId64, fish);
    int last, number = (int)pick(ledger, sql);
    return fish != 0 && fish_move(ledger, from, &number, 1, pick_other_bowl(ledger, from), judge,
                                  "wrong bowl", &last, err);
}

static bool do_merge(struct ledger *ledger, int64_t judge, struct err *err)
{
    int64_t from = pick_bowl(ledger);
    return below(4) == 0 && bowl_merge(ledger, from, pick_other_bowl(ledger, from), judge, "", err);
}

static bool do_pass(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct round round;
    struct pass_run run;
    bool recorded;
    if (!round_get(ledger, pick_round(ledger), &round, err) ||
        !pass_run_load(ledger, &round, NULL, &run, err))
        return false;
    bool fine = pass_run_record(ledger, &run, judge, &recorded, err);
    pass_run_done(&run);
    return fine;
}

static bool do_standard(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct standard standard = standards(below(3));
    struct standard_version version;
    enum saved saved;
    (void)judge;
    return standard_save(ledger, &standard, ORIGIN_IMPORTED, &version, &saved, err);
}

static bool do_counts(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct round_counts counts;
    enum saved saved;
    round_counts_init(&counts);
    counts.in.number = below(1000);
    counts.kept.number = below(100);
    int64_t round = pick_round(ledger);
    return round != 0 && round_counts_record(ledger, round, &counts, judge, &saved, err);
}

static bool do_fates(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct fates fates;
    enum saved saved;
    int64_t round = pick_round(ledger);
    if (round == 0 || !reject_fates_get(ledger, round, &fates, err))
        return false;
    fates.fish[1 + below(FATE_COUNT - 1)] = below(50);
    return reject_fates_record(ledger, round, &fates, judge, &saved, err);
}

static bool do_tally(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct tally_mark mark = {.kind = below(2) ? TALLY_KEEP : TALLY_REJECT};
    int64_t round = pick(ledger, "SELECT id FROM live_round WHERE manner <> 'judge' ORDER BY id");
    if (below(5) == 0)
        return round != 0 && tally_undo(ledger, round, judge, NULL, &mark, err);
    return round != 0 && tally_record(ledger, round, judge, &mark, NULL, err);
}

static bool do_first_look(struct ledger *ledger, int64_t judge, struct err *err)
{
    int64_t round = pick_round(ledger);
    if (below(5) == 0)
        return round != 0 && first_look_undo(ledger, round, judge, NULL, err);
    return round != 0 && first_look_record(ledger, round, judge, below(2), NULL, err);
}

static int64_t pick_lot(struct ledger *ledger)
{
    return pick(ledger, "SELECT id FROM live_lot ORDER BY id");
}

static bool do_event(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct lot_event event;
    int64_t lots[2] = {pick_lot(ledger), pick_lot(ledger)}, lot;
    struct lot_event taken;
    lot_event_init(&event);
    snprintf(event.day, sizeof event.day, "2026-07-%02d", 1 + below(28));
    event.lot_id = lots[0];
    event.fish.number = below(300);
    if (lots[0] == 0)
        return false;
    switch (below(6)) {
    case 0:
        event.kind = EVENT_TRANSFER;
        return lot_split(ledger, &event, word("L", 3), judge, &lot, err);
    case 1:
        event.kind = EVENT_TRANSFER;
        return lot_merge(ledger, lots, 2, word("M", 2), &event, judge, &lot, err);
    case 2:
        return lot_undo(ledger, lots[0],
                        pick(ledger, "SELECT id FROM lot_event ORDER BY id DESC LIMIT 3"), judge,
                        &taken, err);
    case 3:
        event.kind = EVENT_DEAD;
        break;
    case 4:
        event.kind = EVENT_MOVE;
        event.fish.number = NOT_COUNTED;
        snprintf(event.pond, sizeof event.pond, "%s", word("pond ", 4));
        break;
    default:
        event.kind = EVENT_COUNT;
    }
    return lot_event_record(ledger, &event, judge, err);
}

static const char *const any_record[RECORD_KIND_COUNT] = {
    "SELECT id FROM judge ORDER BY id",  "SELECT id FROM variety WHERE id > 45 ORDER BY id",
    "SELECT id FROM parent ORDER BY id", "SELECT id FROM spawning ORDER BY id",
    "SELECT id FROM lot ORDER BY id",    "SELECT id FROM round ORDER BY id",
    "SELECT id FROM bowl ORDER BY id",
};

static bool do_retire(struct ledger *ledger, int64_t judge, struct err *err)
{
    enum record_kind kind = (enum record_kind)below(RECORD_KIND_COUNT);
    if (kind >= RECORD_SPAWNING && kind != RECORD_BOWL && below(3) > 0)
        return false; /* else nothing would be left to work on */
    return record_retire(ledger, kind, pick(ledger, any_record[kind]), judge, "a mistake", err);
}

static bool do_bring_back(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct retired_record *retired;
    size_t count;
    bool fine = false;
    if (!retired_list(ledger, &retired, &count, err))
        return false;
    if (count > 0) {
        const struct retired_record *record = &retired[below((int)count)];
        fine = record_bring_back(ledger, record->kind, record->id, judge, "", err);
    }
    free(retired);
    return fine;
}

static bool do_rename(struct ledger *ledger, int64_t judge, struct err *err)
{
    static const struct {
        enum record_kind kind;
        const char *letter;
    } named[] = {
        {RECORD_JUDGE, "J"}, {RECORD_PARENT, "P"}, {RECORD_SPAWNING, "S"}, {RECORD_LOT, "L"}};
    int i = below(4);
    return record_rename(ledger, named[i].kind, pick(ledger, any_record[named[i].kind]),
                         word(named[i].letter, 8), judge, "typed wrong", err);
}

static bool do_judge_is(struct ledger *ledger, int64_t judge, struct err *err)
{
    return judge_is(ledger, pick(ledger, any_record[RECORD_JUDGE]),
                    pick(ledger, any_record[RECORD_JUDGE]), judge, err);
}

static bool do_variety(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct variety variety = {.id = 0};
    enum saved saved;
    snprintf(variety.name, sizeof variety.name, "%s", word("V", 4));
    if (below(2) == 0)
        return variety_save(ledger, &variety, judge, "", &saved, err);
    if (!variety_get(ledger,
                     pick_text(ledger, "SELECT name FROM live_variety WHERE id > 40 "
                                       "ORDER BY id"),
                     &variety, err))
        return false;
    snprintf(variety.name, sizeof variety.name, "%s", word("V", 4));
    return variety_change(ledger, &variety, judge, "", &saved, err);
}

static bool do_station(struct ledger *ledger, int64_t judge, struct err *err)
{
    return station_rename(ledger, word("station ", 5), judge, err);
}

static bool do_decide(struct ledger *ledger, int64_t judge, struct err *err)
{
    struct difference *differences;
    size_t count;
    bool fine = true;
    if (!difference_list(ledger, &differences, &count, err))
        return false;
    if (count > 0) {
        const struct difference *difference = &differences[below((int)count)];
        fine = difference_decide(ledger, difference->said[below(difference->count)].entry, judge,
                                 "decided", err);
    }
    free(differences);
    return fine;
}

typedef bool deed(struct ledger *ledger, int64_t judge, struct err *err);

/* The more often it stands here the more often it is done. */
static deed *const deeds[] = {
    do_parent,
    do_bowl,
    do_bowl,
    do_bowl,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_parent,
    do_bowl,
    do_bowl,
    do_bowl,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_parent_change,
    do_parent_change,
    do_spawning,
    do_spawning,
    do_spawning_change,
    do_spawning_change,
    do_round,
    do_round,
    do_round_change,
    do_round_change,
    do_bowl,
    do_bowl,
    do_bowl,
    do_bowl_change,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_fish,
    do_undo,
    do_move,
    do_move,
    do_merge,
    do_pass,
    do_standard,
    do_counts,
    do_fates,
    do_tally,
    do_tally,
    do_first_look,
    do_event,
    do_event,
    do_event,
    do_retire,
    do_retire,
    do_bring_back,
    do_bring_back,
    do_rename,
    do_rename,
    do_judge_is,
    do_variety,
    do_station,
    do_decide,
};
enum { DEEDS = sizeof deeds / sizeof *deeds };

static int64_t done[DEEDS], refused[DEEDS];

static void live(struct ledger *ledger, int64_t *now, int count)
{
    for (int i = 0; i < count; i++) {
        struct err err = {0};
        int64_t judge = 0;
        int which = below(DEEDS);
        *now += below(3) == 0 ? 0 : below(5000);
        if (below(40) == 0)
            *now -= below(100000); /* a clock that is set back */
        if (!judge_named(ledger, below(3) == 0 ? "" : word("J", 4), &judge, &err))
            give_up("judge", &err);
        bool fine = deeds[which](ledger, judge, &err);
        (fine ? done : refused)[which]++;
        if (!fine && err.code != ERR_NONE && err.code != ERR_INPUT && err.code != ERR_ABSENT) {
            fprintf(stderr, "deed %d: ", which);
            give_up("refused otherwise than by a rule", &err);
        }
    }
}

/* What is in a ledger, as one text. */

static void dump_rows(struct ledger *ledger, const char *name, const char *sql, struct text *out)
{
    sqlite3_stmt *statement;
    if (sqlite3_prepare_v2(ledger->db, sql, -1, &statement, NULL) != SQLITE_OK) {
        fprintf(stderr, "%s: %s\n", sql, sqlite3_errmsg(ledger->db));
        abort();
    }
    while (sqlite3_step(statement) == SQLITE_ROW) {
        text_addf(out, "%s", name);
        for (int i = 0; i < sqlite3_column_count(statement); i++) {
            const char *value = (const char *)sqlite3_column_text(statement, i);
            text_addf(out, "|%s=%s", sqlite3_column_name(statement, i),
                      value == NULL ? "NULL" : value);
        }
        text_add(out, "\n");
    }
    sqlite3_finalize(statement);
}

/* All tables, but for what belongs to a file: where its station lies, its cursors, its layout. What
 * is derived of fish that are retired is worked out when they come back. */
static void dump(struct ledger *ledger, struct text *out)
{
    static const char *const whole[] = {"judge",         "variety",
                                        "parent",        "spawning",
                                        "spawning_sire", "lot",
                                        "lot_source",    "standard_version",
                                        "standard_item", "stroke",
                                        "pass",          "decision",
                                        "round_count",   "scoop",
                                        "tally_stroke",  "first_look_stroke",
                                        "lot_event",     "audit_log",
                                        "reject_fate",   "live_round",
                                        "live_bowl",     "decision_reason"};
    char sql[256];
    struct err err = {0};
    typedef bool exporter(struct ledger *, struct text *, struct err *);
    static exporter *const exporters[] = {export_varieties, export_parents, export_spawnings,
                                          export_rounds, export_lots};
    struct export_filter all = {.stage = -1};
    for (size_t i = 0; i < sizeof whole / sizeof *whole; i++) {
        snprintf(sql, sizeof sql, "SELECT * FROM %s ORDER BY 1, 2", whole[i]);
        dump_rows(ledger, whole[i], sql, out);
    }
    dump_rows(ledger, "station",
              "SELECT number, hex(identity), name, born_ms, serial FROM station WHERE serial > 0 "
              "ORDER BY number",
              out);
    dump_rows(ledger, "round",
              "SELECT id, lot, stage, manner, waiting, fate, places, expected, "
              "standard, twin, retired_ms FROM round ORDER BY id",
              out);
    dump_rows(ledger, "bowl",
              "SELECT id, round, number, expected, day, retired_ms FROM bowl "
              "ORDER BY id",
              out);
    dump_rows(ledger, "fish", "SELECT f.id, f.bowl, f.number FROM fish AS f ORDER BY f.id", out);
    dump_rows(ledger, "live_fish",
              "SELECT f.* FROM fish AS f JOIN live_bowl AS b ON b.id = f.bowl "
              "ORDER BY f.id",
              out);
    for (size_t i = 0; i < sizeof exporters / sizeof *exporters; i++)
        if (!exporters[i](ledger, out, &err))
            give_up("export", &err);
    if (!export_fish(ledger, &all, out, &err))
        give_up("export fish", &err);
    struct standard_version *versions;
    size_t count;
    if (!standard_list(ledger, &versions, &count, &err))
        give_up("standards", &err);
    for (size_t i = 0; i < count; i++)
        if (!export_standard(ledger, versions[i].standard.name, out, &err))
            give_up("export standard", &err);
    free(versions);
    struct difference *differences;
    if (!difference_list(ledger, &differences, &count, &err))
        give_up("differences", &err);
    for (size_t i = 0; i < count; i++)
        text_addf(out, "difference %s %s: %s, %s\n", differences[i].title, differences[i].field,
                  differences[i].said[0].value, differences[i].said[1].value);
    free(differences);
    char **clashes;
    if (!clash_list(ledger, &clashes, &count, &err))
        give_up("clashes", &err);
    for (size_t i = 0; i < count; i++)
        text_addf(out, "%s\n", clashes[i]);
    clashes_free(clashes, count);
}

/* Joins. */

static int64_t joins, rows, differing, told_apart;

static void join(struct ledger *ledger, const char *other, bool preview)
{
    struct join report = {.rows = 0};
    struct err err = {0};
    if (!ledger_join(ledger, other, preview, &report, &err))
        give_up("join", &err);
    joins++;
    rows += report.rows;
    differing += (int64_t)report.difference_count;
    told_apart += (int64_t)report.clash_count;
    join_done(&report);
}

/* The ledgers of an order, each joined to the first of them, which is copied. */
static char *joined(const char *const *names, int count, bool twice)
{
    struct text out;
    copy_file(at(names[0]), at("work.db"));
    struct ledger *ledger = open_ledger(at("work.db"), &clocks[STATIONS]);
    for (int round = 0; round < 1 + twice; round++)
        for (int i = 1; i < count; i++)
            join(ledger, at(names[i]), false);
    text_init(&out);
    dump(ledger, &out);
    ledger_close(ledger);
    unlink(at("work.db"));
    return out.data;
}

static void same(const char *what, const char *expected, char *got, uint64_t seed)
{
    if (strcmp(expected, got) != 0) {
        const char *a = expected, *b = got;
        while (*a == *b)
            a++, b++;
        while (a > expected && a[-1] != '\n')
            a--, b--;
        fprintf(stderr, "history %" PRIu64 ", %s: the joined ledgers differ:\n%.*s\n%.*s\n", seed,
                what, (int)strcspn(a, "\n"), a, (int)strcspn(b, "\n"), b);
        exit(1);
    }
    free(got);
}

/* Joined with a copy of itself a ledger stays what it is: the log knows whatever was changed. */
static void stays_itself(const char *name, uint64_t seed)
{
    static const char *const records[] = {
        "SELECT id, name, retired_ms FROM judge ORDER BY id",
        "SELECT * FROM variety ORDER BY id",
        "SELECT * FROM parent ORDER BY id",
        "SELECT * FROM spawning ORDER BY id",
        "SELECT * FROM spawning_sire ORDER BY 1, 2",
        "SELECT * FROM lot ORDER BY id",
        "SELECT id, lot, stage, manner, waiting, fate, places, expected, standard, twin, "
        "retired_ms "
        "FROM round ORDER BY id",
        "SELECT id, round, number, expected, day, retired_ms FROM bowl ORDER BY id",
        "SELECT id, bowl, number FROM fish ORDER BY id"};
    struct text before, after;
    text_init(&before);
    text_init(&after);
    copy_file(at(name), at("work.db"));
    struct ledger *ledger = open_ledger(at("work.db"), &clocks[STATIONS]);
    for (size_t i = 0; i < sizeof records / sizeof *records; i++)
        dump_rows(ledger, "record", records[i], &before);
    join(ledger, at(name), false);
    for (size_t i = 0; i < sizeof records / sizeof *records; i++)
        dump_rows(ledger, "record", records[i], &after);
    ledger_close(ledger);
    unlink(at("work.db"));
    same("with itself", before.data, alloc_text(after.data), seed);
    text_done(&before);
    text_done(&after);
}

static void begin(const char *name, int64_t *now)
{
    struct err err = {0};
    struct standard_version version;
    enum saved saved;
    struct standard standard = standards(0);
    struct ledger *ledger = open_ledger(at(name), now);
    if (!standard_save(ledger, &standard, ORIGIN_SHIPPED, &version, &saved, &err))
        give_up("standard", &err);
    snprintf(standard.name, sizeof standard.name, "kikusui-second");
    if (!standard_save(ledger, &standard, ORIGIN_SHIPPED, &version, &saved, &err))
        give_up("standard", &err);
    ledger_close(ledger);
}

static void one_history(uint64_t seed)
{
    static const char *const names[STATIONS] = {"a.db", "b.db", "c.db"};
    static const int orders[][STATIONS] = {{0, 1, 2}, {0, 2, 1}, {1, 0, 2},
                                           {1, 2, 0}, {2, 0, 1}, {2, 1, 0}};
    const int64_t morning = INT64_C(1785052800000);
    bool common = seed % 2 == 0;
    chance = (seed + 1) * UINT64_C(0x9e3779b97f4a7c15);
    for (int i = 0; i <= STATIONS; i++)
        clocks[i] = morning + (i > 0 ? below(3600000) : 0);
    clocks[STATIONS] = morning + INT64_C(86400000);
    if (common) {
        begin("base.db", &clocks[0]);
        struct ledger *base = open_ledger(at("base.db"), &clocks[0]);
        live(base, &clocks[0], 80);
        ledger_close(base);
        for (int i = 1; i < STATIONS; i++)
            clocks[i] = clocks[0] + below(100000) - 50000;
    }
    for (int i = 0; i < STATIONS; i++) {
        if (common)
            copy_file(at("base.db"), at(names[i]));
        else
            begin(names[i], &clocks[i]);
        struct ledger *ledger = open_ledger(at(names[i]), &clocks[i]);
        live(ledger, &clocks[i], common ? 50 : 90);
        if (i == 0) { /* which has met no other */
            ledger_close(ledger);
            stays_itself(names[i], seed);
            ledger = open_ledger(at(names[i]), &clocks[i]);
        }
        if (i > 0 && below(3) == 0) {
            join(ledger, at(names[below(i)]), false);
            live(ledger, &clocks[i], 30);
        }
        ledger_close(ledger);
    }
    for (int i = 0; i < STATIONS; i++) { /* each pair, both ways, once and twice */
        const char *pair[] = {names[i], names[(i + 1) % STATIONS]};
        const char *turned[] = {pair[1], pair[0]};
        char *expected = joined(pair, 2, false);
        same("twice", expected, joined(pair, 2, true), seed);
        same("the other way", expected, joined(turned, 2, false), seed);
        free(expected);
    }
    char *expected = NULL;
    for (size_t i = 0; i < sizeof orders / sizeof *orders; i++) {
        const char *order[STATIONS];
        for (int j = 0; j < STATIONS; j++)
            order[j] = names[orders[i][j]];
        char *got = joined(order, STATIONS, i == 3);
        if (expected == NULL)
            expected = got;
        else
            same("three in another order", expected, got, seed);
    }
    free(expected);
    empty_folder();
}

int main(int argc, char **argv)
{
    int count = argc > 1 ? atoi(argv[1]) : 10;
    int first = argc > 2 ? atoi(argv[2]) : 0;
    const char *base = getenv("TMPDIR");
    snprintf(folder, sizeof folder, "%.200s/joining-XXXXXX", base != NULL ? base : "/tmp");
    if (mkdtemp(folder) == NULL)
        return 1;
    for (int i = 0; i < count; i++)
        one_history((uint64_t)(first + i));
    rmdir(folder);
    printf("%d histories of three stations: %" PRId64 " joins brought %" PRId64
           " rows, listed %" PRId64 " differences and told %" PRId64
           " apart; all orders came to the same\n",
           count, joins, rows, differing, told_apart);
    if (getenv("JOINING_DEEDS") != NULL)
        for (int i = 0; i < DEEDS; i++)
            printf("deed %2d: done %" PRId64 ", refused %" PRId64 "\n", i, done[i], refused[i]);
    return 0;
}
