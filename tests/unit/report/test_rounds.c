#include "senbetsu/report/rounds.h"
#include "senbetsu/store/round_counts.h"

#include "bench.h"
#include "private.h"
#include "senbetsu/store/passes.h"
#include "senbetsu/store/tallies.h"

static struct round_counts nothing(void)
{
    struct round_counts said;
    round_counts_init(&said);
    return said;
}

static struct round_counts whole(void)
{
    return (struct round_counts){{98000, METHOD_WEIGHED, 50000},
                                 {9400, METHOD_COUNTED, 0},
                                 88000,
                                 600,
                                 "2026-07-26",
                                 "thundery"};
}

static enum saved record(struct bench *bench, const struct round_counts *said)
{
    enum saved saved = SAVED_SAME;
    assert_ok(
        round_counts_record(bench->ledger, bench_round(bench).id, said, 0, &saved, &bench->err),
        &bench->err);
    return saved;
}

static struct round_counts known(struct bench *bench)
{
    struct round_counts counts = nothing();
    assert_ok(round_counts_get(bench->ledger, bench_round(bench).id, &counts, &bench->err),
              &bench->err);
    return counts;
}

static struct round_summary summary_of(struct bench *bench)
{
    struct round_summary *list;
    size_t count;
    assert_ok(round_summary_list(bench->ledger, NULL, &list, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1);
    struct round_summary only = list[0];
    free(list);
    return only;
}

static void numbers_are_given_back(void **state)
{
    struct bench *bench = *state;
    struct round_counts said = whole();
    struct round_counts empty = nothing();
    struct round_counts counts = known(bench);
    assert_true(round_counts_equal(&counts, &empty));
    assert_int_equal(record(bench, &said), SAVED_NEW);
    counts = known(bench);
    assert_true(round_counts_equal(&counts, &said));
    bench_close(bench); /* opening looks at every page */
    bench_open(bench);
    counts = known(bench);
    assert_true(round_counts_equal(&counts, &said));
}

/* Saying it twice adds nothing; saying otherwise adds, and what was said before is still there. */
static void statements_are_only_added(void **state)
{
    struct bench *bench = *state;
    struct round_counts said = whole();
    record(bench, &said);
    assert_int_equal(record(bench, &said), SAVED_SAME);
    said = nothing();
    assert_int_equal(record(bench, &said), SAVED_SAME);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM round_count"), 1);
    said.kept = (struct count){9500, METHOD_COUNTED, 0};
    assert_int_equal(record(bench, &said), SAVED_CHANGED);
    assert_int_equal(known(bench).kept.number, 9500);
    assert_int_equal(known(bench).in.number, 98000);
    assert_int_equal(bench_ask(bench, "SELECT kept_number FROM round_count WHERE revision = 1"),
                     9400);
    assert_int_equal(bench_ask(bench, "SELECT kept_number FROM round_count WHERE revision = 2"),
                     9500);
    assert_int_equal(
        bench_ask(bench, "SELECT in_number IS NULL FROM round_count WHERE revision = 2"), 1);
}

static void a_rounds_line_shows_what_was_stated(void **state)
{
    struct bench *bench = *state;
    struct round round;
    struct round_summary summary;
    bool is_new;
    enum saved saved;
    struct round_counts said = nothing();
    assert_ok(round_begin_as(bench->ledger, "K1", "", STAGE_FIRST, MANNER_PICK, &round, &is_new,
                             &bench->err),
              &bench->err);
    said.in.number = 900;
    said.kept.number = 300;
    said.dead = 4;
    snprintf(said.day, sizeof said.day, "2026-07-26");
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
    assert_ok(round_summary_get(bench->ledger, round.id, &summary, &bench->err), &bench->err);
    assert_int_equal(summary.tally.verdicts[VERDICT_KEEP], 300);
    assert_int_equal(summary.tally.verdicts[VERDICT_REJECT], 596);
    assert_int_equal(summary.tally.judged, 896);
    assert_string_equal(summary.last_day, "2026-07-26");
    said.rejected = 590;
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
    assert_ok(round_summary_get(bench->ledger, round.id, &summary, &bench->err), &bench->err);
    assert_int_equal(summary.tally.verdicts[VERDICT_REJECT], 590);
}

static void judge_two_bowls(struct bench *bench)
{
    bench_stroke(bench, bench_fish(bench, 2, 1), 1, bench_fault("spine", 1));
    bench_stroke(bench, bench_fish(bench, 1, 1), 1, bench_score("white", 4));
    bench_stroke(bench, bench_fish(bench, 1, 1), 1, bench_score("body", 4));
    bench_stroke(bench, bench_fish(bench, 1, 2), 1, bench_score("body", 4));
    bench_fish(bench, 1, 3);
}

static void a_summary_counts(void **state)
{
    struct bench *bench = *state;
    struct round_summary *rounds = NULL;
    struct round_summary summary;
    size_t count;
    struct bowl bowl;
    judge_two_bowls(bench);
    assert_ok(round_summary_list(bench->ledger, NULL, &rounds, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1);
    assert_int_equal(rounds[0].bowls, 2);
    assert_int_equal(rounds[0].tally.judged, 2);
    assert_int_equal(rounds[0].tally.verdicts[VERDICT_OPEN], 2);
    assert_int_equal(rounds[0].tally.verdicts[VERDICT_KEEP], 1);
    assert_int_equal(rounds[0].tally.verdicts[VERDICT_HOLD], 0);
    assert_int_equal(rounds[0].tally.verdicts[VERDICT_REJECT], 1);
    assert_int_equal(rounds[0].tally.expected, 0);
    assert_string_equal(rounds[0].first_day, "2026-07-26");
    assert_string_equal(rounds[0].last_day, "2026-07-26");

    /* Expected: the bowls' sum, or what the round itself says. */
    struct round round = rounds[0].round;
    free(rounds);
    assert_ok(bowl_begin(bench->ledger, round.id, 1, 20, "2026-07-26", &bowl, &bench->err) &&
                  bowl_begin(bench->ledger, round.id, 2, 15, "2026-07-26", &bowl, &bench->err),
              &bench->err);
    assert_ok(round_summary_get(bench->ledger, round.id, &summary, &bench->err), &bench->err);
    assert_int_equal(summary.tally.expected, 35);
    round.expected = 60;
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    assert_ok(round_summary_get(bench->ledger, round.id, &summary, &bench->err), &bench->err);
    assert_int_equal(summary.tally.expected, 60);
}

static int expected_of(struct bench *bench, int64_t round)
{
    struct round_summary summary;
    assert_ok(round_summary_get(bench->ledger, round, &summary, &bench->err), &bench->err);
    return summary.tally.expected;
}

static void expect(struct bench *bench, int64_t round, int number, int fish)
{
    struct bowl bowl;
    assert_ok(bowl_begin(bench->ledger, round, number, fish, "2026-07-26", &bowl, &bench->err),
              &bench->err);
}

static void uncounted_bowls_hold_what_turned_up(void **state)
{
    struct bench *bench = *state;
    int64_t round = bench_round(bench).id;
    assert_int_equal(expected_of(bench, round), 0);
    judge_two_bowls(bench); /* three fish in bowl 1, one in bowl 2, neither counted */
    assert_int_equal(expected_of(bench, round), 0);
    expect(bench, round, 2, 20);
    assert_int_equal(expected_of(bench, round), 3 + 20);
    expect(bench, round, 1, 2); /* counted wrongly */
    assert_int_equal(expected_of(bench, round), 3 + 20);
    expect(bench, round, 3, 0); /* the last bowl may hold any number */
    assert_int_equal(expected_of(bench, round), 0);
    expect(bench, round, 4, 7);
    assert_int_equal(expected_of(bench, round), 3 + 20 + 0 + 7);
}

static void the_day_is_the_local_one(void **state)
{
    struct bench *bench = *state;
    struct ledger *ledger;
    struct round *rounds;
    struct round_summary summary;
    size_t count;
    bool is_new;
    bench->now = INT64_C(1785106800000); /* 2026-07-26 23:00 UTC, the 27th in Japan */
    bench_stroke(bench, bench_fish(bench, 1, 1), 1, bench_score("white", 4));
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    setup.clock.offset_minutes = 9 * 60;
    assert_ok(ledger_open(&setup, &ledger, &is_new, &bench->err), &bench->err);
    assert_ok(round_list_of_day(ledger, "2026-07-27", &rounds, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1);
    assert_ok(round_summary_get(ledger, rounds[0].id, &summary, &bench->err), &bench->err);
    assert_string_equal(summary.first_day, "2026-07-27");
    free(rounds);
    ledger_close(ledger);
}

static struct round tallied_round(struct bench *bench, enum manner manner, int lot)
{
    struct round round = bench_round(bench);
    round.manner = manner;
    round.expected = lot;
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    return round;
}

static void reject(struct bench *bench, const struct round *round)
{
    struct tally_mark mark = {.kind = TALLY_REJECT};
    bench->now += 1000;
    assert_ok(tally_record(bench->ledger, round->id, 0, &mark, NULL, &bench->err), &bench->err);
}

static void the_overview_has_the_tally(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_REMOVE, 100);
    struct round_summary summary;
    reject(bench, &round);
    reject(bench, &round);
    assert_ok(round_summary_get(bench->ledger, round.id, &summary, &bench->err), &bench->err);
    assert_int_equal(summary.round.manner, MANNER_REMOVE);
    assert_int_equal(summary.tally.verdicts[VERDICT_REJECT], 2);
    assert_int_equal(summary.tally.verdicts[VERDICT_KEEP], 98);
    assert_int_equal(summary.tally.judged, 100);
    assert_int_equal(strlen(summary.first_day), 10);
}

/* A stray key in a round out of a notebook rejects nothing. */
static void numbers_that_were_stated_outrank_keys(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 0);
    struct round_summary summary;
    struct round_counts said, known;
    enum saved saved;
    round_counts_init(&said);
    said.in = (struct count){1000, METHOD_COUNTED, 0};
    said.kept = (struct count){120, METHOD_COUNTED, 0};
    text_copy(said.day, sizeof said.day, "2025-07-10");
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
    reject(bench, &round);
    assert_ok(round_counts_known(bench->ledger, round.id, &known, &bench->err), &bench->err);
    assert_int_equal(known.rejected, NOT_COUNTED);
    assert_ok(round_summary_get(bench->ledger, round.id, &summary, &bench->err), &bench->err);
    assert_true(summary.stated);
    assert_int_equal(summary.tally.verdicts[VERDICT_REJECT], 880);
    assert_string_equal(summary.last_day, "2025-07-10");
}

static void what_cannot_be_is_refused(void **state)
{
    struct bench *bench = *state;
    struct round_counts said = nothing();
    enum saved saved;
    int64_t round = bench_round(bench).id;
    said.in = (struct count){100, METHOD_COUNTED, 50000};
    assert_says(round_counts_record(bench->ledger, round, &said, 0, &saved, &bench->err),
                &bench->err, "have no error");
    said = nothing();
    text_copy(said.day, sizeof said.day, "2026-02-30");
    assert_says(round_counts_record(bench->ledger, round, &said, 0, &saved, &bench->err),
                &bench->err, "2026-02-30 is not a date");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM round_count"), 0);
}

static void an_outer_transaction_is_joined(void **state)
{
    struct bench *bench = *state;
    struct round_counts said = whole();
    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    record(bench, &said);
    transaction_rollback(bench->ledger);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM round_count"), 0);
}

static void judge(struct bench *bench, int number, int white)
{
    int64_t fish = bench_fish(bench, 1, number);
    bench_stroke(bench, fish, 1, bench_score("white", white));
    bench_stroke(bench, fish, 1, bench_score("body", white));
}

/* Five fish: two keeps, a reject, one half judged, one not at all. */
static void judged_fish_stand_for_what_nobody_stated(void **state)
{
    struct bench *bench = *state;
    assert_int_equal(summary_of(bench).counts.in.number, NOT_COUNTED);
    judge(bench, 1, 5);
    judge(bench, 2, 5);
    judge(bench, 3, 1);
    bench_stroke(bench, bench_fish(bench, 1, 4), 1, bench_score("white", 5));
    bench_fish(bench, 1, 5);
    assert_int_equal(summary_of(bench).counts.in.number, 3);
    assert_int_equal(summary_of(bench).counts.in.method, METHOD_COUNTED);
    assert_int_equal(summary_of(bench).counts.kept.number, 2);
    assert_int_equal(summary_of(bench).counts.rejected, 1);
    assert_int_equal(summary_of(bench).round.stage, STAGE_SECOND);

    struct round_counts said = nothing();
    said.in = (struct count){40, METHOD_SCOOPED, 100000};
    record(bench, &said);
    assert_int_equal(summary_of(bench).counts.in.number, 40);
    assert_int_equal(summary_of(bench).counts.in.cv, 100000);
    assert_int_equal(summary_of(bench).counts.kept.number, 2);
}

static void expect_fish(struct bench *bench, int fish)
{
    struct round round = bench_round(bench);
    round.expected = fish;
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
}

static void fish_judged_are_all_once_as_many_as_were_said_are(void **state)
{
    struct bench *bench = *state;
    judge(bench, 1, 5);
    judge(bench, 2, 5);
    assert_true(summary_of(bench).in_so_far);
    expect_fish(bench, 3);
    assert_true(summary_of(bench).in_so_far);
    judge(bench, 3, 1);
    assert_false(summary_of(bench).in_so_far);
}

static void fewer_fish_judged_than_were_said_are_a_round_at_work(void **state)
{
    struct bench *bench = *state;
    judge(bench, 1, 5);
    judge(bench, 2, 5);
    assert_int_equal(summary_of(bench).whole, 0);
    expect_fish(bench, 3);
    assert_int_equal(summary_of(bench).done, 2);
    assert_int_equal(summary_of(bench).whole, 3);
    struct round_counts said = nothing();
    said.in = (struct count){2, METHOD_COUNTED, 0};
    record(bench, &said);
    assert_int_equal(summary_of(bench).whole, 0);
    said.in.number = 5;
    record(bench, &said);
    assert_int_equal(summary_of(bench).whole, 5);
    said.kept = (struct count){1, METHOD_COUNTED, 0};
    record(bench, &said);
    assert_int_equal(summary_of(bench).whole, 0);
}

/* The pass held one for want of a place; the fish judged after it counts as it stands. */
static void a_pass_outranks_how_fish_stand(void **state)
{
    struct bench *bench = *state;
    struct standard_version version;
    judge(bench, 1, 5);
    judge(bench, 2, 5);
    assert_ok(standard_named(bench->ledger, "kikusui-second", &version, &bench->err), &bench->err);
    struct pass pass = {
        .round_id = bench_round(bench).id, .standard_version = version.id, .places = 1, .unit = 1};
    struct decision_reason reasons[] = {{"score", "score"}, {"places", "no place left"}};
    struct pass_decision fish[] = {
        {.fish = bench_fish(bench, 1, 1), .verdict = VERDICT_KEEP, .reason = 0},
        {.fish = bench_fish(bench, 1, 2), .verdict = VERDICT_HOLD, .reason = 1}};
    struct pass_decisions decisions = {reasons, 2, fish, 2};
    assert_ok(pass_record(bench->ledger, &pass, &decisions, &bench->err), &bench->err);
    assert_int_equal(summary_of(bench).counts.kept.number, 1);
    judge(bench, 3, 5);
    assert_int_equal(summary_of(bench).counts.in.number, 3);
    assert_int_equal(summary_of(bench).counts.kept.number, 2);
}

/* Rates take the tally where nobody stated a number; a stated one outweighs it. */
static void the_numbers_come_from_the_tally(void **state)
{
    struct bench *bench = *state;
    struct round round = bench_round(bench);
    struct tally_mark keep = {.kind = TALLY_KEEP}, reject = {.kind = TALLY_REJECT};
    struct round_summary *list;
    struct round_counts said;
    enum saved saved;
    size_t count;
    round.manner = MANNER_REMOVE;
    round.expected = 0;
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    snprintf(reject.reason, sizeof reject.reason, "spine");
    for (int i = 0; i < 4; i++) {
        bench->now += 1000;
        assert_ok(
            tally_record(bench->ledger, round.id, 0, i < 3 ? &keep : &reject, NULL, &bench->err),
            &bench->err);
    }
    assert_ok(round_summary_list(bench->ledger, NULL, &list, &count, &bench->err), &bench->err);
    assert_int_equal(count, 1);
    assert_int_equal(list[0].counts.in.number, 4);
    assert_int_equal(list[0].counts.kept.number, 3);
    assert_int_equal(list[0].counts.rejected, 1);
    assert_int_equal(list[0].counts.dead, 0);
    free(list);
    round_counts_init(&said);
    said.kept = (struct count){2, METHOD_COUNTED, 0};
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
    assert_ok(round_summary_list(bench->ledger, NULL, &list, &count, &bench->err), &bench->err);
    assert_int_equal(list[0].counts.kept.number, 2);
    assert_int_equal(list[0].counts.in.number, 4);
    free(list);
}

/* The culls of a notebook, of all stages but the one that the bench judges in. Every other one was
 * corrected. */
static void state_many(struct bench *bench, const char *lot)
{
    struct round round;
    enum saved saved;
    bool is_new;
    for (int stage = 0; stage < STAGE_COUNT; stage++) {
        struct round_counts said = whole();
        if (stage == STAGE_SECOND)
            continue;
        assert_ok(round_begin_as(bench->ledger, "K1", lot, (enum stage)stage, MANNER_PICK, &round,
                                 &is_new, &bench->err),
                  &bench->err);
        for (int i = 0; i <= stage % 2; i++, said.kept.number += 100, said.dead = NOT_COUNTED)
            assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
                      &bench->err);
    }
}

