/* Standards and judgements by chance, the same ones in every run. */
#ifndef SENBETSU_TESTS_CORE_CHANCE_H
#define SENBETSU_TESTS_CORE_CHANCE_H

#include "senbetsu/core/judgement.h"
#include "support/test.h"

struct chance {
    uint64_t state;
};

/* A number from 0 to below `limit`. Generator: splitmix64 (Steele, Lea and Flood 2014). */
static inline int chance_below(struct chance *chance, int limit)
{
    uint64_t z = chance->state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    z ^= z >> 31;
    return (int)(z % (uint64_t)limit);
}

static inline int chance_between(struct chance *chance, int lowest, int highest)
{
    return lowest + chance_below(chance, highest - lowest + 1);
}

static inline bool chance_one_in(struct chance *chance, int count)
{
    return chance_below(chance, count) == 0;
}

static inline void chance_aspect(struct chance *chance, const struct standard *standard, int index,
                                 struct aspect *ret)
{
    *ret = (struct aspect){.floor = NO_FLOOR, .below_floor = VERDICT_REJECT};
    snprintf(ret->code, sizeof ret->code, "a%d", index);
    snprintf(ret->label, sizeof ret->label, "Aspect; 相 %d = %d", index, index);
    ret->weight = chance_between(chance, 1, chance_one_in(chance, 3) ? 100 : 4);
    if (chance_one_in(chance, 3))
        ret->floor = chance_between(chance, standard->lowest, standard->highest);
    if (chance_one_in(chance, 2))
        ret->below_floor = VERDICT_HOLD;
    if (index < 20 && chance_one_in(chance, 2))
        ret->key = (char)('A' + index);
}

static inline void chance_fault(struct chance *chance, int index, struct fault *ret)
{
    *ret = (struct fault){.effect = (enum fault_effect)chance_below(chance, 3)};
    snprintf(ret->code, sizeof ret->code, "f_%d", index);
    snprintf(ret->label, sizeof ret->label, "Fault %d", index);
    if (ret->effect == EFFECT_DEDUCT)
        ret->deduction = chance_between(chance, 0, chance_one_in(chance, 4) ? 10000 : 1500);
    if (index < (int)strlen(STANDARD_SMALL_LETTERS) && chance_one_in(chance, 2))
        ret->key = STANDARD_SMALL_LETTERS[index];
}

static inline void chance_standard(struct chance *chance, struct standard *ret)
{
    *ret = (struct standard){.stage = (enum stage)chance_below(chance, STAGE_COUNT)};
    snprintf(ret->name, sizeof ret->name, "standard %d", chance_below(chance, 1000));
    snprintf(ret->varieties, sizeof ret->varieties, "%s", "Kikusui, 菊翠");
    if (chance_one_in(chance, 2))
        snprintf(ret->note, sizeof ret->note, "%s", "a starting point; # not a rule = yet");
    ret->lowest = chance_between(chance, 0, 3);
    ret->highest = chance_between(chance, ret->lowest + 1, ret->lowest == 0 ? 9 : 10);
    ret->typical = chance_between(chance, ret->lowest, ret->highest);
    ret->keep_at = chance_between(chance, 0, 10000);
    ret->hold_at = chance_between(chance, 0, ret->keep_at);
    ret->aspect_count = chance_between(chance, 1, chance_one_in(chance, 5) ? STANDARD_ASPECTS : 4);
    for (int i = 0; i < ret->aspect_count; i++)
        chance_aspect(chance, ret, i, &ret->aspects[i]);
    ret->fault_count = chance_between(chance, 0, chance_one_in(chance, 5) ? STANDARD_FAULTS : 4);
    for (int i = 0; i < ret->fault_count; i++)
        chance_fault(chance, i, &ret->faults[i]);
}

static inline void chance_judgement(struct chance *chance, const struct standard *standard,
                                    struct judgement *ret)
{
    judgement_init(ret);
    for (int i = 0; i < standard->aspect_count; i++)
        if (!chance_one_in(chance, 30))
            ret->scores[i] = (int8_t)chance_between(chance, standard->lowest, standard->highest);
    for (int i = 0; i < standard->fault_count; i++)
        if (chance_one_in(chance, 10))
            ret->faults |= UINT32_C(1) << i;
    if (chance_one_in(chance, 12))
        ret->by_hand = (enum verdict)chance_below(chance, VERDICT_COUNT);
}

#endif
