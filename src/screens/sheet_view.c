#include "senbetsu/screens/sheet_view.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/fish_front.h"
#include "senbetsu/screens/progress_strip.h"
#include "senbetsu/screens/question.h"
#include "senbetsu/screens/sheet_bindings.h"
#include "senbetsu/screens/sheet_choices.h"
#include "senbetsu/screens/sheet_keys.h"
#include "senbetsu/screens/sheet_lists.h"
#include "senbetsu/screens/side_panel.h"
#include "senbetsu/screens/verdict_banner.h"
#include "senbetsu/ui/big.h"
#include <stdio.h>

enum { FOOTER_ROWS = 2, GAP = 2, ROOMY_ROWS = 36, ROOMY_COLUMNS = 110, LISTS_LEAST = 11 };

/* Where everything stands, from top to bottom. */
struct layout {
    int scale; /* of the large number */
    int strip, front, front_rows, question, lists, list_rows, message;
    int edge;            /* columns of the edge */
    int aspects, faults; /* columns of the two lists */
};

/* The more columns the faults need, the narrower the aspects become. */
static void share_lists(struct layout *layout, const struct standard *standard, int columns)
{
    static const int percent[] = {60, 46, 34};
    int wanted = fault_columns(standard, layout->list_rows);
    int room = columns - layout->edge - 2 * GAP + 1;
    layout->aspects = room * percent[wanted > 3 ? 2 : wanted - 1] / 100;
    layout->faults = room - layout->aspects;
}

static struct layout lay_out(const struct grid *grid, const struct standard *standard)
{
    bool roomy = grid->rows >= ROOMY_ROWS && grid->columns >= ROOMY_COLUMNS;
    int air = roomy ? 1 : 0;
    struct layout layout = {.scale = 1, .edge = roomy ? 26 : EDGE_COLUMNS};
    layout.message = grid->rows - FOOTER_ROWS - 1;
    layout.strip = 1 + air;
    layout.front = layout.strip + STRIP_ROWS + air;
    int fixed = layout.front + 1 + 3 * air + 1;
    int needed = standard->aspect_count > LISTS_LEAST ? standard->aspect_count : LISTS_LEAST;
    if (roomy && layout.message - air - fixed - 2 * BIG_ROWS >= needed)
        layout.scale = 2;
    layout.front_rows = 1 + layout.scale * BIG_ROWS;
    layout.question = layout.front + layout.front_rows + air;
    layout.lists = layout.question + 1 + air;
    layout.list_rows = layout.message - air - layout.lists;
    share_lists(&layout, standard, grid->columns);
    return layout;
}

static void draw_heading(struct grid *grid, const struct sheet *sheet)
{
    const struct sheet_heading *heading = &sheet->heading;
    char time[TIME_OF_DAY_SIZE];
    struct text line, lot;
    text_init(&line);
    text_init(&lot);
    time_of_instant(clock_now(&sheet->clock), sheet->clock.offset_minutes, time);
    text_join(&line, " · ", heading->judge);
    text_join(&line, " · ", time);
    int width = utf8_width(line.data);
    grid_put_right(grid, 0, grid->columns, grid->columns / 2, STYLE_PLAIN, line.data);
    text_clear(&line);
    if (heading->lot[0] != '\0')
        text_addf(&lot, "lot %s", heading->lot);
    text_join(&line, " · ", heading->spawning);
    text_join(&line, " · ", heading->pair);
    text_join(&line, " · ", heading->variety);
    text_join(&line, " · ", stage_terms[heading->stage].word);
    text_join(&line, " · ", lot.data);
    grid_put(grid, 0, 0, grid->columns - width - GAP, STYLE_TITLE, line.data);
    text_done(&line);
    text_done(&lot);
}

static void draw_strip(struct grid *grid, int row, const struct sheet *sheet)
{
    int column;
    if (sheet->second_look)
        column = grid_put(grid, row, 0, -1, STYLE_TITLE, "second look");
    else
        column = grid_putf(grid, row, 0, -1, STYLE_TITLE, "bowl %d", sheet->bowl);
    column += GAP;
    progress_strip_draw(grid, (struct area){row, column, STRIP_ROWS, grid->columns - column},
                        sheet);
}

/* What the sheet has to say, else what is noted of the fish. */
static void draw_message(struct grid *grid, int row, const struct sheet *sheet)
{
    const struct fish *fish = &sheet->fish[sheet->current];
    if (sheet->message[0] != '\0')
        grid_put(grid, row, 0, -1, STYLE_STRONG, sheet->message);
    else if (fish->hand_reason[0] != '\0' && fish->judgement.by_hand != VERDICT_OPEN)
        grid_putf(grid, row, 0, -1, STYLE_PLAIN, "%s by hand: %s",
                  verdict_terms[fish->judgement.by_hand].word, fish->hand_reason);
    else if (fish->note[0] != '\0')
        grid_putf(grid, row, 0, -1, STYLE_PLAIN, "note: %s", fish->note);
}

static void draw_lists(struct grid *grid, const struct layout *layout, const struct sheet *sheet,
                       const struct letters *letters, int page)
{
    struct area area = {layout->lists, 0, layout->list_rows, layout->aspects};
    if (choices_offered(sheet->mode)) {
        area.columns += layout->faults;
        choices_draw(grid, area, sheet);
        return;
    }
    aspects_draw(grid, area, sheet, letters, page);
    area.column = layout->aspects + GAP - 1;
    area.columns = layout->faults;
    faults_draw(grid, area, sheet, letters, page);
}

void sheet_view_draw(struct grid *grid, const struct sheet *sheet, const struct letters *letters,
                     int page)
{
    struct layout layout = lay_out(grid, &sheet->standard);
    int plate = grid->columns - PLATE_COLUMNS, edge = grid->columns - layout.edge;
    grid_clear(grid);
    draw_heading(grid, sheet);
    draw_strip(grid, layout.strip, sheet);
    fish_front_draw(grid, (struct area){layout.front, 1, layout.front_rows, plate - GAP}, sheet,
                    layout.scale);
    verdict_banner_draw(grid, (struct area){layout.front, plate, layout.front_rows, PLATE_COLUMNS},
                        sheet);
    question_draw(grid, layout.question, sheet);
    draw_lists(grid, &layout, sheet, letters, page);
    side_panel_draw(grid, (struct area){layout.lists, edge, layout.list_rows, layout.edge}, sheet);
    draw_message(grid, layout.message, sheet);
    footer_draw(grid, grid->rows - FOOTER_ROWS, FOOTER_ROWS, sheet_context(sheet->mode));
}
