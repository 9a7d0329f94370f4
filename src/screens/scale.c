#include "senbetsu/screens/scale.h"
#include "senbetsu/core/judgement.h"

int scale_columns(const struct standard *standard)
{
    int scores = standard->highest - standard->lowest + 1;
    return 3 * scores + (standard->highest == 10 ? 1 : 0);
}

static const char *brackets(const struct standard *standard, int each, int score)
{
    if (each == score)
        return "[]";
    return score == SCORE_NONE && each == standard->typical ? "()" : "  ";
}

int scale_draw(struct grid *grid, int row, int column, enum style style,
               const struct standard *standard, int score)
{
    int used = 0;
    for (int each = standard->lowest; each <= standard->highest; each++) {
        const char *around = brackets(standard, each, score);
        used +=
            grid_putf(grid, row, column + used, -1, style, "%c%d%c", around[0], each, around[1]);
    }
    return used;
}
