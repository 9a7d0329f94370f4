/* The fault suite: every scenario, struck at its calls one by one and cut off at its moments.
 *
 *   faults                 a part of the points, the same ones every time: a few seconds
 *   faults --points 16     up to so many of every kind in every scenario
 *   faults --all           every point
 *   faults NAME …          only scenarios whose name has this in it
 *   faults --must-find …   passes only where something is found: a mutant is caught
 *
 * Ends with a table and exit status 0 where nothing was found. */
#include "readers.h"
#include "table.h"
#include "vfs.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static bool is_chosen(const char *name, char **names, int count)
{
    for (int i = 0; i < count; i++)
        if (strstr(name, names[i]) != NULL)
            return true;
    return count == 0;
}

static void make_base(char *ret, size_t size)
{
    const char *folder = getenv("TMPDIR");
    snprintf(ret, size, "%.30s/faults-XXXXXX",
             folder != NULL && *folder != '\0' ? folder
             : access("/dev/shm", W_OK) == 0   ? "/dev/shm"
                                               : "/tmp");
    if (mkdtemp(ret) == NULL)
        abort();
}

int main(int count, char **arguments)
{
    struct run_depth depth = {.points = 1, .moments = 2, .seeds = 1};
    struct run_counts total = {.cuts = 0};
    bool must_find = false;
    char base[48];
    int from = 1;
    for (; from < count && arguments[from][0] == '-'; from++) {
        must_find = must_find || strcmp(arguments[from], "--must-find") == 0;
        if (strcmp(arguments[from], "--all") == 0)
            depth = (struct run_depth){.seeds = 2};
        if (strcmp(arguments[from], "--points") == 0 && from + 1 < count)
            depth.moments = depth.points = (int)strtol(arguments[++from], NULL, 10);
    }
    setvbuf(stdout, NULL, _IOLBF, 0);
    make_base(base, sizeof base);
    vfs_register();
    grounds_make(base);
    table_head();
    for (int i = 0; i < scenario_count; i++) {
        struct run_counts counts;
        if (!is_chosen(scenarios[i].name, arguments + from, count - from))
            continue;
        run_scenario(&scenarios[i], &depth, base, &counts);
        table_line(scenarios[i].name, &counts);
        table_add(&total, &counts);
    }
    if (is_chosen(READERS_NAME, arguments + from, count - from)) {
        struct run_counts counts;
        run_readers(&depth, base, &counts);
        table_line(READERS_NAME, &counts);
        table_add(&total, &counts);
    }
    table_line("all", &total);
    grounds_done();
    folder_clear(base);
    return must_find == (total.findings > 0) ? 0 : 1;
}
