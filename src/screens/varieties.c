/* The varieties that standards, spawnings and parents share, and how many of each there are. */
#include "varieties.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/ui/list.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct variety_line {
    struct variety variety;
    int spawnings, parents;
};

struct varieties_screen {
    struct list list;
    struct variety_line *lines;
    size_t count;
};

static const struct variety_line *selected(const struct varieties_screen *screen)
{
    return screen->count > 0 ? &screen->lines[screen->list.current] : NULL;
}

/* Filling. */

static struct variety_line *line_of(struct variety_line *lines, size_t count, const char *name)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(lines[i].variety.name, name) == 0)
            return &lines[i];
    return NULL;
}

static bool count_spawnings(struct app *app, struct variety_line *lines, size_t count,
                            struct err *err)
{
    struct spawning *spawnings;
    size_t spawning_count;
    if (!spawning_list(app->ledger, &spawnings, &spawning_count, err))
        return false;
    for (size_t i = 0; i < spawning_count; i++) {
        struct variety_line *line = line_of(lines, count, spawnings[i].variety);
        if (line != NULL)
            line->spawnings++;
    }
    free(spawnings);
    return true;
}

static bool count_parents(struct app *app, struct variety_line *lines, size_t count,
                          struct err *err)
{
    struct parent *parents;
    size_t parent_count;
    if (!parent_list(app->ledger, &parents, &parent_count, err))
        return false;
    for (size_t i = 0; i < parent_count; i++) {
        struct variety_line *line = line_of(lines, count, parents[i].variety);
        if (line != NULL)
            line->parents++;
    }
    free(parents);
    return true;
}

/* The cursor stays on its variety, whatever it is called now. */
static void take(struct varieties_screen *screen, struct variety_line *lines, size_t count)
{
    const struct variety_line *before = selected(screen);
    int64_t id = before != NULL ? before->variety.id : 0;
    list_count(&screen->list, (int)count);
    for (size_t i = 0; i < count; i++)
        if (lines[i].variety.id == id)
            list_to(&screen->list, (int)i);
    free(screen->lines);
    screen->lines = lines;
    screen->count = count;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct variety *varieties;
    size_t count;
    if (!variety_list(app->ledger, &varieties, &count, err))
        return false;
    struct variety_line *lines = alloc_zeroed(count + 1, sizeof *lines);
    for (size_t i = 0; i < count; i++)
        lines[i].variety = varieties[i];
    free(varieties);
    if (!count_spawnings(app, lines, count, err) || !count_parents(app, lines, count, err)) {
        free(lines);
        return false;
    }
    take(state, lines, count);
    return true;
}

/* Drawing. */

static void name_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    text_copy(ret_text, COLUMN_TEXT_SIZE, ((const struct variety_line *)item)->variety.name);
}

static void japanese_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    text_copy(ret_text, COLUMN_TEXT_SIZE, ((const struct variety_line *)item)->variety.japanese);
}

static void number_text(int number, char ret_text[COLUMN_TEXT_SIZE])
{
    if (number > 0)
        snprintf(ret_text, COLUMN_TEXT_SIZE, "%d", number);
}

static void spawnings_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    number_text(((const struct variety_line *)item)->spawnings, ret_text);
}

static void parents_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    number_text(((const struct variety_line *)item)->parents, ret_text);
}

static void spellings_text(const void *item, char ret_text[COLUMN_TEXT_SIZE])
{
    char spelling[CODE_SIZE];
    struct text text;
    text_init(&text);
    for (const char *list = ((const struct variety_line *)item)->variety.spellings;
         code_next(&list, spelling);)
        text_join(&text, ", ", spelling);
    text_copy(ret_text, COLUMN_TEXT_SIZE, text.data);
    text_done(&text);
}

static const struct list_column columns[] = {
    {.heading = "variety", .width = 16, .style = STYLE_STRONG, .text = name_text},
    {.heading = "Japanese", .width = 14, .text = japanese_text},
    {.heading = "spawnings", .width = 9, .right = true, .text = spawnings_text},
    {.heading = "parents", .width = 8, .right = true, .text = parents_text},
    {.heading = "also written",
     .gap = 2,
     .width = -1,
     .style = STYLE_QUIET,
     .text = spellings_text},
};
enum { COLUMN_COUNT = sizeof columns / sizeof *columns };

static void draw_variety(struct grid *grid, struct rows *rows, const void *model, int index,
                         bool is_selected)
{
    const struct varieties_screen *screen = model;
    int row = rows_begin(rows, grid, is_selected);
    columns_draw(grid, row, columns, COLUMN_COUNT, &screen->lines[index], STYLE_PLAIN);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct varieties_screen *screen = state;
    char beside[32];
    snprintf(beside, sizeof beside, "%zu varieties", screen->count);
    struct body body = app_frame(app, grid, "varieties", beside);
    columns_heading(grid, body.top++, columns, COLUMN_COUNT);
    body.rows--;
    list_draw(&screen->list, grid, body, draw_variety, screen);
}

/* Keys. */

static void change(struct app *app, void *state, int number)
{
    const struct variety_line *line = selected(state);
    if (line != NULL)
        app_ask_variety(app, &line->variety);
}

static void add(struct app *app, void *state, int number)
{
    app_ask_variety(app, NULL);
}

/* Nothing is lost by it: its name said again brings it back. */
static void retire(struct app *app, void *state, int number)
{
    const struct variety_line *line = selected(state);
    struct err err;
    if (line == NULL)
        return;
    if (record_retire(app->ledger, RECORD_VARIETY, line->variety.id, app->judge, "", &err))
        app_say(app, "%s is retired; adding it again brings it back.", line->variety.name);
    else
        app_fail(app, &err);
    app->stale = true;
}

static void open_record(struct app *app, void *state, int number)
{
    const struct variety_line *line = selected(state);
    if (line != NULL)
        app_open_record(app, RECORD_VARIETY, line->variety.id);
}

static const struct key_row rows[] = {
    {"Enter * c", "change", "change the name, the Japanese name, other spellings",
     .handler = change},
    {"+ n", "add", "add a variety", .handler = add},
    {"- r", "retire", "take it off the list; nothing may be of it", .handler = retire},
    RECORD_KEYS("its history"),
    {.shared = &list_keys},
    HELP_KEYS,
    LEAVE_KEYS("back", "back"),
};

const struct key_table varieties_keys = KEY_TABLE("Varieties", rows);

static void done(void *state)
{
    struct varieties_screen *screen = state;
    free(screen->lines);
    free(screen);
}

static const struct screen_kind varieties_kind = {
    .keys = &varieties_keys, .refresh = refresh, .draw = draw, .done = done};

void app_open_varieties(struct app *app)
{
    app_push(app, &varieties_kind, alloc_zeroed(1, sizeof(struct varieties_screen)));
}
