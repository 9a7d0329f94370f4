/* The parents, one of them with its pedigree, and the forms over them. */
#include "bench.h"
#include "senbetsu/store/parents.h"

static struct parent get(struct bench *bench, const char *code)
{
    struct parent parent = {.id = 0};
    struct err err;
    assert_ok(parent_get(bench->app.ledger, code, &parent, &err), &err);
    return parent;
}

static bool is_shown(struct bench *bench, const char *part)
{
    struct text text;
    bench_text(bench, &text);
    bool found = strstr(text.data, part) != NULL;
    text_done(&text);
    return found;
}

static void test_parents_are_drawn(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_parents,
                      "parent,state,since\nKD1,dead,2024-08-02\nKS1,sold,2025-10-20\n"
                      "RD1,resting,2026-03-01\nKD2,available,\n");
    app_open_parents(&bench->app);
    assert_golden(bench, "parents");
    assert_golden_large(bench, "parents");
}

static void test_a_pedigree_is_walked(void **state)
{
    struct bench *bench = *state;
    app_open_parent(&bench->app, "KD3");
    assert_golden(bench, "parent");
    bench_press(bench, "Enter");
    assert_shows(bench, "parent KD2");
    assert_shows(bench, "Young among the parents");
    bench_press(bench, "End Enter");
    assert_shows(bench, "parent KD3");
    bench_press(bench, "End Enter");
    assert_shows(bench, "season 2024");
    bench_press(bench, "q q");
    assert_shows(bench, "seasons and spawnings");
    app_open_parent(&bench->app, "nobody");
    assert_shows(bench, "There is no parent nobody in the ledger.");
}

static void test_a_state_is_one_key_and_its_day(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_parents, "parent,sex\nA1,f\nB1,m\n");
    app_open_parents(&bench->app);
    bench_press(bench, "5");
    assert_shows(bench, "What is A1 from now on?");
    bench_press(bench, "3");
    bench_press(bench, "F2");
    assert_shows(bench, "A1 is sold since 2026-");
    assert_int_equal(get(bench, "A1").state, BROOD_SOLD);
    bench_press(bench, "5 2 Down");
    bench_type(bench, "1.3.26");
    bench_press(bench, "F2");
    assert_string_equal(get(bench, "A1").since, "2026-03-01");
    assert_int_equal(get(bench, "A1").state, BROOD_RESTING);
    bench_press(bench, "/");
    assert_shows(bench, "those that can be set: 1");
    assert_hides(bench, "A1");
    bench_press(bench, "/");
    assert_shows(bench, "resting: 1");
    assert_shows(bench, "A1");
    bench_press(bench, "/");
    assert_shows(bench, "without a state: 1"); /* nobody is sold or dead */
    bench_press(bench, "/");
    assert_shows(bench, "all: 2");
}

static void test_a_parent_is_added_and_put_right(void **state)
{
    struct bench *bench = *state;
    app_open_parents(&bench->app);
    assert_shows(bench, "no parent yet; + adds one");
    bench_press(bench, "Enter");
    assert_shows(bench, "There is no parent here.");
    bench_press(bench, "+");
    bench_type(bench, "A1");
    bench_press(bench, "Down 2 Down");
    bench_type(bench, "plain");
    bench_press(bench, "F2");
    assert_shows(bench, "Parent A1 is in the ledger.");
    assert_string_equal(get(bench, "A1").variety, "Plain");
    bench_press(bench, "+");
    bench_type(bench, "A1");
    bench_press(bench, "F2");
    assert_shows(bench, "There is a parent A1 already; choose another code.");
    bench_press(bench, "Esc Esc *");
    bench_type(bench, "A2");
    bench_press(bench, "Down Down Delete F2");
    assert_shows(bench, "Parent A2 is in the ledger.");
    assert_string_equal(get(bench, "A2").variety, "");
    assert_int_equal(get(bench, "A2").sex, SEX_FEMALE);
    bench_press(bench, "* F2");
    assert_shows(bench, "Nothing was changed.");
}

/* The nearest is offered first where a slip is likely; else the name is a new one. */
static void test_an_unknown_variety_is_asked_about(void **state)
{
    struct bench *bench = *state;
    struct variety variety;
    struct err err;
    app_open_parents(&bench->app);
    bench_press(bench, "+");
    bench_type(bench, "A1");
    bench_press(bench, "Down Down");
    bench_type(bench, "Kohako");
    bench_press(bench, "F2");
    assert_golden(bench, "unknown_variety");
    bench_press(bench, "F2");
    assert_shows(bench, "Parent A1 is in the ledger.");
    assert_string_equal(get(bench, "A1").variety, "Kohaku");
    bench_press(bench, "+");
    bench_type(bench, "B1");
    bench_press(bench, "Down Down");
    bench_type(bench, "Aka Sora");
    bench_press(bench, "F2");
    assert_shows(bench, "There is no variety Aka Sora yet");
    bench_press(bench, "Down");
    bench_type(bench, "赤空");
    bench_press(bench, "F2");
    assert_string_equal(get(bench, "B1").variety, "Aka Sora");
    assert_ok(variety_get(bench->app.ledger, "赤空", &variety, &err), &err);
    assert_string_equal(variety.name, "Aka Sora");
}

static void test_esc_goes_back_to_the_form(void **state)
{
    struct bench *bench = *state;
    app_ask_spawning(&bench->app, NULL);
    bench_type(bench, "S1");
    bench_press(bench, "Down");
    bench_type(bench, "2026");
    bench_press(bench, "Down");
    bench_type(bench, "Kohako");
    bench_press(bench, "F2");
    assert_shows(bench, "There is no variety Kohako yet");
    bench_press(bench, "Esc");
    assert_shows(bench, "A new spawning");
    assert_shows(bench, "Kohako");
}

static void test_varieties_are_listed_and_renamed(void **state)
{
    struct bench *bench = *state;
    struct err err;
    struct spawning spawning;
    app_open_varieties(&bench->app);
    assert_golden(bench, "varieties");
    bench_press(bench, "+");
    bench_type(bench, "plain");
    bench_press(bench, "F2");
    assert_shows(bench, "plain is a name of the variety Plain already.");
    bench_press(bench, "Esc Esc +");
    bench_type(bench, "Zzz");
    bench_press(bench, "F2 End");
    assert_shows(bench, "> Zzz");
    bench_press(bench, "-");
    assert_shows(bench, "Zzz is retired; adding it again brings it back.");
    assert_hides(bench, "> Zzz");
    for (int i = 0; i < 60 && !is_shown(bench, "> Plain"); i++)
        bench_press(bench, "Up");
    bench_press(bench, "-");
    assert_shows(bench, "Plain is the variety of spawning K1; change or retire that first.");
    bench_press(bench, "*");
    bench_type(bench, "Simple");
    bench_press(bench, "F2");
    assert_shows(bench, "Simple is in the list.");
    assert_ok(spawning_get(bench->app.ledger, "K1", &spawning, &err), &err);
    assert_string_equal(spawning.variety, "Simple");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_parents_are_drawn, bench_setup_demo, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_pedigree_is_walked, bench_setup_demo,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_state_is_one_key_and_its_day, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_parent_is_added_and_put_right, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_an_unknown_variety_is_asked_about, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_esc_goes_back_to_the_form, bench_setup_small,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_varieties_are_listed_and_renamed, bench_setup_small,
                                        bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