static const struct cull_numbers *numbers_of(const struct cull_numbers *numbers, size_t count,
                                             int64_t id)
{
    for (size_t i = 0; i < count; i++)
        if (numbers[i].id == id)
            return &numbers[i];
    fail_msg("the round is not among them");
    return NULL;
}

static void assert_numbers(const struct cull_numbers *found, const struct round_summary *summary)
{
    assert_int_equal(found->lot_id, summary->round.lot_id);
    assert_int_equal(found->stage, summary->round.stage);
    assert_true(count_equal(&found->in, &summary->counts.in));
    assert_true(count_equal(&found->kept, &summary->counts.kept));
    assert_int_equal(found->dead, summary->counts.dead);
    assert_string_equal(found->day, summary->counts.day);
    assert_int_equal(found->covariance, summary->covariance);
    assert_int_equal(found->in_so_far, summary->in_so_far);
    assert_int_equal(found->done, summary->done);
    assert_int_equal(found->whole, summary->whole);
    assert_int_equal(found->outdated, round_pass_outdated(summary));
}

/* Whatever is known of a round, rates get what everybody else does. */
static void numbers_are_those_of_the_summaries(void **state)
{
    struct bench *bench = *state;
    struct round_summary *rounds;
    struct cull_numbers *numbers;
    struct round tallied;
    size_t count, numbered;
    judge_two_bowls(bench);
    state_many(bench, "west");
    assert_ok(round_begin(bench->ledger, "K1", "west", STAGE_HOUSE, &tallied, &bench->err),
              &bench->err);
    reject(bench, &tallied);
    bench_do(bench, "UPDATE round SET retired_ms = 1 WHERE stage = 'fourth'");
    assert_ok(round_summary_list(bench->ledger, NULL, &rounds, &count, &bench->err), &bench->err);
    assert_ok(cull_numbers_list(bench->ledger, &numbers, &numbered, &bench->err), &bench->err);
    assert_int_equal(count, STAGE_COUNT - 1); /* one is retired */
    assert_int_equal(numbered, count);
    for (size_t i = 0; i < count; i++)
        assert_numbers(numbers_of(numbers, numbered, rounds[i].round.id), &rounds[i]);
    free(rounds);
    free(numbers);
}

