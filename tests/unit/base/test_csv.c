#include "senbetsu/base/csv.h"
#include "support/test.h"

static void parse(const char *text, struct csv *csv)
{
    struct err err;
    assert_ok(csv_parse(text, strlen(text), csv, &err), &err);
}

static void rows_and_columns_are_read(void **state)
{
    (void)state;
    struct csv csv;
    parse("bowl,fish,note\n1,7,\n1,8,菊翠\n", &csv);
    assert_int_equal(csv.columns, 3);
    assert_int_equal(csv.row_count, 2);
    assert_int_equal(csv_column(&csv, "bowl"), 0);
    assert_int_equal(csv_column(&csv, "note"), 2);
    assert_int_equal(csv_column(&csv, "Note"), -1);
    assert_string_equal(csv.rows[0].fields[1], "7");
    assert_string_equal(csv.rows[0].fields[2], "");
    assert_string_equal(csv.rows[1].fields[2], "菊翠");
    assert_int_equal(csv.rows[0].line, 2);
    assert_int_equal(csv.rows[1].line, 3);
    csv_done(&csv);
}

/* The examples of RFC 4180, section 2, rules 2 (no last line break), 5, 6 and 7. */
static void quoted_fields_are_those_of_rfc_4180(void **state)
{
    (void)state;
    struct csv csv;
    parse("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"
          "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,\"b\"\"bb\",\"a,b\"",
          &csv);
    assert_int_equal(csv.row_count, 3);
    assert_string_equal(csv.rows[0].fields[2], "xxx");
    assert_string_equal(csv.rows[1].fields[0], "aaa");
    assert_string_equal(csv.rows[1].fields[1], "b\nbb");
    assert_string_equal(csv.rows[2].fields[1], "b\"bb");
    assert_string_equal(csv.rows[2].fields[2], "a,b");
    assert_int_equal(csv.rows[2].line, 5);
    csv_done(&csv);
}

static void a_mark_in_front_and_empty_lines_are_skipped(void **state)
{
    (void)state;
    struct csv csv;
    parse("\xEF\xBB\xBF\n\r\na,b\n\n1,2\n\r\n\n3,4\n\n", &csv);
    assert_string_equal(csv.header[0], "a");
    assert_int_equal(csv.row_count, 2);
    assert_int_equal(csv.rows[0].line, 5);
    assert_int_equal(csv.rows[1].line, 8);
    csv_done(&csv);
}

static void a_header_alone_has_no_rows(void **state)
{
    (void)state;
    struct csv csv;
    parse("a", &csv);
    assert_int_equal(csv.columns, 1);
    assert_int_equal(csv.row_count, 0);
    csv_done(&csv);
    csv_done(&csv);
}

struct refusal {
    const char *text, *sentence;
};

static void refusals_name_line_and_column(void **state)
{
    (void)state;
    static const struct refusal refusals[] = {
        {"", "line 1: the header line with the column names is missing"},
        {"\n\n", "line 1: the header line with the column names is missing"},
        {"a,b\n1,\xFF\n", "line 2, column 2: these bytes are not UTF-8"},
        {"a,b\n\n1,\xE9\n", "line 3, column 2: these bytes are not UTF-8"},
        {"a,b\n1,x\x07\n", "line 2, column 2: the field has a control character"},
        {"a,b\n1\t,x\n", "line 2, column 1: the field has a control character"},
        {"a,b\n1,x\rx\n", "line 2, column 2: the field has a control character"},
        {"a,b\n1,\"x\x7F\"\n", "line 2, column 2: the field has a control character"},
        {"a,b\n1,x\xC2\x85\n", "line 2, column 2: the field has a control character"},
        {"a,b\n1,x\"y\n", "line 2, column 2: a field that is not quoted has a quote"},
        {"a,b\n\"x\"y,2\n", "line 2, column 1: there is text after the closing quote"},
        {"a,b\n1,\"x\n\n\n", "line 2, column 2: the closing quote of this field is missing"},
        {"a,,c\n", "line 1, column 2: the column has no name"},
        {"\na,b,a\n", "line 2, column 3: column 1 is also named \"a\""},
        {"a,b\n1\n", "line 2, column 2: the row has 1 field, not 2"},
        {"a,b\n1,2\n1,2,3\n", "line 3, column 3: the row has 3 fields, not 2"},
        {"a,b\n1,\"2\n2\"\n1,2,3,4\n", "line 4, column 3: the row has 4 fields, not 2"},
        {"a,b\n1,2,\n", "line 2, column 3: the row has 3 fields, not 2"},
    };
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        struct csv csv = {.columns = 77};
        struct err err;
        assert_says(csv_parse(refusals[i].text, strlen(refusals[i].text), &csv, &err), &err,
                    refusals[i].sentence);
        assert_int_equal(err.code, ERR_INPUT);
        assert_int_equal(csv.columns, 77);
    }
}

