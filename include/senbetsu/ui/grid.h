/* A screen as cells, before any terminal: views draw into it, the terminal shows what changed,
 * tests read it as text.
 *
 * Drawing is clipped, never refused: a screen drawn at a size it was not made for is incomplete but
 * does no harm. */
#ifndef SENBETSU_UI_GRID_H
#define SENBETSU_UI_GRID_H

#include "senbetsu/base/text.h"
#include "senbetsu/ui/style.h"

enum { GRID_MIN_COLUMNS = 80, GRID_MIN_ROWS = 24, CELL_GLYPH_SIZE = 16 };

struct cell {
    char glyph[CELL_GLYPH_SIZE]; /* one character with its combining marks; "" = right half of a
                                    wide one */
    enum style style;
};

struct grid {
    int rows, columns;
    struct cell *cells;
};

/* A part of the screen. */
struct area {
    int row, column, rows, columns;
};

void grid_init(struct grid *grid, int rows, int columns);
void grid_done(struct grid *grid);

/* All blanks in STYLE_PLAIN. */
void grid_clear(struct grid *grid);

/* Draws text from (row, column), no further than the right edge and `columns` (< 0 = no limit);
 * what is cut ends in "…". Control characters become '?'. Returns the columns used. Positions
 * outside are legal and draw nothing. */
int grid_put(struct grid *grid, int row, int column, int columns, enum style style,
             const char *text);
int grid_putf(struct grid *grid, int row, int column, int columns, enum style style,
              const char *format, ...) __attribute__((format(printf, 6, 7)));

/* Right-aligned: the text ends before column `end`. */
int grid_put_right(struct grid *grid, int row, int end, int columns, enum style style,
                   const char *text);

/* On as many as `rows` rows, broken at blanks, one column from the right edge; what is too long for
 * them ends in "…". Returns the rows used. */
int grid_wrap(struct grid *grid, int row, int column, int rows, enum style style, const char *text);

/* The label, without the gloss in brackets at its end if it does not fit into `columns` with it. */
enum { LABEL_TEXT_SIZE = 4 * 40 + 1 };
const char *label_fit(const char *label, int columns, char ret_text[LABEL_TEXT_SIZE]);

/* A horizontal line. */
void grid_rule(struct grid *grid, int row, int column, int columns);

/* Blanks in one style. */
void grid_fill(struct grid *grid, struct area area, enum style style);

/* The whole grid as lines, trailing blanks removed: what tests compare. */
void grid_text(const struct grid *grid, struct text *out);

#endif
