/* Beginning a round, and changing what is set for it. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/lots.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/standards.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Lines of the form. What can be changed later stands after what makes a round the one it is: fish
 * that were judged one by one cannot become a tally. */
enum {
    STAGE = ROUND_COLUMN_STAGE,
    LOT = ROUND_COLUMN_LOT,
    MANNER = ROUND_COLUMN_MANNER,
    STANDARD = ROUND_COLUMN_STANDARD, /* its choices are the ledger's: offer_standards */
    FIRST_CHANGEABLE = STANDARD
};

struct round_form {
    struct record_form lines;
    struct round round;         /* id 0 = to be begun */
    char spawnings[CODES_SIZE]; /* of a round to be begun: whose fish they are, separated by ';' */
    char lot_code[CODE_SIZE];
    struct term lot;   /* the only one there is to choose; no word = its code is typed */
    int first;         /* the field that the form begins with */
    int stage_offered; /* the stage whose standards are offered, -1 = none yet */
    struct standard_version *standards;
    size_t standard_count;
    struct term *offers; /* the names of those that serve variety and stage */
};

static int offer_fitting(struct round_form *task, enum stage stage, const char *chosen,
                         int *ret_choice)
{
    int count = 0;
    for (size_t i = 0; i < task->standard_count; i++) {
        const struct standard *standard = &task->standards[i].standard;
        if (standard->stage != stage || !standard_serves(standard, task->round.variety))
            continue;
        if (strcmp(standard->name, chosen) == 0)
            *ret_choice = count;
        task->offers[count++] = (struct term){standard->name, ""};
    }
    return count;
}

/* The round's own standard in front, else the one that the ledger would take. */
static void offer_standards(struct app *app, struct form *form, struct round_form *task,
                            enum stage stage)
{
    struct standard_version usual;
    struct err err;
    const char *chosen = task->round.standard;
    int choice = 0;
    if (chosen[0] == '\0' && standard_for(app->ledger, task->round.variety, stage, &usual, &err))
        chosen = usual.standard.name;
    int count = offer_fitting(task, stage, chosen, &choice);
    form_offer(form, STANDARD - task->first, task->offers, count, choice);
    task->stage_offered = (int)stage;
}

static void adjust(struct app *app, struct form *form, void *context)
{
    struct round_form *task = context;
    if (task->first == STAGE && form->fields[STAGE].choice != task->stage_offered)
        offer_standards(app, form, task, (enum stage)form->fields[STAGE].choice);
}

