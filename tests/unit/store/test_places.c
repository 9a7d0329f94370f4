#include "bench.h"

static struct place get(struct bench *bench, int64_t judge)
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
    struct place read = get(bench, 0);
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
    assert_int_equal(get(bench, -1).judge, 3);
    place.judge = 2;
    place.number = 21;
    assert_ok(place_save(bench->ledger, &place, &bench->err), &bench->err);
    assert_int_equal(get(bench, -1).judge, 2);
    assert_int_equal(get(bench, 2).number, 21);
    assert_int_equal(get(bench, 1).number, 10);
    assert_int_equal(get(bench, 1).bowl_id, 0);
}

static void a_stroke_brings_its_place_along(void **state)
{
    struct bench *bench = *state;
    int64_t fish = bench_fish(bench, 1, 1);
    struct place place = {.round_id = bench_round(bench).id, .number = 2, .in_sheet = true};
    struct stroke stroke = {.fish = fish, .look = 1, .standard = bench->standard, .entry_count = 1};
    stroke.entries[0] = bench_score("white", 4);
    assert_ok(stroke_record(bench->ledger, &stroke, NULL, &place, &bench->err), &bench->err);
    assert_int_equal(get(bench, -1).number, 2);
    /* Both or neither. */
    place.round_id = 99;
    place.number = 3;
    assert_false(stroke_record(bench->ledger, &stroke, NULL, &place, &bench->err));
    assert_int_equal(get(bench, -1).number, 2);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM stroke"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_place_is_found_again_after_closing),
        on_stocked_bench(each_judge_has_a_place_and_the_last_is_known),
        on_stocked_bench(a_stroke_brings_its_place_along),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
