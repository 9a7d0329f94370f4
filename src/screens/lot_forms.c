/* What happens to a lot, in forms: fish dead, lost, found, counted; another pond; some of its fish
 * put into another lot; all of them merged with another's. The four forms share one table of lines,
 * each form a list of those it has, so that a line looks and is checked alike in all of them. */
#include "corrections.h"
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

/* A form of what happens to a lot has some of these lines, in the order of its own list. */
enum line { KIND, FISH, METHOD, ERROR, INTO, ITS_POND, POND, OTHER, MERGED, DAY, NOTE, LINE_COUNT };

enum { WHOLE_PERCENT = 100 };

static bool percent_right(const char *value, struct err *err)
{
    int millionths;
    return number_millionths(value, 0, WHOLE_PERCENT * CV_ONE, &millionths) ||
           err_set(err, ERR_INPUT, "Enter a number from 0 to 100 such as 2.5, not \"%s\".", value);
}

static const struct field_spec line_specs[LINE_COUNT] = {
    [KIND] = {.label = "What",
              .choices = &lot_event_terms[EVENT_COUNT],
              .choice_count = EVENT_FOUND - EVENT_COUNT + 1},
    [FISH] = {.label = "Fish",
              .kind = FIELD_NUMBER,
              .required = true,
              .lowest = 0,
              .highest = FISH_MOST},
    [METHOD] = {.label = "They were", .choices = method_terms, .choice_count = METHOD_COUNT},
    [ERROR] = {.label = "Error ± %",
               .hint = "of an estimate: its standard error; empty = not known",
               .kind = FIELD_FIGURES,
               .others = ".",
               .check = percent_right},
    [INTO] = {.label = "Into lot",
              .hint = "a new one, or one of the same spawning",
              .check = check_code,
              .required = true},
    [ITS_POND] = {.label = "Its pond", .hint = "empty = not stated", .check = check_code},
    [POND] = {.label = "Pond", .check = check_code, .required = true},
    /* Its choices are the ledger's. */
    [OTHER] = {.label = "Merge with", .choices = lot_event_terms, .choice_count = 0},
    [MERGED] = {.label = "Into lot",
                .hint = "one of the two, or a new one",
                .check = check_code,
                .required = true},
    [DAY] = {.label = "Day", .kind = FIELD_DAY, .required = true},
    [NOTE] = {.label = "Note"},
};

static const enum line fish_lines[] = {KIND, FISH, METHOD, ERROR, DAY, NOTE, LINE_COUNT};
static const enum line pond_lines[] = {POND, DAY, NOTE, LINE_COUNT};
static const enum line split_lines[] = {FISH, METHOD, ERROR, INTO, ITS_POND, DAY, NOTE, LINE_COUNT};
static const enum line transfer_lines[] = {FISH, METHOD, ERROR, DAY, NOTE, LINE_COUNT};
static const enum line all_lines[] = {DAY, NOTE, LINE_COUNT};
static const enum line merge_lines[] = {OTHER, MERGED, DAY, NOTE, LINE_COUNT};

/* A lot that the fish can be merged with. */
struct candidate {
    int64_t id;
    char title[LOT_TEXT_SIZE];
    char proposed[CODE_SIZE]; /* what both together are called */
};

struct lot_form {
    int64_t lot_id;
    char spawnings[CODES_SIZE]; /* whose fish are in it, separated by ';' */
    char title[LOT_TEXT_SIZE];
    struct field_spec specs[FORM_FIELDS];
    int at[LINE_COUNT];         /* which field of the form the line is, -1 = none */
    struct lot_event corrected; /* what is put right; id 0 = nothing, it is new */

    /* Of a merger: */
    struct candidate *candidates;
    struct term *choices; /* their titles */
    int count;
    int proposed_for; /* the choice whose proposal was written last */
};

static void lot_form_done(void *context)
{
    struct lot_form *task = context;
    free(task->candidates);
    free(task->choices);
    free(task);
}

/* What stands in a line; "" where the form has none such. */
static const char *typed(const struct form *form, const struct lot_form *task, enum line line)
{
    return task->at[line] < 0 ? "" : form->fields[task->at[line]].value;
}

