#include "senbetsu/store/parents.h"
#include "support/import_bench.h"

static struct parent get(struct small_ledger *small, const char *code)
{
    struct parent parent;
    struct err err;
    assert_ok(parent_get(small->ledger, code, &parent, &err), &err);
    return parent;
}

/* Children may stand before their dam and sire, and columns in any order. */
static void test_any_order(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents,
              "sire,parent,dam,born,sex,variety,note\n"
              "P2,K3,K2,2024,f,Plain,\"broad, calm\"\n"
              ",K2,K1,,f,,\n"
              ",P2,,,m,,\n"
              ",K1,,,,,\n",
              4, 0, 0);
    struct parent parent = get(small, "K3");
    assert_string_equal(parent.dam, "K2");
    assert_string_equal(parent.sire, "P2");
    assert_string_equal(parent.note, "broad, calm");
    assert_string_equal(parent.variety, "Plain");
    assert_int_equal(parent.born, 2024);
    assert_int_equal(parent.sex, SEX_FEMALE);
}

/* However deep the forebears stand below their young, each is saved once. */
static void test_a_long_line_upside_down(void **state)
{
    struct small_ledger *small = *state;
    struct text file;
    text_init(&file);
    text_add(&file, "parent,dam,sire\n");
    for (int i = 0; i < 300; i++)
        text_addf(&file, "L%03d,L%03d,\n", i, i + 1);
    text_add(&file, "L300,,\n");
    take_text(small, import_parents, file.data, 301, 0, 0);
    text_done(&file);
}

static void test_the_same_again_changes_nothing(void **state)
{
    struct small_ledger *small = *state;
    static const char text[] = "parent,sex,born\nK1,f,2020\nP1,m,\n";
    take_text(small, import_parents, text, 2, 0, 0);
    take_text(small, import_parents, text, 0, 0, 2);
}

static void test_what_is_empty_leaves_what_is_known(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents, "parent,sex,born\nK1,f,2020\n", 1, 0, 0);
    take_text(small, import_parents, "parent,sex,born,variety\nK1,,,Plain\n", 0, 1, 0);
    struct parent parent = get(small, "K1");
    assert_int_equal(parent.sex, SEX_FEMALE);
    assert_int_equal(parent.born, 2020);
    assert_string_equal(parent.variety, "Plain");
}

static void test_a_file_without_states_leaves_them(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents, "parent,state,since\nK1,resting,2026-03-01\n", 1, 0, 0);
    take_text(small, import_parents, "parent,sex\nK1,f\n", 0, 1, 0);
    take_text(small, import_parents, "parent,state,since\nK1,,\n", 0, 0, 1);
    assert_int_equal(get(small, "K1").state, BROOD_RESTING);
    assert_string_equal(get(small, "K1").since, "2026-03-01");
    take_text(small, import_parents, "parent,state\nK1,sold\n", 0, 1, 0);
    assert_string_equal(get(small, "K1").since, "");
    refuse_text(small, import_parents, "parent,state\nK1,lent\n",
                "f.csv, line 2, column 2 (state): available, resting, sold or dead is expected");
}

static void test_a_circle_is_refused_by_its_first_row(void **state)
{
    struct small_ledger *small = *state;
    refuse_text(
        small, import_parents, "parent,dam,sire\nA,C,\nB,,C\nC,,B\n",
        "f.csv, line 3, column 3 (sire): B would be its own ancestor; correct its dam or sire.");
}

static void test_sexes_are_held_against_file_and_ledger(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents, "parent,sex\nP1,m\n", 1, 0, 0);
    refuse_text(small, import_parents, "parent,dam\nA,P1\n",
                "f.csv, line 2, column 2 (dam): P1 is male and cannot be a dam.");
    refuse_text(small, import_parents, "parent,sex,sire\nA,f,B\nB,f,\n",
                "f.csv, line 2, column 3 (sire): B is female and cannot be a sire.");
}

static void test_a_failure_takes_nothing(void **state)
{
    struct small_ledger *small = *state;
    struct parent parent;
    struct err err;
    refuse_text(small, import_parents, "parent,born\nA,\nB,soon\n",
                "f.csv, line 3, column 2 (born): a whole number from 1900 to 2199");
    assert_says(parent_get(small->ledger, "A", &parent, &err), &err, "A");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_any_order, small_ledger_setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_long_line_upside_down, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_the_same_again_changes_nothing, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_what_is_empty_leaves_what_is_known, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_file_without_states_leaves_them, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_circle_is_refused_by_its_first_row,
                                        small_ledger_setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_sexes_are_held_against_file_and_ledger,
                                        small_ledger_setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_failure_takes_nothing, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
