/* The terminal. term.c and term_paint.c alone include curses.h.
 *
 * One process has one terminal, so there is no handle. Screens never call this: they draw into a
 * grid and are given keys. */
#ifndef SENBETSU_UI_TERM_H
#define SENBETSU_UI_TERM_H

#include "senbetsu/base/err.h"
#include "senbetsu/ui/keys.h"

/* Takes the terminal over: locale, colours (unless `mono`, NO_COLOR, or the terminal has none),
 * keys, SIGHUP and SIGTERM as KEY_HANGUP. Fails with one sentence on an unknown TERM or where
 * standard input or output is no terminal. */
bool term_enter(bool mono, struct err *err);

/* Gives it back; any number of times, also from the out-of-memory path. */
void term_leave(void);

void term_size(int *ret_rows, int *ret_columns);

/* Shows the grid; only what changed since the last call is sent. */
void term_show(const struct grid *grid);

/* The next key, or KEY_NONE after `timeout_ms` (< 0 = wait for ever). */
struct key term_read(int timeout_ms);

void term_alert(void);

#endif
