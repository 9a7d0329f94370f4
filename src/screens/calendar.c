/* The pages of a day or of a season: the day's sheet, its cull list, what is due, the season book.
 * They open on today, for that is what is wanted in the evening; a key goes to the one before or
 * after, another to the next kind of page of the same date. */
#include "senbetsu/base/date.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/print/day.h"
#include "senbetsu/print/due.h"
#include "senbetsu/print/season.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>

/* What the pages are of is a day, counted as date_days does; of the season, the day's year. */
static void day_of(int64_t of, char ret_date[11])
{
    date_text((int)of, ret_date);
}

static void year_of(int64_t of, char ret_date[11])
{
    char day[DATE_SIZE];
    day_of(of, day);
    text_copy(ret_date, 5, day);
}

/* A day on which nothing was done has a page that says so. */
static bool say_absent(const struct err *err, struct text *out)
{
    if (err->code == ERR_ABSENT)
        text_addf(out, "%s\n", err->text);
    return err->code == ERR_ABSENT;
}

static bool make_day(struct app *app, int64_t of, struct page_setup setup, struct text *out,
                     struct err *err)
{
    char day[DATE_SIZE];
    struct day_sheet made;
    day_of(of, day);
    if (!day_sheet_make(app->ledger, day, &made, err))
        return say_absent(err, out);
    day_sheet_print(&made, setup, out);
    day_sheet_done(&made);
    return true;
}

static bool make_list(struct app *app, int64_t of, struct page_setup setup, struct text *out,
                      struct err *err)
{
    char day[DATE_SIZE];
    struct cull_list made;
    day_of(of, day);
    if (!cull_list_of_day(app->ledger, day, &made, err))
        return say_absent(err, out);
    cull_list_print(&made, setup, out);
    cull_list_done(&made);
    return true;
}

static bool make_due(struct app *app, int64_t of, struct page_setup setup, struct text *out,
                     struct err *err)
{
    enum { DAYS_USUAL = 14 };
    char day[DATE_SIZE];
    struct due_list made;
    day_of(of, day);
    if (!due_list_make(app->ledger, day, DAYS_USUAL, NULL, &made, err))
        return false;
    due_list_print(&made, setup, out);
    free(made.dues);
    return true;
}

static bool make_season(struct app *app, int64_t of, struct page_setup setup, struct text *out,
                        struct err *err)
{
    char day[DATE_SIZE];
    struct season_book made;
    day_of(of, day);
    if (!season_book_make(app->ledger, date_year(day), NULL, &made, err))
        return say_absent(err, out);
    season_book_print(&made, setup, out);
    season_book_done(&made);
    return true;
}

enum { DAY, LIST, DUE, SEASON, PAGES_COUNT };

static const struct pages_kind kinds[PAGES_COUNT] = {
    [DAY] = {"The day's sheet", "Save the day's sheet", "day", make_day, day_of, &calendar_keys},
    [LIST] = {"The cull list", "Save the list", "cull-list", make_list, day_of, &calendar_keys},
    [DUE] = {"What is due", "Save what is due", "due", make_due, day_of, &calendar_keys},
    [SEASON] = {"The season book", "Save the season book", "season", make_season, year_of,
                &calendar_keys},
};

/* Keys. The state is that of the pages. */

static int64_t same_day_of_year(int64_t of, int year)
{
    char day[DATE_SIZE], text[48];
    day_of(of, day);
    snprintf(text, sizeof text, "%04d%s", year, day + 4);
    if (!date_valid(text)) /* 29 February */
        snprintf(text, sizeof text, "%04d-02-28", year);
    return date_valid(text) ? date_days(text) : of;
}

static void step(struct app *app, void *state, int by)
{
    int64_t of;
    char day[DATE_SIZE];
    const struct pages_kind *kind = pages_shown(state, &of);
    day_of(of, day);
    int64_t to = kind == &kinds[SEASON] ? same_day_of_year(of, date_year(day) + by)
                 : kind == &kinds[DUE]  ? of + INT64_C(7) * by
                                        : of + by;
    pages_show(app, state, kind, to);
}

static int64_t today(const struct app *app)
{
    char day[DATE_SIZE];
    app_today(app, day);
    return date_days(day);
}

/* A day in the year of the season that this one belongs to. */
static int64_t day_of_season(struct app *app, int64_t of)
{
    char day[DATE_SIZE];
    int season;
    struct err err;
    day_of(of, day);
    if (season_current(app->ledger, day, &season, &err))
        return same_day_of_year(of, season);
    app_fail(app, &err);
    return of;
}

/* From the season, in whichever year it was, to today. */
static void next_kind(struct app *app, void *state, int number)
{
    int64_t of;
    const struct pages_kind *kind = pages_shown(state, &of);
    const struct pages_kind *next = &kinds[(kind - kinds + 1) % PAGES_COUNT];
    if (kind == &kinds[SEASON])
        of = today(app);
    if (next == &kinds[SEASON])
        of = day_of_season(app, of);
    pages_show(app, state, next, of);
}

static bool accept_date(struct app *app, struct form *form, void *context, int *ret_field,
                        struct err *err)
{
    int64_t of;
    const struct pages_kind *kind = pages_shown(context, &of);
    pages_show(app, context, kind, date_days(form->fields[0].value));
    app_pop(app);
    return true;
}

static void ask_date(struct app *app, void *state, int number)
{
    static const struct field_spec spec = {.label = "Date", .kind = FIELD_DAY, .required = true};
    static const struct form_task task = {.accept = accept_date};
    struct form form;
    char day[DATE_SIZE];
    int64_t of;
    pages_shown(state, &of);
    day_of(of, day);
    form_init(&form, "Of which day", &spec, 1);
    form_set(&form, 0, day);
    app_push_form(app, &form, &task, state);
}

static const struct key_row rows[] = {
    {"- Left", "earlier", "a day earlier; what is due: a week, the season: a year", .handler = step,
     .number = -1},
    {"+ Right", "later", "a day, a week or a year later", .handler = step, .number = 1},
    {"* d", "date", "choose the date", .handler = ask_date},
    {"/ Tab", "day, list, due, season", "the next of: day's sheet, cull list, due, season book",
     .handler = next_kind},
    {.shared = &pages_output_keys},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table calendar_keys = KEY_TABLE("Reading a day or a season", rows);

void app_open_calendar(struct app *app)
{
    app_open_pages(app, &kinds[DAY], today(app));
}
