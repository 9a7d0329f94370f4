#include "senbetsu/screens/verdict_banner.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/ui/big.h"
#include <stdio.h>

static void fish_caption(const struct sheet *sheet, char *text, size_t size)
{
    const struct fish *fish = &sheet->fish[sheet->last];
    if (sheet->second_look)
        snprintf(text, size, "fish %d of bowl %d", fish->number, fish->bowl);
    else
        snprintf(text, size, "fish %d", fish->number);
}

/* "71.4, Bent spine": what led to the verdict. */
static void why(const struct sheet *sheet, char *text, size_t size)
{
    const struct decision *decision = &sheet->last_decision;
    char score[32], reason[REASON_SIZE];
    decision_score_text(&sheet->standard, decision, score);
    decision_reason_label(&sheet->standard, decision, reason);
    if (decision->reason == REASON_SCORE)
        snprintf(text, size, "%s points", score);
    else if (decision->scored)
        snprintf(text, size, "%s, %s", score, reason);
    else
        snprintf(text, size, "%s", reason);
}

void verdict_banner_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    if (sheet->last >= sheet->fish_count)
        return;
    const struct mark *mark = &verdict_marks[sheet->last_decision.verdict];
    char fish[64], reason[REASON_SIZE + 40];
    fish_caption(sheet, fish, sizeof fish);
    why(sheet, reason, sizeof reason);
    int width = big_width(mark->word, 1);
    int top = area.row + 1 + (area.rows - 1 - BIG_ROWS) / 2;
    grid_fill(grid, area, mark->style);
    int used = grid_put(grid, area.row, area.column + 1, area.columns - 2, mark->style, fish);
    grid_put_right(grid, area.row, area.column + area.columns - 1, area.columns - 4 - used,
                   mark->style, reason);
    big_draw(grid, top, area.column + (area.columns - width) / 2, 1, mark->style, mark->word);
}
