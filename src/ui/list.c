/* A list with a cursor. Its keys find it at the beginning of the screen's state, so that moving is
 * the same few lines for every screen.
 *
 * How many rows an item takes is known only by drawing it. So the list lets items draw where
 * nothing is visible, to learn how far a screen reaches up from the selected one and from the last,
 * and then draws for the screen. That saves every screen from a function that measures and has to
 * agree with the one that draws; and it asks for no more items than three screens hold, however
 * long the list is. */
#include "senbetsu/ui/list.h"
#include "senbetsu/base/utf8.h"

#include <stdio.h>
#include <string.h>

void list_to(struct list *list, int item)
{
    if (item >= list->count)
        item = list->count - 1;
    list->current = item < 0 ? 0 : item;
}

void list_count(struct list *list, int count)
{
    list->count = count;
    list_to(list, list->current);
}

/* Keys. */

static void move(struct app *app, void *state, int items)
{
    struct list *list = state;
    list_to(list, list->current + items);
}

static void turn_page(struct app *app, void *state, int pages)
{
    const struct list *list = state;
    move(app, state, pages * (list->page > 1 ? list->page : 1));
}

static void to_first(struct app *app, void *state, int number)
{
    list_to(state, 0);
}

static void to_last(struct app *app, void *state, int number)
{
    struct list *list = state;
    list_to(list, list->count - 1);
}

static void begin_find(struct app *app, void *state, int number)
{
    struct list *list = state;
    list->find =
        (struct list_find){.on = true, .from = list->current, .at = list->current, .step = -1};
}

static const struct key_row key_rows[] = {
    {"Up 8 k", "above", "a line up", .handler = move, .number = -1},
    {"Down 2 j", "below", "a line down", .handler = move, .number = 1},
    {"PgUp 9", NULL, "a page up", .handler = turn_page, .number = -1},
    {"PgDn 3 Space", NULL, "a page down", .handler = turn_page, .number = 1},
    {"Home 7", NULL, "to the first line", .handler = to_first},
    {"End 1", NULL, "to the last line", .handler = to_last},
    {"# F3", "find", "type what stands in a line; # is the next one, Enter ends it",
     .handler = begin_find},
};

const struct key_table list_keys = KEY_TABLE(NULL, key_rows);

/* Finding. */

enum { UTF8_ROOM = 5 };

static void type(struct list_find *find, uint32_t code)
{
    if (strlen(find->text) + UTF8_ROOM <= sizeof find->text)
        utf8_encode(code, find->text + strlen(find->text));
    find->step = 0;
}

/* The last character, marks and all. */
static void erase(struct list_find *find)
{
    size_t end = strlen(find->text);
    while (end > 0 && ((unsigned char)find->text[end - 1] & 0xC0) == 0x80)
        end--;
    if (end > 0)
        end--;
    else
        find->on = false;
    find->text[end] = '\0';
    find->step = 0;
}

bool list_find_key(struct list *list, struct key key)
{
    struct list_find *find = &list->find;
    if (!find->on)
        return false;
    bool next = (key.kind == KEY_CHARACTER && key.code == '#') || key.kind == KEY_ARROW_DOWN ||
                (key.kind == KEY_FUNCTION && key.code == 3);
    if (next) {
        find->step = 1;
    } else if (key.kind == KEY_CHARACTER) {
        type(find, key.code);
    } else if (key.kind == KEY_ERASE) {
        erase(find);
    } else {
        find->on = false;
        if (key.kind == KEY_ESCAPE)
            list_to(list, find->from);
        return key.kind == KEY_ESCAPE || key.kind == KEY_RETURN;
    }
    return true;
}

