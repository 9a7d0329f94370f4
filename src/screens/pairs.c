/* Pairs over the seasons, filled from the ledger when the screen opens or the cull changes: fitting
 * the model takes its time. */
#include "senbetsu/print/pairs.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/pair_line.h"
#include "senbetsu/screens/screens.h"

#include <stdlib.h>
#include <string.h>

/* The cull from what went into the first to what the last one kept. */
enum { WHOLE_WAY = -1 };

/* A row and what it is sorted by. */
struct sorted_row {
    const struct pair_row *row;
    double value;
};

struct pairs_screen {
    int stage; /* or WHOLE_WAY */
    int made_stage;
    struct pairs_made *made; /* NULL = not yet */
    bool untried_hidden;
    const struct pair_row *asked;  /* by the what-if form; may be NULL */
    const struct pair_row *chosen; /* the one asked for last, once it is in front */
    struct sorted_row *shown;
    struct pairs_line *lines; /* in the same order */
    struct pairs_view view;
};

static void forget(struct pairs_screen *screen)
{
    if (screen->made != NULL)
        pairs_done(screen->made);
    free(screen->made);
}

static const struct pair_row *front(const struct pairs_screen *screen)
{
    return screen->view.line_count > 0 ? screen->shown[screen->view.list.current].row : NULL;
}

/* The same pair in another table, or NULL. */
static const struct pair_row *same_pair(const struct pairs_table *table, const struct pair_row *row)
{
    for (size_t i = 0; row != NULL && i < table->count; i++)
        if (strcmp(table->rows[i].dam, row->dam) == 0 &&
            strcmp(table->rows[i].sires, row->sires) == 0)
            return &table->rows[i];
    return NULL;
}

/* What the rows are sorted by, largest first; the same for all: by name. */
static double sort_value(const struct pair_row *row, enum pairs_column column)
{
    switch (column) {
    case PAIRS_RESTS:
        return row->spawnings;
    case PAIRS_COUNTED:
        return row->has_rate ? row->rate : -1;
    case PAIRS_EXPECTED:
        return row->has_prediction ? row->prediction.expected : -1;
    case PAIRS_BEST:
        return row->has_prediction ? row->prediction.best : -1;
    case PAIRS_INBREEDING:
        return row->has_inbreeding ? row->inbreeding : -1;
    case PAIRS_NAME:
    case PAIRS_COLUMN_COUNT:
        break;
    }
    return 0;
}

static int compare_rows(const void *left, const void *right)
{
    const struct sorted_row *a = left, *b = right;
    int order = strcmp(a->row->variety, b->row->variety);
    if (order == 0)
        order = (b->value > a->value) - (b->value < a->value);
    if (order == 0)
        order = strcmp(a->row->dam, b->row->dam);
    return order != 0 ? order : strcmp(a->row->sires, b->row->sires);
}

/* Puts them into `shown`; returns how many. */
static size_t sort_rows(struct pairs_screen *screen)
{
    const struct pairs_table *table = &screen->made->table;
    size_t count = 0;
    for (size_t i = 0; i < table->count; i++) {
        const struct pair_row *row = &table->rows[i];
        if (!row->untried || !screen->untried_hidden || row == screen->chosen)
            screen->shown[count++] = (struct sorted_row){row, sort_value(row, screen->view.sorted)};
    }
    qsort(screen->shown, count, sizeof *screen->shown, compare_rows);
    return count;
}

/* That of the page: rows of the same variety stand together in the table. */
static double scale_of(const struct pairs_table *table, const char *variety)
{
    size_t first = 0, end;
    while (strcmp(table->rows[first].variety, variety) != 0)
        first++;
    for (end = first; end < table->count && strcmp(table->rows[end].variety, variety) == 0;)
        end++;
    return pairs_scale(table->rows + first, end - first);
}

/* Lists the rows anew, this one in front where it is among them. */
static void list_rows(struct pairs_screen *screen, const struct pair_row *in_front)
{
    const struct pairs_table *table = &screen->made->table;
    struct pairs_view *view = &screen->view;
    size_t count = sort_rows(screen), place = 0;
    for (size_t i = 0; i < count; i++) {
        const struct pair_row *row = screen->shown[i].row;
        screen->lines[i] = pair_line(row, scale_of(table, row->variety));
        screen->lines[i].chosen = row == screen->chosen;
        if (row == in_front)
            place = i;
    }
    view->line_count = count;
    view->untried_hidden = table->count - count;
    pairs_ready(view);
    list_to(&view->list, (int)place);
}

/* Takes the place of what was made before. */
static void take(struct pairs_screen *screen, struct pairs_made *made)
{
    const struct pairs_table *table = &made->table;
    const struct pair_row *in_front = same_pair(table, front(screen));
    screen->chosen = same_pair(table, screen->chosen);
    forget(screen);
    free(screen->shown);
    free(screen->lines);
    screen->made = made;
    screen->made_stage = screen->stage;
    screen->shown = alloc_zeroed(table->count + 1, sizeof *screen->shown);
    screen->lines = alloc_zeroed(table->count + 1, sizeof *screen->lines);
    screen->view.lines = screen->lines;
    screen->view.trouble = table->trouble;
    stage_range(table->first, table->last, screen->view.stages);
    list_rows(screen, in_front);
}

