#include "senbetsu/screens/fish_front.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/recent.h"
#include "senbetsu/ui/big.h"
#include <stdio.h>

enum { STATUS_GAP = 2, STATUS_COLUMNS = 12, RECENT_TOP = 5, RECENT_ROWS = 3, RECENT_COLUMNS = 24 };

static const struct fish *front(const struct sheet *sheet)
{
    return &sheet->fish[sheet->current];
}

/* "fish of bowl 3   132 mm   tag 392…". */
static void draw_caption(struct grid *grid, struct area area, const struct sheet *sheet)
{
    const struct fish *fish = front(sheet);
    int end = area.column + area.columns, column = area.column;
    if (sheet->second_look)
        column += grid_putf(grid, area.row, column, -1, STYLE_QUIET, "fish of bowl %d", fish->bowl);
    else
        column += grid_put(grid, area.row, column, -1, STYLE_QUIET, "fish");
    if (fish->length_mm > 0)
        column += 2 + grid_putf(grid, area.row, column + 2, end - column - 2, STYLE_PLAIN, "%d mm",
                                fish->length_mm);
    if (fish->tag[0] != '\0')
        grid_putf(grid, area.row, column + 2, end - column - 2, STYLE_PLAIN, "tag %s", fish->tag);
}

static int open_aspects(const struct sheet *sheet)
{
    int open = 0;
    for (int i = 0; i < sheet->standard.aspect_count; i++)
        open += front(sheet)->judgement.scores[i] == SCORE_NONE;
    return open;
}

static void draw_status(struct grid *grid, struct area area, const struct sheet *sheet)
{
    struct decision decision = sheet_decision(sheet, sheet->current);
    const struct mark *mark = &verdict_marks[decision.verdict];
    char score[32];
    decision_score_text(&sheet->standard, &decision, score);
    grid_putf(grid, area.row++, area.column, area.columns, STYLE_PLAIN, "%d of %d open",
              open_aspects(sheet), sheet->standard.aspect_count);
    if (front(sheet)->closed)
        grid_put(grid, area.row++, area.column, area.columns, mark->style, mark->word);
    if (front(sheet)->closed && decision.scored)
        grid_put(grid, area.row++, area.column, area.columns, STYLE_STRONG, score);
    if (front(sheet)->judgement.by_hand != VERDICT_OPEN)
        grid_put(grid, area.row, area.column, area.columns, STYLE_PLAIN, "by hand");
}

void fish_front_draw(struct grid *grid, struct area area, const struct sheet *sheet, int scale)
{
    char number[16];
    snprintf(number, sizeof number, "%d", front(sheet)->number);
    int width = big_width(number, scale);
    draw_caption(grid, area, sheet);
    if (width <= area.columns) {
        big_draw(grid, area.row + 1, area.column, scale, STYLE_STRONG, number);
    } else {
        width = grid_put(grid, area.row + 1 + BIG_ROWS / 2, area.column, -1, STYLE_STRONG, number);
    }
    int used = width + STATUS_GAP;
    struct area status = {area.row + 1, area.column + used, area.rows - 1, area.columns - used};
    if (status.columns >= STATUS_COLUMNS)
        draw_status(grid, status, sheet);
    struct area recent = {status.row + RECENT_TOP, status.column, status.rows - RECENT_TOP,
                          status.columns};
    if (recent.rows >= RECENT_ROWS && recent.columns >= RECENT_COLUMNS)
        recent_draw(grid, recent, sheet);
}
