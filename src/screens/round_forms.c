/* The forms of a round: beginning one and changing what is set for it, its next bowl and how many
 * fish a bowl holds, where its rejects went. What makes a round or a bowl is one transaction, so
 * that two sorters never begin the same. */
#include "lots.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/corrections.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/standards.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Lines of the form. */
enum {
    STAGE = ROUND_COLUMN_STAGE,
    LOT = ROUND_COLUMN_LOT,
    MANNER = ROUND_COLUMN_MANNER,
    STANDARD = ROUND_COLUMN_STANDARD, /* its choices are the ledger's: offer_standards */
    PLACES = ROUND_COLUMN_PLACES,
    WAITING = ROUND_COLUMN_WAITING
};

struct round_form {
    struct record_form lines;
    struct round round;         /* id 0 = to be begun */
    char spawnings[CODES_SIZE]; /* whose fish they are, separated by ';' */
    char lot_code[CODE_SIZE];
    struct term lot;              /* the only one there is to choose; no word = its code is typed */
    int stage_offered;            /* the stage whose standards are offered, -1 = none yet */
    enum waiting waiting_offered; /* where judged fish wait as long as nobody chose */
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
    form_offer(form, STANDARD, task->offers, count, choice);
    task->stage_offered = (int)stage;
}

/* Where places are few, fish tie for the last ones, and who decides between them must find them
 * again: in a basin he cannot. Whoever has chosen already knows better. */
static void offer_waiting(struct form *form, struct round_form *task)
{
    struct field *waiting = &form->fields[WAITING];
    bool places = form->fields[PLACES].value[0] != '\0';
    bool chosen = waiting->choice != (int)task->waiting_offered;
    if (!chosen) {
        task->waiting_offered = places ? WAITING_CELL : WAITING_BASIN;
        waiting->choice = (int)task->waiting_offered;
    }
    text_copy(form->below, sizeof form->below,
              places && !chosen
                  ? "Cells, as places are set: fish that tie for the last ones can be found."
                  : "");
}

static void adjust(struct app *app, struct form *form, void *context)
{
    struct round_form *task = context;
    if (task->round.id == 0)
        offer_waiting(form, task);
    if (form->fields[STAGE].choice != task->stage_offered)
        offer_standards(app, form, task, (enum stage)form->fields[STAGE].choice);
}

/* Another lot of the same spawnings; it is begun where there is none of that name. */
static bool change_in_transaction(struct app *app, const struct form *form,
                                  const struct round_form *task, struct err *err)
{
    struct round round = task->round;
    record_form_read(&task->lines, form, &round);
    bool same_lot = strcmp(round.lot, task->round.lot) == 0;
    return (same_lot || (lot_name_check(app->ledger, task->spawnings, round.lot, err) &&
                         lot_begin(app->ledger, task->spawnings, round.lot, &round.lot_id, err))) &&
           round_save(app->ledger, &round, app->judge, err);
}

static bool change(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    if (!transaction_begin(app->ledger, err) || !change_in_transaction(app, form, context, err) ||
        !transaction_commit(app->ledger, err)) {
        transaction_rollback(app->ledger);
        return false;
    }
    app_pop(app);
    return true;
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
    return round_fill(app->ledger, &begun, err);
}

/* Without a standard nothing could be judged, and a round once begun stays; a tally does without.
 */
static bool has_standard(const struct form *form, const struct round_form *task, struct err *err)
{
    const char *variety = task->round.variety[0] != '\0' ? task->round.variety : "this lot";
    return form->fields[STANDARD].choice_count > 0 || form->fields[MANNER].choice != MANNER_JUDGE ||
           err_set(err, ERR_INPUT,
                   "There is no standard for %s at this cull (%s); import one first.", variety,
                   stage_terms[form->fields[STAGE].choice].word);
}

