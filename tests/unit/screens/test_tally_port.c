#include "senbetsu/screens/round_place.h"
#include "senbetsu/screens/tally_port.h"
#include "support/small_ledger.h"

static struct tally_port open_port(struct small_ledger *small, struct tally_ledger *port)
{
    *port = (struct tally_ledger){small->ledger, small->round.id, small->judge};
    return tally_ledger_functions(port);
}

static struct tally_now read_now(struct tally_port port)
{
    struct tally_now now;
    struct err err;
    assert_ok(port.read(port.context, &now, &err), &err);
    return now;
}

static void test_keys_come_back_with_the_place(void **state)
{
    struct small_ledger *small = *state;
    struct tally_ledger context;
    struct tally_port port = open_port(small, &context);
    const int64_t samples[] = {48, 52};
    struct tally_mark mark = {.kind = TALLY_REJECT, .reason = "spine"};
    struct place place;
    struct err err;
    assert_true(scoop_measure(samples, 2, &mark.scoop));
    assert_ok(port.measure(port.context, &mark.scoop, true, &err), &err);
    assert_ok(port.record(port.context, &mark, true, &err), &err);
    struct tally_now now = read_now(port);
    assert_int_equal(now.line_count, 1);
    assert_string_equal(now.lines[0].mark.reason, "spine");
    assert_int_equal(tally_mark_fish(&now.lines[0].mark), 50);
    assert_int_equal(now.scoop.id, mark.scoop.id);
    assert_true(now.any_last);
    assert_string_equal(now.last.reason, "spine");
    assert_int_equal(now.last.scoop.id, mark.scoop.id);
    tally_now_done(&now);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_true(place.in_sheet);
    assert_int_equal(place.round_id, small->round.id);
    assert_int_equal(place.bowl_id, 0);
    assert_true(round_place_is(&place, AT_SCOOPS));
}

static void test_undo_and_move_write_the_place(void **state)
{
    struct small_ledger *small = *state;
    struct tally_ledger context;
    struct tally_port port = open_port(small, &context);
    const struct tally_mark mark = {.kind = TALLY_KEEP};
    struct tally_mark undone;
    struct place place;
    struct err err;
    assert_ok(port.record(port.context, &mark, true, &err), &err);
    assert_ok(port.undo(port.context, false, &undone, &err), &err);
    assert_int_equal(undone.kind, TALLY_KEEP);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_false(round_place_is(&place, AT_SCOOPS));
    struct tally_now now = read_now(port);
    assert_int_equal(now.line_count, 0);
    assert_false(now.any_last);
    tally_now_done(&now);
    assert_ok(port.move(port.context, true, &err), &err);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_true(round_place_is(&place, AT_SCOOPS));
    assert_says(port.undo(port.context, true, &undone, &err), &err, "no key of yours");
}

/* Yesterday's keys count among the numbers and not in today's pace. */
static void test_pace_is_of_today(void **state)
{
    struct small_ledger *small = *state;
    struct tally_ledger context;
    struct tally_port port = open_port(small, &context);
    const struct tally_mark mark = {.kind = TALLY_KEEP};
    struct err err;
    for (int i = 0; i < 32; i++) {
        small->now += 2000;
        assert_ok(port.record(port.context, &mark, false, &err), &err);
    }
    struct tally_now now = read_now(port);
    assert_int_equal(tally_pace_per_hour(&now.pace), 1800);
    tally_now_done(&now);
    small->now += DAY_MS;
    now = read_now(port);
    assert_int_equal(tally_pace_per_hour(&now.pace), 0);
    assert_int_equal(now.lines[0].times, 32);
    tally_now_done(&now);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_keys_come_back_with_the_place, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_undo_and_move_write_the_place, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_pace_is_of_today, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
