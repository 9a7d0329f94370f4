#include "senbetsu/print/effects.h"
#include "support/parent_file.h"
#include "support/test.h"

/* The fit of a file, with the names that stand in it. */
struct fitted {
    struct parent_file file;
    char *lists[KIND_COUNT][NAMES];
    struct parents_fit fit;
};

static struct fitted fitted;

static void read_farm(const char *name)
{
    char path[128];
    snprintf(path, sizeof path, "tests/data/parent_model/%s_data.csv", name);
    parent_file_read(&fitted.file, path);
}

static void fit(void)
{
    struct err err;
    fitted.fit = (struct parents_fit){
        .first = STAGE_FIRST,
        .last = STAGE_HARVEST,
        .variety = "Kohaku",
        .notes = {.spawnings = fitted.file.data.row_count, .recovered = ""},
    };
    assert_ok(parent_model_new(&fitted.file.data, PARENT_ALL_TERMS, &fitted.fit.model, &err), &err);
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        for (int i = 0; i < fitted.file.counts[kind]; i++)
            fitted.lists[kind][i] = fitted.file.names[kind][i];
        fitted.fit.names[kind] = (struct level_names){fitted.lists[kind], fitted.file.counts[kind]};
    }
}

static void assert_printed(bool ascii, const char *path)
{
    struct page_setup setup = page_default();
    struct text out;
    setup.ascii = ascii;
    text_init(&out);
    effects_print(&fitted.fit, setup, &out);
    assert_as_in_source(path, out.data);
    text_done(&out);
    parent_model_free(fitted.fit.model);
}

static void prints_shares_seasons_and_parents(void **state)
{
    (void)state;
    read_farm("farm_small");
    fit();
    fitted.fit.notes.estimated = 4;
    fitted.fit.notes.errors_unknown = 1;
    fitted.fit.notes.largest_cv = 0.06;
    fitted.fit.notes.recovered = "R25-1, R25-3";
    assert_printed(false, "tests/data/print/effects.txt");
}

/* Each pair was set once, nobody knows which dams were which, and one season had no kept fish. */
static void names_what_is_left_out(void **state)
{
    (void)state;
    read_farm("farm_small");
    for (size_t i = 0; i < fitted.file.data.row_count; i++) {
        struct parent_row *row = &fitted.file.rows[i];
        row->level[PARENT_DAM] = 0;
        row->level[PARENT_PAIR] = row->level[PARENT_SPAWNING];
        if (row->season == 2)
            row->kept = 0;
    }
    fitted.file.data.levels[PARENT_PAIR] = fitted.file.data.levels[PARENT_SPAWNING];
    fit();
    fitted.fit.last = STAGE_FIRST;
    fitted.fit.variety[0] = '\0';
    fitted.fit.notes.estimated = 15;
    fitted.fit.notes.largest_cv = 0.2;
    assert_printed(true, "tests/data/print/effects-left-out.txt");
}

/* Varieties of which some were culled in the same season, or none. */
static void prints_varieties(void **state)
{
    (void)state;
    read_farm("farm_small");
    snprintf(fitted.file.names[KIND_VARIETY][0], NAME_SIZE, "Kohaku");
    snprintf(fitted.file.names[KIND_VARIETY][1], NAME_SIZE, "Sanke");
    fitted.file.counts[KIND_VARIETY] = fitted.file.data.varieties = 2;
    for (size_t i = 0; i < fitted.file.data.row_count; i++)
        fitted.file.rows[i].variety = fitted.file.rows[i].level[PARENT_DAM] % 2;
    fit();
    assert_printed(false, "tests/data/print/effects-varieties.txt");
    for (size_t i = 0; i < fitted.file.data.row_count; i++)
        fitted.file.rows[i].variety = fitted.file.rows[i].season == 0;
    fit();
    assert_printed(false, "tests/data/print/effects-unlinked.txt");
}

static void assert_has(const char *text, const char *part)
{
    if (strstr(text, part) == NULL)
        fail_msg("\"%s\" is missing in %s", part, text);
}

/* What is not in the model has no row; a season without kept fish has no number. */
static void writes_csv(void **state)
{
    (void)state;
    struct text out;
    text_init(&out);
    read_farm("farm_small");
    for (size_t i = 0; i < fitted.file.data.row_count; i++) {
        fitted.file.rows[i].level[PARENT_DAM] = 0;
        if (fitted.file.rows[i].season == 2)
            fitted.file.rows[i].kept = 0;
    }
    for (size_t i = 0; i < fitted.file.data.row_count; i++)
        fitted.file.rows[i].level[PARENT_PAIR] = fitted.file.rows[i].level[PARENT_SIRE];
    fit();
    effects_csv(&fitted.fit, &out);
    assert_int_equal(strncmp(out.data, "kind,level,estimate,se\nseason,", 30), 0);
    assert_has(out.data, ",,\n");
    assert_null(strstr(out.data, "dam,"));
    assert_null(strstr(out.data, "pair,"));
    assert_null(strstr(out.data, "variety,"));
    assert_has(out.data, "\nsd,sire,");
    assert_has(out.data, "\nsd,spawning,");
    assert_has(out.data, "\nloglik,,-");
    text_done(&out);
    parent_model_free(fitted.fit.model);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_shares_seasons_and_parents),
        cmocka_unit_test(names_what_is_left_out),
        cmocka_unit_test(prints_varieties),
        cmocka_unit_test(writes_csv),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
