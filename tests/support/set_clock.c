/* Loaded before the C library (LD_PRELOAD), it lets a program under test begin its work on another
 * day: at the second that $SET_CLOCK names, from when on time goes by as usual; with
 * $CLOCK_STANDS it does not go by at all, so that what the program does with time does not depend
 * on how fast the machine is. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <time.h>

typedef int clock_function(clockid_t, struct timespec *);

static clock_function *real_clock(void)
{
    static clock_function *found;
    if (found == NULL)
        *(void **)&found = dlsym(RTLD_NEXT, "clock_gettime");
    return found;
}

/* What has to be added to the machine's time. */
static time_t ahead(time_t now)
{
    static time_t seconds;
    const char *wanted = getenv("SET_CLOCK");
    if (seconds == 0 && wanted != NULL)
        seconds = (time_t)strtoll(wanted, NULL, 10) - now;
    return seconds;
}

int clock_gettime(clockid_t clock, struct timespec *ret)
{
    int failed = real_clock()(clock, ret);
    if (failed == 0 && clock == CLOCK_REALTIME && getenv("CLOCK_STANDS") != NULL)
        *ret = (struct timespec){.tv_sec = (time_t)strtoll(getenv("SET_CLOCK"), NULL, 10)};
    else if (failed == 0 && clock == CLOCK_REALTIME)
        ret->tv_sec += ahead(ret->tv_sec);
    return failed;
}

time_t time(time_t *ret)
{
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    if (ret != NULL)
        *ret = now.tv_sec;
    return now.tv_sec;
}
