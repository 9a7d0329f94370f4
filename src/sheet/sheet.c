/* The sheet's commands: how a sheet begins, what each command does in each mode, and the words it
 * has ready. What is written of the fish is in sheet_record.c. */
#include "senbetsu/sheet/sheet.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/fish.h"
#include "sheet_commands.h"
#include "sheet_record.h"

#include <stdlib.h>
#include <string.h>

enum {
    LENGTH_LONGEST = 2000,
    BOWL_MOST = 5000,
    NOTE_CHARACTERS = 200,
    READY_COUNT = 9,
};

/* The most frequent texts, one digit each: reasons for a verdict by hand, and notes. No note may be
 * part of another, or the two could not be told apart in a joined note. */
static const char *const ready[VERDICT_COUNT][READY_COUNT] = {
    [VERDICT_OPEN] =
        {
            "wound or illness",
            "parasites seen",
            "split fin, may heal",
            "shooter, far ahead of its siblings",
            "small for its age",
            "pattern still moving",
            "show to a second pair of eyes",
            "photo taken",
            "wanted as a parent",
        },
    [VERDICT_KEEP] =
        {
            "better in the water than on paper",
            "will finish late",
            "parent line wanted",
            "rare pattern",
            "outstanding body",
            "promised to a customer",
        },
    [VERDICT_HOLD] =
        {
            "wound has to heal first",
            "too early to tell",
            "compare with the other bowls",
            "second pair of eyes wanted",
            "light too poor to judge",
            "may be from another lot",
        },
    [VERDICT_REJECT] =
        {
            "worse in the water than on paper",
            "ill or weak",
            "swims badly",
            "will not grow on",
            "enough of this kind",
            "fault the standard does not name",
        },
};

const char *sheet_ready(const struct sheet *sheet, int digit)
{
    bool offered = sheet->mode == SHEET_NOTE || sheet->mode == SHEET_REASON;
    if (!offered || digit < 1 || digit > READY_COUNT)
        return NULL;
    return ready[sheet->mode == SHEET_NOTE ? VERDICT_OPEN : sheet->chosen][digit - 1];
}

int sheet_score_of_digit(const struct standard *standard, int digit)
{
    int score = digit == 0 && standard->highest == 10 ? 10 : digit;
    return score >= standard->lowest && score <= standard->highest ? score : SCORE_NONE;
}

/* How a sheet begins. */

/* The look that the queue's fish are due for: one that is being judged says it, else the one after
 * the lowest that was finished. So a second look that was broken off goes on where it was, and one
 * that was finished can be followed by a third. */
static int look_due(const struct sheet *sheet)
{
    int due = 0;
    for (size_t i = 0; i < sheet->fish_count; i++) {
        const struct fish *fish = &sheet->fish[i];
        int next = fish->look + (sheet_is_done(sheet, fish) ? 1 : 0);
        if (due == 0 || next < due)
            due = next;
    }
    return due < 2 ? 2 : due;
}

static void copy_fish(struct sheet *sheet, const struct sheet_setup *setup)
{
    sheet->fish_count = sheet->fish_capacity = setup->fish_count;
    if (setup->fish_count > 0) {
        sheet->fish = alloc_zeroed(setup->fish_count, sizeof *sheet->fish);
        memcpy(sheet->fish, setup->fish, setup->fish_count * sizeof *sheet->fish);
    }
    sheet->look = sheet->second_look ? look_due(sheet) : 0;
    for (size_t i = 0; i < sheet->fish_count; i++)
        sheet_begin_look(sheet, &sheet->fish[i]);
}

/* Strokes of fish that are not in the queue are not this sheet's to undo. */
static void copy_undoable(struct sheet *sheet, const struct sheet_setup *setup)
{
    size_t near = 0;
    for (size_t i = 0; i < setup->undoable_count; i++) {
        size_t index = sheet_find(sheet, setup->undoable[i].fish, near);
        if (index == sheet->fish_count)
            continue;
        near = index;
        sheet_remember(sheet, setup->undoable[i]);
    }
}

