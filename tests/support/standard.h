/* Standards for tests, built as initializers: one line for what is set, one for each aspect and
 * fault. */
#ifndef SENBETSU_TESTS_SUPPORT_STANDARD_H
#define SENBETSU_TESTS_SUPPORT_STANDARD_H

#include "senbetsu/core/standard.h"

/* The name, variety and stage; scores from 1 to 5, 3 where nothing is seen; keep and hold at so
 * many hundredths. */
#define STANDARD(of_name, of_variety, of_stage, keep, hold)                                        \
    .name = of_name, .varieties = of_variety, .stage = (of_stage), .lowest = 1, .highest = 5,      \
    .typical = 3, .keep_at = (keep), .hold_at = (hold)

#define ASPECTS(count, ...) .aspect_count = (count), .aspects = {__VA_ARGS__}
#define FAULTS(count, ...) .fault_count = (count), .faults = {__VA_ARGS__}

#define ASPECT(code, label, weight)                                                                \
    {                                                                                              \
        code, label, weight, NO_FLOOR, VERDICT_REJECT, 0                                           \
    }
#define FLOORED_ASPECT(code, label, weight, floor, below)                                          \
    {                                                                                              \
        code, label, weight, floor, below, 0                                                       \
    }
#define FAULT(code, label, effect)                                                                 \
    {                                                                                              \
        code, label, effect, 0, 0                                                                  \
    }
#define DEDUCTION(code, label, hundredths)                                                         \
    {                                                                                              \
        code, label, EFFECT_DEDUCT, hundredths, 0                                                  \
    }

/* One aspect of 0 to 9, each step a ninth of a hundred points (7 = 77.8), and one fault that
 * rejects. */
static inline struct standard trial_standard(void)
{
    struct standard standard = {STANDARD("plain-first", "Plain", STAGE_FIRST, 6500, 5500),
                                ASPECTS(1, ASPECT("body", "Body line", 1)),
                                FAULTS(1, FAULT("spine", "Bent spine", EFFECT_REJECT))};
    standard.lowest = 0;
    standard.highest = 9;
    standard.typical = 5;
    return standard;
}

#endif
