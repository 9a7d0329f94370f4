/* A small round for the pass: one aspect of 0 to 9, one fault that knocks out. */
#ifndef SENBETSU_TESTS_SUPPORT_TRIAL_FISH_H
#define SENBETSU_TESTS_SUPPORT_TRIAL_FISH_H

#include "senbetsu/screens/preview.h"
#include "support/test.h"

/* A score of 0 to 9 is worth a ninth of a hundred points a step: 7 = 77.8. */
static inline struct standard preview_standard(void)
{
    struct standard standard = {
        .name = "plain-first",
        .varieties = "Plain",
        .stage = STAGE_FIRST,
        .lowest = 0,
        .highest = 9,
        .typical = 5,
        .keep_at = 6500,
        .hold_at = 5500,
        .aspect_count = 1,
        .aspects = {{.code = "body",
                     .label = "Body line",
                     .weight = 1,
                     .floor = NO_FLOOR,
                     .below_floor = VERDICT_REJECT}},
        .fault_count = 1,
        .faults = {{.code = "spine", .label = "Bent spine", .effect = EFFECT_REJECT}}};
    return standard;
}

/* Fish 1, 2, … of bowl 1 with these scores, -1 = not judged; as they stand by the standard. */
static inline void preview_with(struct preview *preview, const int *scores, size_t count,
                                int places)
{
    struct standard standard = preview_standard();
    struct preview_fish *fish = calloc(count + 1, sizeof *fish);
    for (size_t i = 0; i < count; i++) {
        fish[i].bowl = 1;
        fish[i].number = (int)i + 1;
        judgement_init(&fish[i].judgement);
        fish[i].judgement.scores[0] = (int8_t)scores[i];
        fish[i].standing = judgement_decide(&standard, &fish[i].judgement).verdict;
    }
    preview_init(preview, &standard, places, fish, count);
    free(fish);
}

#endif
