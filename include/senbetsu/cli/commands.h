/* The command line as main sees it. */
#ifndef SENBETSU_CLI_COMMANDS_H
#define SENBETSU_CLI_COMMANDS_H

#include "senbetsu/base/err.h"

/* Runs what the words after the program's name ask for and prints what it has to say. */
bool commands_run(int count, const char *const *words, struct err *err);

#endif
