#include "bench.h"
#include "senbetsu/store/judges.h"

static void judge(struct bench *bench, int64_t fish, int white, int body)
{
    bench_stroke(bench, fish, 1, bench_score("white", white));
    bench_stroke(bench, fish, 1, bench_score("body", body));
}

static void scores_are_those_that_could_be_kept(void **state)
{
    struct bench *bench = *state;
    int64_t *scores;
    size_t count;
    int64_t round = bench_round(bench).id;
    int64_t unit = score_unit(bench_standard());
    judge(bench, bench_fish(bench, 1, 1), 5, 5);
    judge(bench, bench_fish(bench, 1, 2), 3, 3);
    judge(bench, bench_fish(bench, 2, 1), 1, 5);                              /* under a floor */
    bench_stroke(bench, bench_fish(bench, 2, 2), 1, bench_score("white", 4)); /* open */
    bench_stroke(bench, bench_fish(bench, 2, 3), 1, bench_fault("spine", 1)); /* knocked out */
    assert_ok(verdict_scores(bench->ledger, round, unit, &scores, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 2);
    assert_true(scores[0] * 2 == scores[1] && scores[1] == 100 * unit);
    free(scores);
    assert_ok(verdict_scores(bench->ledger, round, unit + 1, &scores, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 0);
    free(scores);
}

static int64_t close_as(struct bench *bench, int64_t fish, int64_t judge_id)
{
    struct cached_verdict cached = {.verdict = VERDICT_REJECT};
    struct stroke stroke = {
        .fish = fish, .judge = judge_id, .look = 1, .at_ms = bench->now, .entry_count = 1};
    stroke.entries[0] = bench_close_entry(VERDICT_REJECT);
    assert_ok(stroke_record(bench->ledger, &stroke, &cached, NULL, &bench->err), &bench->err);
    bench->now += 1000;
    return stroke.id;
}

static size_t closings(struct bench *bench, int64_t judge_id, int64_t since, int64_t *ret_first)
{
    int64_t *instants;
    size_t count;
    assert_ok(closings_of(bench->ledger, bench_round(bench).id, judge_id, since, &instants, &count,
                          &bench->err),
              &bench->err);
    for (size_t i = 1; i < count; i++)
        assert_true(instants[i] >= instants[i - 1]);
    *ret_first = count > 0 ? instants[0] : 0;
    free(instants);
    return count;
}

static void closings_are_each_judges_own(void **state)
{
    struct bench *bench = *state;
    int64_t aki;
    int64_t first;
    int64_t start = bench->now;
    assert_ok(judge_named(bench->ledger, "Aki", &aki, &bench->err), &bench->err);
    close_as(bench, bench_fish(bench, 1, 1), 0);
    close_as(bench, bench_fish(bench, 1, 2), aki);
    close_as(bench, bench_fish(bench, 1, 3), 0);
    assert_int_equal(closings(bench, 0, start, &first), 2);
    assert_int_equal(first, start);
    assert_int_equal(closings(bench, aki, start, &first), 1);
    assert_int_equal(first, start + 1000);
    assert_int_equal(closings(bench, 0, start + 1, &first), 1);
}

static void a_closing_that_was_taken_back_does_not_count(void **state)
{
    struct bench *bench = *state;
    int64_t first;
    int64_t start = bench->now;
    int64_t fish = bench_fish(bench, 1, 1);
    struct cached_verdict open = {.verdict = VERDICT_OPEN};
    struct stroke back = {.fish = fish, .look = 1, .undoes = close_as(bench, fish, 0)};
    assert_int_equal(closings(bench, 0, start, &first), 1);
    assert_ok(stroke_record(bench->ledger, &back, &open, NULL, &bench->err), &bench->err);
    assert_int_equal(closings(bench, 0, start, &first), 0);
    assert_int_equal(bench_ask(bench, "SELECT closed_ms IS NULL FROM fish"), 1);
}

static struct place place_of(struct bench *bench, int64_t judge)
{
    struct place place;
    assert_ok(place_get(bench->ledger, judge, &place, &bench->err), &bench->err);
    return place;
}

static void a_place_is_found_again_after_closing(void **state)
{
    struct bench *bench = *state;
    struct place place = {.round_id = bench_round(bench).id,
                          .bowl_id = bench_bowl(bench, 3).id,
                          .number = 17,
                          .aspect = "body",
                          .in_sheet = true};
    assert_false(place_get(bench->ledger, -1, &place, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
    assert_ok(place_save(bench->ledger, &place, &bench->err), &bench->err);
    bench_close(bench);
    bench_open(bench);
    struct place read = place_of(bench, 0);
    assert_int_equal(read.bowl_id, place.bowl_id);
    assert_int_equal(read.round_id, place.round_id);
    assert_int_equal(read.number, 17);
    assert_string_equal(read.aspect, "body");
    assert_true(read.in_sheet);
    assert_false(read.second_look);
}

static void each_judge_has_a_place_and_the_last_is_known(void **state)
{
    struct bench *bench = *state;
    struct place place = {.round_id = bench_round(bench).id, .number = 1};
    for (int64_t judge = 1; judge <= 3; judge++) {
        place.judge = judge;
        place.number = (int)judge * 10;
        place.second_look = judge == 2;
        assert_ok(place_save(bench->ledger, &place, &bench->err), &bench->err);
    }
    assert_int_equal(place_of(bench, -1).judge, 3);
    place.judge = 2;
    place.number = 21;
    assert_ok(place_save(bench->ledger, &place, &bench->err), &bench->err);
    assert_int_equal(place_of(bench, -1).judge, 2);
    assert_int_equal(place_of(bench, 2).number, 21);
    assert_int_equal(place_of(bench, 1).number, 10);
    assert_int_equal(place_of(bench, 1).bowl_id, 0);
}

static void a_stroke_brings_its_place_along(void **state)
{
    struct bench *bench = *state;
    int64_t fish = bench_fish(bench, 1, 1);
    struct place place = {.round_id = bench_round(bench).id, .number = 2, .in_sheet = true};
    struct stroke stroke = {.fish = fish, .look = 1, .standard = bench->standard, .entry_count = 1};
    stroke.entries[0] = bench_score("white", 4);
    assert_ok(stroke_record(bench->ledger, &stroke, NULL, &place, &bench->err), &bench->err);
    assert_int_equal(place_of(bench, -1).number, 2);
    /* Both or neither. */
    place.round_id = 99;
    place.number = 3;
    assert_false(stroke_record(bench->ledger, &stroke, NULL, &place, &bench->err));
    assert_int_equal(place_of(bench, -1).number, 2);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM stroke"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(scores_are_those_that_could_be_kept),
        on_stocked_bench(closings_are_each_judges_own),
        on_stocked_bench(a_closing_that_was_taken_back_does_not_count),
        on_stocked_bench(a_place_is_found_again_after_closing),
        on_stocked_bench(each_judge_has_a_place_and_the_last_is_known),
        on_stocked_bench(a_stroke_brings_its_place_along),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
