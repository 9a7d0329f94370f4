#include "senbetsu/sheet/sheet.h"
#include "private.h"
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

struct decision sheet_decision(const struct sheet *sheet, size_t index)
{
    return judgement_decide(&sheet->standard, &sheet->fish[index].judgement);
}

int sheet_score_of_digit(const struct standard *standard, int digit)
{
    int score = digit == 0 && standard->highest == 10 ? 10 : digit;
    return score >= standard->lowest && score <= standard->highest ? score : SCORE_NONE;
}

/* The look that the tray's fish are due for: one that is being judged says it, else the one after
 * the lowest that was finished. So a second look that was broken off goes on where it was, and one
 * that was finished can be followed by a third. */
static int look_due(const struct sheet *sheet)
{
    int due = 0;
    for (size_t i = 0; i < sheet->fish_count; i++) {
        const struct fish *fish = &sheet->fish[i];
        int next = fish->look + (tray_is_done(sheet, fish) ? 1 : 0);
        if (due == 0 || next < due)
            due = next;
    }
    return due < 2 ? 2 : due;
}

static void take_fish(struct sheet *sheet, const struct sheet_setup *setup)
{
    sheet->fish_count = sheet->fish_capacity = setup->fish_count;
    if (setup->fish_count > 0) {
        sheet->fish = alloc_zeroed(setup->fish_count, sizeof *sheet->fish);
        memcpy(sheet->fish, setup->fish, setup->fish_count * sizeof *sheet->fish);
    }
    sheet->look = sheet->second_look ? look_due(sheet) : 0;
    for (size_t i = 0; i < sheet->fish_count; i++)
        tray_begin_look(sheet, &sheet->fish[i]);
}

/* Strokes of fish that are not in the tray are not this sheet's to take back. */
static void take_undoables(struct sheet *sheet, const struct sheet_setup *setup)
{
    size_t near = 0;
    for (size_t i = 0; i < setup->undoable_count; i++) {
        size_t index = tray_find(sheet, setup->undoable[i].fish, near);
        if (index == sheet->fish_count)
            continue;
        near = index;
        sheet->undoable = alloc_room(sheet->undoable, sheet->undoable_count,
                                     &sheet->undoable_capacity, sizeof *sheet->undoable);
        sheet->undoable[sheet->undoable_count++] = setup->undoable[i];
    }
}

/* The fish of the place, or the first that is not done, or the last one. */
static size_t fish_of_place(const struct sheet *sheet, const struct sheet_place *place)
{
    for (size_t i = 0; i < sheet->fish_count; i++)
        if (sheet->fish[i].number == place->number && sheet->fish[i].bowl_id == place->bowl_id)
            return i;
    size_t unfinished = tray_unfinished(sheet, 0, sheet->fish_count);
    return unfinished < sheet->fish_count ? unfinished : sheet->fish_count - 1;
}

static void put_hand(struct sheet *sheet, const struct sheet_place *place)
{
    sheet->current = fish_of_place(sheet, place);
    const struct fish *front = tray_front(sheet);
    int aspect = standard_aspect(&sheet->standard, place->aspect);
    bool there = aspect >= 0 && front->number == place->number && front->bowl_id == place->bowl_id;
    sheet->aspect = there ? aspect : tray_open_aspect(sheet, front, 0);
}

bool sheet_init(struct sheet *sheet, const struct sheet_setup *setup, struct err *err)
{
    *sheet = (struct sheet){
        .heading = setup->heading,
        .standard = *setup->standard,
        .judge = setup->judge,
        .bowl_id = setup->bowl_id,
        .bowl = setup->bowl,
        .expected = setup->expected,
        .second_look = setup->second_look,
        .port = setup->port,
        .clock = setup->clock,
        .last = SIZE_MAX,
        .round.places = -1,
    };
    if (setup->second_look && setup->fish_count == 0)
        return err_set(err, ERR_ABSENT, "No fish of this round is held for a second look.");
    take_fish(sheet, setup);
    take_undoables(sheet, setup);
    tray_settle(sheet);
    put_hand(sheet, &setup->place);
    struct sheet_place place = tray_place(sheet, (struct hand){sheet->current, sheet->aspect});
    if (tray_read_round(sheet, err) && sheet->port.move(sheet->port.context, &place, err))
        return true;
    sheet_done(sheet);
    return false;
}

void sheet_done(struct sheet *sheet)
{
    sheet_round_done(&sheet->round);
    free(sheet->fish);
    free(sheet->undoable);
    *sheet = (struct sheet){.last = SIZE_MAX};
}

