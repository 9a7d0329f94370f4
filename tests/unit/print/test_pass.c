#include "cull_sample.h"
#include "senbetsu/print/pass.h"
#include "support/source.h"
#include "support/test.h"

static struct fish_row ranked(int bowl, int number, int rank, const char *score,
                              enum verdict verdict, const char *reason, const char *label)
{
    struct fish_row fish = sample_fish(bowl, number, verdict, reason, label);
    fish.rank = rank;
    text_copy(fish.score, sizeof fish.score, score);
    return fish;
}

/* In the order of bowl and number, as a pass has them. */
static size_t small_pass(struct fish_row rows[10])
{
    const struct fish_row pass[] = {
        ranked(1, 1, 4, "71.4", VERDICT_HOLD, "places", "no place left"),
        ranked(1, 2, 1, "92.5", VERDICT_KEEP, "score", "score"),
        ranked(1, 3, 2, "88.0", VERDICT_REJECT, "fault spine", "Bent spine"),
        ranked(1, 4, 0, "", VERDICT_REJECT, "fault spine", "Bent spine"),
        ranked(1, 5, 3, "80.0", VERDICT_KEEP, "score", "score"),
        ranked(2, 1, 7, "41.0", VERDICT_REJECT, "score", "score"),
        ranked(2, 2, 4, "71.4", VERDICT_HOLD, "places", "no place left"),
        ranked(2, 3, 0, "", VERDICT_OPEN, "unscored white", "White ground not judged"),
        ranked(2, 4, 6, "60.2", VERDICT_KEEP, "by hand: \"dam's line\", see note (Aoki)",
               "by hand: \"dam's line\", see note (Aoki)"),
        ranked(2, 5, 8, "39.9", VERDICT_REJECT, "floor white", "White ground under 2"),
    };
    memcpy(rows, pass, sizeof pass);
    return sizeof pass / sizeof *pass;
}

static void row_of(const void *rows, size_t index, struct fish_row *ret)
{
    *ret = ((const struct fish_row *)rows)[index];
}

static struct pass_rows rows_of(const struct fish_row *rows, size_t count)
{
    return (struct pass_rows){rows, row_of, count};
}

static const uint32_t small_order[] = {1, 2, 4, 0, 6, 8, 5, 9, 3, 7};

/* Of rows that are in the order of rank. */
static const uint32_t *as_they_stand(void)
{
    static uint32_t order[256];
    for (uint32_t i = 0; i < 256; i++)
        order[i] = i;
    return order;
}

static void prints_a_pass(void **state)
{
    (void)state;
    struct fish_row rows[10];
    struct text out;
    text_init(&out);
    struct pass_result result = {.title = "K26-1, harvest: kikusui-harvest version 1, 2 places",
                                 .rows = rows_of(rows, small_pass(rows)),
                                 .order = small_order,
                                 .open = "2 fish tie at 71.4 for 1 place"};
    pass_print(&result, page_default(), &out);
    assert_as_in_source("tests/data/print/pass.txt", out.data);
    text_done(&out);
}

static void writes_csv_in_the_order_given(void **state)
{
    (void)state;
    struct fish_row rows[10];
    struct text out;
    text_init(&out);
    small_pass(rows);
    struct pass_rows last = rows_of(rows + 2, 8);
    pass_csv(&last, &out);
    assert_string_equal(out.data,
                        "bowl,fish,score,rank,verdict,reason\n"
                        "1,3,88.0,2,reject,fault spine\n"
                        "1,4,,,reject,fault spine\n"
                        "1,5,80.0,3,keep,score\n"
                        "2,1,41.0,7,reject,score\n"
                        "2,2,71.4,4,hold,places\n"
                        "2,3,,,open,unscored white\n"
                        "2,4,60.2,6,keep,\"by hand: \"\"dam's line\"\", see note (Aoki)\"\n"
                        "2,5,39.9,8,reject,floor white\n");
    text_done(&out);
}

static void check_says(const struct fish_row *rows, size_t count, int unseen, const char *part)
{
    struct text out;
    text_init(&out);
    struct pass_result result = {.title = "a pass",
                                 .rows = rows_of(rows, count),
                                 .order = as_they_stand(),
                                 .unseen = unseen,
                                 .open = ""};
    pass_print(&result, page_default(), &out);
    if (strstr(out.data, part) == NULL)
        fail_msg("\"%s\" is missing in:\n%s", part, out.data);
    text_done(&out);
}