static char lower(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

/* Capitals and small letters are the same to whoever types with one hand. */
static bool holds(const char *text, const char *part)
{
    for (; *text != '\0'; text++) {
        size_t i = 0;
        while (part[i] != '\0' && lower(text[i]) == lower(part[i]))
            i++;
        if (part[i] == '\0')
            return true;
    }
    return false;
}

/* An item is drawn on a grid of its own, wider than most screens, so that nothing of it is cut
 * off. */
static bool item_holds(struct grid *grid, draw_item *draw, const void *model, int item,
                       const char *part)
{
    struct rows rows = {.visible = grid->rows};
    struct text text;
    grid_clear(grid);
    draw(grid, &rows, model, item, false);
    text_init(&text);
    grid_text(grid, &text);
    bool found = holds(text.data, part);
    text_done(&text);
    return found;
}

static void find_item(struct list *list, draw_item *draw, const void *model)
{
    enum { ROWS = 6, COLUMNS = 160 };
    struct list_find *find = &list->find;
    int first = find->at + find->step;
    bool found = find->step < 0 || find->text[0] == '\0';
    struct grid grid;
    grid_init(&grid, ROWS, COLUMNS);
    for (int i = 0; i < list->count && !found; i++) {
        int item = (first + i) % list->count;
        found = item_holds(&grid, draw, model, item, find->text);
        if (found)
            list_to(list, find->at = item);
    }
    grid_done(&grid);
    if (find->step >= 0)
        find->absent = !found;
    find->step = -1;
}

static void tell_find(const struct list_find *find, struct grid *grid)
{
    char line[LIST_FIND_SIZE + 96];
    snprintf(line, sizeof line, "Find: %s_  %s", find->text,
             find->absent ? "No line has that; Backspace takes a letter back, Esc goes back."
                          : "#: the next one  Enter: stay here  Esc: back");
    frame_message(grid, find->absent ? STYLE_ALERT : STYLE_STRONG, line);
}

void list_find_draw(struct list *list, struct grid *grid, draw_item *draw, const void *model)
{
    if (!list->find.on)
        return;
    find_item(list, draw, model);
    tell_find(&list->find, grid);
}

/* Drawing. */

int rows_next(struct rows *rows)
{
    int row = rows->next++ - rows->skipped;
    return row >= 0 && row < rows->visible ? rows->top + row : -1;
}

int rows_begin(struct rows *rows, struct grid *grid, bool selected)
{
    int row = rows_next(rows);
    if (selected)
        frame_cursor(grid, row);
    return row;
}

/* How many rows an item takes: it draws out of sight. */
static int height(struct grid *grid, draw_item *draw, const void *model, int item)
{
    struct rows out_of_sight = {0};
    draw(grid, &out_of_sight, model, item, false);
    return out_of_sight.next;
}

/* Where a screen of so many rows begins that ends with an item. */
static struct list_top ending_with(int item, int rows, struct grid *grid, draw_item *draw,
                                   const void *model)
{
    int left = rows - height(grid, draw, model, item);
    while (left > 0 && item > 0)
        left -= height(grid, draw, model, --item);
    return (struct list_top){item, left < 0 ? -left : 0};
}

static bool is_below(struct list_top a, struct list_top b)
{
    return a.item > b.item || (a.item == b.item && a.cut > b.cut);
}

/* No further than needed to see the selected item; no rows are left empty while others are scrolled
 * out. */
static void scroll(struct list *list, int rows, struct grid *grid, draw_item *draw,
                   const void *model)
{
    struct list_top selected = {list->current, 0};
    struct list_top top = ending_with(list->current, rows, grid, draw, model);
    struct list_top last = ending_with(list->count - 1, rows, grid, draw, model);
    if (is_below(top, list->top))
        list->top = top;
    if (is_below(list->top, last))
        list->top = last;
    if (is_below(list->top, selected))
        list->top = selected;
}

void list_draw(struct list *list, struct grid *grid, struct body body, draw_item *draw,
               const void *model)
{
    list_find_draw(list, grid, draw, model);
    list->page = 0;
    if (list->count == 0)
        return;
    scroll(list, body.rows, grid, draw, model);
    struct rows next = {.top = body.top, .visible = body.rows, .skipped = list->top.cut};
    int end = body.rows + list->top.cut;
    for (int i = list->top.item; i < list->count && next.next < end; i++) {
        draw(grid, &next, model, i, i == list->current);
        list->page += next.next <= end;
    }
}

/* Columns. */

struct area column_area(const struct grid *grid, int row, const struct list_column *columns,
                        int index)
{
    int begin = TEXT_COLUMN;
    for (int i = 0; i < index; i++)
        begin += columns[i].gap + columns[i].width;
    begin += columns[index].gap;
    int width = columns[index].width;
    if (width <= 0)
        width += grid->columns - begin;
    return (struct area){row, begin, 1, width};
}

static void put(struct grid *grid, struct area area, bool right, enum style style, const char *text)
{
    if (right)
        grid_put_right(grid, area.row, area.column + area.columns, -1, style, text);
    else
        grid_put(grid, area.row, area.column, area.columns, style, text);
}

void columns_heading(struct grid *grid, int row, const struct list_column *columns, int count)
{
    for (int i = 0; i < count; i++)
        if (columns[i].heading != NULL)
            put(grid, column_area(grid, row, columns, i), columns[i].right, STYLE_QUIET,
                columns[i].heading);
}

void columns_draw(struct grid *grid, int row, const struct list_column *columns, int count,
                  const void *item, enum style plain)
{
    for (int i = 0; i < count; i++) {
        char text[COLUMN_TEXT_SIZE] = "";
        if (columns[i].text == NULL)
            continue;
        columns[i].text(item, text);
        put(grid, column_area(grid, row, columns, i), columns[i].right,
            columns[i].style == STYLE_PLAIN ? plain : columns[i].style, text);
    }
}
