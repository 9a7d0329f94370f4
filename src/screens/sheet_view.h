/* What the sheet's screen looks like: one fish large, the bowl as a strip above it, the standard's
 * aspects and faults below, the day's progress at the right. The parts are declared one by one so
 * that tests can draw each by itself. */
#ifndef SENBETSU_SCREENS_SHEET_VIEW_H
#define SENBETSU_SCREENS_SHEET_VIEW_H

#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/frame.h"

struct sheet_view {
    const struct sheet *sheet;
    const struct letters *letters;
    int page; /* of the faults or aspects picked by number, PICK_KEYS on each */
    const char *title, *judge;
    const char *said;             /* instead of the sheet's own message; NULL or "" = nothing */
    bool alert;                   /* and it says that something could not be done */
    const struct key_table *keys; /* of the mode: the footer */
};

/* For grids of GRID_MIN_COLUMNS × GRID_MIN_ROWS and more. */
void sheet_view_draw(struct grid *grid, const struct sheet_view *view);

/* The first row of sheet and tally: the title, and who judges at what time. */
void title_draw(struct grid *grid, const char *title, const char *judge, const struct clock *clock);

/* The last rows of both: what was said on the screen, else the machine's own message, and the keys.
 */
void foot_draw(struct grid *grid, const char *said, bool alert, const char *own,
               const struct key_table *keys);

/* Parts of sheet_view.c. */

/* A mark for each fish of the queue in groups of five, scrolled to the current one; numbers below,
 * but for a second look, whose fish are of several bowls. */
enum { STRIP_ROWS = 2 };
void progress_strip_draw(struct grid *grid, struct area area, const struct sheet *sheet);

/* The current fish: its number in large letters, above it NOW and how far it is, and where there is
 * room the fish before it. */
void current_fish_draw(struct grid *grid, struct area area, const struct sheet *sheet, int scale);

/* The fish before the current one with their verdicts, the nearest first. */
void recent_fish_draw(struct grid *grid, struct area area, const struct sheet *sheet);

/* The last verdict as a large letter on its colour, with the number of its fish; the first row says
 * in words which fish, what and why. */
enum { BANNER_COLUMNS = 43 };
void verdict_banner_draw(struct grid *grid, struct area area, const struct sheet *sheet);

/* What is asked for now: the selected aspect, or what the mode types or chooses. */
void question_draw(struct grid *grid, int row, const struct sheet *sheet);

/* Queue and round with their counts, the pace, the places and the running cut line. */
enum { PANEL_COLUMNS = 18, PANEL_ROWS = 9 };
void side_panel_draw(struct grid *grid, struct area area, const struct sheet *sheet);

/* Parts of sheet_lists.c. */

/* The keys that pick by number: "1" … "9", "0", ".", "+". */
enum { PICK_KEYS = 12 };
extern const char *const pick_names[PICK_KEYS];

/* " 1  2 (3) 4  5 ": the scale with the score in brackets, or the likely one in parentheses where
 * there is none. Returns the columns used. */
int scale_draw(struct grid *grid, int row, int column, enum style style,
               const struct standard *standard, int score, int likely);
int scale_columns(const struct standard *standard);

/* One row an aspect; where there are more than rows, the list is scrolled to the selected one. The
 * wider the area the more is shown: scale, floor, weight, in a second look the earlier scores. */
void aspects_draw(struct grid *grid, struct area area, const struct sheet_view *view);

/* The faults in as many columns as it takes to show all of them. */
void faults_draw(struct grid *grid, struct area area, const struct sheet_view *view);
int fault_columns(const struct standard *standard, int rows);

/* The menu, ready words or verdicts, which stand where aspects and faults stand otherwise. */
bool choices_offered(enum sheet_mode mode);
void choices_draw(struct grid *grid, struct area area, const struct sheet_view *view);

#endif
