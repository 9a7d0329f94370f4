/* The next bowl of a round. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/cli/app_screens.h"

#include <stdlib.h>

enum { NUMBER, EXPECTED, FIELD_COUNT };

enum { MOST = 999999 };

static const struct field_spec specs[FIELD_COUNT] = {
    [NUMBER] = {.label = "Bowl number",
                .check = CHECK_NUMBER,
                .required = true,
                .lowest = 1,
                .highest = MOST},
    [EXPECTED] = {.label = "Fish in it",
                  .hint = "empty = not counted",
                  .check = CHECK_NUMBER,
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

/* Sets the bowl up, or finds it, and puts its sheet in front of the screen below. */
static bool begin(struct app *app, int64_t round_id, int number, int expected, int64_t *ret_id,
                  struct err *err)
{
    struct bowl bowl;
    char today[11];
    app_today(app, today);
    if (!bowl_begin(app->ledger, round_id, number, expected, today, &bowl, err))
        return false;
    *ret_id = bowl.id;
    return true;
}

void app_open_next_bowl(struct app *app, int64_t round_id, int expected)
{
    struct bowl bowl;
    int64_t id;
    struct err err;
    if (next_bowl(app, round_id, &bowl, &err) &&
        begin(app, round_id, bowl.number, expected, &id, &err))
        app_open_sheet(app, id, NULL);
    else
        app_fail(app, &err);
}

static void accept(struct app *app, struct form *form, void *context)
{
    int64_t id;
    struct err err;
    if (!begin(app, *(const int64_t *)context, (int)form_number(form, NUMBER, 0),
               (int)form_number(form, EXPECTED, 0), &id, &err)) {
        form_refuse(form, -1, err.text);
        return;
    }
    app_pop(app);
    app_open_sheet(app, id, NULL);
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
