#include "senbetsu/base/csv.h"
#include "senbetsu/base/number.h"
#include "senbetsu/exchange/export.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/reject_fates.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/rounds.h"

#include <stdlib.h>

struct writing {
    struct ledger *ledger;
    struct lot_origin *lot_origins;
    size_t lot_origin_count;
    struct text *out;
};

static void add_number(struct text *out, int64_t number)
{
    if (number != NOT_COUNTED)
        csv_add_number(out, number, false);
    else
        csv_add(out, "", false);
}

static void add_count(struct text *out, const struct count *count)
{
    char cv[NUMBER_SIZE] = "";
    if (count->cv != 0)
        number_from_millionths(count->cv, cv);
    add_number(out, count->number);
    csv_add(out, method_terms[count->method].word, false);
    csv_add(out, cv, false);
}

static bool add_row(struct writing *writing, const struct round *round, struct err *err)
{
    struct text *out = writing->out;
    struct round_counts counts;
    struct fates fates;
    if (!round_counts_known(writing->ledger, round->id, &counts, err) ||
        !reject_fates_get(writing->ledger, round->id, &fates, err))
        return false;
    const struct lot_origin *lot_origin =
        lot_origin_find(writing->lot_origins, writing->lot_origin_count, round->lot_id);
    csv_add(out, lot_origin != NULL ? lot_origin->spawnings : round->spawning, true);
    csv_add(out, round->own_lot ? "" : round->lot, false);
    csv_add(out, stage_terms[round->stage].word, false);
    csv_add(out, counts.day, false);
    csv_add(out, manner_terms[round->manner].word, false);
    add_count(out, &counts.in);
    add_count(out, &counts.kept);
    add_number(out, counts.rejected);
    add_number(out, counts.dead);
    csv_add(out, counts.note, false);
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        add_number(out, fates.fish[fate] != 0 ? fates.fish[fate] : NOT_COUNTED);
    csv_end_row(out);
    return true;
}

bool export_rounds(struct ledger *ledger, struct text *out, struct err *err)
{
    struct writing writing = {.ledger = ledger, .out = out};
    struct round_summary *rounds;
    size_t count;
    if (!lot_origins_list(ledger, &writing.lot_origins, &writing.lot_origin_count, err))
        return false;
    bool done = round_list(ledger, NULL, &rounds, &count, err);
    if (done) {
        text_add(out, "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,"
                      "rejected,dead,note,pond_grade,passed_on,kept_apart,put_down\n");
        for (size_t i = 0; done && i < count; i++)
            done = add_row(&writing, &rounds[i].round, err);
        free(rounds);
    }
    lot_origins_free(writing.lot_origins, writing.lot_origin_count);
    return done;
}
