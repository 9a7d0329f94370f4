/* The queue of a sheet, its round and its cursor: which fish are there, which is in front, and
 * where the cursor goes next. Moving it is the only thing here that is written; strokes are in
 * sheet_record.c. */
#include "senbetsu/base/alloc.h"
#include "sheet_commands.h"
#include "sheet_record.h"

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
    sheet->refused = err->code;
    return sheet_say(sheet, "%s%s", err->code == ERR_UNCERTAIN ? "" : "Nothing was recorded. ",
                     err->text);
}

int sheet_fish_number(const struct sheet *sheet, size_t index)
{
    return sheet->unnumbered ? (int)index + 1 : sheet->fish[index].number;
}

const char *sheet_fish_name(const struct sheet *sheet, size_t index, char ret_name[64])
{
    int number = sheet_fish_number(sheet, index);
    if (sheet->unnumbered)
        snprintf(ret_name, 64, "fish %d of the basin", number);
    else if (sheet->second_look)
        snprintf(ret_name, 64, "fish %d of bowl %d", number, sheet->fish[index].bowl);
    else
        snprintf(ret_name, 64, "fish %d", number);
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

/* Modes. */

bool sheet_set_mode(struct sheet *sheet, enum sheet_mode mode, const char *line)
{
    sheet->mode = mode;
    text_copy(sheet->line, sizeof sheet->line, line);
    return true;
}

bool sheet_back_to_judging(struct sheet *sheet)
{
    return sheet_set_mode(sheet, SHEET_JUDGE, "");
}

/* The last fish of a full bowl stays as it is until somebody asks for it. Returns false. */
bool sheet_refuse_unasked(struct sheet *sheet)
{
    int number = sheet_fish_number(sheet, sheet->current);
    if (sheet->second_look)
        return sheet_say(sheet,
                         "All were looked at: q or . 0 leaves; to change fish %d choose an "
                         "aspect.",
                         number);
    return sheet_say(sheet,
                     "Bowl %d is full: b or . 8 takes the next; to change fish %d choose an "
                     "aspect.",
                     sheet->bowl, number);
}

/* The queue. */

struct fish *sheet_current(struct sheet *sheet)
{
    return &sheet->fish[sheet->current];
}

struct decision sheet_decision(const struct sheet *sheet, size_t index)
{
    const struct fish *fish = &sheet->fish[index];
    struct decision decision = judgement_decide(&sheet->standard, &fish->judgement);
    if (!fish->closed || fish->stands == VERDICT_OPEN || fish->stands == decision.verdict)
        return decision;
    if (decision.verdict == VERDICT_KEEP && fish->stands == VERDICT_HOLD)
        decision.reason = REASON_PLACES;
    decision.verdict = fish->stands;
    return decision;
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

bool sheet_knows_earlier(const struct sheet *sheet)
{
    return sheet->second_look && !sheet->unnumbered;
}

int sheet_likely_score(const struct sheet *sheet, const struct fish *fish, int aspect)
{
    int earlier = sheet_knows_earlier(sheet) ? fish->earlier.scores[aspect] : SCORE_NONE;
    return earlier != SCORE_NONE ? earlier : sheet->standard.typical;
}

uint32_t sheet_carried_faults(const struct sheet *sheet, const struct fish *fish)
{
    if (!sheet_knows_earlier(sheet) || fish->closed)
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

bool sheet_read_round(struct sheet *sheet, struct err *err)
{
    struct sheet_round round = {.places = -1};
    if (!sheet->port.round(sheet->port.context, &round, err))
        return false;
    sheet->round = round;
    sheet->round.scores = sheet->round.closed_ms = NULL;
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

struct sheet_place sheet_place_of(const struct sheet *sheet, struct cursor cursor)
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
    return sheet_place_of(sheet, (struct cursor){sheet->current, sheet->aspect});
}

void sheet_set_cursor(struct sheet *sheet, struct cursor cursor)
{
    sheet->current = cursor.fish;
    sheet->aspect = cursor.aspect;
}

bool sheet_move(struct sheet *sheet, struct cursor cursor)
{
    if (cursor.fish == sheet->current && cursor.aspect == sheet->aspect)
        return true;
    struct err err;
    struct sheet_place place = sheet_place_of(sheet, cursor);
    if (!sheet->port.move(sheet->port.context, &place, &err))
        return sheet_port_failed(sheet, &err);
    sheet_set_cursor(sheet, cursor);
    return true;
}

bool sheet_move_to_fish(struct sheet *sheet, size_t fish)
{
    return sheet_move(sheet,
                      (struct cursor){fish, sheet_open_aspect(sheet, &sheet->fish[fish], 0)});
}

/* The next fish to judge after the current one was closed: one that is not done, else a new one,
 * else the cursor stays. */
struct cursor sheet_cursor_after_closing(const struct sheet *sheet, const struct fish *closed)
{
    size_t next = sheet_first_open(sheet, sheet->current + 1, sheet->fish_count - 1);
    if (next < sheet->fish_count)
        return (struct cursor){next, sheet_open_aspect(sheet, &sheet->fish[next], 0)};
    if (has_room(sheet))
        return (struct cursor){sheet->fish_count, 0};
    return (struct cursor){sheet->current, sheet_open_aspect(sheet, closed, 0)};
}

struct cursor sheet_cursor_on_same_fish(const struct sheet *sheet, const struct fish *after,
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
struct cursor sheet_cursor_after_undo(const struct sheet *sheet, size_t index,
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
