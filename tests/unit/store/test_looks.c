#include "bench.h"
#include "senbetsu/store/judges.h"

static void say(struct bench *bench, int64_t fish, int64_t judge, int look, bool checking,
                struct entry entry)
{
    struct stroke stroke = {.fish = fish,
                            .judge = judge,
                            .look = look,
                            .checking = checking,
                            .at_ms = bench->now,
                            .standard = bench->standard,
                            .entry_count = 1,
                            .entries = {entry}};
    assert_ok(stroke_record(bench->ledger, &stroke, NULL, NULL, &bench->err), &bench->err);
    bench->now += 1000;
}

static void each_look_and_each_check_is_summed_by_itself(void **state)
{
    enum { FIRST, SECOND, CHECK_OF_AKI, CHECK_OF_MIKA, LOOKS };
    struct bench *bench = *state;
    struct look *looks;
    size_t count;
    int64_t aki;
    int64_t mika = 0;
    int64_t fish = bench_fish(bench, 1, 1);
    assert_ok(judge_named(bench->ledger, "Aki", &aki, &bench->err) &&
                  judge_named(bench->ledger, "Mika", &mika, &bench->err),
              &bench->err);
    say(bench, fish, aki, 1, false, bench_score("white", 2));
    say(bench, fish, mika, 1, false, bench_score("body", 3)); /* takes over */
    say(bench, fish, mika, 1, true, bench_score("white", 5));
    say(bench, fish, mika, 1, true, (struct entry){.kind = ENTRY_LENGTH, .number = 70});
    say(bench, fish, aki, 1, true, bench_score("white", 1));
    bench->now += INT64_C(86400000);
    say(bench, fish, aki, 2, false, bench_score("white", 4));
    say(bench, fish, aki, 2, false, (struct entry){.kind = ENTRY_LENGTH, .number = 64});
    bench_fish(bench, 1, 2); /* never looked at */

    assert_ok(looks_of_round(bench->ledger, bench_round(bench).id, bench_standard(), &looks, &count,
                             &bench->err),
              &bench->err);
    assert_int_equal(count, LOOKS);
    assert_int_equal(looks[FIRST].look, 1);
    assert_string_equal(looks[FIRST].judge_name, "Mika");
    assert_string_equal(looks[FIRST].day, "2026-07-26");
    assert_int_equal(looks[FIRST].summed.judgement.scores[0], 2);
    assert_int_equal(looks[FIRST].summed.judgement.scores[1], 3);
    assert_int_equal(looks[FIRST].summed.length_mm, 64); /* the fish's */

    assert_int_equal(looks[SECOND].look, 2);
    assert_string_equal(looks[SECOND].day, "2026-07-27");
    assert_int_equal(looks[SECOND].summed.judgement.scores[0], 4);
    assert_int_equal(looks[SECOND].summed.judgement.scores[1], SCORE_NONE);

    assert_true(looks[CHECK_OF_AKI].checking && looks[CHECK_OF_MIKA].checking);
    assert_string_equal(looks[CHECK_OF_AKI].judge_name, "Aki");
    assert_int_equal(looks[CHECK_OF_AKI].summed.judgement.scores[0], 1);
    assert_int_equal(looks[CHECK_OF_AKI].summed.length_mm, 64);
    assert_int_equal(looks[CHECK_OF_MIKA].summed.judgement.scores[0], 5);
    assert_int_equal(looks[CHECK_OF_MIKA].summed.length_mm, 70); /* its own */
    free(looks);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(each_look_and_each_check_is_summed_by_itself),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
