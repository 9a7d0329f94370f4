/* A report beside somebody who writes: whenever he comes by between two of its reads, it tells what
 * was before or what is after, never something of both. */
#ifndef SENBETSU_TESTS_FAULTS_READERS_H
#define SENBETSU_TESTS_FAULTS_READERS_H

#include "run.h"

#define READERS_NAME "report beside a writer"

void run_readers(const struct run_depth *depth, const char *base, struct run_counts *ret);

#endif
