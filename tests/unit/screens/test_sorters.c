/* Eight programs at one ledger: two in one bowl, two in other bowls of the same round, two at one
 * tally, two in another round; beside them an office that imports, passes, backs up, retires and
 * brings back. Real processes, each with a ledger, an app and screens of its own, without
 * terminals. Nobody is refused, and every key is in the ledger, in its order. How long they wait
 * for one another is measured by tests/bench/sorters.c. */
#include "bench.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/season.h"
#include "senbetsu/store/backup.h"
#include "support/check.h"

#include <sqlite3.h>
#include <sys/wait.h>
#include <unistd.h>

enum { SORTERS = 8, KEYS = 16, FIRST_OF_SECOND = 101 };

static const char first_of_second[] = "spawning,stage,bowl,fish,body\nK1,first,4,101,4\n";
static const char fish[] = "spawning,stage,bowl,fish,body,white\n"
                           "K2,first,1,1,3,3\nK2,first,1,2,3,4\nK2,first,1,3,5,4\n";
static const char other_fish[] = "spawning,stage,bowl,fish,body,white\nK2,first,1,1,4,4\n"
                                 "K2,first,1,2,2,5\nK2,first,1,3,3,3\n";
static const char spawnings[] = "spawning,season,variety\nK2,2026,Plain\nK3,2026,Plain\n"
                                "K4,2026,Plain\n";

struct farm {
    struct bench *bench;
    int64_t bowls[4], tallies[2], k4;
    int ready[2], begin[2]; /* pipes: a byte a sorter whose post is taken; closed when all begin */
};

static int64_t round_of(struct bench *bench, const char *spawning, enum stage stage,
                        enum manner manner)
{
    struct round round;
    struct err err;
    bool is_new;
    assert_ok(
        round_begin_as(bench->small.ledger, spawning, "", stage, manner, &round, &is_new, &err),
        &err);
    return round.id;
}

static int64_t bowl_of(struct bench *bench, int64_t round, int number)
{
    struct bowl bowl;
    struct err err;
    assert_ok(bowl_begin(bench->small.ledger, round, number, 500, "2026-07-18", &bowl, &err), &err);
    return bowl.id;
}

static void stock(struct farm *farm)
{
    struct bench *bench = farm->bench;
    struct spawning k4;
    struct err err;
    bench_import_text(bench, import_spawnings, spawnings);
    int64_t k1 = bench->small.round.id;
    int64_t k3 = round_of(bench, "K3", STAGE_FIRST, MANNER_JUDGE);
    farm->bowls[0] = bowl_of(bench, k1, 4);
    farm->bowls[1] = bowl_of(bench, k1, 2);
    farm->bowls[2] = bowl_of(bench, k1, 3);
    farm->bowls[3] = bowl_of(bench, k3, 1);
    farm->tallies[0] = round_of(bench, "K1", STAGE_BLACK, MANNER_PICK);
    farm->tallies[1] = round_of(bench, "K3", STAGE_BLACK, MANNER_PICK);
    assert_ok(spawning_get(bench->small.ledger, "K4", &k4, &err), &err);
    farm->k4 = k4.id;
}

static bool at_tally(int sorter)
{
    return sorter >= 4 && sorter < 7;
}

static void take_post(struct farm *farm, int sorter)
{
    struct app *app = &farm->bench->app;
    static const int bowls[SORTERS] = {0, 0, 1, 2, 0, 0, 0, 3};
    struct place at = {.bowl_id = farm->bowls[0], .number = FIRST_OF_SECOND};
    if (at_tally(sorter))
        app_open_tally(app, farm->tallies[sorter == 6], false);
    else
        app_open_sheet(app, farm->bowls[bowls[sorter]], sorter == 1 ? &at : NULL);
}

/* A key as it is pressed and as the ledger has it: a fault set or taken away, a fish finished, the
 * one before undone; one rejected, one kept, the one before undone. */
static const char *key_of_turn(int sorter, int turn, char *ret_mark)
{
    static const char *const keys[2][4] = {{"c", "Enter", "c", "-"}, {"n", "+", "+", "-"}};
    static const char marks[2][5] = {"wEwu", "rkku"};
    int kind = at_tally(sorter), at = (turn + sorter) % 4;
    if (turn == 0 && at == 3)
        at = 0; /* there is nothing yet to undo */
    *ret_mark = marks[kind][at];
    return keys[kind][at];
}

/* A program of its own. Returns its exit status. */
static int sort_fish(struct farm *farm, int sorter)
{
    struct bench *bench = farm->bench;
    struct err err;
    char name[8], mark;
    bench->small.ledger = small_ledger_open(&bench->small);
    bench->app = (struct app){.ledger = bench->small.ledger};
    snprintf(name, sizeof name, "J%d", sorter);
    assert_ok(app_find_judge(&bench->app, name, &err), &err);
    app_open_home(&bench->app);
    take_post(farm, sorter);
    close(farm->begin[1]);
    if (write(farm->ready[1], "", 1) != 1 || read(farm->begin[0], &mark, 1) != 0)
        return 1;
    for (int turn = 0; turn < KEYS; turn++) {
        bench_press(bench, key_of_turn(sorter, turn, &mark));
        app_draw(&bench->app, &bench->grid);
        struct text text;
        bench_text(bench, &text);
        if (bench->app.screen_count != 2 || strstr(text.data, "othing was") != NULL) {
            print_error("J%d, key %d:\n%s\n", sorter, turn, text.data);
            return 1;
        }
        text_done(&text);
    }
    app_pop_all(&bench->app);
    ledger_close(bench->small.ledger);
    return 0;
}

