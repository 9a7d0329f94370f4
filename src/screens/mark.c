#include "senbetsu/screens/mark.h"

const struct mark verdict_marks[VERDICT_COUNT] = {
    [VERDICT_OPEN] = {"·", "OPEN", STYLE_QUIET},
    [VERDICT_KEEP] = {"K", "KEEP", STYLE_KEEP},
    [VERDICT_HOLD] = {"H", "HOLD", STYLE_HOLD},
    [VERDICT_REJECT] = {"R", "REJECT", STYLE_REJECT},
};
