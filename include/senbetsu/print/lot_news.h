/* What happened to a lot, in a line. */
#ifndef SENBETSU_PRINT_LOT_NEWS_H
#define SENBETSU_PRINT_LOT_NEWS_H

#include "senbetsu/base/text.h"
#include "senbetsu/report/lot_news.h"

/* "dead 12 counted", "split: 4200 scooped (±4.0 %) into lot west", "put together: all 640 counted
 * into lot barn", "move to North 3"; without the note. */
void lot_news_add(const struct lot_news *news, struct text *out);

/* "K26-1", "west of K26-1", "barn, mixed". */
void lot_title_add(const char *spawning, const char *lot, struct text *out);

/* "640 scooped (±4.0 %)", "700 estimated (error not known)", "not counted". */
void count_text_add(const struct count *count, struct text *out);

#endif
