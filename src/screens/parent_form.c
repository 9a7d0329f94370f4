/* Adding a parent on screen. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"

#include <stdlib.h>

static void accept(struct app *app, struct form *form, void *context)
{
    struct parent parent = {0};
    enum saved saved;
    struct err err;
    record_form_read(context, form, &parent);
    if (!parent_save(app->ledger, &parent, app->judge, "", &saved, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    app_pop(app);
    app_accept_form(app);
}

void app_ask_parent(struct app *app, const char *code, enum sex sex)
{
    static const struct form_task task = {.accept = accept, .done = free};
    struct record_form *lines = alloc_zeroed(1, sizeof *lines);
    struct parent parent = {.sex = sex};
    struct form form;
    text_copy(parent.code, sizeof parent.code, code);
    record_form_init(lines, parent_columns, PARENT_COLUMN_COUNT, &parent,
                     "A parent that is not in the ledger yet", &form);
    form.current = record_form_line(lines, &parent_columns[PARENT_COLUMN_VARIETY]);
    app_push_form(app, &form, &task, lines);
}