static bool go_to_aspect(struct sheet *sheet, int aspect)
{
    if (aspect < 0 || aspect >= sheet->standard.aspect_count)
        return sheet_say(sheet, "The standard has %d aspects.", sheet->standard.aspect_count);
    return tray_move(sheet, (struct hand){sheet->current, aspect});
}

static bool go_up(struct sheet *sheet)
{
    int count = sheet->standard.aspect_count;
    return go_to_aspect(sheet, sheet->aspect == 0 ? count - 1 : sheet->aspect - 1);
}

static bool go_down(struct sheet *sheet)
{
    int last = sheet->standard.aspect_count - 1;
    return go_to_aspect(sheet, sheet->aspect >= last ? 0 : sheet->aspect + 1);
}

static bool go_to_next_open(struct sheet *sheet)
{
    int aspect = tray_open_aspect(sheet, tray_front(sheet), sheet->aspect + 1);
    if (aspect == sheet->standard.aspect_count)
        return sheet_say(sheet, "Every aspect of this fish has its score.");
    return go_to_aspect(sheet, aspect);
}

static bool go_to_earlier(struct sheet *sheet)
{
    if (sheet->current == 0)
        return sheet_say(sheet, "This is the first fish.");
    return tray_move_to_fish(sheet, sheet->current - 1);
}

static bool go_to_later(struct sheet *sheet)
{
    if (sheet->current + 1 == sheet->fish_count)
        return sheet_say(sheet, sheet->full || sheet->second_look
                                    ? "This is the last fish."
                                    : "The next fish comes up when this one is judged.");
    return tray_move_to_fish(sheet, sheet->current + 1);
}

static bool go_to_front(struct sheet *sheet)
{
    size_t unfinished = tray_unfinished(sheet, 0, sheet->fish_count);
    if (unfinished == sheet->fish_count)
        return sheet_say(sheet, "Every fish here is judged.");
    return tray_move_to_fish(sheet, unfinished);
}

static bool typical_or_front(struct sheet *sheet)
{
    return tray_is_done(sheet, tray_front(sheet)) ? go_to_front(sheet) : judge_typical(sheet);
}

static bool refresh(struct sheet *sheet)
{
    struct err err;
    return tray_read_round(sheet, &err) || sheet_say(sheet, "%s", err.text);
}

static bool run(struct sheet *sheet, const struct sheet_command *command,
                struct sheet_effects *effects)
{
    switch (command->kind) {
    case COMMAND_SCORE:
        return judge_score(sheet, command->number);
    case COMMAND_TYPICAL:
        return typical_or_front(sheet);
    case COMMAND_FAULT:
        return judge_fault(sheet, command->number);
    case COMMAND_ASPECT:
        return go_to_aspect(sheet, command->number);
    case COMMAND_SKIP:
        return go_to_next_open(sheet);
    case COMMAND_UP:
        return go_up(sheet);
    case COMMAND_DOWN:
        return go_down(sheet);
    case COMMAND_CLEAR:
        return judge_clear(sheet);
    case COMMAND_UNDO:
        return sheet_undo(sheet);
    case COMMAND_EARLIER:
        return go_to_earlier(sheet);
    case COMMAND_LATER:
        return go_to_later(sheet);
    case COMMAND_FRONT:
        return go_to_front(sheet);
    case COMMAND_ENTER_MODE:
        return mode_enter(sheet, command->number);
    case COMMAND_CANCEL:
        return true;
    case COMMAND_CHOOSE:
        return mode_choose(sheet, command->number);
    case COMMAND_TYPE:
        return mode_type(sheet, command->number);
    case COMMAND_ERASE:
        return mode_erase(sheet);
    case COMMAND_ACCEPT:
        return mode_accept(sheet, effects);
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
           kind == COMMAND_REFRESH || kind == COMMAND_LEAVE;
}

/* What the menu offered and could not do is told; the next digit is a score again. */
static void leave_menu(struct sheet *sheet)
{
    if (sheet->mode == SHEET_MENU)
        mode_set(sheet, SHEET_JUDGE, "");
}

struct sheet_effects sheet_do(struct sheet *sheet, const struct sheet_command *command)
{
    struct sheet_effects effects = {0};
    if (command->kind != COMMAND_REFRESH)
        sheet->message[0] = '\0';
    if (!run(sheet, command, &effects)) {
        leave_menu(sheet);
        return (struct sheet_effects){.alert = true};
    }
    if (!keeps_mode(command->kind))
        mode_set(sheet, SHEET_JUDGE, "");
    return effects;
}
