/* What the measuring programs share: times, and a command as one thing to be timed. Whatever cannot
 * be done ends the program with a sentence. */
#ifndef SENBETSU_TESTS_BENCH_MEASURE_H
#define SENBETSU_TESTS_BENCH_MEASURE_H

#include <stddef.h>
#include <stdint.h>

_Noreturn void give_up(const char *what, const char *why);

int64_t now_us(void);

/* The share `part` (0 to 1) of the times is no longer than this; sorts them. */
int64_t quantile(int64_t *times, size_t count, double part);
int64_t median(int64_t *times, size_t count);

void write_file(const char *path, const char *content);

/* Runs a command to its end; how long that took. */
int64_t timed(const char *const *command);

/* Writes a page to the end of an open file and waits until it is on the disk. */
int64_t synced_write(int file);

#endif
