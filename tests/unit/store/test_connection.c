#include "bench.h"
#include "connection.h"

#include <sqlite3.h>

struct expectation {
    int code;
    enum err_code kind;
    const char *says;
};

static const struct expectation expectations[] = {
    {SQLITE_BUSY, ERR_BUSY, "Another program is using the ledger; try again in a moment: /l.db."},
    {SQLITE_BUSY_SNAPSHOT, ERR_BUSY, "try again"},
    {SQLITE_LOCKED, ERR_BUSY, "try again"},
    {SQLITE_NOTADB, ERR_DAMAGE, "The ledger is damaged"},
    {SQLITE_CORRUPT, ERR_DAMAGE, "The ledger is damaged; restore your latest backup in place of "},
    {SQLITE_CORRUPT_INDEX, ERR_DAMAGE, "is damaged"},
    {SQLITE_READONLY, ERR_READONLY, "is read-only"},
    {SQLITE_READONLY_DIRECTORY, ERR_READONLY, "is read-only"},
    {SQLITE_PERM, ERR_PERMISSION, "You may not use"},
    {SQLITE_AUTH, ERR_PERMISSION, "You may not use"},
    {SQLITE_CANTOPEN, ERR_SYSTEM, "cannot be opened"},
    {SQLITE_FULL, ERR_FULL, "The disk is full; free some space"},
    {SQLITE_IOERR, ERR_IO, "The disk reports errors; check it"},
    {SQLITE_IOERR_READ, ERR_IO, "The disk reports read errors"},
    {SQLITE_IOERR_SHORT_READ, ERR_IO, "The disk reports read errors"},
    {SQLITE_IOERR_WRITE, ERR_IO, "The disk reports write errors"},
    {SQLITE_IOERR_FSYNC, ERR_IO, "The disk reports errors"},
    {SQLITE_IOERR_NOMEM, ERR_SYSTEM, "not enough memory"},
    {SQLITE_NOMEM, ERR_SYSTEM, "not enough memory"},
    {SQLITE_TOOBIG, ERR_INPUT, "too long"},
    {SQLITE_CONSTRAINT_UNIQUE, ERR_LEDGER, "There is such a record already"},
    {SQLITE_CONSTRAINT_PRIMARYKEY, ERR_LEDGER, "There is such a record already"},
    {SQLITE_CONSTRAINT_FOREIGNKEY, ERR_LEDGER, "The record that this one belongs to is missing"},
    {SQLITE_CONSTRAINT_TRIGGER, ERR_LEDGER, "still need this one"},
    {SQLITE_CONSTRAINT_CHECK, ERR_LEDGER, "The ledger rejects this (the detail): /l.db."},
    {SQLITE_ERROR, ERR_LEDGER, "The ledger rejects this (the detail): /l.db."},
};

/* A screen of 80 columns shows the cause and what to do; the path may be cut. */
static void expect_path_last(const char *sentence)
{
    enum { COLUMNS = 80 };
    const char *path = strstr(sentence, "/l.db");
    assert_non_null(path);
    assert_string_equal(path, "/l.db.");
    assert_true(path - sentence <= COLUMNS);
}

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
        expect_path_last(err.text);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_one_sentence),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
