/* Starting a program for a test: always in the same small environment. Where $SENBETSU_UNDER names
 * a checker ("valgrind --quiet") screens run under it, but not what is read: it looks at the
 * commands in every_command.py, where they do not have to be started one by one. */
#ifndef SENBETSU_TESTS_SUPPORT_LAUNCH_H
#define SENBETSU_TESTS_SUPPORT_LAUNCH_H

#include "senbetsu/base/text.h"

/* The checker, "" where there is none. */
const char *launch_under(void);

/* Becomes the program, under the checker; `environment` ("NAME=value", NULL at the end, or NULL) is
 * added. */
_Noreturn void launch(const char *const *command, const char *const *environment);

/* Runs a program to its end, without the checker, with nothing to read and adds what it wrote,
 * errors included, to `out`. Returns its exit status, 128 + the signal that ended it, or -1. */
int launch_and_read(const char *const *command, const char *const *environment, struct text *out);

#endif
