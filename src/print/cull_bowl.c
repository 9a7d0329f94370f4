#include "senbetsu/print/cull_bowl.h"

void cull_unseen_text(const struct bowl_fish *bowl, struct text *out)
{
    const char *separator = "";
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap); separator = ", ") {
        text_addf(out, "%s%d", separator, gap.first);
        if (gap.last > gap.first)
            text_addf(out, "–%d", gap.last);
    }
}

void cull_count_text(const struct cull_count *count, struct text *out)
{
    int open = cull_not_judged(count);
    int reject = count->fish[VERDICT_REJECT];
    int hold = count->fish[VERDICT_HOLD];
    int keep = count->fish[VERDICT_KEEP];
    text_addf(out, "take out %d, look again %d, keep %d, not judged %d: %d in all", reject, hold,
              keep, open, reject + hold + keep + open);
}
