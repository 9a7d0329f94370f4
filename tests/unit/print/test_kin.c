#include "senbetsu/print/kin.h"
#include "support/source.h"
#include "support/test.h"

/* KD2 and KS2 share KD1 and are of two generations; KX comes from their mating. */
enum { KD1, PO1, KS1, KD2, KS2, KX, KY, LONG, FISH };

static const struct pedigree_fish fish[FISH] = {
    [KD1] = {"KD1", UNKNOWN_PARENT, UNKNOWN_PARENT},
    [PO1] = {"PO1", UNKNOWN_PARENT, UNKNOWN_PARENT},
    [KS1] = {"KS1", UNKNOWN_PARENT, UNKNOWN_PARENT},
    [KD2] = {"KD2", KD1, PO1},
    [KS2] = {"KS2", KD1, KS1},
    [KX] = {"KX", KD2, KS2},
    [KY] = {"KY", KD2, KS2},
    [LONG] = {"菊翠の古い雌親とても長い名前の魚その一二三四五", KX, KS1},
};

static void assert_printed(int a, int b, enum sex sex_a, enum sex sex_b, struct page_setup setup,
                           const char *file)
{
    struct kinship kinship;
    struct err err;
    struct text out;
    assert_ok(kinship_make(fish, FISH, NULL, 0, &kinship, &err), &err);
    struct kin kin = {.kinship = &kinship, .a = a, .b = b, .sex_a = sex_a, .sex_b = sex_b};
    text_init(&out);
    kin_print(&kin, setup, &out);
    assert_as_in_source(file, out.data);
    text_done(&out);
    kinship_done(&kinship);
}

static void prints_half_sibs(void **state)
{
    (void)state;
    assert_printed(KD2, KS2, SEX_FEMALE, SEX_MALE, page_default(), "tests/data/print/kin.txt");
}

static void prints_those_who_are_near_in_several_ways(void **state)
{
    (void)state;
    struct page_setup narrow = {.columns = 60};
    assert_printed(KX, KY, SEX_MALE, SEX_MALE, page_default(), "tests/data/print/kin-inbred.txt");
    assert_printed(LONG, KS2, SEX_UNKNOWN, SEX_MALE, narrow, "tests/data/print/kin-long.txt");
}

static void prints_those_who_are_not_related(void **state)
{
    (void)state;
    struct page_setup ascii = {.columns = 80, .ascii = true};
    assert_printed(PO1, KS2, SEX_UNKNOWN, SEX_UNKNOWN, ascii, "tests/data/print/kin-none.txt");
    assert_printed(KX, KX, SEX_MALE, SEX_MALE, page_default(), "tests/data/print/kin-same.txt");
}

static void writes_csv(void **state)
{
    (void)state;
    struct kinship kinship;
    struct err err;
    struct text out;
    assert_ok(kinship_make(fish, FISH, NULL, 0, &kinship, &err), &err);
    struct kin kin = {.kinship = &kinship, .a = KX, .b = LONG};
    text_init(&out);
    kin_csv(&kin, &out);
    assert_string_equal(out.data, "kinship,offspring_inbreeding\n0.34375,0.34375\n");
    text_done(&out);
    kinship_done(&kinship);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_half_sibs),
        cmocka_unit_test(prints_those_who_are_near_in_several_ways),
        cmocka_unit_test(prints_those_who_are_not_related),
        cmocka_unit_test(writes_csv),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
