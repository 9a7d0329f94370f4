/* Everything that is written of the sheet's fish through the port.
 *
 * Every change goes the same way: what the fish will be and where the cursor will go is worked out
 * in a copy, the port writes both in one transaction, and only then the sheet itself changes. So a
 * port that fails needs nothing to be put back, and what is on the screen is always on disk. */
#include "sheet_record.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

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

/* Would it be kept by its score, and is there no place for it? A fish that has its place keeps it,
 * as long as its score reaches keep: others were judged against what it left. */
static bool lacks_place(const struct sheet *sheet, const struct fish *before,
                        const struct decision *decision)
{
    bool has_one = before->closed && before->stands == VERDICT_KEEP;
    return decision->verdict == VERDICT_KEEP && decision->reason == REASON_SCORE && !has_one &&
           !cut_has_place(sheet->cut, decision->score);
}

/* What a closer look decided between equal fish says nothing of one that was judged anew since: a
 * fish left for a tie may turn out to have a bent spine, and so may one that was taken. */
static void end_tie(const struct sheet *sheet, struct fish *fish, struct stroke *stroke)
{
    struct judgement alone = fish->judgement;
    alone.by_hand = VERDICT_OPEN;
    enum verdict by_hand = fish->judgement.by_hand,
                 verdict = judgement_decide(&sheet->standard, &alone).verdict;
    if (by_hand == VERDICT_OPEN || strcmp(fish->hand_reason, TIE_REASON) != 0 ||
        starts_with(stroke, ENTRY_VERDICT) || verdict == VERDICT_OPEN ||
        (by_hand == VERDICT_KEEP && verdict == VERDICT_KEEP))
        return;
    add_entry(stroke, ENTRY_VERDICT, "", VERDICT_OPEN, "");
    apply(sheet, fish, stroke, stroke->entry_count - 1);
}

static void close_fish(const struct sheet *sheet, const struct fish *before, struct fish *fish,
                       struct stroke *stroke)
{
    confirm_faults(sheet, fish, stroke);
    end_tie(sheet, fish, stroke);
    struct decision decision = judgement_decide(&sheet->standard, &fish->judgement);
    if (lacks_place(sheet, before, &decision))
        add_entry(stroke, ENTRY_CLOSE, CLOSE_NO_PLACE, VERDICT_HOLD, "");
    else
        add_entry(stroke, ENTRY_CLOSE, "", (int)decision.verdict, "");
    apply(sheet, fish, stroke, stroke->entry_count - 1);
}

/* The large verdict belongs to the fish that was closed last and is still closed. */
static void show_verdict(struct sheet *sheet, size_t index)
{
    if (sheet_is_done(sheet, &sheet->fish[index])) {
        sheet->last = index;
        sheet->last_decision = sheet_decision(sheet, index);
        sheet->last_cut = sheet->cut;
    } else if (sheet->last == index) {
        sheet->last = SIZE_MAX;
    }
}

static void tell_round(struct sheet *sheet)
{
    struct err err;
    if (!sheet_read_round(sheet, &err))
        sheet_say(sheet, "Recorded, but the totals could not be read again. %s", err.text);
}

/* A fish that is not of the queue. */
#define ELSEWHERE SIZE_MAX

/* Writes the changes, then lets the fish take their places in the queue, at `indexes`, and moves
 * the cursor. */
static bool write_changes(struct sheet *sheet, struct sheet_change *changes, const size_t *indexes,
                          size_t count, struct cursor cursor)
{
    struct err err;
    struct sheet_place place = sheet_place_of(sheet, cursor);
    if (!sheet->port.record(sheet->port.context, changes, count, &place, &err))
        return sheet_port_failed(sheet, &err);
    bool was_full = sheet->full;
    for (size_t i = 0; i < count; i++)
        if (indexes[i] != ELSEWHERE)
            sheet->fish[indexes[i]] = *changes[i].fish;
    sheet_settle(sheet);
    sheet_set_cursor(sheet, cursor);
    if (sheet->full != was_full)
        sheet->resting = sheet->full;
    if (sheet->full && !was_full)
        sheet_say_full(sheet);
    return true;
}

