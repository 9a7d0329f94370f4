#include "bench.h"
#include "senbetsu/store/corrections.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/names.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"
#include "support/check.h"

static void judge_fish(struct bench *bench, int bowl, int number)
{
    int64_t fish = bench_fish(bench, bowl, number);
    bench_stroke(bench, fish, 1, bench_score("white", 5));
    bench_stroke(bench, fish, 1, bench_score("body", 5));
}

static struct spawning spawning(struct bench *bench, const char *code)
{
    struct spawning known = {.id = 0};
    assert_ok(spawning_get(bench->ledger, code, &known, &bench->err), &bench->err);
    return known;
}

static int64_t begin_lot(struct bench *bench, const char *spawnings, const char *code)
{
    int64_t lot = 0;
    assert_ok(lot_begin(bench->ledger, spawnings, code, &lot, &bench->err), &bench->err);
    return lot;
}

static size_t changes(struct bench *bench, enum record_kind kind, int64_t id,
                      struct record_change *ret_latest)
{
    struct record_change *list;
    size_t count;
    assert_ok(record_history(bench->ledger, kind, id, &list, &count, &bench->err), &bench->err);
    if (count > 0)
        *ret_latest = list[0];
    free(list);
    return count;
}

static void a_spawning_is_renamed_with_its_own_lot(void **state)
{
    struct bench *bench = *state;
    struct record_change change;
    int64_t id = spawning(bench, "K1").id;
    begin_lot(bench, "K1", "K9");
    assert_says(record_rename(bench->ledger, RECORD_SPAWNING, id, "K9", 0, "", &bench->err),
                &bench->err, "another spawning K9");
    assert_ok(record_rename(bench->ledger, RECORD_SPAWNING, id, "K2", 0, "misread", &bench->err),
              &bench->err);
    assert_int_equal(spawning(bench, "K2").id, id);
    struct round round;
    assert_ok(round_find(bench->ledger, "K2", "", STAGE_SECOND, &round, &bench->err), &bench->err);
    assert_string_equal(round.lot, "K2");
    assert_int_equal(changes(bench, RECORD_SPAWNING, id, &change), 1);
    assert_string_equal(change.field, "spawning");
    assert_string_equal(change.was, "K1");
    assert_string_equal(change.becomes, "K2");
    assert_string_equal(change.why, "misread");
}

static void a_lot_is_renamed_but_not_a_spawning_s_own(void **state)
{
    struct bench *bench = *state;
    int64_t own = begin_lot(bench, "K1", ""), west = begin_lot(bench, "K1", "west");
    begin_lot(bench, "K1", "east");
    assert_says(record_rename(bench->ledger, RECORD_LOT, own, "x", 0, "", &bench->err), &bench->err,
                "no name of its own");
    assert_says(record_rename(bench->ledger, RECORD_LOT, west, "east", 0, "", &bench->err),
                &bench->err, "another lot east");
    assert_ok(record_rename(bench->ledger, RECORD_LOT, west, "north", 0, "", &bench->err),
              &bench->err);
    assert_int_equal(begin_lot(bench, "K1", "north"), west);
}

