#include "senbetsu/sheet/scan.h"

void scan_init(struct scan *scan)
{
    *scan = (struct scan){0};
}

/* A clock that was set back tells nothing: then it is taken for a hand. */
static bool in_burst(const struct scan *scan, int64_t now_ms)
{
    return now_ms >= scan->last_ms && now_ms - scan->last_ms < SCAN_GAP_MS;
}

static enum scan_result hold(struct scan *scan, int digit, int64_t now_ms)
{
    scan->digits[scan->count++] = (char)('0' + digit);
    scan->last_ms = now_ms;
    return SCAN_WAIT;
}

enum scan_result scan_key(struct scan *scan, int digit, bool enter, int64_t now_ms)
{
    if (scan->count == 0)
        return digit < 0 ? SCAN_PASS : hold(scan, digit, now_ms);
    if (!in_burst(scan, now_ms))
        return SCAN_RELEASE;
    if (digit >= 0 && scan->count < TAG_DIGITS)
        return hold(scan, digit, now_ms);
    return enter && tag_is_transponder(scan->digits) ? SCAN_TAG : SCAN_RELEASE;
}

enum scan_result scan_timeout(struct scan *scan, int64_t now_ms)
{
    if (scan->count == 0)
        return SCAN_PASS;
    return in_burst(scan, now_ms) ? SCAN_WAIT : SCAN_RELEASE;
}
