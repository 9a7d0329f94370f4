/* The events of lots in and out. A file may bring events that the ledger has already: each of them
 * is one row of a file, so that two rows that are alike are two events.
 *
 * Reading a file twice must change nothing, but events have no key of their own. So each row is
 * matched with one event of the same content in the ledger, and only rows without a match are
 * new. */
#include "senbetsu/report/lots.h"
#include "rows.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"

#include <stdlib.h>
#include <string.h>

struct reading {
    struct rows rows;
    struct lot_event *known; /* what the ledger had before */
    size_t known_count;
    bool *met;   /* each of them is one row of a file */
    size_t next; /* after the one met last: files mostly go by the same order */
};

/* A field that this kind of event does not have must be empty. */
static bool refuse_if_said(const struct row *row, int column, const char *kind)
{
    return row_field(row, column)[0] == '\0' ||
           row_refuse(row, column, "leave this field empty: %s has none.", kind);
}

static bool check_fields(const struct row *row, const struct lot_event *said)
{
    const char *kind = lot_event_terms[said->kind].word;
    bool moved = said->kind == EVENT_MOVE, transferred = said->kind == EVENT_TRANSFER;
    if (moved && row_field(row, LOT_COLUMN_POND)[0] == '\0')
        return row_refuse(row, LOT_COLUMN_POND, "name the pond the lot was moved to.");
    if (transferred && row_field(row, LOT_COLUMN_INTO_SPAWNING)[0] == '\0' &&
        row_field(row, LOT_COLUMN_INTO_CODE)[0] == '\0')
        return row_refuse(row, LOT_COLUMN_INTO_CODE, "name the lot the fish went into.");
    if (!moved && !transferred && said->fish.number == NOT_COUNTED)
        return row_refuse(row, LOT_COLUMN_NUMBER, "enter the number of fish.");
    return (!moved || refuse_if_said(row, LOT_COLUMN_NUMBER, kind)) &&
           (moved || refuse_if_said(row, LOT_COLUMN_POND, kind)) &&
           (transferred || (refuse_if_said(row, LOT_COLUMN_INTO_SPAWNING, kind) &&
                            refuse_if_said(row, LOT_COLUMN_INTO_CODE, kind)));
}

/* The lot that two columns name. */
static bool begin_lot(const struct row *row, int column, const char *spawnings, const char *lot,
                      int64_t *ret_id)
{
    struct err why = {0};
    return row_check_lot(row, column, spawnings, column + 1, lot) &&
           (lot_begin(row->ledger, spawnings, lot, ret_id, &why) ||
            row_refuse_as(row, lot[0] != '\0' ? column + 1 : column, &why));
}

static bool read_row(const struct row *row, struct lot_event *ret)
{
    struct lot_statement said = {0};
    struct lot_event *event = &said.event;
    lot_event_init(event);
    if (!row_read(row, &said) || !row_check_count(row, LOT_COLUMN_NUMBER, &event->fish))
        return false;
    event->all = event->kind == EVENT_TRANSFER && event->fish.number == NOT_COUNTED;
    if (said.into_spawnings[0] == '\0')
        text_copy(said.into_spawnings, sizeof said.into_spawnings, said.spawnings);
    if (!check_fields(row, event) ||
        !begin_lot(row, LOT_COLUMN_SPAWNING, said.spawnings, said.lot, &event->lot_id) ||
        (event->kind == EVENT_TRANSFER &&
         !begin_lot(row, LOT_COLUMN_INTO_SPAWNING, said.into_spawnings, said.into_lot,
                    &event->target_id)))
        return false;
    *ret = *event;
    return true;
}

static bool same_event(const struct lot_event *a, const struct lot_event *b)
{
    return a->lot_id == b->lot_id && a->kind == b->kind && a->target_id == b->target_id &&
           a->all == b->all && (a->all || count_equal(&a->fish, &b->fish)) &&
           strcmp(a->day, b->day) == 0 && strcmp(a->pond, b->pond) == 0 &&
           strcmp(a->note, b->note) == 0;
}

static bool is_known(struct reading *reading, const struct lot_event *said)
{
    for (size_t n = 0; n < reading->known_count; n++) {
        size_t i = (reading->next + n) % reading->known_count;
        if (reading->met[i] || !same_event(&reading->known[i], said))
            continue;
        reading->met[i] = true;
        reading->next = i + 1;
        return true;
    }
    return false;
}

static bool import_row(struct reading *reading, size_t index, struct err *err)
{
    struct row row = rows_at(&reading->rows, index, err);
    struct lot_event said;
    struct err why = {0};
    if (!read_row(&row, &said))
        return false;
    bool known = is_known(reading, &said);
    if (!known && !lot_event_record(row.ledger, &said, reading->rows.import->judge, &why))
        return row_refuse_as(&row, LOT_COLUMN_INTO_CODE, &why);
    rows_count(&reading->rows, known ? SAVED_SAME : SAVED_NEW);
    return true;
}

bool import_lots(struct import *import, struct err *err)
{
    struct reading reading = {0};
    if (!rows_read(import, lot_statement_columns, LOT_COLUMN_COUNT, false, &reading.rows, err))
        return false;
    bool done = lot_events_list(import->ledger, &reading.known, &reading.known_count, err);
    if (done)
        reading.met = alloc_zeroed(reading.known_count, sizeof *reading.met);
    for (size_t i = 0; done && i < reading.rows.csv.row_count; i++)
        done = import_row(&reading, i, err);
    free(reading.met);
    free(reading.known);
    rows_done(&reading.rows);
    return done;
}

/* A lot as its spawnings and its code; a spawning's own needs no code. */
static void name_lot(const struct lot_origin *lot, char spawnings[CODES_SIZE], char code[CODE_SIZE])
{
    text_copy(spawnings, CODES_SIZE, lot == NULL ? "" : lot->spawnings);
    text_copy(code, CODE_SIZE, lot == NULL || lot->own ? "" : lot->lot);
}

bool export_lots(struct ledger *ledger, struct text *out, struct err *err)
{
    struct lot_origin *lots;
    struct lot_event *events;
    size_t lot_count, count;
    if (!lot_events_list(ledger, &events, &count, err))
        return false;
    bool done = lot_origins_list(ledger, &lots, &lot_count, err);
    if (done) {
        export_names(lot_statement_columns, LOT_COLUMN_COUNT, out);
        csv_end_row(out);
        for (size_t i = 0; i < count; i++) {
            struct lot_statement row = {.event = events[i]};
            if (row.event.all || row.event.fish.number == NOT_COUNTED)
                row.event.fish = (struct count){.number = NOT_COUNTED};
            name_lot(lot_origin_find(lots, lot_count, row.event.lot_id), row.spawnings, row.lot);
            name_lot(lot_origin_find(lots, lot_count, row.event.target_id), row.into_spawnings,
                     row.into_lot);
            export_fields(lot_statement_columns, LOT_COLUMN_COUNT, &row, out);
            csv_end_row(out);
        }
        lot_origins_free(lots, lot_count);
    }
    free(events);
    return done;
}
