#include "rows.h"
#include "support/test.h"

struct record {
    char code[CODE_SIZE];
    int64_t count;
    enum sex sex;
    char day[DATE_SIZE], note[NOTE_SIZE];
};

#define AT(member) COLUMN_AT(struct record, member)

enum { CODE, COUNT_OF_FISH, SEX, DAY, NOTE, TOTAL };

static const struct column columns[TOTAL] = {
    {"code", .kind = COLUMN_CODE, .required = true, AT(code)},
    {"count", .kind = COLUMN_WHOLE, .highest = 9, .unknown = 7, AT(count)},
    {"sex", COLUMN_WORDS(sex_terms), AT(sex)},
    {"day", .kind = COLUMN_DAY, AT(day)},
    {"note", .kind = COLUMN_NOTE, AT(note)},
};

static bool read(const char *text, bool more_columns, struct rows *ret, struct err *err)
{
    static struct import import;
    struct text bytes;
    text_init(&bytes);
    text_add(&bytes, text);
    import = (struct import){.file = "f.csv", .bytes = &bytes};
    bool done = rows_read(&import, columns, TOTAL, more_columns, ret, err);
    text_done(&bytes);
    import.bytes = NULL;
    return done;
}

static void test_fields_are_read_by_name(void **state)
{
    (void)state;
    struct rows rows;
    struct record record;
    struct err err;
    assert_ok(read("day,sex,code,note\n2026-06-14,f,K1,calm\n", false, &rows, &err), &err);
    struct row row = rows_at(&rows, 0, &err);
    assert_ok(row_read(&row, &record), &err);
    assert_string_equal(record.code, "K1");
    assert_int_equal(record.count, 7); /* the column is not there */
    assert_int_equal(record.sex, SEX_FEMALE);
    assert_string_equal(record.day, "2026-06-14");
    assert_string_equal(record.note, "calm");
    rows_done(&rows);
}

static void refuse(const char *text, const char *sentence)
{
    struct rows rows;
    struct record record;
    struct err err;
    assert_ok(read(text, false, &rows, &err), &err);
    struct row row = rows_at(&rows, 0, &err);
    assert_says(row_read(&row, &record), &err, sentence);
    rows_done(&rows);
}

static void test_the_place_is_that_of_the_file(void **state)
{
    (void)state;
    refuse("note,code\n\n\"a\nb\",K1\n",
           "f.csv, line 3, column 1 (note): a note must be one line.");
    refuse("note,day,code\n,14.6.,K1\n", "f.csv, line 2, column 2 (day): a date such");
    refuse("note,day,sex,code\n,,x,K1\n",
           "f.csv, line 2, column 3 (sex): f or m is expected, not \"x\".");
    refuse("note,day,sex,count,code\n,,,-1,K1\n",
           "f.csv, line 2, column 4 (count): a whole number from 0 to 9 is expected, not \"-1\".");
    refuse("note,day,sex,count,code\n,,,,\n",
           "f.csv, line 2, column 5 (code): the field is empty; it is required.");
}

static void test_columns_are_checked(void **state)
{
    (void)state;
    struct rows rows;
    struct err err;
    assert_says(read("count\n1\n", false, &rows, &err), &err,
                "f.csv, line 1: the column code is missing.");
    assert_says(read("code,mood\nK1,\n", false, &rows, &err), &err,
                "f.csv, line 1, column 2 (mood): unknown column; remove it or correct its name.");
    assert_says(read("code\nK1,\n", false, &rows, &err), &err, "f.csv, line 2, column 2: ");
    assert_ok(read("mood,code\n,K1\n", true, &rows, &err), &err);
    assert_int_equal(rows_known(&rows, 0), -1);
    assert_int_equal(rows_known(&rows, 1), CODE);
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
    assert_says(row_refuse_as(&row, CODE, &why), &err,
                "f.csv, line 2, column 1 (code): There is no K1.");
    err_set(&why, ERR_BUSY, "The ledger is busy.");
    assert_false(row_refuse_as(&row, CODE, &why));
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
