/* One parent: its pedigree, the spawnings it was set for, its young among the parents. Every line
 * leads on, so that a line of descent is walked with one key. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/broodstock.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A line is a forebear, a spawning or one of its young. */
struct parent_line {
    const char *part;           /* the heading over the first of its kind; NULL = as before */
    const char *what;           /* "dam", "his sire"; "" */
    const struct parent *fish;  /* or */
    const struct spawning *set; /* a spawning */
};

struct parent_screen {
    struct list list;
    int64_t id; /* the code may change */
    char code[CODE_SIZE];
    struct broodstock *stock; /* NULL = not read yet */
    int place;                /* of the parent */
    double inbreeding;
    struct parent_line *lines;
};

static void forget(struct parent_screen *screen)
{
    if (screen->stock != NULL)
        broodstock_done(screen->stock);
    free(screen->stock);
    free(screen->lines);
}

static const struct parent *shown(const struct parent_screen *screen)
{
    return &screen->stock->pedigree.parents[screen->place];
}

/* Filling. */

static void add_forebear(struct parent_screen *screen, int *count, int place, const char *what)
{
    if (place == UNKNOWN_PARENT)
        return;
    screen->lines[*count] = (struct parent_line){.part = *count == 0 ? "Pedigree" : NULL,
                                                 .what = what,
                                                 .fish = &screen->stock->pedigree.parents[place]};
    ++*count;
}

static void add_forebears(struct parent_screen *screen, int *count)
{
    const struct pedigree_fish *fish = screen->stock->pedigree.fish;
    int dam = fish[screen->place].dam, sire = fish[screen->place].sire;
    add_forebear(screen, count, dam, "dam");
    add_forebear(screen, count, dam == UNKNOWN_PARENT ? dam : fish[dam].dam, "  her dam");
    add_forebear(screen, count, dam == UNKNOWN_PARENT ? dam : fish[dam].sire, "  her sire");
    add_forebear(screen, count, sire, "sire");
    add_forebear(screen, count, sire == UNKNOWN_PARENT ? sire : fish[sire].dam, "  his dam");
    add_forebear(screen, count, sire == UNKNOWN_PARENT ? sire : fish[sire].sire, "  his sire");
}

static void add_spawnings(struct parent_screen *screen, int *count)
{
    bool first = true;
    for (size_t i = 0; i < screen->stock->spawning_count; i++) {
        const struct spawning *spawning = &screen->stock->spawnings[i];
        if (!spawning_has_parent(spawning, shown(screen)->code))
            continue;
        screen->lines[(*count)++] =
            (struct parent_line){.part = first ? "Spawnings" : NULL, .what = "", .set = spawning};
        first = false;
    }
}

static void add_young(struct parent_screen *screen, int *count)
{
    const struct pedigree *pedigree = &screen->stock->pedigree;
    bool first = true;
    for (int i = 0; i < pedigree->count; i++) {
        if (pedigree->fish[i].dam != screen->place && pedigree->fish[i].sire != screen->place)
            continue;
        screen->lines[(*count)++] =
            (struct parent_line){.part = first ? "Young among the parents" : NULL,
                                 .what = "",
                                 .fish = &pedigree->parents[i]};
        first = false;
    }
}

static int place_of(const struct parent_screen *screen, const struct broodstock *stock)
{
    for (int i = 0; i < stock->pedigree.count; i++)
        if (screen->id != 0 ? stock->pedigree.parents[i].id == screen->id
                            : strcmp(stock->pedigree.parents[i].code, screen->code) == 0)
            return i;
    return UNKNOWN_PARENT;
}

static bool read_stock(struct app *app, struct parent_screen *screen, struct broodstock *stock,
                       struct err *err)
{
    screen->place = place_of(screen, stock);
    return screen->place == UNKNOWN_PARENT
               ? err_set(err, ERR_ABSENT, "There is no parent %s in the ledger.", screen->code)
               : broodstock_inbreeding(stock, screen->place, &screen->inbreeding, err);
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    enum { FOREBEARS = 6 };
    struct parent_screen *screen = state;
    struct parent_screen filled = {.list = screen->list, .id = screen->id};
    struct broodstock stock;
    int count = 0;
    text_copy(filled.code, sizeof filled.code, screen->code);
    if (!broodstock_read(app->ledger, &stock, err))
        return false;
    if (!read_stock(app, &filled, &stock, err)) {
        broodstock_done(&stock);
        return false;
    }
    filled.stock = alloc_zeroed(1, sizeof *filled.stock);
    *filled.stock = stock;
    filled.id = shown(&filled)->id;
    filled.lines = alloc_zeroed(FOREBEARS + stock.spawning_count + (size_t)stock.pedigree.count + 1,
                                sizeof *filled.lines);
    add_forebears(&filled, &count);
    add_spawnings(&filled, &count);
    add_young(&filled, &count);
    list_count(&filled.list, count);
    forget(screen);
    *screen = filled;
    return true;
}

/* Drawing. */

