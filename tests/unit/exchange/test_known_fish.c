#include "known_fish.h"
#include "support/small_ledger.h"

static struct known_view view(struct small_ledger *small, struct known_fish *known, int bowl,
                              int number, int64_t judge)
{
    struct known_key key = {small->round.id, bowl, number};
    struct known_view found;
    struct err err;
    assert_ok(known_fish_view(known, small->ledger, &key, &small->standard.standard, judge,
                              "2026-07-18", &found, &err),
              &err);
    return found;
}

static void add(struct small_ledger *small, struct known_view *seen)
{
    struct err err;
    assert_ok(
        fish_begin(small->ledger, seen->fish.bowl_id, seen->fish.number, &seen->fish.id, &err),
        &err);
}

/* More fish than the table begins with, in several bowls: each is new once and found again. */
static void test_every_fish_is_found_again(void **state)
{
    struct small_ledger *small = *state;
    struct known_fish known;
    known_fish_init(&known);
    for (int i = 0; i < 600; i++) {
        struct known_view first = view(small, &known, 1 + i % 7, 1 + i, 0);
        assert_true(first.is_new);
        assert_int_equal(first.line, 0);
        first.line = 2 + i;
        add(small, &first);
        known_fish_take(&known, &first);
    }
    for (int i = 0; i < 600; i++) {
        struct known_view again = view(small, &known, 1 + i % 7, 1 + i, 0);
        assert_int_equal(again.line, 2 + i);
        assert_false(again.is_new);
        assert_int_equal(again.fish.bowl, 1 + i % 7);
        assert_int_equal(again.fish.number, 1 + i);
    }
    known_fish_done(&known);
}

static void record(struct small_ledger *small, int64_t fish, int64_t judge, bool checking)
{
    struct stroke stroke = {.fish = fish,
                            .judge = judge,
                            .look = 1,
                            .checking = checking,
                            .at_ms = small->now,
                            .standard = small->standard.id,
                            .entry_count = 1,
                            .entries = {{.kind = ENTRY_SCORE, .what = "body", .number = 2}}};
    struct err err;
    assert_ok(stroke_record(small->ledger, &stroke, NULL, NULL, &err), &err);
}

static void test_whose_row_it_is(void **state)
{
    struct small_ledger *small = *state;
    struct known_fish known;
    int64_t fish, second, third;
    struct err err;
    assert_ok(judge_named(small->ledger, "Tomo", &second, &err), &err);
    assert_ok(judge_named(small->ledger, "Aya", &third, &err), &err);
    assert_ok(fish_begin(small->ledger, small->bowl.id, 1, &fish, &err), &err);
    record(small, fish, small->judge, false);
    record(small, fish, second, true);
    known_fish_init(&known);
    struct known_view deciding = view(small, &known, 1, 1, small->judge);
    assert_true(deciding.checker == NO_CHECKER);
    assert_true(deciding.decider == small->judge);
    assert_false(deciding.is_new);
    deciding.line = 7;
    known_fish_take(&known, &deciding);
    assert_int_equal(view(small, &known, 1, 1, 0).line, 7); /* nobody named: whoever judged */
    struct known_view check = view(small, &known, 1, 1, second);
    assert_true(check.checker == second);
    assert_int_equal(check.line, 0);
    assert_int_equal(check.fish.judgement.scores[0], 2);
    assert_false(check.is_new);
    assert_true(view(small, &known, 1, 1, third).is_new);
    known_fish_done(&known);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_every_fish_is_found_again, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_whose_row_it_is, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
