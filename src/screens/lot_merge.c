/* Putting all fish of a lot together with those of another. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/screens/lot_items.h"
#include "senbetsu/screens/screens.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { OTHER, INTO, DAY, NOTE, FIELD_COUNT };

static const struct field_spec specs[FIELD_COUNT] = {
    /* Its choices are the ledger's. */
    [OTHER] = {.label = "Together with", .choices = lot_event_terms, .choice_count = 0},
    [INTO] = {.label = "As lot",
              .hint = "one of the two, or a new one",
              .check = CHECK_CODE,
              .required = true},
    [DAY] = {.label = "Day", .check = CHECK_DAY, .required = true},
    [NOTE] = {.label = "Note", .check = CHECK_TEXT},
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

static void done(void *context)
{
    struct merge_form *task = context;
    free(task->candidates);
    free(task->choices);
    free(task);
}

/* A name that was typed stays, whichever lot is chosen. */
static void adjust(struct app *app, struct form *form, void *context)
{
    (void)app;
    struct merge_form *task = context;
    int choice = form->fields[OTHER].choice;
    if (choice == task->proposed_for ||
        strcmp(form->fields[INTO].value, task->candidates[task->proposed_for].proposed) != 0)
        return;
    form_set(form, INTO, task->candidates[choice].proposed);
    task->proposed_for = choice;
}

static void accept(struct app *app, struct form *form, void *context)
{
    const struct merge_form *task = context;
    const struct candidate *other = &task->candidates[form->fields[OTHER].choice];
    const int64_t lots[] = {task->lot_id, other->id};
    struct lot_event said;
    struct err err;
    int64_t into;
    lot_event_init(&said);
    text_copy(said.day, sizeof said.day, form->fields[DAY].value);
    text_copy(said.note, sizeof said.note, form->fields[NOTE].value);
    if (!date_valid(said.day)) {
        form_refuse(form, DAY, "The whole day is needed, such as 2026-06-14.");
    } else if (!lot_merge(app->ledger, lots, 2, form->fields[INTO].value, &said, app->judge, &into,
                          &err)) {
        form_refuse(form, -1, err.text);
    } else {
        app_pop(app);
        app_say(app, "The fish are together; - takes it back.");
    }
}

static void push(struct app *app, struct merge_form *task, const struct lot_origin *lot)
{
    static const struct form_task functions = {.accept = accept, .adjust = adjust, .done = done};
    char title[LOT_TEXT_SIZE], today[11];
    struct form form;
    lot_title(lot, title);
    snprintf(task->title, sizeof task->title, "%.300s: put all its fish together", title);
    form_init(&form, task->title, specs, FIELD_COUNT);
    form_offer(&form, OTHER, task->choices, task->count, 0);
    form_set(&form, INTO, task->candidates[0].proposed);
    app_today(app, today);
    form_set(&form, DAY, today);
    app_push_form(app, &form, &functions, task);
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
        done(task);
        app_say(app, "There is no other lot of the season that has fish.");
        return;
    }
    push(app, task, &lot->of);
}
