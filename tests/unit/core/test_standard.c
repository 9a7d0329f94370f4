#include "chance.h"
#include "senbetsu/core/standard.h"

static struct standard drawn(uint64_t seed)
{
    struct chance chance = {seed};
    struct standard standard;
    chance_standard(&chance, &standard);
    return standard;
}

static void aspects_and_faults_are_found_by_code(void **state)
{
    (void)state;
    const struct standard standard = {.aspect_count = 2,
                                      .aspects = {{.code = "white"}, {.code = "body"}},
                                      .fault_count = 1,
                                      .faults = {{.code = "spine"}}};
    assert_int_equal(standard_aspect(&standard, "white"), 0);
    assert_int_equal(standard_aspect(&standard, "body"), 1);
    assert_int_equal(standard_aspect(&standard, "spine"), -1);
    assert_int_equal(standard_aspect(&standard, ""), -1);
    assert_int_equal(standard_fault(&standard, "spine"), 0);
    assert_int_equal(standard_fault(&standard, "white"), -1);
}

static void a_standard_serves_the_varieties_it_names(void **state)
{
    (void)state;
    const struct standard standard = {.varieties = "Kohaku, Taisho Sanke, 菊翠"};
    assert_true(standard_serves(&standard, "Kohaku"));
    assert_true(standard_serves(&standard, "kohaku"));
    assert_true(standard_serves(&standard, "TAISHO SANKE"));
    assert_true(standard_serves(&standard, "菊翠"));
    assert_false(standard_serves(&standard, "Sanke"));
    assert_false(standard_serves(&standard, "Kohaku, Taisho Sanke"));
    assert_false(standard_serves(&standard, "Koha"));
    assert_false(standard_serves(&standard, ""));
    const struct standard nothing = {0};
    assert_false(standard_serves(&nothing, ""));
}

static void a_copy_is_equal(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 50; seed++) {
        struct standard standard = drawn(seed), copy = standard;
        memset(copy.name + strlen(copy.name) + 1, 'x',
               3); /* what stands behind the end is nothing */
        assert_true(standard_equal(&standard, &copy));
    }
}

#define assert_change_is_seen(change)                                                              \
    do {                                                                                           \
        struct standard changed = original;                                                        \
        change;                                                                                    \
        assert_false(standard_equal(&original, &changed));                                         \
    } while (0)

static void every_change_is_seen(void **state)
{
    (void)state;
    const struct standard original = {
        .name = "a",
        .varieties = "Kohaku",
        .stage = STAGE_THIRD,
        .lowest = 1,
        .highest = 5,
        .typical = 3,
        .keep_at = 6500,
        .hold_at = 5500,
        .aspect_count = 1,
        .aspects = {{.code = "white",
                     .label = "White",
                     .weight = 4,
                     .floor = 2,
                     .below_floor = VERDICT_REJECT}},
        .fault_count = 1,
        .faults = {{.code = "eye", .label = "Eye", .effect = EFFECT_DEDUCT, .deduction = 1000}},
    };
    assert_true(standard_equal(&original, &original));
    assert_change_is_seen(changed.name[0] = 'b');
    assert_change_is_seen(changed.varieties[0] = 'J');
    assert_change_is_seen(changed.note[0] = 'n');
    assert_change_is_seen(changed.stage = STAGE_FOURTH);
    assert_change_is_seen(changed.lowest = 2);
    assert_change_is_seen(changed.highest = 9);
    assert_change_is_seen(changed.typical = 4);
    assert_change_is_seen(changed.keep_at++);
    assert_change_is_seen(changed.hold_at--);
    assert_change_is_seen(changed.aspect_count = 0);
    assert_change_is_seen(changed.aspects[0].code[0] = 'v');
    assert_change_is_seen(changed.aspects[0].label[0] = 'V');
    assert_change_is_seen(changed.aspects[0].weight++);
    assert_change_is_seen(changed.aspects[0].floor = NO_FLOOR);
    assert_change_is_seen(changed.aspects[0].below_floor = VERDICT_HOLD);
    assert_change_is_seen(changed.aspects[0].key = 'W');
    assert_change_is_seen(changed.fault_count = 0);
    assert_change_is_seen(changed.faults[0].code[0] = 'o');
    assert_change_is_seen(changed.faults[0].label[0] = 'O');
    assert_change_is_seen(changed.faults[0].effect = EFFECT_HOLD);
    assert_change_is_seen(changed.faults[0].deduction++);
    assert_change_is_seen(changed.faults[0].key = 'e');
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(aspects_and_faults_are_found_by_code),
        cmocka_unit_test(a_standard_serves_the_varieties_it_names),
        cmocka_unit_test(a_copy_is_equal),
        cmocka_unit_test(every_change_is_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
