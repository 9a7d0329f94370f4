#include "senbetsu/core/round.h"
#include "senbetsu/base/text.h"

#include <string.h>

void round_counts_init(struct round_counts *counts)
{
    *counts = (struct round_counts){.in.number = NOT_COUNTED,
                                    .kept.number = NOT_COUNTED,
                                    .rejected = NOT_COUNTED,
                                    .dead = NOT_COUNTED};
}

static void apply_number(int64_t *known, int64_t said)
{
    if (said != NOT_COUNTED)
        *known = said;
}

void round_counts_apply(struct round_counts *known, const struct round_counts *said)
{
    count_apply(&known->in, &said->in);
    count_apply(&known->kept, &said->kept);
    apply_number(&known->rejected, said->rejected);
    apply_number(&known->dead, said->dead);
    if (said->day[0] != '\0')
        text_copy(known->day, sizeof known->day, said->day);
    if (said->note[0] != '\0')
        text_copy(known->note, sizeof known->note, said->note);
}

bool round_counts_whole(const struct round_counts *counts)
{
    return counts->in.number != NOT_COUNTED && counts->kept.number != NOT_COUNTED;
}

int64_t round_counts_rejected(const struct round_counts *counts)
{
    if (counts->rejected != NOT_COUNTED || !round_counts_whole(counts))
        return counts->rejected;
    int64_t dead = counts->dead == NOT_COUNTED ? 0 : counts->dead;
    int64_t left = counts->in.number - counts->kept.number - dead;
    return left > 0 ? left : 0;
}

bool round_counts_equal(const struct round_counts *a, const struct round_counts *b)
{
    return count_equal(&a->in, &b->in) && count_equal(&a->kept, &b->kept) &&
           a->rejected == b->rejected && a->dead == b->dead && strcmp(a->day, b->day) == 0 &&
           strcmp(a->note, b->note) == 0;
}

bool fates_any(const struct fates *fates)
{
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        if (fates->fish[fate] != 0)
            return true;
    return false;
}

bool fates_equal(const struct fates *a, const struct fates *b)
{
    for (int fate = 0; fate < FATE_COUNT; fate++)
        if (a->fish[fate] != b->fish[fate])
            return false;
    return a->over == b->over;
}

void fates_settle(struct fates *fates, int64_t rejected, enum fate rest)
{
    if (rejected == NOT_COUNTED)
        return;
    for (int fate = 0; fate < FATE_COUNT; fate++)
        rejected -= fates->fish[fate];
    if (rejected < 0)
        fates->over = -rejected;
    else
        fates->fish[rest] += rejected;
}

void fates_add(struct fates *total, const struct fates *more)
{
    for (int fate = 0; fate < FATE_COUNT; fate++)
        total->fish[fate] += more->fish[fate];
    total->over += more->over;
}
