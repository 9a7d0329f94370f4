#include "senbetsu/report/parents_fit.h"
#include "support/import_bench.h"

#define HEAD "spawning,lot,stage,in,in_how,in_cv,kept,kept_how\n"

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent\nD1\nD2\nP1\nP2\n", 4, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\n"
              "A1,2025,Kikusui,D1,P1,single\nA2,2025,Kikusui,D2,P1;P2,group\n"
              "A3,2024,Kikusui,D1,P1,single\nA4,2024,Kohaku,,P1,single\n"
              "A5,2025,Kohaku,D2,,\n",
              5, 0, 0);
    return result;
}

static void make(struct small_ledger *small, int stage, const char *variety,
                 struct parents_fit *ret)
{
    struct err err;
    struct selection of = {.season = 0};
    text_copy(of.variety, sizeof of.variety, variety == NULL ? "" : variety);
    assert_ok(parents_fit_make(small->ledger, stage, &of, ret, &err), &err);
}

static void assert_range(const struct parents_fit *fit, enum stage first, enum stage last)
{
    assert_int_equal(fit->first, first);
    assert_int_equal(fit->last, last);
}

static void levels_have_their_names(void **state)
{
    struct parents_fit fit;
    take_text(*state, import_rounds,
              HEAD "A1,,first,1000,scooped,0.05,200,counted\nA2,,first,800,counted,,180,counted\n"
                   "A3,,first,900,counted,,190,counted\nA4,,first,500,estimated,,50,counted\n"
                   "A5,,first,700,counted,,60,counted\nA1;A2,both,first,90,counted,,40,counted\n",
              6, 0, 0);
    make(*state, STAGE_FIRST, NULL, &fit);
    assert_non_null(fit.model);
    static const char *const names[KIND_COUNT][6] = {
        [PARENT_DAM] = {"D1", "D2"},           [PARENT_SIRE] = {"P1", "P1;P2"},
        [PARENT_PAIR] = {"D1+P1", "D2+P1;P2"}, [PARENT_SPAWNING] = {"A1", "A2", "A3", "A4", "A5"},
        [KIND_SEASON] = {"2024", "2025"},      [KIND_VARIETY] = {"Kikusui", "Kohaku"},
    };
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        int count = 0;
        for (; names[kind][count] != NULL; count++)
            assert_int_equal(level_find(&fit.names[kind], names[kind][count]), count);
        assert_int_equal(fit.names[kind].count, count);
        assert_int_equal(level_find(&fit.names[kind], "nobody"), -1);
    }
    assert_int_equal(fit.notes.spawnings, 5);
    assert_int_equal(fit.notes.estimated, 2);
    assert_int_equal(fit.notes.errors_unknown, 1);
    assert_true(fit.notes.largest_cv == 0.05);
    parents_fit_done(&fit);
}

static void recovered_fish_are_left_out_and_named(void **state)
{
    struct parents_fit fit;
    take_text(*state, import_rounds,
              HEAD "A1,,first,1000,counted,,200,counted\nA2,,first,800,counted,,900,counted\n"
                   "A3,,first,900,counted,,950,counted\n",
              3, 0, 0);
    make(*state, -1, "Kikusui", &fit);
    assert_range(&fit, STAGE_FIRST, STAGE_FIRST);
    assert_string_equal(fit.notes.recovered, "A3, A2");
    assert_int_equal(fit.notes.spawnings, 1);
    parents_fit_done(&fit);
}

/* Half of those that were culled first have come to the third cull; one of them lacks the first. */
static void the_way_is_that_of_most(void **state)
{
    struct parents_fit fit;
    take_text(*state, import_rounds,
              HEAD "A1,,black,90000,counted,,9000,counted\nA1,,first,1000,counted,,200,counted\n"
                   "A2,,first,800,counted,,180,counted\nA3,,first,900,counted,,190,counted\n"
                   "A4,,first,900,counted,,190,counted\nA5,,second,500,counted,,200,counted\n"
                   "A1,,second,200,counted,,90,counted\nA2,,second,180,counted,,100,counted\n"
                   "A1,,third,90,counted,,40,counted\nA2,,third,100,counted,,50,counted\n"
                   "A2,,harvest,50,counted,,30,counted\n",
              11, 0, 0);
    make(*state, -1, NULL, &fit);
    assert_range(&fit, STAGE_FIRST, STAGE_THIRD);
    assert_int_equal(fit.notes.spawnings, 2);
    struct cull cull = parents_fit_cull(&fit, &fit.families.list[2]);
    assert_int_equal(cull.in, 1000);
    assert_int_equal(cull.kept, 40);
    parents_fit_done(&fit);
    make(*state, -1, "Kohaku", &fit);
    assert_range(&fit, STAGE_SECOND, STAGE_SECOND);
    parents_fit_done(&fit);
    /* Two of five are fewer than half. */
    take_text(*state, import_rounds, HEAD "A5,,first,900,counted,,500,counted\n", 1, 0, 0);
    make(*state, -1, NULL, &fit);
    assert_range(&fit, STAGE_FIRST, STAGE_SECOND);
    parents_fit_done(&fit);
}

static void without_counts_there_is_no_model(void **state)
{
    struct parents_fit fit;
    make(*state, -1, NULL, &fit);
    assert_null(fit.model);
    assert_range(&fit, STAGE_FIRST, STAGE_FIRST);
    assert_non_null(strstr(fit.no_model.text, "No spawning has both numbers of the first cull"));
    parents_fit_done(&fit);
    take_text(*state, import_rounds, HEAD "A1,,black,9000,counted,,0,counted\n", 1, 0, 0);
    make(*state, -1, NULL, &fit);
    assert_null(fit.model);
    assert_range(&fit, STAGE_BLACK, STAGE_BLACK);
    assert_non_null(strstr(fit.no_model.text, "no season has both"));
    parents_fit_done(&fit);
}

#define on_ledger(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_ledger(levels_have_their_names),
        on_ledger(recovered_fish_are_left_out_and_named),
        on_ledger(the_way_is_that_of_most),
        on_ledger(without_counts_there_is_no_model),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
