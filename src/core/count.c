#include "senbetsu/core/count.h"
#include "senbetsu/base/text.h"

#include <string.h>

void round_counts_init(struct round_counts *counts)
{
    *counts = (struct round_counts){.in.number = NOT_COUNTED,
                                    .kept.number = NOT_COUNTED,
                                    .rejected = NOT_COUNTED,
                                    .dead = NOT_COUNTED};
}

void count_apply(struct count *known, const struct count *said)
{
    if (said->number == NOT_COUNTED)
        return;
    struct count before = *known;
    *known = *said;
    if (said->number != before.number)
        return;
    if (said->how == HOW_UNSAID && (said->cv == 0 || before.how != HOW_COUNTED))
        known->how = before.how;
    if (said->cv == 0 && known->how == before.how)
        known->cv = before.cv;
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

static bool count_equal(const struct count *a, const struct count *b)
{
    return a->number == b->number && a->how == b->how && a->cv == b->cv;
}

bool round_counts_equal(const struct round_counts *a, const struct round_counts *b)
{
    return count_equal(&a->in, &b->in) && count_equal(&a->kept, &b->kept) &&
           a->rejected == b->rejected && a->dead == b->dead && strcmp(a->day, b->day) == 0 &&
           strcmp(a->note, b->note) == 0;
}

bool count_check(const struct count *count, struct err *err)
{
    if (count->number == NOT_COUNTED && (count->how != HOW_UNSAID || count->cv != 0))
        return err_set(err, ERR_INPUT, "there is no number that this could belong to.");
    if (count->how == HOW_COUNTED && count->cv != 0)
        return err_set(err, ERR_INPUT,
                       "fish that were counted have no error; say how they were estimated.");
    return true;
}

bool count_error_unknown(const struct count *count)
{
    return count->number > 0 && count->how > HOW_COUNTED && count->cv == 0;
}
