/* Tells a tag reader from fingers. A reader acts as a keyboard: it types fifteen digits and mostly
 * an Enter or Tab after them. Digits take effect as they come; the watch says afterwards that a
 * burst of them was a reader's, and the caller takes back what they did. Time comes in with each
 * call. */
#ifndef SENBETSU_SHEET_TAG_READER_H
#define SENBETSU_SHEET_TAG_READER_H

#include "senbetsu/core/fish.h"
#include "senbetsu/sheet/sheet.h"

enum {
    READER_SLOWEST_MS = 120, /* the longest gap of a reader */
    READER_SLACK_MS = 12,    /* by which a press may miss an even pace: lines poll and bundle */
    READER_SURE_MS = 40,     /* no hand types READER_FEWEST digits with such gaps */
    READER_LATE_MS = 400,    /* how much later than the digits a reader's end may come */
    READER_FEWEST = 10,
    READER_KEPT = 2 * TAG_DIGITS,
};

struct tag_reader {
    char digits[READER_KEPT + 1]; /* terminated; what comes beyond is only counted */
    struct press presses[READER_KEPT];
    struct press last;
    int count; /* digits in the burst so far */
};

enum reader_result {
    READER_NONE,    /* fingers, as far as anybody can tell */
    READER_TAG,     /* `digits` is a whole tag */
    READER_GARBLED, /* a reader sent something that is no tag: nobody may take it for scores */
};

void tag_reader_init(struct tag_reader *reader);

/* May a digit pressed so belong to the burst? If not, the burst is over. */
bool tag_reader_goes_on(const struct tag_reader *reader, const struct press *press);

/* Adds a digit, 0–9. */
void tag_reader_add(struct tag_reader *reader, int digit, const struct press *press);

/* What the burst was, now that it is over. */
enum reader_result tag_reader_result(const struct tag_reader *reader);

/* Is an Enter or Tab pressed so the end of what the reader sent? */
bool tag_reader_ends(const struct tag_reader *reader, const struct press *press);

/* How long to wait for more before the burst is over; 0 = it is no reader's so far. */
int tag_reader_wait_ms(const struct tag_reader *reader);

#endif
