/* How far bowls and rounds are, told in a line, and the marks of the verdicts: every screen tells a
 * verdict by a letter too, for terminals without colour. */
#include "senbetsu/screens/progress.h"

#include <stdio.h>

const struct mark verdict_marks[VERDICT_COUNT] = {
    [VERDICT_OPEN] = {"·", "OPEN", STYLE_QUIET},
    [VERDICT_KEEP] = {"K", "KEEP", STYLE_KEEP},
    [VERDICT_HOLD] = {"H", "HOLD", STYLE_HOLD},
    [VERDICT_REJECT] = {"R", "REJECT", STYLE_REJECT},
};

enum {
    NAME_COLUMNS = 14,
    RIBBON_MOST = 48,
    JUDGED_COLUMNS = 17, /* a whole first cull: "103282 of 104200" */
    COUNT_COLUMNS = 8,
    COUNTS_COLUMNS = 2 + JUDGED_COLUMNS + (VERDICT_COUNT - VERDICT_KEEP) * COUNT_COLUMNS,
};

static int whole(const struct verdict_counts *tally)
{
    return tally->expected > tally->judged ? tally->expected : tally->judged;
}

void ribbon_draw(struct grid *grid, int row, int column, int columns,
                 const struct verdict_counts *tally)
{
    int all = whole(tally), done = 0, at = 0;
    if (all == 0)
        return;
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        const struct mark *mark = &verdict_marks[verdict];
        done += tally->verdicts[verdict];
        for (int end = (int)((int64_t)done * columns / all); at < end; at++)
            grid_put(grid, row, column + at, 1, mark->style, mark->letter);
    }
    for (; at < columns; at++)
        grid_put(grid, row, column + at, 1, STYLE_QUIET, "·");
}

static void draw_counts(struct grid *grid, int row, int column, const struct verdict_counts *tally)
{
    char judged[48];
    if (tally->expected > 0)
        snprintf(judged, sizeof judged, "%d of %d", tally->judged, tally->expected);
    else
        snprintf(judged, sizeof judged, "%d", tally->judged);
    grid_put(grid, row, column, JUDGED_COLUMNS - 1, STYLE_PLAIN, judged);
    column += JUDGED_COLUMNS;
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++, column += COUNT_COLUMNS) {
        const struct mark *mark = &verdict_marks[verdict];
        int count = tally->verdicts[verdict];
        grid_putf(grid, row, column, COUNT_COLUMNS, count > 0 ? mark->style : STYLE_QUIET, "%s %d",
                  mark->letter, count);
    }
}

void progress_draw(struct grid *grid, int row, int column, const char *name,
                   const struct verdict_counts *tally)
{
    grid_put(grid, row, column, NAME_COLUMNS - 1, STYLE_PLAIN, name);
    column += NAME_COLUMNS;
    int room = grid->columns - column - COUNTS_COLUMNS;
    int columns = room > RIBBON_MOST ? RIBBON_MOST : room;
    ribbon_draw(grid, row, column, columns, tally);
    draw_counts(grid, row, column + columns + 2, tally);
}
