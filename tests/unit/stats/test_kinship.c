#include "pedigrees.h"
#include "senbetsu/stats/kinship.h"
#include "support/cells.h"
#include "support/test.h"

#include <math.h>

/* Each row of tests/data/kinship.csv names its source and how well it is known: PRIMARY-SEEN was
 * read where it was published, QUOTED-SEEN where somebody else quotes it, MEMORY is recalled,
 * RECOMPUTED has no published value behind it. */
enum { NAME, QUANTITY, A, B, PUBLISHED, VALUE, STATUS, SOURCE };

static struct kinship make(const struct pedigree *pedigree)
{
    struct kinship kinship;
    struct err err;
    assert_ok(kinship_make(pedigree->fish, pedigree->count, NULL, 0, &kinship, &err), &err);
    return kinship;
}

/* The share of a fish's genes that is drawn anew, not given by its parents' averages. */
static double sampling(const struct kinship *kinship, int fish)
{
    int parents[2] = {kinship->pedigree[fish].dam, kinship->pedigree[fish].sire};
    double variance = 1;
    for (int i = 0; i < 2; i++)
        if (parents[i] != UNKNOWN_PARENT)
            variance -= (1 + kinship_inbreeding(kinship, parents[i])) / 4;
    return variance;
}

/* The chance that two fish have both their genes in common. */
static double fraternity(const struct kinship *kinship, int a, int b)
{
    const struct pedigree_fish *x = &kinship->pedigree[a];
    const struct pedigree_fish *y = &kinship->pedigree[b];
    return kinship_between(kinship, x->dam, y->dam) * kinship_between(kinship, x->sire, y->sire) +
           kinship_between(kinship, x->dam, y->sire) * kinship_between(kinship, x->sire, y->dam);
}

static double find(const struct kinship *kinship, const char *quantity, int a, int b)
{
    if (strcmp(quantity, "inbreeding") == 0)
        return kinship_inbreeding(kinship, a);
    if (strcmp(quantity, "sampling") == 0)
        return sampling(kinship, a);
    if (strcmp(quantity, "kinship") == 0)
        return kinship_between(kinship, a, b);
    if (strcmp(quantity, "relationship") == 0)
        return 2 * kinship_between(kinship, a, b);
    if (strcmp(quantity, "fraternity") == 0)
        return fraternity(kinship, a, b);
    fail_msg("what is %s?", quantity);
    return 0;
}

/* Half of one unit in the last digit that was printed. */
static double printed_within(const char *printed)
{
    const char *point = strchr(printed, '.');
    return 0.5000001 * pow(10, point == NULL ? 0 : -(double)strlen(point + 1));
}

static void check_row(const struct csv *pedigrees, const char **fields, bool backwards)
{
    struct pedigree pedigree = take_pedigree(pedigrees, fields[NAME], backwards);
    struct kinship kinship = make(&pedigree);
    double found = find(&kinship, fields[QUANTITY], place_of(&pedigree, fields[A]),
                        place_of(&pedigree, fields[B]));
    if (fabs(found - strtod(fields[VALUE], NULL)) > 1e-14)
        fail_msg("%s, %s %s %s: %s expected, %.15g came out", fields[NAME], fields[QUANTITY],
                 fields[A], fields[B], fields[VALUE], found);
    if (*fields[PUBLISHED] != '\0' &&
        fabs(found - strtod(fields[PUBLISHED], NULL)) > printed_within(fields[PUBLISHED]))
        fail_msg("%s, %s %s %s: %s is published, %.15g came out", fields[NAME], fields[QUANTITY],
                 fields[A], fields[B], fields[PUBLISHED], found);
    kinship_done(&kinship);
    free(pedigree.fish);
}

static void published_values_come_out(void **state)
{
    (void)state;
    struct csv pedigrees, values;
    int checked = 0, published = 0;
    load_table("tests/data/pedigrees.csv", &pedigrees);
    load_table("tests/data/kinship.csv", &values);
    for (size_t i = 0; i < values.row_count; i++) {
        const char *fields[CELLS];
        cells_of(&values, i, fields);
        assert_true(*fields[STATUS] != '\0' && *fields[SOURCE] != '\0');
        if (strcmp(fields[QUANTITY], "inverse") == 0)
            continue;
        check_row(&pedigrees, fields, false);
        check_row(&pedigrees, fields, true);
        checked++;
        published += *fields[PUBLISHED] != '\0';
    }
    assert_int_equal(checked, 148);
    assert_int_equal(published, 46);
    csv_done(&pedigrees);
    csv_done(&values);
}

