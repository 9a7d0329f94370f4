/* The lists in the lower half of the sheet: aspects with their scores, faults with what they do,
 * and what can be chosen by number instead. Where columns are few, what matters least goes first.
 */
#include "senbetsu/base/number.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "sheet_view.h"

#include <stdio.h>

const char *const pick_names[PICK_KEYS] = {"1", "2", "3", "4", "5", "6",
                                           "7", "8", "9", "0", ".", "+"};

/* Columns of a row: the marker, the key, and what follows; for the faults a little closer. */
enum { MARKER = 0, KEY = 2, LABEL = 4, FAULT_KEY = 1, FAULT_LABEL = 3 };

/* The letter of a row, or where rows are picked by number its number; nothing where it has none. */
static void draw_key(struct grid *grid, int row, int column, char letter, bool picking, int place)
{
    char name[2] = {letter, '\0'};
    if (!picking && letter != '\0')
        grid_put(grid, row, column, 1, STYLE_KEY, name);
    if (picking && place >= 0 && place < PICK_KEYS)
        grid_put(grid, row, column, 1, STYLE_CURSOR, pick_names[place]);
}

/* Aspects. */

int scale_columns(const struct standard *standard)
{
    int scores = standard->highest - standard->lowest + 1;
    return 3 * scores + (standard->highest == 10 ? 1 : 0);
}

int scale_draw(struct grid *grid, int row, int column, enum style style,
               const struct standard *standard, int score, int likely)
{
    int used = 0;
    for (int each = standard->lowest; each <= standard->highest; each++) {
        bool finishes = score == SCORE_NONE && each == likely;
        const char *around = each == score ? "[]" : finishes ? "()" : "  ";
        used +=
            grid_putf(grid, row, column + used, -1, style, "%c%d%c", around[0], each, around[1]);
    }
    return used;
}

/* How the width of an aspect's row is shared out, the gap before each part included; 0 = not
 * shown. */
struct shares {
    int label, score, scale, earlier, floor, weight;
};

