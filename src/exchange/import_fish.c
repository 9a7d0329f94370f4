#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/exchange/csv_rows.h"
#include "senbetsu/exchange/import.h"
#include "senbetsu/exchange/known_fish.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/store/judges.h"

#include <stdlib.h>
#include <string.h>

enum {
    COLUMN_SPAWNING,
    COLUMN_LOT,
    COLUMN_STAGE,
    COLUMN_BOWL,
    COLUMN_FISH,
    COLUMN_JUDGE,
    COLUMN_DATE,
    COLUMN_LENGTH,
    COLUMN_TAG,
    COLUMN_FAULTS,
    COLUMN_COUNT,
};

/* Every column beyond these is an aspect's. */
static const struct column columns[COLUMN_COUNT] = {
    {"spawning", true}, {"lot", false},  {"stage", true},      {"bowl", true}, {"fish", true},
    {"judge", false},   {"date", false}, {"length_mm", false}, {"tag", false}, {"faults", false},
};

enum { NUMBER_MOST = 999999, LENGTH_MOST = 2000 };

/* A round that rows of this file speak of. */
struct fish_round {
    char spawning[CODE_SIZE], lot[CODE_SIZE];
    int stage;
    struct round round;
    struct standard standard;
};

struct reading {
    struct import *import;
    struct rows rows;
    struct fish_round *rounds;
    size_t round_count, round_capacity;
    struct known_fish known;
    bool *used; /* which of the file's columns some row's standard has as an aspect */
    char today[DATE_SIZE];
};

/* One row, understood. */
struct fish_line {
    const struct fish_round *of;
    int64_t bowl, number;
    int64_t judge;
    char date[DATE_SIZE];
    int64_t length_mm; /* 0 = not said */
    char tag[CODE_SIZE];
    bool faults_said;
    uint32_t faults;
    int8_t scores[STANDARD_ASPECTS]; /* SCORE_NONE = not said */
};

/* A round judged for the first time is judged by the standard for its variety and stage from now
 * on. */
static bool settle_standard(struct reading *reading, const struct row *row, struct fish_round *of)
{
    struct ledger *ledger = reading->import->ledger;
    struct standard_version version;
    struct err why = {0};
    if (!round_standard(ledger, &of->round, NULL, &version, &why))
        return row_refuse_as(row, COLUMN_STAGE, &why);
    of->standard = version.standard;
    if (of->round.standard[0] != '\0')
        return true;
    text_copy(of->round.standard, sizeof of->round.standard, version.standard.name);
    return round_save(ledger, &of->round, reading->import->judge, row->err);
}

static bool begin_round(struct reading *reading, const struct row *row, struct fish_round *of)
{
    struct ledger *ledger = reading->import->ledger;
    struct err why = {0};
    if (!round_begin(ledger, of->spawning, of->lot, (enum stage)of->stage, &of->round, &why))
        return row_refuse_as(row, COLUMN_SPAWNING, &why);
    return settle_standard(reading, row, of) &&
           known_fish_load(&reading->known, ledger, of->round.id, &of->standard, row->err);
}

/* The round of a row, begun with the first row that speaks of it. */
static bool read_round(struct reading *reading, const struct row *row,
                       const struct fish_round **ret)
{
    struct fish_round of = {.stage = STAGE_COUNT};
    if (!row_code(row, COLUMN_SPAWNING, of.spawning, sizeof of.spawning) ||
        !row_code(row, COLUMN_LOT, of.lot, sizeof of.lot) ||
        !row_term(row, COLUMN_STAGE, stage_terms, STAGE_COUNT, &of.stage))
        return false;
    if (strcmp(of.lot, of.spawning) == 0) /* the spawning's own lot bears its code */
        of.lot[0] = '\0';
    for (size_t i = 0; i < reading->round_count; i++) {
        const struct fish_round *seen = &reading->rounds[i];
        if (strcmp(seen->spawning, of.spawning) == 0 && strcmp(seen->lot, of.lot) == 0 &&
            seen->stage == of.stage) {
            *ret = seen;
            return true;
        }
    }
    if (!begin_round(reading, row, &of))
        return false;
    reading->rounds = alloc_room(reading->rounds, reading->round_count, &reading->round_capacity,
                                 sizeof *reading->rounds);
    reading->rounds[reading->round_count] = of;
    *ret = &reading->rounds[reading->round_count++];
    return true;
}

static bool read_judge(struct reading *reading, const struct row *row, int64_t *ret_judge)
{
    char name[CODE_SIZE] = "";
    return row_code(row, COLUMN_JUDGE, name, sizeof name) &&
           judge_named(reading->import->ledger, name, ret_judge, row->err);
}

static bool read_tag(struct reading *reading, const struct row *row, struct fish_line *line)
{
    int bowl = 0, number = 0;
    if (!row_code(row, COLUMN_TAG, line->tag, sizeof line->tag))
        return false;
    if (line->tag[0] == '\0')
        return true;
    if (!tag_bearer(reading->import->ledger, line->of->round.id, line->tag, &bowl, &number,
                    row->err))
        return false;
    return bowl == 0 || (bowl == line->bowl && number == line->number) ||
           row_refuse(row, COLUMN_TAG, "fish %d of bowl %d has the tag %s already.", number, bowl,
                      line->tag);
}

