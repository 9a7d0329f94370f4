/* Forms about a parent: the whole record, and what it is from now on. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"
#include "varieties.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct parent_form {
    struct record_form lines;
    struct parent was; /* id 0 = a new one */
};

static int line_of(const struct parent_form *task, int column)
{
    return record_form_line(&task->lines, &parent_columns[column]);
}

/* Where another state was chosen and its day left, it is since today. */
static void date_state(struct app *app, const struct parent *was, struct parent *parent)
{
    bool another = parent->state != was->state && parent->state != BROOD_UNSAID;
    if (another && strcmp(parent->since, was->since) == 0)
        app_today(app, parent->since);
    if (parent->state == BROOD_UNSAID)
        parent->since[0] = '\0';
}

static bool save(struct app *app, const struct parent *parent, enum saved *ret_saved,
                 struct err *err)
{
    struct parent other;
    struct err none = {0};
    if (parent->id != 0)
        return parent_change(app->ledger, parent, app->judge, "", ret_saved, err);
    if (parent_get(app->ledger, parent->code, &other, &none))
        return err_set(err, ERR_INPUT, "There is a parent %s already; choose another code.",
                       parent->code);
    return parent_save(app->ledger, parent, app->judge, "", ret_saved, err);
}

static bool accept_parent(struct app *app, struct form *form, void *context, int *ret_field,
                          struct err *err)
{
    struct parent_form *task = context;
    struct parent parent = task->was;
    enum saved saved = SAVED_SAME;
    bool asked = false;
    if (!settle_variety(app, form, line_of(task, PARENT_COLUMN_VARIETY), &asked, err))
        return false;
    if (asked)
        return true;
    record_form_read(&task->lines, form, &parent);
    date_state(app, &task->was, &parent);
    if (!save(app, &parent, &saved, err))
        return false;
    app_say(app, saved == SAVED_SAME ? "Nothing was changed." : "Parent %s is in the ledger.",
            parent.code);
    app_pop(app);
    app_accept_form(app);
    return true;
}

/* The cursor begins on the line of this column. */
static void ask(struct app *app, const struct parent *parent, const char *title, int column)
{
    static const struct form_task functions = {.accept = accept_parent, .done = free};
    struct parent_form *task = alloc_zeroed(1, sizeof *task);
    struct form form;
    task->was = *parent;
    record_form_init(&task->lines, parent_columns, PARENT_COLUMN_COUNT, parent, title, &form);
    record_form_suggest(app, &task->lines, &form);
    form.current = line_of(task, column);
    app_push_form(app, &form, &functions, task);
}

void app_ask_parent(struct app *app, const char *code, enum sex sex)
{
    struct parent parent = {.sex = sex};
    text_copy(parent.code, sizeof parent.code, code);
    ask(app, &parent, "A parent that is not in the ledger yet",
        code[0] != '\0' ? PARENT_COLUMN_VARIETY : PARENT_COLUMN_CODE);
}

void app_ask_parent_change(struct app *app, const struct parent *parent)
{
    ask(app, parent, "Change a parent", PARENT_COLUMN_CODE);
}

/* What it is from now on. */

enum { STATE, SINCE, STATE_FIELDS };

static const struct field_spec state_specs[STATE_FIELDS] = {
    [STATE] = {.label = "It is",
               .choices = brood_state_terms + 1,
               .choice_count = BROOD_STATE_COUNT - 1},
    [SINCE] = {.label = "Since", .kind = FIELD_DAY},
};

struct state_form {
    struct parent parent;
    char title[CODE_SIZE + 32];
};

static bool accept_state(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    struct parent parent = ((const struct state_form *)context)->parent;
    enum saved saved = SAVED_SAME;
    parent.state = (enum brood_state)(form->fields[STATE].choice + 1);
    text_copy(parent.since, sizeof parent.since, form->fields[SINCE].value);
    if (!parent_change(app->ledger, &parent, app->judge, "", &saved, err))
        return false;
    app_say(app, "%s is %s%s%s.", parent.code, brood_state_terms[parent.state].word,
            parent.since[0] != '\0' ? " since " : "", parent.since);
    app_pop(app);
    return true;
}

void app_ask_parent_state(struct app *app, const struct parent *parent)
{
    static const struct form_task functions = {.accept = accept_state, .done = free};
    struct state_form *task = alloc_zeroed(1, sizeof *task);
    struct form form;
    char today[DATE_SIZE];
    task->parent = *parent;
    snprintf(task->title, sizeof task->title, "What is %s from now on?", parent->code);
    form_init(&form, task->title, state_specs, STATE_FIELDS);
    form.fields[STATE].choice = parent->state == BROOD_UNSAID ? 0 : (int)parent->state - 1;
    app_today(app, today);
    form_set(&form, SINCE, today);
    app_push_form(app, &form, &functions, task);
}
