/* A round as lists show it. */
#ifndef SENBETSU_SCREENS_ROUND_LINE_H
#define SENBETSU_SCREENS_ROUND_LINE_H

#include "senbetsu/core/code.h"
#include "senbetsu/screens/progress.h"
#include <stdbool.h>

struct round_line {
    enum stage stage;
    char lot[CODE_SIZE]; /* "" = the spawning's own */
    struct verdict_counts tally;
    bool tallied; /* picked or removed, not judged fish by fish: it has no bowls */
    bool stated;  /* both its numbers were said, and count */
    int bowls;
    char first_day[11], last_day[11]; /* "" = nothing judged yet */
    int places;                       /* -1 = not set */
    char standard[CODE_SIZE];         /* "" = none */
    enum waiting waiting;
    enum fate fate;
    char first_look[96]; /* "14 of 20 good, 70.0 % (48.1 to 85.5)", "" = none */
};

enum { ROUND_TEXT_SIZE = 512 };

/* "harvest", or "harvest B" for another lot than the spawning's own. */
const char *round_line_name(const struct round_line *line, char ret_text[ROUND_TEXT_SIZE]);

/* "3 bowls, 20 places, judged by kikusui-harvest, rejects pond-grade"; "tallied" instead of bowls.
 */
const char *round_line_about(const struct round_line *line, char ret_text[ROUND_TEXT_SIZE]);

#endif
