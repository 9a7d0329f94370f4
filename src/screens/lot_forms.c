/* What happens to a lot, in forms: fish dead, lost, found, counted; another pond; some of its fish
 * put into another lot; all of them put together with another's. */
#include "lots.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/screens/screens.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Names of lots. */

bool lot_name_check(struct ledger *ledger, const char *spawning, const char *code, struct err *err)
{
    struct lot_origin *lots;
    size_t count;
    bool known = false;
    const struct lot_origin *mixed = NULL;
    if (!lot_origins_list(ledger, &lots, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(lots[i].lot, code) != 0 || !code_in_list(lots[i].spawnings, spawning))
            continue;
        if (lots[i].mixed)
            mixed = &lots[i];
        else
            known = true;
    }
    bool fine = known || mixed == NULL ||
                err_set(err, ERR_INPUT,
                        "Lot %s is mixed from %s: open it in the list of lots, or choose another "
                        "name.",
                        code, mixed->spawnings);
    lot_origins_free(lots, count);
    return fine;
}

bool codes_in_list(const char *codes, const char *list)
{
    char code[CODE_SIZE];
    for (const char *at = codes; *at != '\0'; at += strcspn(at, ";"), at += *at == ';') {
        size_t length = strcspn(at, ";");
        text_copy(code, length < sizeof code ? length + 1 : sizeof code, at);
        if (!code_in_list(list, code))
            return false;
    }
    return true;
}

/* Names of mixed lots are their own, whatever they are mixed from. */
static bool is_taken(const struct lot_line *line, const char *spawnings, const char *code)
{
    bool same = codes_in_list(line->of.spawnings, spawnings) &&
                codes_in_list(spawnings, line->of.spawnings);
    bool both_mixed = line->of.mixed && strchr(spawnings, ';') != NULL;
    return strcmp(line->of.lot, code) == 0 && (same || both_mixed) &&
           !(same && line->book.base == BOOK_NOTHING);
}

void lot_free_code(const struct lot_line *lines, size_t count, const char *spawnings,
                   const char *stem, int first, char ret_code[CODE_SIZE])
{
    bool taken = true;
    for (int number = first; taken; number++) {
        taken = false;
        snprintf(ret_code, CODE_SIZE, "%s%d", stem, number);
        for (size_t i = 0; i < count && !taken; i++)
            taken = is_taken(&lines[i], spawnings, ret_code);
    }
}

/* Events of one lot. */

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
           err_set(err, ERR_INPUT, "Enter a number from 0 to 100 such as 2.5, not \"%s\".", value);
}

static bool whole_day_right(const char *value, struct err *err)
{
    return date_valid(value) || err_set(err, ERR_INPUT, "Enter the full date, such as 2026-06-14.");
}

#define FISH_FIELD                                                                                 \
    {                                                                                              \
        .label = "Fish", .kind = FIELD_NUMBER, .required = true, .lowest = 0, .highest = FISH_MOST \
    }
#define METHOD_FIELD                                                                               \
    {                                                                                              \
        .label = "They were", .choices = method_terms, .choice_count = METHOD_COUNT                \
    }
#define ERROR_FIELD                                                                                \
    {                                                                                              \
        .label = "Known to ± %", .hint = "of an estimate: its standard error; empty = not known",  \
        .kind = FIELD_FIGURES, .others = ".", .check = percent_right                               \
    }
#define DAY_FIELD                                                                                  \
    {                                                                                              \
        .label = "Day", .check = whole_day_right, .required = true                                 \
    }
#define NOTE_FIELD                                                                                 \
    {                                                                                              \
        .label = "Note"                                                                            \
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
    {.label = "Pond", .check = check_code, .required = true},
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
     .check = check_code,
     .required = true},
    {.label = "Its pond", .hint = "empty = not stated", .check = check_code},
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

static bool accept(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    if (!record(app, form, context, err))
        return false;
    app_pop(app);
    app_say(app, "Recorded; - undoes it.");
    return true;
}

static const struct form_task event_functions = {.accept = accept, .done = free};

/* A form with the day and how many there are; the caller puts it on top. */
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
    app_push_form(app, &form, &event_functions, task);
}

void app_ask_lot_pond(struct app *app, const struct lot_line *lot)
{
    struct form form;
    struct lot_form *task = begin(app, lot, "move to another pond", &pond_lines, &form);
    app_push_form(app, &form, &event_functions, task);
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
    app_push_form(app, &form, &event_functions, task);
}

/* Putting all fish of a lot together with those of another. */

enum { OTHER, INTO, DAY, NOTE, MERGE_FIELDS };

static const struct field_spec merge_specs[MERGE_FIELDS] = {
    /* Its choices are the ledger's. */
    [OTHER] = {.label = "Merge with", .choices = lot_event_terms, .choice_count = 0},
    [INTO] = {.label = "Into lot",
              .hint = "one of the two, or a new one",
              .check = check_code,
              .required = true},
    [DAY] = DAY_FIELD,
    [NOTE] = NOTE_FIELD,
};

/* A lot that can be chosen. */
struct candidate {
    int64_t id;
    char title[LOT_TEXT_SIZE];
    char proposed[CODE_SIZE]; /* what both together are called */
};

