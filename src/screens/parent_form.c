/* Adding a parent on screen. */
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"

enum { CODE, SEX, VARIETY, BORN, DAM, SIRE, NOTE, FIELD_COUNT };

static const struct field_spec specs[FIELD_COUNT] = {
    [CODE] = {.label = "Code", .check = check_code, .required = true},
    [SEX] = {.label = "Sex", .choices = sex_terms, .choice_count = SEX_COUNT},
    [VARIETY] = {.label = "Variety", .check = check_code},
    [BORN] = {.label = "Born in",
              .hint = "a year",
              .kind = FIELD_NUMBER,
              .lowest = 1900,
              .highest = 2199},
    [DAM] = {.label = "Its dam", .hint = "a code of this ledger", .check = check_code},
    [SIRE] = {.label = "Its sire", .hint = "a code of this ledger", .check = check_code},
    [NOTE] = {.label = "Note"},
};

static struct parent parent_of(const struct form *form)
{
    struct parent parent = {.sex = (enum sex)form->fields[SEX].choice,
                            .born = (int)form_number(form, BORN, 0)};
    text_copy(parent.code, sizeof parent.code, form->fields[CODE].value);
    text_copy(parent.variety, sizeof parent.variety, form->fields[VARIETY].value);
    text_copy(parent.dam, sizeof parent.dam, form->fields[DAM].value);
    text_copy(parent.sire, sizeof parent.sire, form->fields[SIRE].value);
    text_copy(parent.note, sizeof parent.note, form->fields[NOTE].value);
    return parent;
}

static void accept(struct app *app, struct form *form, void *context)
{
    (void)context;
    struct parent parent = parent_of(form);
    enum saved saved;
    struct err err;
    if (!parent_save(app->ledger, &parent, app->judge, "", &saved, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    app_pop(app);
    app_accept_form(app);
}

void app_ask_parent(struct app *app, const char *code, enum sex sex)
{
    static const struct form_task task = {.accept = accept};
    struct form form;
    form_init(&form, "A parent that is not in the ledger yet", specs, FIELD_COUNT);
    form_set(&form, CODE, code);
    form.fields[SEX].choice = (int)sex;
    form.current = VARIETY;
    app_push_form(app, &form, &task, NULL);
}
