#include "senbetsu/screens/lot_view.h"
#include "support/views.h"

static struct lot_item lots[] = {
    {.title = "K26-1",
     .pond = "Lower 3",
     .number = "4200 ±4.0 % scooped",
     .about = "the spawning's own; after the second cull; number as counted since; dead 41",
     .events = {"2026-08-12 split: 400 counted into lot west",
                "2026-08-10 count 4600 scooped (±4.0 %)"},
     .event_count = 2},
    {.title = "west of K26-1",
     .number = "! 0: 12 too many went",
     .wrong = true,
     .about = "out of K26-1; after the second cull; number as put in; lost 412",
     .events = {"2026-08-20 lost 412 estimated (error not known) (heron)"},
     .event_count = 1},
    {.title = "a lot with a name as long as can be, mixed",
     .pond = "the pond behind the greenhouse",
     .number = "not known",
     .about = "mixed from K26-1;K26-2;K26-3;K26-4;K26-5;K26-6;K26-7;K26-8;K26-9;K26-10;K26-11"},
};

static struct lot_view new_view(void)
{
    struct lot_view view = {
        .spawning = "K26-1", .judge = "Ines", .lots = lots, .lot_count = 3, .message = ""};
    lot_ready(&view);
    return view;
}

static void test_the_hand_stays_within_the_lots(void **state)
{
    (void)state;
    struct lot_view view = new_view();
    list_to(&view.list, 9);
    assert_int_equal(view.list.current, 2);
    view.lot_count = 1;
    lot_ready(&view);
    assert_int_equal(view.list.current, 0);
}

static void test_lots_are_drawn(void **state)
{
    (void)state;
    struct lot_view view = new_view();
    list_to(&view.list, 1);
    view.message = "It is recorded; - takes it back.";
    assert_screens("lots", lot_draw, &view);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_hand_stays_within_the_lots),
        cmocka_unit_test(test_lots_are_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
