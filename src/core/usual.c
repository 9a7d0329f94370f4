/* Usual keep rates and ages, as starting values derived from what keepers have published of their
 * culls. They are hints to compare one's own ledger with; no verdict and no warning depends on them
 * alone, and how well each is founded is told with it. */
#include "senbetsu/core/usual.h"
#include "senbetsu/base/utf8.h"

#include <string.h>

const struct term evidence_terms[EVIDENCE_COUNT] = {
    [EVIDENCE_DERIVED] = {"derived", "derived from published accounts"},
    [EVIDENCE_WEAK] = {"weak", "derived from very little"},
};

static const char red_on_white[] = "red on white";
static const char black_ground[] = "black ground";
static const char metallic[] = "metallic";

static const struct variety {
    const char *name, *group;
} varieties[] = {
    {"Kohaku", red_on_white},       {"Sanke", red_on_white},
    {"Taisho Sanke", red_on_white}, {"Showa", black_ground},
    {"Shiro Utsuri", black_ground}, {"Hi Utsuri", black_ground},
    {"Ki Utsuri", black_ground},    {"Ogon", metallic},
    {"Platinum Ogon", metallic},    {"Yamabuki Ogon", metallic},
    {"Hariwake", metallic},         {"Kujaku", metallic},
    {"Yamatonishiki", metallic},    {"Kikusui", metallic},
};

/* Black fry are counted from all fry, the later culls of black-ground varieties from black fry. */
static const struct typical bands[] = {
    {red_on_white, STAGE_FIRST, 5, 20, EVIDENCE_DERIVED},
    {red_on_white, STAGE_SECOND, 15, 40, EVIDENCE_DERIVED},
    {red_on_white, STAGE_THIRD, 25, 40, EVIDENCE_DERIVED},
    {red_on_white, STAGE_HARVEST, 30, 50, EVIDENCE_DERIVED},
    {black_ground, STAGE_BLACK, 0, 70, EVIDENCE_DERIVED},
    {black_ground, STAGE_FIRST, 5, 15, EVIDENCE_DERIVED},
    {black_ground, STAGE_SECOND, 15, 40, EVIDENCE_DERIVED},
    {black_ground, STAGE_THIRD, 25, 40, EVIDENCE_DERIVED},
    {black_ground, STAGE_HARVEST, 30, 50, EVIDENCE_DERIVED},
    {metallic, STAGE_FIRST, 20, 40, EVIDENCE_WEAK},
    {metallic, STAGE_SECOND, 25, 50, EVIDENCE_WEAK},
    {metallic, STAGE_THIRD, 30, 45, EVIDENCE_WEAK},
    {metallic, STAGE_HARVEST, 40, 60, EVIDENCE_WEAK},
};

static const char *group_of(const char *variety)
{
    static const char scaleless[] = "Doitsu ";
    size_t length = strlen(scaleless);
    if (strlen(variety) > length && utf8_same_letters(variety, length, scaleless))
        variety += length;
    /* Most are written as they stand here. */
    for (size_t i = 0; i < sizeof varieties / sizeof *varieties; i++)
        if (strcmp(variety, varieties[i].name) == 0)
            return varieties[i].group;
    for (size_t i = 0; i < sizeof varieties / sizeof *varieties; i++)
        if (utf8_same_letters(variety, strlen(variety), varieties[i].name))
            return varieties[i].group;
    return NULL;
}

const struct typical *typical_keep(const char *variety, enum stage stage)
{
    const char *group = group_of(variety);
    for (size_t i = 0; group != NULL && i < sizeof bands / sizeof *bands; i++)
        if (bands[i].group == group && bands[i].stage == stage)
            return &bands[i];
    return NULL;
}

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
