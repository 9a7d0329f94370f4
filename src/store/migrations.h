/* The steps of migrations/, embedded at build time. */
#ifndef STORE_MIGRATIONS_H
#define STORE_MIGRATIONS_H

struct migration {
    int version; /* of the ledger after this step: 1, 2, … */
    const char *name;
    const char *sql;
    const char *checksum; /* SHA-256 of `sql`, hexadecimal */
};

extern const struct migration migrations[];
extern const int migration_count;

#endif
