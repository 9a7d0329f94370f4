/* Reading files into the ledger. Each import runs inside the caller's transaction, so that a file
 * is taken whole or not at all. */
#ifndef SENBETSU_EXCHANGE_IMPORT_H
#define SENBETSU_EXCHANGE_IMPORT_H

#include "senbetsu/store/ledger.h"

struct import {
    struct ledger *ledger;
    const char *file; /* what error sentences call it: "fish.csv" */
    const char *bytes;
    size_t length;
    int64_t judge; /* who imports */

    /* What it did, row by row. */
    size_t added, changed, same;
};

/* On failure the sentence names file, line and (CSV) column; the caller rolls back. */
bool import_parents(struct import *import, struct err *err);
bool import_spawnings(struct import *import, struct err *err);
bool import_rounds(struct import *import, struct err *err);
bool import_lots(struct import *import, struct err *err);
bool import_fish(struct import *import, struct err *err);
bool import_standard(struct import *import, struct err *err);

/* Counts one row. */
void import_count(struct import *import, enum saved saved);

#endif