static void a_judge_typed_wrong_is_the_right_one(void **state)
{
    struct bench *bench = *state;
    int64_t wrong = 0, worse = 0, right = 0;
    struct judge *judges;
    size_t count;
    struct stroke stroke = {.look = 1, .at_ms = bench->now, .entry_count = 0};
    struct cached_verdict open = {.verdict = VERDICT_OPEN};
    assert_ok(judge_named(bench->ledger, "Mika", &right, &bench->err) &&
                  judge_named(bench->ledger, "Mkia", &wrong, &bench->err) &&
                  judge_named(bench->ledger, "Mikaa", &worse, &bench->err),
              &bench->err);
    stroke.fish = bench_fish(bench, 1, 1);
    stroke.judge = wrong;
    stroke.standard = bench->standard;
    stroke.entries[stroke.entry_count++] = bench_score("white", 4);
    assert_ok(stroke_record(bench->ledger, &stroke, &open, NULL, &bench->err), &bench->err);
    assert_says(judge_is(bench->ledger, wrong, wrong, 0, &bench->err), &bench->err,
                "another judge");
    assert_ok(judge_is(bench->ledger, worse, wrong, 0, &bench->err), &bench->err);
    assert_ok(judge_is(bench->ledger, wrong, right, 0, &bench->err), &bench->err);
    assert_ok(judge_list(bench->ledger, &judges, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1);
    free(judges);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judgements WHERE judge = 'Mika'"), 1);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judge_shown WHERE name = 'Mika'"), 3);
    assert_ok(record_bring_back(bench->ledger, RECORD_JUDGE, wrong, 0, "", &bench->err),
              &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judgements WHERE judge = 'Mkia'"), 1);
    assert_ok(record_rename(bench->ledger, RECORD_JUDGE, wrong, "Rin", 0, "", &bench->err),
              &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM judgements WHERE judge = 'Rin'"), 1);
}

static void a_round_becomes_another_where_nothing_stands_against_it(void **state)
{
    struct bench *bench = *state;
    struct record_change change;
    struct round round = bench_round(bench), third;
    assert_ok(round_begin(bench->ledger, "K1", "", STAGE_THIRD, &third, &bench->err), &bench->err);
    third.stage = STAGE_SECOND;
    assert_says(round_save(bench->ledger, &third, 0, &bench->err), &bench->err,
                "another second cull");
    third.stage = STAGE_FOURTH;
    third.lot_id = begin_lot(bench, "K1", "west");
    snprintf(third.lot, sizeof third.lot, "west");
    assert_ok(round_save(bench->ledger, &third, 0, &bench->err), &bench->err);
    assert_ok(round_find(bench->ledger, "K1", "west", STAGE_FOURTH, &third, &bench->err),
              &bench->err);
    assert_int_equal(changes(bench, RECORD_ROUND, third.id, &change), 2);
    round.manner = MANNER_PICK;
    judge_fish(bench, 1, 1);
    assert_says(round_save(bench->ledger, &round, 0, &bench->err), &bench->err,
                "1 fish of this round were judged one by one");
    assert_ok(
        record_retire(bench->ledger, RECORD_BOWL, bench_bowl(bench, 1).id, 0, "", &bench->err),
        &bench->err);
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    struct tally_mark mark = {.kind = TALLY_KEEP};
    assert_ok(tally_record(bench->ledger, round.id, 0, &mark, NULL, &bench->err), &bench->err);
    round.manner = MANNER_JUDGE;
    assert_says(round_save(bench->ledger, &round, 0, &bench->err), &bench->err, "were tallied");
}

static void a_bowl_is_renumbered(void **state)
{
    struct bench *bench = *state;
    struct record_change change;
    struct bowl bowl = bench_bowl(bench, 1);
    bench_bowl(bench, 2);
    judge_fish(bench, 1, 1);
    judge_fish(bench, 1, 2);
    bowl.number = 2;
    assert_says(bowl_change(bench->ledger, &bowl, 0, "", &bench->err), &bench->err,
                "Bowl 2 is there already");
    bowl.number = 7;
    bowl.expected = 1;
    assert_says(bowl_change(bench->ledger, &bowl, 0, "", &bench->err), &bench->err,
                "cannot hold 1 fish: 2 have been looked at");
    bowl.expected = 2;
    snprintf(bowl.day, sizeof bowl.day, "2026-07-25");
    assert_ok(bowl_change(bench->ledger, &bowl, 0, "", &bench->err), &bench->err);
    assert_int_equal(bench_bowl(bench, 7).id, bowl.id);
    assert_int_equal(changes(bench, RECORD_BOWL, bowl.id, &change), 3);
}

static struct round_counters counters(struct bench *bench)
{
    struct counted_round round;
    assert_ok(counted_round_get(bench->ledger, bench_round(bench).id, &round, &bench->err),
              &bench->err);
    return round.counters;
}

static void check(struct bench *bench)
{
    assert_in_order(bench->ledger);
}

static void fish_go_into_the_right_bowl(void **state)
{
    struct bench *bench = *state;
    struct record_change change;
    static const int numbers[] = {1, 2};
    int last = 0;
    for (int number = 1; number <= 3; number++)
        judge_fish(bench, 1, number);
    judge_fish(bench, 2, 2);
    int64_t from = bench_bowl(bench, 1).id, into = bench_bowl(bench, 2).id;
    struct round_counters before = counters(bench);
    int64_t fish = bench_fish(bench, 1, 2);
    assert_says(
        fish_move(bench->ledger, from, (const int[]){9}, 1, into, 0, "", &last, &bench->err),
        &bench->err, "no fish 9 in bowl 1");
    assert_ok(fish_move(bench->ledger, from, numbers, 2, into, 0, "wrong bowl", &last, &bench->err),
              &bench->err);
    assert_int_equal(last, 3); /* 2 is taken there */
    assert_int_equal(bench_fish(bench, 2, 3), fish);
    assert_int_equal(bench_bowl(bench, 1).tally.judged, 1);
    assert_int_equal(bench_bowl(bench, 2).tally.judged, 3);
    struct round_counters after = counters(bench);
    assert_memory_equal(&after.tally.verdicts, &before.tally.verdicts, sizeof after.tally.verdicts);
    check(bench);
    assert_int_equal(changes(bench, RECORD_BOWL, into, &change), 1);
    assert_string_equal(change.becomes, "1, 2 (3 there) from bowl 1");
    assert_int_equal(
        bench_ask(bench,
                  "SELECT count(*) FROM audit_log WHERE kind = 'fish' AND field = 'bowl' AND "
                  "old_value = 'bowl 1, fish 2' AND new_value = 'bowl 2, fish "
                  "3' AND why = 'wrong bowl'"),
        1);
}

static void expect_in_bowl(struct bench *bench, int number, int expected)
{
    struct bowl bowl;
    assert_ok(bowl_begin(bench->ledger, bench_round(bench).id, number, expected, "2026-07-26",
                         &bowl, &bench->err),
              &bench->err);
}

/* The round is as large as before, whichever bowl its fish are in. */
static void counted_fish_move_with_their_number(void **state)
{
    struct bench *bench = *state;
    struct record_change change;
    int last = 0;
    for (int number = 1; number <= 3; number++)
        judge_fish(bench, 1, number);
    judge_fish(bench, 2, 4);
    judge_fish(bench, 3, 4);
    int64_t one = bench_bowl(bench, 1).id, two = bench_bowl(bench, 2).id;
    expect_in_bowl(bench, 1, 5);
    expect_in_bowl(bench, 2, 2);
    int expected = counters(bench).tally.expected;
    assert_ok(
        fish_move(bench->ledger, one, (const int[]){1, 2}, 2, two, 0, "slip", &last, &bench->err),
        &bench->err);
    assert_int_equal(bench_bowl(bench, 1).expected, 3);
    assert_int_equal(bench_bowl(bench, 2).expected, 4);
    assert_int_equal(counters(bench).tally.expected, expected);
    changes(bench, RECORD_BOWL, two, &change);
    assert_string_equal(change.field, "expected");
    assert_string_equal(change.was, "2");
    assert_string_equal(change.becomes, "4");
    assert_string_equal(change.why, "slip");
    /* Emptied, it is not counted any more; one that was never counted stays so. */
    expect_in_bowl(bench, 1, 1);
    assert_ok(fish_move(bench->ledger, one, (const int[]){3}, 1, bench_bowl(bench, 3).id, 0, "",
                        &last, &bench->err),
              &bench->err);
    assert_int_equal(bench_bowl(bench, 1).expected, 0);
    assert_int_equal(bench_bowl(bench, 3).expected, 0);
}

static void two_bowls_become_one(void **state)
{
    struct bench *bench = *state;
    judge_fish(bench, 1, 1);
    judge_fish(bench, 2, 1);
    judge_fish(bench, 2, 2);
    int64_t from = bench_bowl(bench, 2).id, into = bench_bowl(bench, 1).id;
    struct round_counters before = counters(bench);
    assert_says(bowl_merge(bench->ledger, into, into, 0, "", &bench->err), &bench->err,
                "another bowl");
    assert_ok(bowl_merge(bench->ledger, from, into, 0, "", &bench->err), &bench->err);
    struct round_counters after = counters(bench);
    assert_int_equal(after.bowls, 1);
    assert_int_equal(after.tally.judged, before.tally.judged);
    assert_int_equal(bench_bowl(bench, 1).tally.judged, 3);
    check(bench);
}

static int64_t count_lots(struct bench *bench)
{
    struct lot_origin *lots;
    size_t count;
    assert_ok(lot_origins_list(bench->ledger, &lots, &count, &bench->err), &bench->err);
    lot_origins_free(lots, count);
    return (int64_t)count;
}

static void an_undone_split_leaves_no_lot(void **state)
{
    struct bench *bench = *state;
    struct lot_event said, last;
    int64_t own = begin_lot(bench, "K1", ""), west;
    lot_event_init(&said);
    said.lot_id = own;
    said.fish.number = 40;
    snprintf(said.day, sizeof said.day, "2026-07-20");
    snprintf(said.pond, sizeof said.pond, "P4");
    assert_ok(lot_split(bench->ledger, &said, "west", 0, &west, &bench->err), &bench->err);
    assert_int_equal(count_lots(bench), 2);
    assert_ok(lot_last_event(bench->ledger, own, &last, &bench->err), &bench->err);
    assert_ok(lot_undo(bench->ledger, own, last.id, 0, &last, &bench->err), &bench->err);
    assert_int_equal(count_lots(bench), 1);
    assert_ok(record_bring_back(bench->ledger, RECORD_LOT, west, 0, "", &bench->err), &bench->err);
    assert_int_equal(count_lots(bench), 2);
    check(bench);
}

static void an_event_is_said_again_as_it_was(void **state)
{
    struct bench *bench = *state;
    struct lot_event said, last, *events;
    size_t count;
    int64_t own = begin_lot(bench, "K1", "");
    lot_event_init(&said);
    said.lot_id = own;
    said.kind = EVENT_MOVE;
    snprintf(said.day, sizeof said.day, "2026-07-20");
    snprintf(said.pond, sizeof said.pond, "P4");
    assert_ok(lot_event_record(bench->ledger, &said, 0, &bench->err), &bench->err);
    assert_ok(lot_last_event(bench->ledger, own, &last, &bench->err), &bench->err);
    snprintf(said.pond, sizeof said.pond, "P5");
    assert_ok(lot_event_correct(bench->ledger, last.id, &said, 0, &bench->err), &bench->err);
    assert_ok(lot_events_read(bench->ledger, &events, &count, &bench->err), &bench->err);
    assert_int_equal(count, 2);
    assert_true(events[0].undone && !events[1].undone);
    assert_string_equal(events[1].pond, "P5");
    free(events);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot_event WHERE corrects IS NOT NULL"),
                     1);
    assert_says(lot_event_correct(bench->ledger, last.id, &said, 0, &bench->err), &bench->err,
                "undone already");
    assert_says(lot_event_take_back(bench->ledger, last.id, 0, &bench->err), &bench->err,
                "undone already");
    check(bench);
}

