/* Fish in and out: a row is what decides a fish, or a check of it by another judge. An import turns
 * each row into the strokes that the sheet would have made, and only where it says something new,
 * so that the same file can be read any number of times. */
#include "senbetsu/core/fish.h"
#include "known_fish.h"
#include "rows.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/rounds.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A round that rows of this file speak of. */
struct fish_round {
    char spawning[CODE_SIZE], lot[CODE_SIZE];
    enum stage stage;
    struct round round;
    struct standard standard;
    int64_t version; /* its version's id */
};

struct reading {
    struct rows rows;
    struct fish_round *rounds;
    size_t round_count, round_capacity;
    struct known_fish known;
    bool *used;   /* which of the file's columns some row's standard has as an aspect */
    int *aspects; /* … and as which the standard of `of`; -1 = none */
    const struct fish_round *of; /* of the last row */
    char today[DATE_SIZE];
};

/* One row, understood. */
struct fish_line {
    struct fish_statement said;
    const struct fish_round *of;
    int64_t judge;
    uint32_t faults;
    int8_t scores[STANDARD_ASPECTS]; /* SCORE_NONE = not said */
};

/* A round judged for the first time is judged by the standard for its variety and stage from now
 * on. */
static bool settle_standard(struct reading *reading, const struct row *row, struct fish_round *of)
{
    struct ledger *ledger = row->ledger;
    struct standard_version version;
    struct err why = {0};
    if (!round_standard(ledger, &of->round, NULL, &version, &why))
        return row_refuse_as(row, FISH_COLUMN_STAGE, &why);
    of->standard = version.standard;
    of->version = version.id;
    if (of->round.standard[0] != '\0')
        return true;
    text_copy(of->round.standard, sizeof of->round.standard, version.standard.name);
    return round_save(ledger, &of->round, reading->rows.import->judge, row->err);
}

static bool begin_round(struct reading *reading, const struct row *row, struct fish_round *of)
{
    struct ledger *ledger = row->ledger;
    struct err why = {0};
    if (!round_begin(ledger, of->spawning, of->lot, of->stage, &of->round, &why))
        return row_refuse_as(row, FISH_COLUMN_SPAWNING, &why);
    return settle_standard(reading, row, of);
}

static bool is_of(const struct fish_statement *said, const char *lot, const struct fish_round *of)
{
    return strcmp(of->spawning, said->spawning) == 0 && strcmp(of->lot, lot) == 0 &&
           of->stage == said->stage;
}

/* The round of a row, begun with the first row that speaks of it; mostly it is the last row's. */
static bool find_round(struct reading *reading, const struct row *row, struct fish_line *line)
{
    const struct fish_statement *said = &line->said;
    /* The spawning's own lot bears its code. */
    const char *lot = strcmp(said->lot, said->spawning) == 0 ? "" : said->lot;
    line->of = reading->of != NULL && is_of(said, lot, reading->of) ? reading->of : NULL;
    for (size_t i = 0; i < reading->round_count && line->of == NULL; i++)
        if (is_of(said, lot, &reading->rounds[i]))
            line->of = &reading->rounds[i];
    if (line->of != NULL)
        return true;
    struct fish_round of = {.stage = said->stage};
    text_copy(of.spawning, sizeof of.spawning, said->spawning);
    text_copy(of.lot, sizeof of.lot, lot);
    if (!begin_round(reading, row, &of))
        return false;
    reading->rounds = alloc_room(reading->rounds, reading->round_count, &reading->round_capacity,
                                 sizeof *reading->rounds);
    reading->rounds[reading->round_count] = of;
    reading->of = NULL; /* it may have moved */
    line->of = &reading->rounds[reading->round_count++];
    return true;
}

/* A tag belongs to one fish of its round. */
static bool check_tag(const struct row *row, const struct fish_line *line)
{
    const struct fish_statement *said = &line->said;
    struct tag_bearer bearer;
    if (said->tag[0] == '\0')
        return true;
    if (!tag_bearer_get(row->ledger, line->of->round.id, said->tag, &bearer, row->err))
        return false;
    return !bearer.same_round || (bearer.bowl == said->bowl && bearer.number == said->number) ||
           row_refuse(row, FISH_COLUMN_TAG, "fish %d of bowl %d already has the tag %s.",
                      bearer.number, bearer.bowl, said->tag);
}

