#include "support/test.h"

#include "cull_sample.h"
#include "senbetsu/print/cull_basin.h"

static struct fish_row sent(int number, enum verdict basin, enum verdict verdict)
{
    struct fish_row fish = sample_fish(1, number, verdict, "fault spine", "Bent spine");
    fish.sent = basin;
    return fish;
}

static void a_fish_in_a_cell_is_always_in_place(void **state)
{
    (void)state;
    struct cull_round round = sample_round(NULL, 0, NULL, 0);
    struct fish_row fish = sent(1, VERDICT_KEEP, VERDICT_REJECT);
    assert_true(cull_in_place(&round, &fish, VERDICT_REJECT));
    assert_false(cull_in_place(&round, &fish, VERDICT_KEEP));
}

static void a_fish_in_a_basin_is_in_place_in_its_own(void **state)
{
    (void)state;
    struct cull_round round = sample_round(NULL, 0, NULL, 0);
    round.waiting = WAITING_BASIN;
    for (int basin = 0; basin < VERDICT_COUNT; basin++)
        for (int verdict = 0; verdict < VERDICT_COUNT; verdict++) {
            struct fish_row fish = sent(1, (enum verdict)basin, (enum verdict)verdict);
            assert_int_equal(cull_in_place(&round, &fish, (enum verdict)verdict), basin == verdict);
        }
}

/* `parts` must follow one another in what the moves of these fish look like. */
static void check_moves(const struct fish_row *fish, size_t count, const char *const *parts)
{
    struct cull_round round = sample_round(NULL, 0, fish, count);
    round.waiting = WAITING_BASIN;
    struct cull_count counts = cull_count_round(&round);
    struct page page;
    struct text out;
    page_init(&page, (struct page_setup){.columns = 80});
    text_init(&out);
    cull_basin_moves(&page, &round, &counts);
    page_write(&page, &out);
    const char *at = out.data;
    for (; *parts != NULL; parts++) {
        const char *found = strstr(at, *parts);
        if (found == NULL)
            fail_msg("\"%s\" does not follow in:\n%s", *parts, out.data);
        else
            at = found + strlen(*parts);
    }
    text_done(&out);
    page_done(&page);
}

static void searches_the_rejects_first(void **state)
{
    (void)state;
    const struct fish_row fish[] = {
        sent(1, VERDICT_KEEP, VERDICT_REJECT), sent(2, VERDICT_HOLD, VERDICT_KEEP),
        sent(3, VERDICT_REJECT, VERDICT_KEEP), sent(4, VERDICT_OPEN, VERDICT_HOLD),
        sent(5, VERDICT_REJECT, VERDICT_OPEN), sent(6, VERDICT_KEEP, VERDICT_KEEP),
    };
    static const char *const parts[] = {
        "MOVE FIRST: 5",
        "Out of the REJECT basin: 2\n",
        "bowl  1, fish    3   [   ]   into KEEP",
        "bowl  1, fish    5   [   ]   to be judged",
        "Out of the HOLD basin: 1\n",
        "fish    2   [   ]   into KEEP",
        "Out of the KEEP basin: 1\n",
        "fish    1   [   ]   into REJECT",
        "In no basin yet: 1\n",
        "fish    4   [   ]   into HOLD",
        "THEN COUNT",
        NULL,
    };
    check_moves(fish, 6, parts);
}

static void says_what_helps_to_find_a_fish(void **state)
{
    (void)state;
    struct fish_row fish = sent(3, VERDICT_REJECT, VERDICT_KEEP);
    fish.length_mm = 163;
    text_copy(fish.tag, sizeof fish.tag, "392141000123456");
    text_copy(fish.note, sizeof fish.note, "red lips");
    static const char *const parts[] = {"tag 392141000123456", "red lips", "163 mm", NULL};
    check_moves(&fish, 1, parts);
}

/* It stands above them all; a row adds what it does not say. */
static void a_reason_is_told_once(void **state)
{
    (void)state;
    struct fish_row fish[] = {sent(1, VERDICT_REJECT, VERDICT_REJECT),
                              sent(2, VERDICT_REJECT, VERDICT_REJECT)};
    text_copy(fish[1].tag, sizeof fish[1].tag, "392141000123456");
    struct cull_round round = sample_round(NULL, 0, fish, 2);
    round.waiting = WAITING_BASIN;
    struct bowl_fish bowl = {.number = 1, .fish = fish, .count = 2};
    struct page page;
    struct text out;
    page_init(&page, (struct page_setup){.columns = 80});
    text_init(&out);
    cull_basin_boxes(&page, &round, &bowl, VERDICT_REJECT);
    page_write(&page, &out);
    assert_non_null(strstr(out.data, "Bent spine: 2 fish\n"));
    assert_non_null(strstr(out.data, "     2   [   ]   tag 392141000123456\n"));
    text_done(&out);
    page_done(&page);
}

static void counts_what_the_basins_hold_after_the_moves(void **state)
{
    (void)state;
    const struct fish_row fish[] = {
        sent(1, VERDICT_REJECT, VERDICT_REJECT), sent(2, VERDICT_KEEP, VERDICT_REJECT),
        sent(3, VERDICT_HOLD, VERDICT_HOLD),     sent(4, VERDICT_OPEN, VERDICT_OPEN),
        sent(5, VERDICT_KEEP, VERDICT_KEEP),
    };
    static const char *const parts[] = {"REJECT       2  ", "HOLD         1  ", "KEEP         1  ",
                                        NULL};
    check_moves(fish, 5, parts);
}

static void says_when_there_is_nothing_to_move(void **state)
{
    (void)state;
    struct fish_row fish = sent(1, VERDICT_REJECT, VERDICT_REJECT);
    static const char *const parts[] = {"nothing to move", "COUNT: the basins", "REJECT       1 ",
                                        NULL};
    check_moves(&fish, 1, parts);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_fish_in_a_cell_is_always_in_place),
        cmocka_unit_test(a_fish_in_a_basin_is_in_place_in_its_own),
        cmocka_unit_test(searches_the_rejects_first),
        cmocka_unit_test(says_what_helps_to_find_a_fish),
        cmocka_unit_test(a_reason_is_told_once),
        cmocka_unit_test(counts_what_the_basins_hold_after_the_moves),
        cmocka_unit_test(says_when_there_is_nothing_to_move),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
