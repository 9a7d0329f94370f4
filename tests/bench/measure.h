/* What the rows of the bench share: times, a command as one thing to be measured, and two things
 * measured in turns. Whatever cannot be done ends the program with a sentence. */
#ifndef SENBETSU_TESTS_BENCH_MEASURE_H
#define SENBETSU_TESTS_BENCH_MEASURE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

_Noreturn void give_up(const char *what, const char *why);

int64_t now_us(void);

/* The share `part` (0 to 1) of the times is no longer than this; sorts them. */
int64_t quantile(int64_t *times, size_t count, double part);
int64_t median(int64_t *times, size_t count);

void write_file(const char *path, const char *content);
int64_t size_of_file(const char *path);

/* What a whole process took, from its start to its end. */
struct cost {
    int64_t wall_us, cpu_us; /* cpu: in the program and in the system for it */
    int64_t peak_kb;         /* most memory at once */
};

/* Runs a command to its end; what it prints is thrown away. */
struct cost cost_of(const char *const *command);
int64_t timed(const char *const *command);

/* Two commands measured in turns, so that a machine that grows slower grows slower for both. */
struct compared {
    struct cost ours, reference; /* medians, figure by figure */
    double cpu, wall;            /* medians of the ratios, turn by turn */
};

/* `before` (may be NULL) is called before each run, of ours (true) or of the reference. */
struct compared compare_commands(const char *const *ours, const char *const *reference, int turns,
                                 void (*before)(void *context, bool ours), void *context);

/* Writes a page to the end of an open file and waits until it is on the disk. */
int64_t synced_write(int file);

#endif
