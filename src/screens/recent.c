#include "senbetsu/screens/recent.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/ui/grid.h"

enum { NUMBER = 6, MARK = 2 };

static void draw_fish(struct grid *grid, struct area area, const struct sheet *sheet, size_t index)
{
    const struct fish *fish = &sheet->fish[index];
    struct decision decision = sheet_decision(sheet, index);
    const struct mark *mark = &verdict_marks[fish->closed ? decision.verdict : VERDICT_OPEN];
    char score[32], reason[REASON_SIZE], label[LABEL_SIZE];
    decision_score_text(&sheet->standard, &decision, score);
    decision_reason_label(&sheet->standard, &decision, reason);
    int room = area.columns - NUMBER - MARK - 1;
    const char *why = decision.reason == REASON_SCORE ? score : label_fit(reason, room, label);
    grid_putf(grid, area.row, area.column, NUMBER, STYLE_PLAIN, "%*d", NUMBER - 1, fish->number);
    grid_put(grid, area.row, area.column + NUMBER, 1, mark->style, mark->letter);
    grid_put(grid, area.row, area.column + NUMBER + MARK, room, STYLE_QUIET, why);
}

void recent_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    struct area row = area;
    for (size_t i = sheet->current; i-- > 0 && row.row < area.row + area.rows; row.row++)
        draw_fish(grid, row, sheet, i);
}
