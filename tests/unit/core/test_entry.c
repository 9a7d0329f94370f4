#include "senbetsu/core/entry.h"
#include "support/standard.h"
#include "support/test.h"

enum { SPINE, GILL };

static const struct standard example = {
    STANDARD("plain", "Plain", STAGE_THIRD, 6500, 5500),
    ASPECTS(2, ASPECT("white", "White ground", 1), ASPECT("body", "Body", 1)),
    FAULTS(2, FAULT("spine", "Bent spine", EFFECT_REJECT),
           FAULT("gill", "Gill cover", EFFECT_HOLD)),
};

static void apply(struct fish *fish, int look, int64_t at_ms, struct entry entry)
{
    fish_apply(fish, &example, look, at_ms, &entry);
}

static struct entry score(const char *aspect, int number)
{
    struct entry entry = {.kind = ENTRY_SCORE, .number = number};
    snprintf(entry.what, sizeof entry.what, "%s", aspect);
    return entry;
}

static struct entry fault(const char *code, int number)
{
    struct entry entry = {.kind = ENTRY_FAULT, .number = number};
    snprintf(entry.what, sizeof entry.what, "%s", code);
    return entry;
}

static struct entry hand(enum verdict verdict, const char *why)
{
    struct entry entry = {.kind = ENTRY_VERDICT, .number = verdict};
    snprintf(entry.text, sizeof entry.text, "%s", why);
    return entry;
}

static struct entry words(enum entry_kind kind, const char *text)
{
    struct entry entry = {.kind = kind};
    snprintf(entry.text, sizeof entry.text, "%s", text);
    return entry;
}

static struct entry closing(enum verdict verdict)
{
    return (struct entry){.kind = ENTRY_CLOSE, .number = verdict};
}

static struct fish new_fish(void)
{
    struct fish fish;
    fish_init(&fish, 71, 5, 3, 12);
    return fish;
}

/* Both aspects in the first look, then closed. */
static struct fish judged_fish(int white, int body, enum verdict verdict)
{
    struct fish fish = new_fish();
    apply(&fish, 1, 1000, score("white", white));
    apply(&fish, 1, 2000, score("body", body));
    apply(&fish, 1, 2000, closing(verdict));
    return fish;
}

static void a_new_fish_is_not_looked_at(void **state)
{
    (void)state;
    struct fish fish = new_fish();
    assert_int_equal(fish.id, 71);
    assert_int_equal(fish.bowl_id, 5);
    assert_int_equal(fish.bowl, 3);
    assert_int_equal(fish.number, 12);
    assert_int_equal(fish.look, 0);
    assert_int_equal(fish.first_ms, 0);
    assert_false(fish.closed);
    assert_int_equal(fish.sent, VERDICT_OPEN);
    assert_string_equal(fish.tag, "");
    assert_int_equal(fish.judgement.scores[0], SCORE_NONE);
    assert_int_equal(fish.earlier.scores[0], SCORE_NONE);
}

static void entries_add_up(void **state)
{
    (void)state;
    struct fish fish = new_fish();
    apply(&fish, 1, 1000, score("white", 4));
    apply(&fish, 1, 2000, fault("gill", 1));
    apply(&fish, 1, 3000, (struct entry){.kind = ENTRY_LENGTH, .number = 118});
    apply(&fish, 1, 4000, words(ENTRY_TAG, "392141000123456"));
    apply(&fish, 1, 5000, words(ENTRY_NOTE, "菊翠, bold"));
    assert_int_equal(fish.look, 1);
    assert_int_equal(fish.first_ms, 1000);
    assert_int_equal(fish.judgement.scores[0], 4);
    assert_int_equal(fish.judgement.scores[1], SCORE_NONE);
    assert_int_equal(fish.judgement.faults, 1 << GILL);
    assert_int_equal(fish.length_mm, 118);
    assert_string_equal(fish.tag, "392141000123456");
    assert_string_equal(fish.note, "菊翠, bold");
    apply(&fish, 1, 6000, words(ENTRY_TAG, ""));
    apply(&fish, 1, 6000, (struct entry){.kind = ENTRY_LENGTH, .number = 0});
    assert_string_equal(fish.tag, "");
    assert_int_equal(fish.length_mm, 0);
}

