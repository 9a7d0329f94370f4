#include "senbetsu/report/pedigree.h"
#include "support/import_bench.h"

static void test_parents_become_a_pedigree(void **state)
{
    struct small_ledger *small = *state;
    struct pedigree pedigree;
    struct err err;
    take_text(small, import_parents, "parent,sex,dam,sire\nK3,f,K1,親\n親,m,,\nK1,f,,\nK10,m,K1,\n",
              4, 0, 0);
    assert_ok(pedigree_read(small->ledger, &pedigree, &err), &err);
    assert_int_equal(pedigree.count, 4);
    int k3 = pedigree_place(&pedigree, "K3");
    assert_string_equal(pedigree.fish[k3].code, "K3");
    assert_int_equal(pedigree.parents[k3].sex, SEX_FEMALE);
    assert_int_equal(pedigree.fish[k3].dam, pedigree_place(&pedigree, "K1"));
    assert_int_equal(pedigree.fish[k3].sire, pedigree_place(&pedigree, "親"));
    assert_int_equal(pedigree.fish[pedigree_place(&pedigree, "K10")].sire, UNKNOWN_PARENT);
    assert_int_equal(pedigree_place(&pedigree, "K"), UNKNOWN_PARENT);
    assert_int_equal(pedigree_place(&pedigree, ""), UNKNOWN_PARENT);
    pedigree_done(&pedigree);
}

static void test_a_ledger_without_parents_is_an_empty_one(void **state)
{
    struct small_ledger *small = *state;
    struct pedigree pedigree;
    struct err err;
    assert_ok(pedigree_read(small->ledger, &pedigree, &err), &err);
    assert_int_equal(pedigree.count, 0);
    assert_int_equal(pedigree_place(&pedigree, "K1"), UNKNOWN_PARENT);
    pedigree_done(&pedigree);
}

#define on_ledger(test)                                                                            \
    cmocka_unit_test_setup_teardown(test, small_ledger_setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_ledger(test_parents_become_a_pedigree),
        on_ledger(test_a_ledger_without_parents_is_an_empty_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
