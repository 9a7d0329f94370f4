#include "bench.h"
#include "lots.h"
#include "senbetsu/base/alloc.h"

struct lots {
    struct lot_line *lines;
    size_t line_count;
    struct lot_event *events;
    size_t event_count;
};

/* K1 was split; the part and all of K2 were put together; more left than was there. */
static int setup(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    bench_import_text(bench, import_spawnings, "spawning,season,variety\nK2,2026,Plain\n");
    bench_import_text(bench, import_lots,
                      "spawning,lot,date,event,number,how,cv,into_spawning,into_lot,pond,note\n"
                      "K1,,2026-08-01,count,1000,scooped,0.04,,,,\n"
                      "K2,,2026-08-01,count,200,counted,,,,,\n"
                      "K1,,2026-08-02,dead,12,counted,,,,,cold night\n"
                      "K1,,2026-08-03,transfer,400,counted,,K1,west,,\n"
                      "K1,west,2026-08-04,transfer,,,,K1;K2,barn,,\n"
                      "K2,,2026-08-04,transfer,,,,K1;K2,barn,,\n"
                      "K1;K2,barn,2026-08-05,move,,,,,,House 1,\n"
                      "K1;K2,barn,2026-08-06,lost,605,,,,,,\n");
    app_open_lots(&bench->app, "K1");
    return result;
}

static struct lots list(struct bench *bench)
{
    struct small_ledger *small = &bench->small;
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

/* An estimate shows its error, a lot what it came from, and one that is overdrawn that its number
 * cannot be. */
static void test_lots_are_drawn(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "588 ±6.8 % scooped");
    assert_shows(bench, "the spawning's own; number as counted since; dead 12\n"
                        "     2026-08-03 split: 400 counted into lot west\n"
                        "     2026-08-02 dead 12 (cold night)\n");
    assert_shows(bench, "out of K1; number as put in");
    assert_shows(bench, "2026-08-03 400 counted from K1");
    assert_shows(bench, "in House 1");
    assert_shows(bench, "! 0: 5 too many taken");
    assert_shows(bench, "mixed from K1;K2; number as put in; lost 605");
    assert_golden(bench, "lots");
    assert_golden_large(bench, "lots");
}

/* Nothing gives back what was taken back: a second undo right after the first is needed. */
static void test_the_last_event_is_taken_back_when_asked_twice(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "End -");
    assert_shows(bench, "- again undoes this: 2026-08-06 lost 605");
    bench_press(bench, "Up Down -");
    assert_shows(bench, "- again undoes this: 2026-08-06 lost 605");
    bench_press(bench, "-");
    assert_shows(bench, "Undone: 2026-08-06 lost 605");
    bench_press(bench, "/");
    assert_shows(bench, "undone: 2026-08-06 lost 605");
}

static void test_fish_are_recorded_and_the_cursor_stays(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Down +");
    assert_shows(bench, "west of K1: fish");
    bench_press(bench, "Esc End +");
    assert_shows(bench, "By the book: ! 0: 5 too many taken");
    bench_type(bench, "7");
    bench_press(bench, "F2");
    assert_shows(bench, "Recorded; - undoes it.");
    assert_shows(bench, " > barn, mixed");
    assert_shows(bench, "dead 7");
}

static void test_a_year_is_no_day(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "* Down Delete");
    bench_type(bench, "2026");
    bench_press(bench, "Up");
    bench_type(bench, "Upper");
    bench_press(bench, "F2");
    assert_shows(bench, "Enter a date such as 14.6.26, 14/6, today or -2 (two days ago).");
}

/* The name of both together is offered, and follows the choice until one is typed. */
static void test_lots_are_put_together(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_spawnings, "spawning,season,variety\nK3,2026,Plain\n");
    bench_import_text(bench, import_lots,
                      "spawning,lot,date,event,number,how\nK3,,2026-08-01,count,50,counted\n");
    bench_press(bench, "6");
    assert_shows(bench, "[barn, mixed]");
    assert_shows(bench, "Into lot            barn");
    bench_press(bench, "Right");
    assert_shows(bench, "[K3]");
    assert_shows(bench, "Into lot            mixed 1");
    bench_press(bench, "F2");
    assert_shows(bench, "The lots are merged; - undoes it.");
    assert_shows(bench, "mixed 1, mixed");
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
    struct small_ledger *small = &((struct bench *)*state)->small;
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

#define on_lots(test) cmocka_unit_test_setup_teardown(test, setup, bench_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_lots(test_lots_are_drawn),
        on_lots(test_the_last_event_is_taken_back_when_asked_twice),
        on_lots(test_fish_are_recorded_and_the_cursor_stays),
        on_lots(test_a_year_is_no_day),
        on_lots(test_lots_are_put_together),
        cmocka_unit_test(test_numbers_that_nobody_knows),
        on_lots(test_codes_that_are_free),
        on_lots(test_a_mixed_lots_name_is_not_taken_for_another),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
