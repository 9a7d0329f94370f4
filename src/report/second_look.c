#include "senbetsu/report/second_look.h"

static bool is_held(const struct fish *fish, const struct standard *standard)
{
    struct judgement deciding = fish_deciding(fish, standard);
    return judgement_decide(standard, &deciding).verdict == VERDICT_HOLD;
}

/* The look that comes next for a fish: the one it is in, or the one after a finished one. */
static int next_look(const struct fish *fish)
{
    int next = fish->look + (fish->closed ? 1 : 0);
    return next < 2 ? 2 : next;
}

/* The lowest look that is still to come for a held fish, 0 = none is held. */
static int look_due(const struct fish *fish, size_t count, const struct standard *standard)
{
    int due = 0;
    for (size_t i = 0; i < count; i++)
        if (is_held(&fish[i], standard) && (due == 0 || next_look(&fish[i]) < due))
            due = next_look(&fish[i]);
    return due;
}

size_t second_look_pick(struct fish *fish, size_t count, const struct standard *standard)
{
    int due = look_due(fish, count, standard);
    size_t picked = 0;
    for (size_t i = 0; i < count && due > 0; i++)
        if (fish[i].look >= due || (is_held(&fish[i], standard) && next_look(&fish[i]) == due))
            fish[picked++] = fish[i];
    return picked;
}
