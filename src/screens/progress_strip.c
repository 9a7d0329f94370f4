#include "senbetsu/screens/progress_strip.h"
#include "senbetsu/screens/mark.h"
#include <stdio.h>
#include <string.h>

/* Marks stand in fives; numbers under every tenth. */
enum { GROUP = 5, NUMBERED = 10, MORE_COLUMNS = 6 };

/* The part of the tray that is shown. */
struct window {
    int first, end, all;
};

static int whole_tray(const struct sheet *sheet)
{
    int known = (int)sheet->fish_count;
    return !sheet->second_look && sheet->expected > known ? sheet->expected : known;
}

/* How many marks fit; every group but the last takes a gap too. */
static int marks_that_fit(int columns)
{
    int whole = (columns + 1) / (GROUP + 1), left = (columns + 1) % (GROUP + 1);
    return whole * GROUP + (left > 0 ? left - 1 : 0);
}

static struct window window_around(int all, int current, int columns)
{
    if (all <= marks_that_fit(columns))
        return (struct window){0, all, all};
    int shown = marks_that_fit(columns - 2 * MORE_COLUMNS) / GROUP * GROUP;
    int first = (current - shown / 2) / GROUP * GROUP;
    if (first > all - shown)
        first = (all - shown + GROUP - 1) / GROUP * GROUP;
    if (first < 0)
        first = 0;
    return (struct window){first, first + shown < all ? first + shown : all, all};
}

static const struct mark *mark_of(const struct sheet *sheet, int index)
{
    bool done = index < (int)sheet->fish_count && sheet->fish[index].closed;
    return &verdict_marks[done ? sheet_decision(sheet, (size_t)index).verdict : VERDICT_OPEN];
}

static int column_of(struct window window, int column, int index)
{
    int place = index - window.first;
    return column + place + place / GROUP;
}

static int number_at(const struct sheet *sheet, int index)
{
    int known = (int)sheet->fish_count;
    if (index < known)
        return sheet->fish[index].number;
    int last = known > 0 ? sheet->fish[known - 1].number : 0;
    return last + index - known + 1;
}

/* Not where it would touch the pointer. */
static void draw_number(struct grid *grid, int row, int column, int pointer, int number)
{
    char digits[16];
    int width = snprintf(digits, sizeof digits, "%d", number);
    if (pointer < column - width || pointer > column + 1)
        grid_put_right(grid, row, column + 1, -1, STYLE_QUIET, digits);
}

static void draw_ends(struct grid *grid, struct area area, struct window window)
{
    char more[16];
    int before = window.first, after = window.all - window.end;
    snprintf(more, sizeof more, "◂%d", before);
    if (before > 0)
        grid_put(grid, area.row, area.column, MORE_COLUMNS, STYLE_QUIET, more);
    snprintf(more, sizeof more, "%d▸", after);
    if (after > 0)
        grid_put_right(grid, area.row, area.column + area.columns, MORE_COLUMNS, STYLE_QUIET, more);
}

void progress_strip_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    int current = (int)sheet->current;
    struct window window = window_around(whole_tray(sheet), current, area.columns);
    bool cut = window.end - window.first < window.all;
    int left = area.column + (cut ? MORE_COLUMNS : 0);
    int pointer = column_of(window, left, current);
    for (int i = window.first; i < window.end; i++) {
        const struct mark *mark = mark_of(sheet, i);
        int column = column_of(window, left, i);
        grid_put(grid, area.row, column, 1, mark->style, mark->letter);
        if (!sheet->second_look && number_at(sheet, i) % NUMBERED == 0)
            draw_number(grid, area.row + 1, column, pointer, number_at(sheet, i));
    }
    grid_put(grid, area.row + 1, pointer, 1, STYLE_CURSOR, "▲");
    draw_ends(grid, area, window);
}
