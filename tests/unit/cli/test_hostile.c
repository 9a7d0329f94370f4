/* A ledger that something else has written to. Each value of each row of one small ledger takes
 * each of a list of nasty values in turn, past every CHECK, NOT NULL and STRICT, and every command
 * and question that reads must come back: with an answer, or with one whole sentence. */
#include "private.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/store/check.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/passes.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"
#include "support/small_ledger.h"

#include <sqlite3.h>

static struct small_ledger *small;
static sqlite3 *tamperer;
static int asked, refused, written, kept_out;

static void run_sql(sqlite3 *db, const char *sql)
{
    char *message = NULL;
    if (sqlite3_exec(db, sql, NULL, NULL, &message) != SQLITE_OK)
        fail_msg("%s: %s", sql, message);
    sqlite3_free(message);
}

static void tamper(const char *sql)
{
    run_sql(tamperer, sql);
}

/* A connection that knows the tables without their constraints: it read the schema while these were
 * not in it, and nobody tells it that they are back. */
static void open_tamperer(const char *path)
{
    sqlite3 *schema;
    assert_int_equal(sqlite3_open(path, &schema), SQLITE_OK);
    sqlite3_db_config(schema, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
    run_sql(schema, "PRAGMA writable_schema = ON;"
                    "CREATE TEMP TABLE kept AS SELECT name, sql FROM sqlite_schema;"
                    "UPDATE sqlite_schema SET sql = replace(replace(replace(replace(sql,"
                    " ' STRICT, WITHOUT', ' WITHOUT'), ' STRICT', ''),"
                    " ' INTEGER NOT NULL', ' INTEGER'), ' TEXT NOT NULL', ' TEXT')"
                    " WHERE type = 'table' AND name NOT LIKE 'sqlite_%'");
    assert_int_equal(sqlite3_open(path, &tamperer), SQLITE_OK);
    sqlite3_db_config(tamperer, SQLITE_DBCONFIG_ENABLE_FKEY, 0, NULL);
    sqlite3_db_config(tamperer, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    tamper("PRAGMA ignore_check_constraints = ON; PRAGMA synchronous = OFF;"
           "SELECT count(*) FROM station");
    run_sql(schema, "UPDATE sqlite_schema AS s SET sql = (SELECT k.sql FROM kept AS k"
                    " WHERE k.name = s.name)");
    sqlite3_close(schema);
}

static void import(bool (*take)(struct import *import, struct err *err), const char *file)
{
    struct err err;
    struct text bytes;
    struct import import = {.ledger = small->ledger, .file = "file", .bytes = &bytes};
    text_init(&bytes);
    text_add(&bytes, file);
    assert_ok(transaction_begin(small->ledger, &err), &err);
    assert_ok(take(&import, &err), &err);
    assert_ok(transaction_commit(small->ledger, &err), &err);
    text_done(&bytes);
}

/* Two lines of parents, three spawnings, lots split and merged, rounds of each manner. */
static void fill_with_files(void)
{
    import(import_parents, "parent,sex,variety,born,dam,sire,note,state,since\n"
                           "G1,f,Plain,2012,,,old,,\nG2,m,Plain,2013,,,,sold,2024-01-01\n"
                           "D1,f,Plain,2018,G1,G2,,available,\nS1,m,Plain,2017,G1,,,resting,\n"
                           "S2,m,,,,,,,\nX1,,,,,,,,\n");
    import(import_spawnings, "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n"
                             "K1,2026,2026-06-14,Plain,D1,S1,single,100000,80000,\n"
                             "K2,2026,2026-06-15,Plain,D1,S1;S2,pooled,90000,70000,two\n"
                             "K3,2025,2025-06-15,Plain,G1,G2,single,90000,,\n"
                             "K4,2025,2025-06-16,Plain,G1,S1,single,90000,50000,\n");
    import(import_rounds,
           "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,rejected,dead,"
           "note\n"
           "K2,,black,2026-07-01,pick,60000,scooped,0.05,20000,counted,,,50,\n"
           "K2,,first,2026-07-10,remove,19000,counted,,9000,counted,,9900,,a note\n"
           "K3,,black,2025-07-01,pick,50000,weighed,0.1,12000,counted,,,50,\n"
           "K4,,black,2025-07-03,pick,40000,counted,,9000,counted,,,50,\n");
    import(import_lots,
           "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
           "K1,,2026-07-02,move,,,,,,Lower 2,\nK1,,2026-07-03,transfer,500,counted,,K1,west,,\n"
           "K2,,2026-07-03,dead,41,counted,,,,,hot\nK1,west,2026-07-19,transfer,,,,K1;K2,both,,\n"
           "K2,,2026-07-20,transfer,100,weighed,0.1,K1;K2,both,,\n");
    import(import_fish, "spawning,stage,bowl,fish,judge,date,length_mm,tag,faults,body,white\n"
                        "K1,first,1,1,Ines,2026-07-18,120,999000000000001,,4,5\n"
                        "K1,first,1,2,Ines,2026-07-18,,,spine,4,5\n"
                        "K1,first,1,3,Ines,2026-07-18,,,,2,3\n"
                        "K1,first,2,1,Jan,2026-07-18,,,eye,2,3\n"
                        "K1,first,2,2,Jan,2026-07-18,,,,5,5\n"
                        "K1,first,2,3,Jan,2026-07-18,,,,,5\n");
}

/* Rows of every other kind, keys that were taken back among them. */
static void fill_with_keys(void)
{
    struct err err;
    struct round tally;
    struct scoop scoop;
    struct tally_mark mark = {.kind = TALLY_KEEP};
    struct lot_event event;
    int64_t samples[] = {31, 35, 30}, lot;
    struct fates fates = {.fish = {[FATE_POND_GRADE] = 20, [FATE_PUT_DOWN] = 5}};
    struct place place = {.judge = small->judge, .round_id = small->round.id, .number = 2};
    struct pass pass = {.round_id = small->round.id,
                        .standard_version = small->standard.id,
                        .places = 1,
                        .unit = 1200,
                        .at_ms = small->now};
    struct decision_reason reason = {"score", "score"};
    struct pass_decision decided[3] = {0};
    struct pass_decisions decisions = {&reason, 1, decided, 3};
    struct fish *fish;
    size_t count;
    place.bowl_id = small->bowl.id;
    assert_ok(round_find(small->ledger, "K2", "", STAGE_BLACK, &tally, &err), &err);
    assert_true(scoop_measure(samples, 3, &scoop));
    assert_ok(scoop_save(small->ledger, tally.id, small->judge, &scoop, &place, &err), &err);
    mark.scoop = scoop;
    for (int i = 0; i < 3; i++)
        assert_ok(tally_record(small->ledger, tally.id, small->judge, &mark, NULL, &err), &err);
    mark = (struct tally_mark){.kind = TALLY_REJECT, .reason = "spine"};
    assert_ok(tally_record(small->ledger, tally.id, small->judge, &mark, NULL, &err), &err);
    assert_ok(tally_undo(small->ledger, tally.id, small->judge, NULL, &mark, &err), &err);
    for (int i = 0; i < 4; i++)
        assert_ok(first_look_record(small->ledger, tally.id, small->judge, i % 2 == 0, NULL, &err),
                  &err);
    assert_ok(first_look_undo(small->ledger, tally.id, small->judge, NULL, &err), &err);
    enum saved saved;
    assert_ok(reject_fates_record(small->ledger, tally.id, &fates, 0, &saved, &err), &err);
    assert_ok(lot_begin(small->ledger, "K2", "", &lot, &err), &err);
    assert_ok(lot_last_event(small->ledger, lot, &event, &err), &err);
    assert_ok(lot_undo(small->ledger, lot, event.id, 0, &event, &err), &err);
    assert_ok(
        fish_of_bowl(small->ledger, small->bowl.id, &small->standard.standard, &fish, &count, &err),
        &err);
    for (size_t i = 0; i < 3 && i < count; i++)
        decided[i] = (struct pass_decision){
            .fish = fish[i].id, .verdict = VERDICT_KEEP, .score = 1000, .rank = 1};
    assert_ok(pass_record(small->ledger, &pass, &decisions, &err), &err);
    free(fish);
    tamper("INSERT INTO stroke (id, fish, look, seq, checking, correction, at_ms, undoes)"
           " SELECT 1 + max(id), fish, look, seq + 1, 0, 0, at_ms, id FROM stroke;"
           "INSERT INTO stroke (id, fish, judge, look, seq, checking, correction, at_ms, verdict,"
           " reason, note, closes) SELECT 1 + max(id), 1 + fish - 1, judge, 2, 1, 0, 1, at_ms,"
           " 'hold', 'why', 'a note', 'places' FROM stroke;"
           "INSERT INTO judge (id, name, same_as, retired_ms) SELECT id + 1000, 'Inse', id,"
           " 1784376000000 FROM judge WHERE name = 'Ines';"
           "UPDATE stroke SET checking = 1 WHERE id = (SELECT min(id) FROM stroke)");
    struct parent parent;
    assert_ok(parent_get(small->ledger, "X1", &parent, &err), &err);
    assert_ok(record_retire(small->ledger, RECORD_PARENT, parent.id, 0, "why", &err), &err);
}

/* What reads. Each returns false with a sentence or true. */

static bool run_line(const char *line, struct err *err)
{
    char words[256];
    const char *parts[16];
    int count = 0;
    struct options options;
    struct session session;
    snprintf(words, sizeof words, "%s", line);
    for (char *word = strtok(words, " "); word != NULL; word = strtok(NULL, " "))
        parts[count++] = word;
    assert_ok(options_parse(count, parts, &options, err), err);
    const struct command *command = command_find(options.command, err);
    assert_non_null(command);
    assert_ok(command_check(command, &options, err), err);
    session_init(&session, &options);
    session.ledger = small->ledger;
    bool done = command->run(&session, err);
    session.ledger = NULL;
    session_done(&session);
    return done;
}

static const char *const lines[] = {
    "export varieties",
    "export parents",
    "export spawnings",
    "export rounds",
    "export lots",
    "export fish",
    "export standard plain-first",
    "list --date 2026-07-18",
    "list --spawning K1 --stage first",
    "list --spawning K1 --stage first --csv",
    "day --date 2026-07-18",
    "day --date 2026-07-18 --csv",
    "due --date 2026-07-18 --days 60",
    "rates --by spawning",
    "rates --by variety --csv",
    "rates --by pair",
    "compare G1+G2 G1+S1",
    "pairs",
    "pairs --csv",
    "effects",
    "season --season 2026",
    "season --season 2025 --csv",
    "kin D1 S1",
    "pass --spawning K1 --stage first --dry-run",
    "pass --spawning K1 --stage first --places 2 --dry-run",
};

/* What the screens ask of a round. */
static bool ask_round(int64_t id, struct err *err)
{
    struct tally_totals totals;
    struct tally_mark mark;
    struct tally_pace pace;
    struct first_look look;
    struct fates fates;
    struct scoop scoop = {.id = 0};
    struct bowl *bowls;
    struct judge *judges;
    struct undoable *undoables;
    int64_t *closings;
    size_t count;
    struct err none;
    tally_last(small->ledger, id, small->judge, &mark, &none);
    if (undoable_of(small->ledger, id, 0, &undoables, &count, &none))
        free(undoables);
    if (bowl_list(small->ledger, id, &bowls, &count, &none))
        free(bowls);
    if (judges_of_round(small->ledger, id, &judges, &count, &none))
        free(judges);
    if (closings_of(small->ledger, id, small->judge, 0, &closings, &count, &none))
        free(closings);
    if (!tally_totals(small->ledger, id, &totals, err) ||
        !tally_pace_of(small->ledger, id, small->judge, 0, &pace, err) ||
        !first_look_get(small->ledger, id, &look, err) ||
        !reject_fates_get(small->ledger, id, &fates, err) ||
        !scoop_latest(small->ledger, id, small->judge, &scoop, err))
        return false;
    return scoop.id == 0 || scoop_fish(&scoop, 7) + scoop_cv(&scoop) >= 0;
}

static bool ask_rounds(struct err *err)
{
    struct counted_round *rounds;
    size_t count;
    bool fine = true;
    if (!counted_round_list(small->ledger, NULL, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = ask_round(rounds[i].round.id, err);
    free(rounds);
    return fine;
}

static bool ask_histories(struct err *err)
{
    struct retired_record *retired;
    struct record_change *changes;
    struct record_title title;
    size_t count;
    if (!retired_list(small->ledger, &retired, &count, err))
        return false;
    free(retired);
    if (!record_history(small->ledger, RECORD_ROUND, small->round.id, &changes, &count, err))
        return false;
    free(changes);
    return record_title(small->ledger, RECORD_LOT, small->round.lot_id, &title, err);
}

static bool ask_places(struct err *err)
{
    struct place place;
    struct tag_bearer bearer;
    struct judge *judges;
    size_t count;
    if (!judge_list(small->ledger, &judges, &count, err))
        return false;
    free(judges);
    return place_get(small->ledger, -1, &place, err) &&
           tag_bearer_get(small->ledger, small->round.id, "999000000000001", &bearer, err);
}

/* A key is recorded, and taken back with all that it wrote. */
static bool press_key(struct err *err)
{
    struct tally_mark mark = {.kind = TALLY_KEEP};
    struct place place = {.round_id = small->round.id, .number = 1};
    if (!transaction_begin(small->ledger, err))
        return false;
    bool done = tally_record(small->ledger, small->round.id, 0, &mark, &place, err);
    transaction_rollback(small->ledger);
    return done;
}

static void hear(void *context, const struct finding *finding)
{
    assert_true(finding->lines[0] != '\0' && finding->means[0] != '\0');
    (void)context;
}

static bool check(struct err *err)
{
    struct check_result result;
    struct check_listener listener = {.found = hear};
    return ledger_check(small->ledger, &listener, &result, err) &&
           ledger_repair(small->ledger, &listener, &result, err);
}

static bool (*const questions[])(struct err *err) = {ask_rounds, ask_histories, ask_places,
                                                     press_key, check};

static void assert_sentence(bool done, const struct err *err, const char *what, const char *by)
{
    asked++;
    if (done)
        return;
    refused++;
    size_t length = strlen(err->text);
    if (length < 10 || err->text[length - 1] != '.' || strstr(err->text, "rejects this") != NULL)
        fail_msg("%s: %s: %s", what, by, err->text);
    if (getenv("HOSTILE_SHOW") != NULL)
        fprintf(stderr, "%s | %s | %d %s\n", what, by, err->code, err->text);
}

static void ask_everything(const char *what)
{
    struct err err = {0};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        assert_sentence(run_line(lines[i], &err), &err, what, lines[i]);
    for (size_t i = 0; i < sizeof questions / sizeof *questions; i++)
        assert_sentence(questions[i](&err), &err, what, "a question");
}

static bool reopen(struct err *err)
{
    bool made;
    struct ledger_setup setup = {.path = small->path, .clock = clock_fixed(&small->now)};
    ledger_close(small->ledger);
    small->ledger = NULL;
    return ledger_open(&setup, &small->ledger, &made, err);
}

/* Every answer to the sound ledger is one. */
static void assert_all_is_well(void)
{
    int before = refused;
    ask_everything("nothing");
    assert_int_equal(refused, before);
}

static const char *const values[] = {
    "NULL",
    "-9223372036854775808",
    "9223372036854775807",
    "-1",
    "0",
    "1",
    "2147483648",
    "4294967296",
    "''",
    "'x'",
    "'2026-13-45'",
    "1e300",
    "x'80ff00'",
    "CAST(x'61ff62' AS TEXT)",
    "CAST(x'610062' AS TEXT)",
    "CAST(zeroblob(1000000) AS TEXT)",
    "replace(hex(zeroblob(500000)), '0', 'ä')",
};

/* Rows are put back whole: no value says what it took the place of. */
static void put_back(const char *table)
{
    char sql[256];
    snprintf(sql, sizeof sql,
             "BEGIN; DELETE FROM \"%s\"; INSERT INTO \"%s\" SELECT * FROM \"kept_%s\"; COMMIT",
             table, table, table);
    tamper(sql);
}

/* What only opening reads is read by opening. */
static void ask_or_open(const char *table, const char *what)
{
    static const char *const read_at_open[] = {"station", "ledger", "migration", "standard_item"};
    struct err err;
    bool opens = false;
    for (size_t i = 0; i < sizeof read_at_open / sizeof *read_at_open; i++)
        opens = opens || strcmp(table, read_at_open[i]) == 0;
    bool opened = !opens || reopen(&err);
    if (opened)
        ask_everything(what);
    else
        assert_sentence(false, &err, what, "open");
    put_back(table);
    if (opens)
        assert_ok(reopen(&err), &err);
}

/* All of them take minutes: without HOSTILE_ALL in the environment it is one in so many. */
static bool is_left_out(void)
{
    enum { ONE_IN = 197 };
    static int count;
    return getenv("HOSTILE_ALL") == NULL && count++ % ONE_IN != 0;
}

/* In one row of the table, or in all of them. */
static void try_value(const char *table, const char *key, const char *column, const char *value,
                      bool all)
{
    char sql[512], what[256];
    if (is_left_out())
        return;
    snprintf(sql, sizeof sql, "UPDATE \"%s\" SET %s = %s", table, column, value);
    if (!all)
        snprintf(sql + strlen(sql), sizeof sql - strlen(sql),
                 " WHERE (%s) IN (SELECT %s FROM \"%s\" LIMIT 1 OFFSET (SELECT count(*) / 2 FROM"
                 " \"%s\"))",
                 key, key, table, table);
    snprintf(what, sizeof what, "%s.%s = %s%s", table, column, value, all ? ", all" : "");
    if (sqlite3_exec(tamperer, sql, NULL, NULL, NULL) != SQLITE_OK) {
        kept_out++;
        return;
    }
    written++;
    ask_or_open(table, what);
}

/* A list of names that a statement gives; the caller frees each and the list. */
static char **names(const char *sql, const char *table, int *ret_count)
{
    sqlite3_stmt *statement;
    char **list = calloc(64, sizeof *list);
    *ret_count = 0;
    assert_int_equal(sqlite3_prepare_v2(tamperer, sql, -1, &statement, NULL), SQLITE_OK);
    sqlite3_bind_text(statement, 1, table, -1, SQLITE_STATIC);
    while (sqlite3_step(statement) == SQLITE_ROW)
        list[(*ret_count)++] = strdup((const char *)sqlite3_column_text(statement, 0));
    sqlite3_finalize(statement);
    return list;
}

static void free_names(char **list, int count)
{
    for (int i = 0; i < count; i++)
        free(list[i]);
    free(list);
}

static void try_table(const char *table)
{
    int count, keys;
    char sql[256];
    char **columns = names("SELECT name FROM pragma_table_info(?)", table, &count);
    char **key =
        names("SELECT group_concat(name) FROM pragma_table_info(?) WHERE pk > 0", table, &keys);
    snprintf(sql, sizeof sql, "CREATE TEMP TABLE \"kept_%s\" AS SELECT * FROM \"%s\"", table,
             table);
    tamper(sql);
    for (int i = 0; i < count; i++)
        for (size_t k = 0; k < sizeof values / sizeof *values; k++) {
            try_value(table, key[0], columns[i], values[k], false);
            try_value(table, key[0], columns[i], values[k], true);
        }
    snprintf(sql, sizeof sql, "DELETE FROM \"%s\"", table);
    tamper(sql);
    ask_or_open(table, sql);
    free_names(columns, count);
    free_names(key, keys);
}

static int set_up(void **state)
{
    if (small_ledger_setup(state) != 0)
        return -1;
    small = *state;
    open_tamperer(small->path);
    fill_with_files();
    fill_with_keys();
    return 0;
}

static int tear_down(void **state)
{
    sqlite3_close(tamperer);
    return small_ledger_teardown(state);
}

static void nothing_that_a_ledger_holds_is_taken_on_trust(void **state)
{
    (void)state;
    int count;
    const char *only = getenv("HOSTILE_TABLE");
    char **tables = names("SELECT name FROM sqlite_schema WHERE type = ? AND name NOT LIKE"
                          " 'sqlite_%'",
                          "table", &count);
    assert_all_is_well();
    for (int i = 0; i < count; i++)
        if (only == NULL || strcmp(only, tables[i]) == 0)
            try_table(tables[i]);
    assert_all_is_well();
    print_message("%d values written, %d not taken; %d questions, %d refused\n", written, kept_out,
                  asked, refused);
    free_names(tables, count);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(nothing_that_a_ledger_holds_is_taken_on_trust, set_up,
                                        tear_down),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