/* Mrode's six fish: the inverse of their relationships, times the relationships, is one. */
static void the_inverse_belongs_to_the_table(void **state)
{
    (void)state;
    enum { FISH = 6 };
    double inverse[FISH][FISH] = {0};
    struct csv pedigrees, values;
    load_table("tests/data/pedigrees.csv", &pedigrees);
    load_table("tests/data/kinship.csv", &values);
    for (size_t i = 0; i < values.row_count; i++) {
        const char *fields[CELLS];
        cells_of(&values, i, fields);
        if (strcmp(fields[QUANTITY], "inverse") != 0)
            continue;
        int a = atoi(fields[A]) - 1, b = atoi(fields[B]) - 1;
        inverse[a][b] = inverse[b][a] = strtod(fields[VALUE], NULL);
    }
    struct pedigree pedigree = take_pedigree(&pedigrees, "mrode6", false);
    struct kinship kinship = make(&pedigree);
    for (int i = 0; i < FISH; i++)
        for (int j = 0; j < FISH; j++) {
            double product = 0;
            for (int k = 0; k < FISH; k++)
                product += 2 * kinship_between(&kinship, i, k) * inverse[k][j];
            assert_true(fabs(product - (i == j)) < 1e-13);
        }
    kinship_done(&kinship);
    free(pedigree.fish);
    csv_done(&pedigrees);
    csv_done(&values);
}

/* A farm by chance whose parents stand before their offspring; a generator of 32 bits will do. */
enum { FISH = 26 };

struct farm {
    struct pedigree_fish fish[FISH];
    uint32_t chance;
};

static int below(struct farm *farm, int limit)
{
    farm->chance = farm->chance * 1664525 + 1013904223;
    return (int)((farm->chance >> 16) % (uint32_t)limit);
}

static void draw_farm(struct farm *farm, uint32_t seed)
{
    farm->chance = seed;
    for (int i = 0; i < FISH; i++) {
        bool founder = i < 3 || below(farm, 8) == 0;
        farm->fish[i] = (struct pedigree_fish){"", founder ? UNKNOWN_PARENT : below(farm, i),
                                               founder || below(farm, 10) == 0 ? UNKNOWN_PARENT
                                                                               : below(farm, i)};
    }
}

/* By the definition: the younger of two is followed up to its parents. */
static double follow(const struct pedigree_fish *fish, int a, int b)
{
    if (a == UNKNOWN_PARENT || b == UNKNOWN_PARENT)
        return 0;
    if (a == b)
        return (1 + follow(fish, fish[a].dam, fish[a].sire)) / 2;
    int younger = a > b ? a : b, older = a > b ? b : a;
    return (follow(fish, fish[younger].dam, older) + follow(fish, fish[younger].sire, older)) / 2;
}

/* Every way up from a fish, as Wright has it; what two ways have in common is asked afterwards. */
enum { WAYS = 40000 };

struct ways {
    int count;
    uint32_t passed[WAYS]; /* a bit each fish */
    int end[WAYS], length[WAYS];
};

static void climb(const struct pedigree_fish *fish, int at, uint32_t passed, int length,
                  struct ways *ways)
{
    if (at == UNKNOWN_PARENT)
        return;
    passed |= UINT32_C(1) << at;
    assert_true(ways->count < WAYS);
    ways->passed[ways->count] = passed;
    ways->end[ways->count] = at;
    ways->length[ways->count++] = length;
    climb(fish, fish[at].dam, passed, length + 1, ways);
    climb(fish, fish[at].sire, passed, length + 1, ways);
}

static struct ways of_a, of_b;

static void sum_paths(const struct pedigree_fish *fish, int a, int b, double ret_paths[FISH],
                      double ret_parts[FISH])
{
    of_a.count = of_b.count = 0;
    climb(fish, a, 0, 0, &of_a);
    climb(fish, b, 0, 0, &of_b);
    for (int i = 0; i < of_a.count; i++)
        for (int j = 0; j < of_b.count; j++) {
            int end = of_a.end[i];
            if (of_b.end[j] != end || (of_a.passed[i] & of_b.passed[j]) != UINT32_C(1) << end)
                continue;
            ret_paths[end]++;
            ret_parts[end] += ldexp(1 + follow(fish, fish[end].dam, fish[end].sire),
                                    -(of_a.length[i] + of_b.length[j] + 1));
        }
}

/* The fewest generations from the fish that was climbed from up to `end`. */
static int fewest_above(const struct ways *ways, int end)
{
    int fewest = FISH;
    for (int i = 0; i < ways->count; i++)
        if (ways->end[i] == end && ways->length[i] < fewest)
            fewest = ways->length[i];
    return fewest;
}

