/* The parents: who can be set, what they are, and how often each was set. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/broodstock.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Which parents are shown, one after the other. */
enum narrowing { ALL, CAN_BE_SET, RESTING, SOLD, DEAD, UNSAID, NARROWING_COUNT };

static const char *const narrowings[NARROWING_COUNT] = {
    [ALL] = "all",   [CAN_BE_SET] = "those that can be set", [RESTING] = "resting", [SOLD] = "sold",
    [DEAD] = "dead", [UNSAID] = "without a state",
};

struct parents_screen {
    struct list list;
    enum narrowing narrowing;
    struct broodstock *stock; /* NULL = not read yet */
    const struct brood_fish **shown;
};

static void forget(struct parents_screen *screen)
{
    if (screen->stock != NULL)
        broodstock_done(screen->stock);
    free(screen->stock);
    free(screen->shown);
}

static const struct brood_fish *selected(const struct parents_screen *screen)
{
    return screen->list.count > 0 ? screen->shown[screen->list.current] : NULL;
}

/* Filling. */

static bool is_shown(const struct brood_fish *fish, enum narrowing narrowing)
{
    switch (narrowing) {
    case CAN_BE_SET:
        return fish->available.as_dam || fish->available.as_sire;
    case RESTING:
        return fish->parent->state == BROOD_RESTING;
    case SOLD:
        return fish->parent->state == BROOD_SOLD;
    case DEAD:
        return fish->parent->state == BROOD_DEAD;
    case UNSAID:
        return fish->parent->state == BROOD_UNSAID;
    case ALL:
    case NARROWING_COUNT:
        break;
    }
    return true;
}

/* Shows those of the narrowing; the cursor goes to this fish where it is among them. */
static void show(struct parents_screen *screen, int64_t id)
{
    int count = 0, place = 0;
    for (int i = 0; i < screen->stock->pedigree.count; i++) {
        const struct brood_fish *fish = &screen->stock->fish[i];
        if (!is_shown(fish, screen->narrowing))
            continue;
        if (fish->parent->id == id)
            place = count;
        screen->shown[count++] = fish;
    }
    list_count(&screen->list, count);
    list_to(&screen->list, place);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct parents_screen *screen = state;
    struct broodstock stock;
    if (!broodstock_read(app->ledger, &stock, err))
        return false;
    int64_t id = selected(screen) != NULL ? selected(screen)->parent->id : 0;
    forget(screen);
    screen->stock = alloc_zeroed(1, sizeof *screen->stock);
    *screen->stock = stock;
    screen->shown = alloc_zeroed((size_t)stock.pedigree.count + 1, sizeof(struct brood_fish *));
    show(screen, id);
    return true;
}

/* Drawing. */

static const struct parent *parent_at(const void *item)
{
    return ((const struct brood_fish *)item)->parent;
}

static void code_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    text_copy(ret_text, COLUMN_TEXT_SIZE, parent_at(item)->code);
}

static void sex_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    text_copy(ret_text, COLUMN_TEXT_SIZE, sex_terms[parent_at(item)->sex].word);
}

static void variety_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    text_copy(ret_text, COLUMN_TEXT_SIZE, parent_at(item)->variety);
}

static void born_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    if (parent_at(item)->born != 0)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%d", parent_at(item)->born);
}

static void forebears_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct parent *parent = parent_at(item);
    if (parent->dam[0] != '\0' || parent->sire[0] != '\0')
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%.60s × %.60s",
                 parent->dam[0] != '\0' ? parent->dam : "?",
                 parent->sire[0] != '\0' ? parent->sire : "?");
}

static void spawnings_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct brood_fish *fish = item;
    if (fish->spawnings > 0)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%d, %d", fish->spawnings, fish->last_season);
}

static void state_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    const struct parent *parent = parent_at(item);
    snprintf(ret_text, COLUMN_TEXT_SIZE, "%s%s%s", brood_state_terms[parent->state].word,
             parent->since[0] != '\0' ? " " : "", parent->since);
}

