#include "senbetsu/base/csv.h"
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

static const struct {
    import_function *import;
    plain_export *export;
} kinds[] = {
    {import_parents, export_parents},
    {import_spawnings, export_spawnings},
    {import_rounds, export_rounds},
    {import_lots, export_lots},
    {import_fish, NULL},
};
enum { KINDS = sizeof kinds / sizeof *kinds };

/* Codes and notes of the characters that guards, quotes and codes are about; no comma, so that
 * cells are told apart below. */
static const char *random_text(uint32_t *random, bool code)
{
    static const char *const parts[] = {"'",       "=", "-", "@", "x", "7",  "鯉",
                                        "＝",      "'", " ", "+", ";", "\"", "\xE2\x80\xAE",
                                        "\xC2\xA0"};
    static char text[8][64];
    static int turn;
    char *ret = text[turn++ % 8];
    *ret = '\0';
    for (int count = 1; count <= 6; count++) {
        *random = *random * 1664525 + 1013904223; /* Numerical Recipes' generator */
        strcat(ret, parts[(*random >> 16) % (code ? 9 : sizeof parts / sizeof *parts)]);
    }
    return ret;
}

static void add_cells(struct text *out, const char *const *cells)
{
    for (int i = 0; cells[i] != NULL; i++)
        csv_add(out, cells[i], i == 0);
    csv_end_row(out);
}

#define CELLS(...) ((const char *const[]){__VA_ARGS__, NULL})

/* A file of each kind; all codes are different. */
static void make_files(struct text files[KINDS])
{
    static const char *const headers[KINDS] = {
        "parent,sex,note\n", "spawning,season,dam,variety,note\n", "spawning,lot,stage,note\n",
        "spawning,lot,date,event,pond,note\n",
        "spawning,lot,stage,bowl,fish,judge,date,tag,body,white\n"};
    uint32_t random = 10;
    for (int kind = 0; kind < KINDS; kind++) {
        text_init(&files[kind]);
        text_add(&files[kind], headers[kind]);
    }
    for (int i = 0; i < 60; i++) {
        char dam[64], spawning[64], lot[64];
        snprintf(dam, sizeof dam, "%s%d", random_text(&random, true), i);
        snprintf(spawning, sizeof spawning, "%s%d", random_text(&random, true), i);
        snprintf(lot, sizeof lot, "%s%d", random_text(&random, true), i);
        const char *note = random_text(&random, false);
        const char *pond = random_text(&random, true), *judge = random_text(&random, true);
        add_cells(&files[0], CELLS(dam, "f", note));
        add_cells(&files[1], CELLS(spawning, "2026", dam, "Plain", note));
        add_cells(&files[2], CELLS(spawning, lot, "first", note));
        add_cells(&files[3], CELLS(spawning, lot, "2026-07-02", "move", pond, note));
        add_cells(&files[4],
                  CELLS(spawning, lot, "first", "1", "1", judge, "2026-07-18", lot, "3", "4"));
    }
}

static void export_kind(struct small_ledger *small, int kind, struct text *out)
{
    struct export_filter all = {.stage = -1};
    struct err err;
    text_init(out);
    assert_ok(kinds[kind].export != NULL ? kinds[kind].export(small->ledger, out, &err)
                                         : export_fish(small->ledger, &all, out, &err),
              &err);
}

static void assert_no_formula(const char *csv)
{
    for (const char *line = csv; *line != '\0'; line = strchr(line, '\n') + 1)
        for (const char *cell = line;; cell++) {
            const char *begin = cell + (*cell == '"');
            begin += strspn(begin, " ");
            if (strchr("=+-@", *begin) != NULL)
                fail_msg("a spreadsheet would run %.40s", cell);
            cell += strcspn(cell, ",\n");
            if (*cell == '\n')
                break;
        }
}

/* Whatever the texts begin with: no cell is a formula, and a second ledger has them as the first.
 */
static void test_texts_like_formulas_go_round(void **state)
{
    void *second = NULL;
    struct text files[KINDS];
    make_files(files);
    assert_int_equal(small_ledger_setup(&second), 0);
    for (int kind = 0; kind < KINDS; kind++) {
        struct text first_out, second_out;
        take_text(*state, kinds[kind].import, files[kind].data, 60, 0, 0);
        export_kind(*state, kind, &first_out);
        assert_no_formula(first_out.data);
        struct import import;
        struct err err;
        assert_ok(import_text(second, kinds[kind].import, first_out.data, &import, &err), &err);
        export_kind(second, kind, &second_out);
        assert_string_equal(first_out.data, second_out.data);
        take_text(*state, kinds[kind].import, first_out.data, 0, 0, import.added + import.same);
        text_done(&first_out);
        text_done(&second_out);
        text_done(&files[kind]);
    }
    small_ledger_teardown(&second);
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
        cmocka_unit_test_setup_teardown(test_texts_like_formulas_go_round, small_ledger_setup,
                                        small_ledger_teardown),
        cmocka_unit_test_setup_teardown(test_a_standard_goes_by_its_name, small_ledger_setup,
                                        small_ledger_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
