/* Forms that put a record right: its name, a bowl, which bowl a fish is in, the numbers that were
 * stated of a round; and the one that retires it. Each asks why, for the history. */
#include "corrections.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/round.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/corrections.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/names.h"
#include "senbetsu/store/round_counts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOVED_MOST = 1000 };

/* What a form is about, and what its lines offer. */
struct correction {
    enum record_kind kind;
    int64_t id;
    struct record_title title;
    char heading[RECORD_TITLE_SIZE + 64];
    struct bowl bowl; /* of a form about one */
    struct judge *judges;
    struct bowl *bowls;                 /* the others of its round */
    char (*words)[BOWL_TITLE_SIZE + 8]; /* their names … */
    struct term *offers;                /* … as choices */
    size_t offer_count;
};

static void correction_done(void *context)
{
    struct correction *about = context;
    free(about->judges);
    free(about->bowls);
    free(about->words);
    free(about->offers);
    free(about);
}

/* NULL where it cannot be read: the reason is said then. */
static struct correction *begin(struct app *app, enum record_kind kind, int64_t id,
                                const char *what)
{
    struct correction *about = alloc_zeroed(1, sizeof *about);
    struct err err;
    about->kind = kind;
    about->id = id;
    if (!record_title(app->ledger, kind, id, &about->title, &err) ||
        (kind == RECORD_BOWL && !bowl_get(app->ledger, id, &about->bowl, &err))) {
        correction_done(about);
        app_fail(app, &err);
        return NULL;
    }
    snprintf(about->heading, sizeof about->heading, "%s: %s", about->title.title, what);
    return about;
}

#define WHY                                                                                        \
    {                                                                                              \
        .label = "Why", .hint = "for the history; may stay empty"                                  \
    }

/* Names. */

enum { NAME, NAME_WHY, NAME_FIELDS };

static const struct field_spec name_specs[NAME_FIELDS] = {
    [NAME] = {.label = "It is called", .check = check_code, .required = true},
    [NAME_WHY] = WHY,
};

static bool accept_name(struct app *app, struct form *form, void *context, int *ret_field,
                        struct err *err)
{
    const struct correction *about = context;
    const char *name = form->fields[NAME].value;
    *ret_field = NAME;
    if (!record_rename(app->ledger, about->kind, about->id, name, app->judge,
                       form->fields[NAME_WHY].value, err))
        return false;
    if (about->kind == RECORD_JUDGE && about->id == app->judge)
        text_copy(app->judge_name, sizeof app->judge_name, name);
    app_say(app, "It is called %s now.", name);
    app_pop(app);
    return true;
}

void app_ask_name(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_name, .done = correction_done};
    struct correction *about = begin(app, kind, id, "another name");
    struct form form;
    if (about == NULL)
        return;
    form_init(&form, about->heading, name_specs, NAME_FIELDS);
    app_push_form(app, &form, &task, about);
}

/* A choice among the ledger's own: it must outlive the form. */
static void offer(struct correction *about, const char *word)
{
    struct term *term = &about->offers[about->offer_count];
    *term = (struct term){word, ""};
    about->offer_count++;
}

static const struct field_spec whose_spec = {
    .label = "Whose name it should be", .choices = method_terms, .choice_count = 0};

static bool accept_whose(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    const struct correction *about = context;
    const char *name = about->offers[form->fields[0].choice].word;
    int64_t right = 0;
    if (!judge_named(app->ledger, name, &right, err) ||
        !judge_is(app->ledger, about->id, right, app->judge, err))
        return false;
    if (about->id == app->judge) {
        app->judge = right;
        text_copy(app->judge_name, sizeof app->judge_name, name);
    }
    app_say(app, "All that was recorded under it is %s's.", name);
    app_pop(app);
    return true;
}

void app_ask_whose_name(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_whose, .done = correction_done};
    struct correction *about = begin(app, kind, id, "another judge's name");
    struct form form;
    struct err err;
    size_t count;
    if (about == NULL)
        return;
    if (!judge_list(app->ledger, &about->judges, &count, &err)) {
        correction_done(about);
        app_fail(app, &err);
        return;
    }
    about->offers = alloc_zeroed(count + 1, sizeof *about->offers);
    for (size_t i = 0; i < count; i++)
        if (about->judges[i].id != id)
            offer(about, about->judges[i].name);
    if (about->offer_count == 0) {
        correction_done(about);
        app_say(app, "There is no other judge; change the name instead.");
        return;
    }
    form_init(&form, about->heading, &whose_spec, 1);
    form_offer(&form, 0, about->offers, (int)about->offer_count, 0);
    app_push_form(app, &form, &task, about);
}

