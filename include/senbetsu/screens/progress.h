/* How far a stage, round or bowl is: a ribbon of verdict marks in proportion, and the counts. */
#ifndef SENBETSU_SCREENS_PROGRESS_H
#define SENBETSU_SCREENS_PROGRESS_H

#include "senbetsu/core/progress.h"
#include "senbetsu/ui/grid.h"

/* How a verdict is told in one letter and in a word, and which style goes with it. */
struct mark {
    const char *letter; /* "K", "H", "R", "·" */
    const char *word;   /* "KEEP" */
    enum style style;
};
extern const struct mark verdict_marks[VERDICT_COUNT];

/* `columns` marks: K, H and R for the fish judged so, dots for those still to come; nothing where
 * no number is known. */
void ribbon_draw(struct grid *grid, int row, int column, int columns,
                 const struct verdict_counts *tally);

/* A name, the ribbon, "18 of 60", and the three counts, as wide as the grid allows. */
void progress_draw(struct grid *grid, int row, int column, const char *name,
                   const struct verdict_counts *tally);

#endif
