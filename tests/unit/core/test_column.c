#include "senbetsu/core/column.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/core/lot.h"
#include "senbetsu/core/parent.h"
#include "senbetsu/core/round.h"
#include "senbetsu/core/spawning.h"
#include "support/test.h"

struct record {
    char code[CODE_SIZE], codes[CODES_SIZE], sires[CODES_SIZE];
    enum siring siring;
    int born, cv;
    int64_t eggs;
    char day[DATE_SIZE], note[NOTE_SIZE];
};

#define AT(member) COLUMN_AT(struct record, member)

enum { CODE, CODES, SIRES, SIRING, BORN, CV, EGGS, DAY, NOTE, TOTAL };

static const struct column columns[TOTAL] = {
    [CODE] = {"code", .kind = COLUMN_CODE, AT(code)},
    [CODES] = {"codes", .kind = COLUMN_CODES, AT(codes)},
    [SIRES] = {"sires", .kind = COLUMN_SIRES, AT(sires)},
    [SIRING] = {"siring", COLUMN_WORDS(siring_terms), .unknown = SIRING_COUNT, AT(siring)},
    [BORN] = {"born", COLUMN_YEAR, AT(born)},
    [CV] = {"cv", .kind = COLUMN_CV, AT(cv)},
    [EGGS] = {"eggs", COLUMN_FISH, AT(eggs)},
    [DAY] = {"day", .kind = COLUMN_DAY, AT(day)},
    [NOTE] = {"note", .kind = COLUMN_NOTE, AT(note)},
};

static struct record unknown(void)
{
    struct record record;
    memset(&record, 'x', sizeof record);
    columns_init(columns, TOTAL, &record);
    return record;
}

static const char *const texts[TOTAL] = {"K1",   "S1;S2",     "P1;P2",      "pooled",    "2021",
                                         "0.05", "100000000", "2026-06-14", "warm night"};

static struct record filled(void)
{
    struct record record = unknown();
    struct err err;
    for (int i = 0; i < TOTAL; i++)
        assert_ok(column_parse(&columns[i], texts[i], &record, &err), &err);
    return record;
}

static void what_is_read_is_written(void **state)
{
    (void)state;
    char buffer[CODES_SIZE];
    struct record record = filled(), nothing = unknown();
    struct err err;
    for (int i = 0; i < TOTAL; i++) {
        assert_string_equal(column_text(&columns[i], &record, buffer), texts[i]);
        assert_true(column_known(&columns[i], &record));
        assert_string_equal(column_text(&columns[i], &nothing, buffer), "");
        assert_false(column_known(&columns[i], &nothing));
        assert_ok(column_parse(&columns[i], "", &record, &err), &err);
        assert_string_equal(column_text(&columns[i], &record, buffer), texts[i]);
    }
    assert_int_equal(record.siring, SIRING_POOLED);
    assert_int_equal(record.born, 2021);
    assert_int_equal(record.cv, 50000);
    assert_int_equal(record.eggs, 100000000);
    assert_int_equal(nothing.eggs, NOT_COUNTED);
}

static void refuse(int column, const char *text, const char *sentence)
{
    struct record record = filled();
    struct record before = record;
    struct err err;
    assert_says(column_parse(&columns[column], text, &record, &err), &err, sentence);
    assert_true(columns_equal(columns, TOTAL, &before, &record));
}

static void what_does_not_fit_is_refused(void **state)
{
    (void)state;
    char longer[NOTE_SIZE + 1], many[2 * CODES_SIZE];
    refuse(CODE, "a,b", "the field \"a,b\" contains \",\"");
    refuse(CODES, "S1;", "the field is empty.");
    refuse(SIRES, "P1;;P2", "a sire's code is empty.");
    refuse(SIRES, "P1;P2;P1", "P1 is named twice.");
    refuse(SIRING, "solo", "single, split, pooled or group is expected, not \"solo\".");
    refuse(BORN, "1899", "a whole number from 1900 to 2199 is expected, not \"1899\".");
    refuse(EGGS, "-1", "a whole number from 0 to 100000000 is expected");
    refuse(CV, "1.5", "a decimal number from 0 to 1 with at most six places is expected");
    refuse(DAY, "14.6.", "a date such as 2026-06-14 is expected, not \"14.6.\".");
    refuse(NOTE, "a\nb", "a note must be one line.");
    memset(longer, 'a', sizeof longer);
    longer[201] = '\0';
    refuse(NOTE, longer, "the note is longer than 200 characters.");
    for (size_t i = 0; i < CODES_SIZE; i += 2)
        memcpy(many + i, "a;", 3);
    refuse(CODES, many, "there are too many codes");
}

static void what_is_not_said_stays_as_it_was(void **state)
{
    (void)state;
    struct record known = filled(), said = unknown();
    said.born = 2022;
    columns_merge(columns, TOTAL, &known, &said);
    known.born = 2022;
    assert_true(columns_equal(columns, TOTAL, &known, &said));
    known.day[9] = '5';
    assert_false(columns_equal(columns, TOTAL, &known, &said));
    assert_false(column_equal(&columns[DAY], &known, &said));
    assert_true(column_equal(&columns[NOTE], &known, &said));
}

static void assert_complete(const struct column *table, int count)
{
    for (int i = 0; i < count; i++) {
        assert_non_null(table[i].name);
        assert_true(table[i].size > 0);
        assert_true(!column_is_text(&table[i]) || table[i].size > 8);
        assert_true(column_is_text(&table[i]) || table[i].size == 4 || table[i].size == 8);
        assert_true(table[i].kind != COLUMN_TERM || table[i].term_count > 1);
        assert_true(table[i].kind != COLUMN_WHOLE || table[i].highest > table[i].lowest);
        for (int j = 0; j < i; j++)
            assert_string_not_equal(table[i].name, table[j].name);
    }
}

static void every_table_is_complete(void **state)
{
    (void)state;
    assert_complete(parent_columns, PARENT_COLUMN_COUNT);
    assert_complete(spawning_columns, SPAWNING_COLUMN_COUNT);
    assert_complete(round_columns, ROUND_COLUMN_COUNT);
    assert_complete(round_statement_columns, STATED_COLUMN_COUNT);
    assert_complete(lot_statement_columns, LOT_COLUMN_COUNT);
    assert_complete(fish_statement_columns, FISH_COLUMN_COUNT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_read_is_written),
        cmocka_unit_test(what_does_not_fit_is_refused),
        cmocka_unit_test(what_is_not_said_stays_as_it_was),
        cmocka_unit_test(every_table_is_complete),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
