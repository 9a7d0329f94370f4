#include "bench.h"

static struct round begin(struct bench *bench, const char *lot, enum stage stage)
{
    struct round round;
    assert_ok(round_begin(bench->ledger, "K1", lot, stage, &round, &bench->err), &bench->err);
    return round;
}

static struct round find(struct bench *bench, const char *lot, enum stage stage)
{
    struct round round;
    assert_ok(round_find(bench->ledger, "K1", lot, stage, &round, &bench->err), &bench->err);
    return round;
}

static void a_round_begins_once(void **state)
{
    struct bench *bench = *state;
    struct round round = begin(bench, "", STAGE_HARVEST);
    assert_int_equal(begin(bench, NULL, STAGE_HARVEST).id, round.id);
    assert_int_equal(begin(bench, "K1", STAGE_HARVEST).id, round.id);
    assert_string_equal(round.spawning, "K1");
    assert_string_equal(round.lot, "K1");
    assert_string_equal(round.variety, "Kikusui");
    assert_true(round.own_lot);
    assert_int_equal(round.season, 2026);
    assert_int_equal(round.stage, STAGE_HARVEST);
    assert_int_equal(round.manner, MANNER_JUDGE);
    assert_int_equal(round.waiting, WAITING_BASIN);
    assert_int_equal(round.fate, FATE_UNDECIDED);
    assert_int_equal(round.places, -1);
    assert_int_equal(round.expected, 0);
    assert_string_equal(round.standard, "");
    assert_says(round_begin(bench->ledger, "K9", "", STAGE_SECOND, &round, &bench->err),
                &bench->err, "There is no spawning K9");
    assert_says(round_begin(bench->ledger, "K1", "a,b", STAGE_SECOND, &round, &bench->err),
                &bench->err, "are not allowed");
}

static void the_lot_that_is_meant_is_found(void **state)
{
    struct bench *bench = *state;
    struct round round;
    int64_t own = find(bench, "", STAGE_SECOND).id;
    int64_t north = begin(bench, "north", STAGE_SECOND).id;
    assert_int_equal(find(bench, "", STAGE_SECOND).id, own);
    assert_int_equal(find(bench, "north", STAGE_SECOND).id, north);

    /* No round of its own lot, but one of another. */
    int64_t only = begin(bench, "north", STAGE_THIRD).id;
    assert_int_equal(find(bench, NULL, STAGE_THIRD).id, only);
    begin(bench, "south", STAGE_THIRD);
    assert_says(round_find(bench->ledger, "K1", "", STAGE_THIRD, &round, &bench->err), &bench->err,
                "say which: north or south.");
    assert_int_equal(bench->err.code, ERR_ABSENT);

    assert_says(round_find(bench->ledger, "K1", "", STAGE_HOUSE, &round, &bench->err), &bench->err,
                "Spawning K1 has no round at stage house.");
    assert_says(round_find(bench->ledger, "K1", "east", STAGE_THIRD, &round, &bench->err),
                &bench->err, "Lot east of spawning K1 has no round at stage third.");
    assert_says(round_find(bench->ledger, "K9", "", STAGE_THIRD, &round, &bench->err), &bench->err,
                "There is no spawning K9");
}

static void a_lots_code_belongs_to_its_spawning(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct round other;
    struct spawning second = {.code = "K2", .season = 2026, .eggs = NOT_COUNTED};
    second.hatched = NOT_COUNTED;
    assert_ok(spawning_save(bench->ledger, &second, 0, "", &saved, &bench->err), &bench->err);
    int64_t north = begin(bench, "north", STAGE_SECOND).id;
    assert_ok(round_begin(bench->ledger, "K2", "north", STAGE_SECOND, &other, &bench->err),
              &bench->err);
    assert_int_not_equal(other.id, north);
    assert_int_equal(find(bench, "north", STAGE_SECOND).id, north);
}

static void changes_of_a_round_leave_their_history(void **state)
{
    struct bench *bench = *state;
    struct round read;
    struct round round = find(bench, "", STAGE_SECOND);
    int64_t before = bench_ask(bench, "SELECT count(*) FROM audit_log");
    round.waiting = WAITING_CELL;
    round.fate = FATE_PASSED_ON;
    round.places = 0;
    round.expected = 60;
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    assert_ok(round_get(bench->ledger, round.id, &read, &bench->err), &bench->err);
    assert_int_equal(read.waiting, WAITING_CELL);
    assert_int_equal(read.fate, FATE_PASSED_ON);
    assert_int_equal(read.places, 0);
    assert_int_equal(read.expected, 60);
    assert_string_equal(read.standard, "kikusui-second");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM audit_log") - before, 4);
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM audit_log") - before, 4);
    snprintf(round.standard, sizeof round.standard, "none");
    assert_says(round_save(bench->ledger, &round, 0, &bench->err), &bench->err,
                "There is no standard none");
}

