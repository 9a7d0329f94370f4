/* Charts of one row. Shares are rounded to millionths before they are put into cells, so that the
 * same numbers are drawn alike on every machine. */
#include "senbetsu/ui/chart.h"

#include <stdbool.h>
#include <stdio.h>

enum { WHOLE = 1000000 };

/* What is beyond the whole stands at its end; < 0 = not known. */
static long long millionths(double share)
{
    if (share < 0)
        return -1;
    return share < 1 ? (long long)(share * WHOLE + 0.5) : WHOLE;
}

static int cell_of(struct area area, long long share, long long most)
{
    long long cell = share * area.columns / most;
    return area.column + (int)(cell < area.columns ? cell : area.columns - 1);
}

static void put(struct grid *grid, int row, int column, enum style style, const char *glyph)
{
    grid_put(grid, row, column, 1, style, glyph);
}

void whisker_draw(struct grid *grid, struct area area, double end, const struct whisker *whisker)
{
    long long most = millionths(end), low = millionths(whisker->low),
              high = millionths(whisker->high), counted = millionths(whisker->counted),
              expected = millionths(whisker->expected);
    if (low >= 0) {
        int first = cell_of(area, low, most), last = cell_of(area, high, most);
        for (int column = first; column <= last; column++)
            put(grid, area.row, column, STYLE_PLAIN, "─");
        put(grid, area.row, first, STYLE_PLAIN, "├");
        put(grid, area.row, last, STYLE_PLAIN, high <= most ? "┤" : "▸");
    }
    if (counted >= 0)
        put(grid, area.row, cell_of(area, counted, most), STYLE_STRONG, "○");
    if (expected >= 0)
        put(grid, area.row, cell_of(area, expected, most), STYLE_STRONG, "●");
}

void whisker_scale_draw(struct grid *grid, struct area area, double end)
{
    char text[24];
    grid_put(grid, area.row, area.column, 1, STYLE_QUIET, "0");
    snprintf(text, sizeof text, "%.3g %%", 100.0 * (double)millionths(end) / WHOLE);
    grid_put_right(grid, area.row, area.column + area.columns, -1, STYLE_QUIET, text);
}

double chart_scale(double most)
{
    static const int steps[] = {100, 200, 500};
    long long needed = millionths(most), end = 0;
    for (int noughts = 1; end < needed || end == 0; noughts *= 10)
        for (int i = 0; i < 3 && (end < needed || end == 0); i++)
            end = (long long)steps[i] * noughts;
    return (double)end / WHOLE;
}

/* A cell is filled if its middle is; in thousandths, finer than any screen is wide. */
void bar_draw(struct grid *grid, struct area area, double low, double high)
{
    int full = (int)((low < 1 ? low : 1) * 1000 + 0.5),
        half = (int)((high < 1 ? high : 1) * 1000 + 0.5);
    for (int i = 0; i < area.columns; i++) {
        int middle = (2 * i + 1) * 1000 / (2 * area.columns);
        bool sure = middle <= full, perhaps = middle <= half;
        put(grid, area.row, area.column + i, perhaps ? STYLE_PLAIN : STYLE_QUIET,
            sure      ? "█"
            : perhaps ? "▒"
                      : "·");
    }
}
