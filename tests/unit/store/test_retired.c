#include "bench.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/round_counts.h"
#include "support/check.h"

static void retire(struct bench *bench, enum record_kind kind, int64_t id)
{
    assert_ok(record_retire(bench->ledger, kind, id, 0, "a slip", &bench->err), &bench->err);
}

static void bring_back(struct bench *bench, enum record_kind kind, int64_t id)
{
    assert_ok(record_bring_back(bench->ledger, kind, id, 0, "", &bench->err), &bench->err);
}

/* The call fails, for there is none. */
static void assert_absent(bool done, const struct bench *bench)
{
    assert_false(done);
    assert_int_equal(bench->err.code, ERR_ABSENT);
}

static int64_t id_of(struct bench *bench, const char *spawning)
{
    struct spawning known = {.id = 0};
    assert_ok(spawning_get(bench->ledger, spawning, &known, &bench->err), &bench->err);
    return known.id;
}

static int64_t parent_id(struct bench *bench, const char *code)
{
    struct parent known = {.id = 0};
    assert_ok(parent_get(bench->ledger, code, &known, &bench->err), &bench->err);
    return known.id;
}

static void add_spawning(struct bench *bench, const char *code)
{
    struct spawning spawning = {.season = 2026,
                                .siring = SIRING_SINGLE,
                                .dam = "D1",
                                .eggs = NOT_COUNTED,
                                .hatched = NOT_COUNTED};
    enum saved saved;
    snprintf(spawning.code, sizeof spawning.code, "%s", code);
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
    assert_int_equal(saved, SAVED_NEW);
}

static int64_t begin_lot(struct bench *bench, const char *spawnings, const char *code)
{
    int64_t lot = 0;
    assert_ok(lot_begin(bench->ledger, spawnings, code, &lot, &bench->err), &bench->err);
    return lot;
}

static void transfer(struct bench *bench, int64_t from, int64_t into)
{
    struct lot_event event;
    lot_event_init(&event);
    event.lot_id = from;
    event.target_id = into;
    event.kind = EVENT_TRANSFER;
    event.fish.number = 10;
    snprintf(event.day, sizeof event.day, "2026-07-20");
    assert_ok(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err);
}

static struct round_counters counters(struct bench *bench)
{
    struct counted_round round;
    assert_ok(counted_round_get(bench->ledger, bench_round(bench).id, &round, &bench->err),
              &bench->err);
    return round.counters;
}

static size_t lots(struct bench *bench)
{
    struct lot_origin *list;
    size_t count;
    assert_ok(lot_origins_list(bench->ledger, &list, &count, &bench->err), &bench->err);
    lot_origins_free(list, count);
    return count;
}

/* Events that stand. */
static size_t events(struct bench *bench)
{
    struct lot_event *list;
    size_t count, standing = 0;
    assert_ok(lot_events_read(bench->ledger, &list, &count, &bench->err), &bench->err);
    for (size_t i = 0; i < count; i++)
        standing += !list[i].undone;
    free(list);
    return standing;
}

static void judge_fish(struct bench *bench, int bowl, int number)
{
    int64_t fish = bench_fish(bench, bowl, number);
    bench_stroke(bench, fish, 1, bench_score("white", 5));
    bench_stroke(bench, fish, 1, bench_score("body", 5));
}

static void a_round_counts_without_a_retired_bowl(void **state)
{
    struct bench *bench = *state;
    judge_fish(bench, 1, 1);
    struct round_counters before = counters(bench);
    assert_int_equal(before.tally.verdicts[VERDICT_KEEP], 1);
    judge_fish(bench, 2, 1);
    judge_fish(bench, 2, 2);
    struct bowl wrong = bench_bowl(bench, 2);
    struct round_counters with = counters(bench);
    retire(bench, RECORD_BOWL, wrong.id);
    struct round_counters after = counters(bench);
    assert_memory_equal(&after, &before, sizeof after);
    struct bowl *bowls;
    size_t count;
    assert_ok(bowl_list(bench->ledger, bench_round(bench).id, &bowls, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 1);
    free(bowls);
    assert_absent(bowl_get(bench->ledger, wrong.id, &wrong, &bench->err), bench);
    bring_back(bench, RECORD_BOWL, wrong.id);
    after = counters(bench);
    assert_memory_equal(&after, &with, sizeof after);
}

static void a_number_can_be_used_again_and_then_stands_against_coming_back(void **state)
{
    struct bench *bench = *state;
    struct bowl wrong = bench_bowl(bench, 3);
    retire(bench, RECORD_BOWL, wrong.id);
    struct bowl right = bench_bowl(bench, 3);
    assert_true(right.id != wrong.id);
    assert_says(record_bring_back(bench->ledger, RECORD_BOWL, wrong.id, 0, "", &bench->err),
                &bench->err, "another bowl 3");
    retire(bench, RECORD_BOWL, right.id);
    bring_back(bench, RECORD_BOWL, wrong.id);
    assert_int_equal(bench_bowl(bench, 3).id, wrong.id);
}

static void what_is_below_goes_and_comes_along(void **state)
{
    struct bench *bench = *state;
    int64_t spawning = id_of(bench, "K1");
    struct spawning *list;
    size_t count;
    judge_fish(bench, 1, 1);
    judge_fish(bench, 2, 1);
    retire(bench, RECORD_BOWL, bench_bowl(bench, 2).id);
    struct round_counters before = counters(bench);
    struct round round = bench_round(bench);
    retire(bench, RECORD_SPAWNING, spawning);
    assert_ok(spawning_list(bench->ledger, &list, &count, &bench->err), &bench->err);
    assert_int_equal(count, 0);
    free(list);
    assert_int_equal(lots(bench), 0);
    assert_absent(round_get(bench->ledger, round.id, &round, &bench->err), bench);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM rounds"), 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judgements"), 0);
    assert_says(record_bring_back(bench->ledger, RECORD_ROUND, round.id, 0, "", &bench->err),
                &bench->err, "Lot K1 is retired");
    bring_back(bench, RECORD_SPAWNING, spawning);
    struct round_counters after = counters(bench);
    assert_int_equal(after.bowls, 1); /* the one retired by itself stays so */
    assert_memory_equal(&after, &before, sizeof after);
    assert_int_equal(lots(bench), 1);
}

