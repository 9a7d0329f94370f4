#include "senbetsu/report/pair_find.h"
#include "support/test.h"

static struct rate_key keys[] = {{.text = (char[]){"KD1+KS1"}},
                                 {.text = (char[]){"KD1+KS1;KS2"}},
                                 {.text = (char[]){"KD2+KS1"}},
                                 {.text = (char[]){"RD 7+RS1"}}};
static const struct rate_keys pairs = {.list = keys, .count = sizeof keys / sizeof *keys};

static void assert_found(const char *text, int expected)
{
    struct err err;
    int found = -7;
    assert_ok(pair_find(&pairs, text, &found, &err), &err);
    assert_int_equal(found, expected);
}

static void assert_refused(const char *text, enum err_code code, const char *sentence)
{
    struct err err;
    int found = -7;
    assert_says(pair_find(&pairs, text, &found, &err), &err, sentence);
    assert_int_equal(err.code, code);
    assert_int_equal(found, -7);
}

static void finds_pairs(void **state)
{
    (void)state;
    assert_found("KD1+KS1", 0);
    assert_found("KD2+KS1", 2);
    assert_found("RD 7+RS1", 3);
}

static void takes_males_in_any_order(void **state)
{
    (void)state;
    assert_found("KD1+KS1;KS2", 1);
    assert_found("KD1+KS2;KS1", 1);
}

static void names_the_nearest(void **state)
{
    (void)state;
    assert_refused("KD1+KS9", ERR_ABSENT,
                   "No spawning in the ledger is of KD1+KS9; nearest: KD1+KS1, KD2+KS1 and "
                   "KD1+KS1;KS2.");
    assert_refused("KS1+KD1", ERR_ABSENT, "nearest: KD1+KS1, ");
    assert_refused("KD2+KS2;KS1", ERR_ABSENT, "is of KD2+KS1;KS2; nearest: KD1+KS1;KS2, ");
    assert_refused("kd1+ks1", ERR_ABSENT, "nearest: KD1+KS1, ");
}

static void refuses_what_is_no_pair(void **state)
{
    (void)state;
    static const char *const wrong[] = {"",    "KD1",   "+",     "KD1+", "+KS1", ";KD1+KS1",
                                        "A;B", "A;B+C", "A+B+C", "A+B;", "A+;B", "A+B;;C"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        assert_refused(wrong[i], ERR_USAGE, "is no pair: it is written DAM+SIRE");
}

static void says_so_where_there_are_no_pairs(void **state)
{
    (void)state;
    struct err err;
    int found;
    assert_says(pair_find(&(struct rate_keys){.count = 0}, "KD1+KS1", &found, &err), &err,
                "No spawning in the ledger has both a dam and a sire.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(finds_pairs),
        cmocka_unit_test(takes_males_in_any_order),
        cmocka_unit_test(names_the_nearest),
        cmocka_unit_test(refuses_what_is_no_pair),
        cmocka_unit_test(says_so_where_there_are_no_pairs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
