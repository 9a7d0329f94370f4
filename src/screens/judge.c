/* Who judges. */
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/judges.h"

#include <stdlib.h>

/* The judge with this id; where nobody has judged yet (id -1), the only one that the ledger knows.
 */
static bool find(struct app *app, int64_t judge, struct err *err)
{
    struct judge *judges;
    size_t count;
    if (!judge_list(app->ledger, &judges, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        if (judges[i].id != judge && (judge != -1 || count > 1))
            continue;
        app->judge = judges[i].id;
        text_copy(app->judge_name, sizeof app->judge_name, judges[i].name);
    }
    free(judges);
    return true;
}

static bool take_name(struct app *app, const char *name, struct err *err)
{
    if (!code_check(name, "The judge's name", err) ||
        !judge_named(app->ledger, name, &app->judge, err))
        return false;
    text_copy(app->judge_name, sizeof app->judge_name, name);
    return true;
}

bool app_find_judge(struct app *app, const char *name, struct err *err)
{
    struct place place;
    if (name != NULL && name[0] != '\0')
        return take_name(app, name, err);
    if (place_get(app->ledger, -1, &place, err))
        return find(app, place.judge, err);
    return err->code == ERR_ABSENT && find(app, -1, err);
}

static const struct field_spec specs[] = {
    {.label = "Your name",
     .hint = "as recorded with each judgement",
     .check = check_code,
     .required = true},
};

static void accept(struct app *app, struct form *form, void *context)
{
    (void)context;
    struct err err;
    if (take_name(app, form->fields[0].value, &err))
        app_pop(app);
    else
        form_refuse(form, 0, err.text);
}

void app_ask_judge(struct app *app)
{
    static const struct form_task task = {.accept = accept};
    struct form form;
    form_init(&form, "Who judges?", specs, 1);
    form_set(&form, 0, app->judge_name);
    app_push_form(app, &form, &task, NULL);
}
