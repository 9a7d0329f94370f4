#include "pedigrees.h"
#include "senbetsu/stats/kinship_name.h"

/* The relations that the published matings are named after, with the two fish that are mated. Where
 * nothing else connects them, their kinship is the relation's. */
static const struct {
    const char *pedigree, *a, *b;
    enum kinship_name kinship_name;
    bool alone;
} matings[] = {
    {"full_sib_mating", "3", "4", RELATION_FULL_SIBS, true},
    {"half_sib_mating", "4", "5", RELATION_HALF_SIBS, true},
    {"parent_offspring", "1", "3", RELATION_PARENT, true},
    {"grandparent_grandoffspring", "1", "5", RELATION_GRANDPARENT, true},
    {"first_cousins", "7", "8", RELATION_COUSINS, true},
    {"half_first_cousins", "8", "9", RELATION_HALF_COUSINS, true},
    {"uncle_niece", "3", "6", RELATION_UNCLE, true},
    {"double_first_cousins", "9", "10", RELATION_DOUBLE_COUSINS, true},
    {"selfing", "1", "1", RELATION_SAME, true},
    {"half_first_cousins", "4", "9", RELATION_HALF_UNCLE, true},
    {"first_cousins", "7", "5", RELATION_NONE, true},
    {"first_cousins", "9", "1", RELATION_GREAT_GRANDPARENT, false},
    {"roan_gauntlet", "7", "8", RELATION_HALF_UNCLE, false},
    {"regular_half_sib", "9", "f0_0", RELATION_DISTANT, false},
};

static void check(const struct csv *csv, size_t i, bool backwards)
{
    struct pedigree pedigree = take_pedigree(csv, matings[i].pedigree, backwards);
    struct kinship kinship;
    struct err err;
    assert_ok(kinship_make(pedigree.fish, pedigree.count, NULL, 0, &kinship, &err), &err);
    int a = place_of(&pedigree, matings[i].a);
    int b = place_of(&pedigree, matings[i].b);
    assert_int_equal(kinship_name_of(&kinship, a, b), matings[i].kinship_name);
    assert_int_equal(kinship_name_of(&kinship, b, a), matings[i].kinship_name);
    double alone = relations[matings[i].kinship_name].kinship;
    assert_int_equal(kinship_between(&kinship, a, b) == alone, matings[i].alone);
    kinship_done(&kinship);
    free(pedigree.fish);
}

static void relations_are_named(void **state)
{
    (void)state;
    struct csv csv;
    load_table("tests/data/pedigrees.csv", &csv);
    for (size_t i = 0; i < sizeof matings / sizeof *matings; i++) {
        check(&csv, i, false);
        check(&csv, i, true);
    }
    csv_done(&csv);
}

/* 4 and 5 are sisters, 6 and 7 brothers; 8 is of 4 and 6, 9 of 5 and 7. In 10 sire's and dam's
 * sides are the other way about. 11 is of 7 alone. */
static void double_cousins_are_so_either_way_about(void **state)
{
    (void)state;
    const struct pedigree_fish fish[] = {
        {"0", UNKNOWN_PARENT, UNKNOWN_PARENT},
        {"1", UNKNOWN_PARENT, UNKNOWN_PARENT},
        {"2", UNKNOWN_PARENT, UNKNOWN_PARENT},
        {"3", UNKNOWN_PARENT, UNKNOWN_PARENT},
        {"4", 0, 1},
        {"5", 0, 1},
        {"6", 2, 3},
        {"7", 2, 3},
        {"8", 4, 6},
        {"9", 5, 7},
        {"10", 7, 5},
        {"11", UNKNOWN_PARENT, 7},
    };
    struct kinship kinship;
    struct err err;
    assert_ok(kinship_make(fish, sizeof fish / sizeof *fish, NULL, 0, &kinship, &err), &err);
    assert_int_equal(kinship_name_of(&kinship, 8, 9), RELATION_DOUBLE_COUSINS);
    assert_int_equal(kinship_name_of(&kinship, 8, 10), RELATION_DOUBLE_COUSINS);
    assert_int_equal(kinship_name_of(&kinship, 10, 8), RELATION_DOUBLE_COUSINS);
    assert_int_equal(kinship_name_of(&kinship, 8, 11), RELATION_COUSINS);
    kinship_done(&kinship);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(relations_are_named),
                                       cmocka_unit_test(double_cousins_are_so_either_way_about)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
