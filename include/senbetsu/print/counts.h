/* Numbers of fish, names of lots, fates of rejects and first looks in words: the same wherever they
 * are printed, listed or shown. All but the last two are added to what `out` has already. */
#ifndef SENBETSU_PRINT_COUNTS_H
#define SENBETSU_PRINT_COUNTS_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/first_look.h"
#include "senbetsu/core/round.h"
#include "senbetsu/report/lots.h"

/* "dead 12 counted", "split: 4200 scooped (±4.0 %) into lot west", "put together: all 640 counted
 * into lot barn", "move to North 3"; without the note. */
void lot_news_add(const struct lot_news *news, struct text *out);

/* "K26-1", "west of K26-1", "barn, mixed". */
void lot_title_add(const char *spawning, const char *lot, struct text *out);

/* "640 scooped (±4.0 %)", "700 estimated (error not known)", "not counted". */
void count_text_add(const struct count *count, struct text *out);

/* Adds "pond-grade 20, put-down 40, not decided 5", what is none left out; a number that cannot be
 * stands last: "3 more than were rejected". Nothing where there are no fish. */
void fates_text(const struct fates *fates, struct text *out);

enum { FIRST_LOOK_TEXT_SIZE = 96, INTERVAL_TEXT_SIZE = 32 };

/* The 95 % interval of the share of good fish: "48.1 to 85.5 %"; "" where none was looked at. */
const char *first_look_interval_text(const struct first_look *look,
                                     char ret_text[INTERVAL_TEXT_SIZE]);

/* "14 of 20 good, 70.0 % (48.1 to 85.5 %)", "" where none was looked at. */
const char *first_look_text(const struct first_look *look, char ret_text[FIRST_LOOK_TEXT_SIZE]);

#endif
