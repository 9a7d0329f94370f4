#include "support/test.h"

#include "cull_sample.h"
#include "senbetsu/print/cull_rows.h"

static void check_described(const struct fish_row *fish, const char *expected)
{
    struct text out;
    text_init(&out);
    cull_describe(&out, fish);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void describes_a_fish_by_its_reason(void **state)
{
    (void)state;
    struct fish_row fish = sample_fish(1, 1, VERDICT_REJECT, "fault spine", "Bent spine");
    text_copy(fish.score, sizeof fish.score, "71.4");
    check_described(&fish, "Bent spine");
    text_copy(fish.tag, sizeof fish.tag, "392141000123456");
    text_copy(fish.note, sizeof fish.note, "small");
    fish.since_pass = true;
    check_described(&fish, "Bent spine; tag 392141000123456; judged after the pass; note: small");
}

static void tells_the_score_where_it_decided(void **state)
{
    (void)state;
    struct fish_row fish = sample_fish(1, 1, VERDICT_REJECT, "score", "score");
    check_described(&fish, "score");
    text_copy(fish.score, sizeof fish.score, "41.3");
    check_described(&fish, "score 41.3");
    fish = sample_fish(1, 1, VERDICT_HOLD, "places", "no place left");
    text_copy(fish.score, sizeof fish.score, "71.4");
    check_described(&fish, "no place left; score 71.4");
}

static void check_name(const struct cull_round *round, const char *expected)
{
    struct text out;
    text_init(&out);
    cull_name_text(&out, round);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void names_a_round_by_what_is_known(void **state)
{
    (void)state;
    struct cull_round round = sample_round(NULL, 0, NULL, 0);
    check_name(&round, "K26-1, Kikusui, harvest");
    text_copy(round.lot, sizeof round.lot, "upper pond");
    check_name(&round, "K26-1, Kikusui, lot upper pond, harvest");
    round.lot[0] = round.variety[0] = '\0';
    check_name(&round, "K26-1, harvest");
}

static void sets_rows_in_fives(void **state)
{
    (void)state;
    struct page page;
    struct text out;
    page_init(&page, (struct page_setup){.columns = 40});
    text_init(&out);
    for (int row = 0; row < 7; row++) {
        cull_begin_row(&page, row);
        page_addf(&page, "%d", row + 1);
    }
    page_write(&page, &out);
    assert_non_null(strstr(out.data, "1\n2\n3\n4\n5\n\n6\n7\n"));
    text_done(&out);
    page_done(&page);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(describes_a_fish_by_its_reason),
        cmocka_unit_test(tells_the_score_where_it_decided),
        cmocka_unit_test(names_a_round_by_what_is_known),
        cmocka_unit_test(sets_rows_in_fives),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