/* Retiring. */

static const struct field_spec retire_spec = WHY;

static bool accept_retire(struct app *app, struct form *form, void *context, int *ret_field,
                          struct err *err)
{
    const struct correction *about = context;
    if (!record_retire(app->ledger, about->kind, about->id, app->judge, form->fields[0].value, err))
        return false;
    app_say(app, "Retired: %.180s. + brings it back.", about->title.title);
    app_pop(app);
    return true;
}

void app_ask_retire(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_retire, .done = correction_done};
    struct correction *about = begin(app, kind, id, "retire");
    struct form form;
    if (about == NULL)
        return;
    form_init(&form, about->heading, &retire_spec, 1);
    text_copy(form.below, sizeof form.below,
              "It goes from every screen and number, as if it had never been there.\n"
              "Its history is kept, and one key brings it back.");
    app_push_form(app, &form, &task, about);
}

void app_bring_back(struct app *app, enum record_kind kind, int64_t id)
{
    struct record_title title;
    struct err err;
    if (!record_bring_back(app->ledger, kind, id, app->judge, "", &err) ||
        !record_title(app->ledger, kind, id, &title, &err)) {
        app_fail(app, &err);
        return;
    }
    app_say(app, "Back again: %s.", title.title);
    app->stale = true;
}

/* A bowl. */

enum { BOWL_NUMBER, BOWL_EXPECTED, BOWL_DAY, BOWL_WHY, BOWL_FIELDS };

static const struct field_spec bowl_specs[BOWL_FIELDS] = {
    [BOWL_NUMBER] = {.label = "Bowl number",
                     .kind = FIELD_NUMBER,
                     .required = true,
                     .lowest = 1,
                     .highest = NUMBER_MOST},
    [BOWL_EXPECTED] = {.label = "Fish in it",
                       .hint = "empty = not counted",
                       .kind = FIELD_NUMBER,
                       .lowest = 1,
                       .highest = NUMBER_MOST},
    [BOWL_DAY] = {.label = "Set up on", .kind = FIELD_DAY, .required = true},
    [BOWL_WHY] = WHY,
};

static bool accept_bowl(struct app *app, struct form *form, void *context, int *ret_field,
                        struct err *err)
{
    const struct correction *about = context;
    struct bowl bowl = about->bowl;
    bowl.number = (int)form_number(form, BOWL_NUMBER, 0);
    bowl.expected = (int)form_number(form, BOWL_EXPECTED, 0);
    text_copy(bowl.day, sizeof bowl.day, form->fields[BOWL_DAY].value);
    *ret_field = bowl.number != about->bowl.number ? BOWL_NUMBER : BOWL_EXPECTED;
    if (!bowl_change(app->ledger, &bowl, app->judge, form->fields[BOWL_WHY].value, err))
        return false;
    app_pop(app);
    return true;
}

void app_ask_bowl_change(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_bowl, .done = correction_done};
    struct correction *about = begin(app, kind, id, "change");
    struct form form;
    if (about == NULL)
        return;
    form_init(&form, about->heading, bowl_specs, BOWL_FIELDS);
    form_set_number(&form, BOWL_NUMBER, about->bowl.number, 0);
    form_set_number(&form, BOWL_EXPECTED, about->bowl.expected, 0);
    form_set(&form, BOWL_DAY, about->bowl.day);
    app_push_form(app, &form, &task, about);
}

