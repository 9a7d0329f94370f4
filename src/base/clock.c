#include "senbetsu/base/date.h"

int64_t clock_now(const struct clock *clock)
{
    return clock->now_ms(clock->context);
}

static int64_t fixed_now(void *context)
{
    return *(const int64_t *)context;
}

struct clock clock_fixed(int64_t *ms)
{
    return (struct clock){.now_ms = fixed_now, .context = ms};
}
