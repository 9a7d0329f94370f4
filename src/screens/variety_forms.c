/* Forms about varieties: one of the list, and what a name is that the list does not have. A slip
 * would count the same fish under two names for years, so it is asked once, with the nearest name
 * first where it is likely to be meant. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "varieties.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A name that the list does not have. */

enum { IT_IS, JAPANESE, UNKNOWN_FIELDS };
enum { THE_NEAREST, A_NEW_ONE, OFFERS };

static const struct field_spec unknown_specs[UNKNOWN_FIELDS] = {
    [IT_IS] = {.label = "It is"},
    [JAPANESE] = {.label = "Japanese", .hint = "of a new one, if you know it", .check = check_code},
};

struct unknown_variety {
    char text[CODE_SIZE];
    char title[CODE_SIZE + 40];
    struct variety nearest;
    struct term offers[OFFERS];
    int line; /* of the form below, where the name stands */
};

static bool add_new(struct app *app, const struct unknown_variety *unknown, const struct form *form,
                    struct err *err)
{
    struct variety variety = {.id = 0};
    enum saved saved;
    text_copy(variety.name, sizeof variety.name, unknown->text);
    text_copy(variety.japanese, sizeof variety.japanese, form->fields[JAPANESE].value);
    return variety_save(app->ledger, &variety, app->judge, "", &saved, err);
}

static bool accept_unknown(struct app *app, struct form *form, void *context, int *ret_field,
                           struct err *err)
{
    const struct unknown_variety *unknown = context;
    char name[CODE_SIZE];
    int line = unknown->line;
    bool is_new = form->fields[IT_IS].choice == A_NEW_ONE;
    if (is_new && !add_new(app, unknown, form, err))
        return false;
    text_copy(name, sizeof name, is_new ? unknown->text : unknown->nearest.name);
    app_pop(app);
    form_set(app_form(app), line, name);
    app_accept_form(app);
    return true;
}

static bool ask_unknown(struct app *app, const char *text, int line, struct err *err)
{
    static const struct form_task task = {.accept = accept_unknown, .done = free};
    struct variety *varieties;
    size_t count;
    struct form form;
    bool typo;
    if (!variety_list(app->ledger, &varieties, &count, err))
        return false;
    const struct variety *nearest = variety_nearest(varieties, count, text, &typo);
    struct unknown_variety *unknown = alloc_zeroed(1, sizeof *unknown);
    unknown->line = line;
    text_copy(unknown->text, sizeof unknown->text, text);
    if (nearest != NULL)
        unknown->nearest = *nearest;
    free(varieties);
    snprintf(unknown->title, sizeof unknown->title, "There is no variety %s yet", text);
    unknown->offers[THE_NEAREST] = (struct term){unknown->nearest.name, unknown->nearest.japanese};
    unknown->offers[A_NEW_ONE] = (struct term){"a new variety", unknown->text};
    form_init(&form, unknown->title, unknown_specs, UNKNOWN_FIELDS);
    form_offer(&form, IT_IS, unknown->offers, OFFERS, typo ? THE_NEAREST : A_NEW_ONE);
    snprintf(form.below, sizeof form.below,
             "The nearest in the list is %s%s%s.\nUnder two names the same fish would be counted "
             "apart.",
             unknown->nearest.name, unknown->nearest.japanese[0] != '\0' ? " " : "",
             unknown->nearest.japanese);
    app_push_form(app, &form, &task, unknown);
    return true;
}

bool settle_variety(struct app *app, struct form *form, int line, bool *ret_asked, struct err *err)
{
    char text[FORM_VALUE_SIZE];
    char name[CODE_SIZE];
    struct err none = {0};
    text_copy(name, sizeof name, form_text(form, line, text));
    if (variety_settle(app->ledger, name, &none)) {
        if (strcmp(name, text) != 0)
            form_set(form, line, name);
        return true;
    }
    if (none.code != ERR_ABSENT)
        return err_set(err, none.code, "%s", none.text);
    *ret_asked = true;
    return ask_unknown(app, name, line, err);
}

/* One of the list. */

struct variety_form {
    struct record_form lines;
    struct variety was; /* id 0 = a new one */
};

static bool save(struct app *app, const struct variety *variety, enum saved *ret_saved,
                 struct err *err)
{
    struct variety known;
    struct err none = {0};
    if (variety->id != 0)
        return variety_change(app->ledger, variety, app->judge, "", ret_saved, err);
    if (variety_get(app->ledger, variety->name, &known, &none))
        return err_set(err, ERR_INPUT, "%s is a name of the variety %s already.", variety->name,
                       known.name);
    return variety_save(app->ledger, variety, app->judge, "", ret_saved, err);
}

static bool accept_variety(struct app *app, struct form *form, void *context, int *ret_field,
                           struct err *err)
{
    const struct variety_form *task = context;
    struct variety variety = task->was;
    enum saved saved = SAVED_SAME;
    record_form_read(&task->lines, form, &variety);
    if (!save(app, &variety, &saved, err))
        return false;
    app_say(app, saved == SAVED_SAME ? "Nothing was changed." : "%s is in the list.", variety.name);
    app_pop(app);
    return true;
}

void app_ask_variety(struct app *app, const struct variety *variety)
{
    static const struct form_task functions = {.accept = accept_variety, .done = free};
    struct variety_form *task = alloc_zeroed(1, sizeof *task);
    struct form form;
    if (variety != NULL)
        task->was = *variety;
    record_form_init(&task->lines, variety_columns, VARIETY_COLUMN_COUNT, &task->was,
                     variety != NULL ? "Change a variety" : "A new variety", &form);
    if (variety != NULL)
        text_copy(form.below, sizeof form.below,
                  "Spawnings and parents go by a new name at once.\n"
                  "The old one stays as a spelling, for standards and files that have it.");
    app_push_form(app, &form, &functions, task);
}

void app_ask_variety_change(struct app *app, enum record_kind kind, int64_t id)
{
    struct variety *varieties;
    size_t count;
    struct err err;
    (void)kind;
    if (!variety_list(app->ledger, &varieties, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    for (size_t i = 0; i < count; i++)
        if (varieties[i].id == id)
            app_ask_variety(app, &varieties[i]);
    free(varieties);
}