static struct shares share(int columns, const struct sheet *sheet)
{
    enum { SCORE = 4, EARLIER = 7, WEIGHT = 4, LABEL_LEAST = 14, LABEL_GOOD = 20 };
    struct shares shares = {.score = SCORE, .earlier = sheet_knows_earlier(sheet) ? EARLIER : 0};
    int left = columns - LABEL - shares.score - shares.earlier;
    int scale = scale_columns(&sheet->standard) + 1;
    int floor = sheet->standard.highest == 10 ? 7 : 6;
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

/* Under the floor a score stands in the colour of what that does, and with "!" where there is no
 * room for the scale. */
static void draw_score(struct grid *grid, int row, int column, const struct shares *shares,
                       const struct standard *standard, const struct aspect *aspect, int score,
                       int likely)
{
    char text[16] = "·";
    bool under = score != SCORE_NONE && aspect->floor != NO_FLOOR && score < aspect->floor;
    enum style style = under                 ? verdict_marks[aspect->below_floor].style
                       : score == SCORE_NONE ? STYLE_PLAIN
                                             : STYLE_STRONG;
    if (shares->scale > 0) {
        scale_draw(grid, row, column + 1, style, standard, score, likely);
        return;
    }
    if (score != SCORE_NONE)
        snprintf(text, sizeof text, "%d", score);
    int end = column + shares->score - 1;
    grid_put_right(grid, row, end, shares->score, style, text);
    if (under)
        grid_put(grid, row, end, 1, style, "!");
}

static void draw_aspect(struct grid *grid, int row, struct area area, const struct sheet *sheet,
                        int index)
{
    const struct aspect *aspect = &sheet->standard.aspects[index];
    const struct fish *fish = &sheet->fish[sheet->current];
    int score = fish->judgement.scores[index], earlier = fish->earlier.scores[index];
    bool selected = index == sheet->aspect;
    struct shares shares = share(area.columns, sheet);
    char text[LABEL_TEXT_SIZE];
    int column = area.column + LABEL;
    enum style style = selected ? STYLE_CURSOR : score == SCORE_NONE ? STYLE_STRONG : STYLE_QUIET;
    if (selected)
        grid_put(grid, row, area.column + MARKER, 1, STYLE_CURSOR, "▸");
    grid_put(grid, row, column, shares.label, style, label_fit(aspect->label, shares.label, text));
    column += shares.label;
    draw_score(grid, row, column, &shares, &sheet->standard, aspect, score,
               sheet_likely_score(sheet, fish, index));
    column += shares.score + shares.scale;
    if (shares.earlier > 0 && earlier != SCORE_NONE)
        grid_putf(grid, row, column + 1, shares.earlier, STYLE_QUIET, "was %d", earlier);
    column += shares.earlier;
    if (shares.floor > 0 && aspect->floor != NO_FLOOR)
        grid_putf(grid, row, column + 1, shares.floor - 1, STYLE_QUIET, "min %d", aspect->floor);
    column += shares.floor + shares.weight;
    snprintf(text, sizeof text, "×%d", aspect->weight);
    if (shares.weight > 0)
        grid_put_right(grid, row, column, shares.weight, STYLE_QUIET, text);
}

static void draw_hidden(struct grid *grid, int row, struct area area, const char *arrow, int hidden)
{
    grid_fill(grid, (struct area){row, area.column, 1, area.columns}, STYLE_PLAIN);
    grid_putf(grid, row, area.column + KEY, area.columns - KEY, STYLE_QUIET, "%s %d more", arrow,
              hidden);
}

void aspects_draw(struct grid *grid, struct area area, const struct sheet_view *view)
{
    const struct sheet *sheet = view->sheet;
    int count = sheet->standard.aspect_count, first = sheet->aspect - area.rows / 2;
    if (first > count - area.rows)
        first = count - area.rows;
    if (first < 0)
        first = 0;
    int end = first + area.rows < count ? first + area.rows : count;
    bool picking = sheet->mode == SHEET_PICK_ASPECT;
    for (int i = first; i < end; i++) {
        int row = area.row + i - first;
        draw_aspect(grid, row, area, sheet, i);
        draw_key(grid, row, area.column + KEY, view->letters->aspects[i], picking,
                 i - view->page * PICK_KEYS);
    }
    if (first > 0)
        draw_hidden(grid, area.row, area, "↑", first + 1);
    if (end < count)
        draw_hidden(grid, area.row + area.rows - 1, area, "↓", count - end + 1);
}

/* Faults. */

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

/* `carried`: seen in the look before, and not said to be gone. */
static void draw_fault(struct grid *grid, struct area area, const struct fault *fault, bool seen,
                       bool carried)
{
    char deduction[NUMBER_SIZE + 1], label[LABEL_TEXT_SIZE];
    int left = area.column + FAULT_LABEL, end = area.column + area.columns;
    int used = grid_put_right(grid, area.row, end, end - left, effect_style(fault, seen),
                              effect_text(fault, area.columns, deduction));
    int room = end - left - used - 1;
    grid_put(grid, area.row, left, room, seen ? STYLE_STRONG : STYLE_PLAIN,
             label_fit(fault->label, room, label));
    if (seen || carried)
        grid_put(grid, area.row, area.column + MARKER, 1, seen ? STYLE_STRONG : STYLE_PLAIN,
                 seen ? "✓" : "○");
}

void faults_draw(struct grid *grid, struct area area, const struct sheet_view *view)
{
    const struct sheet *sheet = view->sheet;
    const struct standard *standard = &sheet->standard;
    const struct fish *fish = &sheet->fish[sheet->current];
    uint32_t seen = fish->judgement.faults, carried = sheet_carried_faults(sheet, fish);
    int columns = fault_columns(standard, area.rows);
    int width = (area.columns + 1) / columns;
    for (int i = 0; i < standard->fault_count; i++) {
        struct area one = {area.row + i % area.rows, area.column + i / area.rows * width, 1,
                           width - 1};
        draw_fault(grid, one, &standard->faults[i], (seen >> i & 1) != 0, (carried >> i & 1) != 0);
        draw_key(grid, one.row, one.column + FAULT_KEY, view->letters->faults[i],
                 sheet->mode == SHEET_PICK_FAULT, i - view->page * PICK_KEYS);
    }
}

/* Choices by number. */

bool choices_offered(enum sheet_mode mode)
{
    return mode == SHEET_MENU || mode == SHEET_NOTE || mode == SHEET_VERDICT ||
           mode == SHEET_REASON;
}

/* Goes on in the next of so many columns where the rows are full. */
struct choices {
    struct grid *grid;
    struct area area;
    int columns, count;
};

static void add_choice(struct choices *choices, const char *name, const char *words)
{
    enum { NAME = 2, WORDS = 6 };
    const struct area *area = &choices->area;
    int width = area->columns / choices->columns;
    int row = area->row + choices->count % area->rows;
    int column = area->column + choices->count / area->rows * width;
    grid_put(choices->grid, row, column + NAME, WORDS - NAME - 1, STYLE_KEY, name);
    grid_put(choices->grid, row, column + WORDS, width - WORDS, STYLE_PLAIN, words);
    choices->count++;
}

static void add_key(void *context, const struct key_row *row)
{
    const char name[2] = {row->keys[0], '\0'};
    add_choice(context, name, row->help);
}

void choices_draw(struct grid *grid, struct area area, const struct sheet_view *view)
{
    const struct sheet *sheet = view->sheet;
    struct choices choices = {grid, area, 1, 0};
    if (sheet->mode == SHEET_MENU) { /* the menu is the table of its keys */
        choices.columns = 2;
        keys_each(&sheet_menu_keys, add_key, &choices);
        return;
    }
    if (sheet->mode == SHEET_VERDICT) {
        add_choice(&choices, "1", "keep");
        add_choice(&choices, "2", "hold");
        add_choice(&choices, "3", "reject");
        if (sheet->fish[sheet->current].judgement.by_hand != VERDICT_OPEN)
            add_choice(&choices, "0", "remove the verdict by hand");
        return;
    }
    for (int digit = 1; digit <= 9; digit++) {
        const char name[2] = {(char)('0' + digit), '\0'};
        const char *words = sheet_ready(sheet, digit);
        if (words != NULL)
            add_choice(&choices, name, words);
    }
    add_choice(&choices, "0", "type it");
}
