/* The starting standards of docs/standards, as text, built into the program. */
#ifndef SENBETSU_EXCHANGE_STARTING_STANDARDS_H
#define SENBETSU_EXCHANGE_STARTING_STANDARDS_H

#include "senbetsu/store/ledger.h"

struct starting_standard {
    const char *file; /* "kikusui-harvest.ini" */
    const char *text; /* terminated; `length` in bytes without the end */
    size_t length;
};

/* Made from docs/standards at build time, in order of file name. */
extern const struct starting_standard starting_standards[];
extern const int starting_standard_count;

/* Saves all of them as shipped, in one transaction: what a new ledger begins with. */
bool starting_standards_save(struct ledger *ledger, struct err *err);

#endif