static void what_is_retired_is_listed(void **state)
{
    struct bench *bench = *state;
    struct retired_record *list;
    struct record_title title;
    struct record_change change;
    enum saved saved;
    size_t count;
    struct round round = bench_round(bench);
    struct round_counts counts;
    struct bowl bowl = bench_bowl(bench, 4);
    round_counts_init(&counts);
    counts.in.number = 80;
    counts.rejected = 7;
    assert_ok(round_counts_record(bench->ledger, round.id, &counts, 0, &saved, &bench->err),
              &bench->err);
    assert_int_equal(changes(bench, RECORD_ROUND, round.id, &change), 2);
    assert_string_equal(change.becomes, "in 80, rejected 7");
    assert_ok(record_title(bench->ledger, RECORD_BOWL, bowl.id, &title, &bench->err), &bench->err);
    assert_string_equal(title.title, "bowl 4, second cull of K1");
    assert_ok(record_retire(bench->ledger, RECORD_ROUND, round.id, 0, "twice", &bench->err),
              &bench->err);
    assert_ok(retired_list(bench->ledger, &list, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1); /* its bowl goes without saying */
    assert_int_equal(list[0].kind, RECORD_ROUND);
    assert_int_equal(list[0].id, round.id);
    assert_string_equal(list[0].title, "second cull of K1");
    assert_string_equal(list[0].why, "twice");
    free(list);
    assert_ok(record_title(bench->ledger, RECORD_BOWL, bowl.id, &title, &bench->err), &bench->err);
    assert_true(title.retired);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_spawning_is_renamed_with_its_own_lot),
        on_stocked_bench(a_lot_is_renamed_but_not_a_spawning_s_own),
        on_stocked_bench(a_judge_typed_wrong_is_the_right_one),
        on_stocked_bench(a_round_becomes_another_where_nothing_stands_against_it),
        on_stocked_bench(a_bowl_is_renumbered),
        on_stocked_bench(fish_go_into_the_right_bowl),
        on_stocked_bench(counted_fish_move_with_their_number),
        on_stocked_bench(two_bowls_become_one),
        on_stocked_bench(an_undone_split_leaves_no_lot),
        on_stocked_bench(an_event_is_said_again_as_it_was),
        on_stocked_bench(what_is_retired_is_listed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
