#include "senbetsu/base/text.h"
#include "senbetsu/core/count.h"
#include "support/test.h"

static struct round_counts said_in(int64_t number, enum method method, int cv)
{
    struct round_counts said;
    round_counts_init(&said);
    said.in = (struct count){number, method, cv};
    return said;
}

static void what_is_not_said_stays(void **state)
{
    (void)state;
    struct round_counts known, said, before;
    round_counts_init(&known);
    known = (struct round_counts){
        {2000, METHOD_WEIGHED, 50000}, {600, METHOD_COUNTED, 0}, 1300, 100, "2026-06-30",
        "calm, small mesh net"};
    before = known;
    round_counts_init(&said);
    round_counts_apply(&known, &said);
    assert_true(round_counts_equal(&known, &before));
    said.dead = 0;
    text_copy(said.day, sizeof said.day, "2026-07-01");
    round_counts_apply(&known, &said);
    assert_int_equal(known.dead, 0);
    assert_int_equal(known.rejected, 1300);
    assert_string_equal(known.day, "2026-07-01");
    assert_string_equal(known.note, "calm, small mesh net");
    assert_false(round_counts_equal(&known, &before));
}

/* How a number was made goes with the number it was said of. */
static void another_number_forgets_how_the_old_one_was_made(void **state)
{
    (void)state;
    struct round_counts known = said_in(2000, METHOD_WEIGHED, 50000);
    struct round_counts said = said_in(2000, METHOD_UNSAID, 0);
    round_counts_apply(&known, &said);
    assert_int_equal(known.in.method, METHOD_WEIGHED);
    assert_int_equal(known.in.cv, 50000);
    said = said_in(2000, METHOD_UNSAID, 40000);
    round_counts_apply(&known, &said);
    assert_int_equal(known.in.method, METHOD_WEIGHED);
    assert_int_equal(known.in.cv, 40000);
    said = said_in(2000, METHOD_WEIGHED, 0);
    round_counts_apply(&known, &said);
    assert_int_equal(known.in.cv, 40000);
    said = said_in(2000, METHOD_COUNTED, 0);
    round_counts_apply(&known, &said);
    assert_int_equal(known.in.method, METHOD_COUNTED);
    assert_int_equal(known.in.cv, 0);
    said = said_in(2000, METHOD_UNSAID, 30000);
    round_counts_apply(&known, &said);
    assert_int_equal(known.in.method, METHOD_UNSAID);
    assert_int_equal(known.in.cv, 30000);
    said = said_in(1900, METHOD_UNSAID, 0);
    round_counts_apply(&known, &said);
    assert_int_equal(known.in.number, 1900);
    assert_int_equal(known.in.method, METHOD_UNSAID);
    assert_int_equal(known.in.cv, 0);
}

static void an_error_belongs_to_an_estimate(void **state)
{
    (void)state;
    struct err err;
    assert_ok(count_check(&(struct count){100, METHOD_SCOOPED, 50000}, &err), &err);
    assert_ok(count_check(&(struct count){100, METHOD_UNSAID, 50000}, &err), &err);
    assert_ok(count_check(&(struct count){NOT_COUNTED, METHOD_UNSAID, 0}, &err), &err);
    assert_says(count_check(&(struct count){100, METHOD_COUNTED, 1}, &err), &err, "have no error");
    assert_says(count_check(&(struct count){NOT_COUNTED, METHOD_UNSAID, 1}, &err), &err,
                "no number");
    assert_says(count_check(&(struct count){NOT_COUNTED, METHOD_WEIGHED, 0}, &err), &err,
                "no number");
    assert_true(count_error_unknown(&(struct count){100, METHOD_ESTIMATED, 0}));
    assert_false(count_error_unknown(&(struct count){100, METHOD_ESTIMATED, 1}));
    assert_false(count_error_unknown(&(struct count){100, METHOD_COUNTED, 0}));
    assert_false(count_error_unknown(&(struct count){NOT_COUNTED, METHOD_ESTIMATED, 0}));
    assert_true(count_is_estimate(&(struct count){100, METHOD_SCOOPED, 50000}));
    assert_false(count_is_estimate(&(struct count){100, METHOD_COUNTED, 0}));
    assert_false(count_is_estimate(&(struct count){0, METHOD_SCOOPED, 50000}));
}

static void rejects_are_counted_or_what_is_left(void **state)
{
    (void)state;
    struct round_counts counts;
    round_counts_init(&counts);
    assert_int_equal(round_counts_rejected(&counts), NOT_COUNTED);
    counts.in = (struct count){100, METHOD_COUNTED, 0};
    assert_int_equal(round_counts_rejected(&counts), NOT_COUNTED);
    counts.kept = (struct count){30, METHOD_COUNTED, 0};
    assert_int_equal(round_counts_rejected(&counts), 70);
    counts.dead = 5;
    assert_int_equal(round_counts_rejected(&counts), 65);
    counts.rejected = 60;
    assert_int_equal(round_counts_rejected(&counts), 60);
    counts.rejected = NOT_COUNTED;
    counts.kept.number = 103;
    assert_int_equal(round_counts_rejected(&counts), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_said_stays),
        cmocka_unit_test(another_number_forgets_how_the_old_one_was_made),
        cmocka_unit_test(rejects_are_counted_or_what_is_left),
        cmocka_unit_test(an_error_belongs_to_an_estimate),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
