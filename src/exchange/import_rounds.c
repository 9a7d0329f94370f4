#include "senbetsu/base/alloc.h"
#include "senbetsu/exchange/csv_rows.h"
#include "senbetsu/exchange/import.h"
#include "senbetsu/store/reject_fates.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/rounds.h"

#include <stdlib.h>
#include <string.h>

enum {
    COLUMN_SPAWNING,
    COLUMN_LOT,
    COLUMN_STAGE,
    COLUMN_DATE,
    COLUMN_MANNER,
    COLUMN_IN,
    COLUMN_IN_HOW,
    COLUMN_IN_CV,
    COLUMN_KEPT,
    COLUMN_KEPT_HOW,
    COLUMN_KEPT_CV,
    COLUMN_REJECTED,
    COLUMN_DEAD,
    COLUMN_NOTE,
    COLUMN_FATES, /* one for each fate, in their order */
    COLUMN_COUNT = COLUMN_FATES + FATE_COUNT - 1,
};

static const struct column columns[COLUMN_COUNT] = {
    {"spawning", true},    {"lot", false},      {"stage", true},       {"date", false},
    {"manner", false},     {"in", false},       {"in_how", false},     {"in_cv", false},
    {"kept", false},       {"kept_how", false}, {"kept_cv", false},    {"rejected", false},
    {"dead", false},       {"note", false},     {"pond_grade", false}, {"passed_on", false},
    {"kept_apart", false}, {"put_down", false},
};

/* One row, understood. */
struct round_line {
    char spawnings[SIRES_SIZE]; /* one, or those of a mixed lot */
    char lot[CODE_SIZE];
    enum stage stage;
    enum manner manner;
    bool manner_said;
    struct round_counts said;
    int64_t fates[FATE_COUNT]; /* NOT_COUNTED = not said */
};

/* The rounds that rows before this one spoke of. */
struct seen {
    int64_t round_id;
    int line;
};

struct reading {
    struct import *import;
    struct rows rows;
    struct seen *seen; /* one for each row that was read */
};

/* Where nothing is said: the good are taken out early, the bad later. */
static bool read_manner(const struct row *row, struct round_line *line)
{
    int stage = STAGE_COUNT;
    if (!row_term(row, COLUMN_STAGE, stage_terms, STAGE_COUNT, &stage))
        return false;
    int manner = stage <= (int)STAGE_SECOND ? MANNER_PICK : MANNER_REMOVE;
    if (!row_term(row, COLUMN_MANNER, manner_terms, MANNER_COUNT, &manner))
        return false;
    line->stage = (enum stage)stage;
    line->manner = (enum manner)manner;
    line->manner_said = row_field(row, COLUMN_MANNER)[0] != '\0';
    return true;
}

static bool read_fates(const struct row *row, struct round_line *line)
{
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++) {
        line->fates[fate] = NOT_COUNTED;
        if (!row_whole(row, COLUMN_FATES + fate - 1, 0, FISH_MOST, &line->fates[fate]))
            return false;
    }
    return true;
}

static bool read_line(struct ledger *ledger, const struct row *row, struct round_line *line)
{
    struct round_counts *said = &line->said;
    *line = (struct round_line){.stage = STAGE_COUNT};
    round_counts_init(said);
    return row_spawnings(row, COLUMN_SPAWNING, ledger, line->spawnings) &&
           row_lot(row, COLUMN_LOT, COLUMN_SPAWNING, line->spawnings, line->lot) &&
           read_manner(row, line) && row_date(row, COLUMN_DATE, said->day) &&
           row_count(row, COLUMN_IN, &said->in) && row_count(row, COLUMN_KEPT, &said->kept) &&
           row_whole(row, COLUMN_REJECTED, 0, FISH_MOST, &said->rejected) &&
           row_whole(row, COLUMN_DEAD, 0, FISH_MOST, &said->dead) &&
           row_note(row, COLUMN_NOTE, said->note, sizeof said->note) && read_fates(row, line);
}

static bool check_once(struct reading *reading, const struct row *row, size_t index,
                       const struct round *round)
{
    for (size_t i = 0; i < index; i++)
        if (reading->seen[i].round_id == round->id)
            return row_refuse(row, COLUMN_STAGE, "this round stands on line %d already.",
                              reading->seen[i].line);
    reading->seen[index] = (struct seen){round->id, row->line};
    return true;
}

static bool begin(struct ledger *ledger, const struct row *row, const struct round_line *line,
                  struct round *ret, bool *ret_new)
{
    struct err why = {0};
    return round_begin_as(ledger, line->spawnings, line->lot, line->stage, line->manner, ret,
                          ret_new, &why) ||
           row_refuse_as(row, line->lot[0] != '\0' ? COLUMN_LOT : COLUMN_SPAWNING, &why);
}

/* `*ret_changed` says whether it was another before. */
static bool save_manner(struct import *import, const struct round_line *line, struct round *round,
                        bool *ret_changed, struct err *err)
{
    *ret_changed = line->manner_said && line->manner != round->manner;
    if (!*ret_changed)
        return true;
    round->manner = line->manner;
    return round_save(import->ledger, round, import->judge, err);
}

/* An empty field leaves what is known. */
static bool save_fates(struct import *import, const struct round_line *line, int64_t round_id,
                       enum saved *ret_saved, struct err *err)
{
    struct fates fates;
    if (!reject_fates_get(import->ledger, round_id, &fates, err))
        return false;
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        if (line->fates[fate] != NOT_COUNTED)
            fates.fish[fate] = line->fates[fate];
    return reject_fates_record(import->ledger, round_id, &fates, import->judge, ret_saved, err);
}

static bool import_line(struct reading *reading, size_t index, struct err *err)
{
    struct import *import = reading->import;
    struct row row = rows_at(&reading->rows, index, err);
    struct round_line line;
    struct round round;
    bool is_new, changed;
    enum saved saved, fates;
    if (!read_line(import->ledger, &row, &line) ||
        !begin(import->ledger, &row, &line, &round, &is_new) ||
        !check_once(reading, &row, index, &round) ||
        !save_manner(import, &line, &round, &changed, err) ||
        !round_counts_record(import->ledger, round.id, &line.said, import->judge, &saved, err) ||
        !save_fates(import, &line, round.id, &fates, err))
        return false;
    changed = changed || saved != SAVED_SAME || fates != SAVED_SAME;
    import_count(import, is_new ? SAVED_NEW : changed ? SAVED_CHANGED : SAVED_SAME);
    return true;
}

bool import_rounds(struct import *import, struct err *err)
{
    struct reading reading = {.import = import};
    if (!rows_read(import, columns, COLUMN_COUNT, false, &reading.rows, err))
        return false;
    size_t count = reading.rows.csv.row_count;
    reading.seen = alloc_zeroed(count, sizeof *reading.seen);
    bool done = true;
    for (size_t i = 0; done && i < count; i++)
        done = import_line(&reading, i, err);
    free(reading.seen);
    rows_done(&reading.rows);
    return done;
}
