#include "senbetsu/exchange/exchange.h"
#include "support/import_bench.h"

static const char parents[] = "parent,sex,variety,born,dam,sire,note,state,since\n"
                              "K1,f,,,,,,sold,2026-11-05\n"
                              "K2,f,Plain,2021,K1,P1,\"broad, \"\"calm\"\"\",,\n"
                              "P1,m,,,,,,available,\n";

static const char spawnings[] = "spawning,season,date,variety,dam,sires,siring,eggs,hatched,note\n"
                                "K1,2026,2026-06-14,Plain,,,single,,,\n"
                                "S9,2025,2025-06-02,Plain,K2,P1,single,200000,150000,warm\n";

#define FISH "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults,body,white\n"
#define OWN "K1,,first,1,1,Ines,2026-07-18,42,,eye,3,4\n"
#define WEST "K1,west,first,1,1,Ines,2026-07-18,,,,5,5\n"

typedef bool plain_export(struct ledger *ledger, struct text *out, struct err *err);

static void assert_export(struct small_ledger *small, plain_export *export, const char *expected)
{
    struct text out;
    struct err err;
    text_init(&out);
    assert_ok(export(small->ledger, &out, &err), &err);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void assert_fish(struct small_ledger *small, struct export_filter filter,
                        const char *expected)
{
    struct text out;
    struct err err;
    text_init(&out);
    assert_ok(export_fish(small->ledger, &filter, &out, &err), &err);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void test_what_was_read_is_written(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents, parents, 3, 0, 0);
    take_text(small, import_spawnings, spawnings, 1, 0, 1);
    assert_export(small, export_parents, parents);
    assert_export(small, export_spawnings, spawnings);
}

static void test_fish_are_chosen(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_fish, FISH WEST OWN, 2, 0, 0);
    assert_fish(small, (struct export_filter){.stage = -1}, FISH OWN WEST);
    assert_fish(small, (struct export_filter){.lot = "west", .stage = -1}, FISH WEST);
    assert_fish(small, (struct export_filter){.spawning = "K1", .stage = STAGE_FIRST},
                FISH OWN WEST);
    assert_fish(small, (struct export_filter){.stage = STAGE_BLACK},
                "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults\n");
}

/* Rounds judged by different standards share the columns that both have. */
static void test_columns_of_several_standards(void **state)
{
    struct small_ledger *small = *state;
    static const char second[] =
        "[standard]\nname = plain-second\nvariety = Plain\nstage = second\n"
        "scale = 0-9\ntypical = 5\nkeep_at = 50\nhold_at = 40\n"
        "[aspect tail]\nlabel = Tail\nweight = 1\n"
        "[aspect white]\nlabel = White ground\nweight = 1\n";
    static const char text[] =
        "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults,body,white,tail\n"
        "K1,,first,1,1,,2026-07-18,,,,3,4,\n"
        "K1,,second,1,1,,2026-08-18,,,,,0,9\n";
    take_text(small, import_standard, second, 1, 0, 0);
    take_text(small, import_fish, text, 2, 0, 0);
    assert_fish(small, (struct export_filter){.stage = -1}, text);
}

static void test_a_standard_goes_by_its_name(void **state)
{
    struct small_ledger *small = *state;
    struct text out;
    struct err err;
    text_init(&out);
    assert_ok(export_standard(small->ledger, "plain-first", &out, &err), &err);
    take_text(small, import_standard, out.data, 0, 0, 1);
    assert_says(export_standard(small->ledger, "nowhere", &out, &err), &err, "nowhere");
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_what_was_read_is_written, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_fish_are_chosen, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_columns_of_several_standards, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_standard_goes_by_its_name, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