static bool make(struct app *app, struct pairs_screen *screen, struct err *err)
{
    struct pairs_made *made = alloc_zeroed(1, sizeof *made);
    if (pairs_make(app->ledger, screen->stage, NULL, 0, made, err)) {
        take(screen, made);
        return true;
    }
    free(made);
    return false;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct pairs_screen *screen = state;
    if ((screen->made == NULL || screen->made_stage != screen->stage) && !make(app, screen, err))
        return false;
    if (screen->asked != NULL) {
        screen->chosen = screen->asked;
        screen->asked = NULL;
        list_rows(screen, screen->chosen);
    }
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct pairs_screen *screen = state;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    pairs_draw(grid, &screen->view);
}

static void choose(struct app *app, const struct pairs_screen *screen)
{
    const struct pair_row *row = front(screen);
    if (row == NULL)
        app_say(app, "There is no pair here; add a spawning with its dam and sires first.");
    else if (row->untried)
        app_say(app, "%s and %s were never set together, so there are no spawnings.", row->dam,
                row->sires);
    else
        app_open_pair(app, screen->made, row);
}

static bool is_culled(const struct pairs_screen *screen, int stage)
{
    const struct families *families = &screen->made->fit.families;
    bool culled = stage == WHOLE_WAY;
    for (size_t i = 0; i < families->count && !culled; i++)
        culled = family_went_through(&families->list[i], (enum stage)stage, (enum stage)stage);
    return culled;
}

/* To the next cull on that side that some spawning went through. */
static void go_to_stage(struct app *app, struct pairs_screen *screen, int by)
{
    int stage = screen->stage + by;
    while (stage > WHOLE_WAY && stage < STAGE_COUNT && !is_culled(screen, stage))
        stage += by;
    if (stage < WHOLE_WAY || stage >= STAGE_COUNT) {
        app_say(app, "There is no cull on that side.");
        return;
    }
    screen->stage = stage;
    app->stale = true;
}

static void sort(struct pairs_screen *screen)
{
    screen->view.sorted = (screen->view.sorted + 1) % PAIRS_COLUMN_COUNT;
    list_rows(screen, front(screen));
}

static void toggle_untried(struct pairs_screen *screen)
{
    screen->untried_hidden = !screen->untried_hidden;
    list_rows(screen, front(screen));
}

/* The dam in front is offered first. */
static void ask_cross(struct app *app, struct pairs_screen *screen)
{
    const struct pair_row *row = front(screen);
    app_ask_cross(app, &screen->made->table, row != NULL ? row->dam : "", &screen->asked);
}

static bool make_page(struct app *app, int64_t stage, struct page_setup setup, struct text *out,
                      struct err *err)
{
    struct pairs_made made;
    if (!pairs_make(app->ledger, (int)stage, NULL, 0, &made, err))
        return false;
    pairs_print(&made.table, setup, out);
    pairs_done(&made);
    return true;
}

static void open_page(struct app *app, int stage)
{
    static const struct pages_kind kind = {.title = "The page of the pairs",
                                           .save = "Save the page of the pairs",
                                           .file = "pairs",
                                           .make = make_page};
    app_open_pages(app, &kind, stage);
}

/* What needs the rows. */
static void press_at_rows(struct app *app, struct pairs_screen *screen, int action, int number)
{
    switch (action) {
    case LIST_CHOOSE:
        choose(app, screen);
        break;
    case PAIRS_STAGE:
        go_to_stage(app, screen, number);
        break;
    case PAIRS_SORT:
        sort(screen);
        break;
    case PAIRS_UNTRIED:
        toggle_untried(screen);
        break;
    case PAIRS_WHAT_IF:
        ask_cross(app, screen);
        break;
    case PAIRS_PAGE:
        open_page(app, screen->stage);
        break;
    default:
        break;
    }
}

static void press(struct app *app, void *state, struct key key)
{
    struct pairs_screen *screen = state;
    const struct binding *binding = binding_find(CONTEXT_PAIRS, key);
    int action = list_key(&screen->view.list, CONTEXT_PAIRS, key);
    if (action == LIST_HELP || action == LIST_LEAVE)
        app_list_act(app, action);
    else if (binding != NULL && screen->made != NULL)
        press_at_rows(app, screen, action, binding->number);
}

static void done(void *state)
{
    struct pairs_screen *screen = state;
    forget(screen);
    free(screen->shown);
    free(screen->lines);
    free(screen);
}

static const struct screen_kind pairs_kind = {.refresh = refresh,
                                              .draw = draw,
                                              .key = press,
                                              .done = done,
                                              .all_bound = true,
                                              .context = CONTEXT_PAIRS};

void app_open_pairs(struct app *app)
{
    struct pairs_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->stage = WHOLE_WAY;
    screen->view.sorted = PAIRS_EXPECTED;
    screen->view.trouble = "";
    app_push(app, &pairs_kind, screen);
}
