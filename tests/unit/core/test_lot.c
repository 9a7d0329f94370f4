#include "senbetsu/core/lot.h"
#include "support/test.h"

static struct count counted(int64_t number)
{
    return (struct count){number, METHOD_COUNTED, 0};
}

/* A lot that 1000 fish were counted of. */
static struct book_count thousand(void)
{
    struct book_count book;
    struct count fish = counted(1000);
    book_begin(&book, true, NOT_COUNTED);
    book_apply(&book, EVENT_COUNT, &fish);
    return book;
}

static void apply(struct book_count *book, enum lot_event_kind kind, int64_t number,
                  enum method method, int cv)
{
    struct count fish = {number, method, cv};
    book_apply(book, kind, &fish);
}

static void assert_now(const struct book_count *book, int64_t number, enum method method, int cv)
{
    assert_int_equal(book->now.number, number);
    assert_int_equal(book->now.method, method);
    assert_int_equal(book->now.cv, cv);
}

static void test_where_a_lot_begins(void **state)
{
    (void)state;
    struct book_count book;
    book_begin(&book, true, 60000);
    assert_now(&book, 60000, METHOD_ESTIMATED, 0);
    assert_int_equal(book.base, BOOK_FRY);
    assert_int_equal(book.after, STAGE_COUNT);
    book_begin(&book, true, NOT_COUNTED);
    assert_int_equal(book.now.number, NOT_COUNTED);
    assert_int_equal(book.base, BOOK_UNKNOWN);
    book_begin(&book, false, 60000);
    assert_int_equal(book.now.number, NOT_COUNTED);
    assert_int_equal(book.base, BOOK_NOTHING);
}

/* Nobody says how the dead were counted; a counted lot stays counted all the same. */
static void test_a_counted_lot_stays_counted(void **state)
{
    (void)state;
    struct book_count book = thousand();
    apply(&book, EVENT_DEAD, 12, METHOD_UNSAID, 0);
    apply(&book, EVENT_LOST, 40, METHOD_UNSAID, 0);
    apply(&book, EVENT_FOUND, 7, METHOD_COUNTED, 0);
    assert_now(&book, 955, METHOD_COUNTED, 0);
    assert_int_equal(book.dead, 12);
    assert_int_equal(book.lost, 40);
    assert_int_equal(book.found, 7);
    assert_int_equal(book.base, BOOK_COUNT);
}

/* 1000 give or take 30, without 400 give or take 40: 600 give or take 50. */
static void test_errors_add_up_as_squares(void **state)
{
    (void)state;
    struct book_count from, into;
    struct count part = {400, METHOD_SCOOPED, 100000};
    struct count all = {.number = NOT_COUNTED};
    book_begin(&from, true, NOT_COUNTED);
    book_begin(&into, false, NOT_COUNTED);
    apply(&from, EVENT_COUNT, 1000, METHOD_WEIGHED, 30000);
    book_transfer(&from, &into, &part);
    assert_int_equal(from.now.number, 600);
    assert_int_equal(from.now.method, METHOD_WEIGHED);
    assert_in_range(from.now.cv, 83332, 83335);
    assert_now(&into, 400, METHOD_SCOOPED, 100000);
    assert_int_equal(from.moved_out, 400);
    assert_int_equal(into.moved_in, 400);
    struct count went = book_transfer(&from, &into, &all);
    assert_int_equal(went.number, 600);
    assert_now(&from, 0, METHOD_COUNTED, 0);
    assert_int_equal(into.now.number, 1000);
    assert_in_range(into.now.cv, 64030, 64033); /* 40 and 50: 64.03 of 1000 */
}

static void test_an_error_that_nobody_knows(void **state)
{
    (void)state;
    struct book_count book = thousand();
    apply(&book, EVENT_LOST, 100, METHOD_ESTIMATED, 0);
    assert_now(&book, 900, METHOD_ESTIMATED, 0);
    assert_true(count_error_unknown(&book.now));
}

/* More went than were there: flagged, and made up for by what is found. */
static void test_more_than_there_were(void **state)
{
    (void)state;
    struct book_count book = thousand();
    apply(&book, EVENT_DEAD, 1012, METHOD_COUNTED, 0);
    assert_now(&book, 0, METHOD_COUNTED, 0);
    assert_int_equal(book.overdrawn, 12);
    apply(&book, EVENT_DEAD, 3, METHOD_COUNTED, 0);
    assert_int_equal(book.overdrawn, 15);
    apply(&book, EVENT_FOUND, 20, METHOD_COUNTED, 0);
    assert_now(&book, 5, METHOD_COUNTED, 0);
    assert_int_equal(book.overdrawn, 0);
    apply(&book, EVENT_DEAD, 6, METHOD_COUNTED, 0);
    apply(&book, EVENT_COUNT, 30, METHOD_COUNTED, 0);
    assert_int_equal(book.overdrawn, 0);
    assert_now(&book, 30, METHOD_COUNTED, 0);
}