static const struct list_column columns[] = {
    {.heading = "parent", .width = 12, .style = STYLE_STRONG, .text = code_text},
    {.heading = "", .gap = 1, .width = 1, .text = sex_text},
    {.heading = "variety", .gap = 1, .width = 13, .text = variety_text},
    {.heading = "born", .gap = 1, .width = 4, .text = born_text},
    {.heading = "dam × sire", .gap = 1, .width = 13, .text = forebears_text},
    {.heading = "set, last", .gap = 1, .width = 9, .text = spawnings_text},
    {.heading = "state, since", .gap = 1, .width = -1, .text = state_text},
};
enum { COLUMN_COUNT = sizeof columns / sizeof *columns };

static void draw_parent(struct grid *grid, struct rows *rows, const void *model, int index,
                        bool is_selected)
{
    const struct parents_screen *screen = model;
    const struct brood_fish *fish = screen->shown[index];
    int row = rows_begin(rows, grid, is_selected);
    columns_draw(grid, row, columns, COLUMN_COUNT, fish,
                 parent_is_out(fish->parent) ? STYLE_QUIET : STYLE_PLAIN);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct parents_screen *screen = state;
    char beside[64];
    snprintf(beside, sizeof beside, "%s: %d", narrowings[screen->narrowing], screen->list.count);
    struct body body = app_frame(app, grid, "parents", beside);
    columns_heading(grid, body.top++, columns, COLUMN_COUNT);
    body.rows--;
    if (screen->list.count == 0)
        grid_put(grid, body.top, TEXT_COLUMN, -1, STYLE_QUIET,
                 screen->narrowing == ALL ? "no parent yet; + adds one" : "none");
    list_draw(&screen->list, grid, body, draw_parent, screen);
}

/* Keys. */

/* What is done with the selected one. */
enum { OPEN, CHANGE, STATE };

static void do_task(struct app *app, void *state, int task)
{
    const struct brood_fish *fish = selected(state);
    if (fish == NULL)
        app_say(app, "There is no parent here.");
    else if (task == OPEN)
        app_open_parent(app, fish->parent->code);
    else if (task == CHANGE)
        app_ask_parent_change(app, fish->parent);
    else
        app_ask_parent_state(app, fish->parent);
}

static void open_record(struct app *app, void *state, int number)
{
    const struct brood_fish *fish = selected(state);
    if (fish != NULL)
        app_open_record(app, RECORD_PARENT, fish->parent->id);
    else
        app_say(app, "There is no parent here.");
}

static void add(struct app *app, void *state, int number)
{
    app_ask_parent(app, "", SEX_UNKNOWN);
}

/* To the next that shows any; all have some. */
static void narrow(struct app *app, void *state, int number)
{
    struct parents_screen *screen = state;
    int64_t id = selected(screen) != NULL ? selected(screen)->parent->id : 0;
    if (screen->stock == NULL)
        return;
    do {
        screen->narrowing = (enum narrowing)((screen->narrowing + 1) % NARROWING_COUNT);
        show(screen, id);
    } while (screen->list.count == 0 && screen->narrowing != ALL);
}

static const struct key_row rows[] = {
    {"Enter", "open", "its pedigree, its young and its spawnings", .handler = do_task,
     .number = OPEN},
    {"+ n", "add", "add a parent", .handler = add},
    {"* c", "change", "change its record: code, sex, variety, dam, sire", .handler = do_task,
     .number = CHANGE},
    {"5 s", "state", "available, resting, sold or dead, and since when", .handler = do_task,
     .number = STATE},
    {"/ f", "narrow", "only those that can be set, are resting, sold or dead", .handler = narrow},
    RECORD_KEYS("its history; retire it"),
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to where you were"),
};

const struct key_table parents_keys = KEY_TABLE("Parents", rows);

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind parents_kind = {
    .keys = &parents_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_parents(struct app *app)
{
    app_push(app, &parents_kind, alloc_zeroed(1, sizeof(struct parents_screen)));
}