/* Keys that bounce or repeat.
 *
 * Only the key that closed the last fish is held back, and only where it would close the next one:
 * other keys in quick succession are a quick hand. What counts is the time of the press. A key that
 * waited while the disk was slow came at a time that nobody knows; it is held back only if even the
 * longest time that can have passed is too short, or a hand that went on typing would lose keys.
 *
 * A key held down repeats after 250 to 500 ms, which is no bounce: its first repeat closes a fish.
 * The repeats after it tell what it was, and the fish is opened again. */

enum { REPEAT_DELAY_MS = 600, REPEATS = 3 };

static bool is_bounce(const struct sheet *sheet)
{
    int64_t longest_ms = sheet->press.to_ms - sheet->closing.from_ms;
    return sheet->bounce_ms > 0 && sheet->press.key != 0 &&
           sheet->press.key == sheet->closing.key && longest_ms >= 0 &&
           longest_ms < sheet->bounce_ms;
}

/* Returns false, but true while a key is held down further: one signal is enough. */
static bool hold_back(struct sheet *sheet)
{
    char name[64];
    sheet->closing.from_ms = sheet->press.from_ms;
    sheet->closing.to_ms = sheet->press.to_ms;
    sheet->held_back++;
    bool is_last = sheet->undoable_count > 0 &&
                   sheet->undoable[sheet->undoable_count - 1].stroke == sheet->closing_stroke;
    if (sheet->held_back == REPEATS && sheet->may_repeat && is_last && sheet_undo(sheet))
        return sheet_say(sheet, "The key was held down: %s, which it closed, is open again.",
                         sheet_fish_name(sheet, sheet->current, name));
    if (sheet->held_back <= REPEATS || !sheet->may_repeat)
        return sheet_say(sheet, "The same key within %d.%d s was held back; press it again.",
                         sheet->bounce_ms / 1000, sheet->bounce_ms % 1000 / 100);
    sheet_say(sheet, "The key is held down; nothing more is recorded.");
    return true;
}

static void remember_closing(struct sheet *sheet, int64_t stroke)
{
    const struct press *press = &sheet->press;
    int64_t since = press->from_ms - sheet->closing.to_ms;
    sheet->may_repeat = press->key == sheet->closing.key && since >= 0 && since <= REPEAT_DELAY_MS;
    sheet->closing = *press;
    sheet->closing_stroke = stroke;
    sheet->held_back = 0;
}

/* Only where nothing but the stroke came between. */
static void remember_before(struct sheet *sheet, const struct fish *before,
                            const struct fish *after, int64_t stroke)
{
    sheet->before = *before;
    sheet->before.mark = before->mark != 0 && after->mark == before->mark + 1 ? after->mark : 0;
    sheet->before_stroke = stroke;
}

/* Applies the stroke to the current fish and writes it. A stroke without entries judges too: it
 * only closes. */
static bool commit(struct sheet *sheet, struct stroke *stroke)
{
    const struct fish *before = sheet_current(sheet);
    struct fish after = *before;
    size_t index = sheet->current;
    bool by_hand = starts_with(stroke, ENTRY_VERDICT);
    bool judging = stroke->entry_count == 0 || by_hand || starts_with(stroke, ENTRY_SCORE) ||
                   starts_with(stroke, ENTRY_FAULT);
    bool scored = starts_with(stroke, ENTRY_SCORE) && stroke->entries[0].number != SCORE_NONE;
    bool was_done = sheet_is_done(sheet, before);
    stroke->correction = judging && before->look > 0 && before->closed_look == before->look;
    apply(sheet, &after, stroke, 0);
    if (judging && is_decided(sheet, &after, was_done || by_hand))
        close_fish(sheet, before, &after, stroke);

    bool is_done = sheet_is_done(sheet, &after), closes = is_done && !was_done;
    if (closes && is_bounce(sheet))
        return hold_back(sheet);
    struct cursor cursor =
        closes ? sheet_cursor_after_closing(sheet, &after)
               : sheet_cursor_on_same_fish(sheet, &after, was_done && !is_done, scored);
    struct sheet_change change = {.fish = &after, .stroke = stroke};
    struct fish was = *before;
    if (!write_changes(sheet, &change, &index, 1, cursor))
        return false;
    sheet_remember(sheet, (struct undoable){.stroke = stroke->id, .fish = stroke->fish});
    remember_before(sheet, &was, &after, stroke->id);
    if (closes)
        remember_closing(sheet, stroke->id);
    if (judging && (was_done || is_done || by_hand)) {
        show_verdict(sheet, index);
        tell_round(sheet);
    }
    return true;
}

