/* Recognises a tag reader by its pace.
 *
 * Readers differ in what they send before and after the digits, but all of them type faster than
 * anybody can; that is all this relies on. Digits score a fish, so a digit must not take effect
 * before it is known whose it is: each is held until the next key, or until the gap has passed
 * without one. A finger's digit is thus late by the gap at most, which nobody notices.
 *
 * After READER_FEWEST digits at that pace only a reader can be typing, so its Enter may come later:
 * terminals and slow links deliver a burst in pieces. A burst of another length is refused as a
 * whole, for half a tag must become neither a tag nor scores. Time is an argument, so tests run the
 * watch without waiting, and a slow machine cannot change what they see. */
#include "senbetsu/sheet/tag_reader.h"

void tag_reader_init(struct tag_reader *reader)
{
    *reader = (struct tag_reader){0};
}

int tag_reader_wait_ms(const struct tag_reader *reader)
{
    if (reader->count == 0)
        return 0;
    return reader->count < READER_FEWEST ? READER_GAP_MS : READER_LATE_MS;
}

/* A clock that was set back says nothing: then the burst is over. */
static bool in_burst(const struct tag_reader *reader, int64_t now_ms, int gap_ms)
{
    return now_ms >= reader->last_ms && now_ms - reader->last_ms < gap_ms;
}

static enum reader_result burst_is(const struct tag_reader *reader)
{
    if (reader->count < READER_FEWEST)
        return READER_RELEASE;
    return reader->count == TAG_DIGITS ? READER_TAG : READER_GARBLED;
}

enum reader_result tag_reader_key(struct tag_reader *reader, int digit, int64_t now_ms)
{
    if (reader->count == 0 && digit < 0)
        return READER_PASS;
    if (reader->count > 0 && (digit < 0 || !in_burst(reader, now_ms, READER_GAP_MS)))
        return burst_is(reader);
    if (reader->count < (int)sizeof reader->digits - 1)
        reader->digits[reader->count] = (char)('0' + digit);
    reader->count++;
    reader->last_ms = now_ms;
    return READER_WAIT;
}

enum reader_result tag_reader_timeout(const struct tag_reader *reader, int64_t now_ms)
{
    if (reader->count == 0)
        return READER_PASS;
    return in_burst(reader, now_ms, tag_reader_wait_ms(reader)) ? READER_WAIT : burst_is(reader);
}
