/* A round's tables, its numbers, and the fates of its rejects.
 *
 * A number can be unknown, and most rules here are about that: a difference of which one part is
 * unknown is unknown itself, never zero, and rejects without a stated fate are undecided rather
 * than put where most others went. */
#include "senbetsu/core/round.h"
#include "senbetsu/base/text.h"

#include <string.h>

enum { MOST_TO_JUDGE = 999999 };

#define AT(member) COLUMN_AT(struct round, member)

const struct column round_columns[ROUND_COLUMN_COUNT] = {
    [ROUND_COLUMN_STAGE] = {"stage", .label = "Which cull", COLUMN_WORDS(stage_terms),
                            .unknown = STAGE_COUNT, AT(stage)},
    [ROUND_COLUMN_LOT] = {"lot", .label = "Lot", .hint = "empty = the spawning's own",
                          .kind = COLUMN_CODE, AT(lot)},
    [ROUND_COLUMN_MANNER] = {"manner", .label = "Manner", COLUMN_WORDS(manner_terms),
                             .unknown = MANNER_COUNT, AT(manner)},
    [ROUND_COLUMN_STANDARD] = {"standard", .label = "Standard", .kind = COLUMN_CODE, AT(standard)},
    [ROUND_COLUMN_PLACES] = {"places", .label = "Places",
                             .hint = "fish the next pond can take; empty = not set",
                             .kind = COLUMN_WHOLE, .highest = MOST_TO_JUDGE, .unknown = -1,
                             AT(places)},
    [ROUND_COLUMN_EXPECTED] = {"expected", .label = "Fish to judge",
                               .hint = "empty = as many as the bowls hold", .kind = COLUMN_WHOLE,
                               .lowest = 1, .highest = MOST_TO_JUDGE, AT(expected)},
    [ROUND_COLUMN_WAITING] = {"waiting", .label = "Judged fish wait in",
                              COLUMN_WORDS(waiting_terms), .unknown = WAITING_COUNT, AT(waiting)},
    [ROUND_COLUMN_FATE] = {"fate", .label = "Rejects are", COLUMN_WORDS(fate_terms), AT(fate)},
};

#undef AT
#define AT(member) COLUMN_AT(struct round_statement, member)

const struct column round_statement_columns[STATED_COLUMN_COUNT] = {
    [STATED_COLUMN_SPAWNING] = {"spawning", .kind = COLUMN_CODES, .required = true, AT(spawnings)},
    [STATED_COLUMN_LOT] = {"lot", .kind = COLUMN_CODE, AT(lot)},
    [STATED_COLUMN_STAGE] = {"stage", COLUMN_WORDS(stage_terms), .required = true,
                             .unknown = STAGE_COUNT, AT(stage)},
    [STATED_COLUMN_DATE] = {"date", .kind = COLUMN_DAY, AT(counts.day)},
    [STATED_COLUMN_MANNER] = {"manner", COLUMN_WORDS(manner_terms), .unknown = MANNER_COUNT,
                              AT(manner)},
    [STATED_COLUMN_IN] = {"in", COLUMN_FISH, AT(counts.in.number)},
    {"in_how", COLUMN_WORDS(method_terms), AT(counts.in.method)},
    {"in_cv", .kind = COLUMN_CV, AT(counts.in.cv)},
    [STATED_COLUMN_KEPT] = {"kept", COLUMN_FISH, AT(counts.kept.number)},
    {"kept_how", COLUMN_WORDS(method_terms), AT(counts.kept.method)},
    {"kept_cv", .kind = COLUMN_CV, AT(counts.kept.cv)},
    [STATED_COLUMN_REJECTED] = {"rejected", COLUMN_FISH, AT(counts.rejected)},
    [STATED_COLUMN_DEAD] = {"dead", COLUMN_FISH, AT(counts.dead)},
    [STATED_COLUMN_NOTE] = {"note", .kind = COLUMN_NOTE, AT(counts.note)},
    [STATED_COLUMN_FATES] = {"pond_grade", COLUMN_FISH, AT(fates[FATE_POND_GRADE])},
    {"passed_on", COLUMN_FISH, AT(fates[FATE_PASSED_ON])},
    {"kept_apart", COLUMN_FISH, AT(fates[FATE_KEPT_APART])},
    {"put_down", COLUMN_FISH, AT(fates[FATE_PUT_DOWN])},
};

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
