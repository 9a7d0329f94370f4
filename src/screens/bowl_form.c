/* The next bowl of a round, and how many fish a bowl holds. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/screens/screens.h"

#include <stdlib.h>

enum { NUMBER, EXPECTED, FIELD_COUNT };

enum { MOST = 999999 };

static const struct field_spec specs[FIELD_COUNT] = {
    [NUMBER] = {.label = "Bowl number",
                .kind = FIELD_NUMBER,
                .required = true,
                .lowest = 1,
                .highest = MOST},
    [EXPECTED] = {.label = "Fish in it",
                  .hint = "empty = not counted",
                  .kind = FIELD_NUMBER,
                  .lowest = 1,
                  .highest = MOST},
};

/* The number after the highest so far, and how many fish the bowl before held. */
static bool next_bowl(struct app *app, int64_t round_id, struct bowl *ret, struct err *err)
{
    struct bowl *bowls;
    size_t count;
    if (!bowl_list(app->ledger, round_id, &bowls, &count, err))
        return false;
    *ret = (struct bowl){.number = 1};
    if (count > 0)
        *ret = (struct bowl){.number = bowls[count - 1].number + 1,
                             .expected = bowls[count - 1].expected};
    free(bowls);
    return true;
}

/* Another sorter may have taken the number since it was offered. */
static bool number_is_free(struct app *app, int64_t round_id, int number, struct err *err)
{
    struct bowl *bowls;
    size_t count;
    bool taken = false;
    if (!bowl_list(app->ledger, round_id, &bowls, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        taken = taken || bowls[i].number == number;
    free(bowls);
    return !taken ||
           err_set(err, ERR_INPUT, "Bowl %d exists already; choose it in the list.", number);
}

/* `number` 0 = the next one. */
static bool set_up(struct app *app, int64_t round_id, int number, int expected, struct bowl *ret,
                   struct err *err)
{
    struct bowl next = {.number = number};
    char today[11];
    app_today(app, today);
    if (number == 0 ? !next_bowl(app, round_id, &next, err)
                    : !number_is_free(app, round_id, number, err))
        return false;
    return bowl_begin(app->ledger, round_id, next.number, expected, today, ret, err);
}

/* In one transaction, so that two sorters never get the same bowl. */
static bool begin(struct app *app, int64_t round_id, int number, int expected, struct bowl *ret,
                  struct err *err)
{
    if (ledger_begin(app->ledger, err) && set_up(app, round_id, number, expected, ret, err) &&
        ledger_commit(app->ledger, err))
        return true;
    ledger_rollback(app->ledger);
    return false;
}

void app_open_next_bowl(struct app *app, int64_t round_id, int expected)
{
    struct bowl bowl;
    struct err err;
    if (begin(app, round_id, 0, expected, &bowl, &err))
        app_open_sheet(app, bowl.id, NULL);
    else
        app_fail(app, &err);
}

static void accept(struct app *app, struct form *form, void *context)
{
    struct bowl bowl;
    struct err err;
    if (!begin(app, *(const int64_t *)context, (int)form_number(form, NUMBER, 0),
               (int)form_number(form, EXPECTED, 0), &bowl, &err)) {
        form_refuse(form, err.code == ERR_INPUT ? NUMBER : -1, err.text);
        return;
    }
    app_pop(app);
    app_open_sheet(app, bowl.id, NULL);
}

void app_ask_bowl(struct app *app, int64_t round_id)
{
    static const struct form_task task = {.accept = accept, .done = free};
    struct form form;
    struct bowl bowl;
    struct err err;
    if (!next_bowl(app, round_id, &bowl, &err)) {
        app_fail(app, &err);
        return;
    }
    int64_t *context = alloc_zeroed(1, sizeof *context);
    *context = round_id;
    form_init(&form, "The next bowl", specs, FIELD_COUNT);
    form_set_number(&form, NUMBER, bowl.number, 0);
    form_set_number(&form, EXPECTED, bowl.expected, 0);
    form.current = EXPECTED;
    app_push_form(app, &form, &task, context);
}

/* A bowl that was counted wrongly, or not yet. */
static void accept_count(struct app *app, struct form *form, void *context)
{
    struct bowl *bowl = context, changed;
    struct err err;
    if (!bowl_begin(app->ledger, bowl->round_id, bowl->number, (int)form_number(form, 0, 0),
                    bowl->day, &changed, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    app_say(app, "Bowl %d holds %d fish.", changed.number, changed.expected);
    app_pop(app);
}

void app_ask_count(struct app *app, int64_t bowl_id)
{
    static const struct form_task task = {.accept = accept_count, .done = free};
    static const struct field_spec count_spec = {.label = "Fish in it",
                                                 .kind = FIELD_NUMBER,
                                                 .required = true,
                                                 .lowest = 1,
                                                 .highest = MOST};
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
