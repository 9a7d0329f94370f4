/* Rounds in and out: the numbers that were stated of each, and where its rejects went.
 *
 * A cull can be entered from a notebook years after it was made: the file states its numbers and no
 * single fish. An empty field states nothing, so a second file can fill in what the first left
 * open. */
#include "senbetsu/report/rounds.h"
#include "mentions.h"
#include "rows.h"
#include "senbetsu/core/round.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/round_counts.h"

#include <stdlib.h>

struct reading {
    struct rows rows;
    struct mentions mentions; /* of rounds */
};

static bool read_row(const struct row *row, struct round_statement *said)
{
    *said = (struct round_statement){0};
    return row_read(row, said) &&
           row_check_lot(row, STATED_COLUMN_SPAWNING, said->spawnings, STATED_COLUMN_LOT,
                         said->lot) &&
           row_check_count(row, STATED_COLUMN_IN, &said->counts.in) &&
           row_check_count(row, STATED_COLUMN_KEPT, &said->counts.kept);
}

/* A round that is not there yet is begun. Without a manner in the file, good fish are picked out in
 * early culls and bad ones removed in later ones. */
static bool begin(const struct row *row, const struct round_statement *said, struct round *ret,
                  bool *ret_new)
{
    struct err why = {0};
    enum manner manner = said->manner != MANNER_COUNT  ? said->manner
                         : said->stage <= STAGE_SECOND ? MANNER_PICK
                                                       : MANNER_REMOVE;
    return round_begin_as(row->ledger, said->spawnings, said->lot, said->stage, manner, ret,
                          ret_new, &why) ||
           row_refuse_as(row, said->lot[0] != '\0' ? STATED_COLUMN_LOT : STATED_COLUMN_SPAWNING,
                         &why);
}

static bool check_once(struct reading *reading, const struct row *row, int64_t round)
{
    const struct mention *before = mention_find(&reading->mentions, round, 0);
    if (before != NULL)
        return row_refuse(row, STATED_COLUMN_STAGE, "this round is already on line %d.",
                          before->line);
    mention_add(&reading->mentions, (struct mention){.of = round, .line = row->line});
    return true;
}

/* An empty field keeps what is known. */
static bool save(const struct row *row, const struct round_statement *said, struct round *round,
                 bool *ret_changed)
{
    struct ledger *ledger = row->ledger;
    int64_t judge = row->rows->import->judge;
    enum saved counts, where;
    struct fates fates;
    bool other_manner = said->manner != MANNER_COUNT && said->manner != round->manner;
    if (other_manner) {
        round->manner = said->manner;
        if (!round_save(ledger, round, judge, row->err))
            return false;
    }
    if (!round_counts_record(ledger, round->id, &said->counts, judge, &counts, row->err) ||
        !reject_fates_get(ledger, round->id, &fates, row->err))
        return false;
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        if (said->fates[fate] != NOT_COUNTED)
            fates.fish[fate] = said->fates[fate];
    if (!reject_fates_record(ledger, round->id, &fates, judge, &where, row->err))
        return false;
    *ret_changed = other_manner || counts != SAVED_SAME || where != SAVED_SAME;
    return true;
}

static bool import_row(struct reading *reading, size_t index, struct err *err)
{
    struct row row = rows_at(&reading->rows, index, err);
    struct round_statement said;
    struct round round;
    bool is_new, changed;
    if (!read_row(&row, &said) || !begin(&row, &said, &round, &is_new) ||
        !check_once(reading, &row, round.id) || !save(&row, &said, &round, &changed))
        return false;
    rows_count(&reading->rows, is_new ? SAVED_NEW : changed ? SAVED_CHANGED : SAVED_SAME);
    return true;
}

bool import_rounds(struct import *import, struct err *err)
{
    struct reading reading;
    if (!rows_read(import, round_statement_columns, STATED_COLUMN_COUNT, false, &reading.rows, err))
        return false;
    size_t count = reading.rows.csv.row_count;
    mentions_init(&reading.mentions);
    bool done = true;
    for (size_t i = 0; done && i < count; i++)
        done = import_row(&reading, i, err);
    mentions_done(&reading.mentions);
    rows_done(&reading.rows);
    return done;
}

static bool export_round(struct ledger *ledger, const struct round *round,
                         const struct lot_origin *lot, struct text *out, struct err *err)
{
    struct round_statement row = {.stage = round->stage, .manner = round->manner};
    struct fates fates;
    if (!round_counts_known(ledger, round->id, &row.counts, err) ||
        !reject_fates_get(ledger, round->id, &fates, err))
        return false;
    text_copy(row.spawnings, sizeof row.spawnings, lot != NULL ? lot->spawnings : round->spawning);
    text_copy(row.lot, sizeof row.lot, round->own_lot ? "" : round->lot);
    for (int fate = 0; fate < FATE_COUNT; fate++)
        row.fates[fate] = fates.fish[fate] != 0 ? fates.fish[fate] : NOT_COUNTED;
    export_fields(round_statement_columns, STATED_COLUMN_COUNT, &row, out);
    csv_end_row(out);
    return true;
}

bool export_rounds(struct ledger *ledger, struct text *out, struct err *err)
{
    struct lot_origin *lots;
    struct round *rounds;
    size_t lot_count, count;
    if (!lot_origins_list(ledger, &lots, &lot_count, err))
        return false;
    bool done = round_list(ledger, NULL, &rounds, &count, err);
    if (done) {
        export_names(round_statement_columns, STATED_COLUMN_COUNT, out);
        csv_end_row(out);
        for (size_t i = 0; done && i < count; i++) {
            const struct round *round = &rounds[i];
            done = export_round(ledger, round, lot_origin_find(lots, lot_count, round->lot_id), out,
                                err);
        }
        free(rounds);
    }
    lot_origins_free(lots, lot_count);
    return done;
}