bool sheet_record(struct sheet *sheet, enum entry_kind kind, const char *what, int number,
                  const char *text)
{
    struct stroke stroke = stroke_of(sheet, sheet_current(sheet));
    add_entry(&stroke, kind, what, number, text);
    return commit(sheet, &stroke);
}

bool sheet_move_tag(struct sheet *sheet, const char *tag, int64_t from)
{
    struct fish after = *sheet_current(sheet), other = {.id = from};
    struct err err;
    if (!sheet->port.reload(sheet->port.context, NULL, 0, NULL, &other, &err))
        return sheet_port_failed(sheet, &err);
    struct stroke stroke = stroke_of(sheet, &after), loss = stroke_of(sheet, &other);
    add_entry(&stroke, ENTRY_TAG, "", 0, tag);
    add_entry(&loss, ENTRY_TAG, "", 0, "");
    apply(sheet, &after, &stroke, 0);
    apply(sheet, &other, &loss, 0);
    struct sheet_change changes[] = {{.fish = &after, .stroke = &stroke},
                                     {.fish = &other, .stroke = &loss}};
    size_t indexes[] = {sheet->current, ELSEWHERE};
    struct cursor cursor = {sheet->current, sheet->aspect};
    if (!write_changes(sheet, changes, indexes, 2, cursor))
        return false;
    sheet_remember(sheet, (struct undoable){.stroke = stroke.id, .fish = stroke.fish});
    return true;
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
    bool knows_before = last.stroke == sheet->before_stroke && after.mark == sheet->before.mark;
    if (!sheet->port.reload(sheet->port.context, &last.stroke, 1,
                            knows_before ? &sheet->before : NULL, &after, &err))
        return sheet_port_failed(sheet, &err);
    sheet_begin_look(sheet, &after);
    struct cursor cursor = sheet_cursor_after_undo(sheet, index, &after);
    struct sheet_change change = {
        .fish = &after, .undoes = &last.stroke, .undo_count = 1, .at_ms = clock_now(&sheet->clock)};
    if (!write_changes(sheet, &change, &index, 1, cursor))
        return false;
    sheet->undoable_count--;
    if (sheet->mark.undoable_count > sheet->undoable_count)
        sheet->mark.undoable_count = sheet->undoable_count;
    show_verdict(sheet, index);
    tell_round(sheet);
    if (sheet->message[0] == '\0') {
        char name[64];
        sheet_say(sheet, "Undone on %s.", sheet_fish_name(sheet, sheet->current, name));
    }
    return true;
}

/* Digits that were a reader's. They were recorded as they came, for a hand must not wait until it
 * is known whose they are; so all that they did is taken back at once. */

void sheet_set_mark(struct sheet *sheet)
{
    sheet->mark = (struct sheet_mark){.set = true,
                                      .undoable_count = sheet->undoable_count,
                                      .current = sheet->current,
                                      .aspect = sheet->aspect,
                                      .mode = sheet->mode,
                                      .chosen = sheet->chosen,
                                      .last = sheet->last,
                                      .last_decision = sheet->last_decision,
                                      .last_cut = sheet->last_cut,
                                      .resting = sheet->resting};
    text_copy(sheet->mark.line, sizeof sheet->mark.line, sheet->line);
}

/* What is taken back, fish by fish. */
struct taken_back {
    struct sheet_change *changes;
    size_t *indexes;
    struct fish *fish;
    int64_t *strokes;
    size_t count, stroke_count;
};

static void taken_back_init(struct taken_back *back, size_t most)
{
    *back = (struct taken_back){
        .changes = alloc_zeroed(most, sizeof *back->changes),
        .indexes = alloc_zeroed(most, sizeof *back->indexes),
        .fish = alloc_zeroed(most, sizeof *back->fish),
        .strokes = alloc_zeroed(most, sizeof *back->strokes),
    };
}

static void taken_back_done(struct taken_back *back)
{
    free(back->changes);
    free(back->indexes);
    free(back->fish);
    free(back->strokes);
}

