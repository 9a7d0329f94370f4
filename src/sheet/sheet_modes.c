/* The modes that type a line or choose one of a few. */
#include "private.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/fish.h"

#include <string.h>

enum { LENGTH_LONGEST = 2000, BOWL_MOST = 5000, NOTE_CHARACTERS = 200 };

void mode_set(struct sheet *sheet, enum sheet_mode mode, const char *line)
{
    sheet->mode = mode;
    text_copy(sheet->line, sizeof sheet->line, line);
}

static bool back_to_judging(struct sheet *sheet)
{
    mode_set(sheet, SHEET_JUDGE, "");
    return true;
}

bool mode_enter(struct sheet *sheet, int mode)
{
    if (mode < 0 || mode >= SHEET_MODE_COUNT || mode == SHEET_REASON || mode == SHEET_REASON_TEXT)
        return false;
    if (mode == SHEET_NEXT_BOWL && sheet->second_look)
        return sheet_say(sheet, "A second look has no next bowl; leave it to go to the bowls.");
    mode_set(sheet, (enum sheet_mode)mode, mode == SHEET_NOTE_TEXT ? tray_front(sheet)->note : "");
    return true;
}

/* The line without the blanks around it. */
static void trim(const char *line, char ret_text[NOTE_SIZE])
{
    text_copy(ret_text, NOTE_SIZE, line + strspn(line, " "));
    for (size_t end = strlen(ret_text); end > 0 && ret_text[end - 1] == ' '; end--)
        ret_text[end - 1] = '\0';
}

static bool record(struct sheet *sheet, enum entry_kind kind, int number, const char *text)
{
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    stroke_add(&stroke, kind, "", number, text);
    return stroke_commit(sheet, &stroke) && back_to_judging(sheet);
}

/* Both ways in which the trade sorts by size. */
static void say_size(struct sheet *sheet, int length_mm)
{
    int band = size_class_decimetre(length_mm);
    if (band > 0)
        sheet_say(sheet, "%d mm: %d bu, size %d by bands of 10 cm.", length_mm,
                  size_class_bu(length_mm), band);
    else
        sheet_say(sheet, "%d mm: %d bu, too small to be shown by bands of 10 cm.", length_mm,
                  size_class_bu(length_mm));
}

static bool accept_length(struct sheet *sheet)
{
    int64_t length = 0;
    if (sheet->line[0] != '\0' && !number_whole(sheet->line, 0, LENGTH_LONGEST, &length))
        return sheet_say(sheet, "A length is a whole number of mm from 1 to %d.", LENGTH_LONGEST);
    if (length == tray_front(sheet)->length_mm)
        return back_to_judging(sheet);
    if (!record(sheet, ENTRY_LENGTH, (int)length, ""))
        return false;
    if (length == 0)
        sheet_say(sheet, "The length is taken away; - brings it back.");
    else
        say_size(sheet, (int)length);
    return true;
}

static bool accept_tag(struct sheet *sheet)
{
    char tag[NOTE_SIZE];
    trim(sheet->line, tag);
    return sheet_take_tag(sheet, tag);
}

static bool accept_note(struct sheet *sheet)
{
    char note[NOTE_SIZE];
    trim(sheet->line, note);
    if (strcmp(note, tray_front(sheet)->note) == 0)
        return back_to_judging(sheet);
    return record(sheet, ENTRY_NOTE, 0, note);
}

static bool accept_reason(struct sheet *sheet)
{
    char reason[NOTE_SIZE];
    trim(sheet->line, reason);
    if (reason[0] == '\0')
        return sheet_say(sheet, "A verdict by hand needs its reason.");
    return judge_by_hand(sheet, sheet->chosen, reason) && back_to_judging(sheet);
}

static bool accept_next_bowl(struct sheet *sheet, struct sheet_effects *effects)
{
    int64_t expected = sheet->expected;
    if (sheet->line[0] != '\0' && !number_whole(sheet->line, 0, BOWL_MOST, &expected))
        return sheet_say(sheet, "A bowl holds a whole number of fish up to %d.", BOWL_MOST);
    effects->next_bowl = true;
    effects->expected = (int)expected;
    return back_to_judging(sheet);
}

/* How many characters the line of a mode takes; 0 where nothing is typed. */
static const struct {
    int characters;
    bool digits_only;
} lines[SHEET_MODE_COUNT] = {
    [SHEET_LENGTH] = {4, true},
    [SHEET_TAG] = {CODE_CHARACTERS, false},
    [SHEET_NOTE_TEXT] = {NOTE_CHARACTERS, false},
    [SHEET_REASON_TEXT] = {NOTE_CHARACTERS, false},
    [SHEET_NEXT_BOWL] = {4, true},
};