static struct lot_event read_event(const struct form *form, const struct lot_form *task)
{
    struct lot_event event;
    int millionths = 0;
    lot_event_init(&event);
    event.lot_id = task->lot_id;
    event.kind = task->at[INTO] >= 0   ? EVENT_TRANSFER
                 : task->at[KIND] >= 0 ? (enum lot_event_kind)form->fields[task->at[KIND]].choice
                                       : EVENT_MOVE;
    if (task->at[FISH] >= 0) {
        number_millionths(typed(form, task, ERROR), 0, WHOLE_PERCENT * CV_ONE, &millionths);
        event.fish.number = form_number(form, task->at[FISH], NOT_COUNTED);
        event.fish.method = (enum method)form->fields[task->at[METHOD]].choice;
        event.fish.cv = (millionths + WHOLE_PERCENT / 2) / WHOLE_PERCENT;
    }
    text_copy(event.day, sizeof event.day, typed(form, task, DAY));
    text_copy(event.note, sizeof event.note, typed(form, task, NOTE));
    text_copy(event.pond, sizeof event.pond,
              typed(form, task, task->at[POND] >= 0 ? POND : ITS_POND));
    return event;
}

/* What the form does not ask for stays. */
static bool correct(struct app *app, const struct form *form, const struct lot_form *task,
                    struct err *err)
{
    struct lot_event event = read_event(form, task);
    if (task->corrected.kind == EVENT_TRANSFER) {
        event.kind = EVENT_TRANSFER;
        event.target_id = task->corrected.target_id;
        event.all = task->corrected.all;
    }
    return lot_event_correct(app->ledger, task->corrected.id, &event, app->judge, err);
}

static bool record(struct app *app, const struct form *form, const struct lot_form *task,
                   struct err *err)
{
    if (task->corrected.id != 0)
        return correct(app, form, task, err);
    struct lot_event event = read_event(form, task);
    if (event.kind != EVENT_TRANSFER)
        return lot_event_record(app->ledger, &event, app->judge, err);
    const char *into = typed(form, task, INTO);
    return lot_name_check(app->ledger, task->spawnings, into, err) &&
           lot_split(app->ledger, &event, into, app->judge, &event.target_id, err);
}

static bool accept(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    bool put_right = ((const struct lot_form *)context)->corrected.id != 0;
    if (!record(app, form, context, err))
        return false;
    app_pop(app);
    app_say(app, "%s", put_right ? "Put right." : "Recorded; - undoes it.");
    return true;
}

static const struct form_task event_functions = {.accept = accept, .done = lot_form_done};

/* A form with these lines and today in it; the caller puts it on top. */
static struct lot_form *begin(struct app *app, const struct lot_origin *lot, const char *what,
                              const enum line *lines, struct form *form)
{
    char title[LOT_TEXT_SIZE], today[11];
    struct lot_form *task = alloc_zeroed(1, sizeof *task);
    int count = 0;
    task->lot_id = lot->lot_id;
    text_copy(task->spawnings, sizeof task->spawnings, lot->spawnings);
    lot_title(lot, title);
    snprintf(task->title, sizeof task->title, "%.300s: %s", title, what);
    memset(task->at, -1, sizeof task->at);
    for (; lines[count] != LINE_COUNT; count++) {
        task->at[lines[count]] = count;
        task->specs[count] = line_specs[lines[count]];
    }
    form_init(form, task->title, task->specs, count);
    app_today(app, today);
    form_set(form, task->at[DAY], today);
    if (task->at[POND] >= 0)
        app_suggest_ponds(app, form, task->at[POND]);
    if (task->at[ITS_POND] >= 0)
        app_suggest_ponds(app, form, task->at[ITS_POND]);
    if (task->at[INTO] >= 0)
        app_suggest_lots(app, form, task->at[INTO], lot->spawnings);
    if (task->at[METHOD] >= 0)
        form->fields[task->at[METHOD]].choice = METHOD_COUNTED;
    return task;
}

/* Puts a form for an event on top, with how many fish there are below it. */
static void push_event(struct app *app, const struct lot_line *lot, struct form *form,
                       struct lot_form *task)
{
    char number[LOT_TEXT_SIZE];
    lot_number(&lot->book, number);
    snprintf(form->below, sizeof form->below, "By the book: %.300s", number);
    app_push_form(app, form, &event_functions, task);
}

void app_ask_lot_fish(struct app *app, const struct lot_line *lot, enum lot_event_kind kind)
{
    struct form form;
    struct lot_form *task = begin(app, &lot->of, "fish", fish_lines, &form);
    form.fields[task->at[KIND]].choice = (int)kind;
    form.current = task->at[FISH];
    push_event(app, lot, &form, task);
}

