#include "senbetsu/core/fates.h"

#include "senbetsu/core/count.h"

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
