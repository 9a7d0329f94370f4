/* The fish of the sheet and everything that is written of them through the port.
 *
 * Every change goes the same way: what the fish will be and where the cursor will go is worked out
 * in a copy, the port writes both in one transaction, and only then the sheet itself changes. So a
 * port that fails needs nothing to be put back, and what is on the screen is always on disk. */
#include "sheet_record.h"
#include "senbetsu/base/alloc.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

bool sheet_say(struct sheet *sheet, const char *format, ...)
{
    char sentence[2 * ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    text_copy(sheet->message, sizeof sheet->message, sentence);
    return false;
}

bool sheet_port_failed(struct sheet *sheet, const struct err *err)
{
    return sheet_say(sheet, "Nothing was recorded. %s", err->text);
}

const char *sheet_fish_name(const struct sheet *sheet, const struct fish *fish, char ret_name[64])
{
    if (sheet->second_look)
        snprintf(ret_name, 64, "fish %d of bowl %d", fish->number, fish->bowl);
    else
        snprintf(ret_name, 64, "fish %d", fish->number);
    return ret_name;
}

bool sheet_say_full(struct sheet *sheet)
{
    if (sheet->second_look)
        return sheet_say(sheet, "All %zu held fish were looked at again; q or . 0 leaves.",
                         sheet->fish_count);
    return sheet_say(sheet, "All %zu fish of bowl %d are judged; b or . 8 takes the next bowl.",
                     sheet->fish_count, sheet->bowl);
}

/* The queue. */

struct fish *sheet_current(struct sheet *sheet)
{
    return &sheet->fish[sheet->current];
}

struct decision sheet_decision(const struct sheet *sheet, size_t index)
{
    return judgement_decide(&sheet->standard, &sheet->fish[index].judgement);
}

bool sheet_is_done(const struct sheet *sheet, const struct fish *fish)
{
    return fish->closed &&
           judgement_decide(&sheet->standard, &fish->judgement).verdict != VERDICT_OPEN;
}

int sheet_open_aspect(const struct sheet *sheet, const struct fish *fish, int from)
{
    int count = sheet->standard.aspect_count;
    for (int i = 0; i < count; i++) {
        int aspect = (from + i) % count;
        if (fish->judgement.scores[aspect] == SCORE_NONE)
            return aspect;
    }
    return count;
}

int sheet_likely_score(const struct sheet *sheet, const struct fish *fish, int aspect)
{
    int earlier = sheet->second_look ? fish->earlier.scores[aspect] : SCORE_NONE;
    return earlier != SCORE_NONE ? earlier : sheet->standard.typical;
}

uint32_t sheet_carried_faults(const struct sheet *sheet, const struct fish *fish)
{
    if (!sheet->second_look || fish->closed)
        return 0;
    return fish->earlier.faults & ~(fish->judgement.faults | fish->denied);
}

size_t sheet_first_open(const struct sheet *sheet, size_t first, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        size_t index = (first + i) % sheet->fish_count;
        if (!sheet_is_done(sheet, &sheet->fish[index]))
            return index;
    }
    return sheet->fish_count;
}

size_t sheet_find(const struct sheet *sheet, int64_t id, size_t near)
{
    for (size_t i = 0; i < sheet->fish_count; i++) {
        size_t index = (near + i) % sheet->fish_count;
        if (sheet->fish[index].id == id)
            return index;
    }
    return sheet->fish_count;
}

void sheet_begin_look(const struct sheet *sheet, struct fish *fish)
{
    if (fish->look < sheet->look && sheet_is_done(sheet, fish))
        fish_begin_look(fish, sheet->look, fish->first_ms);
}

/* May another fish be added to the bowl? */
static bool has_room(const struct sheet *sheet)
{
    return !sheet->second_look &&
           (sheet->expected == 0 || sheet->fish_count < (size_t)sheet->expected);
}

static int next_number(const struct sheet *sheet)
{
    return sheet->fish_count == 0 ? 1 : sheet->fish[sheet->fish_count - 1].number + 1;
}

/* The new fish is there exactly when all others are done, so that the queue depends on nothing but
 * what is in the ledger. */
