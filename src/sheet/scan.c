#include "senbetsu/sheet/scan.h"

void scan_init(struct scan *scan)
{
    *scan = (struct scan){0};
}

int scan_wait_ms(const struct scan *scan)
{
    if (scan->count == 0)
        return 0;
    return scan->count < SCAN_FEWEST ? SCAN_GAP_MS : SCAN_LATE_MS;
}

/* A clock that was set back tells nothing: then the burst is over. */
static bool in_burst(const struct scan *scan, int64_t now_ms, int gap_ms)
{
    return now_ms >= scan->last_ms && now_ms - scan->last_ms < gap_ms;
}

static enum scan_result hold(struct scan *scan, int digit, int64_t now_ms)
{
    if (scan->count < (int)sizeof scan->digits - 1)
        scan->digits[scan->count] = (char)('0' + digit);
    scan->count++;
    scan->last_ms = now_ms;
    return SCAN_WAIT;
}

static enum scan_result burst_is(const struct scan *scan)
{
    if (scan->count < SCAN_FEWEST)
        return SCAN_RELEASE;
    return scan->count == TAG_DIGITS ? SCAN_TAG : SCAN_GARBLED;
}

enum scan_result scan_key(struct scan *scan, int digit, int64_t now_ms)
{
    if (scan->count == 0)
        return digit < 0 ? SCAN_PASS : hold(scan, digit, now_ms);
    if (digit >= 0 && in_burst(scan, now_ms, SCAN_GAP_MS))
        return hold(scan, digit, now_ms);
    return burst_is(scan);
}

bool scan_ends_with(enum scan_result result)
{
    return result == SCAN_TAG || result == SCAN_GARBLED;
}

enum scan_result scan_timeout(struct scan *scan, int64_t now_ms)
{
    if (scan->count == 0)
        return SCAN_PASS;
    return in_burst(scan, now_ms, scan_wait_ms(scan)) ? SCAN_WAIT : burst_is(scan);
}