static bool begin(struct app *app, struct form *form, void *context, int *ret_field,
                  struct err *err)
{
    int64_t id = 0;
    if (!has_standard(form, context, err)) {
        *ret_field = STAGE;
        return false;
    }
    if (!transaction_begin(app->ledger, err) ||
        !begin_in_transaction(app, form, context, &id, err) ||
        !transaction_commit(app->ledger, err)) {
        transaction_rollback(app->ledger);
        return false;
    }
    app_pop(app);
    app_open_round(app, id);
    return true;
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
static struct round_form *start(struct app *app, const struct round *round, const char *title,
                                struct form *form)
{
    struct round_form *task = alloc_zeroed(1, sizeof *task);
    struct err err;
    task->round = *round;
    if (!standard_list(app->ledger, &task->standards, &task->standard_count, &err)) {
        done(task);
        app_fail(app, &err);
        return NULL;
    }
    task->offers = alloc_zeroed(task->standard_count + 1, sizeof *task->offers);
    record_form_init(&task->lines, round_columns, ROUND_COLUMN_COUNT, round, title, form);
    offer_standards(app, form, task, round->id == 0 ? first_served(task) : round->stage);
    return task;
}

/* Whose fish are in the round's lot. */
static bool read_spawnings(struct app *app, struct round_form *task, struct err *err)
{
    struct lot_origin *lots;
    size_t count;
    if (!lot_origins_list(app->ledger, &lots, &count, err))
        return false;
    const struct lot_origin *lot = lot_origin_find(lots, count, task->round.lot_id);
    if (lot != NULL)
        text_copy(task->spawnings, sizeof task->spawnings, lot->spawnings);
    lot_origins_free(lots, count);
    return true;
}

/* The cursor stands on what is changed most often. */
void app_ask_round(struct app *app, int64_t round_id)
{
    static const struct form_task functions = {.accept = change, .adjust = adjust, .done = done};
    struct round_form *task;
    struct round round;
    struct form form;
    struct err err;
    if (!round_get(app->ledger, round_id, &round, &err)) {
        app_fail(app, &err);
        return;
    }
    task = start(app, &round, "Change this round", &form);
    if (task == NULL)
        return;
    if (!read_spawnings(app, task, &err)) {
        done(task);
        app_fail(app, &err);
        return;
    }
    form.current = STANDARD;
    app_push_form(app, &form, &functions, task);
}

/* Of the lot with this code, or (NULL) of one that is still to be named. */
static void ask_new(struct app *app, const char *variety, const char *spawnings, const char *lot)
{
    static const struct form_task functions = {.accept = begin, .adjust = adjust, .done = done};
    struct round round = {.places = -1, .manner = MANNER_JUDGE};
    struct form form;
    text_copy(round.variety, sizeof round.variety, variety);
    struct round_form *task = start(app, &round, "Begin a round", &form);
    if (task == NULL)
        return;
    text_copy(task->spawnings, sizeof task->spawnings, spawnings);
    form.fields[STAGE].choice = task->stage_offered;
    if (lot != NULL) {
        task->lot.word = text_copy(task->lot_code, sizeof task->lot_code, lot);
        form_offer(&form, LOT, &task->lot, 1, 0);
    } else {
        app_suggest_lots(app, &form, LOT, spawnings);
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

/* Bowls. */

enum { NUMBER, EXPECTED, BOWL_FIELDS, BOWL_MOST = 999999 };

static const struct field_spec bowl_specs[BOWL_FIELDS] = {
    [NUMBER] = {.label = "Bowl number",
                .kind = FIELD_NUMBER,
                .required = true,
                .lowest = 1,
                .highest = BOWL_MOST},
    [EXPECTED] = {.label = "Fish in it",
                  .hint = "empty = not counted",
                  .kind = FIELD_NUMBER,
                  .lowest = 1,
                  .highest = BOWL_MOST},
};

/* Begins the bowl with this number, 0 = the one after the highest so far. Another sorter may have
 * taken the number since it was offered. */
static bool set_up(struct app *app, int64_t round_id, int number, int expected, struct bowl *ret,
                   struct err *err)
{
    struct bowl *bowls;
    size_t count;
    bool taken = false;
    char today[11];
    if (!bowl_list(app->ledger, round_id, &bowls, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        taken = taken || bowls[i].number == number;
    if (number == 0)
        number = count > 0 ? bowls[count - 1].number + 1 : 1;
    free(bowls);
    if (taken)
        return err_set(err, ERR_INPUT, "Bowl %d exists already; choose it in the list.", number);
    app_today(app, today);
    return bowl_begin(app->ledger, round_id, number, expected, today, ret, err);
}

/* In one transaction, so that two sorters never get the same bowl. */
static bool begin_bowl(struct app *app, int64_t round_id, int number, int expected,
                       struct bowl *ret, struct err *err)
{
    if (transaction_begin(app->ledger, err) && set_up(app, round_id, number, expected, ret, err) &&
        transaction_commit(app->ledger, err))
        return true;
    transaction_rollback(app->ledger);
    return false;
}

void app_open_next_bowl(struct app *app, int64_t round_id, int expected)
{
    struct bowl bowl = {0};
    struct err err;
    if (begin_bowl(app, round_id, 0, expected, &bowl, &err))
        app_open_sheet(app, bowl.id, NULL);
    else
        app_fail(app, &err);
}

static bool accept_bowl(struct app *app, struct form *form, void *context, int *ret_field,
                        struct err *err)
{
    struct bowl bowl = {0};
    if (!begin_bowl(app, *(const int64_t *)context, (int)form_number(form, NUMBER, 0),
                    (int)form_number(form, EXPECTED, 0), &bowl, err)) {
        *ret_field = err->code == ERR_INPUT ? NUMBER : -1;
        return false;
    }
    app_pop(app);
    app_open_sheet(app, bowl.id, NULL);
    return true;
}

/* Offers the next number, and as many fish as the bowl before held. */
void app_ask_bowl(struct app *app, int64_t round_id)
{
    static const struct form_task task = {.accept = accept_bowl, .done = free};
    struct form form;
    struct bowl *bowls;
    size_t count;
    struct err err;
    if (!bowl_list(app->ledger, round_id, &bowls, &count, &err)) {
        app_fail(app, &err);
        return;
    }
    int64_t *context = alloc_zeroed(1, sizeof *context);
    *context = round_id;
    form_init(&form, "The next bowl", bowl_specs, BOWL_FIELDS);
    form_set_number(&form, NUMBER, count > 0 ? bowls[count - 1].number + 1 : 1, 0);
    form_set_number(&form, EXPECTED, count > 0 ? bowls[count - 1].expected : 0, 0);
    form.current = EXPECTED;
    free(bowls);
    app_push_form(app, &form, &task, context);
}

/* A bowl that was counted wrongly, or not yet. */
static bool accept_count(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    struct bowl *bowl = context;
    bowl->expected = (int)form_number(form, 0, 0);
    *ret_field = 0;
    if (!bowl_change(app->ledger, bowl, app->judge, "", err))
        return false;
    app_say(app, "Bowl %d holds %d fish.", bowl->number, bowl->expected);
    app_pop(app);
    return true;
}

void app_ask_count(struct app *app, int64_t bowl_id)
{
    static const struct form_task task = {.accept = accept_count, .done = free};
    static const struct field_spec count_spec = {.label = "Fish in it",
                                                 .kind = FIELD_NUMBER,
                                                 .required = true,
                                                 .lowest = 1,
                                                 .highest = BOWL_MOST};
    struct form form;
    struct bowl *bowl = alloc_zeroed(1, sizeof *bowl);
    struct err err;
    if (!bowl_get(app->ledger, bowl_id, bowl, &err)) {
        free(bowl);
        app_fail(app, &err);
        return;
    }
    form_init(&form, "How many fish the bowl holds", &count_spec, 1);
    form_set_number(&form, 0, bowl->expected, 0);
    app_push_form(app, &form, &task, bowl);
}

/* Where the rejects went, in numbers. */

enum { FATE_FIELDS = FATE_COUNT - 1 };

#define NUMBER_OF_FISH(fish)                                                                       \
    {                                                                                              \
        .label = (fish), .kind = FIELD_NUMBER, .lowest = 0, .highest = FISH_MOST                   \
    }

static const struct field_spec fate_specs[FATE_FIELDS] = {
    [FATE_POND_GRADE - 1] = NUMBER_OF_FISH("Pond grade"),
    [FATE_PASSED_ON - 1] = NUMBER_OF_FISH("Passed on"),
    [FATE_KEPT_APART - 1] = NUMBER_OF_FISH("Kept apart"),
    [FATE_PUT_DOWN - 1] = NUMBER_OF_FISH("Put down"),
};

struct fates_form {
    struct round round;
    int64_t rejected; /* NOT_COUNTED */
    char title[128];
};

static void say_fates(struct app *app, struct fates fates)
{
    struct text text;
    text_init(&text);
    fates_text(&fates, &text);
    app_say(app, "Rejects: %s.", text.length > 0 ? text.data : "none");
    app->alert = fates.over > 0;
    text_done(&text);
}

static bool accept_fates(struct app *app, struct form *form, void *context, int *ret_field,
                         struct err *err)
{
    const struct fates_form *task = context;
    struct fates fates = {0};
    enum saved saved;
    for (int field = 0; field < FATE_FIELDS; field++)
        fates.fish[field + 1] = form_number(form, field, 0);
    if (!reject_fates_record(app->ledger, task->round.id, &fates, app->judge, &saved, err))
        return false;
    fates_settle(&fates, task->rejected, task->round.fate);
    app_pop(app);
    say_fates(app, fates);
    return true;
}

static void fates_title(struct fates_form *task)
{
    char number[24] = "";
    enum fate rest = task->round.fate;
    if (task->rejected != NOT_COUNTED)
        snprintf(number, sizeof number, "%" PRId64 " ", task->rejected);
    snprintf(task->title, sizeof task->title, "Where the %srejects went (the others: %s)", number,
             rest != FATE_UNDECIDED ? fate_terms[rest].word : "not decided");
}

void app_ask_fates(struct app *app, int64_t round_id)
{
    static const struct form_task functions = {.accept = accept_fates, .done = free};
    struct fates_form *task = alloc_zeroed(1, sizeof *task);
    struct fates fates;
    struct round_summary summary;
    struct form form;
    struct err err;
    if (!round_summary_get(app->ledger, round_id, &summary, &err) ||
        !reject_fates_get(app->ledger, round_id, &fates, &err)) {
        free(task);
        app_fail(app, &err);
        return;
    }
    task->round = summary.round;
    task->rejected = round_counts_rejected(&summary.counts);
    fates_title(task);
    form_init(&form, task->title, fate_specs, FATE_FIELDS);
    for (int field = 0; field < FATE_FIELDS; field++)
        form_set_number(&form, field, fates.fish[field + 1], 0);
    app_push_form(app, &form, &functions, task);
}
