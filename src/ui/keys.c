/* Tables of keys: finding a row, and what is drawn and written from them. A row names its keys in
 * the words that people read, so a key cannot be shown under one name and answer to another.
 *
 * A screen's table is its only list of keys. Dispatch, footer, help page and the README's section
 * come from the same row, so none of them can promise a key that does not work. */
#include "senbetsu/ui/keys.h"
#include "senbetsu/base/utf8.h"

#include <stdio.h>
#include <string.h>

enum { NAME_SIZE = 16, NAMES_SIZE = 64, FOOTER_GAP = 2, HELP_NAMES = 18 };

static const struct {
    const char *name;
    struct key key;
} named_keys[] = {
    {"Enter", {KEY_RETURN, 0}},    {"Backspace", {KEY_ERASE, 0}},   {"Esc", {KEY_ESCAPE, 0}},
    {"Tab", {KEY_TABULATOR, 0}},   {"Shift-Tab", {KEY_BACKTAB, 0}}, {"Up", {KEY_ARROW_UP, 0}},
    {"Down", {KEY_ARROW_DOWN, 0}}, {"Left", {KEY_ARROW_LEFT, 0}},   {"Right", {KEY_ARROW_RIGHT, 0}},
    {"Home", {KEY_FIRST, 0}},      {"End", {KEY_LAST, 0}},          {"PgUp", {KEY_PAGE_UP, 0}},
    {"PgDn", {KEY_PAGE_DOWN, 0}},  {"Delete", {KEY_REMOVE, 0}},     {"Space", {KEY_CHARACTER, ' '}},
    {"F1", {KEY_FUNCTION, 1}},     {"F2", {KEY_FUNCTION, 2}},       {"F3", {KEY_FUNCTION, 3}},
};

struct key key_named(const char *name)
{
    for (size_t i = 0; i < sizeof named_keys / sizeof named_keys[0]; i++)
        if (strcmp(named_keys[i].name, name) == 0)
            return named_keys[i].key;
    const char *rest = name;
    uint32_t code = name[0] != '\0' ? utf8_next(&rest) : 0;
    if (code == 0 || *rest != '\0')
        return (struct key){KEY_NONE, 0};
    return (struct key){KEY_CHARACTER, code};
}

/* Takes the next name off a row's keys; false at the end. */
static bool next_name(const char **keys, char ret_name[NAME_SIZE])
{
    const char *begin = *keys + strspn(*keys, " ");
    size_t length = strcspn(begin, " ");
    text_copy(ret_name, length < NAME_SIZE ? length + 1 : NAME_SIZE, begin);
    *keys = begin + length;
    return length > 0;
}

/* Where the key stands in a range such as "1–9", or -1. */
static int place_in_range(const char *name, struct key key)
{
    static const char dash[] = "–";
    if (key.kind != KEY_CHARACTER || strncmp(name + 1, dash, strlen(dash)) != 0)
        return -1;
    uint32_t first = (unsigned char)name[0], last = (unsigned char)name[1 + strlen(dash)];
    return key.code >= first && key.code <= last ? (int)(key.code - first) : -1;
}

/* The key's place among those of the row that count on, 0 for all others; -1 = not this row's. */
static int place_in_row(const struct key_row *row, struct key key)
{
    char name[NAME_SIZE];
    for (const char *keys = row->keys; next_name(&keys, name);) {
        struct key named = key_named(name);
        if (named.kind != KEY_NONE && named.kind == key.kind && named.code == key.code)
            return 0;
        int place = place_in_range(name, key);
        if (place >= 0)
            return place;
    }
    return -1;
}

const struct key_row *keys_find(const struct key_table *table, struct key key, int *ret_number)
{
    for (size_t i = 0; i < table->count; i++) {
        const struct key_row *row = &table->rows[i];
        if (row->shared != NULL) {
            const struct key_row *found = keys_find(row->shared, key, ret_number);
            if (found != NULL)
                return found;
            continue;
        }
        int place = row->handler != NULL ? place_in_row(row, key) : -1;
        if (place < 0)
            continue;
        *ret_number = row->number + place;
        return row;
    }
    return NULL;
}

void keys_each(const struct key_table *table,
               void (*each)(void *context, const struct key_row *row), void *context)
{
    for (size_t i = 0; i < table->count; i++)
        if (table->rows[i].shared != NULL)
            keys_each(table->rows[i].shared, each, context);
        else
            each(context, &table->rows[i]);
}

