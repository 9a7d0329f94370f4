/* What happens to a lot, in forms: fish dead, lost, found, counted; another pond; a split. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/screens/lot_items.h"
#include "senbetsu/screens/screens.h"

#include <stdio.h>
#include <stdlib.h>

/* Which line of a form is what; ABSENT = it has none such. */
enum { ABSENT = -1 };
struct lines {
    const struct field_spec *specs;
    int count, kind, fish, method, error, into, pond, day, note;
};

enum { WHOLE_PERCENT = 100 };

static bool percent_right(const char *value, struct err *err)
{
    int millionths;
    return number_millionths(value, 0, WHOLE_PERCENT * CV_ONE, &millionths) ||
           err_set(err, ERR_INPUT, "A number from 0 to 100 is expected, such as 2.5, not \"%s\".",
                   value);
}

#define FISH_FIELD                                                                                 \
    {                                                                                              \
        .label = "Fish", .check = CHECK_NUMBER, .required = true, .lowest = 0,                     \
        .highest = FISH_MOST                                                                       \
    }
#define METHOD_FIELD                                                                               \
    {                                                                                              \
        .label = "They were", .choices = method_terms, .choice_count = METHOD_COUNT                \
    }
#define ERROR_FIELD                                                                                \
    {                                                                                              \
        .label = "Known to ± %", .hint = "of an estimate: its standard error; empty = not known",  \
        .check = CHECK_FIGURES, .others = ".", .right = percent_right                              \
    }
#define DAY_FIELD                                                                                  \
    {                                                                                              \
        .label = "Day", .check = CHECK_DAY, .required = true                                       \
    }
#define NOTE_FIELD                                                                                 \
    {                                                                                              \
        .label = "Note", .check = CHECK_TEXT                                                       \
    }

static const struct field_spec fish_specs[] = {
    {.label = "What",
     .choices = &lot_event_terms[EVENT_COUNT],
     .choice_count = EVENT_FOUND - EVENT_COUNT + 1},
    FISH_FIELD,
    METHOD_FIELD,
    ERROR_FIELD,
    DAY_FIELD,
    NOTE_FIELD,
};
static const struct lines fish_lines = {fish_specs, 6, 0, 1, 2, 3, ABSENT, ABSENT, 4, 5};

static const struct field_spec pond_specs[] = {
    {.label = "Pond", .check = CHECK_CODE, .required = true},
    DAY_FIELD,
    NOTE_FIELD,
};
static const struct lines pond_lines = {pond_specs, 3,      ABSENT, ABSENT, ABSENT,
                                        ABSENT,     ABSENT, 0,      1,      2};

static const struct field_spec split_specs[] = {
    FISH_FIELD,
    METHOD_FIELD,
    ERROR_FIELD,
    {.label = "Into lot",
     .hint = "a new one, or one of the same spawning",
     .check = CHECK_CODE,
     .required = true},
    {.label = "Its pond", .hint = "empty = not said", .check = CHECK_CODE},
    DAY_FIELD,
    NOTE_FIELD,
};
static const struct lines split_lines = {split_specs, 7, ABSENT, 0, 1, 2, 3, 4, 5, 6};

struct lot_form {
    int64_t lot_id;
    char spawnings[CODES_SIZE]; /* whose fish are in it, separated by ';' */
    const struct lines *lines;
    char title[LOT_TEXT_SIZE];
};

static void read_fish(const struct form *form, const struct lines *lines, struct lot_event *ret)
{
    int millionths = 0;
    if (lines->fish == ABSENT)
        return;
    number_millionths(form->fields[lines->error].value, 0, WHOLE_PERCENT * CV_ONE, &millionths);
    ret->fish.number = form_number(form, lines->fish, NOT_COUNTED);
    ret->fish.method = (enum method)form->fields[lines->method].choice;
    ret->fish.cv = (millionths + WHOLE_PERCENT / 2) / WHOLE_PERCENT;
}