static void closing_puts_a_fish_away_and_taking_back_brings_it_out(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 4, VERDICT_KEEP);
    assert_true(fish.closed);
    assert_int_equal(fish.sent, VERDICT_KEEP);
    assert_int_equal(fish.closed_ms, 2000);

    apply(&fish, 1, 3000, score("body", SCORE_NONE));
    assert_false(fish.closed);
    assert_int_equal(fish.judgement.scores[1], SCORE_NONE);
    assert_int_equal(fish.sent, VERDICT_KEEP); /* that basin is where it went */

    fish = judged_fish(4, 4, VERDICT_KEEP);
    apply(&fish, 1, 3000, fault("spine", 1));
    apply(&fish, 1, 3000, closing(VERDICT_REJECT));
    apply(&fish, 1, 4000, fault("spine", 0));
    assert_int_equal(fish.judgement.faults, 0);
    assert_false(fish.closed);
}

static void a_correction_that_closes_again_stays_closed(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 4, VERDICT_KEEP);
    apply(&fish, 1, 9000, score("white", 2));
    apply(&fish, 1, 9000, closing(VERDICT_REJECT));
    assert_true(fish.closed);
    assert_int_equal(fish.sent, VERDICT_REJECT);
    assert_int_equal(fish.closed_ms, 9000);
    assert_int_equal(fish.first_ms, 1000);
}

static void a_second_look_begins_empty_and_keeps_the_first(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 3, VERDICT_HOLD);
    apply(&fish, 1, 2500, words(ENTRY_NOTE, "again"));
    apply(&fish, 2, 8000, score("white", 5));
    assert_int_equal(fish.look, 2);
    assert_false(fish.closed);
    assert_int_equal(fish.judgement.scores[0], 5);
    assert_int_equal(fish.judgement.scores[1], SCORE_NONE);
    assert_int_equal(fish.judgement.faults, 0);
    assert_int_equal(fish.earlier.scores[0], 4);
    assert_int_equal(fish.earlier.scores[1], 3);
    assert_string_equal(fish.note, "again");
    assert_int_equal(fish.first_ms, 1000);
}

static void a_look_can_be_begun_before_its_first_entry(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 3, VERDICT_HOLD), stepwise = fish;
    fish_begin_look(&fish, 2, 8000);
    assert_int_equal(fish.look, 2);
    assert_int_equal(fish.judgement.scores[0], SCORE_NONE);
    assert_int_equal(fish.earlier.scores[0], 4);
    assert_false(fish.closed);
    apply(&fish, 2, 8000, score("white", 5));
    apply(&stepwise, 2, 8000, score("white", 5));
    assert_int_equal(fish.judgement.scores[0], stepwise.judgement.scores[0]);
    assert_int_equal(fish.earlier.scores[1], stepwise.earlier.scores[1]);
}

static void the_look_closed_last_is_known(void **state)
{
    (void)state;
    struct fish fish = new_fish();
    assert_int_equal(fish.closed_look, 0);
    apply(&fish, 1, 1000, fault("gill", 1));
    assert_int_equal(fish.closed_look, 0);
    apply(&fish, 1, 1000, closing(VERDICT_HOLD));
    assert_int_equal(fish.closed_look, 1);
    apply(&fish, 2, 2000, score("white", 5));
    assert_int_equal(fish.closed_look, 1);
    apply(&fish, 2, 3000, closing(VERDICT_KEEP));
    assert_int_equal(fish.closed_look, 2);
}

static void the_last_complete_look_decides(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 3, VERDICT_HOLD);
    apply(&fish, 2, 8000, score("white", 5));
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 4);
    apply(&fish, 2, 8000, score("body", 5));
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 5);

    fish = judged_fish(4, 3, VERDICT_HOLD);
    apply(&fish, 2, 8000, fault("spine", 1)); /* knocked out: complete without scores */
    assert_int_equal(fish_deciding(&fish, &example).faults, 1 << SPINE);
    assert_int_equal(fish_deciding(&fish, &example).scores[0], SCORE_NONE);
}