/* What SQLite does for the numbers of all rounds, in steps of its machine. */
static int64_t steps_of_numbers(struct bench *bench)
{
    struct cull_numbers *numbers;
    size_t count;
    int64_t steps = 0;
    for (sqlite3_stmt *each = NULL; (each = sqlite3_next_stmt(bench->ledger->db, each)) != NULL;)
        sqlite3_stmt_status(each, SQLITE_STMTSTATUS_VM_STEP, 1);
    assert_ok(cull_numbers_list(bench->ledger, &numbers, &count, &bench->err), &bench->err);
    free(numbers);
    for (sqlite3_stmt *each = NULL; (each = sqlite3_next_stmt(bench->ledger->db, each)) != NULL;)
        steps += sqlite3_stmt_status(each, SQLITE_STMTSTATUS_VM_STEP, 1);
    return steps;
}

/* Rates of twenty seasons read thousands of rounds, most of which came out of a notebook. */
static void a_stated_round_costs_a_few_steps(void **state)
{
    enum { MOST_STEPS = 60, LOTS = 6 };
    struct bench *bench = *state;
    state_many(bench, "west");
    int64_t few = steps_of_numbers(bench);
    for (int i = 0; i < LOTS; i++) {
        char lot[8];
        snprintf(lot, sizeof lot, "pond %d", i);
        state_many(bench, lot);
    }
    assert_true(steps_of_numbers(bench) - few < (int64_t)LOTS * (STAGE_COUNT - 1) * MOST_STEPS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(numbers_are_given_back),
        on_stocked_bench(statements_are_only_added),
        on_stocked_bench(a_rounds_line_shows_what_was_stated),
        on_stocked_bench(a_summary_counts),
        on_stocked_bench(uncounted_bowls_hold_what_turned_up),
        on_stocked_bench(the_day_is_the_local_one),
        on_stocked_bench(the_overview_has_the_tally),
        on_stocked_bench(numbers_that_were_stated_outrank_keys),
        on_stocked_bench(what_cannot_be_is_refused),
        on_stocked_bench(an_outer_transaction_is_joined),
        on_stocked_bench(judged_fish_stand_for_what_nobody_stated),
        on_stocked_bench(fish_judged_are_all_once_as_many_as_were_said_are),
        on_stocked_bench(fewer_fish_judged_than_were_said_are_a_round_at_work),
        on_stocked_bench(a_pass_outranks_how_fish_stand),
        on_stocked_bench(the_numbers_come_from_the_tally),
        on_stocked_bench(numbers_are_those_of_the_summaries),
        on_stocked_bench(a_stated_round_costs_a_few_steps),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