/* "female, Kikusui, born 2018, resting since 2026-03-01". */
static void about(const struct parent *parent, struct text *out)
{
    char born[16] = "";
    if (parent->born != 0)
        snprintf(born, sizeof born, "born %d", parent->born);
    text_join(out, ", ",
              parent->sex == SEX_FEMALE ? "female"
              : parent->sex == SEX_MALE ? "male"
                                        : "");
    text_join(out, ", ", parent->variety);
    text_join(out, ", ", born);
    text_join(out, ", ", brood_state_terms[parent->state].word);
    if (parent->since[0] != '\0')
        text_addf(out, " since %s", parent->since);
}

/* "2025-05-30  K25-1  KD3 × KS2". */
static void about_spawning(const struct spawning *spawning, struct text *out)
{
    char pair[NOTE_SIZE];
    text_addf(out, "%d  ", spawning->season);
    text_add_column(out, spawning->code, 12);
    text_addf(out, "  %s", pair_text(spawning, pair, sizeof pair));
}

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int index,
                      bool is_selected)
{
    enum { NAME_COLUMN = TEXT_COLUMN + 12, ABOUT_COLUMN = NAME_COLUMN + 14 };
    const struct parent_screen *screen = model;
    const struct parent_line *line = &screen->lines[index];
    struct text text;
    text_init(&text);
    if (line->part != NULL) {
        rows_next(rows);
        grid_put(grid, rows_next(rows), TEXT_COLUMN, -1, STYLE_TITLE, line->part);
    }
    int row = rows_begin(rows, grid, is_selected);
    if (line->fish != NULL) {
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, line->what);
        grid_put(grid, row, line->what[0] != '\0' ? NAME_COLUMN : TEXT_COLUMN, 13, STYLE_STRONG,
                 line->fish->code);
        about(line->fish, &text);
        grid_put(grid, row, line->what[0] != '\0' ? ABOUT_COLUMN : NAME_COLUMN + 2, -1, STYLE_PLAIN,
                 text.data);
    } else {
        about_spawning(line->set, &text);
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_PLAIN, text.data);
    }
    text_done(&text);
}

/* What is known of the parent itself, over the list. */
static void draw_parent(struct grid *grid, struct body *body, const struct parent_screen *screen)
{
    const struct parent *parent = shown(screen);
    struct text text;
    text_init(&text);
    about(parent, &text);
    grid_put(grid, body->top++, TEXT_COLUMN, -1, STYLE_PLAIN, text.data);
    body->rows--;
    if (parent->dam[0] != '\0' && parent->sire[0] != '\0') {
        grid_putf(grid, body->top++, TEXT_COLUMN, -1, STYLE_PLAIN, "inbreeding %.3g %%",
                  100 * screen->inbreeding);
        body->rows--;
    }
    if (parent->note[0] != '\0') {
        int rows = grid_wrap(grid, body->top, TEXT_COLUMN, 2, STYLE_QUIET, parent->note);
        body->top += rows;
        body->rows -= rows;
    }
    text_done(&text);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct parent_screen *screen = state;
    char title[CODE_SIZE + 16];
    snprintf(title, sizeof title, "parent %s",
             screen->stock != NULL ? shown(screen)->code : screen->code);
    struct body body = app_frame(app, grid, title, NULL);
    if (screen->stock == NULL)
        return;
    draw_parent(grid, &body, screen);
    if (screen->list.count == 0)
        grid_put(grid, body.top + 1, TEXT_COLUMN, -1, STYLE_QUIET,
                 "neither forebears nor spawnings are known");
    list_draw(&screen->list, grid, body, draw_line, screen);
}

/* Keys. */

/* A fish takes the place of the one that is shown: a line of descent may be long. */
static void choose(struct app *app, void *state, int number)
{
    struct parent_screen *screen = state;
    if (screen->list.count == 0) {
        app_say(app, "There is nothing to open here.");
        return;
    }
    const struct parent_line *line = &screen->lines[screen->list.current];
    if (line->set != NULL) {
        app_open_spawning(app, line->set->code);
        return;
    }
    screen->id = line->fish->id;
    list_to(&screen->list, 0);
    app->stale = true;
}

static void change(struct app *app, void *state, int number)
{
    const struct parent_screen *screen = state;
    if (screen->stock != NULL)
        app_ask_parent_change(app, shown(screen));
}

static void change_state(struct app *app, void *state, int number)
{
    const struct parent_screen *screen = state;
    if (screen->stock != NULL)
        app_ask_parent_state(app, shown(screen));
}

static void open_record(struct app *app, void *state, int number)
{
    const struct parent_screen *screen = state;
    if (screen->stock != NULL)
        app_open_record(app, RECORD_PARENT, screen->id);
}

static const struct key_row rows[] = {
    {"Enter", "open", "open the selected fish or spawning", .handler = choose},
    {"* c", "change", "change its record: code, sex, variety, dam, sire", .handler = change},
    {"5 s", "state", "available, resting, sold or dead, and since when", .handler = change_state},
    RECORD_KEYS("its history; retire it"),
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back to where you were"),
};

const struct key_table parent_keys = KEY_TABLE("A parent", rows);

static void done(void *state)
{
    forget(state);
    free(state);
}

static const struct screen_kind parent_kind = {
    .keys = &parent_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_parent(struct app *app, const char *code)
{
    struct parent_screen *screen = alloc_zeroed(1, sizeof *screen);
    text_copy(screen->code, sizeof screen->code, code);
    app_push(app, &parent_kind, screen);
}
