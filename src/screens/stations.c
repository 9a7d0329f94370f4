/* The stations that this ledger knows, and what two of them changed differently: who said what, and
 * a form to decide it. From here another station's ledger is joined (join.c). */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/join.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/join.h"
#include "senbetsu/store/station.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>

struct stations_screen {
    struct list list;
    struct station *stations;
    size_t station_count;
    struct difference *differences;
    size_t difference_count;
    char **clashes;
    size_t clash_count;
    int offset_minutes;
};

static void forget(struct stations_screen *screen)
{
    free(screen->stations);
    free(screen->differences);
    clashes_free(screen->clashes, screen->clash_count);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct stations_screen *screen = state;
    struct stations_screen filled = {.list = screen->list,
                                     .offset_minutes = ledger_clock(app->ledger)->offset_minutes};
    if (!station_list(app->ledger, &filled.stations, &filled.station_count, err) ||
        !difference_list(app->ledger, &filled.differences, &filled.difference_count, err) ||
        !clash_list(app->ledger, &filled.clashes, &filled.clash_count, err)) {
        forget(&filled);
        return false;
    }
    list_count(&filled.list,
               (int)(filled.station_count + filled.difference_count + filled.clash_count));
    forget(screen);
    *screen = filled;
    return true;
}

/* The selected difference, or NULL. */
static const struct difference *selected(const struct stations_screen *screen)
{
    size_t index = (size_t)screen->list.current - screen->station_count;
    return (size_t)screen->list.current >= screen->station_count && index < screen->difference_count
               ? &screen->differences[index]
               : NULL;
}

/* Drawing. */

static void draw_station(struct grid *grid, int row, const struct stations_screen *screen,
                         const struct station *station)
{
    char day[DATE_SIZE];
    date_of_instant(station->born_ms, screen->offset_minutes, day);
    grid_putf(grid, row, TEXT_COLUMN, -1, station->here ? STYLE_STRONG : STYLE_PLAIN,
              "%s, since %s%s", station_shown(station->name), day,
              station->here ? ": this ledger" : "");
}

static void draw_difference(struct grid *grid, struct rows *rows,
                            const struct stations_screen *screen,
                            const struct difference *difference, bool is_selected)
{
    struct text origin;
    grid_putf(grid, rows_begin(rows, grid, is_selected), TEXT_COLUMN, -1, STYLE_STRONG, "%s: %s",
              difference->title, difference->field);
    text_init(&origin);
    for (int i = 0; i < difference->count; i++) {
        const struct statement_of *said = &difference->said[i];
        text_clear(&origin);
        statement_origin_add(said, screen->offset_minutes, &origin);
        grid_putf(grid, rows_next(rows), TEXT_COLUMN + 2, -1,
                  said->stands ? STYLE_PLAIN : STYLE_QUIET, "%s %s (%s)",
                  said->stands ? "stands:" : "or:    ",
                  said->value[0] != '\0' ? said->value : "nothing", origin.data);
    }
    text_done(&origin);
}

static void draw_title(struct grid *grid, struct rows *rows, bool first, const char *title)
{
    if (!first)
        rows_next(rows);
    grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_TITLE, title);
}

/* A clash is one sentence: what does not fit into a line is on the page that the keys lead to. */
static void draw_line(struct grid *grid, struct rows *rows, const void *model, int item,
                      bool is_selected)
{
    const struct stations_screen *screen = model;
    size_t index = (size_t)item;
    if (index < screen->station_count) {
        if (index == 0)
            draw_title(grid, rows, true, "Stations");
        draw_station(grid, rows_begin(rows, grid, is_selected), screen, &screen->stations[index]);
        return;
    }
    index -= screen->station_count;
    if (index == 0)
        draw_title(grid, rows, false, "To be decided");
    if (index < screen->difference_count) {
        draw_difference(grid, rows, screen, &screen->differences[index], is_selected);
        return;
    }
    enum { CLASH_ROWS = 3 };
    int row = rows_begin(rows, grid, is_selected);
    int used = grid_wrap(grid, row, TEXT_COLUMN, CLASH_ROWS, STYLE_PLAIN,
                         screen->clashes[index - screen->difference_count]);
    for (int i = 1; i < used; i++)
        rows_next(rows);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct stations_screen *screen = state;
    struct body body = app_frame(app, grid, "stations, and what is to be decided", app->judge_name);
    list_draw(&screen->list, grid, body, draw_line, screen);
    if (screen->difference_count + screen->clash_count == 0)
        grid_put(grid, body.top + body.rows - 1, TEXT_COLUMN, -1, STYLE_QUIET,
                 "There is nothing to decide.");
}

