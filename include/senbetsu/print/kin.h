/* Two parents: how near they are and what that means for their offspring (docs/kinship.md). */
#ifndef SENBETSU_PRINT_KIN_H
#define SENBETSU_PRINT_KIN_H

#include "senbetsu/print/page.h"
#include "senbetsu/report/pedigree.h"

void kin_print(const struct kin *kin, struct page_setup setup, struct text *out);

/* kinship,offspring_inbreeding */
void kin_csv(const struct kin *kin, struct text *out);

#endif
