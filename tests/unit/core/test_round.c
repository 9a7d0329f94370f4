#include "senbetsu/base/text.h"
#include "senbetsu/core/round.h"
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

static struct fates stated(void)
{
    return (struct fates){.fish = {[FATE_POND_GRADE] = 20, [FATE_PUT_DOWN] = 35}};
}

static void the_rest_goes_to_the_fate_of_the_round(void **state)
{
    (void)state;
    struct fates fates = stated();
    fates_settle(&fates, 60, FATE_PUT_DOWN);
    assert_int_equal(fates.fish[FATE_PUT_DOWN], 40);
    assert_int_equal(fates.fish[FATE_POND_GRADE], 20);
    assert_int_equal(fates.fish[FATE_UNDECIDED], 0);
    assert_int_equal(fates.over, 0);
}

static void the_rest_of_a_round_without_a_fate_is_not_decided(void **state)
{
    (void)state;
    struct fates fates = stated();
    fates_settle(&fates, 60, FATE_UNDECIDED);
    assert_int_equal(fates.fish[FATE_UNDECIDED], 5);
    fates = (struct fates){0};
    fates_settle(&fates, 60, FATE_UNDECIDED);
    assert_int_equal(fates.fish[FATE_UNDECIDED], 60);
    assert_false(fates_any(&fates));
}

static void more_than_were_rejected_are_told(void **state)
{
    (void)state;
    struct fates fates = stated();
    fates_settle(&fates, 50, FATE_PUT_DOWN);
    assert_int_equal(fates.over, 5);
    assert_int_equal(fates.fish[FATE_PUT_DOWN], 35);
}

static void uncounted_rejects_have_no_rest(void **state)
{
    (void)state;
    struct fates fates = stated();
    struct fates before = fates;
    fates_settle(&fates, NOT_COUNTED, FATE_PUT_DOWN);
    assert_true(fates_equal(&fates, &before));
}

static void they_add_up(void **state)
{
    (void)state;
    struct fates total = {0};
    struct fates fates = stated();
    assert_false(fates_any(&total));
    assert_true(fates_any(&fates));
    fates_settle(&fates, 50, FATE_UNDECIDED);
    fates_add(&total, &fates);
    fates_add(&total, &fates);
    assert_int_equal(total.fish[FATE_POND_GRADE], 40);
    assert_int_equal(total.over, 10);
    assert_false(fates_equal(&total, &fates));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_said_stays),
        cmocka_unit_test(another_number_forgets_how_the_old_one_was_made),
        cmocka_unit_test(rejects_are_counted_or_what_is_left),
        cmocka_unit_test(the_rest_goes_to_the_fate_of_the_round),
        cmocka_unit_test(the_rest_of_a_round_without_a_fate_is_not_decided),
        cmocka_unit_test(more_than_were_rejected_are_told),
        cmocka_unit_test(uncounted_rejects_have_no_rest),
        cmocka_unit_test(they_add_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