static void a_nul_is_a_control_character(void **state)
{
    (void)state;
    struct csv csv;
    struct err err;
    assert_says(csv_parse("a,b\n1,x\0y\n", 10, &csv, &err), &err,
                "line 2, column 2: the field has a control character");
}

/* Any bytes at all: rows or a sentence, never a crash (run under the sanitizers). */
static void damaged_files_are_answered(void **state)
{
    (void)state;
    static const char sound[] = "bowl,fish,note\r\n1,7,\"a \"\"good\"\" one\"\n1,8,菊翠\n\n2,1,\n";
    static const char bytes[] = "\",\n\r\0x\xE9\x80";
    uint32_t random = 1;
    int read = 0, refused = 0;
    for (int i = 0; i < 5000; i++) {
        char damaged[sizeof sound];
        memcpy(damaged, sound, sizeof sound);
        for (int hit = 0; hit < 3; hit++) {
            random = random * 1664525 + 1013904223; /* Numerical Recipes' generator */
            damaged[(random >> 8) % strlen(sound)] = bytes[(random >> 24) % (sizeof bytes - 1)];
        }
        struct csv csv;
        struct err err;
        if (csv_parse(damaged, strlen(sound), &csv, &err)) {
            read++;
            csv_done(&csv);
        } else {
            refused++;
            assert_int_equal(strncmp(err.text, "line ", 5), 0);
        }
    }
    assert_true(read > 50 && refused > 1000);
}

static void what_is_written_is_read_back(void **state)
{
    (void)state;
    static const char *const fields[] = {"plain", "a,b", "say \"koi\"", "two\nlines",
                                         "",      " x ", "\"",          "菊翠"};
    enum { COUNT = sizeof fields / sizeof *fields };
    struct text out;
    text_init(&out);
    for (int row = 0; row < 3; row++) {
        for (int i = 0; i < COUNT; i++)
            csv_add(&out,
                    row == 0 ? (const char *[]){"a", "b", "c", "d", "e", "f", "g", "h"}[i]
                             : fields[i],
                    i == 0);
        csv_end_row(&out);
    }
    struct csv csv;
    parse(out.data, &csv);
    assert_int_equal(csv.row_count, 2);
    for (int i = 0; i < COUNT; i++)
        assert_string_equal(csv.rows[1].fields[i], fields[i]);
    csv_done(&csv);
    text_done(&out);
}

static void quotes_stand_only_where_they_must(void **state)
{
    (void)state;
    struct text out;
    text_init(&out);
    csv_add_number(&out, -7, true);
    csv_add_number(&out, 9223372036854775807, false);
    csv_add(&out, "Kikusui", false);
    csv_add(&out, "a,\"b\"", false);
    csv_end_row(&out);
    assert_string_equal(out.data, "-7,9223372036854775807,Kikusui,\"a,\"\"b\"\"\"\n");
    text_done(&out);
}

static void numbers_that_are_not_known_are_empty(void **state)
{
    (void)state;
    struct text out;
    text_init(&out);
    csv_add_number(&out, 1, true);
    csv_add_real(&out, true, -2.0 / 3);
    csv_add_real(&out, false, 7);
    csv_add_real(&out, true, 0);
    csv_add_real(&out, true, 1.0825088224469e-05);
    csv_add_known(&out, true, -3);
    csv_add_known(&out, false, 7);
    assert_string_equal(out.data, "1,-0.6666666667,,0,1.082508822e-05,-3,");
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_and_columns_are_read),
        cmocka_unit_test(numbers_that_are_not_known_are_empty),
        cmocka_unit_test(quoted_fields_are_those_of_rfc_4180),
        cmocka_unit_test(a_mark_in_front_and_empty_lines_are_skipped),
        cmocka_unit_test(a_header_alone_has_no_rows),
        cmocka_unit_test(refusals_name_line_and_column),
        cmocka_unit_test(a_nul_is_a_control_character),
        cmocka_unit_test(damaged_files_are_answered),
        cmocka_unit_test(what_is_written_is_read_back),
        cmocka_unit_test(quotes_stand_only_where_they_must),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
