/* The time of day comes in from outside, so that everything below the command line can be tested
 * at any hour. */
#ifndef SENBETSU_BASE_CLOCK_H
#define SENBETSU_BASE_CLOCK_H

#include <stdint.h>

struct clock {
    int64_t (*now_ms)(void *context); /* milliseconds since 1970-01-01 UTC */
    void *context;
    int offset_minutes; /* local time, east of UTC */
};

int64_t clock_now(const struct clock *clock);

/* A clock that stands still at `*ms`; whoever owns `*ms` moves it. */
struct clock clock_fixed(int64_t *ms);

#endif