void sheet_settle(struct sheet *sheet)
{
    if (sheet->fish_count > 0 && sheet->fish[sheet->fish_count - 1].id == 0)
        sheet->fish_count--;
    bool all_done = sheet_first_open(sheet, 0, sheet->fish_count) == sheet->fish_count;
    sheet->full = all_done && !has_room(sheet);
    if (all_done && has_room(sheet)) {
        int number = next_number(sheet);
        sheet->fish =
            alloc_room(sheet->fish, sheet->fish_count, &sheet->fish_capacity, sizeof *sheet->fish);
        fish_init(&sheet->fish[sheet->fish_count++], 0, sheet->bowl_id, sheet->bowl, number);
    }
    memset(sheet->verdicts, 0, sizeof sheet->verdicts);
    for (size_t i = 0; i < sheet->fish_count; i++) {
        bool done = sheet_is_done(sheet, &sheet->fish[i]);
        sheet->verdicts[done ? sheet_decision(sheet, i).verdict : VERDICT_OPEN]++;
    }
}

void sheet_remember(struct sheet *sheet, struct undoable undoable)
{
    sheet->undoable = alloc_room(sheet->undoable, sheet->undoable_count, &sheet->undoable_capacity,
                                 sizeof *sheet->undoable);
    sheet->undoable[sheet->undoable_count++] = undoable;
}

/* The round. */

void sheet_round_done(struct sheet_round *round)
{
    free(round->scores);
    free(round->closed_ms);
    *round = (struct sheet_round){.places = -1};
}

bool sheet_read_round(struct sheet *sheet, struct err *err)
{
    struct sheet_round round = {.places = -1};
    if (!sheet->port.round(sheet->port.context, &round, err))
        return false;
    sheet_round_done(&sheet->round);
    sheet->round = round;
    const struct verdict_counts *tally = &round.tally;
    int left = -1;
    if (tally->expected > 0)
        left = tally->judged < tally->expected ? tally->expected - tally->judged : 0;
    sheet->pace = pace_per_hour(round.closed_ms, round.closed_count);
    sheet->cut =
        cut_line(round.scores, round.score_count, tally->judged, tally->verdicts[VERDICT_KEEP],
                 round.places, left, keep_score(&sheet->standard));
    return true;
}

/* The cursor. */

static struct sheet_place place_of(const struct sheet *sheet, struct cursor cursor)
{
    struct sheet_place place = {.bowl_id = sheet->bowl_id, .number = next_number(sheet)};
    if (cursor.fish < sheet->fish_count) {
        place.bowl_id = sheet->fish[cursor.fish].bowl_id;
        place.number = sheet->fish[cursor.fish].number;
    }
    if (cursor.aspect < sheet->standard.aspect_count)
        text_copy(place.aspect, sizeof place.aspect, sheet->standard.aspects[cursor.aspect].code);
    return place;
}

struct sheet_place sheet_place(const struct sheet *sheet)
{
    return place_of(sheet, (struct cursor){sheet->current, sheet->aspect});
}

static void set_cursor(struct sheet *sheet, struct cursor cursor)
{
    sheet->current = cursor.fish;
    sheet->aspect = cursor.aspect;
}

bool sheet_move(struct sheet *sheet, struct cursor cursor)
{
    if (cursor.fish == sheet->current && cursor.aspect == sheet->aspect)
        return true;
    struct err err;
    struct sheet_place place = place_of(sheet, cursor);
    if (!sheet->port.move(sheet->port.context, &place, &err))
        return sheet_port_failed(sheet, &err);
    set_cursor(sheet, cursor);
    return true;
}

bool sheet_move_to_fish(struct sheet *sheet, size_t fish)
{
    return sheet_move(sheet,
                      (struct cursor){fish, sheet_open_aspect(sheet, &sheet->fish[fish], 0)});
}

/* The next fish to judge after the current one was closed: one that is not done, else a new one,
 * else the cursor stays. */
static struct cursor cursor_after_closing(const struct sheet *sheet, const struct fish *closed)
{
    size_t next = sheet_first_open(sheet, sheet->current + 1, sheet->fish_count - 1);
    if (next < sheet->fish_count)
        return (struct cursor){next, sheet_open_aspect(sheet, &sheet->fish[next], 0)};
    if (has_room(sheet))
        return (struct cursor){sheet->fish_count, 0};
    return (struct cursor){sheet->current, sheet_open_aspect(sheet, closed, 0)};
}

