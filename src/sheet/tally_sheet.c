/* The tally's commands: counting, sizes of scoops, undo.
 *
 * Fish netted out of a pond pass faster than anybody can look at a screen, so one key is one fish
 * or one scoop, and each is written at once. The numbers on the screen are summed from the lines of
 * what was tallied and never counted up beside them: after an undo, or keys of another sorter, they
 * cannot drift from what the ledger has. Reading the whole round after each key would be too slow
 * on a small machine; so an own key is added to the lines in memory once the port has written it,
 * and the keys of others come with the next refresh. */
#include "senbetsu/sheet/tally_sheet.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static bool say(struct tally_sheet *sheet, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Returns false, so that a command that fails can end with `return say(…)`. */
static bool say(struct tally_sheet *sheet, const char *format, ...)
{
    char sentence[2 * ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    text_copy(sheet->message, sizeof sheet->message, sentence);
    return false;
}

static bool port_failed(struct tally_sheet *sheet, const struct err *err)
{
    sheet->refused = err->code;
    return say(sheet, "%s%s", err->code == ERR_UNCERTAIN ? "" : "Nothing was recorded. ",
               err->text);
}

void tally_now_done(struct tally_now *now)
{
    free(now->lines);
    *now = (struct tally_now){.lot.number = NOT_COUNTED};
}

const struct count *tally_sheet_lot(const struct tally_sheet *sheet)
{
    return sheet->now.lot.number != NOT_COUNTED ? &sheet->now.lot : &sheet->by_book;
}

static void sum_up(struct tally_sheet *sheet)
{
    const struct tally_now *now = &sheet->now;
    sheet->tallied = tally_totals_of(now->lines, now->line_count);
    sheet->totals = sheet->tallied;
    if (now->line_count > 0)
        tally_settle(&sheet->totals, sheet->manner, &now->lot);
    sheet->left = tally_left(&sheet->tallied, sheet->manner, tally_sheet_lot(sheet));
}

static bool read_round(struct tally_sheet *sheet, struct err *err)
{
    struct tally_now now;
    if (!sheet->port.read(sheet->port.context, &now, err))
        return false;
    tally_now_done(&sheet->now);
    sheet->now = now;
    sheet->now.line_capacity = now.line_count;
    sum_up(sheet);
    return true;
}

bool tally_sheet_init(struct tally_sheet *sheet, const struct tally_setup *setup, struct err *err)
{
    *sheet = (struct tally_sheet){.manner = setup->manner,
                                  .scoops = setup->scoops,
                                  .by_book = setup->by_book,
                                  .port = setup->port,
                                  .clock = setup->clock,
                                  .now.lot.number = NOT_COUNTED};
    if (setup->standard != NULL)
        sheet->standard = *setup->standard;
    text_copy(sheet->message, sizeof sheet->message, setup->notice);
    if (!read_round(sheet, err))
        return false;
    /* A scoop whose size is not known cannot be counted. */
    sheet->scoops = sheet->scoops && sheet->now.scoop.id != 0;
    if (sheet->port.move(sheet->port.context, sheet->scoops, err))
        return true;
    tally_sheet_done(sheet);
    return false;
}

void tally_sheet_done(struct tally_sheet *sheet)
{
    tally_now_done(&sheet->now);
}

/* Adds what was just written to the numbers; the keys of others come with the next refresh. */
static void add_mark(struct tally_sheet *sheet, const struct tally_mark *mark)
{
    struct tally_now *now = &sheet->now;
    int index = tally_line_find(now->lines, now->line_count, mark);
    if (index < 0) {
        now->lines =
            alloc_room(now->lines, now->line_count, &now->line_capacity, sizeof *now->lines);
        index = (int)now->line_count++;
        now->lines[index] = (struct tally_line){*mark, 0};
    }
    now->lines[index].times++;
    now->last = *mark;
    now->any_last = true;
    tally_pace_add(&now->pace, clock_now(&sheet->clock), tally_mark_fish(mark));
    sum_up(sheet);
}

static bool record(struct tally_sheet *sheet, enum tally_kind kind, const char *reason)
{
    struct tally_mark mark = {.kind = kind};
    struct err err;
    text_copy(mark.reason, sizeof mark.reason, reason);
    if (sheet->scoops && kind != TALLY_DEAD) /* nobody scoops dead fish */
        mark.scoop = sheet->now.scoop;
    if (!sheet->port.record(sheet->port.context, &mark, sheet->scoops, &err))
        return port_failed(sheet, &err);
    add_mark(sheet, &mark);
    return true;
}

static bool reject(struct tally_sheet *sheet, int fault)
{
    if (fault >= sheet->standard.fault_count)
        return say(sheet, "There is no reason with this number.");
    return record(sheet, TALLY_REJECT, fault < 0 ? "" : sheet->standard.faults[fault].code);
}

static bool refresh(struct tally_sheet *sheet)
{
    struct err err;
    return read_round(sheet, &err) || say(sheet, "%s", err.text);
}

/* The label of its reason says more than the code, where the standard knows it. */
static void say_undone(struct tally_sheet *sheet, const struct tally_mark *mark)
{
    int fault = standard_fault(&sheet->standard, mark->reason);
    const char *reason = fault < 0 ? mark->reason : sheet->standard.faults[fault].label;
    say(sheet, "Undone: %s 1 %s%s%s.", tally_terms[mark->kind].word,
        mark->scoop.id == 0 ? "fish" : "scoop", reason[0] == '\0' ? "" : ", ", reason);
}

static bool undo(struct tally_sheet *sheet)
{
    struct tally_mark mark;
    struct err err;
    if (!sheet->port.undo(sheet->port.context, sheet->scoops, &mark, &err))
        return err.code == ERR_ABSENT ? say(sheet, "%s", err.text) : port_failed(sheet, &err);
    say_undone(sheet, &mark);
    sheet->now.any_last = false;
    if (!read_round(sheet, &err))
        say(sheet, "The last key is undone, but the numbers could not be read again. %s", err.text);
    return true;
}

static void set_mode(struct tally_sheet *sheet, enum tally_mode mode)
{
    sheet->mode = mode;
    sheet->line[0] = '\0';
}

static bool enter_mode(struct tally_sheet *sheet, int mode)
{
    if (mode < 0 || mode >= TALLY_MODE_COUNT)
        return false;
    set_mode(sheet, (enum tally_mode)mode);
    return true;
}

static bool change_unit(struct tally_sheet *sheet)
{
    struct err err;
    if (!sheet->scoops && sheet->now.scoop.id == 0) {
        set_mode(sheet, TALLY_SIZE);
        say(sheet, "Measure the scoop first: count the fish of one or more scoops.");
        return true;
    }
    if (!sheet->port.move(sheet->port.context, !sheet->scoops, &err))
        return port_failed(sheet, &err);
    sheet->scoops = !sheet->scoops;
    return true;
}

static bool is_separator(char c)
{
    return c != '\0' && strchr(" +,;", c) != NULL;
}

static bool is_digit(int code)
{
    return code >= '0' && code <= '9';
}

static bool type(struct tally_sheet *sheet, int code)
{
    size_t length = strlen(sheet->line);
    bool taken = is_digit(code) || (code > 0 && code < 128 && is_separator((char)code));
    if (sheet->mode == TALLY_SIZE && !taken)
        say(sheet, "Type the fish of each scoop, with + between scoops: 48+52.");
    if (sheet->mode != TALLY_SIZE || !taken || length + 1 >= sizeof sheet->line)
        return false;
    sheet->line[length] = (char)code;
    sheet->line[length + 1] = '\0';
    return true;
}

static bool erase(struct tally_sheet *sheet)
{
    size_t length = strlen(sheet->line);
    if (length == 0)
        return false;
    sheet->line[length - 1] = '\0';
    return true;
}

int tally_samples(const char *line, int64_t ret_samples[SCOOP_SAMPLES])
{
    int count = 0;
    while (*line != '\0') {
        int64_t number = 0;
        if (is_separator(*line)) {
            line++;
            continue;
        }
        if (count == SCOOP_SAMPLES || !is_digit(*line))
            return 0;
        for (; is_digit(*line); line++)
            number = number > SCOOP_MOST ? number : 10 * number + *line - '0';
        ret_samples[count++] = number;
    }
    return count;
}

static bool accept(struct tally_sheet *sheet)
{
    struct scoop scoop;
    struct err err;
    int64_t samples[SCOOP_SAMPLES];
    if (sheet->mode != TALLY_SIZE)
        return false;
    if (!scoop_measure(samples, tally_samples(sheet->line, samples), &scoop))
        return say(sheet,
                   "Enter the fish of each scoop, 1 to %d scoops with a blank or + between them: "
                   "48+52+50.",
                   SCOOP_SAMPLES);
    if (!sheet->port.measure(sheet->port.context, &scoop, true, &err))
        return port_failed(sheet, &err);
    sheet->now.scoop = scoop;
    sheet->scoops = true;
    set_mode(sheet, TALLY_COUNTING);
    if (scoop.samples == 1)
        say(sheet, "A single scoop gives no error; count more when there is time.");
    return true;
}

static bool run(struct tally_sheet *sheet, const struct tally_command *command,
                struct tally_effects *effects)
{
    switch (command->kind) {
    case TALLY_DO_KEEP:
        return record(sheet, TALLY_KEEP, "");
    case TALLY_DO_REJECT:
        return reject(sheet, command->number);
    case TALLY_DO_DEAD:
        return record(sheet, TALLY_DEAD, "");
    case TALLY_DO_UNIT:
        return change_unit(sheet);
    case TALLY_DO_UNDO:
        return undo(sheet);
    case TALLY_DO_ENTER_MODE:
        return enter_mode(sheet, command->number);
    case TALLY_DO_CANCEL:
        return true;
    case TALLY_DO_TYPE:
        return type(sheet, command->number);
    case TALLY_DO_ERASE:
        return erase(sheet);
    case TALLY_DO_ACCEPT:
        return accept(sheet);
    case TALLY_DO_REFRESH:
        return refresh(sheet);
    case TALLY_DO_LEAVE:
        effects->leave = true;
        return true;
    }
    return false;
}

/* These end the mode they were done in. */
static bool ends_mode(enum tally_command_kind kind)
{
    return kind == TALLY_DO_KEEP || kind == TALLY_DO_REJECT || kind == TALLY_DO_DEAD ||
           kind == TALLY_DO_UNDO || kind == TALLY_DO_CANCEL;
}

struct tally_effects tally_sheet_do(struct tally_sheet *sheet, const struct tally_command *command)
{
    struct tally_effects effects = {.alert = false};
    sheet->refused = ERR_NONE;
    if (command->kind != TALLY_DO_REFRESH)
        sheet->message[0] = '\0';
    if (!run(sheet, command, &effects))
        return (struct tally_effects){.alert = true, .refused = sheet->refused};
    if (ends_mode(command->kind))
        set_mode(sheet, TALLY_COUNTING);
    return effects;
}
