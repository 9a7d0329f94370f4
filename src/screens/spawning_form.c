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

enum { CODE, DAY, VARIETY, DAM, SIRES, SIRING, EGGS, HATCHED, NOTE, FIELD_COUNT };

enum { MOST_FISH = 999999999 };

static const struct field_spec specs[FIELD_COUNT] = {
    [CODE] = {.label = "Code",
              .hint = "short, as it stands on the ponds",
              .check = check_code,
              .required = true},
    [DAY] = {.label = "Date",
             .hint = "2026-06-14, or the year alone",
             .check = check_day,
             .required = true},
    [VARIETY] = {.label = "Variety",
                 .hint = "it decides which standards are offered",
                 .check = check_code,
                 .required = true},
    [DAM] = {.label = "Dam (oya)", .hint = "her code", .check = check_code},
    [SIRES] = {.label = "Sires",
               .hint = "their codes, separated by ;",
               .kind = FIELD_LIST,
               .check = check_codes},
    [SIRING] = {.label = "Siring", .choices = siring_terms, .choice_count = SIRING_COUNT},
    [EGGS] = {.label = "Eggs", .kind = FIELD_NUMBER, .lowest = 0, .highest = MOST_FISH},
    [HATCHED] = {.label = "Hatched", .kind = FIELD_NUMBER, .lowest = 0, .highest = MOST_FISH},
    [NOTE] = {.label = "Note"},
};

/* A valid day, or a year alone. */
static void take_day(struct spawning *spawning, const char *text)
{
    int64_t year = 0;
    if (date_valid(text)) {
        text_copy(spawning->date, sizeof spawning->date, text);
        year = date_year(text);
    } else {
        number_whole(text, 1900, 2199, &year);
    }
    spawning->season = (int)year;
}

static struct spawning spawning_of(const struct form *form)
{
    struct spawning spawning = {.siring = (enum siring)form->fields[SIRING].choice,
                                .eggs = form_number(form, EGGS, NOT_COUNTED),
                                .hatched = form_number(form, HATCHED, NOT_COUNTED)};
    take_day(&spawning, form->fields[DAY].value);
    text_copy(spawning.code, sizeof spawning.code, form->fields[CODE].value);
    text_copy(spawning.variety, sizeof spawning.variety, form->fields[VARIETY].value);
    text_copy(spawning.dam, sizeof spawning.dam, form->fields[DAM].value);
    text_copy(spawning.sires, sizeof spawning.sires, form->fields[SIRES].value);
    text_copy(spawning.note, sizeof spawning.note, form->fields[NOTE].value);
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

static bool parents_are_known(struct app *app, struct form *form)
{
    char sires[NOTE_SIZE];
    char *rest = NULL;
    if (!parent_is_known(app, form, form->fields[DAM].value, SEX_FEMALE))
        return false;
    text_copy(sires, sizeof sires, form->fields[SIRES].value);
    for (char *code = strtok_r(sires, ";", &rest); code != NULL; code = strtok_r(NULL, ";", &rest))
        if (!parent_is_known(app, form, code, SEX_MALE))
            return false;
    return true;
}

/* `context` is the code of the spawning that is changed, "" for a new one. */
static bool code_is_free(struct app *app, struct form *form, const char *old)
{
    const char *code = form->fields[CODE].value;
    struct spawning found;
    struct err err;
    char sentence[ERR_TEXT_SIZE];
    if (old[0] != '\0') {
        if (strcmp(old, code) == 0)
            return true;
        snprintf(sentence, sizeof sentence, "A spawning keeps its code: %s.", old);
    } else {
        if (!spawning_get(app->ledger, code, &found, &err))
            return true;
        snprintf(sentence, sizeof sentence, "There is a spawning with this code, of %d.",
                 found.season);
    }
    form_refuse(form, CODE, sentence);
    return false;
}

static void accept(struct app *app, struct form *form, void *context)
{
    struct spawning spawning = spawning_of(form);
    enum saved saved;
    struct err err;
    if (!code_is_free(app, form, context) || !parents_are_known(app, form))
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

static void fill(struct form *form, const struct spawning *spawning)
{
    char year[NUMBER_SIZE];
    snprintf(year, sizeof year, "%d", spawning->season);
    form_set(form, CODE, spawning->code);
    form_set(form, DAY, spawning->date[0] != '\0' ? spawning->date : year);
    form_set(form, VARIETY, spawning->variety);
    form_set(form, DAM, spawning->dam);
    form_set(form, SIRES, spawning->sires);
    form->fields[SIRING].choice = (int)spawning->siring;
    form_set_number(form, EGGS, spawning->eggs, NOT_COUNTED);
    form_set_number(form, HATCHED, spawning->hatched, NOT_COUNTED);
    form_set(form, NOTE, spawning->note);
}

void app_ask_spawning(struct app *app, const struct spawning *spawning)
{
    static const struct form_task task = {.accept = accept, .done = free};
    struct form form;
    form_init(&form, spawning != NULL ? "Change a spawning" : "A new spawning", specs, FIELD_COUNT);
    if (spawning != NULL)
        fill(&form, spawning);
    app_push_form(app, &form, &task, alloc_text(spawning != NULL ? spawning->code : ""));
}