/* A clock that stands still does not mix up two of them. */
static void only_what_went_together_comes_back_together(void **state)
{
    struct bench *bench = *state;
    struct bowl first = bench_bowl(bench, 1), second = bench_bowl(bench, 2);
    retire(bench, RECORD_BOWL, first.id);
    retire(bench, RECORD_BOWL, second.id);
    bring_back(bench, RECORD_BOWL, second.id);
    assert_int_equal(counters(bench).bowls, 1);
    assert_absent(record_retire(bench->ledger, RECORD_BOWL, first.id, 0, "", &bench->err), bench);
    assert_absent(record_bring_back(bench->ledger, RECORD_BOWL, second.id, 0, "", &bench->err),
                  bench);
}

static void a_code_is_one_s_own_among_the_living(void **state)
{
    struct bench *bench = *state;
    add_spawning(bench, "K2");
    int64_t wrong = id_of(bench, "K2");
    retire(bench, RECORD_SPAWNING, wrong);
    add_spawning(bench, "K2");
    int64_t right = id_of(bench, "K2");
    assert_true(right != wrong);
    assert_says(record_bring_back(bench->ledger, RECORD_SPAWNING, wrong, 0, "", &bench->err),
                &bench->err, "another spawning K2");
    struct round round = bench_round(bench), again;
    retire(bench, RECORD_ROUND, round.id);
    again = bench_round(bench);
    assert_true(again.id != round.id);
    assert_says(record_bring_back(bench->ledger, RECORD_ROUND, round.id, 0, "", &bench->err),
                &bench->err, "another second cull");
}

static void a_parent_of_the_living_stays(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct parent young = {.code = "D2", .dam = "D1"};
    int64_t dam = parent_id(bench, "D1"), spare = parent_id(bench, "S2");
    assert_says(record_retire(bench->ledger, RECORD_PARENT, dam, 0, "", &bench->err), &bench->err,
                "D1 is the dam of spawning K1");
    assert_says(
        record_retire(bench->ledger, RECORD_PARENT, parent_id(bench, "S1"), 0, "", &bench->err),
        &bench->err, "S1 is the sire of spawning K1");
    retire(bench, RECORD_PARENT, spare);
    assert_false(parent_serves(bench->ledger, "S2", false, &bench->err));
    assert_ok(parent_save(bench->ledger, &young, 0, "", &saved, &bench->err), &bench->err);
    retire(bench, RECORD_SPAWNING, id_of(bench, "K1"));
    assert_says(record_retire(bench->ledger, RECORD_PARENT, dam, 0, "", &bench->err), &bench->err,
                "D1 is the dam of D2");
}

static void what_descends_from_the_retired_waits_for_them(void **state)
{
    struct bench *bench = *state;
    int64_t spawning = id_of(bench, "K1"), dam = parent_id(bench, "D1");
    retire(bench, RECORD_SPAWNING, spawning);
    retire(bench, RECORD_PARENT, dam);
    assert_says(record_bring_back(bench->ledger, RECORD_SPAWNING, spawning, 0, "", &bench->err),
                &bench->err, "bring D1 back first");
    bring_back(bench, RECORD_PARENT, dam);
    bring_back(bench, RECORD_SPAWNING, spawning);
}