static void a_look_broken_off_does_not_push_a_finished_one_out(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 3, VERDICT_HOLD);
    apply(&fish, 2, 8000, score("white", 5));
    apply(&fish, 3, 9000, score("white", 1));
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 4);
    apply(&fish, 3, 9000, score("body", 1));
    apply(&fish, 3, 9000, closing(VERDICT_REJECT));
    apply(&fish, 4, 9500, score("body", 5));
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 1);
}

static void where_no_look_is_complete_the_last_one_stands(void **state)
{
    (void)state;
    struct fish fish = new_fish();
    assert_int_equal(fish_deciding(&fish, &example).scores[0], SCORE_NONE);
    apply(&fish, 1, 1000, score("white", 4));
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 4);
    apply(&fish, 2, 2000, score("body", 2));
    assert_int_equal(fish_deciding(&fish, &example).scores[0], SCORE_NONE);
    assert_int_equal(fish_deciding(&fish, &example).scores[1], 2);
}

static void the_hand_stands_through_looks(void **state)
{
    (void)state;
    struct fish fish = judged_fish(2, 2, VERDICT_REJECT);
    apply(&fish, 1, 3000, hand(VERDICT_KEEP, "her sister won"));
    assert_string_equal(fish.hand_reason, "her sister won");
    apply(&fish, 2, 4000, score("white", 1));
    assert_int_equal(fish_deciding(&fish, &example).by_hand, VERDICT_KEEP);
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 2); /* look 2 is not complete */
    apply(&fish, 2, 5000, score("body", 1));
    assert_int_equal(fish_deciding(&fish, &example).by_hand, VERDICT_KEEP);
    assert_int_equal(fish_deciding(&fish, &example).scores[0], 1);
    apply(&fish, 2, 6000, hand(VERDICT_OPEN, ""));
    assert_int_equal(fish_deciding(&fish, &example).by_hand, VERDICT_OPEN);
    assert_string_equal(fish.hand_reason, "");
}

static void taking_the_hand_away_opens_the_fish(void **state)
{
    (void)state;
    struct fish fish = new_fish();
    apply(&fish, 1, 1000, hand(VERDICT_REJECT, "dead"));
    apply(&fish, 1, 1000, closing(VERDICT_REJECT));
    assert_true(fish.closed);
    apply(&fish, 1, 2000, hand(VERDICT_OPEN, ""));
    assert_false(fish.closed);
}

static void what_the_standard_does_not_know_is_passed_over(void **state)
{
    (void)state;
    struct fish fish = judged_fish(4, 4, VERDICT_KEEP);
    apply(&fish, 1, 3000, score("lustre", 5));
    apply(&fish, 1, 3000, fault("mouth", 1));
    assert_int_equal(fish.judgement.scores[0], 4);
    assert_int_equal(fish.judgement.scores[1], 4);
    assert_int_equal(fish.judgement.faults, 0);
    assert_true(fish.closed);
    apply(&fish, 1, 3000, score("white", 6));
    assert_int_equal(fish.judgement.scores[0], SCORE_NONE);
    apply(&fish, 1, 3000, score("white", 300));
    assert_int_equal(fish.judgement.scores[0], SCORE_NONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_new_fish_is_not_looked_at),
        cmocka_unit_test(entries_add_up),
        cmocka_unit_test(closing_puts_a_fish_away_and_taking_back_brings_it_out),
        cmocka_unit_test(a_correction_that_closes_again_stays_closed),
        cmocka_unit_test(a_second_look_begins_empty_and_keeps_the_first),
        cmocka_unit_test(a_look_can_be_begun_before_its_first_entry),
        cmocka_unit_test(the_look_closed_last_is_known),
        cmocka_unit_test(the_last_complete_look_decides),
        cmocka_unit_test(a_look_broken_off_does_not_push_a_finished_one_out),
        cmocka_unit_test(where_no_look_is_complete_the_last_one_stands),
        cmocka_unit_test(the_hand_stands_through_looks),
        cmocka_unit_test(taking_the_hand_away_opens_the_fish),
        cmocka_unit_test(what_the_standard_does_not_know_is_passed_over),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
