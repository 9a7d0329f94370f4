/* Forms over a record: a spawning here, a parent in parent_forms.c, a round in round_forms.c. Their
 * lines, what stands in them and what is taken from them go by the record's table of columns, so
 * that a new column is on its form as soon as it has a label. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"
#include "varieties.h"

#include <stdlib.h>
#include <string.h>

enum { CODES_MOST = 8 };

/* Checks of what is typed into a line. */

bool check_code(const char *value, struct err *err)
{
    return code_check(value, "The code", err);
}

bool check_codes(const char *value, struct err *err)
{
    char list[FORM_VALUE_SIZE];
    char *rest = NULL;
    int count = 0;
    text_copy(list, sizeof list, value);
    for (char *code = strtok_r(list, ";", &rest); code != NULL; code = strtok_r(NULL, ";", &rest)) {
        if (!code_check(code, "A code", err))
            return false;
        count++;
    }
    return count <= CODES_MOST ||
           err_set(err, ERR_INPUT, "At most %d codes can be named here.", CODES_MOST);
}

/* Lines from columns. */

static struct field_spec line_of(const struct column *column)
{
    struct field_spec line = {.label = column->label,
                              .hint = column->hint,
                              .required = column->required || column->form_required};
    switch (column->kind) {
    case COLUMN_CODE:
    case COLUMN_VARIETY:
    case COLUMN_DAM:
    case COLUMN_SIRE:
        line.check = check_code;
        break;
    case COLUMN_CODES:
    case COLUMN_SIRES:
        line.kind = FIELD_LIST;
        line.check = check_codes;
        break;
    case COLUMN_TERM:
        line.choices = column->terms;
        line.choice_count = column->term_count;
        break;
    case COLUMN_WHOLE:
        line.kind = FIELD_NUMBER;
        line.lowest = column->lowest;
        line.highest = column->highest;
        break;
    case COLUMN_DAY:
        line.kind = FIELD_DAY;
        break;
    case COLUMN_CV:
    case COLUMN_NOTE:
        break;
    }
    return line;
}

void record_form_init(struct record_form *lines, const struct column *columns, int count,
                      const void *record, const char *title, struct form *form)
{
    char buffer[CODES_SIZE];
    lines->count = 0;
    for (int i = 0; i < count; i++)
        if (columns[i].label != NULL) {
            lines->columns[lines->count] = &columns[i];
            lines->specs[lines->count++] = line_of(&columns[i]);
        }
    form_init(form, title, lines->specs, lines->count);
    for (int i = 0; i < lines->count; i++) {
        const struct column *column = lines->columns[i];
        if (column->kind != COLUMN_TERM)
            form_set(form, i, column_text(column, record, buffer));
        else if (column_known(column, record))
            form->fields[i].choice = (int)column_number(column, record);
    }
}

void record_form_suggest(struct app *app, const struct record_form *lines, struct form *form)
{
    for (int i = 0; i < lines->count; i++)
        app_suggest_for(app, form, i, lines->columns[i]->kind);
}

int record_form_line(const struct record_form *lines, const struct column *column)
{
    int line = 0;
    while (lines->columns[line] != column)
        line++;
    return line;
}

void record_form_read(const struct record_form *lines, const struct form *form, void *ret_record)
{
    for (int i = 0; i < lines->count; i++) {
        const struct column *column = lines->columns[i];
        const struct field *field = &form->fields[i];
        char text[FORM_VALUE_SIZE];
        if (field->choices != NULL && field->choice_count == 0)
            continue;
        columns_init(column, 1, ret_record);
        if (column->kind == COLUMN_TERM)
            column_set_number(column, ret_record, field->choice);
        else
            column_parse(column, form_text(form, i, text), ret_record, NULL);
    }
}

/* A spawning. */

struct spawning_form {
    struct record_form lines;
    char code[CODE_SIZE]; /* of the spawning that is changed, "" for a new one */
};

static int variety_line(const struct spawning_form *task)
{
    return record_form_line(&task->lines, &spawning_columns[SPAWNING_COLUMN_VARIETY]);
}

static int date_line(const struct spawning_form *task)
{
    return record_form_line(&task->lines, &spawning_columns[SPAWNING_COLUMN_DATE]);
}

/* Where the date is a year alone, that is the season. */
static struct spawning spawning_of(const struct spawning_form *task, const struct form *form)
{
    struct spawning spawning = {0};
    char date[FORM_VALUE_SIZE];
    int64_t year = 0;
    record_form_read(&task->lines, form, &spawning);
    if (spawning.date[0] != '\0')
        year = date_year(spawning.date);
    else
        number_whole(form_text(form, date_line(task), date), YEAR_LOWEST, YEAR_HIGHEST, &year);
    spawning.season = (int)year;
    return spawning;
}

