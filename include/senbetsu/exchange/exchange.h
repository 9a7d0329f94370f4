/* Files in and out of the ledger: varieties, parents, spawnings, rounds, lots and fish as CSV,
 * standards as INI (docs/files.md). What is written reads back: a file written from one ledger,
 * read into another and written again is the same byte for byte.
 *
 * Columns are found by name, so a spreadsheet may reorder them; an unknown column is an error,
 * since it is more often a misspelt one than one to ignore. */
#ifndef SENBETSU_EXCHANGE_EXCHANGE_H
#define SENBETSU_EXCHANGE_EXCHANGE_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include "senbetsu/store/ledger.h"

/* A file that is read, and what came of it. */
struct import {
    struct ledger *ledger;
    const char *file;   /* what error sentences call it: "fish.csv" */
    struct text *bytes; /* of the file; what was read of them is emptied */
    /* Fish, of which there may be many: appends what comes next in the file to the bytes, nothing
     * at its end. NULL = they are the whole file. */
    bool (*more)(void *source, struct text *bytes, struct err *err);
    void *source;
    int64_t judge;               /* who imports */
    size_t added, changed, same; /* rows; the caller begins with 0 */
    /* Hears of the fish that have been taken, every now and then; NULL = nobody does. */
    void (*tell)(void *context, size_t done);
    void *context;
};

/* Each runs inside the caller's transaction, so that a file is taken whole or not at all: on
 * failure the caller rolls back. The sentence names file, line and (in CSV) column. An empty field
 * leaves what the ledger knows. */
bool import_varieties(struct import *import, struct err *err);
bool import_parents(struct import *import, struct err *err);
bool import_spawnings(struct import *import, struct err *err);
bool import_rounds(struct import *import, struct err *err);
bool import_lots(struct import *import, struct err *err);
bool import_fish(struct import *import, struct err *err);
bool import_standard(struct import *import, struct err *err);

bool export_varieties(struct ledger *ledger, struct text *out, struct err *err);
bool export_parents(struct ledger *ledger, struct text *out, struct err *err);
bool export_spawnings(struct ledger *ledger, struct text *out, struct err *err);

/* The numbers that were stated of every round. A round whose fish were judged one by one has none
 * of its own: its fish say how many they were. */
bool export_rounds(struct ledger *ledger, struct text *out, struct err *err);

/* The events of all lots in order, but for those taken back. */
bool export_lots(struct ledger *ledger, struct text *out, struct err *err);

/* Which fish: NULL and -1 = all. */
struct export_filter {
    const char *spawning;
    const char *lot;
    int stage; /* enum stage */
};

/* A row for what decides each fish, then one for every check of it by another judge. Verdicts by
 * hand, notes and earlier looks are not part of the form; only a backup has them. */
bool export_fish(struct ledger *ledger, const struct export_filter *filter, struct text *out,
                 struct err *err);

bool export_standard(struct ledger *ledger, const char *name, struct text *out, struct err *err);

/* A starting standard of docs/standards, built into the program. */
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