/* On the fish and aspect of the place; where they are gone, on the first open one, else on the last
 * fish. */
static void find_place(struct sheet *sheet, const struct sheet_place *place)
{
    size_t at = 0;
    while (at < sheet->fish_count &&
           (sheet->fish[at].number != place->number || sheet->fish[at].bowl_id != place->bowl_id))
        at++;
    bool found = at < sheet->fish_count;
    if (!found)
        at = sheet_first_open(sheet, 0, sheet->fish_count);
    sheet->current = at < sheet->fish_count ? at : sheet->fish_count - 1;
    int aspect = found ? standard_aspect(&sheet->standard, place->aspect) : -1;
    sheet->aspect = aspect >= 0 ? aspect : sheet_open_aspect(sheet, sheet_current(sheet), 0);
}

bool sheet_init(struct sheet *sheet, const struct sheet_setup *setup, struct err *err)
{
    *sheet = (struct sheet){
        .standard = *setup->standard,
        .judge = setup->judge,
        .bowl_id = setup->bowl_id,
        .bowl = setup->bowl,
        .expected = setup->expected,
        .second_look = setup->second_look,
        .unnumbered = setup->unnumbered,
        .port = setup->port,
        .clock = setup->clock,
        .bounce_ms = setup->bounce_ms,
        .last = SIZE_MAX,
        .round.places = -1,
    };
    if (setup->second_look && setup->fish_count == 0)
        return err_set(err, ERR_ABSENT, "No fish of this round is held for a second look.");
    copy_fish(sheet, setup);
    copy_undoable(sheet, setup);
    sheet_settle(sheet);
    find_place(sheet, &setup->place);
    sheet->resting = sheet->full;
    struct sheet_place place = sheet_place(sheet);
    if (sheet_read_round(sheet, err) && sheet->port.move(sheet->port.context, &place, err))
        return true;
    sheet_done(sheet);
    return false;
}

void sheet_done(struct sheet *sheet)
{
    free(sheet->fish);
    free(sheet->undoable);
    *sheet = (struct sheet){.last = SIZE_MAX};
}

/* Moving about. */

static bool go_to_aspect(struct sheet *sheet, int aspect)
{
    if (aspect < 0 || aspect >= sheet->standard.aspect_count)
        return sheet_say(sheet, "The standard has %d aspects.", sheet->standard.aspect_count);
    return sheet_move(sheet, (struct cursor){sheet->current, aspect});
}

static bool go_to_next_open_aspect(struct sheet *sheet)
{
    int aspect = sheet_open_aspect(sheet, sheet_current(sheet), sheet->aspect + 1);
    if (aspect == sheet->standard.aspect_count)
        return sheet_say(sheet, "Every aspect of this fish has its score.");
    return go_to_aspect(sheet, aspect);
}

static bool go_to_earlier_fish(struct sheet *sheet)
{
    if (sheet->current == 0)
        return sheet_say(sheet, "This is the first fish.");
    return sheet_move_to_fish(sheet, sheet->current - 1);
}

static bool go_to_later_fish(struct sheet *sheet)
{
    if (sheet->current + 1 == sheet->fish_count)
        return sheet_say(sheet, sheet->full || sheet->second_look
                                    ? "This is the last fish."
                                    : "The next fish comes up when this one is judged.");
    return sheet_move_to_fish(sheet, sheet->current + 1);
}

static bool go_to_first_open_fish(struct sheet *sheet)
{
    size_t open = sheet_first_open(sheet, 0, sheet->fish_count);
    if (open == sheet->fish_count)
        return sheet_say_full(sheet);
    return sheet_move_to_fish(sheet, open);
}

/* Judging. */

static const struct aspect *selected_aspect(struct sheet *sheet)
{
    if (sheet->aspect < sheet->standard.aspect_count)
        return &sheet->standard.aspects[sheet->aspect];
    sheet_say(sheet, "Nothing is open on this fish; move to the aspect you want to change.");
    return NULL;
}