/* Where the ledger does not know the parent, a form for it comes on top, and `ret_asked` says so;
 * when that is filled in, this form is accepted once more. */
static bool ask_unknown(struct app *app, const char *code, enum sex sex, bool *ret_asked,
                        struct err *err)
{
    struct parent parent;
    if (*ret_asked || code[0] == '\0' || parent_get(app->ledger, code, &parent, err))
        return true;
    if (err->code != ERR_ABSENT)
        return false;
    app_ask_parent(app, code, sex);
    *ret_asked = true;
    return true;
}

static bool ask_unknown_parents(struct app *app, const struct spawning *spawning, bool *ret_asked,
                                struct err *err)
{
    char sire[CODE_SIZE];
    if (!ask_unknown(app, spawning->dam, SEX_FEMALE, ret_asked, err))
        return false;
    for (const char *list = spawning->sires; code_next(&list, sire);)
        if (!ask_unknown(app, sire, SEX_MALE, ret_asked, err))
            return false;
    return true;
}

static bool code_is_free(struct app *app, const struct spawning_form *task, const char *code,
                         struct err *err)
{
    struct spawning found;
    return strcmp(task->code, code) == 0 || !spawning_get(app->ledger, code, &found, err) ||
           err_set(err, ERR_INPUT, "The code is already used by a spawning of %d.", found.season);
}

/* What cannot be is said at its line. */
static bool check_spawning(const struct spawning_form *task, const struct spawning *spawning,
                           int *ret_field, struct err *err)
{
    struct spawning said = *spawning, nothing = {0};
    int column;
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, &nothing);
    spawning_merge(&nothing, &said);
    if (spawning_check(&said, &column, err)) {
        column = SPAWNING_COLUMN_HATCHED;
        if (spawning_check_hatched(&said, err))
            return true;
    }
    if (column == SPAWNING_COLUMN_SEASON)
        column = SPAWNING_COLUMN_DATE;
    *ret_field = record_form_line(&task->lines, &spawning_columns[column]);
    return false;
}

static bool accept_spawning(struct app *app, struct form *form, void *context, int *ret_field,
                            struct err *err)
{
    const struct spawning_form *task = context;
    enum saved saved;
    bool asked = false;
    struct spawning spawning = spawning_of(task, form);
    if (!code_is_free(app, task, spawning.code, err)) {
        *ret_field = record_form_line(&task->lines, &spawning_columns[SPAWNING_COLUMN_CODE]);
        return false;
    }
    if (!settle_variety(app, form, variety_line(task), &asked, err) ||
        !ask_unknown_parents(app, &spawning, &asked, err))
        return false;
    if (asked)
        return true;
    if (!check_spawning(task, &spawning, ret_field, err))
        return false;
    if (!(task->code[0] == '\0'
              ? spawning_save(app->ledger, &spawning, app->judge, "", &saved, err)
              : spawning_change(app->ledger, task->code, &spawning, app->judge, "", &saved, err)))
        return false;
    if (saved == SAVED_NEW)
        text_copy(app->added, sizeof app->added, spawning.code);
    app_say(app, saved == SAVED_SAME ? "Nothing was changed." : "Spawning %s is in the ledger.",
            spawning.code);
    app_pop(app);
    return true;
}

void app_ask_spawning(struct app *app, const struct spawning *spawning)
{
    static const struct form_task functions = {.accept = accept_spawning, .done = free};
    struct spawning_form *task = alloc_zeroed(1, sizeof *task);
    struct spawning none = {0};
    struct form form;
    columns_init(spawning_columns, SPAWNING_COLUMN_COUNT, &none);
    record_form_init(&task->lines, spawning_columns, SPAWNING_COLUMN_COUNT,
                     spawning != NULL ? spawning : &none,
                     spawning != NULL ? "Change a spawning" : "A new spawning", &form);
    task->lines.specs[date_line(task)].kind = FIELD_DAY_OR_YEAR;
    if (spawning != NULL) {
        text_copy(task->code, sizeof task->code, spawning->code);
        if (spawning->date[0] == '\0')
            form_set_number(&form, date_line(task), spawning->season, 0);
    }
    record_form_suggest(app, &task->lines, &form);
    app_push_form(app, &form, &functions, task);
}
