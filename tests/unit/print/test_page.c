#include "support/test.h"

#include "senbetsu/base/utf8.h"
#include "senbetsu/print/page.h"

enum { COLUMNS = 40 };

static struct page_setup small(int lines)
{
    return (struct page_setup){.columns = COLUMNS, .lines = lines};
}

static void assert_page(struct page *page, const char *expected)
{
    struct text out;
    text_init(&out);
    page_write(page, &out);
    assert_string_equal(out.data, expected);
    text_done(&out);
    page_done(page);
}

#define RULE "────────────────────────────────────────\n"

static void repeats_the_heading_and_numbers_the_pages(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(5));
    page_heading(&page, "Bowls");
    page_heading(&page, "of the pond");
    for (int i = 1; i <= 5; i++)
        page_addf(&page, "line %d", i);
    assert_page(&page,
                "Bowls                        page 1 of 3\nof the pond\n" RULE "line 1\nline 2\n"
                "\fBowls                        page 2 of 3\nof the pond\n" RULE "line 3\nline 4\n"
                "\fBowls                        page 3 of 3\nof the pond\n" RULE "line 5\n");
}

static void leaves_an_endless_page_unnumbered(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(0));
    page_heading(&page, "Bowls");
    page_addf(&page, "a");
    page_blank(&page);
    page_blank(&page);
    page_addf(&page, "b");
    assert_page(&page, "Bowls\n" RULE "a\n\nb\n");
}

static void prints_a_page_without_entries(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(5));
    page_heading(&page, "Bowls");
    assert_page(&page, "Bowls                        page 1 of 1\n" RULE);
}

static void says_at_the_top_what_continues(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(4));
    page_heading(&page, "Bowls");
    page_subhead(&page, "bowl 1 (continued)");
    page_addf(&page, "one");
    page_addf(&page, "two");
    page_addf(&page, "three");
    page_subhead(&page, "bowl 2 (continued)");
    page_addf(&page, "four");
    assert_page(&page,
                "Bowls                        page 1 of 3\n" RULE "one\ntwo\n"
                "\fBowls                        page 2 of 3\n" RULE "bowl 1 (continued)\nthree\n"
                "\fBowls                        page 3 of 3\n" RULE "four\n");
}

static void keeps_a_title_with_its_first_rows(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(6));
    page_heading(&page, "Bowls");
    page_addf(&page, "one");
    page_blank(&page);
    page_together(&page, true);
    page_addf(&page, "TITLE");
    page_together(&page, true);
    page_addf(&page, "row 1");
    page_addf(&page, "row 2");
    page_together(&page, false);
    page_addf(&page, "row 3");
    assert_page(&page,
                "Bowls                        page 1 of 2\n" RULE "one\n"
                "\fBowls                        page 2 of 2\n" RULE "TITLE\nrow 1\nrow 2\nrow 3\n");
}

static void breaks_what_no_page_can_hold(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(4));
    page_heading(&page, "Bowls");
    page_together(&page, true);
    for (int i = 1; i <= 3; i++)
        page_addf(&page, "row %d", i);
    assert_page(&page, "Bowls                        page 1 of 2\n" RULE "row 1\nrow 2\n"
                       "\fBowls                        page 2 of 2\n" RULE "row 3\n");
}

static void ends_even_on_a_page_too_small_for_its_heading(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(1));
    page_addf(&page, "a");
    page_addf(&page, "b");
    assert_page(&page, "                             page 1 of 2\n" RULE "a\n"
                       "\f                             page 2 of 2\n" RULE "b\n");
}

static void wraps_at_spaces_under_the_lead(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(0));
    page_add(&page, "    12  [ ]  ", "the tail is bent and the left pectoral fin is torn");
    page_add(&page, "lead  ", "");
    assert_page(&page, "\n" RULE "    12  [ ]  the tail is bent and the\n"
                       "             left pectoral fin is torn\n"
                       "lead\n");
}

static void wraps_by_columns_not_bytes(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(0));
    page_add(&page, "      ", "菊水菊水菊水菊水菊水菊水菊水菊水菊水");
    page_add(&page, "", "éééééééééééééééééééééééééééééééééééééééé");
    assert_page(&page, "\n" RULE "      菊水菊水菊水菊水菊水菊水菊水菊水菊\n      水\n"
                       "éééééééééééééééééééééééééééééééééééééééé\n");
}

static void wraps_a_long_heading_beside_the_page_number(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(5));
    page_heading(&page, "the bowls of the upper pond");
    page_addf(&page, "a");
    assert_page(&page, "the bowls of the             page 1 of 1\nupper pond\n" RULE "a\n");
}

static void writes_plain_ascii_when_asked(void **state)
{
    (void)state;
    struct page page;
    struct page_setup setup = small(5);
    setup.ascii = true;
    page_init(&page, setup);
    page_heading(&page, "Kōhaku 菊水");
    page_rule(&page, "13–20…");
    page_add(&page, "× ", "…………………………………………………");
    assert_page(&page, "Kohaku ??                    page 1 of 1\n"
                       "----------------------------------------\n"
                       "-- 13-20... ----------------------------\n"
                       "x ......................................\n"
                       "  ...................\n");
}

static void shows_a_mark_for_what_cannot_be_shown(void **state)
{
    (void)state;
    struct page page;
    page_init(&page, small(0));
    page_add(&page, "",
             "a\tb\fc\nd\x1B[1m\xFF \xE2\x80\xAE"
             "e鯉");
    assert_page(&page, "\n" RULE "a b?c d?[1m? ?e鯉\n");
}

static void gathers_an_entry_piece_by_piece(void **state)
{
    (void)state;
    struct page page;
    page_start(&page, small(0), "Bowls of %d", 2026);
    page_line(&page, "nothing: ");
    text_add(&page.line, "12 ");
    page_item(&page, "one: ", "%d of %d", 1, 2);
    text_add(&page.line, "counted");
    page_line(&page, "all: ");
    page_line(&page, "all: ");
    assert_page(&page, "Bowls of 2026\n" RULE "one: 1 of 2\nall: 12 counted\n");
}

static void a_section_begins_with_a_rule_and_continues_nothing(void **state)
{
    (void)state;
    struct page page;
    page_start(&page, small(6), "Bowls");
    page_part(&page, "Part %d", 1);
    page_addf(&page, "a");
    page_section(&page, "Bowl %d", 7);
    page_addf(&page, "b");
    page_addf(&page, "c");
    assert_page(&page, "Bowls                        page 1 of 2\n" RULE "Part 1\na\n"
                       "\fBowls                        page 2 of 2\n" RULE
                       "── Bowl 7 ──────────────────────────────\nb\nc\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(repeats_the_heading_and_numbers_the_pages),
        cmocka_unit_test(leaves_an_endless_page_unnumbered),
        cmocka_unit_test(prints_a_page_without_entries),
        cmocka_unit_test(says_at_the_top_what_continues),
        cmocka_unit_test(keeps_a_title_with_its_first_rows),
        cmocka_unit_test(breaks_what_no_page_can_hold),
        cmocka_unit_test(ends_even_on_a_page_too_small_for_its_heading),
        cmocka_unit_test(wraps_at_spaces_under_the_lead),
        cmocka_unit_test(wraps_by_columns_not_bytes),
        cmocka_unit_test(wraps_a_long_heading_beside_the_page_number),
        cmocka_unit_test(writes_plain_ascii_when_asked),
        cmocka_unit_test(shows_a_mark_for_what_cannot_be_shown),
        cmocka_unit_test(gathers_an_entry_piece_by_piece),
        cmocka_unit_test(a_section_begins_with_a_rule_and_continues_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