/* A score that is under its floor decides only when the others are known: without them nobody can
 * say how good the fish is, and a pass with another floor could not judge it either. */
static void tell_floor(struct sheet *sheet, const struct aspect *aspect, int score)
{
    bool under = aspect->floor != NO_FLOOR && score < aspect->floor;
    bool open = sheet_open_aspect(sheet, sheet_current(sheet), 0) < sheet->standard.aspect_count;
    if (under && open && sheet->message[0] == '\0' && sheet_current(sheet)->look > 0)
        sheet_say(sheet, "%s under %d: %s once all is scored; Enter gives the rest.", aspect->label,
                  aspect->floor, verdict_terms[aspect->below_floor].word);
}

static bool score(struct sheet *sheet, int digit)
{
    const struct standard *standard = &sheet->standard;
    const struct aspect *aspect = selected_aspect(sheet);
    if (aspect == NULL)
        return false;
    int score = sheet_score_of_digit(standard, digit);
    if (score == SCORE_NONE)
        return sheet_say(sheet, "%d is not a score here; scores go from %d to %d.", digit,
                         standard->lowest, standard->highest);
    size_t fish = sheet->current;
    if (!sheet_record(sheet, ENTRY_SCORE, aspect->code, score, ""))
        return false;
    if (sheet->current == fish)
        tell_floor(sheet, aspect, score);
    return true;
}

static bool clear_score(struct sheet *sheet)
{
    const struct aspect *aspect = selected_aspect(sheet);
    if (aspect == NULL)
        return false;
    if (sheet_current(sheet)->judgement.scores[sheet->aspect] == SCORE_NONE)
        return sheet_say(sheet, "%s has no score to clear.", aspect->label);
    return sheet_record(sheet, ENTRY_SCORE, aspect->code, SCORE_NONE, "");
}

static bool finish(struct sheet *sheet, bool typical)
{
    return sheet_is_done(sheet, sheet_current(sheet)) ? go_to_first_open_fish(sheet)
                                                      : sheet_record_rest(sheet, typical);
}

static bool fault(struct sheet *sheet, int fault)
{
    if (fault < 0 || fault >= sheet->standard.fault_count)
        return sheet_say(sheet, "The standard has %d faults.", sheet->standard.fault_count);
    const struct fish *fish = sheet_current(sheet);
    uint32_t faults = fish->judgement.faults | sheet_carried_faults(sheet, fish);
    bool seen = (faults >> fault & 1) != 0;
    return sheet_record(sheet, ENTRY_FAULT, sheet->standard.faults[fault].code, seen ? 0 : 1, "");
}

/* Modes. */

static bool enter_mode(struct sheet *sheet, int mode)
{
    if (mode < 0 || mode >= SHEET_MODE_COUNT || mode == SHEET_REASON || mode == SHEET_REASON_TEXT ||
        mode == SHEET_ASK_TAG)
        return false;
    if (mode == SHEET_NEXT_BOWL && sheet->second_look)
        return sheet_say(sheet, "A second look has no next bowl; leave it to go to the bowls.");
    return sheet_set_mode(sheet, (enum sheet_mode)mode,
                          mode == SHEET_NOTE_TEXT ? sheet_current(sheet)->note : "");
}

/* Lines that are typed. Each accepts what is typed without the blanks around it. */

static bool accept_length(struct sheet *sheet, const char *line, struct sheet_effects *effects)
{
    (void)effects;
    int64_t length = 0;
    if (line[0] != '\0' && !number_whole(line, 0, LENGTH_LONGEST, &length))
        return sheet_say(sheet, "Enter a length in whole mm from 1 to %d.", LENGTH_LONGEST);
    if (length != sheet_current(sheet)->length_mm) {
        if (!sheet_record(sheet, ENTRY_LENGTH, "", (int)length, ""))
            return false;
        /* Both ways in which the trade sorts by size. */
        int band = size_class_decimetre((int)length), bu = size_class_bu((int)length);
        if (length == 0)
            sheet_say(sheet, "The length is removed; - brings it back.");
        else if (band > 0)
            sheet_say(sheet, "%d mm: %d bu, size %d by bands of 10 cm.", (int)length, bu, band);
        else
            sheet_say(sheet, "%d mm: %d bu, too small to be shown by bands of 10 cm.", (int)length,
                      bu);
    }
    return sheet_back_to_judging(sheet);
}