/* 21 of 60: 24.2 to 47.6 % by Wilson's formula. */
static void tells_the_share_kept_with_its_interval(void **state)
{
    (void)state;
    struct fish_row rows[64];
    for (int i = 0; i < 64; i++)
        rows[i] = ranked(1, i + 1, i + 1, "50.0",
                         i < 21   ? VERDICT_KEEP
                         : i < 60 ? VERDICT_REJECT
                                  : VERDICT_OPEN,
                         "score", "score");
    check_says(rows, 60, 0, "kept 21 of 60: 35 %, 95 % interval 24–48 %\n");
    check_says(rows, 64, 0, "look again 0, take out 39, not judged 4\n");
    check_says(rows, 64, 10, "look again 0, take out 39, not judged 14\n");
    check_says(rows, 64, 10, "not done: 60 of 74 judged, 21 kept of them; no rate before the rest");
    check_says(rows, 60, 1, "not done: 60 of 61 judged, 21 kept of them; no rate before the rest");
}

/* Picked fish are among the kept though their rows say hold; no more than are held. */
static void counts_fish_picked_in_basins(void **state)
{
    (void)state;
    struct fish_row rows[3] = {ranked(1, 1, 1, "50.0", VERDICT_KEEP, "score", "score"),
                               ranked(1, 2, 2, "40.0", VERDICT_HOLD, "places", "no place left"),
                               ranked(1, 3, 2, "40.0", VERDICT_HOLD, "places", "no place left")};
    struct pass_result result = {.title = "a pass",
                                 .rows = rows_of(rows, 3),
                                 .order = as_they_stand(),
                                 .picked = 1,
                                 .open = ""};
    struct text out;
    text_init(&out);
    pass_print(&result, page_default(), &out);
    assert_non_null(strstr(out.data, "kept 2 of 3: "));
    assert_non_null(strstr(out.data, "look again 1, take out 0, not judged 0\n"));
    assert_non_null(strstr(out.data, "1 of the kept were picked in a closer look"));
    text_done(&out);
}

static void draws_the_cut_line_first_or_last_where_it_belongs(void **state)
{
    (void)state;
    struct fish_row rows[2] = {ranked(1, 1, 1, "50.0", VERDICT_REJECT, "score", "score"),
                               ranked(1, 2, 2, "40.0", VERDICT_KEEP, "by hand: fin", "by hand")};
    check_says(rows, 2, 0, "reason\n── cut line ──");
    rows[0].verdict = VERDICT_KEEP;
    text_copy(rows[1].reason, sizeof rows[1].reason, "score");
    check_says(rows, 2, 0, "keep     by hand\n── cut line ──");
}

static void has_nothing_to_say_of_no_fish(void **state)
{
    (void)state;
    check_says(NULL, 0, 0, "look again 0, take out 0, not judged 0\n");
}

static void repeats_the_column_names_on_each_page(void **state)
{
    (void)state;
    struct fish_row rows[150];
    for (int i = 0; i < 150; i++)
        rows[i] = ranked(1, i + 1, i + 1, "50.0", VERDICT_KEEP, "score", "score");
    struct text out;
    text_init(&out);
    struct pass_result result = {
        .title = "a pass", .rows = rows_of(rows, 150), .order = as_they_stand(), .open = ""};
    pass_print(&result, page_default(), &out);
    int pages = 1, names = 0;
    for (const char *at = out.data; (at = strchr(at, '\f')) != NULL; at++)
        pages++;
    for (const char *at = out.data; (at = strstr(at, "  rank   score")) != NULL; at++)
        names++;
    assert_int_equal(pages, 3);
    assert_int_equal(names, 3);
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_a_pass),
        cmocka_unit_test(writes_csv_in_the_order_given),
        cmocka_unit_test(tells_the_share_kept_with_its_interval),
        cmocka_unit_test(counts_fish_picked_in_basins),
        cmocka_unit_test(draws_the_cut_line_first_or_last_where_it_belongs),
        cmocka_unit_test(has_nothing_to_say_of_no_fish),
        cmocka_unit_test(repeats_the_column_names_on_each_page),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