static struct sheet_change *add_change(struct sheet *sheet, struct taken_back *back, size_t index)
{
    for (size_t i = 0; i < back->count; i++)
        if (back->indexes[i] == index)
            return &back->changes[i];
    size_t at = back->count++;
    back->indexes[at] = index;
    back->fish[at] = sheet->fish[index];
    back->changes[at] =
        (struct sheet_change){.fish = &back->fish[at], .at_ms = clock_now(&sheet->clock)};
    return &back->changes[at];
}

/* The strokes of one fish since the mark, the latest first, and the fish without them. */
static bool take_fish_back(struct sheet *sheet, struct taken_back *back, int64_t fish,
                           struct err *err)
{
    size_t index = sheet_find(sheet, fish, sheet->current), before = back->count;
    struct sheet_change *change = add_change(sheet, back, index);
    if (back->count == before)
        return true;
    int64_t *strokes = back->strokes + back->stroke_count;
    for (size_t i = sheet->undoable_count; i > sheet->mark.undoable_count; i--)
        if (sheet->undoable[i - 1].fish == fish)
            strokes[change->undo_count++] = sheet->undoable[i - 1].stroke;
    change->undoes = strokes;
    back->stroke_count += change->undo_count;
    if (!sheet->port.reload(sheet->port.context, strokes, change->undo_count, NULL, change->fish,
                            err))
        return false;
    sheet_begin_look(sheet, change->fish);
    return true;
}

static void back_to_mark(struct sheet *sheet)
{
    const struct sheet_mark *mark = &sheet->mark;
    sheet->undoable_count = mark->undoable_count;
    sheet->mode = mark->mode == SHEET_ASK_TAG ? SHEET_JUDGE : mark->mode;
    sheet->chosen = mark->chosen;
    text_copy(sheet->line, sizeof sheet->line, mark->line);
    bool still_closed =
        mark->last < sheet->fish_count && sheet_is_done(sheet, &sheet->fish[mark->last]);
    sheet->last = still_closed ? mark->last : SIZE_MAX;
    sheet->last_decision = mark->last_decision;
    sheet->last_cut = mark->last_cut;
    sheet->resting = mark->resting && sheet->full;
    sheet->mark.set = false;
    sheet->closing = (struct press){0};
}

/* Where it was; where every aspect had its score then and one is open now, on that one. */
static struct cursor marked_cursor(const struct sheet *sheet, const struct taken_back *back)
{
    struct cursor cursor = {sheet->mark.current, sheet->mark.aspect};
    const struct fish *front = &sheet->fish[cursor.fish];
    for (size_t i = 0; i < back->count; i++)
        if (back->indexes[i] == cursor.fish)
            front = back->changes[i].fish;
    if (cursor.aspect == sheet->standard.aspect_count)
        cursor.aspect = sheet_open_aspect(sheet, front, 0);
    return cursor;
}

bool sheet_take_back(struct sheet *sheet, const char *tag)
{
    if (!sheet->mark.set)
        sheet_set_mark(sheet);
    struct taken_back back;
    struct stroke stroke;
    struct err err;
    taken_back_init(&back, sheet->undoable_count - sheet->mark.undoable_count + 1);
    bool fine = true;
    for (size_t i = sheet->undoable_count; fine && i > sheet->mark.undoable_count; i--)
        fine = take_fish_back(sheet, &back, sheet->undoable[i - 1].fish, &err);
    if (!fine)
        sheet_port_failed(sheet, &err);
    if (fine && tag != NULL) {
        struct sheet_change *change = add_change(sheet, &back, sheet->mark.current);
        stroke = stroke_of(sheet, change->fish);
        add_entry(&stroke, ENTRY_TAG, "", 0, tag);
        apply(sheet, change->fish, &stroke, 0);
        change->stroke = &stroke;
    }
    struct cursor cursor = marked_cursor(sheet, &back);
    fine = fine &&
           (back.count == 0 ? sheet_move(sheet, cursor)
                            : write_changes(sheet, back.changes, back.indexes, back.count, cursor));
    taken_back_done(&back);
    if (!fine)
        return false;
    back_to_mark(sheet);
    sheet->message[0] = '\0';
    if (tag != NULL)
        sheet_remember(sheet, (struct undoable){.stroke = stroke.id, .fish = stroke.fish});
    tell_round(sheet);
    return true;
}