static bool accept_tag(struct sheet *sheet, const char *line, struct sheet_effects *effects)
{
    (void)effects;
    return sheet_take_tag(sheet, line);
}

static bool accept_note(struct sheet *sheet, const char *line, struct sheet_effects *effects)
{
    (void)effects;
    return (strcmp(line, sheet_current(sheet)->note) == 0 ||
            sheet_record(sheet, ENTRY_NOTE, "", 0, line)) &&
           sheet_back_to_judging(sheet);
}

static bool accept_reason(struct sheet *sheet, const char *line, struct sheet_effects *effects)
{
    (void)effects;
    if (line[0] == '\0')
        return sheet_say(sheet, "Enter the reason for a verdict by hand.");
    return sheet_record(sheet, ENTRY_VERDICT, "", (int)sheet->chosen, line) &&
           sheet_back_to_judging(sheet);
}

static bool accept_next_bowl(struct sheet *sheet, const char *line, struct sheet_effects *effects)
{
    int64_t expected = sheet->expected;
    if (line[0] != '\0' && !number_whole(line, 0, BOWL_MOST, &expected))
        return sheet_say(sheet, "Enter a whole number of fish up to %d.", BOWL_MOST);
    effects->next_bowl = true;
    effects->expected = (int)expected;
    return sheet_back_to_judging(sheet);
}

/* The modes in which a line is typed: how many characters it takes, and what accepts it. */
static const struct line {
    int characters;
    bool digits_only;
    bool (*accept)(struct sheet *sheet, const char *line, struct sheet_effects *effects);
} lines[SHEET_MODE_COUNT] = {
    [SHEET_LENGTH] = {4, true, accept_length},
    [SHEET_TAG] = {CODE_CHARACTERS, false, accept_tag},
    [SHEET_NOTE_TEXT] = {NOTE_CHARACTERS, false, accept_note},
    [SHEET_REASON_TEXT] = {NOTE_CHARACTERS, false, accept_reason},
    [SHEET_NEXT_BOWL] = {4, true, accept_next_bowl},
    [SHEET_FIND] = {CODE_CHARACTERS, false, sheet_accept_find},
};

bool sheet_types_line(const struct sheet *sheet)
{
    return lines[sheet->mode].accept != NULL;
}

static bool type(struct sheet *sheet, int code)
{
    const struct line *line = &lines[sheet->mode];
    bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    bool surrogate = code >= 0xD800 && code < 0xE000; /* half of a pair: no character */
    if (line->accept == NULL || control || surrogate || code > 0x10FFFF)
        return false;
    if (line->digits_only && (code < '0' || code > '9'))
        return sheet_say(sheet, "Only digits can be typed here.");
    if (utf8_count(sheet->line) >= (size_t)line->characters)
        return sheet_say(sheet, "At most %d characters fit here.", line->characters);
    utf8_encode((uint32_t)code, sheet->line + strlen(sheet->line));
    return true;
}

/* Marks that stand on the character before them go with it. */
static bool erase(struct sheet *sheet)
{
    size_t end = strlen(sheet->line);
    bool is_mark = true;
    while (end > 0 && is_mark) {
        do
            end--;
        while (end > 0 && ((unsigned char)sheet->line[end] & 0xC0) == 0x80);
        const char *character = sheet->line + end;
        is_mark = utf8_code_width(utf8_next(&character)) == 0;
    }
    sheet->line[end] = '\0';
    return true;
}

