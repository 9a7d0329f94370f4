/* Tells a tag reader from fingers. A reader acts as a keyboard: it types fifteen digits and Enter
 * in one burst. Those digits must reach the tag and never the scores, so a digit is held for a
 * moment until the time of the next key says whose it was. Time comes in with each call. */
#ifndef SENBETSU_SHEET_TAG_READER_H
#define SENBETSU_SHEET_TAG_READER_H

#include "senbetsu/core/fish.h"
#include <stdbool.h>
#include <stdint.h>

/* No finger types a second digit within the gap; and no finger types READER_FEWEST digits at such a
 * pace, so that after them even a late Enter is the reader's own. */
enum { READER_GAP_MS = 40, READER_LATE_MS = 400, READER_FEWEST = 10 };

struct tag_reader {
    char digits[2 * TAG_DIGITS + 1]; /* terminated; what a reader sends beyond them is not kept */
    int count;                       /* digits in the burst so far */
    int64_t last_ms;
};

enum reader_result {
    READER_PASS,    /* no digit was held: take this key as it is */
    READER_WAIT,    /* the digit is held: ask again after tag_reader_wait_ms or with the next key */
    READER_TAG,     /* `digits` is a whole tag */
    READER_GARBLED, /* a reader sent something that is no tag: nobody may take it for scores */
    READER_RELEASE, /* it was a finger: take `digits` as keys */
};

void tag_reader_init(struct tag_reader *reader);

/* A key at `now_ms`: `digit` 0–9 for a digit, -1 otherwise. After READER_TAG, READER_GARBLED and
 * READER_RELEASE the caller uses `digits` and calls tag_reader_init; then it gives the key to
 * tag_reader_key once more, unless it is the Enter that ends what a reader sent (after READER_TAG
 * and READER_GARBLED). */
enum reader_result tag_reader_key(struct tag_reader *reader, int digit, int64_t now_ms);

/* Nothing more was typed until `now_ms`: any result. */
enum reader_result tag_reader_timeout(const struct tag_reader *reader, int64_t now_ms);

/* How long to wait for the next key before asking tag_reader_timeout; 0 = no digit is held. */
int tag_reader_wait_ms(const struct tag_reader *reader);

#endif
