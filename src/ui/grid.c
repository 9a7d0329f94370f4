/* Cells. Text comes in as UTF-8 and is measured in columns, for a wide character takes two cells
 * and a combining mark none; whatever would draw outside is cut here, so that no screen has to ask.
 */
#include "senbetsu/ui/grid.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct cell *cell_at(const struct grid *grid, int row, int column)
{
    if (row < 0 || row >= grid->rows || column < 0 || column >= grid->columns)
        return NULL;
    return &grid->cells[(size_t)row * (size_t)grid->columns + (size_t)column];
}

static void set_glyph(struct cell *cell, const char *glyph)
{
    text_copy(cell->glyph, sizeof cell->glyph, glyph);
}

static bool is_right_half(const struct cell *cell)
{
    return cell != NULL && cell->glyph[0] == '\0';
}

void grid_init(struct grid *grid, int rows, int columns)
{
    grid->rows = rows > 0 ? rows : 0;
    grid->columns = columns > 0 ? columns : 0;
    grid->cells =
        alloc_zeroed((size_t)grid->rows * (size_t)grid->columns + 1, sizeof grid->cells[0]);
    grid_clear(grid);
}

void grid_done(struct grid *grid)
{
    free(grid->cells);
    *grid = (struct grid){0};
}

void grid_clear(struct grid *grid)
{
    size_t count = (size_t)grid->rows * (size_t)grid->columns;
    for (size_t i = 0; i < count; i++)
        grid->cells[i] = (struct cell){" ", STYLE_PLAIN};
}

/* A wide character of which one half is overwritten loses the other half too. */
static void break_wide(struct grid *grid, int row, int column, int width)
{
    if (is_right_half(cell_at(grid, row, column)) && column > 0)
        set_glyph(cell_at(grid, row, column - 1), " ");
    struct cell *after = cell_at(grid, row, column + width);
    if (is_right_half(after))
        set_glyph(after, " ");
}

static void put_character(struct grid *grid, int row, int column, enum style style,
                          const char *glyph, int width)
{
    struct cell *cell = cell_at(grid, row, column);
    struct cell *last = cell_at(grid, row, column + width - 1);
    if (cell == NULL || last == NULL)
        return;
    break_wide(grid, row, column, width);
    set_glyph(last, "");
    set_glyph(cell, glyph);
    cell->style = last->style = style;
}

static void put_combining(struct grid *grid, int row, int column, const char *mark)
{
    struct cell *cell = cell_at(grid, row, column);
    if (is_right_half(cell))
        cell = cell_at(grid, row, column - 1);
    if (cell != NULL && strlen(cell->glyph) + strlen(mark) < sizeof cell->glyph)
        memcpy(cell->glyph + strlen(cell->glyph), mark, strlen(mark) + 1);
}

/* Draws the `bytes` first bytes, which are known to fit. Returns the columns used. */
static int put_bytes(struct grid *grid, int row, int column, enum style style, const char *text,
                     size_t bytes)
{
    int used = 0;
    const char *cursor = text;
    while (cursor < text + bytes) {
        char glyph[5];
        uint32_t code = utf8_next(&cursor);
        int width = utf8_code_width(code);
        utf8_encode(utf8_shown(code), glyph);
        if (width == 0 && used > 0)
            put_combining(grid, row, column + used - 1, glyph);
        if (width > 0)
            put_character(grid, row, column + used, style, glyph, width);
        used += width;
    }
    return used;
}

int grid_put(struct grid *grid, int row, int column, int columns, enum style style,
             const char *text)
{
    int room = grid->columns - column;
    if (columns >= 0 && columns < room)
        room = columns;
    if (room <= 0)
        return 0;
    if (utf8_width(text) <= room)
        return put_bytes(grid, row, column, style, text, strlen(text));
    int used = put_bytes(grid, row, column, style, text, utf8_fit(text, room - 1));
    return used + put_bytes(grid, row, column + used, style, "…", strlen("…"));
}

int grid_putf(struct grid *grid, int row, int column, int columns, enum style style,
              const char *format, ...)
{
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    return grid_put(grid, row, column, columns, style, text);
}

int grid_put_right(struct grid *grid, int row, int end, int columns, enum style style,
                   const char *text)
{
    int width = utf8_width(text);
    if (columns >= 0 && width > columns)
        width = columns;
    return grid_put(grid, row, end - width, width, style, text);
}

/* Bytes of the longest start of `text` that fits, broken at a blank where there is one. */
static size_t line_of(const char *text, int columns)
{
    size_t most = utf8_fit(text, columns), at = most;
    while (text[most] != '\0' && at > 0 && text[at] != ' ')
        at--;
    return at > 0 ? at : most;
}

int grid_wrap(struct grid *grid, int row, int column, int rows, enum style style, const char *text)
{
    int columns = grid->columns - column - 1, used = 1;
    for (; used < rows && utf8_width(text) > columns; used++) {
        size_t length = line_of(text, columns);
        grid_putf(grid, row++, column, columns, style, "%.*s", (int)length, text);
        text += length + (text[length] == ' ');
    }
    grid_put(grid, row, column, columns, style, text);
    return used;
}

const char *label_fit(const char *label, int columns, char ret_text[LABEL_TEXT_SIZE])
{
    text_copy(ret_text, LABEL_TEXT_SIZE, label);
    size_t length = strlen(ret_text);
    char *gloss = strrchr(ret_text, '(');
    if (utf8_width(ret_text) <= columns || gloss == NULL || gloss == ret_text ||
        ret_text[length - 1] != ')')
        return ret_text;
    while (gloss > ret_text && gloss[-1] == ' ')
        gloss--;
    *gloss = '\0';
    return ret_text;
}

void grid_rule(struct grid *grid, int row, int column, int columns)
{
    for (int i = 0; i < columns; i++)
        put_character(grid, row, column + i, STYLE_RULE, "─", 1);
}

void grid_fill(struct grid *grid, struct area area, enum style style)
{
    for (int row = area.row; row < area.row + area.rows; row++)
        for (int column = area.column; column < area.column + area.columns; column++)
            put_character(grid, row, column, style, " ", 1);
}

static void add_row(const struct grid *grid, int row, struct text *out)
{
    size_t end = out->length;
    for (int column = 0; column < grid->columns; column++) {
        const struct cell *cell = cell_at(grid, row, column);
        text_add(out, cell->glyph);
        if (strcmp(cell->glyph, " ") != 0)
            end = out->length;
    }
    out->length = end;
    out->data[end] = '\0';
    text_add(out, "\n");
}

void grid_text(const struct grid *grid, struct text *out)
{
    for (int row = 0; row < grid->rows; row++)
        add_row(grid, row, out);
}