static void judge_two_bowls(struct bench *bench)
{
    bench_stroke(bench, bench_fish(bench, 2, 1), 1, bench_fault("spine", 1));
    bench_stroke(bench, bench_fish(bench, 1, 1), 1, bench_score("white", 4));
    bench_stroke(bench, bench_fish(bench, 1, 1), 1, bench_score("body", 4));
    bench_stroke(bench, bench_fish(bench, 1, 2), 1, bench_score("body", 4));
    bench_fish(bench, 1, 3);
}

static void rounds_are_listed_in_the_order_of_the_season(void **state)
{
    static const enum stage stages[] = {STAGE_BLACK, STAGE_SECOND, STAGE_HARVEST};
    struct bench *bench = *state;
    struct round *rounds = NULL;
    size_t count;
    begin(bench, "", STAGE_HARVEST);
    begin(bench, "", STAGE_BLACK);
    assert_ok(round_list(bench->ledger, "K1", &rounds, &count, &bench->err), &bench->err);
    assert_int_equal(count, 3);
    for (size_t i = 0; i < count; i++)
        assert_int_equal(rounds[i].stage, stages[i]);
    free(rounds);
    assert_ok(round_list(bench->ledger, "K9", &rounds, &count, &bench->err), &bench->err);
    assert_int_equal(count, 0);
    free(rounds);
}

static size_t count_of_day(struct bench *bench, const char *day)
{
    struct round *rounds = NULL;
    size_t count;
    assert_ok(round_list_of_day(bench->ledger, day, &rounds, &count, &bench->err), &bench->err);
    free(rounds);
    return count;
}

static void a_day_has_the_rounds_that_began_on_it(void **state)
{
    struct bench *bench = *state;
    struct bowl bowl;
    judge_two_bowls(bench);
    assert_int_equal(count_of_day(bench, "2026-07-26"), 1);
    assert_int_equal(count_of_day(bench, "2026-07-27"), 0);
    int64_t harvest = begin(bench, "", STAGE_HARVEST).id;
    assert_ok(bowl_begin(bench->ledger, harvest, 1, 0, "2026-10-06", &bowl, &bench->err),
              &bench->err);
    assert_int_equal(count_of_day(bench, "2026-10-06"), 1);
}

static void a_bowl_is_set_up_once(void **state)
{
    struct bench *bench = *state;
    struct bowl bowl;
    struct bowl again;
    int64_t round = find(bench, "", STAGE_SECOND).id;
    assert_ok(bowl_begin(bench->ledger, round, 5, 0, "2026-07-26", &bowl, &bench->err),
              &bench->err);
    assert_int_equal(bowl.expected, 0);
    assert_ok(bowl_begin(bench->ledger, round, 5, 20, "2026-07-28", &again, &bench->err),
              &bench->err);
    assert_int_equal(again.id, bowl.id);
    assert_int_equal(again.expected, 20);
    assert_string_equal(again.day, "2026-07-26");
    assert_ok(bowl_begin(bench->ledger, round, 5, 0, "2026-07-28", &again, &bench->err),
              &bench->err);
    assert_int_equal(again.expected, 20);
    assert_int_equal(
        bench_ask(bench,
                  "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'bowl'"),
        1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM bowl"), 1);
}

static void bowls_count_their_fish(void **state)
{
    struct bench *bench = *state;
    struct bowl *bowls;
    struct bowl bowl;
    size_t count;
    judge_two_bowls(bench);
    assert_ok(
        bowl_list(bench->ledger, find(bench, "", STAGE_SECOND).id, &bowls, &count, &bench->err),
        &bench->err);
    assert_int_equal(count, 2);
    assert_int_equal(bowls[0].number, 1);
    assert_int_equal(bowls[0].tally.judged, 1);
    assert_int_equal(bowls[0].tally.verdicts[VERDICT_OPEN], 2);
    assert_int_equal(bowls[1].tally.verdicts[VERDICT_REJECT], 1);
    assert_ok(bowl_get(bench->ledger, bowls[1].id, &bowl, &bench->err), &bench->err);
    assert_int_equal(bowl.number, 2);
    assert_int_equal(bowl.tally.judged, 1);
    free(bowls);
    assert_false(bowl_get(bench->ledger, 1, &bowl, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_round_begins_once),
        on_stocked_bench(the_lot_that_is_meant_is_found),
        on_stocked_bench(a_lots_code_belongs_to_its_spawning),
        on_stocked_bench(changes_of_a_round_leave_their_history),
        on_stocked_bench(rounds_are_listed_in_the_order_of_the_season),
        on_stocked_bench(a_day_has_the_rounds_that_began_on_it),
        on_stocked_bench(a_bowl_is_set_up_once),
        on_stocked_bench(bowls_count_their_fish),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