static void check_ancestors(const struct kinship *kinship, int a, int b)
{
    double paths[FISH] = {0}, parts[FISH] = {0}, sum = 0;
    struct common_ancestor *found;
    size_t count;
    common_ancestors(kinship, a, b, &found, &count);
    sum_paths(kinship->pedigree, a, b, paths, parts);
    for (size_t i = 0; i < count; i++) {
        assert_true(i == 0 || found[i].part <= found[i - 1].part);
        assert_true(found[i].paths == paths[found[i].fish]);
        assert_true(fabs(found[i].part - parts[found[i].fish]) < 1e-15);
        assert_int_equal(found[i].above_a, fewest_above(&of_a, found[i].fish));
        assert_int_equal(found[i].above_b, fewest_above(&of_b, found[i].fish));
        sum += found[i].part;
        paths[found[i].fish] = 0;
    }
    for (int i = 0; i < FISH; i++)
        assert_true(paths[i] == 0);
    assert_true(fabs(sum - kinship_between(kinship, a, b)) < 1e-14);
    free(found);
}

static void farms_by_chance_agree_with_the_definition(void **state)
{
    (void)state;
    for (uint32_t seed = 1; seed <= 60; seed++) {
        struct farm farm;
        draw_farm(&farm, seed);
        struct pedigree pedigree = {farm.fish, FISH};
        struct kinship kinship = make(&pedigree);
        for (int a = 0; a < FISH; a++)
            for (int b = 0; b <= a; b++)
                assert_true(kinship_between(&kinship, a, b) == follow(farm.fish, a, b) &&
                            kinship_between(&kinship, b, a) == follow(farm.fish, a, b));
        for (int a = 0; a < FISH; a += 5)
            for (int b = 0; b < FISH; b += 3)
                check_ancestors(&kinship, a, b);
        kinship_done(&kinship);
    }
}

static void only_ancestors_of_those_asked_for_are_in_the_table(void **state)
{
    (void)state;
    struct farm farm;
    struct kinship whole, some;
    struct err err;
    draw_farm(&farm, 7);
    const int wanted[] = {FISH - 1, 4, FISH - 1};
    assert_ok(kinship_make(farm.fish, FISH, NULL, 0, &whole, &err), &err);
    assert_ok(kinship_make(farm.fish, FISH, wanted, 3, &some, &err), &err);
    assert_true(some.count < whole.count);
    assert_true(kinship_between(&some, wanted[0], 4) == kinship_between(&whole, wanted[0], 4));
    kinship_done(&whole);
    kinship_done(&some);
}

static void a_loop_is_refused_by_name(void **state)
{
    (void)state;
    const struct pedigree_fish fish[] = {{"apart", UNKNOWN_PARENT, UNKNOWN_PARENT},
                                         {"young", 2, 0},
                                         {"K1", 0, 3},
                                         {"K2", 4, -1},
                                         {"K3", -1, 2}};
    const struct pedigree_fish itself[] = {{"S2", -1, 0}};
    const int wanted[] = {0};
    struct kinship kinship;
    struct err err;
    assert_says(kinship_make(fish, 5, NULL, 0, &kinship, &err), &err,
                "A dam or sire is wrong, since K1 is its own ancestor; correct one of these: K1 "
                "from K2, K2 from K3, K3 from K1.");
    assert_says(kinship_make(itself, 1, NULL, 0, &kinship, &err), &err,
                "since S2 is its own ancestor; correct one of these: S2 from S2.");
    /* Who does not descend from it is not concerned. */
    assert_ok(kinship_make(fish, 5, wanted, 1, &kinship, &err), &err);
    assert_int_equal(kinship.count, 1);
    kinship_done(&kinship);
}

/* Twenty thousand fish, each from the two before it: one table of them all is too much. */
static void a_herd_is_refused_and_its_founders_are_not(void **state)
{
    (void)state;
    enum { HERD = 20000 };
    struct pedigree_fish *fish = calloc(HERD, sizeof *fish);
    const int wanted[] = {40, 41};
    struct kinship kinship;
    struct err err;
    for (int i = 0; i < HERD; i++)
        fish[i] = (struct pedigree_fish){"x", i < 2 ? UNKNOWN_PARENT : i - 2,
                                         i < 2 ? UNKNOWN_PARENT : i - 1};
    assert_says(kinship_make(fish, HERD, NULL, 0, &kinship, &err), &err,
                "for at most 8000 fish at once, and these are 20000 with their ancestors.");
    assert_ok(kinship_make(fish, HERD, wanted, 2, &kinship, &err), &err);
    assert_int_equal(kinship.count, 42);
    assert_true(kinship_between(&kinship, 40, 41) > 0.9);
    kinship_done(&kinship);
    free(fish);
}

/* The kinship_names that the published matings are named after, with the two fish that are mated.
 * Where nothing else connects them, their kinship is the relation's. */