static struct cursor cursor_on_same_fish(const struct sheet *sheet, const struct fish *after,
                                         bool reopened, bool scored)
{
    int aspect = sheet->aspect;
    if (reopened)
        aspect = sheet_open_aspect(sheet, after, aspect);
    else if (scored || aspect == sheet->standard.aspect_count)
        aspect = sheet_open_aspect(sheet, after, aspect + 1);
    return (struct cursor){sheet->current, aspect};
}

/* On the aspect whose score was taken back; a cursor that is on the fish already stays. */
static struct cursor cursor_after_undo(const struct sheet *sheet, size_t index,
                                       const struct fish *after)
{
    const struct fish *before = &sheet->fish[index];
    for (int i = 0; i < sheet->standard.aspect_count; i++)
        if (before->judgement.scores[i] != after->judgement.scores[i])
            return (struct cursor){index, i};
    if (index == sheet->current && sheet->aspect < sheet->standard.aspect_count)
        return (struct cursor){index, sheet->aspect};
    return (struct cursor){index, sheet_open_aspect(sheet, after, 0)};
}

/* Strokes. */

static struct stroke stroke_of(const struct sheet *sheet, const struct fish *fish)
{
    return (struct stroke){
        .fish = fish->id,
        .judge = sheet->judge,
        .look = fish->look == 0 ? 1 : fish->look,
        .at_ms = clock_now(&sheet->clock),
    };
}

static void add_entry(struct stroke *stroke, enum entry_kind kind, const char *what, int number,
                      const char *text)
{
    struct entry *entry = &stroke->entries[stroke->entry_count++];
    *entry = (struct entry){.kind = kind, .number = number};
    text_copy(entry->what, sizeof entry->what, what);
    text_copy(entry->text, sizeof entry->text, text);
}

static void apply(const struct sheet *sheet, struct fish *fish, const struct stroke *stroke,
                  int first_entry)
{
    for (int i = first_entry; i < stroke->entry_count; i++)
        fish_apply(fish, &sheet->standard, stroke->look, stroke->at_ms, &stroke->entries[i]);
}

static bool starts_with(const struct stroke *stroke, enum entry_kind kind)
{
    return stroke->entry_count > 0 && stroke->entries[0].kind == kind;
}

/* Is the fish decided by what was seen of it? A verdict by hand decides with the stroke that gives
 * it and while the fish is closed; one from an earlier look must not close a fish that is being
 * looked at again. */
static bool is_decided(const struct sheet *sheet, const struct fish *fish, bool counts_by_hand)
{
    struct judgement judgement = fish->judgement;
    if (!counts_by_hand)
        judgement.by_hand = VERDICT_OPEN;
    return judgement_decide(&sheet->standard, &judgement).verdict != VERDICT_OPEN;
}

/* What was on the screen counts: faults seen before and not taken back now are recorded again. */
static void confirm_faults(const struct sheet *sheet, struct fish *fish, struct stroke *stroke)
{
    uint32_t carried = sheet_carried_faults(sheet, fish);
    int first = stroke->entry_count;
    for (int i = 0; i < sheet->standard.fault_count; i++)
        if ((carried >> i & 1) != 0)
            add_entry(stroke, ENTRY_FAULT, sheet->standard.faults[i].code, 1, "");
    apply(sheet, fish, stroke, first);
}

static void close_fish(const struct sheet *sheet, struct fish *fish, struct stroke *stroke)
{
    confirm_faults(sheet, fish, stroke);
    enum verdict verdict = judgement_decide(&sheet->standard, &fish->judgement).verdict;
    add_entry(stroke, ENTRY_CLOSE, "", (int)verdict, "");
    apply(sheet, fish, stroke, stroke->entry_count - 1);
}

/* The verdict in large letters belongs to the fish that was closed last and is still closed. */
static void show_verdict(struct sheet *sheet, size_t index)
{
    if (sheet_is_done(sheet, &sheet->fish[index])) {
        sheet->last = index;
        sheet->last_decision = sheet_decision(sheet, index);
    } else if (sheet->last == index) {
        sheet->last = SIZE_MAX;
    }
}

/* Writes the stroke, then lets `after` take the fish's place in the queue and moves the cursor.
 * `judged`: the verdict of the fish may have changed. */
