/* Tells a tag reader from a hand. A reader types fifteen digits and Enter in one burst; the digits
 * must reach the tag and never the scores. */
#ifndef SENBETSU_SHEET_SCAN_H
#define SENBETSU_SHEET_SCAN_H

#include "senbetsu/core/code.h"
#include <stdbool.h>
#include <stdint.h>

/* No hand types a second digit within this time; and no hand types SCAN_FEWEST digits at such a
 * pace, so that after them even a late Enter is the reader's own. */
enum { SCAN_GAP_MS = 40, SCAN_LATE_MS = 400, SCAN_FEWEST = 10 };

struct scan {
    char digits[2 * TAG_DIGITS + 1]; /* terminated; what a reader sends beyond them is not kept */
    int count;                       /* digits in the burst so far */
    int64_t last_ms;
};

enum scan_result {
    SCAN_PASS,    /* no digit was waiting: take this key as it is */
    SCAN_WAIT,    /* the digit is held: ask again after scan_wait_ms() or with the next key */
    SCAN_TAG,     /* `digits` is a whole tag */
    SCAN_GARBLED, /* a reader sent something that is no tag: nobody may take it for scores */
    SCAN_RELEASE, /* it was a hand: take `digits` as keys */
};

void scan_init(struct scan *scan);

/* A key at `now_ms`: `digit` 0–9 for a digit, -1 otherwise. After SCAN_TAG, SCAN_GARBLED and
 * SCAN_RELEASE the caller uses `digits` and calls scan_init; then it gives the key to scan_key once
 * more, unless it is the Enter that ends what a reader sent (scan_ends_with). */
enum scan_result scan_key(struct scan *scan, int digit, int64_t now_ms);

/* Does an Enter after this result belong to the reader? */
bool scan_ends_with(enum scan_result result);

/* Nothing more was typed until `now_ms`: any result. */
enum scan_result scan_timeout(struct scan *scan, int64_t now_ms);

/* How long to wait for the next key before asking scan_timeout; 0 = no digit is held. */
int scan_wait_ms(const struct scan *scan);

#endif
