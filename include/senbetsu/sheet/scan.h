/* Tells a tag reader from a hand. A reader types fifteen digits and Enter in one burst; the digits
 * must reach the tag and never the scores. */
#ifndef SENBETSU_SHEET_SCAN_H
#define SENBETSU_SHEET_SCAN_H

#include "senbetsu/core/code.h"
#include <stdbool.h>
#include <stdint.h>

/* No hand types a second digit within this time. */
enum { SCAN_GAP_MS = 40 };

struct scan {
    char digits[TAG_DIGITS + 1]; /* terminated */
    int count;
    int64_t last_ms;
};

enum scan_result {
    SCAN_PASS, /* no digit was waiting: take this key as it is */
    SCAN_WAIT, /* the digit is held: ask again after SCAN_GAP_MS (scan_timeout) or with the next key
                */
    SCAN_TAG,  /* `digits` is a whole tag; this key (the Enter) belongs to it */
    SCAN_RELEASE, /* it was a hand: take `digits` as keys, then ask again with this key */
};

void scan_init(struct scan *scan);

/* A key at `now_ms`: `digit` 0–9 for a digit, -1 otherwise; `enter` for Enter. After SCAN_TAG and
 * SCAN_RELEASE the caller uses `digits`/`count` and calls scan_init; after SCAN_RELEASE it then
 * gives this key to scan_key once more (a digit may begin the next burst). A 16th digit in a burst,
 * an Enter after another number of digits, or a number that no transponder has
 * (tag_is_transponder) is a hand. */
enum scan_result scan_key(struct scan *scan, int digit, bool enter, int64_t now_ms);

/* Nothing more was typed until `now_ms`: SCAN_PASS, SCAN_WAIT or SCAN_RELEASE. */
enum scan_result scan_timeout(struct scan *scan, int64_t now_ms);

#endif