/* Deciding. */

enum { DECIDED, DECIDED_WHY, DECIDE_FIELDS };

static const struct field_spec decide_specs[DECIDE_FIELDS] = {
    [DECIDED] = {.label = "What is right", .choices = method_terms, .choice_count = 0},
    [DECIDED_WHY] = {.label = "Why", .hint = "for the history; may stay empty"},
};

/* What the form offers; it must outlive it. */
struct decision_form {
    struct difference about;
    char heading[DIFFERENCE_TEXT_SIZE + CODE_SIZE + 16];
    char origins[8][160];
    struct term offers[8];
};

static bool accept_decision(struct app *app, struct form *form, void *context, int *ret_field,
                            struct err *err)
{
    const struct decision_form *decision = context;
    const char *why = form->fields[DECIDED_WHY].value;
    const struct statement_of *chosen = &decision->about.said[form->fields[DECIDED].choice];
    if (!difference_decide(app->ledger, chosen->entry, app->judge, why[0] != '\0' ? why : "decided",
                           err))
        return false;
    app_say(app, "Decided; every ledger that this one is joined with will have it so.");
    app_pop(app);
    return true;
}

static void ask_decision(struct app *app, const struct difference *difference, int offset_minutes)
{
    static const struct form_task task = {.accept = accept_decision, .done = free};
    struct decision_form *decision = alloc_zeroed(1, sizeof *decision);
    struct form form;
    decision->about = *difference;
    snprintf(decision->heading, sizeof decision->heading, "%s: %s", difference->title,
             difference->field);
    for (int i = 0; i < difference->count; i++) {
        struct statement_of *said = &decision->about.said[i];
        struct text origin;
        text_init(&origin);
        text_addf(&origin, "%s, ", said->value[0] != '\0' ? said->value : "nothing");
        statement_origin_add(said, offset_minutes, &origin);
        text_copy(decision->origins[i], sizeof decision->origins[i], origin.data);
        text_done(&origin);
        decision->offers[i] = (struct term){decision->origins[i], ""};
    }
    form_init(&form, decision->heading, decide_specs, DECIDE_FIELDS);
    form_offer(&form, DECIDED, decision->offers, difference->count, 0);
    app_push_form(app, &form, &task, decision);
}

static void choose(struct app *app, void *state, int number)
{
    const struct stations_screen *screen = state;
    const struct difference *difference = selected(screen);
    if (difference != NULL)
        ask_decision(app, difference, screen->offset_minutes);
    else
        app_say(app, "Select what two stations changed differently; then decide.");
}

/* Naming. */

static const struct field_spec name_spec = {.label = "This station is",
                                            .hint = "such as \"office\" or \"far ponds\"",
                                            .check = check_code,
                                            .required = true};

static bool accept_name(struct app *app, struct form *form, void *context, int *ret_field,
                        struct err *err)
{
    *ret_field = 0;
    if (!station_rename(app->ledger, form->fields[0].value, app->judge, err))
        return false;
    app_pop(app);
    return true;
}

static void ask_name(struct app *app, void *state, int number)
{
    static const struct form_task task = {.accept = accept_name};
    const struct stations_screen *screen = state;
    struct form form;
    form_init(&form, "This station's name", &name_spec, 1);
    for (size_t i = 0; i < screen->station_count; i++)
        if (screen->stations[i].here)
            form_set(&form, 0, screen->stations[i].name);
    app_push_form(app, &form, &task, NULL);
}

static void join(struct app *app, void *state, int number)
{
    app_ask_join(app);
}

static const struct key_row rows[] = {
    {"Enter", "decide", "decide what two stations changed differently", .handler = choose},
    {"+ n", "join", "add another station's ledger; what comes is shown first", .handler = join},
    {"* c", "name", "give this station a name", .handler = ask_name},
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table stations_keys = KEY_TABLE("Stations, and what is to be decided", rows);

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind stations_kind = {
    .keys = &stations_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_stations(struct app *app)
{
    app_push(app, &stations_kind, alloc_zeroed(1, sizeof(struct stations_screen)));
}
