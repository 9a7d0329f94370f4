#include "senbetsu/exchange/exchange.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/varieties.h"
#include "support/import_bench.h"

#define SPAWNING "spawning,season,variety\n"

static void test_a_spelling_is_no_other_variety(void **state)
{
    struct small_ledger *small = *state;
    struct parent parent;
    struct err err;
    take_text(small, import_parents, "parent,variety\nA,紅白\nB,shiro-utsuri\n", 2, 0, 0);
    take_text(small, import_parents, "parent,variety\nA,KOHAKU\n", 0, 0, 1);
    assert_ok(parent_get(small->ledger, "A", &parent, &err), &err);
    assert_string_equal(parent.variety, "Kohaku");
}

static void test_a_slip_is_refused(void **state)
{
    struct small_ledger *small = *state;
    struct variety variety;
    struct err err;
    refuse_text(small, import_spawnings, SPAWNING "S1,2026,Kohako\n",
                "f.csv, line 2, column 3 (variety): there is no variety \"Kohako\"; if Kohaku is "
                "not what was meant, add it first");
    take_text(small, import_varieties, "variety\nKohako\n", 1, 0, 0);
    take_text(small, import_spawnings, SPAWNING "S1,2026,Kohako\n", 1, 0, 0);
    take_text(small, import_spawnings, SPAWNING "S2,2026,Far Other\n", 1, 0, 0);
    assert_ok(variety_get(small->ledger, "far other", &variety, &err), &err);
}

static void test_a_standard_names_varieties_of_the_list(void **state)
{
    struct small_ledger *small = *state;
    static const char rest[] = "stage = second\nscale = 1-5\ntypical = 3\nkeep_at = 65\n"
                               "hold_at = 55\n[aspect body]\nlabel = Body\nweight = 1\n";
    struct text out, file;
    struct err err;
    text_init(&out);
    text_init(&file);
    text_addf(&file, "[standard]\nname = x\nvariety = 紅白, sanke, Taisho Sanke\n%s", rest);
    take_text(small, import_standard, file.data, 1, 0, 0);
    take_text(small, import_standard, file.data, 0, 0, 1);
    assert_ok(export_standard(small->ledger, "x", &out, &err), &err);
    assert_non_null(strstr(out.data, "variety = Kohaku, Sanke\n"));
    text_clear(&file);
    text_addf(&file, "[standard]\nname = y\nvariety = Kohako\n%s", rest);
    refuse_text(small, import_standard, file.data, "f.csv: there is no variety \"Kohako\"");
    text_done(&file);
    text_done(&out);
}

static void test_the_list_goes_out_and_in(void **state)
{
    struct small_ledger *small = *state;
    struct text out;
    struct err err;
    size_t lines = 0;
    text_init(&out);
    take_text(small, import_varieties, "variety,japanese,spellings\nAka Sora,赤空,Red Sky;Sky\n", 1,
              0, 0);
    assert_ok(export_varieties(small->ledger, &out, &err), &err);
    assert_non_null(strstr(out.data, "\nAka Sora,赤空,Red Sky;Sky\n"));
    assert_non_null(strstr(out.data, "\nKohaku,紅白,\n"));
    for (const char *at = out.data; (at = strchr(at, '\n')) != NULL; at++)
        lines++;
    take_text(small, import_varieties, out.data, 0, 0, lines - 1);
    refuse_text(small, import_varieties, "variety,japanese\nMine,紅白\n",
                "f.csv, line 2, column 1 (variety): 紅白 is a name of the variety Kohaku already");
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_spelling_is_no_other_variety, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_slip_is_refused, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_standard_names_varieties_of_the_list,
                                        small_ledger_setup, small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_the_list_goes_out_and_in, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
