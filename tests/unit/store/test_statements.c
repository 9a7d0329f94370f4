#include "bench.h"
#include "record.h"

#include <ctype.h>
#include <sqlite3.h>
#include <stdlib.h>

static void expect_one_statement(sqlite3 *db, int sql)
{
    sqlite3_stmt *statement = NULL;
    const char *tail = NULL;
    assert_non_null(sql_texts[sql]);
    char *text = record_sql(sql_texts[sql]);
    if (sqlite3_prepare_v2(db, text, -1, &statement, &tail) != SQLITE_OK)
        fail_msg("%s: %s", text, sqlite3_errmsg(db));
    if (statement == NULL)
        fail_msg("%s is no statement", sql_texts[sql]);
    while (isspace((unsigned char)*tail))
        tail++;
    if (*tail != '\0')
        fail_msg("%s goes on after its end: %s", text, tail);
    free(text);
    sqlite3_finalize(statement);
}

static void every_statement_fits_a_new_ledger(void **state)
{
    (void)state;
    struct bench bench;
    sqlite3 *db;
    bench_init(&bench);
    bench_open(&bench);
    assert_int_equal(sqlite3_open(bench.path, &db), SQLITE_OK);
    sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
    for (int sql = 0; sql < SQL_COUNT; sql++)
        expect_one_statement(db, sql);
    sqlite3_close(db);
    bench_done(&bench);
}

/* Text in, text out: no statement is built from values. */
static void no_statement_stands_twice(void **state)
{
    (void)state;
    for (int a = 0; a < SQL_COUNT; a++)
        for (int b = a + 1; b < SQL_COUNT; b++)
            assert_string_not_equal(sql_texts[a], sql_texts[b]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_statement_fits_a_new_ledger),
        cmocka_unit_test(no_statement_stands_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