/* What slow work there is, once. */

static void pass(struct bench *bench, int64_t round_id)
{
    struct round round;
    struct pass_run run;
    struct err err;
    bool recorded = false;
    assert_ok(round_get(bench->small.ledger, round_id, &round, &err), &err);
    assert_ok(pass_run_load(bench->small.ledger, &round, NULL, &run, &err), &err);
    while (!recorded) {
        assert_ok(pass_run_reload(bench->small.ledger, &run, &err), &err);
        assert_ok(pass_run_record(bench->small.ledger, &run, bench->small.judge, &recorded, &err),
                  &err);
    }
    pass_run_done(&run);
}

static void back_up(struct bench *bench)
{
    char path[128];
    struct err err;
    snprintf(path, sizeof path, "%s/copy.db", bench->small.folder);
    assert_ok(ledger_backup(bench->small.ledger, path, &err), &err);
    assert_int_equal(unlink(path), 0);
}

static void work_in_the_office(struct farm *farm, int turn)
{
    struct bench *bench = farm->bench;
    struct ledger *ledger = bench->small.ledger;
    struct season_book book;
    struct err err;
    bench_import_text(bench, import_fish, turn % 2 == 0 ? other_fish : fish);
    pass(bench, bench->small.round.id);
    back_up(bench);
    assert_ok(record_retire(ledger, RECORD_SPAWNING, farm->k4, 0, "", &err), &err);
    assert_ok(record_bring_back(ledger, RECORD_SPAWNING, farm->k4, 0, "", &err), &err);
    ledger_read_begin(ledger);
    assert_ok(season_book_make(ledger, 2026, NULL, &book, &err), &err);
    ledger_read_end(ledger);
    season_book_done(&book);
}

/* What the ledger has of a judge's keys, in the order in which they were pressed. */
static void recorded(const struct bench *bench, int sorter, char ret_marks[KEYS + 2])
{
    static const char sql[] =
        "SELECT group_concat(mark, '') FROM (SELECT iif(k.undoes IS NOT NULL, 'u', k.mark) AS mark"
        " FROM judge AS j JOIN ("
        " SELECT id, judge, undoes, iif(closes IS NULL, 'w', 'E') AS mark FROM stroke UNION ALL"
        " SELECT id, judge, undoes, iif(kind = 'keep', 'k', 'r') FROM tally_stroke"
        ") AS k ON k.judge = j.id WHERE j.name = 'J' || ? ORDER BY k.id)";
    sqlite3 *db;
    sqlite3_stmt *statement;
    assert_int_equal(sqlite3_open(bench->small.path, &db), SQLITE_OK);
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
        fail_msg("%s", sqlite3_errmsg(db));
    sqlite3_bind_int(statement, 1, sorter);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    const char *marks = (const char *)sqlite3_column_text(statement, 0);
    text_copy(ret_marks, KEYS + 2, marks == NULL ? "" : marks);
    sqlite3_finalize(statement);
    sqlite3_close(db);
}

static void assert_all_there(const struct bench *bench)
{
    for (int sorter = 0; sorter < SORTERS; sorter++) {
        char typed[KEYS + 1] = "", found[KEYS + 2];
        for (int turn = 0; turn < KEYS; turn++)
            (void)key_of_turn(sorter, turn, &typed[turn]);
        recorded(bench, sorter, found);
        assert_string_equal(found, typed);
    }
}

/* No connection is carried into another process. */
static void close_ledger(struct bench *bench)
{
    ledger_close(bench->small.ledger);
    bench->small.ledger = NULL;
}

/* The fish that the second of two begins at in their bowl comes in when the first has it open, or
 * the first would begin there as well. */
static void start_sorters(struct farm *farm)
{
    char byte;
    assert_int_equal(pipe(farm->ready), 0);
    assert_int_equal(pipe(farm->begin), 0);
    for (int sorter = 0; sorter < SORTERS; sorter++) {
        pid_t pid = fork();
        assert_true(pid >= 0);
        if (pid == 0)
            _exit(sort_fish(farm, sorter));
        assert_int_equal(read(farm->ready[0], &byte, 1), 1);
        if (sorter > 0)
            continue;
        farm->bench->small.ledger = small_ledger_open(&farm->bench->small);
        bench_import_text(farm->bench, import_fish, first_of_second);
        close_ledger(farm->bench);
    }
    for (int end = 0; end < 2; end++) {
        close(farm->ready[end]);
        close(farm->begin[end]);
    }
}

static void test_nobody_is_refused_and_every_key_is_there(void **state)
{
    struct farm farm = {.bench = *state};
    struct bench *bench = farm.bench;
    int status, left = SORTERS, failed = 0;
    stock(&farm);
    app_pop_all(&bench->app);
    close_ledger(bench);
    start_sorters(&farm);
    bench->small.ledger = small_ledger_open(&bench->small);
    for (int turn = 0; left > 0; turn++) {
        work_in_the_office(&farm, turn);
        for (pid_t pid; left > 0 && (pid = waitpid(-1, &status, WNOHANG)) > 0; left--)
            failed += !WIFEXITED(status) || WEXITSTATUS(status) != 0;
    }
    assert_int_equal(failed, 0);
    assert_all_there(bench);
    assert_in_order(bench->small.ledger);
    bench->app.ledger = bench->small.ledger;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_nobody_is_refused_and_every_key_is_there,
                                        bench_setup_small, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