/* Another bowl of the round. False where there is none, or the bowls cannot be read. */
static bool offer_bowls(struct app *app, struct correction *about)
{
    struct err err;
    size_t count;
    if (!bowl_list(app->ledger, about->bowl.round_id, &about->bowls, &count, &err))
        return app_fail(app, &err);
    about->words = alloc_zeroed(count + 1, sizeof *about->words);
    about->offers = alloc_zeroed(count + 1, sizeof *about->offers);
    for (size_t i = 0; i < count; i++) {
        if (about->bowls[i].id == about->id)
            continue;
        about->bowls[about->offer_count] = about->bowls[i];
        char *word = about->words[about->offer_count];
        char title[BOWL_TITLE_SIZE];
        snprintf(word, sizeof *about->words, "bowl %s", bowl_title(&about->bowls[i], title));
        offer(about, word);
    }
    if (about->offer_count == 0)
        app_say(app, "There is no other bowl in this round; set it up first.");
    return about->offer_count > 0;
}

/* A form that offers the other bowls of the round. NULL likewise. */
static struct correction *begin_among_bowls(struct app *app, enum record_kind kind, int64_t id,
                                            const char *what)
{
    struct correction *about = begin(app, kind, id, what);
    if (about != NULL && !offer_bowls(app, about)) {
        correction_done(about);
        return NULL;
    }
    return about;
}

enum { MERGE_INTO, MERGE_WHY, MERGE_FIELDS };

static const struct field_spec merge_specs[MERGE_FIELDS] = {
    [MERGE_INTO] = {.label = "Into", .choices = method_terms, .choice_count = 0},
    [MERGE_WHY] = WHY,
};

static bool accept_merge(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    const struct correction *about = context;
    const struct bowl *into = &about->bowls[form->fields[MERGE_INTO].choice];
    if (!bowl_merge(app->ledger, about->id, into->id, app->judge, form->fields[MERGE_WHY].value,
                    err))
        return false;
    app_say(app, "Its fish are in bowl %d; the empty bowl is retired.", into->number);
    app_pop(app);
    return true;
}

void app_ask_bowl_merge(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_merge, .done = correction_done};
    struct correction *about = begin_among_bowls(app, kind, id, "merge into another bowl");
    struct form form;
    if (about == NULL)
        return;
    form_init(&form, about->heading, merge_specs, MERGE_FIELDS);
    form_offer(&form, MERGE_INTO, about->offers, (int)about->offer_count, 0);
    text_copy(form.below, sizeof form.below,
              "Fish keep their numbers where those are free; the others get the next ones.");
    app_push_form(app, &form, &task, about);
}

/* Fish that were entered in the wrong bowl. */

enum { MOVE_FISH, MOVE_INTO, MOVE_WHY, MOVE_FIELDS };

/* "7", "7-12", "3;7-9". False where that is none, or too many. */
static bool read_numbers(const char *typed, int *ret_numbers, size_t *ret_count)
{
    size_t count = 0;
    for (const char *at = typed; *at != '\0';) {
        char *end;
        long first = strtol(at, &end, 10), last = first;
        if (end == at)
            return false;
        if (*end == '-') {
            at = end + 1;
            last = strtol(at, &end, 10);
            if (end == at)
                return false;
        }
        if (first < 1 || last < first || last > NUMBER_MOST ||
            last - first >= (long)(MOVED_MOST - count) || (*end != ';' && *end != '\0'))
            return false;
        for (long number = first; number <= last; number++)
            ret_numbers[count++] = (int)number;
        at = *end == ';' ? end + 1 : end;
    }
    *ret_count = count;
    return count > 0;
}

static bool numbers_right(const char *value, struct err *err)
{
    int numbers[MOVED_MOST];
    size_t count;
    return read_numbers(value, numbers, &count) ||
           err_set(err, ERR_INPUT, "Enter numbers of fish such as 7 or 7-12 or 3;7-9.");
}

static const struct field_spec move_specs[MOVE_FIELDS] = {
    [MOVE_FISH] = {.label = "Fish",
                   .hint = "7, or 7-12, or 3;7-9",
                   .kind = FIELD_LIST,
                   .check = numbers_right,
                   .required = true},
    [MOVE_INTO] = {.label = "Into", .choices = method_terms, .choice_count = 0},
    [MOVE_WHY] = WHY,
};

