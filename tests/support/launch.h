/* Starting a program for a test: always in the same small environment, and under a checker where
 * $SENBETSU_UNDER names one ("valgrind --quiet"). */
#ifndef SENBETSU_TESTS_SUPPORT_LAUNCH_H
#define SENBETSU_TESTS_SUPPORT_LAUNCH_H

#include "senbetsu/base/text.h"

/* The checker, "" where there is none. */
const char *launch_under(void);

/* Becomes the program; `environment` ("NAME=value", NULL at the end, or NULL) is added. */
_Noreturn void launch(const char *const *command, const char *const *environment);

/* Runs it to its end with nothing to read and adds what it wrote, errors included, to `out`.
 * Returns its exit status, 128 + the signal that ended it, or -1. */
int launch_and_read(const char *const *command, const char *const *environment, struct text *out);

#endif
