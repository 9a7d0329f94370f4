/* Where rejects went, in words. */
#ifndef SENBETSU_PRINT_FATES_TEXT_H
#define SENBETSU_PRINT_FATES_TEXT_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/round.h"

/* Adds "pond-grade 20, put-down 40, not decided 5", what is none left out; a number that cannot be
 * stands last: "3 more than were rejected". Nothing where there are no fish. */
void fates_text(const struct fates *fates, struct text *out);

#endif
