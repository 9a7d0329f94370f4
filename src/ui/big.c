/* Large letters, two rows of dots to a row of the screen. The font has the digits and the letters
 * of the verdicts; two shapes differ in more than one dot each, so that none is misread from a
 * metre. Dots of half a row make strokes as thin as one column: a digit that changes costs a slow
 * line a dozen blocks. */
#include "senbetsu/ui/big.h"
#include <stddef.h>
#include <string.h>

enum { DOTS = 2 }; /* to a row */

static const struct shape {
    char letter;
    const char *dots[BIG_ROWS * DOTS];
} shapes[] = {
    {'0', {" ## ", "#  #", "#  #", "#  #", "#  #", " ## "}},
    {'1', {"  # ", " ## ", "  # ", "  # ", "  # ", " ###"}},
    {'2', {" ## ", "#  #", "   #", " ## ", "#   ", "####"}},
    {'3', {"### ", "   #", " ## ", "   #", "   #", "### "}},
    {'4', {"#  #", "#  #", "#  #", "####", "   #", "   #"}},
    {'5', {"####", "#   ", "### ", "   #", "   #", "### "}},
    {'6', {" ## ", "#   ", "### ", "#  #", "#  #", " ## "}},
    {'7', {"####", "   #", "  # ", "  # ", " #  ", " #  "}},
    {'8', {" ## ", "#  #", " ## ", "#  #", "#  #", " ## "}},
    {'9', {" ## ", "#  #", "#  #", " ###", "   #", " ## "}},
    {'H', {"#  #", "#  #", "####", "#  #", "#  #", "#  #"}},
    {'K', {"#  #", "# # ", "##  ", "# # ", "# # ", "#  #"}},
    {'R', {"### ", "#  #", "### ", "# # ", "#  #", "#  #"}},
};

static const struct shape *shape_of(char letter)
{
    for (size_t i = 0; i < sizeof shapes / sizeof shapes[0]; i++)
        if (shapes[i].letter == letter)
            return &shapes[i];
    return NULL;
}

int big_width(const char *text, int scale)
{
    int letters = (int)strlen(text);
    return letters == 0 ? 0 : (letters * (BIG_COLUMNS + BIG_GAP) - BIG_GAP) * scale;
}

/* A row of the shape, itself a row of the screen: two rows of dots. */
static void draw_row(struct grid *grid, int row, int column, int scale, enum style style,
                     const char *upper, const char *lower)
{
    static const char *const blocks[] = {NULL, "▀", "▄", "█"};
    for (int i = 0; i < BIG_COLUMNS * scale; i++) {
        const char *block = blocks[(upper[i / scale] == '#') + 2 * (lower[i / scale] == '#')];
        if (block != NULL)
            grid_put(grid, row, column + i, 1, style, block);
    }
}

void big_draw(struct grid *grid, int row, int column, int scale, enum style style, const char *text)
{
    for (; *text != '\0'; text++, column += (BIG_COLUMNS + BIG_GAP) * scale) {
        const struct shape *shape = shape_of(*text);
        for (int i = 0; shape != NULL && i < BIG_ROWS * scale; i++)
            draw_row(grid, row + i, column, scale, style, shape->dots[DOTS * i / scale],
                     shape->dots[(DOTS * i + 1) / scale]);
    }
}