static bool accept(struct sheet *sheet, struct sheet_effects *effects)
{
    char line[NOTE_SIZE];
    if (!sheet_types_line(sheet))
        return false;
    text_copy(line, sizeof line, sheet->line + strspn(sheet->line, " "));
    for (size_t end = strlen(line); end > 0 && line[end - 1] == ' '; end--)
        line[end - 1] = '\0';
    return lines[sheet->mode].accept(sheet, line, effects);
}

/* Choices by digit. */

static bool nothing_on_digit(struct sheet *sheet, int digit)
{
    return sheet_say(sheet, "Nothing has the number %d here.", digit);
}

/* A ready note joins what is noted already. */
static bool join_note(struct sheet *sheet, const char *words)
{
    const char *note = sheet_current(sheet)->note;
    if (strstr(note, words) != NULL)
        return sheet_say(sheet, "This is already noted: %s.", words);
    struct text joined;
    text_init(&joined);
    text_join(&joined, "; ", note);
    text_join(&joined, "; ", words);
    bool fits = utf8_count(joined.data) <= NOTE_CHARACTERS;
    bool recorded = fits ? sheet_record(sheet, ENTRY_NOTE, "", 0, joined.data)
                         : sheet_say(sheet, "The note is full; nothing was added.");
    text_done(&joined);
    return recorded && sheet_back_to_judging(sheet);
}

static bool choose_verdict(struct sheet *sheet, int digit)
{
    static const enum verdict verdicts[] = {VERDICT_OPEN, VERDICT_KEEP, VERDICT_HOLD,
                                            VERDICT_REJECT};
    if (digit < 0 || (size_t)digit >= sizeof verdicts / sizeof *verdicts)
        return nothing_on_digit(sheet, digit);
    sheet->chosen = verdicts[digit];
    if (digit != 0)
        return sheet_set_mode(sheet, SHEET_REASON, "");
    if (sheet_current(sheet)->judgement.by_hand == VERDICT_OPEN)
        return sheet_say(sheet, "This fish has no verdict by hand.");
    return sheet_record(sheet, ENTRY_VERDICT, "", VERDICT_OPEN, "") && sheet_back_to_judging(sheet);
}

static bool choose(struct sheet *sheet, int digit)
{
    const char *words = sheet_ready(sheet, digit);
    if (sheet->mode == SHEET_VERDICT)
        return choose_verdict(sheet, digit);
    if (sheet->mode == SHEET_NOTE && digit == 0)
        return enter_mode(sheet, SHEET_NOTE_TEXT);
    if (sheet->mode == SHEET_REASON && digit == 0)
        return sheet_set_mode(sheet, SHEET_REASON_TEXT, "");
    if (words == NULL)
        return nothing_on_digit(sheet, digit);
    if (sheet->mode == SHEET_NOTE)
        return join_note(sheet, words);
    return sheet_record(sheet, ENTRY_VERDICT, "", (int)sheet->chosen, words) &&
           sheet_back_to_judging(sheet);
}

/* Commands. */

/* Whoever is looking for a fish reads its tag to find it. */
static bool scan(struct sheet *sheet, const char *tag, struct sheet_effects *effects)
{
    if (sheet->mark.set && sheet->mark.mode == SHEET_FIND)
        return sheet_take_back(sheet, NULL) && sheet_find_tag(sheet, tag, effects);
    return sheet_scan(sheet, tag);
}

static bool refresh(struct sheet *sheet)
{
    struct err err;
    return sheet_read_round(sheet, &err) || sheet_say(sheet, "%s", err.text);
}