static void fish_that_went_on_hold_their_lot(void **state)
{
    struct bench *bench = *state;
    add_spawning(bench, "K2");
    int64_t own = begin_lot(bench, "K1", ""), small = begin_lot(bench, "K1", "small");
    int64_t mixed = begin_lot(bench, "K1;K2", "pond 3");
    transfer(bench, own, small);
    transfer(bench, small, mixed);
    assert_int_equal(events(bench), 2);
    assert_says(record_retire(bench->ledger, RECORD_LOT, own, 0, "", &bench->err), &bench->err,
                "retire the spawning");
    assert_says(record_retire(bench->ledger, RECORD_LOT, small, 0, "", &bench->err), &bench->err,
                "went into lot pond 3");
    assert_says(
        record_retire(bench->ledger, RECORD_SPAWNING, id_of(bench, "K1"), 0, "", &bench->err),
        &bench->err, "in the mixed lot pond 3");
    retire(bench, RECORD_LOT, mixed);
    assert_int_equal(events(bench), 1); /* the fish never went there */
    retire(bench, RECORD_LOT, small);
    assert_int_equal(events(bench), 0);
    assert_int_equal(begin_lot(bench, "K1", "small") == small, false);
    assert_says(record_bring_back(bench->ledger, RECORD_LOT, small, 0, "", &bench->err),
                &bench->err, "another lot small");
    bring_back(bench, RECORD_LOT, mixed);
    assert_int_equal(lots(bench), 4);
}

static void nobody_is_retired_whose_work_stands(void **state)
{
    struct bench *bench = *state;
    int64_t aki, mika = 0;
    struct judge *judges;
    size_t count;
    struct round_counts counts;
    enum saved saved;
    assert_ok(judge_named(bench->ledger, "Aki", &aki, &bench->err) &&
                  judge_named(bench->ledger, "Mkia", &mika, &bench->err),
              &bench->err);
    round_counts_init(&counts);
    counts.rejected = 7;
    assert_ok(round_counts_record(bench->ledger, bench_round(bench).id, &counts, aki, &saved,
                                  &bench->err),
              &bench->err);
    assert_says(record_retire(bench->ledger, RECORD_JUDGE, aki, 0, "", &bench->err), &bench->err,
                "Aki has judged");
    retire(bench, RECORD_JUDGE, mika);
    assert_ok(judge_list(bench->ledger, &judges, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1);
    free(judges);
}

static void numbers_of_a_retired_round_are_not_asked_of(void **state)
{
    struct bench *bench = *state;
    struct round_counts counts;
    struct counted_round *rounds;
    enum saved saved;
    size_t count;
    struct round round = bench_round(bench);
    round_counts_init(&counts);
    counts.rejected = 7;
    assert_ok(round_counts_record(bench->ledger, round.id, &counts, 0, &saved, &bench->err),
              &bench->err);
    retire(bench, RECORD_ROUND, round.id);
    assert_ok(counted_round_list(bench->ledger, NULL, &rounds, &count, &bench->err), &bench->err);
    assert_int_equal(count, 0);
    free(rounds);
}

/* Nobody returns to it, and one who was there begins elsewhere. */
static void a_place_in_a_retired_bowl_is_none(void **state)
{
    struct bench *bench = *state;
    struct place place = {.judge = 0};
    struct bowl bowl = bench_bowl(bench, 1);
    place.round_id = bowl.round_id;
    place.bowl_id = bowl.id;
    place.number = 1;
    assert_ok(place_save(bench->ledger, &place, &bench->err), &bench->err);
    retire(bench, RECORD_BOWL, bowl.id);
    assert_absent(place_get(bench->ledger, -1, &place, &bench->err), bench);
    bring_back(bench, RECORD_BOWL, bowl.id);
    assert_ok(place_get(bench->ledger, 0, &place, &bench->err), &bench->err);
}

static void every_retirement_is_in_the_audit_log(void **state)
{
    struct bench *bench = *state;
    int64_t id = id_of(bench, "K1");
    retire(bench, RECORD_SPAWNING, id);
    bring_back(bench, RECORD_SPAWNING, id);
    assert_int_equal(bench_ask(bench,
                               "SELECT count(*) FROM audit_log WHERE kind = 'spawning' AND field = "
                               "'retired' AND new_value = 'yes' AND why = 'a slip'"),
                     1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM audit_log WHERE field = 'retired' AND "
                                      "old_value = 'yes' AND new_value = ''"),
                     1);
}

static void the_check_finds_nothing_wrong_with_retired_records(void **state)
{
    struct bench *bench = *state;
    judge_fish(bench, 1, 1);
    judge_fish(bench, 2, 1);
    retire(bench, RECORD_BOWL, bench_bowl(bench, 2).id);
    assert_in_order(bench->ledger);
    retire(bench, RECORD_SPAWNING, id_of(bench, "K1"));
    assert_in_order(bench->ledger);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_round_counts_without_a_retired_bowl),
        on_stocked_bench(a_number_can_be_used_again_and_then_stands_against_coming_back),
        on_stocked_bench(what_is_below_goes_and_comes_along),
        on_stocked_bench(only_what_went_together_comes_back_together),
        on_stocked_bench(a_code_is_one_s_own_among_the_living),
        on_stocked_bench(a_parent_of_the_living_stays),
        on_stocked_bench(what_descends_from_the_retired_waits_for_them),
        on_stocked_bench(fish_that_went_on_hold_their_lot),
        on_stocked_bench(nobody_is_retired_whose_work_stands),
        on_stocked_bench(numbers_of_a_retired_round_are_not_asked_of),
        on_stocked_bench(a_place_in_a_retired_bowl_is_none),
        on_stocked_bench(every_retirement_is_in_the_audit_log),
        on_stocked_bench(the_check_finds_nothing_wrong_with_retired_records),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
