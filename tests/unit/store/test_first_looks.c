#include "bench.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/first_looks.h"
#include "senbetsu/store/judges.h"

static void call(struct bench *bench, int64_t judge, bool good, int times)
{
    struct round round = bench_round(bench);
    for (int i = 0; i < times; i++) {
        bench->now += 1000;
        assert_ok(first_look_record(bench->ledger, round.id, judge, good, NULL, &bench->err),
                  &bench->err);
    }
}

static struct first_look look(struct bench *bench)
{
    struct first_look look;
    assert_ok(first_look_get(bench->ledger, bench_round(bench).id, &look, &bench->err),
              &bench->err);
    return look;
}

static void nothing_was_looked_at(void **state)
{
    struct first_look found = look(*state);
    assert_int_equal(found.looked_at, 0);
    assert_string_equal(found.first_day, "");
}

/* The order of the fish is theirs, whoever called them: the rule goes by dishes. */
static void fish_add_up_in_their_order(void **state)
{
    struct bench *bench = *state;
    int64_t ines;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    call(bench, ines, true, 4);
    call(bench, 0, false, 16);
    call(bench, ines, true, 2);
    bench->now += INT64_C(24) * 60 * 60 * 1000;
    call(bench, 0, false, 1);
    struct first_look found = look(bench);
    assert_int_equal(found.looked_at, 23);
    assert_int_equal(found.good, 6);
    assert_int_equal(found.good_in_dish[0], 4);
    assert_int_equal(found.good_in_dish[1], 2);
    assert_int_equal(strlen(found.first_day), 10);
    assert_true(strcmp(found.first_day, found.last_day) < 0);
}

/* A judge takes back only his own fish, from the last one back; a row is never lost. */
static void undo_is_ones_own(void **state)
{
    struct bench *bench = *state;
    int64_t ines, round = bench_round(bench).id;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    call(bench, ines, true, 1);
    call(bench, ines, false, 1);
    call(bench, 0, true, 1);
    assert_ok(first_look_undo(bench->ledger, round, ines, NULL, &bench->err), &bench->err);
    assert_int_equal(look(bench).looked_at, 2);
    assert_int_equal(look(bench).good, 2);
    assert_ok(first_look_undo(bench->ledger, round, ines, NULL, &bench->err), &bench->err);
    assert_int_equal(look(bench).good, 1);
    assert_says(first_look_undo(bench->ledger, round, ines, NULL, &bench->err), &bench->err,
                "no key of yours left");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM first_look_stroke"), 5);
}

/* What is on the disk after a key comes back with the place. */
static void a_key_writes_the_place(void **state)
{
    struct bench *bench = *state;
    struct place place = {.round_id = bench_round(bench).id, .number = 2, .in_sheet = true};
    assert_ok(first_look_record(bench->ledger, place.round_id, 0, true, &place, &bench->err),
              &bench->err);
    bench_close(bench);
    bench_open(bench);
    struct place found = {.round_id = 0};
    assert_ok(place_get(bench->ledger, 0, &found, &bench->err), &bench->err);
    assert_int_equal(found.round_id, place.round_id);
    assert_int_equal(found.number, 2);
    assert_true(found.in_sheet);
    assert_int_equal(look(bench).good, 1);
}

static void count_finding(void *context, const char *sentence)
{
    int *found = context;
    *found += strstr(sentence, "The first look of lot K1, stage second: a key takes back") != NULL;
}

static void check_names_an_undo_that_cannot_be(void **state)
{
    struct bench *bench = *state;
    int found = 0, findings;
    call(bench, 0, true, 1);
    assert_ok(first_look_undo(bench->ledger, bench_round(bench).id, 0, NULL, &bench->err),
              &bench->err);
    assert_ok(ledger_check(bench->ledger, count_finding, &found, &findings, &bench->err),
              &bench->err);
    assert_int_equal(findings, 0);
    bench_do(bench, "INSERT INTO first_look_stroke (id, round, at_ms, undoes) SELECT id + 1, round,"
                    " at_ms, id FROM first_look_stroke WHERE undoes IS NOT NULL");
    assert_ok(ledger_check(bench->ledger, count_finding, &found, &findings, &bench->err),
              &bench->err);
    assert_int_equal(findings, 1);
    assert_int_equal(found, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(nothing_was_looked_at),
        on_stocked_bench(fish_add_up_in_their_order),
        on_stocked_bench(undo_is_ones_own),
        on_stocked_bench(a_key_writes_the_place),
        on_stocked_bench(check_names_an_undo_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
