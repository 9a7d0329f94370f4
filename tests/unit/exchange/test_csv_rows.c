#include "senbetsu/exchange/csv_rows.h"
#include "support/test.h"

enum { COLUMN_CODE, COLUMN_COUNT_OF_FISH, COLUMN_SEX, COLUMN_DAY, COLUMN_NOTE, COLUMN_TOTAL };

static const struct column columns[COLUMN_TOTAL] = {
    {"code", true}, {"count", false}, {"sex", false}, {"day", false}, {"note", false}};

static bool read(const char *text, bool more_columns, struct rows *ret, struct err *err)
{
    struct import import = {.file = "f.csv", .bytes = text, .length = strlen(text)};
    return rows_read(&import, columns, COLUMN_TOTAL, more_columns, ret, err);
}

static void test_fields_are_read_by_name(void **state)
{
    (void)state;
    struct rows rows;
    struct err err;
    char code[32] = "", day[11] = "", note[32] = "";
    int64_t count = 7;
    int sex = SEX_UNKNOWN;
    assert_ok(read("day,sex,code,note\n2026-06-14,f,K1,calm\n", false, &rows, &err), &err);
    struct row row = rows_at(&rows, 0, &err);
    assert_true(row_code(&row, COLUMN_CODE, code, sizeof code));
    assert_true(row_whole(&row, COLUMN_COUNT_OF_FISH, 0, 9, &count));
    assert_true(row_term(&row, COLUMN_SEX, sex_terms, SEX_COUNT, &sex));
    assert_true(row_date(&row, COLUMN_DAY, day));
    assert_true(row_note(&row, COLUMN_NOTE, note, sizeof note));
    assert_string_equal(code, "K1");
    assert_int_equal(count, 7); /* its column is not there */
    assert_int_equal(sex, SEX_FEMALE);
    assert_string_equal(day, "2026-06-14");
    assert_string_equal(note, "calm");
    rows_done(&rows);
}

static void test_the_place_is_that_of_the_file(void **state)
{
    (void)state;
    struct rows rows;
    struct err err;
    char code[32], day[11], note[1024];
    int64_t count;
    int sex;
    assert_ok(read("note,day,sex,count,code\n\n\"a\nb\",14.6.,x,-1,\n", false, &rows, &err), &err);
    struct row row = rows_at(&rows, 0, &err);
    assert_says(row_note(&row, COLUMN_NOTE, note, sizeof note), &err,
                "f.csv, line 3, column 1 (note): a note is a single line.");
    assert_says(row_date(&row, COLUMN_DAY, day), &err,
                "f.csv, line 3, column 2 (day): a date such");
    assert_says(row_term(&row, COLUMN_SEX, sex_terms, SEX_COUNT, &sex), &err,
                "f.csv, line 3, column 3 (sex): f or m is expected, not \"x\".");
    assert_says(row_whole(&row, COLUMN_COUNT_OF_FISH, 0, 9, &count), &err,
                "f.csv, line 3, column 4 (count): a whole number from 0 to 9 is expected, not "
                "\"-1\".");
    assert_says(row_code(&row, COLUMN_CODE, code, sizeof code), &err,
                "f.csv, line 3, column 5 (code): the field is empty; every row needs it.");
    rows_done(&rows);
}

static void test_columns_are_checked(void **state)
{
    (void)state;
    struct rows rows;
    struct err err;
    assert_says(read("count\n1\n", false, &rows, &err), &err,
                "f.csv, line 1: the column code is missing.");
    assert_says(read("code,mood\nK1,\n", false, &rows, &err), &err,
                "f.csv, line 1, column 2 (mood): no column of that name is known here.");
    assert_says(read("code\nK1,\n", false, &rows, &err), &err, "f.csv, line 2, column 2: ");
    assert_ok(read("mood,code\n,K1\n", true, &rows, &err), &err);
    assert_int_equal(rows_known(&rows, 0), -1);
    assert_int_equal(rows_known(&rows, 1), COLUMN_CODE);
    rows_done(&rows);
}

/* A ledger that is busy says so itself: the row is not to blame. */
static void test_only_the_rows_own_faults_have_a_place(void **state)
{
    (void)state;
    struct rows rows;
    struct err err, why;
    assert_ok(read("code\nK1\n", false, &rows, &err), &err);
    struct row row = rows_at(&rows, 0, &err);
    err_set(&why, ERR_ABSENT, "There is no K1.");
    assert_says(row_refuse_as(&row, COLUMN_CODE, &why), &err,
                "f.csv, line 2, column 1 (code): There is no K1.");
    err_set(&why, ERR_BUSY, "The ledger is busy.");
    assert_false(row_refuse_as(&row, COLUMN_CODE, &why));
    assert_string_equal(err.text, "The ledger is busy.");
    assert_int_equal(err.code, ERR_BUSY);
    rows_done(&rows);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fields_are_read_by_name),
        cmocka_unit_test(test_the_place_is_that_of_the_file),
        cmocka_unit_test(test_columns_are_checked),
        cmocka_unit_test(test_only_the_rows_own_faults_have_a_place),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
