/* wait4 is beyond POSIX, which knows no child's own memory and time. */
#define _DEFAULT_SOURCE
#include "measure.h"
#include "senbetsu/base/text.h"
#include "support/launch.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { PAGE = 4096, TURNS_MOST = 101 };

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

int64_t size_of_file(const char *path)
{
    struct stat about;
    if (stat(path, &about) != 0)
        give_up(path, "is not there");
    return about.st_size;
}

static int64_t in_us(struct timeval time)
{
    return (int64_t)time.tv_sec * 1000000 + time.tv_usec;
}

/* What went wrong goes to standard error, so that a row that cannot be measured says why. */
struct cost cost_of(const char *const *command)
{
    int64_t begin = now_us();
    pid_t pid = fork();
    if (pid == 0) {
        int nothing = open("/dev/null", O_RDWR);
        dup2(nothing, STDIN_FILENO);
        dup2(nothing, STDOUT_FILENO);
        launch(command, NULL);
    }
    int status;
    struct rusage usage;
    if (pid < 0 || wait4(pid, &status, 0, &usage) != pid)
        give_up(command[0], "cannot be run");
    struct cost cost = {.wall_us = now_us() - begin,
                        .cpu_us = in_us(usage.ru_utime) + in_us(usage.ru_stime),
                        .peak_kb = usage.ru_maxrss};
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
        give_up(command[0], "failed");
    return cost;
}

int64_t timed(const char *const *command)
{
    return cost_of(command).wall_us;
}

static double middle_ratio(const int64_t *ours, const int64_t *reference, int count)
{
    int64_t ratios[TURNS_MOST]; /* in millionths */
    for (int i = 0; i < count; i++)
        ratios[i] =
            (int64_t)(1e6 * (double)ours[i] / (double)(reference[i] > 0 ? reference[i] : 1));
    return (double)median(ratios, (size_t)count) / 1e6;
}

struct compared compare_commands(const char *const *ours, const char *const *reference, int turns,
                                 void (*before)(void *context, bool ours), void *context)
{
    int64_t cpu[2][TURNS_MOST], wall[2][TURNS_MOST], peak[2][TURNS_MOST];
    if (turns > TURNS_MOST)
        give_up("turns", "too many");
    for (int turn = 0; turn < turns; turn++)
        for (int side = 0; side < 2; side++) {
            if (before != NULL)
                before(context, side == 0);
            struct cost cost = cost_of(side == 0 ? ours : reference);
            cpu[side][turn] = cost.cpu_us;
            wall[side][turn] = cost.wall_us;
            peak[side][turn] = cost.peak_kb;
        }
    struct compared compared = {.cpu = middle_ratio(cpu[0], cpu[1], turns),
                                .wall = middle_ratio(wall[0], wall[1], turns)};
    for (int side = 0; side < 2; side++) {
        struct cost *middle = side == 0 ? &compared.ours : &compared.reference;
        middle->cpu_us = median(cpu[side], (size_t)turns);
        middle->wall_us = median(wall[side], (size_t)turns);
        middle->peak_kb = median(peak[side], (size_t)turns);
    }
    return compared;
}

int64_t synced_write(int file)
{
    static const char page[PAGE];
    int64_t begin = now_us();
    if (write(file, page, PAGE) != PAGE || fdatasync(file) != 0)
        give_up("fdatasync", "failed");
    return now_us() - begin;
}