static void change(struct app *app, struct form *form, void *context)
{
    struct round_form *task = context;
    struct round round = task->round;
    struct err err;
    record_form_read(&task->lines, form, &round);
    if (!round_save(app->ledger, &round, app->judge, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    app_pop(app);
}

/* A form that begins a round must not change one that is there. */
static bool begin_in_transaction(struct app *app, const struct form *form,
                                 const struct round_form *task, int64_t *ret_id, struct err *err)
{
    struct round begun;
    bool is_new;
    const char *lot = task->lot.word != NULL ? task->lot.word : form->fields[LOT].value;
    enum stage stage = (enum stage)form->fields[STAGE].choice;
    enum manner manner = (enum manner)form->fields[MANNER].choice;
    if (task->lot.word == NULL && !lot_name_check(app->ledger, task->spawnings, lot, err))
        return false;
    if (!round_begin_as(app->ledger, task->spawnings, lot, stage, manner, &begun, &is_new, err))
        return false;
    if (!is_new)
        return err_set(err, ERR_INPUT,
                       "The %s cull of this lot has been begun; choose it in the list.",
                       stage_terms[stage].word);
    record_form_read(&task->lines, form, &begun);
    *ret_id = begun.id;
    return round_save(app->ledger, &begun, app->judge, err);
}

/* Without a standard nothing could be judged, and a round once begun stays; a tally does without.
 */
static bool has_standard(struct form *form, const struct round_form *task)
{
    char sentence[ERR_TEXT_SIZE];
    enum stage stage = (enum stage)form->fields[STAGE].choice;
    if (form->fields[STANDARD].choice_count > 0 || form->fields[MANNER].choice != MANNER_JUDGE)
        return true;
    snprintf(sentence, sizeof sentence,
             "There is no standard for %s at this cull (%s); import one first.",
             task->round.variety[0] != '\0' ? task->round.variety : "this lot",
             stage_terms[stage].word);
    form_refuse(form, STAGE, sentence);
    return false;
}

static void begin(struct app *app, struct form *form, void *context)
{
    int64_t id = 0;
    struct err err;
    if (!has_standard(form, context))
        return;
    if (!ledger_begin(app->ledger, &err) || !begin_in_transaction(app, form, context, &id, &err) ||
        !ledger_commit(app->ledger, &err)) {
        ledger_rollback(app->ledger);
        form_refuse(form, -1, err.text);
        return;
    }
    app_pop(app);
    app_open_round(app, id);
}

static void done(void *context)
{
    struct round_form *task = context;
    free(task->standards);
    free(task->offers);
    free(task);
}

/* The earliest cull for which there is a standard: a good guess where a round is begun. */
static enum stage first_served(const struct round_form *task)
{
    enum stage first = STAGE_COUNT;
    for (size_t i = 0; i < task->standard_count; i++) {
        const struct standard *standard = &task->standards[i].standard;
        if (standard->stage < first && standard_serves(standard, task->round.variety))
            first = standard->stage;
    }
    return first < STAGE_COUNT ? first : STAGE_FIRST;
}

/* NULL where it cannot be begun: the reason is said then. The caller puts the form in front. */
static struct round_form *start(struct app *app, const struct round *round, int first,
                                const char *title, struct form *form)
{
    struct round_form *task = alloc_zeroed(1, sizeof *task);
    struct err err;
    *task = (struct round_form){.round = *round, .first = first};
    if (!standard_list(app->ledger, &task->standards, &task->standard_count, &err)) {
        done(task);
        app_fail(app, &err);
        return NULL;
    }
    task->offers = alloc_zeroed(task->standard_count + 1, sizeof *task->offers);
    record_form_init(&task->lines, round_columns + first, ROUND_COLUMN_COUNT - first, round, title,
                     form);
    offer_standards(app, form, task, first == STAGE ? first_served(task) : round->stage);
    return task;
}

void app_ask_round(struct app *app, int64_t round_id)
{
    static const struct form_task functions = {.accept = change, .done = done};
    struct round_form *task;
    struct round round;
    struct form form;
    struct err err;
    if (!round_get(app->ledger, round_id, &round, &err)) {
        app_fail(app, &err);
        return;
    }
    task = start(app, &round, FIRST_CHANGEABLE, "Settings of this round", &form);
    if (task != NULL)
        app_push_form(app, &form, &functions, task);
}

/* Of the lot with this code, or (NULL) of one that is still to be named. */
static void ask_new(struct app *app, const char *variety, const char *spawnings, const char *lot)
{
    static const struct form_task functions = {.accept = begin, .adjust = adjust, .done = done};
    struct round round = {.places = -1, .manner = MANNER_JUDGE};
    struct form form;
    text_copy(round.variety, sizeof round.variety, variety);
    struct round_form *task = start(app, &round, STAGE, "Begin a round", &form);
    if (task == NULL)
        return;
    text_copy(task->spawnings, sizeof task->spawnings, spawnings);
    form.fields[STAGE].choice = task->stage_offered;
    if (lot != NULL) {
        task->lot.word = text_copy(task->lot_code, sizeof task->lot_code, lot);
        form_offer(&form, LOT, &task->lot, 1, 0);
    }
    app_push_form(app, &form, &functions, task);
}

void app_ask_new_round(struct app *app, const char *code)
{
    struct spawning spawning;
    struct err err;
    if (spawning_get(app->ledger, code, &spawning, &err))
        ask_new(app, spawning.variety, spawning.code, NULL);
    else
        app_fail(app, &err);
}

void app_ask_new_round_of_lot(struct app *app, int64_t lot_id)
{
    struct lot_origin *lots;
    size_t count;
    struct err err;
    if (!lot_origins_list(app->ledger, &lots, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    const struct lot_origin *lot = lot_origin_find(lots, count, lot_id);
    if (lot != NULL)
        ask_new(app, lot->variety, lot->spawnings, lot->lot);
    lot_origins_free(lots, count);
}
