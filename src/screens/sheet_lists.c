#include "senbetsu/screens/sheet_lists.h"
#include "senbetsu/base/number.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/scale.h"
#include "senbetsu/screens/sheet_keys.h"
#include "senbetsu/ui/grid.h"
#include <stdio.h>

/* Columns of a row: the marker, the key, and what follows; for the faults a little closer. */
enum { MARKER = 0, KEY = 2, LABEL = 4, FAULT_KEY = 1, FAULT_LABEL = 3 };

/* Columns of what follows an aspect's label, the gap before each included. */
enum { SCORE = 4, EARLIER = 7, FLOOR = 7, WEIGHT = 4, LABEL_LEAST = 14, LABEL_GOOD = 20 };

/* The letter of a row, or in its pick layer the number; nothing where it has none. */
static void draw_key(struct grid *grid, int row, int column, char letter, bool picking, int place)
{
    char name[2] = {letter, '\0'};
    if (!picking && letter != '\0')
        grid_put(grid, row, column, 1, STYLE_KEY, name);
    if (picking && place >= 0 && place < PICK_KEYS)
        grid_put(grid, row, column, 1, STYLE_CURSOR, pick_name(place));
}

/* How the width of an aspect's row is shared out; 0 = not shown. */
struct shares {
    int label, score, scale, earlier, floor, weight;
};

static struct shares share(int columns, const struct sheet *sheet)
{
    struct shares shares = {.score = SCORE, .earlier = sheet->second_look ? EARLIER : 0};
    int left = columns - LABEL - shares.score - shares.earlier;
    int scale = scale_columns(&sheet->standard) + 1;
    int floor = sheet->standard.highest == 10 ? FLOOR : FLOOR - 1;
    if (left - floor - WEIGHT >= LABEL_LEAST) {
        shares.floor = floor;
        shares.weight = WEIGHT;
        left -= floor + WEIGHT;
    }
    if (left + shares.score - scale >= LABEL_GOOD) {
        shares.scale = scale;
        left += shares.score - scale;
        shares.score = 0;
    }
    shares.label = left;
    return shares;
}

static enum style score_style(const struct aspect *aspect, int score)
{
    bool under = score != SCORE_NONE && aspect->floor != NO_FLOOR && score < aspect->floor;
    if (under)
        return verdict_marks[aspect->below_floor].style;
    return score == SCORE_NONE ? STYLE_PLAIN : STYLE_STRONG;
}

/* "4", "·" for none yet, "1!" under the floor. */
static void draw_score(struct grid *grid, int row, int end, const struct aspect *aspect, int score)
{
    char text[16] = "·";
    bool under = score != SCORE_NONE && aspect->floor != NO_FLOOR && score < aspect->floor;
    if (score != SCORE_NONE)
        snprintf(text, sizeof text, "%d", score);
    grid_put_right(grid, row, end - 1, SCORE, score_style(aspect, score), text);
    if (under)
        grid_put(grid, row, end - 1, 1, score_style(aspect, score), "!");
}

static void draw_aspect_rules(struct grid *grid, int row, int column, struct shares shares,
                              const struct aspect *aspect)
{
    if (shares.floor > 0 && aspect->floor != NO_FLOOR)
        grid_putf(grid, row, column + 1, shares.floor - 1, STYLE_QUIET, "min %d", aspect->floor);
    char weight[16];
    snprintf(weight, sizeof weight, "×%d", aspect->weight);
    if (shares.weight > 0)
        grid_put_right(grid, row, column + shares.floor + shares.weight, WEIGHT, STYLE_QUIET,
                       weight);
}

static void draw_aspect(struct grid *grid, int row, struct area area, const struct sheet *sheet,
                        int index)
{
    const struct aspect *aspect = &sheet->standard.aspects[index];
    const struct fish *fish = &sheet->fish[sheet->current];
    int score = fish->judgement.scores[index];
    bool here = index == sheet->aspect;
    struct shares shares = share(area.columns, sheet);
    char label[LABEL_SIZE];
    int column = area.column + LABEL;
    grid_put(grid, row, column, shares.label,
             here                  ? STYLE_CURSOR
             : score == SCORE_NONE ? STYLE_STRONG
                                   : STYLE_QUIET,
             label_fit(aspect->label, shares.label, label));
    if (here)
        grid_put(grid, row, area.column + MARKER, 1, STYLE_CURSOR, "▸");
    column += shares.label;
    if (shares.scale > 0)
        scale_draw(grid, row, column + 1, score_style(aspect, score), &sheet->standard, score);
    else
        draw_score(grid, row, column + shares.score, aspect, score);
    column += shares.score + shares.scale;
    if (shares.earlier > 0 && fish->earlier.scores[index] != SCORE_NONE)
        grid_putf(grid, row, column + 1, shares.earlier, STYLE_QUIET, "was %d",
                  fish->earlier.scores[index]);
    draw_aspect_rules(grid, row, column + shares.earlier, shares, aspect);
}