static struct lot_event read_event(const struct form *form, const struct lot_form *task)
{
    const struct lines *lines = task->lines;
    struct lot_event event;
    lot_event_init(&event);
    event.lot_id = task->lot_id;
    event.kind = lines->into != ABSENT   ? EVENT_TRANSFER
                 : lines->fish != ABSENT ? (enum lot_event_kind)form->fields[lines->kind].choice
                                         : EVENT_MOVE;
    read_fish(form, lines, &event);
    text_copy(event.day, sizeof event.day, form->fields[lines->day].value);
    text_copy(event.note, sizeof event.note, form->fields[lines->note].value);
    if (lines->pond != ABSENT)
        text_copy(event.pond, sizeof event.pond, form->fields[lines->pond].value);
    return event;
}

static bool record(struct app *app, const struct form *form, const struct lot_form *task,
                   struct err *err)
{
    struct lot_event event = read_event(form, task);
    if (event.kind != EVENT_TRANSFER)
        return lot_event_record(app->ledger, &event, app->judge, err);
    const char *into = form->fields[task->lines->into].value;
    return lot_name_check(app->ledger, task->spawnings, into, err) &&
           lot_split(app->ledger, &event, into, app->judge, &event.target_id, err);
}

static void accept(struct app *app, struct form *form, void *context)
{
    const struct lot_form *task = context;
    struct err err;
    if (!date_valid(form->fields[task->lines->day].value)) {
        form_refuse(form, task->lines->day, "The whole day is needed, such as 2026-06-14.");
    } else if (!record(app, form, task, &err)) {
        form_refuse(form, -1, err.text);
    } else {
        app_pop(app);
        app_say(app, "It is recorded; - takes it back.");
    }
}

static const struct form_task functions = {.accept = accept, .done = free};

/* A form with the day and how many there are; the caller puts it in front. */
static struct lot_form *begin(struct app *app, const struct lot_line *lot, const char *what,
                              const struct lines *lines, struct form *form)
{
    char title[LOT_TEXT_SIZE], number[LOT_TEXT_SIZE], today[11];
    struct lot_form *task = alloc_zeroed(1, sizeof *task);
    *task = (struct lot_form){.lot_id = lot->of.lot_id, .lines = lines};
    text_copy(task->spawnings, sizeof task->spawnings, lot->of.spawnings);
    lot_title(&lot->of, title);
    lot_number(&lot->book, number);
    snprintf(task->title, sizeof task->title, "%.300s: %s", title, what);
    form_init(form, task->title, lines->specs, lines->count);
    snprintf(form->below, sizeof form->below, "By the book: %.300s", number);
    app_today(app, today);
    form_set(form, lines->day, today);
    if (lines->method != ABSENT)
        form->fields[lines->method].choice = METHOD_COUNTED;
    return task;
}

void app_ask_lot_fish(struct app *app, const struct lot_line *lot, enum lot_event_kind kind)
{
    struct form form;
    struct lot_form *task = begin(app, lot, "fish", &fish_lines, &form);
    form.fields[fish_lines.kind].choice = (int)kind;
    form.current = fish_lines.fish;
    app_push_form(app, &form, &functions, task);
}

void app_ask_lot_pond(struct app *app, const struct lot_line *lot)
{
    struct form form;
    struct lot_form *task = begin(app, lot, "move to another pond", &pond_lines, &form);
    app_push_form(app, &form, &functions, task);
}

void app_ask_lot_split(struct app *app, const struct lot_line *lot)
{
    char code[CODE_SIZE];
    struct lot_line *lines;
    size_t count;
    struct form form;
    struct err err;
    if (!lot_lines_list(app->ledger, &lines, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    /* A number, for the keypad has no letters; the spawning's own lot is the first. */
    lot_free_code(lines, count, lot->of.spawnings, "", 2, code);
    lot_lines_free(lines, count);
    struct lot_form *task =
        begin(app, lot, "put some of its fish into another lot", &split_lines, &form);
    form_set(&form, split_lines.into, code);
    app_push_form(app, &form, &functions, task);
}