static void test_a_cull_says_how_many_are_left(void **state)
{
    (void)state;
    struct book_count book = thousand();
    struct count kept = counted(300), not_said = {.number = NOT_COUNTED};
    book_cull(&book, STAGE_SECOND, &kept, true);
    assert_now(&book, 300, METHOD_COUNTED, 0);
    assert_int_equal(book.base, BOOK_CULL);
    assert_int_equal(book.after, STAGE_SECOND);
    book_cull(&book, STAGE_THIRD, &not_said, true);
    assert_int_equal(book.now.number, NOT_COUNTED);
    apply(&book, EVENT_DEAD, 5, METHOD_COUNTED, 0);
    assert_int_equal(book.now.number, NOT_COUNTED);
    assert_int_equal(book.dead, 5);
}

/* Did they die before the cull or after it? */
static void test_a_cull_without_a_day(void **state)
{
    (void)state;
    struct book_count book = thousand();
    struct count kept = counted(300);
    book_cull(&book, STAGE_SECOND, &kept, false);
    assert_now(&book, 300, METHOD_COUNTED, 0);
    apply(&book, EVENT_DEAD, 5, METHOD_COUNTED, 0);
    assert_int_equal(book.now.number, NOT_COUNTED);
    apply(&book, EVENT_COUNT, 290, METHOD_COUNTED, 0);
    apply(&book, EVENT_DEAD, 5, METHOD_COUNTED, 0);
    assert_now(&book, 285, METHOD_COUNTED, 0);
}

/* All of a lot of which nobody knows the number: nothing is left, and the other cannot be told. */
static void test_all_of_an_unknown_lot(void **state)
{
    (void)state;
    struct book_count from, into;
    struct count all = {.number = NOT_COUNTED};
    book_begin(&from, true, NOT_COUNTED);
    book_begin(&into, false, NOT_COUNTED);
    assert_int_equal(book_transfer(&from, &into, &all).number, NOT_COUNTED);
    assert_now(&from, 0, METHOD_COUNTED, 0);
    assert_int_equal(into.now.number, NOT_COUNTED);
    struct count more = counted(50);
    book_transfer(&from, &into, &more);
    assert_int_equal(from.overdrawn, 50);
    assert_int_equal(into.now.number, NOT_COUNTED);
}

/* There are fish, or they could not be put anywhere; the number that says there are none is wrong.
 */
static void test_all_of_an_overdrawn_lot(void **state)
{
    (void)state;
    struct book_count from = thousand(), into;
    struct count all = {.number = NOT_COUNTED};
    book_begin(&into, false, NOT_COUNTED);
    apply(&from, EVENT_LOST, 1030, METHOD_COUNTED, 0);
    assert_int_equal(from.overdrawn, 30);
    assert_int_equal(book_transfer(&from, &into, &all).number, NOT_COUNTED);
    assert_now(&from, 0, METHOD_COUNTED, 0);
    assert_int_equal(from.overdrawn, 0);
    assert_int_equal(into.now.number, NOT_COUNTED);
    assert_int_equal(into.base, BOOK_UNKNOWN);
}

/* A new lot is as old as the one it came from. */
static void test_a_lot_takes_over_the_last_cull(void **state)
{
    (void)state;
    struct book_count from = thousand(), into;
    struct count kept = counted(300), part = counted(100);
    book_begin(&into, false, NOT_COUNTED);
    book_cull(&from, STAGE_FIRST, &kept, true);
    book_transfer(&from, &into, &part);
    assert_int_equal(into.after, STAGE_FIRST);
    assert_int_equal(into.base, BOOK_MOVED);
    assert_now(&from, 200, METHOD_COUNTED, 0);
    assert_now(&into, 100, METHOD_COUNTED, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_where_a_lot_begins),
        cmocka_unit_test(test_a_counted_lot_stays_counted),
        cmocka_unit_test(test_errors_add_up_as_squares),
        cmocka_unit_test(test_an_error_that_nobody_knows),
        cmocka_unit_test(test_more_than_there_were),
        cmocka_unit_test(test_a_cull_says_how_many_are_left),
        cmocka_unit_test(test_a_cull_without_a_day),
        cmocka_unit_test(test_all_of_an_unknown_lot),
        cmocka_unit_test(test_all_of_an_overdrawn_lot),
        cmocka_unit_test(test_a_lot_takes_over_the_last_cull),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
