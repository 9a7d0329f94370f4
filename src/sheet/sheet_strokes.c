/* Strokes: how a command becomes entries, is recorded, and changes the fish in front. */
#include "private.h"
#include "senbetsu/base/alloc.h"

void stroke_begin(struct sheet *sheet, struct stroke *ret)
{
    const struct fish *front = tray_front(sheet);
    *ret = (struct stroke){
        .fish = front->id,
        .judge = sheet->judge,
        .look = front->look == 0 ? 1 : front->look,
        .at_ms = clock_now(&sheet->clock),
    };
}

void stroke_add(struct stroke *stroke, enum entry_kind kind, const char *what, int number,
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

/* A stroke without entries judges too: it only closes. */
static bool judges(const struct stroke *stroke)
{
    return stroke->entry_count == 0 || starts_with(stroke, ENTRY_SCORE) ||
           starts_with(stroke, ENTRY_FAULT) || starts_with(stroke, ENTRY_VERDICT);
}

/* Is the fish decided by what was seen of it? A verdict by hand decides with the stroke that gives
 * it and while the fish is closed; one that stands from an earlier look must not close a fish that
 * is being looked at again. */
static bool is_decided(const struct sheet *sheet, const struct fish *fish, bool hand_counts)
{
    struct judgement judgement = fish->judgement;
    if (!hand_counts)
        judgement.by_hand = VERDICT_OPEN;
    return judgement_decide(&sheet->standard, &judgement).verdict != VERDICT_OPEN;
}

static void close_fish(const struct sheet *sheet, struct fish *fish, struct stroke *stroke)
{
    enum verdict verdict = judgement_decide(&sheet->standard, &fish->judgement).verdict;
    stroke_add(stroke, ENTRY_CLOSE, "", (int)verdict, "");
    apply(sheet, fish, stroke, stroke->entry_count - 1);
}

/* The next fish to judge after the one in front was closed: one that is not done, else a fresh one,
 * else the hand stays. */
static struct hand hand_on_next_fish(const struct sheet *sheet, const struct fish *closed)
{
    size_t next = tray_unfinished(sheet, sheet->current + 1, sheet->fish_count - 1);
    if (next < sheet->fish_count)
        return (struct hand){next, tray_open_aspect(sheet, &sheet->fish[next], 0)};
    if (tray_has_room(sheet))
        return (struct hand){sheet->fish_count, 0};
    return (struct hand){sheet->current, tray_open_aspect(sheet, closed, 0)};
}

static struct hand hand_on_same_fish(const struct sheet *sheet, const struct fish *after,
                                     bool reopened, bool scored)
{
    int aspect = sheet->aspect;
    if (reopened)
        aspect = tray_open_aspect(sheet, after, aspect);
    else if (scored || aspect == sheet->standard.aspect_count)
        aspect = tray_open_aspect(sheet, after, aspect + 1);
    return (struct hand){sheet->current, aspect};
}

/* The verdict in large letters belongs to the fish that was closed last and is closed still. */
static void show_verdict(struct sheet *sheet, size_t index)
{
    if (tray_is_done(sheet, &sheet->fish[index])) {
        sheet->last = index;
        sheet->last_decision = sheet_decision(sheet, index);
    } else if (sheet->last == index) {
        sheet->last = SIZE_MAX;
    }
}

static void say_full(struct sheet *sheet)
{
    if (sheet->second_look)
        sheet_say(sheet, "All %zu held fish were looked at again.", sheet->fish_count);
    else
        sheet_say(sheet, "All %zu fish of bowl %d are judged: take the next bowl.",
                  sheet->fish_count, sheet->bowl);
}

bool stroke_write(struct sheet *sheet, size_t index, struct fish *after, struct stroke *stroke,
                  struct hand hand, bool judged)
{
    struct err err;
    struct judgement deciding = fish_deciding(after, &sheet->standard);
    struct standing standing = standing_of(&sheet->standard, &deciding);
    struct sheet_place place = tray_place(sheet, hand);
    if (!sheet->port.record(sheet->port.context, after, stroke, &standing, &place, &err))
        return sheet_port_failed(sheet, &err);
    bool was_full = sheet->full;
    sheet->fish[index] = *after;
    tray_settle(sheet);
    sheet->current = hand.fish;
    sheet->aspect = hand.aspect;
    if (sheet->full && !was_full)
        say_full(sheet);
    if (!judged)
        return true;
    show_verdict(sheet, index);
    if (!tray_read_round(sheet, &err))
        sheet_say(sheet, "Recorded, but the totals could not be read anew. %s", err.text);
    return true;
}

static void remember(struct sheet *sheet, const struct stroke *stroke)
{
    sheet->undoable = alloc_room(sheet->undoable, sheet->undoable_count, &sheet->undoable_capacity,
                                 sizeof *sheet->undoable);
    sheet->undoable[sheet->undoable_count++] =
        (struct sheet_undoable){.stroke = stroke->id, .fish = stroke->fish};
}

bool stroke_commit(struct sheet *sheet, struct stroke *stroke)
{
    const struct fish *before = tray_front(sheet);
    struct fish after = *before;
    bool judging = judges(stroke), by_hand = starts_with(stroke, ENTRY_VERDICT);
    bool was_done = tray_is_done(sheet, before);
    stroke->correction = judging && before->look > 0 && before->closed_look == before->look;
    apply(sheet, &after, stroke, 0);
    if (judging && is_decided(sheet, &after, was_done || by_hand))
        close_fish(sheet, &after, stroke);

    bool is_done = tray_is_done(sheet, &after);
    bool scored = starts_with(stroke, ENTRY_SCORE) && stroke->entries[0].number != SCORE_NONE;
    struct hand hand = is_done && !was_done
                           ? hand_on_next_fish(sheet, &after)
                           : hand_on_same_fish(sheet, &after, was_done && !is_done, scored);
    bool judged = judging && (was_done || is_done || by_hand);
    if (!stroke_write(sheet, sheet->current, &after, stroke, hand, judged))
        return false;
    remember(sheet, stroke);
    return true;
}

static const struct aspect *aspect_in_front(struct sheet *sheet)
{
    if (sheet->aspect < sheet->standard.aspect_count)
        return &sheet->standard.aspects[sheet->aspect];
    sheet_say(sheet, "Nothing is open on this fish; go to the aspect to change first.");
    return NULL;
}

bool judge_score(struct sheet *sheet, int digit)
{
    const struct standard *standard = &sheet->standard;
    const struct aspect *aspect = aspect_in_front(sheet);
    if (aspect == NULL)
        return false;
    int score = sheet_score_of_digit(standard, digit);
    if (score == SCORE_NONE)
        return sheet_say(sheet, "%d is no score here: they go from %d to %d.", digit,
                         standard->lowest, standard->highest);
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    stroke_add(&stroke, ENTRY_SCORE, aspect->code, score, "");
    return stroke_commit(sheet, &stroke);
}

bool judge_clear(struct sheet *sheet)
{
    const struct aspect *aspect = aspect_in_front(sheet);
    if (aspect == NULL)
        return false;
    if (tray_front(sheet)->judgement.scores[sheet->aspect] == SCORE_NONE)
        return sheet_say(sheet, "%s has no score to take away.", aspect->label);
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    stroke_add(&stroke, ENTRY_SCORE, aspect->code, SCORE_NONE, "");
    return stroke_commit(sheet, &stroke);
}

bool judge_typical(struct sheet *sheet)
{
    const struct standard *standard = &sheet->standard;
    const struct fish *front = tray_front(sheet);
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    for (int i = 0; i < standard->aspect_count; i++)
        if (front->judgement.scores[i] == SCORE_NONE)
            stroke_add(&stroke, ENTRY_SCORE, standard->aspects[i].code, standard->typical, "");
    return stroke_commit(sheet, &stroke);
}

bool judge_fault(struct sheet *sheet, int fault)
{
    if (fault < 0 || fault >= sheet->standard.fault_count)
        return sheet_say(sheet, "The standard has %d faults.", sheet->standard.fault_count);
    bool seen = (tray_front(sheet)->judgement.faults >> fault & 1) != 0;
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    stroke_add(&stroke, ENTRY_FAULT, sheet->standard.faults[fault].code, seen ? 0 : 1, "");
    return stroke_commit(sheet, &stroke);
}

bool judge_by_hand(struct sheet *sheet, enum verdict verdict, const char *reason)
{
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    stroke_add(&stroke, ENTRY_VERDICT, "", (int)verdict, reason);
    return stroke_commit(sheet, &stroke);
}
