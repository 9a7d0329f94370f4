/* Adding and changing a spawning on screen. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct spawning_form {
    struct record_form lines;
    char code[CODE_SIZE]; /* of the spawning that is changed, "" for a new one */
};

static const char *typed(const struct spawning_form *task, const struct form *form, int column)
{
    return form->fields[record_form_line(&task->lines, &spawning_columns[column])].value;
}

/* Where the date is a year alone, that is the season. */
static struct spawning spawning_of(const struct spawning_form *task, const struct form *form)
{
    struct spawning spawning = {0};
    int64_t year = 0;
    record_form_read(&task->lines, form, &spawning);
    if (spawning.date[0] != '\0')
        year = date_year(spawning.date);
    else
        number_whole(typed(task, form, SPAWNING_COLUMN_DATE), YEAR_LOWEST, YEAR_HIGHEST, &year);
    spawning.season = (int)year;
    return spawning;
}

/* Where the ledger does not know the parent, a form for it comes in front; when that is filled in,
 * this form is accepted once more. */
static bool parent_is_known(struct app *app, struct form *form, const char *code, enum sex sex)
{
    struct parent parent;
    struct err err;
    if (code[0] == '\0' || parent_get(app->ledger, code, &parent, &err))
        return true;
    if (err.code == ERR_ABSENT)
        app_ask_parent(app, code, sex);
    else
        form_refuse(form, -1, err.text);
    return false;
}

static bool parents_are_known(struct app *app, struct form *form, const struct spawning *spawning)
{
    char sire[CODE_SIZE];
    if (!parent_is_known(app, form, spawning->dam, SEX_FEMALE))
        return false;
    for (const char *list = spawning->sires; code_next(&list, sire);)
        if (!parent_is_known(app, form, sire, SEX_MALE))
            return false;
    return true;
}

static bool code_is_free(struct app *app, struct form *form, const struct spawning_form *task,
                         const char *code)
{
    struct spawning found;
    struct err err;
    char sentence[ERR_TEXT_SIZE];
    if (task->code[0] != '\0') {
        if (strcmp(task->code, code) == 0)
            return true;
        snprintf(sentence, sizeof sentence, "The code of a spawning cannot change: %s.",
                 task->code);
    } else {
        if (!spawning_get(app->ledger, code, &found, &err))
            return true;
        snprintf(sentence, sizeof sentence, "The code is already used by a spawning of %d.",
                 found.season);
    }
    form_refuse(form, record_form_line(&task->lines, &spawning_columns[SPAWNING_COLUMN_CODE]),
                sentence);
    return false;
}

static void accept(struct app *app, struct form *form, void *context)
{
    struct spawning spawning = spawning_of(context, form);
    enum saved saved;
    struct err err;
    if (!code_is_free(app, form, context, spawning.code) ||
        !parents_are_known(app, form, &spawning))
        return;
    if (!spawning_save(app->ledger, &spawning, app->judge, "", &saved, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    if (saved == SAVED_NEW)
        text_copy(app->added, sizeof app->added, spawning.code);
    app_say(app, saved == SAVED_SAME ? "Nothing was changed." : "Spawning %s is in the ledger.",
            spawning.code);
    app_pop(app);
}

void app_ask_spawning(struct app *app, const struct spawning *spawning)
{
    static const struct form_task functions = {.accept = accept, .done = free};
    struct spawning_form *task = alloc_zeroed(1, sizeof *task);
    struct spawning none = {0};
    struct form form;
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, &none);
    record_form_init(&task->lines, spawning_columns, SPAWNING_COLUMN_COUNT,
                     spawning != NULL ? spawning : &none,
                     spawning != NULL ? "Change a spawning" : "A new spawning", &form);
    if (spawning != NULL) {
        text_copy(task->code, sizeof task->code, spawning->code);
        if (spawning->date[0] == '\0')
            form_set_number(&form,
                            record_form_line(&task->lines, &spawning_columns[SPAWNING_COLUMN_DATE]),
                            spawning->season, 0);
    }
    app_push_form(app, &form, &functions, task);
}