static bool run(struct sheet *sheet, const struct sheet_command *command,
                struct sheet_effects *effects)
{
    int last = sheet->standard.aspect_count - 1;
    switch (command->kind) {
    case COMMAND_SCORE:
        return score(sheet, command->number);
    case COMMAND_FINISH:
    case COMMAND_TYPICAL:
        return finish(sheet, command->kind == COMMAND_TYPICAL);
    case COMMAND_FAULT:
        return fault(sheet, command->number);
    case COMMAND_ASPECT:
        return go_to_aspect(sheet, command->number);
    case COMMAND_SKIP:
        return go_to_next_open_aspect(sheet);
    case COMMAND_UP:
        return go_to_aspect(sheet, sheet->aspect == 0 ? last : sheet->aspect - 1);
    case COMMAND_DOWN:
        return go_to_aspect(sheet, sheet->aspect >= last ? 0 : sheet->aspect + 1);
    case COMMAND_CLEAR:
        return clear_score(sheet);
    case COMMAND_UNDO:
        return sheet_undo(sheet);
    case COMMAND_EARLIER:
        return go_to_earlier_fish(sheet);
    case COMMAND_LATER:
        return go_to_later_fish(sheet);
    case COMMAND_FIRST_OPEN:
        return go_to_first_open_fish(sheet);
    case COMMAND_ENTER_MODE:
        return enter_mode(sheet, command->number);
    case COMMAND_CANCEL:
        if (sheet->mode == SHEET_ASK_TAG)
            sheet_say(sheet, "The tag was not recorded.");
        return true;
    case COMMAND_YES:
        return sheet_take_doubtful_tag(sheet);
    case COMMAND_MARK:
        sheet_set_mark(sheet);
        return true;
    case COMMAND_SCAN:
        return scan(sheet, command->text, effects);
    case COMMAND_MISREAD:
        return sheet_misread(sheet, command->number);
    case COMMAND_CHOOSE:
        return choose(sheet, command->number);
    case COMMAND_TYPE:
        return type(sheet, command->number);
    case COMMAND_ERASE:
        return erase(sheet);
    case COMMAND_ACCEPT:
        return accept(sheet, effects);
    case COMMAND_TAG:
        return sheet_take_tag(sheet, command->text);
    case COMMAND_REFRESH:
        return refresh(sheet);
    case COMMAND_LEAVE:
        effects->leave = true;
        return true;
    }
    return false;
}

/* These see to the mode themselves, or have nothing to do with it. */
static bool keeps_mode(enum sheet_command_kind kind)
{
    return kind == COMMAND_ENTER_MODE || kind == COMMAND_CHOOSE || kind == COMMAND_TYPE ||
           kind == COMMAND_ERASE || kind == COMMAND_ACCEPT || kind == COMMAND_TAG ||
           kind == COMMAND_YES || kind == COMMAND_MARK || kind == COMMAND_SCAN ||
           kind == COMMAND_MISREAD || kind == COMMAND_REFRESH || kind == COMMAND_LEAVE;
}

/* Nobody has asked for the last fish of a full bowl: it only happens to be in front. */
static bool changes_unasked(const struct sheet *sheet, const struct sheet_command *command)
{
    enum sheet_command_kind kind = command->kind;
    return sheet->resting && (kind == COMMAND_SCORE || kind == COMMAND_FAULT ||
                              kind == COMMAND_CLEAR || kind == COMMAND_SKIP);
}

/* Whoever moves to a fish or an aspect asks for it. */
static bool asks_for_fish(enum sheet_command_kind kind)
{
    return kind == COMMAND_ASPECT || kind == COMMAND_UP || kind == COMMAND_DOWN ||
           kind == COMMAND_EARLIER || kind == COMMAND_LATER;
}

struct sheet_effects sheet_do(struct sheet *sheet, const struct sheet_command *command)
{
    struct sheet_effects effects = {0};
    sheet->press = command->press;
    sheet->refused = ERR_NONE;
    if (command->kind != COMMAND_REFRESH)
        sheet->message[0] = '\0';
    bool done = changes_unasked(sheet, command) ? sheet_refuse_unasked(sheet)
                                                : run(sheet, command, &effects);
    if (done && asks_for_fish(command->kind))
        sheet->resting = false;
    if (!done) {
        if (sheet->mode == SHEET_MENU) /* the next digit is a score again */
            sheet_back_to_judging(sheet);
        return (struct sheet_effects){.alert = true, .refused = sheet->refused};
    }
    if (!keeps_mode(command->kind))
        sheet_back_to_judging(sheet);
    return effects;
}