static bool is_text(int code)
{
    bool control = code < 0x20 || (code >= 0x7F && code < 0xA0);
    bool half_pair = code >= 0xD800 && code < 0xE000;
    return !control && !half_pair && code <= 0x10FFFF;
}

bool mode_type(struct sheet *sheet, int code)
{
    int room = lines[sheet->mode].characters;
    if (room == 0 || !is_text(code))
        return false;
    if (lines[sheet->mode].digits_only && (code < '0' || code > '9'))
        return sheet_say(sheet, "Only digits can be typed here.");
    if (utf8_count(sheet->line) >= (size_t)room)
        return sheet_say(sheet, "No more than %d characters fit here.", room);
    utf8_encode((uint32_t)code, sheet->line + strlen(sheet->line));
    return true;
}

/* Marks that stand on the character before them go with it. */
bool mode_erase(struct sheet *sheet)
{
    size_t end = strlen(sheet->line);
    bool is_mark = true;
    while (end > 0 && is_mark) {
        do
            end--;
        while (end > 0 && ((unsigned char)sheet->line[end] & 0xC0) == 0x80);
        const char *cursor = sheet->line + end;
        is_mark = utf8_code_width(utf8_next(&cursor)) == 0;
    }
    sheet->line[end] = '\0';
    return true;
}

bool mode_accept(struct sheet *sheet, struct sheet_effects *effects)
{
    switch (sheet->mode) {
    case SHEET_LENGTH:
        return accept_length(sheet);
    case SHEET_TAG:
        return accept_tag(sheet);
    case SHEET_NOTE_TEXT:
        return accept_note(sheet);
    case SHEET_REASON_TEXT:
        return accept_reason(sheet);
    case SHEET_NEXT_BOWL:
        return accept_next_bowl(sheet, effects);
    case SHEET_JUDGE:
    case SHEET_PICK_FAULT:
    case SHEET_PICK_ASPECT:
    case SHEET_MENU:
    case SHEET_NOTE:
    case SHEET_VERDICT:
    case SHEET_REASON:
    case SHEET_MODE_COUNT:
        break;
    }
    return false;
}

static bool nothing_on_digit(struct sheet *sheet, int digit)
{
    return sheet_say(sheet, "There is nothing on %d here.", digit);
}

/* A ready note joins what is noted already. */
static bool join_note(struct sheet *sheet, const char *ready)
{
    const char *note = tray_front(sheet)->note;
    if (strstr(note, ready) != NULL)
        return sheet_say(sheet, "This is noted already: %s.", ready);
    struct text joined;
    text_init(&joined);
    text_addf(&joined, note[0] == '\0' ? "%s%s" : "%s; %s", note, ready);
    bool fits = utf8_count(joined.data) <= NOTE_CHARACTERS;
    bool recorded = fits ? record(sheet, ENTRY_NOTE, 0, joined.data)
                         : sheet_say(sheet, "The note is too long to take more.");
    text_done(&joined);
    return recorded;
}

static bool choose_note(struct sheet *sheet, int digit)
{
    const char *ready = sheet_ready_note(digit);
    if (digit == 0)
        return mode_enter(sheet, SHEET_NOTE_TEXT);
    return ready != NULL ? join_note(sheet, ready) : nothing_on_digit(sheet, digit);
}

static bool choose_verdict(struct sheet *sheet, int digit)
{
    static const enum verdict verdicts[] = {VERDICT_OPEN, VERDICT_KEEP, VERDICT_HOLD,
                                            VERDICT_REJECT};
    if (digit < 0 || (size_t)digit >= sizeof verdicts / sizeof *verdicts)
        return nothing_on_digit(sheet, digit);
    if (digit == 0 && tray_front(sheet)->judgement.by_hand == VERDICT_OPEN)
        return sheet_say(sheet, "This fish has no verdict by hand.");
    if (digit == 0)
        return judge_by_hand(sheet, VERDICT_OPEN, "") && back_to_judging(sheet);
    sheet->chosen = verdicts[digit];
    mode_set(sheet, SHEET_REASON, "");
    return true;
}

static bool choose_reason(struct sheet *sheet, int digit)
{
    const char *ready = sheet_ready_reason(sheet->chosen, digit);
    if (digit == 0) {
        mode_set(sheet, SHEET_REASON_TEXT, "");
        return true;
    }
    if (ready == NULL)
        return nothing_on_digit(sheet, digit);
    return judge_by_hand(sheet, sheet->chosen, ready) && back_to_judging(sheet);
}

bool mode_choose(struct sheet *sheet, int digit)
{
    if (sheet->mode == SHEET_NOTE)
        return choose_note(sheet, digit);
    if (sheet->mode == SHEET_VERDICT)
        return choose_verdict(sheet, digit);
    if (sheet->mode == SHEET_REASON)
        return choose_reason(sheet, digit);
    return nothing_on_digit(sheet, digit);
}