static bool accept_move(struct app *app, struct form *form, void *context, int *ret_field,
                        struct err *err)
{
    const struct correction *about = context;
    const struct bowl *into = &about->bowls[form->fields[MOVE_INTO].choice];
    int numbers[MOVED_MOST], last = 0;
    size_t count = 0;
    *ret_field = MOVE_FISH;
    read_numbers(form->fields[MOVE_FISH].value, numbers, &count);
    if (!fish_move(app->ledger, about->id, numbers, count, into->id, app->judge,
                   form->fields[MOVE_WHY].value, &last, err))
        return false;
    if (count == 1)
        app_say(app, "Fish %d is fish %d of bowl %d now.", numbers[0], last, into->number);
    else
        app_say(app, "%zu fish are in bowl %d now; its history has their numbers.", count,
                into->number);
    app_pop(app);
    return true;
}

void app_ask_fish_move(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_move, .done = correction_done};
    struct correction *about = begin_among_bowls(app, kind, id, "move fish into another bowl");
    struct form form;
    if (about == NULL)
        return;
    form_init(&form, about->heading, move_specs, MOVE_FIELDS);
    form_offer(&form, MOVE_INTO, about->offers, (int)about->offer_count, 0);
    text_copy(form.below, sizeof form.below,
              "A fish keeps its number where that is free there, else it gets the next one.");
    app_push_form(app, &form, &task, about);
}

/* The numbers of a round. */

enum { IN, KEPT, REJECTED, DEAD, ROUND_DAY, ROUND_NOTE, NUMBER_FIELDS };

#define FISH_LINE(its_label)                                                                       \
    {                                                                                              \
        .label = (its_label), .hint = "empty = as it is known", .kind = FIELD_NUMBER, .lowest = 0, \
        .highest = FISH_MOST                                                                       \
    }

static const struct field_spec number_specs[NUMBER_FIELDS] = {
    [IN] = FISH_LINE("Fish that went in"),
    [KEPT] = FISH_LINE("Kept"),
    [REJECTED] = FISH_LINE("Rejected"),
    [DEAD] = FISH_LINE("Found dead"),
    [ROUND_DAY] = {.label = "Day", .kind = FIELD_DAY},
    [ROUND_NOTE] = {.label = "Note"},
};

/* A number that is another one than before was counted anew. */
static void say_count(const struct count *known, int64_t number, struct count *ret)
{
    if (number != known->number)
        *ret = (struct count){.number = number, .method = METHOD_COUNTED};
}

static bool accept_numbers(struct app *app, struct form *form, void *context, int *ret_field,
                           struct err *err)
{
    const struct correction *about = context;
    struct round_counts known, said;
    enum saved saved;
    if (!round_counts_get(app->ledger, about->id, &known, err))
        return false;
    round_counts_init(&said);
    say_count(&known.in, form_number(form, IN, NOT_COUNTED), &said.in);
    say_count(&known.kept, form_number(form, KEPT, NOT_COUNTED), &said.kept);
    said.rejected = form_number(form, REJECTED, NOT_COUNTED);
    said.dead = form_number(form, DEAD, NOT_COUNTED);
    text_copy(said.day, sizeof said.day, form->fields[ROUND_DAY].value);
    text_copy(said.note, sizeof said.note, form->fields[ROUND_NOTE].value);
    if (!round_counts_record(app->ledger, about->id, &said, app->judge, &saved, err))
        return false;
    app_pop(app);
    app_say(app, saved == SAVED_SAME ? "Nothing was changed." : "The numbers are stated anew.");
    return true;
}

void app_ask_round_numbers(struct app *app, enum record_kind kind, int64_t id)
{
    static const struct form_task task = {.accept = accept_numbers, .done = correction_done};
    struct correction *about = begin(app, kind, id, "numbers");
    struct round_counts known;
    struct form form;
    struct err err;
    if (about == NULL)
        return;
    if (!round_counts_get(app->ledger, id, &known, &err)) {
        correction_done(about);
        app_fail(app, &err);
        return;
    }
    form_init(&form, about->heading, number_specs, NUMBER_FIELDS);
    form_set_number(&form, IN, known.in.number, NOT_COUNTED);
    form_set_number(&form, KEPT, known.kept.number, NOT_COUNTED);
    form_set_number(&form, REJECTED, known.rejected, NOT_COUNTED);
    form_set_number(&form, DEAD, known.dead, NOT_COUNTED);
    form_set(&form, ROUND_DAY, known.day);
    form_set(&form, ROUND_NOTE, known.note);
    app_push_form(app, &form, &task, about);
}
