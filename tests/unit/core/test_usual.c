#include "senbetsu/core/usual.h"
#include "support/test.h"

static void assert_band(const char *variety, enum stage stage, int lowest, int highest)
{
    const struct typical *typical = typical_keep(variety, stage);
    assert_non_null(typical);
    assert_int_equal(typical->lowest, lowest);
    assert_int_equal(typical->highest, highest);
}

/* Starting values worked out from published accounts; for metallic varieties from little. */
static void varieties_have_the_band_of_their_group(void **state)
{
    (void)state;
    assert_band("Kohaku", STAGE_FIRST, 5, 20);
    assert_band("sanke", STAGE_THIRD, 25, 40);
    assert_band("SHOWA", STAGE_BLACK, 0, 70);
    assert_band("Shiro Utsuri", STAGE_FIRST, 5, 15);
    assert_band("Kujaku", STAGE_THIRD, 30, 45);
    assert_band("Kikusui", STAGE_HARVEST, 40, 60);
    assert_int_equal(typical_keep("Ogon", STAGE_FIRST)->evidence, EVIDENCE_WEAK);
    assert_int_equal(typical_keep("Kohaku", STAGE_FIRST)->evidence, EVIDENCE_DERIVED);
    assert_ptr_equal(typical_keep("Ogon", STAGE_FIRST), typical_keep("Kujaku", STAGE_FIRST));
}

static void scaleless_fish_are_held_against_the_scaled(void **state)
{
    (void)state;
    assert_ptr_equal(typical_keep("Doitsu Kohaku", STAGE_SECOND),
                     typical_keep("Kohaku", STAGE_SECOND));
    assert_null(typical_keep("Doitsu", STAGE_SECOND));
    assert_null(typical_keep("Doitsu ", STAGE_SECOND));
}

static void of_others_nothing_is_known(void **state)
{
    (void)state;
    assert_null(typical_keep("Kohaku", STAGE_BLACK));
    assert_null(typical_keep("Kohaku", STAGE_HOUSE));
    assert_null(typical_keep("Chagoi", STAGE_FIRST));
    assert_null(typical_keep("", STAGE_FIRST));
    assert_null(typical_keep("Kohak", STAGE_FIRST));
}

static void every_band_is_one(void **state)
{
    (void)state;
    static const char *const varieties[] = {"Kohaku", "Showa", "Ogon"};
    for (size_t i = 0; i < sizeof varieties / sizeof *varieties; i++)
        for (int stage = 0; stage < STAGE_COUNT; stage++) {
            const struct typical *typical = typical_keep(varieties[i], (enum stage)stage);
            if (typical == NULL)
                continue;
            assert_true(0 <= typical->lowest && typical->lowest < typical->highest);
            assert_true(typical->highest <= 100);
            assert_true(evidence_terms[typical->evidence].gloss[0] != '\0');
        }
}

/* A spawning of late May is culled first in July and lifted in the autumn. */
static void culls_have_their_age(void **state)
{
    (void)state;
    assert_int_equal(usual_age("Kohaku", STAGE_FIRST)->first_day, 28);
    assert_int_equal(usual_age("Kohaku", STAGE_FIRST)->last_day, 45);
    assert_int_equal(usual_age("", STAGE_HARVEST)->first_day, 110);
    assert_int_equal(usual_age("Showa", STAGE_BLACK)->last_day, 7);
}

static void some_have_none(void **state)
{
    (void)state;
    assert_null(usual_age("Kohaku", STAGE_BLACK));
    assert_null(usual_age("Showa", STAGE_FOURTH));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(varieties_have_the_band_of_their_group),
        cmocka_unit_test(scaleless_fish_are_held_against_the_scaled),
        cmocka_unit_test(of_others_nothing_is_known),
        cmocka_unit_test(every_band_is_one),
        cmocka_unit_test(culls_have_their_age),
        cmocka_unit_test(some_have_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
