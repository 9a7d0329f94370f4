#include "senbetsu/screens/sheet_choices.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/sheet_bindings.h"

enum { MENU_COLUMNS = 2, NAME = 2, WORDS = 6 };

bool choices_offered(enum sheet_mode mode)
{
    return mode == SHEET_MENU || mode == SHEET_NOTE || mode == SHEET_VERDICT ||
           mode == SHEET_REASON;
}

static void draw_choice(struct grid *grid, int row, int column, int columns, const char *name,
                        const char *words)
{
    grid_put(grid, row, column + NAME, WORDS - NAME - 1, STYLE_KEY, name);
    grid_put(grid, row, column + WORDS, columns - WORDS, STYLE_PLAIN, words);
}

/* The menu is the table of its keys. */
static void draw_menu(struct grid *grid, struct area area)
{
    int width = area.columns / MENU_COLUMNS, place = 0;
    for (int i = 0; i < binding_count; i++) {
        const struct binding *row = &bindings[i];
        if (row->context != CONTEXT_SHEET_MENU || row->help == NULL)
            continue;
        draw_choice(grid, area.row + place % area.rows, area.column + place / area.rows * width,
                    width, row->name, row->help);
        place++;
    }
}

static void draw_ready(struct grid *grid, struct area area, const struct sheet *sheet)
{
    int row = area.row;
    for (int digit = 1; digit <= 9; digit++) {
        const char name[2] = {(char)('0' + digit), '\0'};
        const char *words = sheet_ready(sheet, digit);
        if (words != NULL)
            draw_choice(grid, row++, area.column, area.columns, name, words);
    }
    draw_choice(grid, row, area.column, area.columns, "0", "type it");
}

static void draw_verdicts(struct grid *grid, struct area area, const struct sheet *sheet)
{
    int row = area.row;
    draw_choice(grid, row++, area.column, area.columns, "1", "keep");
    draw_choice(grid, row++, area.column, area.columns, "2", "hold");
    draw_choice(grid, row++, area.column, area.columns, "3", "reject");
    if (sheet->fish[sheet->current].judgement.by_hand != VERDICT_OPEN)
        draw_choice(grid, row, area.column, area.columns, "0", "take the verdict by hand away");
}

void choices_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    if (sheet->mode == SHEET_MENU)
        draw_menu(grid, area);
    else if (sheet->mode == SHEET_VERDICT)
        draw_verdicts(grid, area, sheet);
    else
        draw_ready(grid, area, sheet);
}
