#include "senbetsu/base/alloc.h"
#include "senbetsu/sheet/port.h"
#include "support/test.h"

static void a_round_can_be_done_twice(void **state)
{
    (void)state;
    struct sheet_round round = {.places = 4, .score_count = 3, .closed_count = 3};
    round.scores = alloc_zeroed(3, sizeof *round.scores);
    round.closed_ms = alloc_zeroed(3, sizeof *round.closed_ms);
    sheet_round_done(&round);
    assert_null(round.scores);
    assert_int_equal(round.score_count, 0);
    assert_int_equal(round.closed_count, 0);
    assert_int_equal(round.places, -1);
    sheet_round_done(&round);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_round_can_be_done_twice)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
