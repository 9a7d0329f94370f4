#include "measure.h"
#include "senbetsu/base/text.h"
#include "support/launch.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

enum { PAGE = 4096 };

_Noreturn void give_up(const char *what, const char *why)
{
    fprintf(stderr, "%s: %s\n", what, why);
    exit(1);
}

int64_t now_us(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static int compare(const void *a, const void *b)
{
    int64_t left = *(const int64_t *)a, right = *(const int64_t *)b;
    return (left > right) - (left < right);
}

int64_t quantile(int64_t *times, size_t count, double part)
{
    if (count == 0)
        return 0;
    qsort(times, count, sizeof *times, compare);
    size_t at = (size_t)((double)count * part);
    return times[at < count ? at : count - 1];
}

int64_t median(int64_t *times, size_t count)
{
    return quantile(times, count, 0.5);
}

void write_file(const char *path, const char *content)
{
    FILE *file = fopen(path, "wb");
    if (file == NULL || fputs(content, file) < 0 || fclose(file) != 0)
        give_up(path, "cannot be written");
}

int64_t timed(const char *const *command)
{
    struct text said;
    text_init(&said);
    int64_t begin = now_us();
    int status = launch_and_read(command, NULL, &said);
    int64_t took = now_us() - begin;
    if (status != 0)
        give_up(command[0], said.data);
    text_done(&said);
    return took;
}

int64_t synced_write(int file)
{
    static const char page[PAGE];
    int64_t begin = now_us();
    if (write(file, page, PAGE) != PAGE || fdatasync(file) != 0)
        give_up("fdatasync", "failed");
    return now_us() - begin;
}