static bool read_faults(const struct row *row, struct fish_line *line)
{
    const struct standard *standard = &line->of->standard;
    char code[CODE_SIZE];
    for (const char *list = line->said.faults; code_next(&list, code);) {
        int fault = standard_fault(standard, code);
        if (fault < 0)
            return row_refuse(row, FISH_COLUMN_FAULTS, "%s has no fault \"%s\".", standard->name,
                              code);
        if (line->faults >> fault & 1)
            return row_refuse(row, FISH_COLUMN_FAULTS, "the fault %s is named twice.", code);
        line->faults |= UINT32_C(1) << fault;
    }
    return true;
}

static bool read_score(const struct reading *reading, const struct row *row, int place,
                       const char *field, struct fish_line *line)
{
    const struct standard *standard = &line->of->standard;
    const char *code = reading->rows.csv.header[place];
    int aspect = reading->aspects[place];
    int64_t score;
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

/* Rows of a round mostly follow one another. */
static void know_aspects(struct reading *reading, const struct fish_round *of)
{
    for (int place = 0; place < reading->rows.csv.columns; place++) {
        bool known = rows_known(&reading->rows, place) >= 0;
        int aspect = known ? -1 : standard_aspect(&of->standard, reading->rows.csv.header[place]);
        reading->aspects[place] = aspect;
        reading->used[place] = reading->used[place] || aspect >= 0;
    }
    reading->of = of;
}

static bool read_scores(struct reading *reading, const struct row *row, struct fish_line *line)
{
    memset(line->scores, SCORE_NONE, sizeof line->scores);
    if (reading->of != line->of)
        know_aspects(reading, line->of);
    const char *field = row->first;
    for (int place = 0; place < reading->rows.csv.columns; place++, field = csv_next(field))
        if (rows_known(&reading->rows, place) < 0 && !read_score(reading, row, place, field, line))
            return false;
    return true;
}

static bool read_line(struct reading *reading, const struct row *row, struct fish_line *ret)
{
    *ret = (struct fish_line){.judge = 0};
    if (!row_read(row, &ret->said) || !find_round(reading, row, ret) ||
        !judge_named(row->ledger, ret->said.judge, &ret->judge, row->err))
        return false;
    if (ret->said.date[0] == '\0')
        text_copy(ret->said.date, sizeof ret->said.date, reading->today);
    return check_tag(row, ret) && read_faults(row, ret) && read_scores(reading, row, ret);
}

static struct entry *add_entry(struct stroke *change, enum entry_kind kind, const char *what,
                               int number)
{
    struct entry *entry = &change->entries[change->entry_count++];
    entry->kind = kind;
    entry->number = number;
    entry->text[0] = '\0';
    text_copy(entry->what, sizeof entry->what, what);
    return entry;
}

/* The difference between the row and `was`, as the entries of one stroke. */
static void compare_judgement(const struct fish_line *line, const struct judgement *was,
                              struct stroke *change)
{
    const struct standard *standard = &line->of->standard;
    for (int i = 0; i < standard->aspect_count; i++)
        if (line->scores[i] != SCORE_NONE && line->scores[i] != was->scores[i])
            add_entry(change, ENTRY_SCORE, standard->aspects[i].code, line->scores[i]);
    for (int i = 0; i < standard->fault_count && line->said.faults[0] != '\0'; i++)
        if ((line->faults ^ was->faults) & (UINT32_C(1) << i))
            add_entry(change, ENTRY_FAULT, standard->faults[i].code, (int)(line->faults >> i & 1));
}

/* A row that repeats what decides now changes nothing, even while a later look has begun. */
static void compare(const struct fish_line *line, const struct fish *fish, struct stroke *change)
{
    const struct standard *standard = &line->of->standard;
    struct judgement deciding = fish_deciding(fish, standard);
    change->entry_count = 0;
    compare_judgement(line, &deciding, change);
    if (change->entry_count > 0) {
        change->entry_count = 0;
        compare_judgement(line, &fish->judgement, change);
    }
    if (line->said.length_mm != 0 && line->said.length_mm != fish->length_mm)
        add_entry(change, ENTRY_LENGTH, "", line->said.length_mm);
    if (line->said.tag[0] != '\0' && strcmp(line->said.tag, fish->tag) != 0) {
        struct entry *entry = add_entry(change, ENTRY_TAG, "", 0);
        text_copy(entry->text, sizeof entry->text, line->said.tag);
    }
}

/* Adds the closing where the fish is complete or knocked out, and applies all to `fish`. */
static void apply(const struct fish_line *line, struct stroke *change, struct fish *fish)
{
    int look = change->look;
    int64_t at_ms = change->at_ms;
    const struct standard *standard = &line->of->standard;
    struct judgement before = fish->judgement;
    for (int i = 0; i < change->entry_count; i++)
        fish_apply(fish, standard, look, at_ms, &change->entries[i]);
    enum verdict verdict = judgement_decide(standard, &fish->judgement).verdict;
    bool judged = memcmp(before.scores, fish->judgement.scores, sizeof before.scores) != 0 ||
                  before.faults != fish->judgement.faults;
    if (verdict != VERDICT_OPEN && (judged || !fish->closed))
        fish_apply(fish, standard, look, at_ms, add_entry(change, ENTRY_CLOSE, "", (int)verdict));
}

/* Noon of the day where the ledger is kept. */
static int64_t noon_of(const struct reading *reading, const char *date)
{
    int offset = ledger_clock(reading->rows.import->ledger)->offset_minutes;
    return date_begins(date, offset) + DAY_MS / 2;
}

static bool record_line(struct reading *reading, const struct fish_line *line,
                        struct known_view *view, struct stroke *change, struct err *err)
{
    const struct standard *standard = &line->of->standard;
    change->fish = view->fish.id;
    change->judge = line->judge;
    change->look = view->fish.look > 0 ? view->fish.look : 1;
    change->checking = view->checker != NO_CHECKER;
    change->correction = view->fish.closed;
    change->standard = line->of->version;
    change->at_ms = noon_of(reading, line->said.date);
    if (view->fish.look == 0)
        view->decider = line->judge;
    apply(line, change, &view->fish);
    struct cached_verdict cached = fish_cached_verdict(&view->fish, standard);
    struct ledger *ledger = reading->rows.import->ledger;
    if (view->fish.id != 0)
        return stroke_record(ledger, change, change->checking ? NULL : &cached, NULL, err);
    if (!fish_record(ledger, view->fish.bowl_id, view->fish.number, change, &cached, err))
        return false;
    view->fish.id = change->fish;
    return true;
}

/* A row that says nothing of a fish that is not there yet adds it all the same. */
static bool record_view(struct reading *reading, const struct fish_line *line,
                        struct known_view *view, struct stroke *change, struct err *err)
{
    struct fish *fish = &view->fish;
    if (change->entry_count > 0)
        return record_line(reading, line, view, change, err);
    return fish->id != 0 ||
           fish_begin(reading->rows.import->ledger, fish->bowl_id, fish->number, &fish->id, err);
}

static bool import_line(struct reading *reading, const struct row *row,
                        const struct fish_line *line, struct stroke *change)
{
    struct known_key key = {line->of->round.id, line->said.bowl, line->said.number};
    struct known_view view;
    if (!known_fish_view(&reading->known, row->ledger, &key, &line->of->standard, line->judge,
                         line->said.date, &view, row->err))
        return false;
    if (view.line != 0)
        return row_refuse(row, FISH_COLUMN_NUMBER, "this fish is already on line %d.", view.line);
    view.line = row->line;
    compare(line, &view.fish, change);
    rows_count(&reading->rows, view.is_new               ? SAVED_NEW
                               : change->entry_count > 0 ? SAVED_CHANGED
                                                         : SAVED_SAME);
    if (!record_view(reading, line, &view, change, row->err))
        return false;
    known_fish_take(&reading->known, &view);
    return true;
}

/* A column that is no aspect of any row's standard is a typing error. */
static bool check_used(const struct reading *reading, struct err *err)
{
    const struct rows *rows = &reading->rows;
    for (int place = 0; place < rows->csv.columns && rows->csv.row_count > 0; place++)
        if (rows_known(rows, place) < 0 && !reading->used[place])
            return err_set(err, ERR_INPUT,
                           "%s, line 1, column %d (%s): no standard of these fish has an aspect of "
                           "that name.",
                           rows->import->file, place + 1, rows->csv.header[place]);
    return true;
}

static void tell(const struct reading *reading)
{
    enum { ROWS_BETWEEN = 1024 };
    const struct import *import = reading->rows.import;
    size_t done = reading->rows.csv.row_count;
    if (import->tell != NULL && done % ROWS_BETWEEN == 0)
        import->tell(import->context, done);
}

static bool import_row(struct reading *reading, const struct row *row, struct stroke *change)
{
    struct fish_line line;
    tell(reading);
    return read_line(reading, row, &line) && import_line(reading, row, &line, change);
}

static bool import_lines(struct reading *reading, struct err *err)
{
    struct stroke *change = alloc_zeroed(1, sizeof *change);
    struct row row = {.first = ""};
    bool done = true;
    while (done && row.first != NULL) {
        done = rows_take(&reading->rows, &row, err);
        if (done && row.first != NULL)
            done = import_row(reading, &row, change);
    }
    free(change);
    return done && check_used(reading, err);
}

static bool count_rounds(const struct reading *reading, struct err *err)
{
    bool done = true;
    for (size_t i = 0; done && i < reading->round_count; i++)
        done = round_count_fish(reading->rows.import->ledger, reading->rounds[i].round.id, err);
    return done;
}

bool import_fish(struct import *import, struct err *err)
{
    struct reading reading = {0};
    const struct clock *clock = ledger_clock(import->ledger);
    if (!rows_open(import, fish_statement_columns, FISH_COLUMN_COUNT, true, &reading.rows, err))
        return false;
    clock_today(clock, reading.today);
    reading.used = alloc_zeroed((size_t)reading.rows.csv.columns, sizeof *reading.used);
    reading.aspects = alloc_zeroed((size_t)reading.rows.csv.columns, sizeof *reading.aspects);
    known_fish_init(&reading.known);
    derived_wait(import->ledger);
    bool done = import_lines(&reading, err) && count_rounds(&reading, err);
    derived_follow(import->ledger);
    known_fish_done(&reading.known);
    free(reading.used);
    free(reading.aspects);
    free(reading.rounds);
    rows_done(&reading.rows);
    return done;
}

/* The aspect columns: those of all rounds written, each once, in the order in which they come. */
struct aspects {
    char (*codes)[CODE_CHARACTERS + 1];
    size_t count, capacity;
};

struct round_out {
    struct round round;
    struct standard standard;
};

struct writing {
    struct ledger *ledger;
    struct round_out *rounds;
    size_t round_count;
    struct aspects aspects;
    const struct round_out *of; /* whose fish are being written */
    int *places;                /* of each aspect column in its standard, -1 = it has none */
    struct text *out;
};

static bool is_wanted(const struct round *round, const struct export_filter *filter)
{
    return (filter->spawning == NULL || strcmp(filter->spawning, round->spawning) == 0) &&
           (filter->stage < 0 || filter->stage == (int)round->stage) &&
           (filter->lot == NULL || strcmp(filter->lot, round->lot) == 0);
}

static void note_aspects(struct aspects *aspects, const struct standard *standard)
{
    for (int i = 0; i < standard->aspect_count; i++) {
        const char *code = standard->aspects[i].code;
        size_t at = 0;
        while (at < aspects->count && strcmp(aspects->codes[at], code) != 0)
            at++;
        if (at < aspects->count)
            continue;
        aspects->codes =
            alloc_room(aspects->codes, aspects->count, &aspects->capacity, sizeof *aspects->codes);
        text_copy(aspects->codes[aspects->count++], sizeof *aspects->codes, code);
    }
}

static bool take_round(struct writing *writing, const struct round *round, struct err *err)
{
    struct standard_version version;
    struct round_out *out = &writing->rounds[writing->round_count];
    if (!round_standard(writing->ledger, round, NULL, &version, err))
        return false;
    *out = (struct round_out){.round = *round, .standard = version.standard};
    note_aspects(&writing->aspects, &version.standard);
    writing->round_count++;
    return true;
}

/* Rounds without a bowl have no fish, and perhaps no standard yet. */
static bool choose_rounds(struct writing *writing, const struct export_filter *filter,
                          struct err *err)
{
    struct counted_round *all;
    size_t count;
    bool done = true;
    if (!counted_round_list(writing->ledger, filter->spawning, &all, &count, err))
        return false;
    writing->rounds = alloc_zeroed(count, sizeof *writing->rounds);
    for (size_t i = 0; done && i < count; i++)
        if (is_wanted(&all[i].round, filter) && all[i].counters.bowls > 0)
            done = take_round(writing, &all[i].round, err);
    free(all);
    return done;
}

static void add_header(struct writing *writing)
{
    export_names(fish_statement_columns, FISH_COLUMN_COUNT, writing->out);
    for (size_t i = 0; i < writing->aspects.count; i++)
        csv_add(writing->out, writing->aspects.codes[i], false);
    csv_end_row(writing->out);
}

static void list_faults(const struct standard *standard, uint32_t seen, char ret[CODES_SIZE])
{
    size_t length = 0;
    for (int i = 0; i < standard->fault_count; i++)
        if (seen >> i & 1)
            length += (size_t)snprintf(ret + length, CODES_SIZE - length, "%s%s",
                                       length > 0 ? ";" : "", standard->faults[i].code);
}

/* `look` gives judge and day; NULL = nobody has looked yet. */
static void add_row(struct writing *writing, const struct fish *fish,
                    const struct judgement *judgement, const struct look *look)
{
    const struct round_out *of = writing->of;
    struct text *out = writing->out;
    struct fish_statement row = {.stage = of->round.stage,
                                 .bowl = fish->bowl,
                                 .number = fish->number,
                                 .length_mm = fish->length_mm};
    text_copy(row.spawning, sizeof row.spawning, of->round.spawning);
    text_copy(row.lot, sizeof row.lot, of->round.own_lot ? "" : of->round.lot);
    text_copy(row.judge, sizeof row.judge, look != NULL ? look->judge_name : "");
    text_copy(row.date, sizeof row.date, look != NULL ? look->day : "");
    text_copy(row.tag, sizeof row.tag, fish->tag);
    list_faults(&of->standard, judgement->faults, row.faults);
    export_fields(fish_statement_columns, FISH_COLUMN_COUNT, &row, out);
    for (size_t i = 0; i < writing->aspects.count; i++) {
        int place = writing->places[i];
        int score = place >= 0 ? judgement->scores[place] : SCORE_NONE;
        if (score != SCORE_NONE)
            csv_add_number(out, score, false);
        else
            csv_add(out, "", false);
    }
    csv_end_row(out);
}

/* Which look decides: the last one, or the one before it while the last is not complete. */
static int deciding_look(const struct fish *fish, const struct judgement *deciding)
{
    bool last = memcmp(deciding->scores, fish->judgement.scores, sizeof deciding->scores) == 0 &&
                deciding->faults == fish->judgement.faults;
    return last ? fish->look : fish->look - 1;
}

/* One fish and its looks, of which there are `count`. */
static void add_fish(void *context, const struct fish *fish, const struct look *looks, size_t count)
{
    struct writing *writing = context;
    const struct round_out *of = writing->of;
    struct judgement deciding = fish_deciding(fish, &of->standard);
    int number = deciding_look(fish, &deciding);
    const struct look *look = NULL;
    for (size_t i = 0; i < count; i++)
        if (!looks[i].checking && looks[i].look == number)
            look = &looks[i];
    add_row(writing, fish, &deciding, look);
    for (size_t i = 0; i < count; i++)
        if (looks[i].checking)
            add_row(writing, &looks[i].summed, &looks[i].summed.judgement, &looks[i]);
}

/* Bowl by bowl: so SQLite sorts the looks of few fish at a time. */
static bool add_round(struct writing *writing, const struct round_out *of, struct err *err)
{
    struct bowl *bowls;
    size_t count;
    bool done = true;
    if (!bowl_list(writing->ledger, of->round.id, &bowls, &count, err))
        return false;
    writing->of = of;
    for (size_t i = 0; i < writing->aspects.count; i++)
        writing->places[i] = standard_aspect(&of->standard, writing->aspects.codes[i]);
    for (size_t i = 0; done && i < count; i++)
        done = looked_each_of_bowl(writing->ledger, bowls[i].id, &of->standard, add_fish, writing,
                                   err);
    free(bowls);
    return done;
}

bool export_fish(struct ledger *ledger, const struct export_filter *filter, struct text *out,
                 struct err *err)
{
    struct writing writing = {.ledger = ledger, .out = out};
    bool done = choose_rounds(&writing, filter, err);
    if (done) {
        add_header(&writing);
        writing.places = alloc_zeroed(writing.aspects.count, sizeof *writing.places);
    }
    for (size_t i = 0; done && i < writing.round_count; i++)
        done = add_round(&writing, &writing.rounds[i], err);
    free(writing.places);
    free(writing.rounds);
    free(writing.aspects.codes);
    return done;
}
