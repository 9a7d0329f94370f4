/* Loaded before the C library (LD_PRELOAD), it makes the disk of the program under test a slow one:
 * whatever is to be on it when the call returns takes $SYNC_MS more. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

typedef int sync_function(int);

static int slowly(const char *name, int file)
{
    const char *wanted = getenv("SYNC_MS");
    long ms = wanted == NULL ? 0 : strtol(wanted, NULL, 10);
    struct timespec rest = {ms / 1000, ms % 1000 * 1000000L};
    sync_function *real;
    *(void **)&real = dlsym(RTLD_NEXT, name);
    while (nanosleep(&rest, &rest) != 0)
        ;
    return real(file);
}

int fdatasync(int file)
{
    return slowly("fdatasync", file);
}

int fsync(int file)
{
    return slowly("fsync", file);
}
