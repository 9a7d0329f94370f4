#include "senbetsu/print/cull_bowl.h"

bool bowl_walk_next(const struct cull_round *round, struct bowl_walk *walk, struct bowl_fish *ret)
{
    bool has_bowl = walk->bowl < round->bowl_count;
    bool has_fish = walk->fish < round->fish_count;
    if (!has_bowl && !has_fish)
        return false;
    bool named =
        has_bowl && (!has_fish || round->bowls[walk->bowl].number <= round->fish[walk->fish].bowl);
    *ret = (struct bowl_fish){
        .number = named ? round->bowls[walk->bowl].number : round->fish[walk->fish].bowl,
        .expected = named ? round->bowls[walk->bowl].expected : 0,
        .fish = has_fish ? &round->fish[walk->fish] : NULL,
    };
    walk->bowl += named;
    for (; walk->fish < round->fish_count && round->fish[walk->fish].bowl == ret->number;
         walk->fish++)
        ret->count++;
    return true;
}

/* The number of the fish at `at`; past the last fish and past what was expected, the first number
 * that is not expected. */
static int bound(const struct bowl_fish *bowl, size_t at)
{
    int end = bowl->expected + 1;
    return at < bowl->count && bowl->fish[at].number < end ? bowl->fish[at].number : end;
}

bool bowl_gap_next(const struct bowl_fish *bowl, struct bowl_gap *gap)
{
    while (gap->at <= bowl->count) {
        size_t at = gap->at++;
        int first = at == 0 ? 1 : bowl->fish[at - 1].number + 1;
        int last = bound(bowl, at) - 1;
        if (first <= last) {
            gap->first = first;
            gap->last = last;
            return true;
        }
    }
    return false;
}

void cull_count_add(struct cull_count *count, const struct bowl_fish *bowl)
{
    for (size_t i = 0; i < bowl->count; i++) {
        count->fish[bowl->fish[i].verdict]++;
        count->since += bowl->fish[i].since_pass;
    }
    for (struct bowl_gap gap = {0}; bowl_gap_next(bowl, &gap);)
        count->unseen += gap.last - gap.first + 1;
}

struct cull_count cull_count_round(const struct cull_round *round)
{
    struct cull_count count = {0};
    struct bowl_walk walk = {0};
    for (struct bowl_fish bowl; bowl_walk_next(round, &walk, &bowl);)
        cull_count_add(&count, &bowl);
    int in_no_bowl = round->expected - (int)round->fish_count - count.unseen;
    count.unseen += in_no_bowl > 0 ? in_no_bowl : 0;
    return count;
}

int cull_not_judged(const struct cull_count *count)
{
    return count->fish[VERDICT_OPEN] + count->unseen;
}

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