struct merge_form {
    int64_t lot_id;
    char title[LOT_TEXT_SIZE];
    struct candidate *candidates;
    struct term *choices; /* their titles */
    int count;
    int proposed_for; /* the choice whose proposal was written last */
};

/* The lot that may hold the fish of both keeps its name. */
static void propose(const struct lot_origin *lot, const struct lot_origin *other,
                    const struct lot_line *lines, size_t count, char ret_code[CODE_SIZE])
{
    struct text both;
    if (codes_in_list(other->spawnings, lot->spawnings)) {
        text_copy(ret_code, CODE_SIZE, lot->lot);
        return;
    }
    if (codes_in_list(lot->spawnings, other->spawnings)) {
        text_copy(ret_code, CODE_SIZE, other->lot);
        return;
    }
    text_init(&both);
    text_addf(&both, "%s;%s", lot->spawnings, other->spawnings);
    lot_free_code(lines, count, both.data, "mixed ", 1, ret_code);
    text_done(&both);
}

/* An overdrawn lot has no fish by the book, but they may well be in the pond: its number is wrong.
 */
static bool has_fish(const struct book_count *book)
{
    return book->base != BOOK_NOTHING && (book->now.number != 0 || book->overdrawn > 0);
}

static bool can_join(const struct lot_line *lot, const struct lot_line *other)
{
    return other->of.lot_id != lot->of.lot_id && other->of.season == lot->of.season &&
           has_fish(&other->book);
}

static void add_candidate(struct merge_form *task, const struct lot_line *other)
{
    struct candidate *candidate = &task->candidates[task->count];
    candidate->id = other->of.lot_id;
    lot_title(&other->of, candidate->title);
    task->choices[task->count++] = (struct term){candidate->title, ""};
}

/* Lots of the same spawnings first. */
static void list_candidates(struct merge_form *task, const struct lot_line *lot,
                            const struct lot_line *lines, size_t count)
{
    task->candidates = alloc_zeroed(count + 1, sizeof *task->candidates);
    task->choices = alloc_zeroed(count + 1, sizeof *task->choices);
    for (int akin = 1; akin >= 0; akin--)
        for (size_t i = 0; i < count; i++) {
            const struct lot_line *other = &lines[i];
            if (!can_join(lot, other) ||
                codes_in_list(lot->of.spawnings, other->of.spawnings) != (akin == 1))
                continue;
            propose(&lot->of, &other->of, lines, count, task->candidates[task->count].proposed);
            add_candidate(task, other);
        }
}

static void merge_done(void *context)
{
    struct merge_form *task = context;
    free(task->candidates);
    free(task->choices);
    free(task);
}

/* A name that was typed stays, whichever lot is chosen. */
static void adjust_name(struct app *app, struct form *form, void *context)
{
    struct merge_form *task = context;
    int choice = form->fields[OTHER].choice;
    if (choice == task->proposed_for ||
        strcmp(form->fields[INTO].value, task->candidates[task->proposed_for].proposed) != 0)
        return;
    form_set(form, INTO, task->candidates[choice].proposed);
    task->proposed_for = choice;
}

static bool accept_merge(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    const struct merge_form *task = context;
    const struct candidate *other = &task->candidates[form->fields[OTHER].choice];
    const int64_t lots[] = {task->lot_id, other->id};
    struct lot_event said;
    int64_t into;
    lot_event_init(&said);
    text_copy(said.day, sizeof said.day, form->fields[DAY].value);
    text_copy(said.note, sizeof said.note, form->fields[NOTE].value);
    if (!lot_merge(app->ledger, lots, 2, form->fields[INTO].value, &said, app->judge, &into, err))
        return false;
    app_pop(app);
    app_say(app, "The lots are merged; - undoes it.");
    return true;
}

static void push_merge(struct app *app, struct merge_form *task, const struct lot_origin *lot)
{
    static const struct form_task merge_functions = {
        .accept = accept_merge, .adjust = adjust_name, .done = merge_done};
    char title[LOT_TEXT_SIZE], today[11];
    struct form form;
    lot_title(lot, title);
    snprintf(task->title, sizeof task->title, "%.300s: merge with another lot", title);
    form_init(&form, task->title, merge_specs, MERGE_FIELDS);
    form_offer(&form, OTHER, task->choices, task->count, 0);
    form_set(&form, INTO, task->candidates[0].proposed);
    app_today(app, today);
    form_set(&form, DAY, today);
    app_push_form(app, &form, &merge_functions, task);
}

void app_ask_lot_merge(struct app *app, const struct lot_line *lot)
{
    struct merge_form *task;
    struct lot_line *lines;
    size_t count;
    struct err err;
    if (!lot_lines_list(app->ledger, &lines, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    task = alloc_zeroed(1, sizeof *task);
    task->lot_id = lot->of.lot_id;
    list_candidates(task, lot, lines, count);
    lot_lines_free(lines, count);
    if (task->count == 0) {
        merge_done(task);
        app_say(app, "No other lot of the season has fish.");
        return;
    }
    push_merge(app, task, &lot->of);
}
