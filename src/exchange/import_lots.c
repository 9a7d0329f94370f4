#include "senbetsu/base/alloc.h"
#include "senbetsu/exchange/csv_rows.h"
#include "senbetsu/exchange/import.h"
#include "senbetsu/store/lot_events.h"

#include <stdlib.h>
#include <string.h>

enum {
    COLUMN_SPAWNING,
    COLUMN_LOT,
    COLUMN_DATE,
    COLUMN_EVENT,
    COLUMN_NUMBER,
    COLUMN_HOW,
    COLUMN_CV,
    COLUMN_INTO_SPAWNING,
    COLUMN_INTO_LOT,
    COLUMN_POND,
    COLUMN_NOTE,
    COLUMN_COUNT,
};

static const struct column columns[COLUMN_COUNT] = {
    {"spawning", true},  {"lot", false},  {"date", true},  {"event", true},
    {"number", false},   {"how", false},  {"cv", false},   {"into_spawning", false},
    {"into_lot", false}, {"pond", false}, {"note", false},
};

struct reading {
    struct import *import;
    struct rows rows;
    struct lot_event *known; /* what the ledger had before */
    size_t known_count;
    bool *met;   /* each of them is one row of a file */
    size_t next; /* after the one met last: files mostly go by the same order */
};

/* Only what a kind of event has may be said of it. */
static bool refuse_if_said(const struct row *row, int column, const char *kind)
{
    return row_field(row, column)[0] == '\0' ||
           row_refuse(row, column, "this does not go with %s.", kind);
}

static bool check_fields(const struct row *row, const struct lot_event *said)
{
    const char *kind = lot_event_terms[said->kind].word;
    bool moved = said->kind == EVENT_MOVE, transferred = said->kind == EVENT_TRANSFER;
    if (moved && row_field(row, COLUMN_POND)[0] == '\0')
        return row_refuse(row, COLUMN_POND, "say into which pond the lot was moved.");
    if (transferred && row_field(row, COLUMN_INTO_SPAWNING)[0] == '\0' &&
        row_field(row, COLUMN_INTO_LOT)[0] == '\0')
        return row_refuse(row, COLUMN_INTO_LOT, "say into which lot the fish were put.");
    if (!moved && !transferred && said->fish.number == NOT_COUNTED)
        return row_refuse(row, COLUMN_NUMBER, "say how many fish.");
    return (!moved || refuse_if_said(row, COLUMN_NUMBER, kind)) &&
           (moved || refuse_if_said(row, COLUMN_POND, kind)) &&
           (transferred || (refuse_if_said(row, COLUMN_INTO_SPAWNING, kind) &&
                            refuse_if_said(row, COLUMN_INTO_LOT, kind)));
}

/* The lot that two columns name; `of`: its spawnings where they are not said. */
static bool begin_lot(struct import *import, const struct row *row, int column, const char *of,
                      char spawnings[SIRES_SIZE], int64_t *ret_id)
{
    char lot[CODE_SIZE] = "";
    struct err why = {0};
    text_copy(spawnings, SIRES_SIZE, of);
    if (!row_spawnings(row, column, import->ledger, spawnings) ||
        !row_lot(row, column + 1, column, spawnings, lot))
        return false;
    return lot_begin(import->ledger, spawnings, lot, ret_id, &why) ||
           row_refuse_as(row, lot[0] != '\0' ? column + 1 : column, &why);
}

static bool read_event(const struct row *row, struct lot_event *said)
{
    int kind = EVENT_KIND_COUNT;
    lot_event_init(said);
    if (!row_date(row, COLUMN_DATE, said->day) ||
        !row_term(row, COLUMN_EVENT, lot_event_terms, EVENT_KIND_COUNT, &kind) ||
        !row_count(row, COLUMN_NUMBER, &said->fish) ||
        !row_code(row, COLUMN_POND, said->pond, sizeof said->pond) ||
        !row_note(row, COLUMN_NOTE, said->note, sizeof said->note))
        return false;
    said->kind = (enum lot_event_kind)kind;
    said->all = said->kind == EVENT_TRANSFER && said->fish.number == NOT_COUNTED;
    return check_fields(row, said);
}

static bool read_line(struct import *import, const struct row *row, struct lot_event *said)
{
    char from[SIRES_SIZE], into[SIRES_SIZE];
    return read_event(row, said) &&
           begin_lot(import, row, COLUMN_SPAWNING, "", from, &said->lot_id) &&
           (said->kind != EVENT_TRANSFER ||
            begin_lot(import, row, COLUMN_INTO_SPAWNING, from, into, &said->target_id));
}

static bool same_fish(const struct lot_event *a, const struct lot_event *b)
{
    return a->all == b->all &&
           (a->all || (a->fish.number == b->fish.number && a->fish.method == b->fish.method &&
                       a->fish.cv == b->fish.cv));
}

static bool same_event(const struct lot_event *a, const struct lot_event *b)
{
    return a->lot_id == b->lot_id && a->kind == b->kind && a->target_id == b->target_id &&
           same_fish(a, b) && strcmp(a->day, b->day) == 0 && strcmp(a->pond, b->pond) == 0 &&
           strcmp(a->note, b->note) == 0;
}

/* Two rows that are alike are two events. */
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

static bool import_line(struct reading *reading, size_t index, struct err *err)
{
    struct import *import = reading->import;
    struct row row = rows_at(&reading->rows, index, err);
    struct lot_event said;
    struct err why = {0};
    if (!read_line(import, &row, &said))
        return false;
    bool known = is_known(reading, &said);
    if (!known && !lot_event_record(import->ledger, &said, import->judge, &why))
        return row_refuse_as(&row, COLUMN_INTO_LOT, &why);
    import_count(import, known ? SAVED_SAME : SAVED_NEW);
    return true;
}

bool import_lots(struct import *import, struct err *err)
{
    struct reading reading = {.import = import};
    if (!rows_read(import, columns, COLUMN_COUNT, false, &reading.rows, err))
        return false;
    bool done = lot_events_list(import->ledger, &reading.known, &reading.known_count, err);
    if (done)
        reading.met = alloc_zeroed(reading.known_count, sizeof *reading.met);
    for (size_t i = 0; done && i < reading.rows.csv.row_count; i++)
        done = import_line(&reading, i, err);
    free(reading.met);
    free(reading.known);
    rows_done(&reading.rows);
    return done;
}
