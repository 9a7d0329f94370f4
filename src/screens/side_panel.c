#include "senbetsu/screens/side_panel.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/progress.h"
#include <stdio.h>

/* Where rows are plenty, a ribbon goes under the counts. No share: a rate without its interval
 * would say more than so few fish can. */
enum { EDGE_ROOMY = 14, LINE_SIZE = 64 };

/* "bowl 16 of 60": how far something is filled. */
static void draw_filled(struct grid *grid, struct area *area, const char *what, int part, int whole)
{
    char filled[LINE_SIZE];
    if (whole > 0)
        snprintf(filled, sizeof filled, "%d of %d", part, whole);
    else
        snprintf(filled, sizeof filled, "%d", part);
    grid_put(grid, area->row, area->column, -1, STYLE_PLAIN, what);
    grid_put_right(grid, area->row, area->column + area->columns, area->columns - utf8_width(what),
                   STYLE_STRONG, filled);
    area->row++;
}

static void draw_counts(struct grid *grid, struct area *area, const int *verdicts)
{
    int column = area->column;
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        const struct mark *mark = &verdict_marks[verdict];
        column += grid_put(grid, area->row, column, -1, mark->style, mark->letter);
        column += grid_putf(grid, area->row, column, -1, STYLE_PLAIN, " %d", verdicts[verdict]) + 1;
        if (area->columns > EDGE_COLUMNS)
            column++;
    }
    area->row++;
}

static void draw_tally(struct grid *grid, struct area *area, const char *what,
                       const struct verdict_counts *tally, bool roomy)
{
    draw_filled(grid, area, what, tally->judged, tally->expected);
    draw_counts(grid, area, tally->verdicts);
    if (roomy)
        ribbon_draw(grid, area->row++, area->column, area->columns, tally);
    area->row++;
}

static struct verdict_counts tally_of_tray(const struct sheet *sheet)
{
    struct verdict_counts tally = {.expected = sheet->second_look ? (int)sheet->fish_count
                                                                  : sheet->expected};
    for (int verdict = 0; verdict < VERDICT_COUNT; verdict++)
        tally.verdicts[verdict] = sheet->verdicts[verdict];
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++)
        tally.judged += tally.verdicts[verdict];
    return tally;
}

static void draw_pace(struct grid *grid, struct area *area, int pace)
{
    if (pace > 0)
        grid_putf(grid, area->row, area->column, area->columns, STYLE_PLAIN, "%d fish an hour",
                  pace);
    else
        grid_put(grid, area->row, area->column, area->columns, STYLE_QUIET, "pace not known");
    area->row++;
}

static void cut_text(const struct sheet *sheet, char ret_text[LINE_SIZE])
{
    char score[NUMBER_SIZE];
    switch (sheet->cut.kind) {
    case CUT_ALL:
        snprintf(ret_text, LINE_SIZE, "keep all that pass");
        return;
    case CUT_NONE:
        snprintf(ret_text, LINE_SIZE, "keep no more");
        return;
    case CUT_AT:
        number_to_tenth(sheet->cut.score, score_unit(&sheet->standard), score);
        snprintf(ret_text, LINE_SIZE, "keep from %s up", score);
        return;
    case CUT_UNKNOWN:
        break;
    }
    snprintf(ret_text, LINE_SIZE, "no cut line yet");
}

static void draw_places(struct grid *grid, struct area *area, const struct sheet *sheet)
{
    char cut[LINE_SIZE];
    if (sheet->round.places < 0)
        return;
    draw_filled(grid, area, "places", sheet->round.tally.verdicts[VERDICT_KEEP],
                sheet->round.places);
    cut_text(sheet, cut);
    grid_put(grid, area->row++, area->column, area->columns,
             sheet->cut.kind == CUT_UNKNOWN ? STYLE_QUIET : STYLE_STRONG, cut);
}

void side_panel_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    struct verdict_counts tray = tally_of_tray(sheet);
    bool roomy = area.rows >= EDGE_ROOMY;
    draw_tally(grid, &area, sheet->second_look ? "held" : "bowl", &tray, roomy);
    draw_tally(grid, &area, "round", &sheet->round.tally, roomy);
    draw_pace(grid, &area, sheet->pace);
    draw_places(grid, &area, sheet);
}
