/* Imports of texts into the small ledger. */
#ifndef SENBETSU_TESTS_UNIT_CLI_IMPORT_BENCH_H
#define SENBETSU_TESTS_UNIT_CLI_IMPORT_BENCH_H

#include "senbetsu/exchange/exchange.h"
#include "support/small_ledger.h"

typedef bool import_function(struct import *import, struct err *err);

/* As the command does it: one transaction, taken back on failure. */
static inline bool import_text(struct small_ledger *small, import_function *function,
                               const char *text, struct import *ret, struct err *err)
{
    struct text bytes;
    text_init(&bytes);
    text_add(&bytes, text);
    *ret = (struct import){.ledger = small->ledger, .file = "f.csv", .bytes = &bytes};
    bool done = transaction_begin(small->ledger, err) && function(ret, err) &&
                transaction_commit(small->ledger, err);
    if (!done)
        transaction_rollback(small->ledger);
    text_done(&bytes);
    ret->bytes = NULL;
    return done;
}

static inline void assert_counts(const struct import *import, size_t added, size_t changed,
                                 size_t same)
{
    assert_int_equal(import->added, added);
    assert_int_equal(import->changed, changed);
    assert_int_equal(import->same, same);
}

/* Imports what must be taken. */
static inline void take_text(struct small_ledger *small, import_function *function,
                             const char *text, size_t added, size_t changed, size_t same)
{
    struct import import;
    struct err err = {0};
    assert_ok(import_text(small, function, text, &import, &err), &err);
    assert_counts(&import, added, changed, same);
}

/* Imports what must be refused with this sentence. */
static inline void refuse_text(struct small_ledger *small, import_function *function,
                               const char *text, const char *sentence)
{
    struct import import;
    struct err err = {0};
    assert_says(import_text(small, function, text, &import, &err), &err, sentence);
}

#endif
