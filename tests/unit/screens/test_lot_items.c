#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/lot_items.h"
#include "support/import_bench.h"

struct lots {
    struct lot_line *lines;
    size_t line_count;
    struct lot_event *events;
    size_t event_count;
};

/* K1 was split; the part and all of K2 were put together; more left than was there. */
static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_spawnings, "spawning,season,variety\nK2,2026,Plain\n", 1, 0, 0);
    take_text(*state, import_lots,
              "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
              "K1,,2026-08-01,count,1000,scooped,0.04,,,,\n"
              "K2,,2026-08-01,count,200,counted,,,,,\n"
              "K1,,2026-08-02,dead,12,counted,,,,,cold night\n"
              "K1,,2026-08-03,transfer,400,counted,,K1,west,,\n"
              "K1,west,2026-08-04,transfer,,,,K1;K2,barn,,\n"
              "K2,,2026-08-04,transfer,,,,K1;K2,barn,,\n"
              "K1;K2,barn,2026-08-05,move,,,,,,House 1,\n"
              "K1;K2,barn,2026-08-06,lost,605,,,,,,\n",
              8, 0, 0);
    return result;
}

static struct lots list(struct small_ledger *small)
{
    struct lots lots;
    struct err err;
    assert_ok(lot_lines_list(small->ledger, &lots.lines, &lots.line_count, &err), &err);
    assert_ok(lot_events_list(small->ledger, &lots.events, &lots.event_count, &err), &err);
    return lots;
}

static void forget(struct lots *lots)
{
    lot_lines_free(lots->lines, lots->line_count);
    free(lots->events);
}

static const struct lot_line *named(const struct lots *lots, const char *code)
{
    for (size_t i = 0; i < lots->line_count; i++)
        if (strcmp(lots->lines[i].of.lot, code) == 0)
            return &lots->lines[i];
    fail_msg("there is no lot %s", code);
    return NULL;
}

static struct lot_item item(const struct lots *lots, const char *code)
{
    struct lot_item item;
    lot_item_fill(&item, named(lots, code), lots->events, lots->event_count);
    return item;
}

static void test_an_estimate_shows_its_error(void **state)
{
    struct lots lots = list(*state);
    struct lot_item own = item(&lots, "K1");
    assert_string_equal(own.title, "K1");
    assert_string_equal(own.number, "588 ±6.8 % scooped");
    assert_string_equal(own.about, "the spawning's own; number as counted since; dead 12");
    assert_int_equal(own.event_count, 2);
    assert_string_equal(own.events[0], "2026-08-03 split: 400 counted into lot west");
    assert_string_equal(own.events[1], "2026-08-02 dead 12 counted (cold night)");
    assert_false(own.wrong);
    forget(&lots);
}

static void test_a_lot_names_what_it_came_from(void **state)
{
    struct lots lots = list(*state);
    struct lot_item west = item(&lots, "west");
    assert_string_equal(west.title, "west of K1");
    assert_string_equal(west.number, "0 counted");
    assert_string_equal(west.about, "out of K1; number as put in");
    assert_string_equal(west.events[1], "2026-08-03 400 counted from K1");
    forget(&lots);
}

static void test_a_mixed_lot_that_is_overdrawn(void **state)
{
    struct lots lots = list(*state);
    struct lot_item barn = item(&lots, "barn");
    assert_string_equal(barn.title, "barn, mixed");
    assert_string_equal(barn.pond, "House 1");
    assert_string_equal(barn.number, "! 0: 5 too many went");
    assert_true(barn.wrong);
    assert_string_equal(barn.about, "mixed from K1;K2; number as put in; lost 605");
    forget(&lots);
}

static void test_numbers_that_nobody_knows(void **state)
{
    (void)state;
    char number[LOT_TEXT_SIZE];
    struct book_count book;
    book_begin(&book, true, NOT_COUNTED);
    lot_number(&book, number);
    assert_string_equal(number, "not known");
    book_begin(&book, false, NOT_COUNTED);
    lot_number(&book, number);
    assert_string_equal(number, "no fish yet");
}

static void test_codes_that_are_free(void **state)
{
    struct lots lots = list(*state);
    char code[CODE_SIZE];
    lot_free_code(lots.lines, lots.line_count, "K1", "", 2, code);
    assert_string_equal(code, "2");
    text_copy(lots.lines[0].of.lot, CODE_SIZE, "mixed 1");
    lots.lines[0].of.mixed = true;
    lot_free_code(lots.lines, lots.line_count, "K1;K2", "mixed ", 1, code);
    assert_string_equal(code, "mixed 2");
    free(lots.lines[0].of.spawnings);
    lots.lines[0].of.spawnings = alloc_text("K2;K1");
    lots.lines[0].book.base = BOOK_NOTHING; /* put together and taken apart again */
    lot_free_code(lots.lines, lots.line_count, "K1;K2", "mixed ", 1, code);
    assert_string_equal(code, "mixed 1");
    forget(&lots);
    assert_true(codes_in_list("K1;K2", "K3;K2;K1"));
    assert_false(codes_in_list("K1;K4", "K3;K2;K1"));
}

/* But a lot of that name which is the spawning's is meant itself. */
static void test_a_mixed_lots_name_is_not_taken_for_another(void **state)
{
    struct small_ledger *small = *state;
    struct err err;
    int64_t id;
    assert_says(lot_name_check(small->ledger, "K1", "barn", &err), &err,
                "Lot barn is mixed from K1;K2");
    assert_ok(lot_name_check(small->ledger, "K3", "barn", &err), &err);
    assert_ok(lot_name_check(small->ledger, "K1", "west", &err), &err);
    assert_ok(lot_name_check(small->ledger, "K1", "new", &err), &err);
    assert_ok(lot_begin(small->ledger, "K1", "barn", &id, &err), &err);
    assert_ok(lot_name_check(small->ledger, "K1", "barn", &err), &err);
}

#define on_lots(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_lots(test_an_estimate_shows_its_error),
        on_lots(test_a_lot_names_what_it_came_from),
        on_lots(test_a_mixed_lot_that_is_overdrawn),
        cmocka_unit_test(test_numbers_that_nobody_knows),
        on_lots(test_codes_that_are_free),
        on_lots(test_a_mixed_lots_name_is_not_taken_for_another),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
