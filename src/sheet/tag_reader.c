/* Recognises a tag reader by its pace.
 *
 * Readers differ in what they send before and after the digits, and in how fast they are: gaps of 1
 * to 120 ms. What they have in common is that the gaps are even and that nobody types fifteen
 * digits so. Digits score a fish, and a hand must not wait for its scores, so every digit takes
 * effect as it comes; what a reader's digits did is taken back once it is known that they were a
 * reader's.
 *
 * The times are those of the press. A digit that was waiting when the program came to read was
 * pressed somewhere between two instants, and the watch believes the one that speaks for a hand:
 *
 * - The digits came faster than a hand types only if they did even in the longest time that they
 *   can have taken. Digits that piled up while the disk was slow are so never taken for a reader's.
 * - Under READER_SURE_MS from digit to digit that is enough. A hand in a hurry may come near to
 *   READER_SLOWEST_MS, but not evenly: then one pace must fit all presses to READER_SLACK_MS.
 * - A key that is held down is even too, but says the same digit all the time; no tag does.
 *
 * Time is an argument, so tests run the watch without waiting, and a slow machine cannot change
 * what they see. */
#include "senbetsu/sheet/tag_reader.h"

#include <string.h>

void tag_reader_init(struct tag_reader *reader)
{
    *reader = (struct tag_reader){0};
}

/* The shortest time that can have passed since the last digit. A clock that was set back says
 * nothing: then the burst is over. */
static bool came_within(const struct tag_reader *reader, const struct press *press, int64_t gap_ms)
{
    return press->to_ms >= reader->last.to_ms && press->from_ms - reader->last.to_ms <= gap_ms;
}

bool tag_reader_goes_on(const struct tag_reader *reader, const struct press *press)
{
    return reader->count > 0 && came_within(reader, press, READER_SLOWEST_MS + READER_SLACK_MS);
}

void tag_reader_add(struct tag_reader *reader, int digit, const struct press *press)
{
    if (reader->count < READER_KEPT) {
        reader->digits[reader->count] = (char)('0' + digit);
        reader->presses[reader->count] = *press;
    }
    reader->count++;
    reader->last = *press;
}

static int kept(const struct tag_reader *reader)
{
    return reader->count < READER_KEPT ? reader->count : READER_KEPT;
}

static bool one_digit_only(const struct tag_reader *reader)
{
    const char digit[] = {reader->digits[0], '\0'};
    return (int)strspn(reader->digits, digit) == kept(reader);
}

/* Is there a pace p and a beginning b so that press i was at b + i · p, to the slack? For each pair
 * of presses that bounds the pace from below and from above; what all pairs leave is the answer. In
 * whole numbers: a bound is a time over a count of steps. */
static bool even(const struct tag_reader *reader)
{
    int64_t low_ms = 0, low_steps = 1, high_ms = READER_SLOWEST_MS, high_steps = 1;
    for (int j = 1; j < kept(reader); j++)
        for (int i = 0; i < j; i++) {
            const struct press *early = &reader->presses[i], *late = &reader->presses[j];
            int64_t steps = j - i;
            int64_t least = late->from_ms - early->to_ms - READER_SLACK_MS;
            int64_t most = late->to_ms - early->from_ms + READER_SLACK_MS;
            if (least * low_steps > low_ms * steps) {
                low_ms = least;
                low_steps = steps;
            }
            if (most * high_steps < high_ms * steps) {
                high_ms = most;
                high_steps = steps;
            }
        }
    return low_ms * high_steps <= high_ms * low_steps;
}

static bool is_reader(const struct tag_reader *reader)
{
    int steps = kept(reader) - 1;
    if (kept(reader) < READER_FEWEST || one_digit_only(reader))
        return false;
    int64_t longest_ms = reader->presses[steps].to_ms - reader->presses[0].from_ms;
    return longest_ms <= (int64_t)steps * READER_SURE_MS ||
           (longest_ms <= (int64_t)steps * READER_SLOWEST_MS + READER_SLACK_MS && even(reader));
}

enum reader_result tag_reader_result(const struct tag_reader *reader)
{
    if (!is_reader(reader))
        return READER_NONE;
    return reader->count == TAG_DIGITS ? READER_TAG : READER_GARBLED;
}

bool tag_reader_ends(const struct tag_reader *reader, const struct press *press)
{
    return came_within(reader, press, READER_LATE_MS);
}

int tag_reader_wait_ms(const struct tag_reader *reader)
{
    return is_reader(reader) ? READER_LATE_MS : 0;
}
