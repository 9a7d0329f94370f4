/* A keyboard and a screen for the loop of the screens: keys come when they are said to, whether the
 * program waits for them or is busy, and time is the bench's own. And what can go wrong with the
 * ledger while they come. */
#ifndef SENBETSU_TESTS_UNIT_SCREENS_KEYBOARD_H
#define SENBETSU_TESTS_UNIT_SCREENS_KEYBOARD_H

#include "bench.h"

/* A key by name, or each character of a text, so many milliseconds after the one before. */
void keyboard_key(struct bench *bench, int after_ms, const char *name);
void keyboard_text(struct bench *bench, int after_ms, const char *text);

/* Runs the loop on what was typed since, and so long after it; then the line is cut. */
void keyboard_run(struct bench *bench, int rest_ms);

/* The program does not run for so long from the next key on, though it waits for keys. */
void keyboard_sleep(struct bench *bench, int ms);

enum trouble { TROUBLE_BUSY, TROUBLE_FULL, TROUBLE_IO, TROUBLE_COUNT };

/* The n-th write from now on (counted from 1) is refused, after so long a wait; what refused it is
 * over once that has been painted. */
void trouble_begin(struct bench *bench, enum trouble trouble, int n, int stall_ms);

/* Only slow: the n-th write takes so long. */
void trouble_slow(struct bench *bench, int n, int stall_ms);

/* How many writes there were since it began. */
int trouble_writes(void);

/* Has it struck? Ends it in any case. */
bool trouble_end(struct bench *bench);

/* What the screen says of it; sheet and tally say before it that nothing was recorded. */
extern const char *const trouble_said[TROUBLE_COUNT];

#endif
