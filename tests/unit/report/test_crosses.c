#include "senbetsu/report/crosses.h"
#include "support/import_bench.h"

struct farm {
    struct pedigree pedigree;
    struct spawning *spawnings;
    size_t spawning_count;
};

/* The small ledger's own spawning is of 2026, which makes 2024 the first season that counts. */
static struct farm read_farm(struct small_ledger *small)
{
    struct farm farm;
    struct err err;
    assert_ok(pedigree_read(small->ledger, &farm.pedigree, &err), &err);
    assert_ok(spawning_list(small->ledger, &farm.spawnings, &farm.spawning_count, &err), &err);
    return farm;
}

static void farm_done(struct farm *farm)
{
    pedigree_done(&farm->pedigree);
    free(farm->spawnings);
}

/* "f", "m", "fm" or "": what the fish could be set as. */
static void assert_available(const struct farm *farm, const char *code, const char *expected)
{
    struct availability available[16];
    parents_available(&farm->pedigree, farm->spawnings, farm->spawning_count, available);
    int place = pedigree_place(&farm->pedigree, code);
    assert_true(place != UNKNOWN_PARENT);
    char found[3];
    snprintf(found, sizeof found, "%s%s", available[place].as_dam ? "f" : "",
             available[place].as_sire ? "m" : "");
    if (strcmp(found, expected) != 0)
        fail_msg("%s is available as \"%s\", not as \"%s\"", code, found, expected);
}

static void test_who_is_available(void **state)
{
    struct small_ledger *small = *state;
    take_text(
        small, import_parents,
        "parent,sex,born,dam,sire\n"
        "used,f,2010,,\nlate,,,,\nlong-ago,f,,,\ngrandmother,f,,,\nyoung,m,2022,,grandfather\n"
        "grandfather,,,,\nold,m,2017,,\nof-age,m,2018,grandmother,\nnew,,,,\nsire,,,,\n",
        10, 0, 0);
    take_text(small, import_spawnings,
              "spawning,season,dam,sires,siring\n"
              "S24,2024,used,late;sire,group\nS23,2023,long-ago,sire,single\n",
              2, 0, 0);
    struct farm farm = read_farm(small);
    assert_available(&farm, "used", "f");
    assert_available(&farm, "late", "m");
    assert_available(&farm, "sire", "m");
    assert_available(&farm, "long-ago", "");
    assert_available(&farm, "grandmother", "");
    assert_available(&farm, "grandfather", "");
    assert_available(&farm, "young", "m");
    assert_available(&farm, "of-age", "m");
    assert_available(&farm, "old", "");
    assert_available(&farm, "new", "fm");
    farm_done(&farm);
}

static void assert_crosses(const struct farm *farm, const char *expected)
{
    struct cross *crosses;
    size_t count;
    struct text found;
    crosses_make(&farm->pedigree, farm->spawnings, farm->spawning_count, &crosses, &count);
    text_init(&found);
    for (size_t i = 0; i < count; i++)
        text_addf(&found, "%s+%s\n", farm->pedigree.fish[crosses[i].dam].code,
                  farm->pedigree.fish[crosses[i].sire].code);
    assert_string_equal(found.data, expected);
    text_done(&found);
    free(crosses);
}

/* The parents of D2, P2 and P3 were set long ago. */
static void test_dams_meet_sires(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents,
              "parent,sex,dam,sire\nD2,f,D1,P1\nP2,m,D1,P1\nP3,m,D1,\nD1,f,,\nP1,m,,\nD4,f,,\n", 6,
              0, 0);
    struct farm farm = read_farm(small);
    assert_crosses(&farm, "D2+P2\nD2+P3\nD4+P2\nD4+P3\n");
    farm_done(&farm);
}

static void test_fish_of_unknown_sex_are_crossed_once(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents, "parent,sex\nD,f\nP,m\nX,\nY,\n", 4, 0, 0);
    struct farm farm = read_farm(small);
    assert_crosses(&farm, "D+P\nD+X\nD+Y\nX+P\nX+Y\nY+P\n");
    farm_done(&farm);
}

static void test_without_parents_there_is_no_cross(void **state)
{
    struct farm farm = read_farm(*state);
    assert_crosses(&farm, "");
    farm_done(&farm);
}

#define on_ledger(test)                                                                            \
    cmocka_unit_test_setup_teardown(test, small_ledger_setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_ledger(test_who_is_available),
        on_ledger(test_dams_meet_sires),
        on_ledger(test_fish_of_unknown_sex_are_crossed_once),
        on_ledger(test_without_parents_there_is_no_cross),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