static bool read_fault(const struct row *row, const char *code, struct fish_line *line)
{
    int fault = standard_fault(&line->of->standard, code);
    if (fault < 0)
        return row_refuse(row, COLUMN_FAULTS, "%s has no fault \"%s\".", line->of->standard.name,
                          code);
    uint32_t bit = UINT32_C(1) << fault;
    if (line->faults & bit)
        return row_refuse(row, COLUMN_FAULTS, "the fault %s is named twice.", code);
    line->faults |= bit;
    return true;
}

static bool read_faults(const struct row *row, struct fish_line *line)
{
    char *list = alloc_text(row_field(row, COLUMN_FAULTS));
    bool done = true;
    line->faults_said = list[0] != '\0';
    for (char *code = list; done && line->faults_said;) {
        char *end = strchr(code, ';');
        if (end != NULL)
            *end = '\0';
        done = read_fault(row, code, line);
        if (end == NULL)
            break;
        code = end + 1;
    }
    free(list);
    return done;
}

static bool read_score(struct reading *reading, const struct row *row, int place,
                       struct fish_line *line)
{
    const struct standard *standard = &line->of->standard;
    const char *code = reading->rows.csv.header[place];
    const char *field = row->fields[place];
    int aspect = standard_aspect(standard, code);
    int64_t score;
    reading->used[place] = reading->used[place] || aspect >= 0;
    if (field[0] == '\0')
        return true;
    if (aspect < 0)
        return row_refuse_at(row, place, "%s has no aspect \"%s\".", standard->name, code);
    if (!number_whole(field, standard->lowest, standard->highest, &score))
        return row_refuse_at(row, place, "a whole number from %d to %d is expected, not \"%s\".",
                             standard->lowest, standard->highest, field);
    line->scores[aspect] = (int8_t)score;
    return true;
}

static bool read_scores(struct reading *reading, const struct row *row, struct fish_line *line)
{
    memset(line->scores, SCORE_NONE, sizeof line->scores);
    for (int place = 0; place < reading->rows.csv.columns; place++)
        if (rows_known(&reading->rows, place) < 0 && !read_score(reading, row, place, line))
            return false;
    return true;
}

static bool read_line(struct reading *reading, const struct row *row, struct fish_line *ret)
{
    struct fish_line line = {0};
    text_copy(line.date, sizeof line.date, reading->today);
    if (!read_round(reading, row, &line.of) ||
        !row_whole(row, COLUMN_BOWL, 1, NUMBER_MOST, &line.bowl) ||
        !row_whole(row, COLUMN_FISH, 1, NUMBER_MOST, &line.number) ||
        !read_judge(reading, row, &line.judge) || !row_date(row, COLUMN_DATE, line.date) ||
        !row_whole(row, COLUMN_LENGTH, 1, LENGTH_MOST, &line.length_mm) ||
        !read_tag(reading, row, &line) || !read_faults(row, &line) ||
        !read_scores(reading, row, &line))
        return false;
    *ret = line;
    return true;
}

/* What a row changes of a fish. */
struct change {
    struct entry entries[STANDARD_ASPECTS + STANDARD_FAULTS + 3];
    int count;
};

static struct entry *add_entry(struct change *change, enum entry_kind kind, const char *what,
                               int number)
{
    struct entry *entry = &change->entries[change->count++];
    entry->kind = kind;
    entry->number = number;
    entry->text[0] = '\0';
    text_copy(entry->what, sizeof entry->what, what);
    return entry;
}

/* What the row says and `was` does not have. */
static void compare_judgement(const struct fish_line *line, const struct judgement *was,
                              struct change *change)
{
    const struct standard *standard = &line->of->standard;
    for (int i = 0; i < standard->aspect_count; i++)
        if (line->scores[i] != SCORE_NONE && line->scores[i] != was->scores[i])
            add_entry(change, ENTRY_SCORE, standard->aspects[i].code, line->scores[i]);
    for (int i = 0; i < standard->fault_count && line->faults_said; i++)
        if ((line->faults ^ was->faults) & (UINT32_C(1) << i))
            add_entry(change, ENTRY_FAULT, standard->faults[i].code, (int)(line->faults >> i & 1));
}

/* A row that repeats what decides now changes nothing, even while a later look has begun. */
static void compare(const struct fish_line *line, const struct fish *fish, struct change *change)
{
    const struct standard *standard = &line->of->standard;
    struct judgement deciding = fish_deciding(fish, standard);
    change->count = 0;
    compare_judgement(line, &deciding, change);
    if (change->count > 0) {
        change->count = 0;
        compare_judgement(line, &fish->judgement, change);
    }
    if (line->length_mm != 0 && line->length_mm != fish->length_mm)
        add_entry(change, ENTRY_LENGTH, "", (int)line->length_mm);
    if (line->tag[0] != '\0' && strcmp(line->tag, fish->tag) != 0) {
        struct entry *entry = add_entry(change, ENTRY_TAG, "", 0);
        text_copy(entry->text, sizeof entry->text, line->tag);
    }
}

