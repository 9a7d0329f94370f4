#include "support/test.h"

#include "cull_sample.h"
#include "senbetsu/print/cull_bowl.h"

static struct fish_row at(int bowl, int number)
{
    return sample_fish(bowl, number, VERDICT_KEEP, "score", "score");
}

static void check_walk(const struct cull_round *round, const char *expected)
{
    struct text walked;
    text_init(&walked);
    struct bowl_walk walk = {0};
    for (struct bowl_fish bowl; bowl_walk_next(round, &walk, &bowl);)
        text_addf(&walked, "%d:%zu/%d ", bowl.number, bowl.count, bowl.expected);
    assert_string_equal(walked.data, expected);
    text_done(&walked);
}

static void walks_bowls_with_and_without_fish(void **state)
{
    (void)state;
    const struct cull_bowl bowls[] = {{1, 20}, {3, 5}, {7, 0}};
    const struct fish_row fish[] = {at(1, 1), at(1, 2), at(2, 1), at(7, 4), at(9, 1)};
    struct cull_round round = sample_round(bowls, 3, fish, 5);
    check_walk(&round, "1:2/20 2:1/0 3:0/5 7:1/0 9:1/0 ");
    round = sample_round(bowls, 3, NULL, 0);
    check_walk(&round, "1:0/20 3:0/5 7:0/0 ");
    round = sample_round(NULL, 0, fish, 5);
    check_walk(&round, "1:2/0 2:1/0 7:1/0 9:1/0 ");
    round = sample_round(NULL, 0, NULL, 0);
    check_walk(&round, "");
}

static void check_unseen(int expected, const int *numbers, size_t count, const char *text, int fish)
{
    struct fish_row rows[8];
    for (size_t i = 0; i < count; i++)
        rows[i] = at(1, numbers[i]);
    struct bowl_fish bowl = {.number = 1, .expected = expected, .fish = rows, .count = count};
    struct text unseen;
    struct cull_count counts = {0};
    text_init(&unseen);
    cull_unseen_text(&bowl, &unseen);
    cull_count_add(&counts, &bowl);
    assert_string_equal(unseen.data, text);
    assert_int_equal(counts.unseen, fish);
    text_done(&unseen);
}

static void names_the_numbers_nobody_looked_at(void **state)
{
    (void)state;
    check_unseen(20, (const int[]){1, 2, 3}, 3, "4–20", 17);
    check_unseen(6, (const int[]){2, 4, 5}, 3, "1, 3, 6", 3);
    check_unseen(9, (const int[]){4, 8}, 2, "1–3, 5–7, 9", 7);
    check_unseen(3, NULL, 0, "1–3", 3);
    check_unseen(3, (const int[]){1, 2, 3}, 3, "", 0);
}

static void expects_nothing_where_no_number_is_known(void **state)
{
    (void)state;
    check_unseen(0, (const int[]){4, 9}, 2, "", 0);
    check_unseen(0, NULL, 0, "", 0);
}

static void takes_fish_beyond_the_expected_ones(void **state)
{
    (void)state;
    check_unseen(3, (const int[]){1, 7, 9}, 3, "2–3", 2);
    check_unseen(3, (const int[]){7, 9}, 2, "1–3", 3);
    check_unseen(3, (const int[]){2, 3, 4}, 3, "1", 1);
}

/* What the round's form says outweighs its bowls where it is more, and is no less than they hold.
 */
static void counts_fish_that_are_in_no_bowl_yet(void **state)
{
    (void)state;
    const struct cull_bowl bowls[] = {{.number = 1, .expected = 5}};
    const struct fish_row fish[] = {{.bowl = 1, .number = 1, .verdict = VERDICT_KEEP},
                                    {.bowl = 1, .number = 2, .verdict = VERDICT_OPEN}};
    struct cull_round round = {
        .bowls = bowls, .bowl_count = 1, .fish = fish, .fish_count = 2, .expected = 12};
    struct cull_count count = cull_count_round(&round);
    assert_int_equal(count.unseen, 10);
    assert_int_equal(cull_not_judged(&count), 11);
    round.expected = 4;
    count = cull_count_round(&round);
    assert_int_equal(cull_not_judged(&count), 4);
}

static void counts_each_fish_once(void **state)
{
    (void)state;
    const struct cull_bowl bowls[] = {{1, 6}, {2, 2}};
    struct fish_row fish[] = {
        at(1, 1),
        sample_fish(1, 2, VERDICT_REJECT, "fault spine", "Bent spine"),
        sample_fish(1, 3, VERDICT_HOLD, "places", "no place left"),
        sample_fish(1, 5, VERDICT_OPEN, "unscored white", "White ground not judged"),
        sample_fish(3, 1, VERDICT_REJECT, "score", "score"),
    };
    fish[4].since_pass = true;
    struct cull_round round = sample_round(bowls, 2, fish, 5);
    struct cull_count count = cull_count_round(&round);
    struct text text;
    text_init(&text);
    cull_count_text(&count, &text);
    assert_string_equal(text.data, "take out 2, look again 1, keep 1, not judged 5: 9 in all");
    assert_int_equal(count.since, 1);
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(walks_bowls_with_and_without_fish),
        cmocka_unit_test(names_the_numbers_nobody_looked_at),
        cmocka_unit_test(expects_nothing_where_no_number_is_known),
        cmocka_unit_test(takes_fish_beyond_the_expected_ones),
        cmocka_unit_test(counts_fish_that_are_in_no_bowl_yet),
        cmocka_unit_test(counts_each_fish_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
