/* The pilot rule of docs/first-look.md: two dishes of twenty, and what they advise.
 *
 * The rule is for two dishes and advises nothing beyond them. It is a rule of thumb of keepers and
 * no test; the interval that is shown with it is what says how sure the share is. */
#include "senbetsu/core/first_look.h"

void first_look_add(struct first_look *look, bool good)
{
    int64_t dish = look->looked_at++ / LOOK_DISH;
    if (!good)
        return;
    look->good++;
    if (dish < LOOK_DISHES)
        look->good_in_dish[dish]++;
}

enum first_look_advice first_look_advice(const struct first_look *look)
{
    const int *good = look->good_in_dish;
    if (look->looked_at < LOOK_DISH)
        return LOOK_UNFINISHED;
    if (good[0] >= LOOK_POOR)
        return good[0] >= LOOK_RICH ? LOOK_MORE_ROOM : LOOK_AS_PLANNED;
    if (look->looked_at < LOOK_BOTH)
        return LOOK_AGAIN;
    return good[1] < LOOK_POOR ? LOOK_HARDLY_WORTH : LOOK_AS_PLANNED;
}

int64_t first_look_missing(const struct first_look *look)
{
    switch (first_look_advice(look)) {
    case LOOK_UNFINISHED:
        return LOOK_DISH - look->looked_at;
    case LOOK_AGAIN:
        return LOOK_BOTH - look->looked_at;
    case LOOK_HARDLY_WORTH:
    case LOOK_AS_PLANNED:
    case LOOK_MORE_ROOM:
        break;
    }
    return 0;
}