static const struct {
    const char *pedigree, *a, *b;
    enum kinship_name kinship_name;
    bool alone;
} matings[] = {
    {"full_sib_mating", "3", "4", KIN_FULL_SIBS, true},
    {"half_sib_mating", "4", "5", KIN_HALF_SIBS, true},
    {"parent_offspring", "1", "3", KIN_PARENT, true},
    {"grandparent_grandoffspring", "1", "5", KIN_GRANDPARENT, true},
    {"first_cousins", "7", "8", KIN_COUSINS, true},
    {"half_first_cousins", "8", "9", KIN_HALF_COUSINS, true},
    {"uncle_niece", "3", "6", KIN_UNCLE, true},
    {"double_first_cousins", "9", "10", KIN_DOUBLE_COUSINS, true},
    {"selfing", "1", "1", KIN_SAME, true},
    {"half_first_cousins", "4", "9", KIN_HALF_UNCLE, true},
    {"first_cousins", "7", "5", KIN_NONE, true},
    {"first_cousins", "9", "1", KIN_GREAT_GRANDPARENT, false},
    {"roan_gauntlet", "7", "8", KIN_HALF_UNCLE, false},
    {"regular_half_sib", "9", "f0_0", KIN_DISTANT, false},
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
    double alone = kinship_names[matings[i].kinship_name].kinship;
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
    assert_int_equal(kinship_name_of(&kinship, 8, 9), KIN_DOUBLE_COUSINS);
    assert_int_equal(kinship_name_of(&kinship, 8, 10), KIN_DOUBLE_COUSINS);
    assert_int_equal(kinship_name_of(&kinship, 10, 8), KIN_DOUBLE_COUSINS);
    assert_int_equal(kinship_name_of(&kinship, 8, 11), KIN_COUSINS);
    kinship_done(&kinship);
}

static bool near(double a, double b)
{
    return fabs(a - b) < 1e-12;
}

/* 99 dams with one sire, and two pairs: U.S. Fish and Wildlife Service, Inland Salmonid Broodstock
 * Management Handbook. The others are worked out from the formula. */
static void numbers_of_parents_come_out_as_published(void **state)
{
    (void)state;
    static const struct {
        int dams, sires;
        double effective, inbreeding;
    } seasons[] = {
        {99, 1, 3.96, 1 / 7.92}, {2, 2, 4, 0.125}, {1, 1, 2, 0.25},
        {1, 3, 3, 1.0 / 6},      {5, 5, 10, 0.05}, {25, 25, 50, 0.01},
    };
    for (size_t i = 0; i < sizeof seasons / sizeof *seasons; i++) {
        double effective = effective_parents(seasons[i].dams, seasons[i].sires);
        assert_true(near(effective, seasons[i].effective));
        assert_true(near(inbreeding_per_generation(effective), seasons[i].inbreeding));
    }
    assert_true(effective_parents(0, 4) == 0);
}

/* 900 of 1000 tosai from one dam and 100 from another: 1 ÷ (0.81 + 0.01). */
static void unequal_parts_count_for_less(void **state)
{
    (void)state;
    const double even[] = {40, 40, 40}, uneven[] = {900, 100, 0}, none[] = {0, 0};
    assert_true(near(effective_number(even, 3), 3));
    assert_true(near(effective_number(uneven, 3), 1 / 0.82));
    assert_true(effective_number(none, 2) == 0);
}

/* Two tosai taken at random, of dams and sires that are not related, are akin by (Σp² of the dams +
 * Σp² of the sires) ÷ 8, which is 1 ÷ (2 · effective number). */
static void the_effective_number_tells_the_kinship_of_the_young(void **state)
{
    (void)state;
    const double dams[] = {500, 300, 200}, sires[] = {700, 300};
    double kinship = (0.25 + 0.09 + 0.04 + 0.49 + 0.09) / 8;
    double effective = effective_parents(effective_number(dams, 3), effective_number(sires, 2));
    assert_true(near(inbreeding_per_generation(effective), kinship));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(published_values_come_out),
        cmocka_unit_test(the_inverse_belongs_to_the_table),
        cmocka_unit_test(farms_by_chance_agree_with_the_definition),
        cmocka_unit_test(only_ancestors_of_those_asked_for_are_in_the_table),
        cmocka_unit_test(a_loop_is_refused_by_name),
        cmocka_unit_test(a_herd_is_refused_and_its_founders_are_not),
        cmocka_unit_test(relations_are_named),
        cmocka_unit_test(double_cousins_are_so_either_way_about),
        cmocka_unit_test(numbers_of_parents_come_out_as_published),
        cmocka_unit_test(unequal_parts_count_for_less),
        cmocka_unit_test(the_effective_number_tells_the_kinship_of_the_young),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
