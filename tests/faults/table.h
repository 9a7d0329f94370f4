/* What a run of the suite did, as a table: a line a scenario, a column a kind of fault. */
#ifndef SENBETSU_TESTS_FAULTS_TABLE_H
#define SENBETSU_TESTS_FAULTS_TABLE_H

#include "run.h"

void table_head(void);
void table_line(const char *name, const struct run_counts *counts);
void table_add(struct run_counts *sum, const struct run_counts *counts);

#endif
