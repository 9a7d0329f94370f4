#include "bench.h"
#include "connection.h"

#include <sqlite3.h>

struct expectation {
    int code;
    enum err_code kind;
    const char *says;
};

static const struct expectation expectations[] = {
    {SQLITE_BUSY, ERR_BUSY, "Another program is using the ledger /l.db; try again in a moment."},
    {SQLITE_BUSY_SNAPSHOT, ERR_BUSY, "try again"},
    {SQLITE_LOCKED, ERR_BUSY, "try again"},
    {SQLITE_NOTADB, ERR_LEDGER, "/l.db is not a ledger."},
    {SQLITE_CORRUPT, ERR_LEDGER, "The ledger /l.db is damaged"},
    {SQLITE_CORRUPT_INDEX, ERR_LEDGER, "is damaged"},
    {SQLITE_READONLY, ERR_LEDGER, "is read-only"},
    {SQLITE_READONLY_DIRECTORY, ERR_LEDGER, "is read-only"},
    {SQLITE_PERM, ERR_LEDGER, "You may not use"},
    {SQLITE_AUTH, ERR_LEDGER, "You may not use"},
    {SQLITE_CANTOPEN, ERR_SYSTEM, "cannot be opened"},
    {SQLITE_FULL, ERR_SYSTEM, "is full"},
    {SQLITE_IOERR, ERR_SYSTEM, "reports a read or write error"},
    {SQLITE_IOERR_FSYNC, ERR_SYSTEM, "reports a read or write error"},
    {SQLITE_NOMEM, ERR_SYSTEM, "not enough memory"},
    {SQLITE_TOOBIG, ERR_INPUT, "too long"},
    {SQLITE_CONSTRAINT_UNIQUE, ERR_LEDGER, "already has such a record"},
    {SQLITE_CONSTRAINT_PRIMARYKEY, ERR_LEDGER, "already has such a record"},
    {SQLITE_CONSTRAINT_FOREIGNKEY, ERR_LEDGER, "lacks the record that this one belongs to"},
    {SQLITE_CONSTRAINT_TRIGGER, ERR_LEDGER, "still need this one"},
    {SQLITE_CONSTRAINT_CHECK, ERR_LEDGER, "rejects this: the detail."},
    {SQLITE_ERROR, ERR_LEDGER, "rejects this: the detail."},
};

static void every_code_has_one_sentence(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof expectations / sizeof *expectations; i++) {
        struct err err = {.code = ERR_NONE};
        assert_says(sqlite_error("/l.db", expectations[i].code, "the detail", &err), &err,
                    expectations[i].says);
        assert_int_equal(err.code, expectations[i].kind);
        assert_int_equal(err.text[strlen(err.text) - 1], '.');
        assert_null(strstr(err.text, ". "));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_one_sentence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
