#include "senbetsu/report/lots.h"

#include "bench.h"
#include "senbetsu/store/round_counts.h"

static void add_spawning(struct bench *bench, const char *code, int season, int64_t hatched)
{
    struct spawning spawning = {.season = season, .eggs = NOT_COUNTED, .hatched = hatched};
    enum saved saved;
    snprintf(spawning.code, sizeof spawning.code, "%s", code);
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
}

static void begin(struct bench *bench, const char *spawnings, const char *lot)
{
    struct round round;
    bool is_new;
    assert_ok(round_begin_as(bench->ledger, spawnings, lot, STAGE_FIRST, MANNER_PICK, &round,
                             &is_new, &bench->err),
              &bench->err);
}

static void lots_stand_in_order(void **state)
{
    static const char *const order[] = {"over", "A9", "K1", "east", "west", "B1"};
    struct bench *bench = *state;
    struct lot_line *lines;
    size_t count;
    add_spawning(bench, "B1", 2025, 40000);
    add_spawning(bench, "A9", 2026, NOT_COUNTED);
    begin(bench, "K1", "west");
    begin(bench, "K1", "east");
    begin(bench, "K1;B1", "over");
    assert_ok(lot_lines_list(bench->ledger, &lines, &count, &bench->err), &bench->err);
    assert_int_equal(count, 6);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(lines[i].of.lot, order[i]);
    assert_string_equal(lines[0].of.spawnings, "B1;K1");
    assert_int_equal(lines[5].book.now.number, 40000);
    assert_int_equal(lines[5].book.base, BOOK_FRY);
    assert_int_equal(lines[3].book.base, BOOK_NOTHING);
    lot_lines_free(lines, count);
}

static void record(struct bench *bench, const char *day, enum lot_event_kind kind, int64_t fish)
{
    struct lot_event event;
    lot_event_init(&event);
    assert_ok(lot_begin(bench->ledger, "K1", "", &event.lot_id, &bench->err), &bench->err);
    event.kind = kind;
    event.fish = (struct count){fish, METHOD_WEIGHED, 50000};
    snprintf(event.day, sizeof event.day, "%s", day);
    assert_ok(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err);
}

static void cull(struct bench *bench, enum stage stage, const char *day, int64_t kept)
{
    struct round round;
    struct round_counts said;
    enum saved saved;
    round_counts_init(&said);
    said.kept = (struct count){kept, METHOD_COUNTED, 0};
    snprintf(said.day, sizeof said.day, "%s", day);
    assert_ok(round_begin(bench->ledger, "K1", "", stage, &round, &bench->err), &bench->err);
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
}

static void assert_expected(struct bench *bench, int64_t number, enum method method, int cv)
{
    struct count expected;
    assert_ok(lot_book_before(bench->ledger, bench_round(bench).id, &expected, &bench->err),
              &bench->err);
    assert_int_equal(expected.number, number);
    if (number == NOT_COUNTED)
        return;
    assert_int_equal(expected.method, method);
    assert_int_equal(expected.cv, cv);
}

/* The second cull has not begun; the clock says 2026-07-26. What is left of the first cull is an
 * estimate, what was counted since is as good as it was counted. */
static void what_is_expected_in_a_round(void **state)
{
    struct bench *bench = *state;
    assert_expected(bench, NOT_COUNTED, METHOD_UNSAID, 0);
    cull(bench, STAGE_FIRST, "2026-07-01", 2000);
    record(bench, "2026-07-05", EVENT_DEAD, 60);
    assert_expected(bench, 1940, METHOD_ESTIMATED, 0);
    record(bench, "2026-07-20", EVENT_COUNT, 1800);
    assert_expected(bench, 1800, METHOD_WEIGHED, 50000);
    record(bench, "2026-07-26", EVENT_DEAD, 100); /* on that day the cull comes first */
    assert_expected(bench, 1800, METHOD_WEIGHED, 50000);
    record(bench, "2026-07-25", EVENT_LOST, 1900);
    assert_expected(bench, NOT_COUNTED, METHOD_UNSAID, 0);
}

/* What happened after it does not matter to a round, nor what it kept. */
static void what_was_expected_in_a_round(void **state)
{
    struct bench *bench = *state;
    cull(bench, STAGE_FIRST, "2026-07-01", 2000);
    cull(bench, STAGE_SECOND, "2026-07-20", 500);
    record(bench, "2026-07-21", EVENT_DEAD, 3);
    assert_expected(bench, 2000, METHOD_ESTIMATED, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(lots_stand_in_order),
        on_stocked_bench(what_is_expected_in_a_round),
        on_stocked_bench(what_was_expected_in_a_round),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