/* Adds the closing where the fish is complete or knocked out, and applies all to `fish`. */
static void apply(const struct fish_line *line, int look, int64_t at_ms, struct change *change,
                  struct fish *fish)
{
    const struct standard *standard = &line->of->standard;
    struct judgement before = fish->judgement;
    for (int i = 0; i < change->count; i++)
        fish_apply(fish, standard, look, at_ms, &change->entries[i]);
    enum verdict verdict = judgement_decide(standard, &fish->judgement).verdict;
    bool judged = memcmp(before.scores, fish->judgement.scores, sizeof before.scores) != 0 ||
                  before.faults != fish->judgement.faults;
    if (verdict != VERDICT_OPEN && (judged || !fish->closed))
        fish_apply(fish, standard, look, at_ms, add_entry(change, ENTRY_CLOSE, "", (int)verdict));
}

/* The change as strokes: more than one only where it is larger than a stroke can be. */
static bool record(struct reading *reading, struct stroke *stroke, const struct change *change,
                   const struct standing *standing, struct err *err)
{
    for (int done = 0; done < change->count; done += stroke->entry_count) {
        int left = change->count - done;
        stroke->entry_count = left < STROKE_ENTRIES ? left : STROKE_ENTRIES;
        memcpy(stroke->entries, change->entries + done,
               (size_t)stroke->entry_count * sizeof *stroke->entries);
        if (!stroke_record(reading->import->ledger, stroke, standing, NULL, err))
            return false;
    }
    return true;
}

/* Noon of the day where the ledger is kept. */
static int64_t noon_of(const struct reading *reading, const char *date)
{
    int offset = ledger_clock(reading->import->ledger)->offset_minutes;
    return date_begins(date, offset) + DAY_MS / 2;
}

static bool record_line(struct reading *reading, const struct fish_line *line,
                        struct known_view *view, struct change *change, struct err *err)
{
    const struct standard *standard = &line->of->standard;
    struct stroke stroke = {.fish = view->fish.id,
                            .judge = line->judge,
                            .look = view->fish.look > 0 ? view->fish.look : 1,
                            .checking = view->checker != NO_CHECKER,
                            .correction = view->fish.closed,
                            .at_ms = noon_of(reading, line->date)};
    if (view->fish.look == 0)
        view->decider = line->judge;
    apply(line, stroke.look, stroke.at_ms, change, &view->fish);
    struct judgement deciding = fish_deciding(&view->fish, standard);
    struct standing standing = standing_of(standard, &deciding);
    return record(reading, &stroke, change, stroke.checking ? NULL : &standing, err);
}

static bool import_line(struct reading *reading, const struct row *row,
                        const struct fish_line *line, struct change *change)
{
    struct import *import = reading->import;
    struct known_key key = {line->of->round.id, (int)line->bowl, (int)line->number};
    struct known_view *view;
    if (!known_fish_view(&reading->known, import->ledger, &key, line->judge, line->date, &view,
                         row->err))
        return false;
    if (view->line != 0)
        return row_refuse(row, COLUMN_FISH, "the fish stands on line %d already.", view->line);
    view->line = row->line;
    compare(line, &view->fish, change);
    import_count(import, view->is_new ? SAVED_NEW : change->count > 0 ? SAVED_CHANGED : SAVED_SAME);
    return change->count == 0 || record_line(reading, line, view, change, row->err);
}

/* A column that is no aspect anywhere in the file is a slip of the pen. */
static bool check_used(const struct reading *reading, struct err *err)
{
    const struct rows *rows = &reading->rows;
    for (int place = 0; place < rows->csv.columns && rows->csv.row_count > 0; place++)
        if (rows_known(rows, place) < 0 && !reading->used[place])
            return err_set(err, ERR_INPUT,
                           "%s, line 1, column %d (%s): no standard of these fish has an aspect of "
                           "that name.",
                           rows->file, place + 1, rows->csv.header[place]);
    return true;
}

static bool import_lines(struct reading *reading, struct err *err)
{
    struct change *change = alloc_zeroed(1, sizeof *change);
    bool done = true;
    for (size_t i = 0; done && i < reading->rows.csv.row_count; i++) {
        struct row row = rows_at(&reading->rows, i, err);
        struct fish_line line;
        done = read_line(reading, &row, &line) && import_line(reading, &row, &line, change);
    }
    free(change);
    return done && check_used(reading, err);
}

bool import_fish(struct import *import, struct err *err)
{
    struct reading reading = {.import = import};
    const struct clock *clock = ledger_clock(import->ledger);
    if (!rows_read(import, columns, COLUMN_COUNT, true, &reading.rows, err))
        return false;
    date_of_instant(clock_now(clock), clock->offset_minutes, reading.today);
    reading.used = alloc_zeroed((size_t)reading.rows.csv.columns, sizeof *reading.used);
    known_fish_init(&reading.known);
    bool done = import_lines(&reading, err);
    known_fish_done(&reading.known);
    free(reading.used);
    free(reading.rounds);
    rows_done(&reading.rows);
    return done;
}
