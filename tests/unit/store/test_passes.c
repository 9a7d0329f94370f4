#include "bench.h"
#include "senbetsu/store/passes.h"

static int64_t version_id(struct bench *bench)
{
    struct standard_version version;
    assert_ok(standard_named(bench->ledger, "kikusui-second", &version, &bench->err), &bench->err);
    return version.id;
}

static struct decision_reason reasons[] = {
    {"score", "score"}, {"places", "no place left"}, {"unscored white", ""}};

static struct pass_decisions decisions_of(struct pass_decision *fish, size_t count)
{
    return (struct pass_decisions){reasons, 3, fish, count};
}

static struct pass record(struct bench *bench, struct pass_decision *fish, size_t count)
{
    struct pass_decisions decisions = decisions_of(fish, count);
    struct pass pass = {.round_id = bench_round(bench).id,
                        .standard_version = version_id(bench),
                        .places = 12,
                        .unit = 2400,
                        .at_ms = bench->now};
    assert_ok(pass_record(bench->ledger, &pass, &decisions, &bench->err), &bench->err);
    assert_true(pass.id > 0);
    return pass;
}

static void a_pass_is_read_as_it_was_recorded(void **state)
{
    struct bench *bench = *state;
    struct pass latest;
    struct pass_decisions read;
    struct pass_decision decisions[] = {
        {.fish = bench_fish(bench, 2, 1), .verdict = VERDICT_OPEN, .reason = 2},
        {.fish = bench_fish(bench, 1, 2), .verdict = VERDICT_HOLD, .reason = 1, .rank = 4},
        {.fish = bench_fish(bench, 1, 1), .verdict = VERDICT_KEEP, .score = 1800, .rank = 1},
    };
    assert_false(pass_latest(bench->ledger, bench_round(bench).id, &latest, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
    struct pass pass = record(bench, decisions, 3);
    assert_ok(pass_latest(bench->ledger, pass.round_id, &latest, &bench->err), &bench->err);
    assert_int_equal(latest.id, pass.id);
    assert_int_equal(latest.places, 12);
    assert_int_equal(latest.unit, 2400);
    assert_int_equal(latest.standard_version, pass.standard_version);
    assert_int_equal(latest.at_ms, pass.at_ms);

    assert_ok(pass_decisions_get(bench->ledger, pass.id, &read, &bench->err), &bench->err);
    assert_int_equal(read.count, 3);
    assert_int_equal(read.reason_count, 3);
    for (int i = 0; i < 3; i++) {
        const struct pass_decision *expected = &decisions[2 - i]; /* in order of bowl and number */
        assert_int_equal(read.fish[i].fish, expected->fish);
        assert_int_equal(read.fish[i].verdict, expected->verdict);
        assert_int_equal(read.fish[i].reason, expected->reason);
        assert_int_equal(read.fish[i].score, expected->score);
        assert_int_equal(read.fish[i].rank, expected->rank);
        assert_string_equal(read.reasons[i].code, reasons[i].code);
        assert_string_equal(read.reasons[i].label, reasons[i].label);
    }
    pass_decisions_done(&read);
}

static void the_pass_recorded_last_is_the_latest(void **state)
{
    struct bench *bench = *state;
    struct pass latest;
    record(bench, NULL, 0);
    bench->now -= 3600000; /* a clock that was put back */
    struct pass second = record(bench, NULL, 0);
    assert_ok(pass_latest(bench->ledger, second.round_id, &latest, &bench->err), &bench->err);
    assert_int_equal(latest.id, second.id);
}

static void a_pass_is_recorded_whole_or_not_at_all(void **state)
{
    struct bench *bench = *state;
    struct pass pass = {.round_id = bench_round(bench).id, .standard_version = version_id(bench)};
    struct pass_decision fish[] = {
        {.fish = bench_fish(bench, 1, 1), .verdict = VERDICT_KEEP},
        {.fish = 99, .verdict = VERDICT_KEEP},
    };
    struct pass_decisions decisions = decisions_of(fish, 2);
    pass.unit = 2400;
    assert_false(pass_record(bench->ledger, &pass, &decisions, &bench->err));
    assert_int_equal(pass.id, 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM pass"), 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM decision"), 0);
}

/* Fish `number` of bowl 1, closed: white 4, body 4. */
static int64_t judged_fish(struct bench *bench, int number, struct entry close)
{
    int64_t fish = bench_fish(bench, 1, number);
    bench_stroke(bench, fish, 1, bench_score("white", 4));
    bench_stroke(bench, fish, 1, bench_score("body", 4));
    bench_stroke(bench, fish, 1, close);
    return fish;
}

static void assert_stands(struct bench *bench, int keep, int hold, int reject, int changed)
{
    struct counted_round round;
    struct bowl bowl = bench_bowl(bench, 1);
    assert_ok(counted_round_get(bench->ledger, bench_round(bench).id, &round, &bench->err),
              &bench->err);
    const struct verdict_counts *tally = &round.counters.tally;
    assert_int_equal(tally->verdicts[VERDICT_KEEP], keep);
    assert_int_equal(tally->verdicts[VERDICT_HOLD], hold);
    assert_int_equal(tally->verdicts[VERDICT_REJECT], reject);
    assert_int_equal(tally->changed, changed);
    assert_memory_equal(bowl.tally.verdicts, tally->verdicts, sizeof bowl.tally.verdicts);
    assert_int_equal(bowl.tally.changed, changed);
}

static void take_back(struct bench *bench, int64_t fish, int64_t stroke)
{
    struct fish without;
    struct stroke undo = {.fish = fish, .look = 1, .at_ms = bench->now, .undoes = stroke};
    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    assert_ok(stroke_record(bench->ledger, &undo, NULL, NULL, &bench->err), &bench->err);
    assert_ok(fish_load(bench->ledger, fish, bench_standard(), &without, &bench->err), &bench->err);
    transaction_rollback(bench->ledger);
    struct cached_verdict cached = fish_cached_verdict(&without, bench_standard());
    assert_ok(stroke_record(bench->ledger, &undo, &cached, NULL, &bench->err), &bench->err);
}

static void a_pass_stands_until_a_fish_is_judged_otherwise(void **state)
{
    struct bench *bench = *state;
    struct fish fish;
    int64_t first = judged_fish(bench, 1, bench_close_entry(VERDICT_KEEP));
    int64_t second = judged_fish(bench, 2, bench_close_entry(VERDICT_KEEP));
    assert_stands(bench, 2, 0, 0, 0);
    struct pass_decision decisions[] = {
        {.fish = first, .verdict = VERDICT_KEEP},
        {.fish = second, .verdict = VERDICT_HOLD, .reason = 1},
    };
    record(bench, decisions, 2);
    assert_stands(bench, 1, 1, 0, 0);
    assert_ok(fish_load(bench->ledger, second, bench_standard(), &fish, &bench->err), &bench->err);
    assert_int_equal(fish.stands, VERDICT_HOLD);

    int64_t fault = bench_stroke(bench, second, 1, bench_fault("spine", 1));
    assert_stands(bench, 1, 0, 1, 1);
    assert_ok(fish_load(bench->ledger, second, bench_standard(), &fish, &bench->err), &bench->err);
    assert_int_equal(fish.stands, VERDICT_REJECT);
    assert_true(fish.changed);

    take_back(bench, second, fault); /* the pass has seen it like that */
    assert_stands(bench, 1, 1, 0, 0);
    bench_stroke(bench, second, 1, bench_score("body", 5));
    assert_stands(bench, 2, 0, 0, 1);
    bench_stroke(bench, second, 1, bench_score("body", 4));
    assert_stands(bench, 1, 1, 0, 0);
    bench_stroke(bench, second, 1,
                 (struct entry){.kind = ENTRY_VERDICT, .number = VERDICT_KEEP, .text = "tie"});
    assert_stands(bench, 2, 0, 0, 1);

    judged_fish(bench, 3, bench_close_entry(VERDICT_KEEP)); /* new since the pass */
    assert_stands(bench, 3, 0, 0, 2);
    decisions[1].verdict = VERDICT_KEEP;
    record(bench, decisions, 2);
    assert_stands(bench, 3, 0, 0, 1);
}

static void a_fish_for_which_no_place_was_left_stands_on_hold(void **state)
{
    struct bench *bench = *state;
    struct entry close = {.kind = ENTRY_CLOSE, .number = VERDICT_HOLD, .what = CLOSE_NO_PLACE};
    int64_t id = judged_fish(bench, 1, close);
    assert_stands(bench, 0, 1, 0, 0);
    assert_int_equal(bench_ask(bench, "SELECT judged = 'keep' AND no_place FROM fish"), 1);
    bench_stroke(bench, id, 1, bench_close_entry(VERDICT_KEEP)); /* there is one now */
    assert_stands(bench, 1, 0, 0, 0);
    bench_stroke(bench, id, 1, close);
    struct pass_decision keep = {.fish = id, .verdict = VERDICT_KEEP};
    record(bench, &keep, 1);
    assert_stands(bench, 1, 0, 0, 0);
    bench_stroke(bench, id, 1, bench_fault("spine", 1));
    bench_stroke(bench, id, 1, bench_close_entry(VERDICT_REJECT));
    assert_stands(bench, 0, 0, 1, 1);
}

/* Thresholds are no part of what was seen. */
static void a_pass_stands_when_the_standard_has_a_newer_version(void **state)
{
    struct bench *bench = *state;
    struct standard stricter = *bench_standard();
    struct standard_version version;
    enum saved saved;
    int64_t id = judged_fish(bench, 1, bench_close_entry(VERDICT_KEEP));
    struct pass_decision keep = {.fish = id, .verdict = VERDICT_KEEP};
    record(bench, &keep, 1);
    stricter.keep_at = 9900;
    assert_ok(
        standard_save(bench->ledger, &stricter, ORIGIN_IMPORTED, &version, &saved, &bench->err),
        &bench->err);
    assert_int_equal(bench_ask(bench, "SELECT judged <> 'keep' FROM fish"), 1);
    assert_stands(bench, 1, 0, 0, 0);
}

/* Many are written together, and what is left over one by one. */
static void a_round_of_any_size_is_recorded_whole(void **state)
{
    enum { FISH = 37 };
    struct bench *bench = *state;
    struct pass_decision decisions[FISH];
    struct pass_decisions read;
    for (int i = 0; i < FISH; i++)
        decisions[i] = (struct pass_decision){.fish = bench_fish(bench, 1, i + 1),
                                              .verdict = i % 2 ? VERDICT_HOLD : VERDICT_KEEP,
                                              .reason = i % 2,
                                              .score = 100 + i,
                                              .rank = FISH - i};
    struct pass pass = record(bench, decisions, FISH);
    assert_ok(pass_decisions_get(bench->ledger, pass.id, &read, &bench->err), &bench->err);
    assert_int_equal(read.count, FISH);
    for (int i = 0; i < FISH; i++) {
        assert_true(read.fish[i].fish == decisions[i].fish);
        assert_int_equal(read.fish[i].score, decisions[i].score);
        assert_int_equal(read.fish[i].rank, decisions[i].rank);
        assert_int_equal(read.fish[i].reason, decisions[i].reason);
    }
    pass_decisions_done(&read);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM fish WHERE verdict = 'hold'"),
                     FISH / 2);
    assert_int_equal(bench_ask(bench, "SELECT fish_keep FROM round"), FISH - FISH / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_round_of_any_size_is_recorded_whole),
        on_stocked_bench(a_pass_is_read_as_it_was_recorded),
        on_stocked_bench(the_pass_recorded_last_is_the_latest),
        on_stocked_bench(a_pass_is_recorded_whole_or_not_at_all),
        on_stocked_bench(a_pass_stands_until_a_fish_is_judged_otherwise),
        on_stocked_bench(a_fish_for_which_no_place_was_left_stands_on_hold),
        on_stocked_bench(a_pass_stands_when_the_standard_has_a_newer_version),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