/* The first aspect shown, so that the hand is in sight with something around it. */
static int first_shown(const struct sheet *sheet, int rows)
{
    int count = sheet->standard.aspect_count;
    int first = sheet->aspect - rows / 2;
    if (first > count - rows)
        first = count - rows;
    return first > 0 ? first : 0;
}

static void draw_hidden(struct grid *grid, int row, struct area area, const char *arrow, int hidden)
{
    grid_fill(grid, (struct area){row, area.column, 1, area.columns}, STYLE_PLAIN);
    grid_putf(grid, row, area.column + KEY, area.columns - KEY, STYLE_QUIET, "%s %d more", arrow,
              hidden);
}

void aspects_draw(struct grid *grid, struct area area, const struct sheet *sheet,
                  const struct letters *letters, int page)
{
    int count = sheet->standard.aspect_count;
    int first = first_shown(sheet, area.rows);
    int end = first + area.rows < count ? first + area.rows : count;
    bool picking = sheet->mode == SHEET_PICK_ASPECT;
    for (int i = first; i < end; i++) {
        int row = area.row + i - first;
        draw_aspect(grid, row, area, sheet, i);
        draw_key(grid, row, area.column + KEY, letters->aspects[i], picking, i - page * PICK_KEYS);
    }
    if (first > 0)
        draw_hidden(grid, area.row, area, "↑", first + 1);
    if (end < count)
        draw_hidden(grid, area.row + area.rows - 1, area, "↓", count - end + 1);
}

int fault_columns(const struct standard *standard, int rows)
{
    return standard->fault_count <= rows ? 1 : (standard->fault_count + rows - 1) / rows;
}

/* What a fault does, as short as the room asks for: "reject" or "R", "-10.25" or "-10". */
static const char *effect_text(const struct fault *fault, int columns,
                               char ret_text[NUMBER_SIZE + 1])
{
    enum { WORDS = 27, DECIMALS = 16 };
    enum verdict verdict = fault->effect == EFFECT_REJECT ? VERDICT_REJECT : VERDICT_HOLD;
    if (fault->effect != EFFECT_DEDUCT)
        return columns >= WORDS ? verdict_terms[verdict].word : verdict_marks[verdict].letter;
    ret_text[0] = '-';
    if (columns >= DECIMALS)
        number_from_hundredths(fault->deduction, ret_text + 1);
    else
        snprintf(ret_text + 1, NUMBER_SIZE, "%d", fault->deduction / 100);
    return ret_text;
}

static enum style effect_style(const struct fault *fault, bool seen)
{
    if (!seen)
        return STYLE_QUIET;
    if (fault->effect == EFFECT_DEDUCT)
        return STYLE_STRONG;
    return verdict_marks[fault->effect == EFFECT_REJECT ? VERDICT_REJECT : VERDICT_HOLD].style;
}

static void draw_fault(struct grid *grid, struct area area, const struct fault *fault, bool seen)
{
    char deduction[NUMBER_SIZE + 1], label[LABEL_SIZE];
    int left = area.column + FAULT_LABEL, end = area.column + area.columns;
    int used = grid_put_right(grid, area.row, end, end - left, effect_style(fault, seen),
                              effect_text(fault, area.columns, deduction));
    int room = end - left - used - 1;
    grid_put(grid, area.row, left, room, seen ? STYLE_STRONG : STYLE_PLAIN,
             label_fit(fault->label, room, label));
    if (seen)
        grid_put(grid, area.row, area.column + MARKER, 1, STYLE_STRONG, "✓");
}

void faults_draw(struct grid *grid, struct area area, const struct sheet *sheet,
                 const struct letters *letters, int page)
{
    const struct standard *standard = &sheet->standard;
    uint32_t seen = sheet->fish[sheet->current].judgement.faults;
    int columns = fault_columns(standard, area.rows);
    int width = (area.columns + 1) / columns;
    for (int i = 0; i < standard->fault_count; i++) {
        struct area one = {area.row + i % area.rows, area.column + i / area.rows * width, 1,
                           width - 1};
        draw_fault(grid, one, &standard->faults[i], (seen >> i & 1) != 0);
        draw_key(grid, one.row, one.column + FAULT_KEY, letters->faults[i],
                 sheet->mode == SHEET_PICK_FAULT, i - page * PICK_KEYS);
    }
}
