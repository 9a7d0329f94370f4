/* Letters of blocks. The font has the digits and what the verdicts are spelled with; two shapes
 * differ in more than one block each, so that none is misread from a metre. */
#include "senbetsu/ui/big.h"
#include <stddef.h>
#include <string.h>

static const struct shape {
    char letter;
    const char *rows[BIG_ROWS];
} shapes[] = {
    {'0', {" #### ", "##  ##", "##  ##", "##  ##", " #### "}},
    {'1', {"  ##  ", " ###  ", "  ##  ", "  ##  ", " #### "}},
    {'2', {" #### ", "##  ##", "   ## ", " ##   ", "######"}},
    {'3', {"##### ", "    ##", "  ### ", "    ##", "##### "}},
    {'4', {"   ###", " ## ##", "##  ##", "######", "    ##"}},
    {'5', {"######", "##    ", "##### ", "    ##", "##### "}},
    {'6', {" #### ", "##    ", "##### ", "##  ##", " #### "}},
    {'7', {"######", "    ##", "   ## ", "  ##  ", "  ##  "}},
    {'8', {" #### ", "##  ##", " #### ", "##  ##", " #### "}},
    {'9', {" #### ", "##  ##", " #####", "    ##", " #### "}},
    {'C', {" #####", "##    ", "##    ", "##    ", " #####"}},
    {'D', {"##### ", "##  ##", "##  ##", "##  ##", "##### "}},
    {'E', {"######", "##    ", "##### ", "##    ", "######"}},
    {'H', {"##  ##", "##  ##", "######", "##  ##", "##  ##"}},
    {'J', {"    ##", "    ##", "    ##", "##  ##", " #### "}},
    {'K', {"##  ##", "## ## ", "####  ", "## ## ", "##  ##"}},
    {'L', {"##    ", "##    ", "##    ", "##    ", "######"}},
    {'N', {"##  ##", "### ##", "######", "## ###", "##  ##"}},
    {'O', {" #### ", "##  ##", "##  ##", "##  ##", " #### "}},
    {'P', {"##### ", "##  ##", "##### ", "##    ", "##    "}},
    {'R', {"##### ", "##  ##", "##### ", "## ## ", "##  ##"}},
    {'T', {"######", "  ##  ", "  ##  ", "  ##  ", "  ##  "}},
    {' ', {"      ", "      ", "      ", "      ", "      "}},
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

static void draw_row(struct grid *grid, int row, int column, int scale, enum style style,
                     const char *blocks)
{
    for (int i = 0; i < BIG_COLUMNS * scale; i++)
        if (blocks[i / scale] == '#')
            grid_put(grid, row, column + i, 1, style, "█");
}

void big_draw(struct grid *grid, int row, int column, int scale, enum style style, const char *text)
{
    for (; *text != '\0'; text++, column += (BIG_COLUMNS + BIG_GAP) * scale) {
        const struct shape *shape = shape_of(*text);
        for (int i = 0; shape != NULL && i < BIG_ROWS * scale; i++)
            draw_row(grid, row + i, column, scale, style, shape->rows[i / scale]);
    }
}
