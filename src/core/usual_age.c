#include "senbetsu/core/usual_age.h"

/* Worked out from dated accounts of keepers. A row of zeros has no usual age. */
static const struct usual_age ages[STAGE_COUNT] = {
    [STAGE_BLACK] = {4, 7, EVIDENCE_DERIVED},       [STAGE_FIRST] = {28, 45, EVIDENCE_DERIVED},
    [STAGE_SECOND] = {50, 75, EVIDENCE_DERIVED},    [STAGE_THIRD] = {75, 95, EVIDENCE_DERIVED},
    [STAGE_HARVEST] = {110, 150, EVIDENCE_DERIVED}, [STAGE_HOUSE] = {270, 330, EVIDENCE_WEAK},
};

const struct usual_age *usual_age(const char *variety, enum stage stage)
{
    if (stage == STAGE_BLACK && typical_keep(variety, STAGE_BLACK) == NULL)
        return NULL;
    return ages[stage].last_day > 0 ? &ages[stage] : NULL;
}
