/* All that makes two runs of the program differ comes from here and is passed on as arguments.
 *
 * Nothing below the command line asks for the time, the machine or a random number by itself, which
 * is why tests can run the whole program at any date, and why a run can be repeated. */
#include "senbetsu/host/machine.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>
#include <sys/random.h>
#include <time.h>
#include <unistd.h>
#ifdef __linux__
#include <sys/vfs.h>
#endif

static int64_t system_now_ms(void *context)
{
    (void)context;
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Local time is never more than a day from UTC, so the day of the year tells which side it is on.
 */
static int offset_minutes(void)
{
    tzset(); /* localtime_r need not do it */
    time_t now = time(NULL);
    struct tm local, utc;
    if (localtime_r(&now, &local) == NULL || gmtime_r(&now, &utc) == NULL)
        return 0;
    int days = local.tm_year != utc.tm_year ? (local.tm_year > utc.tm_year ? 1 : -1)
                                            : local.tm_yday - utc.tm_yday;
    return days * 24 * 60 + (local.tm_hour - utc.tm_hour) * 60 + local.tm_min - utc.tm_min;
}

struct clock machine_clock(void)
{
    return (struct clock){.now_ms = system_now_ms, .offset_minutes = offset_minutes()};
}

void machine_seed(uint8_t ret_seed[16])
{
    size_t have = 0;
    while (have < 16) {
        ssize_t got = getrandom(ret_seed + have, 16 - have, 0);
        if (got > 0)
            have += (size_t)got;
    }
}

void machine_name(char *ret_name, size_t size)
{
    char name[256] = "";
    if (gethostname(name, sizeof name - 1) != 0 || name[0] == '\0')
        text_copy(name, sizeof name, "station");
    text_copy(ret_name, size, name);
}

/* statfs(2) lists them. */
bool machine_is_network(unsigned long kind)
{
    static const unsigned long networks[] = {
        0x6969,     /* NFS */
        0x517b,     /* SMB */
        0xff534d42, /* CIFS */
        0xfe534d42, /* SMB2 */
        0x5346414f, /* AFS */
        0x00c36400, /* Ceph */
        0x73757245, /* Coda */
        0x01021997, /* 9P */
    };
    for (size_t i = 0; i < sizeof networks / sizeof *networks; i++)
        if (networks[i] == (kind & 0xffffffff))
            return true;
    return false;
}

bool machine_shares(const char *path)
{
#ifdef __linux__
    struct statfs about;
    return statfs(path, &about) == 0 && machine_is_network((unsigned long)about.f_type);
#else
    (void)path;
    return false;
#endif
}
