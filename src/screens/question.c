#include "senbetsu/screens/question.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/scale.h"
#include <stdio.h>
#include <string.h>

enum { PROMPT_SIZE = 96 };

static int add(struct grid *grid, int row, int column, const char *text)
{
    return column + grid_put(grid, row, column, -1, STYLE_CURSOR, text);
}

static void draw_rule_of_aspect(struct grid *grid, int row, int column, const struct aspect *aspect)
{
    column += grid_putf(grid, row, column, -1, STYLE_CURSOR, "  weight %d", aspect->weight);
    if (aspect->floor != NO_FLOOR)
        grid_putf(grid, row, column, -1, STYLE_CURSOR, "  under %d: %s", aspect->floor,
                  verdict_terms[aspect->below_floor].word);
}

static void draw_aspect(struct grid *grid, int row, int column, const struct sheet *sheet)
{
    const struct standard *standard = &sheet->standard;
    if (sheet->aspect >= standard->aspect_count) {
        add(grid, row, column,
            "Done. Enter: to the front; capital letter or /: an aspect to correct");
        return;
    }
    const struct aspect *aspect = &standard->aspects[sheet->aspect];
    const struct fish *fish = &sheet->fish[sheet->current];
    int score = fish->judgement.scores[sheet->aspect];
    if (fish->closed)
        column = add(grid, row, column, "Done. To correct: ");
    column += grid_put(grid, row, column, grid->columns / 2, STYLE_CURSOR, aspect->label) + 2;
    column += scale_draw(grid, row, column, STYLE_CURSOR, standard, score);
    draw_rule_of_aspect(grid, row, column, aspect);
}

/* What is asked for in the modes beside judging. */
static void prompt_text(const struct sheet *sheet, char ret_text[PROMPT_SIZE])
{
    static const char *const prompts[SHEET_MODE_COUNT] = {
        [SHEET_PICK_FAULT] = "Fault, by the number beside it",
        [SHEET_PICK_ASPECT] = "Aspect, by the number beside it",
        [SHEET_MENU] = "What is to be done?",
        [SHEET_LENGTH] = "Length in mm: ",
        [SHEET_TAG] = "Tag: ",
        [SHEET_NOTE] = "Which note?",
        [SHEET_NOTE_TEXT] = "Note: ",
        [SHEET_VERDICT] = "Which verdict by hand?",
    };
    bool reason = sheet->mode == SHEET_REASON || sheet->mode == SHEET_REASON_TEXT;
    if (reason)
        snprintf(ret_text, PROMPT_SIZE, "%s by hand, because: ", verdict_marks[sheet->chosen].word);
    else if (sheet->mode == SHEET_NEXT_BOWL && sheet->expected > 0)
        snprintf(ret_text, PROMPT_SIZE,
                 "Fish in the next bowl (Enter: %d again): ", sheet->expected);
    else if (sheet->mode == SHEET_NEXT_BOWL)
        snprintf(ret_text, PROMPT_SIZE, "Fish in the next bowl (Enter: not known): ");
    else
        snprintf(ret_text, PROMPT_SIZE, "%s", prompts[sheet->mode]);
}

/* The end of the line that fits: that is where the typing happens. */
static const char *tail(const char *line, int columns)
{
    while (utf8_width(line) > columns)
        utf8_next(&line);
    return line;
}

void question_draw(struct grid *grid, int row, const struct sheet *sheet)
{
    char prompt[PROMPT_SIZE];
    grid_fill(grid, (struct area){row, 0, 1, grid->columns}, STYLE_CURSOR);
    int column = add(grid, row, 0, "▸ ");
    if (sheet->mode == SHEET_JUDGE) {
        draw_aspect(grid, row, column, sheet);
        return;
    }
    prompt_text(sheet, prompt);
    column = add(grid, row, column, prompt);
    if (sheet_types_line(sheet)) {
        column = add(grid, row, column, tail(sheet->line, grid->columns - column - 1));
        add(grid, row, column, "_");
    }
}