void app_ask_lot_pond(struct app *app, const struct lot_line *lot)
{
    struct form form;
    struct lot_form *task = begin(app, &lot->of, "move to another pond", pond_lines, &form);
    push_event(app, lot, &form, task);
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
        begin(app, &lot->of, "put some of its fish into another lot", split_lines, &form);
    form_set(&form, task->at[INTO], code);
    push_event(app, lot, &form, task);
}

/* An event that was recorded wrongly. */

static const enum line *lines_of(const struct lot_event *event)
{
    if (event->kind == EVENT_MOVE)
        return pond_lines;
    if (event->kind != EVENT_TRANSFER)
        return fish_lines;
    return event->all ? all_lines : transfer_lines;
}

static void fill_in(struct form *form, const struct lot_form *task)
{
    const struct lot_event *event = &task->corrected;
    char percent[NUMBER_SIZE];
    if (task->at[KIND] >= 0)
        form->fields[task->at[KIND]].choice = (int)event->kind;
    if (task->at[FISH] >= 0) {
        form_set_number(form, task->at[FISH], event->fish.number, NOT_COUNTED);
        form->fields[task->at[METHOD]].choice = (int)event->fish.method;
    }
    if (task->at[FISH] >= 0 && event->fish.cv != 0) {
        number_from_millionths(event->fish.cv * WHOLE_PERCENT, percent);
        form_set(form, task->at[ERROR], percent);
    }
    if (task->at[POND] >= 0)
        form_set(form, task->at[POND], event->pond);
    form_set(form, task->at[DAY], event->day);
    form_set(form, task->at[NOTE], event->note);
}

void app_ask_lot_event(struct app *app, int64_t lot_id, const struct lot_event *event)
{
    struct lot_origin *lots;
    size_t count;
    struct form form;
    struct err err;
    if (!lot_origins_list(app->ledger, &lots, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    const struct lot_origin *lot = lot_origin_find(lots, count, event->lot_id);
    if (lot != NULL) {
        struct lot_form *task = begin(app, lot, "put right", lines_of(event), &form);
        task->corrected = *event;
        fill_in(&form, task);
        app_push_form(app, &form, &event_functions, task);
    }
    lot_origins_free(lots, count);
}

/* Putting all fish of a lot together with those of another. */

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

static void add_candidate(struct lot_form *task, const struct lot_line *other)
{
    struct candidate *candidate = &task->candidates[task->count];
    candidate->id = other->of.lot_id;
    lot_title(&other->of, candidate->title);
    task->choices[task->count++] = (struct term){candidate->title, ""};
}

/* Lots of the same spawnings first. */
static void list_candidates(struct lot_form *task, const struct lot_line *lot,
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

/* A name that was typed stays, whichever lot is chosen. */
static void adjust_name(struct app *app, struct form *form, void *context)
{
    struct lot_form *task = context;
    int choice = form->fields[task->at[OTHER]].choice;
    if (choice == task->proposed_for ||
        strcmp(typed(form, task, MERGED), task->candidates[task->proposed_for].proposed) != 0)
        return;
    form_set(form, task->at[MERGED], task->candidates[choice].proposed);
    task->proposed_for = choice;
}

static bool accept_merge(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    const struct lot_form *task = context;
    const struct candidate *other = &task->candidates[form->fields[task->at[OTHER]].choice];
    const int64_t lots[] = {task->lot_id, other->id};
    struct lot_event said;
    int64_t into;
    lot_event_init(&said);
    text_copy(said.day, sizeof said.day, typed(form, task, DAY));
    text_copy(said.note, sizeof said.note, typed(form, task, NOTE));
    if (!lot_merge(app->ledger, lots, 2, typed(form, task, MERGED), &said, app->judge, &into, err))
        return false;
    app_pop(app);
    app_say(app, "The lots are merged; - undoes it.");
    return true;
}

void app_ask_lot_merge(struct app *app, const struct lot_line *lot)
{
    static const struct form_task functions = {
        .accept = accept_merge, .adjust = adjust_name, .done = lot_form_done};
    struct lot_line *lines;
    size_t count;
    struct form form;
    struct err err;
    if (!lot_lines_list(app->ledger, &lines, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    struct lot_form *task = begin(app, &lot->of, "merge with another lot", merge_lines, &form);
    list_candidates(task, lot, lines, count);
    lot_lines_free(lines, count);
    if (task->count == 0) {
        lot_form_done(task);
        app_say(app, "No other lot of the season has fish.");
        return;
    }
    form_offer(&form, task->at[OTHER], task->choices, task->count, 0);
    form_set(&form, task->at[MERGED], task->candidates[0].proposed);
    app_push_form(app, &form, &functions, task);
}
