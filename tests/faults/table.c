#include "table.h"

#include <stdio.h>

/* Kinds that are of one sort share a column. */
static const struct {
    const char *head;
    enum fault_kind first, last;
} columns[] = {
    {"read", FAULT_READ, FAULT_READ},
    {"short", FAULT_SHORT_READ, FAULT_SHORT_READ},
    {"write", FAULT_WRITE, FAULT_WRITE},
    {"full", FAULT_FULL, FAULT_FULL},
    {"half", FAULT_HALF_WRITE, FAULT_HALF_WRITE},
    {"torn", FAULT_TORN_512, FAULT_TORN_4096},
    {"sync", FAULT_SYNC_KEPT, FAULT_SYNC_LOST},
    {"trunc", FAULT_TRUNCATE, FAULT_TRUNCATE},
    {"size", FAULT_SIZE, FAULT_SIZE},
    {"lock", FAULT_LOCK, FAULT_LOCK},
    {"shm", FAULT_SHM, FAULT_SHM},
    {"busy", FAULT_BUSY, FAULT_BUSY},
    {"open", FAULT_OPEN, FAULT_OPEN},
    {"del", FAULT_DELETE, FAULT_ACCESS},
    {"os", FAULT_OS_EIO, FAULT_OS_HALF_WRITE},
    {"kill", FAULT_KILL, FAULT_KILL},
    {"other", FAULT_VISITOR, FAULT_VISITOR},
};
enum { COLUMNS = sizeof columns / sizeof *columns };

void table_head(void)
{
    printf("\n%-24s %6s", "scenario", "points");
    for (int i = 0; i < COLUMNS; i++)
        printf(" %5s", columns[i].head);
    printf(" %6s %6s %10s\n", "faults", "cuts", "violations");
}

static int sum(const int *numbers, enum fault_kind first, enum fault_kind last)
{
    int total = 0;
    for (int kind = (int)first; kind <= (int)last; kind++)
        total += numbers[kind];
    return total;
}

void table_line(const char *name, const struct run_counts *counts)
{
    const enum fault_kind first = FAULT_NONE + 1, last = FAULT_KIND_COUNT - 1;
    printf("%-24s %6d", name, sum(counts->points, first, last));
    for (int i = 0; i < COLUMNS; i++)
        printf(" %5d", sum(counts->injected, columns[i].first, columns[i].last));
    printf(" %6d %6d %10d\n", sum(counts->injected, first, last), counts->cuts, counts->findings);
}

void table_add(struct run_counts *total, const struct run_counts *counts)
{
    for (int kind = 0; kind < FAULT_KIND_COUNT; kind++) {
        total->points[kind] += counts->points[kind];
        total->injected[kind] += counts->injected[kind];
    }
    total->cuts += counts->cuts;
    total->findings += counts->findings;
}
