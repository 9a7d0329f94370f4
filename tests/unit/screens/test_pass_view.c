#include "senbetsu/screens/pass_view.h"
#include "support/trial_fish.h"
#include "support/views.h"

static const int scores[] = {8, 3, 7, SCORE_NONE, 7, 6, 5, 9, 0, 4, 6, 2};
enum { COUNT = sizeof scores / sizeof scores[0] };

static const struct key enter = {KEY_RETURN, 0}, right = {KEY_ARROW_RIGHT, 0};

static void open_view(struct pass_view *view)
{
    *view = (struct pass_view){.title = "K26-1: pass of the first cull",
                               .beside = "plain-first version 1"};
    preview_with(&view->preview, scores, COUNT, NO_PLACES);
    pass_ready(view);
}

static void test_keys_turn_the_dial_in_front(void **state)
{
    (void)state;
    struct pass_view view;
    open_view(&view);
    pass_key(&view, key_of('+'));
    assert_int_equal(view.preview.standard.keep_at, 6550);
    pass_key(&view, key_of('/'));
    assert_int_equal(view.preview.standard.keep_at, 6050);
    pass_key(&view, right);
    pass_key(&view, key_of('-'));
    assert_int_equal(view.preview.standard.hold_at, 5450);
    pass_key(&view, right);
    pass_key(&view, key_of('*'));
    assert_int_equal(view.preview.places, 9);
    pass_key(&view, right);
    assert_int_equal(view.dial, DIAL_KEEP_AT);
    pass_key(&view, key_of('4'));
    assert_int_equal(view.dial, DIAL_PLACES);
    preview_done(&view.preview);
}

static void test_it_asks_before_it_records(void **state)
{
    (void)state;
    struct pass_view view;
    open_view(&view);
    assert_int_equal(pass_key(&view, enter), LIST_NOTHING);
    assert_true(view.asking);
    assert_int_equal(pass_key(&view, key_of('q')), LIST_NOTHING);
    assert_false(view.asking);
    assert_int_equal(pass_key(&view, enter), LIST_NOTHING);
    assert_int_equal(pass_key(&view, enter), PASS_RECORD);
    assert_int_equal(pass_key(&view, key_of('q')), LIST_LEAVE);
    preview_done(&view.preview);
}

static void test_only_those_that_change_side(void **state)
{
    (void)state;
    struct pass_view view;
    open_view(&view);
    pass_key(&view, key_of('*'));
    assert_int_equal(view.preview.changed_count, 2);
    pass_key(&view, key_of('5'));
    assert_int_equal(view.list.count, 2);
    pass_key(&view, key_of('5'));
    assert_int_equal(view.list.count, COUNT);
    preview_done(&view.preview);
}

static void test_it_is_drawn(void **state)
{
    (void)state;
    struct pass_view view;
    open_view(&view);
    view.preview.fish[8].judgement.by_hand = VERDICT_KEEP;
    view.preview.fish[8].standing = VERDICT_KEEP;
    snprintf(view.preview.fish[8].by_hand, REASON_SIZE, "by hand: finest lustre (Aoki)");
    view.preview.fish[9].judgement.faults = 1;
    view.preview.fish[9].standing = VERDICT_REJECT;
    pass_key(&view, key_of('*'));
    assert_screens("pass", pass_draw, &view);
    pass_key(&view, right);
    pass_key(&view, right);
    pass_key(&view, key_of('*'));
    for (int i = 0; i < 7; i++)
        pass_key(&view, key_of('-'));
    assert_screens("pass_places", pass_draw, &view);
    pass_key(&view, key_of('c'));
    pass_key(&view, enter);
    assert_screens("pass_changed", pass_draw, &view);
    preview_done(&view.preview);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_keys_turn_the_dial_in_front),
        cmocka_unit_test(test_it_asks_before_it_records),
        cmocka_unit_test(test_only_those_that_change_side),
        cmocka_unit_test(test_it_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
