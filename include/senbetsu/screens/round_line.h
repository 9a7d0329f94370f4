/* A round as lists name it. */
#ifndef SENBETSU_SCREENS_ROUND_LINE_H
#define SENBETSU_SCREENS_ROUND_LINE_H

#include "senbetsu/store/rounds.h"

enum { ROUND_TEXT_SIZE = 512 };

/* "harvest", or "harvest B" for another lot than the spawning's own. */
const char *round_name(const struct round *round, char ret_text[ROUND_TEXT_SIZE]);

/* "3 bowls, 2026-11-05, 20 places, by kikusui-harvest, rejects pond-grade"; "tallied" instead of
 * bowls, or "stated" where both numbers were said. */
const char *round_about(const struct round_summary *summary, char ret_text[ROUND_TEXT_SIZE]);

#endif