bool keys_share(const struct key_table *table, const struct key_table *shared)
{
    for (size_t i = 0; i < table->count; i++)
        if (table->rows[i].shared == shared)
            return true;
    return false;
}

static void first_name(const struct key_row *row, char ret_name[NAME_SIZE])
{
    const char *keys = row->keys;
    next_name(&keys, ret_name);
}

/* The name of the key that the footer calls so; "" = none. */
static void key_labelled(const struct key_table *table, const char *label, char ret_name[NAME_SIZE])
{
    for (size_t i = 0; i < table->count && ret_name[0] == '\0'; i++)
        if (table->rows[i].shared != NULL)
            key_labelled(table->rows[i].shared, label, ret_name);
        else if (table->rows[i].label != NULL && strcmp(table->rows[i].label, label) == 0)
            first_name(&table->rows[i], ret_name);
}

void keys_absent(const struct key_table *table, struct key key, char ret_sentence[NO_KEY_SIZE])
{
    char name[5] = "", help[NAME_SIZE] = "", back[NAME_SIZE] = "";
    if (key.kind == KEY_CHARACTER && key.code > ' ')
        utf8_encode(key.code, name);
    key_labelled(table, "help", help);
    key_labelled(table, "back", back);
    snprintf(ret_sentence, NO_KEY_SIZE, "%s does nothing here; %s %s.",
             name[0] != '\0' ? name : "This key", help[0] != '\0' ? help : back,
             help[0] != '\0' ? "shows the keys" : "goes back");
}

/* Drawing. */

struct footer {
    struct grid *grid;
    int row, rows, column;
};

static void draw_label(void *context, const struct key_row *row)
{
    struct footer *footer = context;
    char name[NAME_SIZE];
    if (row->label == NULL)
        return;
    first_name(row, name);
    int width = utf8_width(name) + 1 + utf8_width(row->label);
    if (footer->column > 0 && footer->column + width > footer->grid->columns) {
        footer->row++;
        footer->rows--;
        footer->column = 0;
    }
    if (footer->rows <= 0)
        return;
    grid_put(footer->grid, footer->row, footer->column, -1, STYLE_KEY, name);
    grid_put(footer->grid, footer->row, footer->column + utf8_width(name) + 1, -1, STYLE_PLAIN,
             row->label);
    footer->column += width + FOOTER_GAP;
}

void keys_footer(struct grid *grid, int row, int rows, const struct key_table *table)
{
    struct footer footer = {grid, row, rows, 0};
    keys_each(table, draw_label, &footer);
}

/* "-, u" */
static void row_names(const struct key_row *row, char ret_names[NAMES_SIZE])
{
    char name[NAME_SIZE];
    size_t used = 0;
    for (const char *keys = row->keys; next_name(&keys, name) && used < NAMES_SIZE;)
        used += (size_t)snprintf(ret_names + used, NAMES_SIZE - used, "%s%s", used > 0 ? ", " : "",
                                 name);
}

/* Lines are counted over all pages; those of other pages are not drawn. */
struct help_page {
    struct grid *grid;
    int first, rows, line;
};

static void draw_help_line(void *context, const struct key_row *row)
{
    struct help_page *page = context;
    char names[NAMES_SIZE];
    int at = page->line++ - page->first;
    if (at < 0 || at >= page->rows)
        return;
    row_names(row, names);
    grid_put(page->grid, 1 + at, 2, HELP_NAMES - 1, STYLE_KEY, names);
    grid_put(page->grid, 1 + at, 2 + HELP_NAMES, -1, STYLE_PLAIN, row->help);
}

bool keys_help(struct grid *grid, const struct key_table *table, int page)
{
    int rows = grid->rows - 2;
    struct help_page lines = {.grid = grid, .first = page * rows, .rows = rows};
    grid_clear(grid);
    grid_putf(grid, 0, 0, -1, STYLE_TITLE, "Keys: %s", table->title);
    keys_each(table, draw_help_line, &lines);
    bool more = lines.line > lines.first + rows;
    grid_put(grid, grid->rows - 1, 0, -1, STYLE_QUIET, more ? "any key: more" : "any key: back");
    return more;
}

static void write_help_line(void *context, const struct key_row *row)
{
    char names[NAMES_SIZE];
    row_names(row, names);
    text_addf(context, "| `%s` | %s |\n", names, row->help);
}

void keys_markdown(const struct key_table *table, struct text *out)
{
    text_addf(out, "### %s\n\n| key | what it does |\n|---|---|\n", table->title);
    keys_each(table, write_help_line, out);
}