static bool write_stroke(struct sheet *sheet, size_t index, struct fish *after,
                         struct stroke *stroke, struct cursor cursor, bool judged)
{
    struct err err;
    struct cached_verdict cached = fish_cached_verdict(after, &sheet->standard);
    struct sheet_place place = place_of(sheet, cursor);
    if (!sheet->port.record(sheet->port.context, after, stroke, &cached, &place, &err))
        return sheet_port_failed(sheet, &err);
    bool was_full = sheet->full;
    sheet->fish[index] = *after;
    sheet_settle(sheet);
    set_cursor(sheet, cursor);
    if (sheet->full != was_full)
        sheet->resting = sheet->full;
    if (sheet->full && !was_full)
        sheet_say_full(sheet);
    if (!judged)
        return true;
    show_verdict(sheet, index);
    if (!sheet_read_round(sheet, &err))
        sheet_say(sheet, "Recorded, but the totals could not be read again. %s", err.text);
    return true;
}

/* Applies the stroke to the current fish and writes it. A stroke without entries judges too: it
 * only closes. */
static bool commit(struct sheet *sheet, struct stroke *stroke)
{
    const struct fish *before = sheet_current(sheet);
    struct fish after = *before;
    bool by_hand = starts_with(stroke, ENTRY_VERDICT);
    bool judging = stroke->entry_count == 0 || by_hand || starts_with(stroke, ENTRY_SCORE) ||
                   starts_with(stroke, ENTRY_FAULT);
    bool scored = starts_with(stroke, ENTRY_SCORE) && stroke->entries[0].number != SCORE_NONE;
    bool was_done = sheet_is_done(sheet, before);
    stroke->correction = judging && before->look > 0 && before->closed_look == before->look;
    apply(sheet, &after, stroke, 0);
    if (judging && is_decided(sheet, &after, was_done || by_hand))
        close_fish(sheet, &after, stroke);

    bool is_done = sheet_is_done(sheet, &after);
    struct cursor cursor = is_done && !was_done
                               ? cursor_after_closing(sheet, &after)
                               : cursor_on_same_fish(sheet, &after, was_done && !is_done, scored);
    bool judged = judging && (was_done || is_done || by_hand);
    if (!write_stroke(sheet, sheet->current, &after, stroke, cursor, judged))
        return false;
    sheet_remember(sheet, (struct undoable){.stroke = stroke->id, .fish = stroke->fish});
    return true;
}

bool sheet_record(struct sheet *sheet, enum entry_kind kind, const char *what, int number,
                  const char *text)
{
    struct stroke stroke = stroke_of(sheet, sheet_current(sheet));
    add_entry(&stroke, kind, what, number, text);
    return commit(sheet, &stroke);
}

bool sheet_record_rest(struct sheet *sheet, bool typical)
{
    const struct standard *standard = &sheet->standard;
    const struct fish *fish = sheet_current(sheet);
    struct stroke stroke = stroke_of(sheet, fish);
    for (int i = 0; i < standard->aspect_count; i++)
        if (fish->judgement.scores[i] == SCORE_NONE)
            add_entry(&stroke, ENTRY_SCORE, standard->aspects[i].code,
                      typical ? standard->typical : sheet_likely_score(sheet, fish, i), "");
    return commit(sheet, &stroke);
}

bool sheet_undo(struct sheet *sheet)
{
    if (sheet->undoable_count == 0)
        return sheet_say(sheet, "There is nothing left to undo here.");
    struct undoable last = sheet->undoable[sheet->undoable_count - 1];
    size_t index = sheet_find(sheet, last.fish, sheet->current);
    struct fish after = sheet->fish[index];
    struct err err;
    if (!sheet->port.reload(sheet->port.context, last.stroke, &after, &err))
        return sheet_port_failed(sheet, &err);
    struct stroke stroke = stroke_of(sheet, &after);
    stroke.undoes = last.stroke;
    sheet_begin_look(sheet, &after);
    struct cursor cursor = cursor_after_undo(sheet, index, &after);
    if (!write_stroke(sheet, index, &after, &stroke, cursor, true))
        return false;
    sheet->undoable_count--;
    if (sheet->message[0] == '\0') {
        char name[64];
        sheet_say(sheet, "Undone on %s.", sheet_fish_name(sheet, sheet_current(sheet), name));
    }
    return true;
}
