/* Where the rejects of a round went, in numbers. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/reject_fates.h"
#include "senbetsu/store/round_counts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { FIELD_COUNT = FATE_COUNT - 1 };

#define NUMBER_OF_FISH(fish)                                                                       \
    {                                                                                              \
        .label = (fish), .kind = FIELD_NUMBER, .lowest = 0, .highest = FISH_MOST                   \
    }

static const struct field_spec specs[FIELD_COUNT] = {
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

static void tell(struct app *app, struct fates fates)
{
    struct text text;
    text_init(&text);
    fates_text(&fates, &text);
    app_say(app, "Rejects: %s.", text.length > 0 ? text.data : "none");
    app->alert = fates.over > 0;
    text_done(&text);
}

static void accept(struct app *app, struct form *form, void *context)
{
    const struct fates_form *task = context;
    struct fates fates = {0};
    enum saved saved;
    struct err err;
    for (int field = 0; field < FIELD_COUNT; field++)
        fates.fish[field + 1] = form_number(form, field, 0);
    if (!reject_fates_record(app->ledger, task->round.id, &fates, app->judge, &saved, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    fates_settle(&fates, task->rejected, task->round.fate);
    app_pop(app);
    tell(app, fates);
}

static void set_title(struct fates_form *task)
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
    static const struct form_task functions = {.accept = accept, .done = free};
    struct fates_form *task = alloc_zeroed(1, sizeof *task);
    struct fates fates;
    struct form form;
    struct err err;
    if (!round_get(app->ledger, round_id, &task->round, &err) ||
        !round_rejected(app->ledger, round_id, &task->rejected, &err) ||
        !reject_fates_get(app->ledger, round_id, &fates, &err)) {
        free(task);
        app_fail(app, &err);
        return;
    }
    set_title(task);
    form_init(&form, task->title, specs, FIELD_COUNT);
    for (int field = 0; field < FIELD_COUNT; field++)
        form_set_number(&form, field, fates.fish[field + 1], 0);
    app_push_form(app, &form, &functions, task);
}
