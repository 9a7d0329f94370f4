/* Lots in words, and their names: what the screen of the lots (lots.c) and the forms that move fish
 * between them (lot_forms.c) have in common. */
#ifndef SENBETSU_SCREENS_LOTS_H
#define SENBETSU_SCREENS_LOTS_H

#include "senbetsu/base/text.h"
#include "senbetsu/report/lots.h"

enum { LOT_TEXT_SIZE = 512 };

/* "west of K26-1", "barn, mixed". */
void lot_title(const struct lot_origin *lot, char ret_title[LOT_TEXT_SIZE]);

/* "412 counted", "4200 ±4.0 % scooped", "not known", "! 0: 12 too many taken". */
void lot_number(const struct book_count *book, char ret_number[LOT_TEXT_SIZE]);

/* "the spawning's own; after the second cull; number as counted since; dead 41": what its fish came
 * from, what its number rests on, who is missing. `events` are those of all lots, in order. */
void lot_about(const struct lot_line *line, const struct lot_event *events, size_t count,
               char ret_about[LOT_TEXT_SIZE]);

/* As it is seen from one of the lots it touches: "2026-08-12 dead 12 (cold night)",
 * "2026-08-12 400 counted from K26-1". */
void lot_event_text(const struct lot_event *event, int64_t lot_id, struct text *out);

/* A lot of one spawning is named where it is to be begun, or chosen. ERR_INPUT where the name is
 * that of a lot mixed from the spawning's fish and others', and the spawning has none of that name:
 * that one was meant. */
bool lot_name_check(struct ledger *ledger, const char *spawning, const char *code, struct err *err);

/* Is every code of `codes` in `list`? Both are separated by ';'. */
bool codes_in_list(const char *codes, const char *list);

/* A code for a lot of these spawnings that is to be begun: `stem` and the first number from `first`
 * up that no such lot has, but one into which no fish were ever put. */
void lot_free_code(const struct lot_line *lines, size_t count, const char *spawnings,
                   const char *stem, int first, char ret_code[CODE_SIZE]);

#endif
