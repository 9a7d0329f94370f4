#include "senbetsu/report/rate_keys.h"
#include "support/test.h"

static const struct lot_origin lots[] = {
    {.lot = "K2",
     .own = true,
     .spawnings = (char[]){"K2"},
     .season = 2026,
     .variety = "Kikusui",
     .dam = "D1",
     .sires = (char[]){"S1"}},
    {.lot = "K1",
     .own = true,
     .spawnings = (char[]){"K1"},
     .season = 2025,
     .variety = "Kikusui",
     .dam = "D1",
     .sires = (char[]){"S1"}},
    {.lot = "west",
     .spawnings = (char[]){"K2"},
     .season = 2026,
     .variety = "Kikusui",
     .dam = "D1",
     .sires = (char[]){"S1"}},
    {.lot = "west",
     .spawnings = (char[]){"K3"},
     .season = 2026,
     .dam = "D1",
     .sires = (char[]){"S1;S2"}},
    {.lot = "both",
     .mixed = true,
     .spawnings = (char[]){"K2;K3"},
     .season = 2026,
     .sires = (char[]){""}},
    {.lot = "O1",
     .own = true,
     .spawnings = (char[]){"O1"},
     .season = 2026,
     .variety = "Ogon",
     .dam = "D2",
     .sires = (char[]){""}},
};
enum { LOTS = sizeof lots / sizeof *lots };

struct expected {
    const char *keys[LOTS];
    int seasons[LOTS];
    int of[LOTS];
};

static void assert_keys(enum rates_by by, const struct expected *expected)
{
    struct rate_keys keys;
    rate_keys_init(&keys, by, lots, LOTS);
    for (size_t i = 0; i < keys.count; i++) {
        assert_string_equal(keys.list[i].text, expected->keys[i]);
        assert_int_equal(keys.list[i].season, expected->seasons[i]);
    }
    assert_true(keys.count == LOTS || expected->keys[keys.count] == NULL);
    for (size_t i = 0; i < LOTS; i++)
        assert_int_equal(keys.of[i], expected->of[i]);
    rate_keys_done(&keys);
}

/* Lots of the same name stay apart: each is of its own spawning. */
static void each_lot_is_a_key_of_its_own(void **state)
{
    (void)state;
    assert_keys(BY_LOT, &(struct expected){{"K1", "K2", "O1", "both", "west", "west"},
                                           {2025, 2026, 2026, 2026, 2026, 2026},
                                           {1, 0, 4, 5, 3, 2}});
}

static void mixed_lots_are_no_spawnings_and_no_pairs(void **state)
{
    (void)state;
    assert_keys(BY_SPAWNING, &(struct expected){{"K1", "K2", "K3", "O1"},
                                                {2025, 2026, 2026, 2026},
                                                {1, 0, 1, 2, NO_KEY, 3}});
}

/* A pair is one over all seasons, a group of sires is another; without a sire there is none. */
static void a_group_of_sires_is_no_single_sire(void **state)
{
    (void)state;
    assert_keys(BY_PAIR,
                &(struct expected){{"D1+S1", "D1+S1;S2"}, {0, 2026}, {0, 0, 0, 1, NO_KEY, NO_KEY}});
}

static void seasons_and_varieties_take_mixed_lots(void **state)
{
    (void)state;
    assert_keys(BY_SEASON, &(struct expected){{"2025", "2026"}, {2025, 2026}, {1, 0, 1, 1, 1, 1}});
    assert_keys(BY_VARIETY,
                &(struct expected){{"Kikusui", "Ogon"}, {0, 2026}, {0, 0, 0, NO_KEY, NO_KEY, 1}});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_lot_is_a_key_of_its_own),
        cmocka_unit_test(mixed_lots_are_no_spawnings_and_no_pairs),
        cmocka_unit_test(a_group_of_sires_is_no_single_sire),
        cmocka_unit_test(seasons_and_varieties_take_mixed_lots),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
