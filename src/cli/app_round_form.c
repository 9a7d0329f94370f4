/* Beginning a round, and changing what is set for it. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/cli/app_screens.h"
#include "senbetsu/store/standards.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STAGE, LOT, MANNER, STANDARD, PLACES, EXPECTED, WAITING, FATE, FIELD_COUNT };

/* What can be changed later stands after what makes a round the one it is: fish that were judged
 * one by one cannot become a tally. */
enum { FIRST_CHANGEABLE = STANDARD, MOST_FISH = 999999 };

static const struct field_spec specs[FIELD_COUNT] = {
    [STAGE] = {.label = "Which cull", .choices = stage_terms, .choice_count = STAGE_COUNT},
    [LOT] = {.label = "Lot", .hint = "empty = the spawning's own", .check = CHECK_CODE},
    [MANNER] = {.label = "What hands do", .choices = manner_terms, .choice_count = MANNER_COUNT},
    /* Its choices are the ledger's: offer_standards. */
    [STANDARD] = {.label = "Standard", .choices = stage_terms, .choice_count = 0},
    [PLACES] = {.label = "Places",
                .hint = "fish the next pond can take; empty = not set",
                .check = CHECK_NUMBER,
                .lowest = 0,
                .highest = MOST_FISH},
    [EXPECTED] = {.label = "Fish to judge",
                  .hint = "empty = as many as the bowls hold",
                  .check = CHECK_NUMBER,
                  .lowest = 1,
                  .highest = MOST_FISH},
    [WAITING] = {.label = "Judged fish wait in",
                 .choices = waiting_terms,
                 .choice_count = WAITING_COUNT},
    [FATE] = {.label = "Rejects are", .choices = fate_terms, .choice_count = FATE_COUNT},
};

struct round_form {
    struct round round; /* id 0 = to be begun */
    int first;          /* the field that the form begins with */
    int stage_offered;  /* the stage whose standards are offered, -1 = none yet */
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

static struct round settings_of(const struct form *form, const struct round_form *task,
                                struct round round)
{
    const struct field *fields = form->fields;
    const struct field *standard = &fields[STANDARD - task->first];
    round.places = (int)form_number(form, PLACES - task->first, -1);
    round.expected = (int)form_number(form, EXPECTED - task->first, 0);
    round.waiting = (enum waiting)fields[WAITING - task->first].choice;
    round.fate = (enum fate)fields[FATE - task->first].choice;
    if (standard->choice_count > 0)
        text_copy(round.standard, sizeof round.standard, standard->choices[standard->choice].word);
    return round;
}

static void change(struct app *app, struct form *form, void *context)
{
    struct round_form *task = context;
    struct round round = settings_of(form, task, task->round);
    struct err err;
    if (!round_save(app->ledger, &round, app->judge, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    app_pop(app);
}

static bool is_this(const struct round *round, enum stage stage, const char *lot)
{
    return round->stage == stage &&
           (lot[0] == '\0' ? round->own_lot : strcmp(round->lot, lot) == 0);
}

/* A form that begins a round must not change one that is there. */
static bool is_new(struct app *app, const char *spawning, enum stage stage, const char *lot,
                   struct err *err)
{
    struct round_summary *rounds;
    size_t count;
    bool begun = false;
    if (!round_list(app->ledger, spawning, &rounds, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        begun = begun || is_this(&rounds[i].round, stage, lot);
    free(rounds);
    return !begun ||
           err_set(err, ERR_INPUT, "The %s cull of this lot has been begun; choose it in the list.",
                   stage_terms[stage].word);
}

static bool begin_in_transaction(struct app *app, const struct form *form,
                                 const struct round_form *task, int64_t *ret_id, struct err *err)
{
    struct round begun;
    const char *spawning = task->round.spawning, *lot = form->fields[LOT].value;
    enum stage stage = (enum stage)form->fields[STAGE].choice;
    if (!is_new(app, spawning, stage, lot, err) ||
        !round_begin(app->ledger, spawning, lot, stage, &begun, err))
        return false;
    begun = settings_of(form, task, begun);
    begun.manner = (enum manner)form->fields[MANNER].choice;
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
             "No standard for %s serves this cull (%s); import one first.", task->round.variety,
             stage_terms[stage].word);
    form_refuse(form, STAGE, sentence);
    return false;
}

static void begin(struct app *app, struct form *form, void *context)
{
    int64_t id;
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

static void fill(struct form *form, const struct round_form *task)
{
    const struct round *round = &task->round;
    form_set_number(form, PLACES - task->first, round->places, -1);
    form_set_number(form, EXPECTED - task->first, round->expected, 0);
    form->fields[WAITING - task->first].choice = (int)round->waiting;
    form->fields[FATE - task->first].choice = (int)round->fate;
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

static void ask(struct app *app, const struct round *round, int first, const char *title,
                const struct form_task *functions)
{
    struct round_form *task = alloc_zeroed(1, sizeof *task);
    struct form form;
    struct err err;
    *task = (struct round_form){.round = *round, .first = first};
    if (!standard_list(app->ledger, &task->standards, &task->standard_count, &err)) {
        done(task);
        app_fail(app, &err);
        return;
    }
    task->offers = alloc_zeroed(task->standard_count + 1, sizeof *task->offers);
    form_init(&form, title, specs + first, FIELD_COUNT - first);
    fill(&form, task);
    enum stage stage = first == STAGE ? first_served(task) : round->stage;
    if (first == STAGE) {
        form.fields[STAGE].choice = (int)stage;
        form.fields[MANNER].choice = (int)round->manner;
    }
    offer_standards(app, &form, task, stage);
    app_push_form(app, &form, functions, task);
}

void app_ask_round(struct app *app, int64_t round_id)
{
    static const struct form_task functions = {.accept = change, .done = done};
    struct round round;
    struct err err;
    if (round_get(app->ledger, round_id, &round, &err))
        ask(app, &round, FIRST_CHANGEABLE, "What is set for this round", &functions);
    else
        app_fail(app, &err);
}

void app_ask_new_round(struct app *app, const char *code)
{
    static const struct form_task functions = {.accept = begin, .adjust = adjust, .done = done};
    struct spawning spawning;
    struct err err;
    if (!spawning_get(app->ledger, code, &spawning, &err)) {
        app_fail(app, &err);
        return;
    }
    struct round round = {.places = -1, .manner = MANNER_JUDGE};
    text_copy(round.spawning, sizeof round.spawning, spawning.code);
    text_copy(round.variety, sizeof round.variety, spawning.variety);
    ask(app, &round, STAGE, "Begin a round", &functions);
}
