#include "senbetsu/base/utf8.h"
#include "senbetsu/core/code.h"
#include "support/test.h"

static void codes_are_free_within_their_limits(void **state)
{
    (void)state;
    static const char *const codes[] = {
        "K7",
        "2026-03",
        "菊翠",
        "a b",
        "#1/2",
        "\"x\"",
        "鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉"};
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        struct err err;
        assert_ok(code_check(codes[i], "the parent's code", &err), &err);
        assert_true(strlen(codes[i]) < CODE_SIZE);
    }
}

struct refusal {
    const char *code, *sentence;
};

static void codes_that_break_files_are_refused(void **state)
{
    (void)state;
    static const struct refusal refusals[] = {
        {"", "the lot's code is empty."},
        {"a,b", "the lot's code \"a,b\" contains \",\""},
        {"a;b", "contains \";\""},
        {"a+b", "contains \"+\""},
        {" a", "begins or ends with a space"},
        {"a ", "begins or ends with a space"},
        {"a\tb", "contains a control character"},
        {"a\x7F", "contains a control character"},
        {"a\xC2\x85", "contains a control character"},
        {"a\xFF", "is not UTF-8 text"},
        {"\xE3\x80\x80"
         "a",
         "begins or ends with a space"},
        {"a\xC2\xA0", "begins or ends with a space"},
        {"123456789012345678901234567890123", "is longer than 32 characters"},
    };
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        struct err err;
        assert_says(code_check(refusals[i].code, "the lot's code", &err), &err,
                    refusals[i].sentence);
        assert_int_equal(err.code, ERR_INPUT);
    }
}

/* Two codes that look alike would be two fish that nobody can tell apart. */
static void codes_that_hide_or_reorder_are_refused(void **state)
{
    (void)state;
    static const uint32_t hidden[] = {0x00AD, 0x034F, 0x061C, 0x115F, 0x200B, 0x200C,  0x200D,
                                      0x200E, 0x202A, 0x202E, 0x2028, 0x2029, 0x2060,  0x2066,
                                      0x2069, 0xFE0F, 0xFEFF, 0xE000, 0xFFFE, 0xE0041, 0xE0100};
    for (size_t i = 0; i < sizeof hidden / sizeof *hidden; i++) {
        char character[5], code[16], sentence[96];
        struct err err;
        utf8_encode(hidden[i], character);
        snprintf(code, sizeof code, "K%s9", character);
        snprintf(sentence, sizeof sentence,
                 "the lot's code \"K?9\" contains a character that cannot be shown (U+%04X)",
                 hidden[i]);
        assert_says(code_check(code, "the lot's code", &err), &err, sentence);
    }
    struct err err;
    assert_ok(code_check("か\xE3\x82\x99 e\xCC\x81 菊翠", "the lot's code", &err), &err);
}

static void plain_codes_name_columns(void **state)
{
    (void)state;
    static const char *const codes[] = {"white", "body_line", "k-2", "a",
                                        "abcdefghijklmnopqrstuvwxyz012345"};
    for (size_t i = 0; i < sizeof codes / sizeof *codes; i++) {
        struct err err;
        assert_ok(code_check_plain(codes[i], "the aspect's code", &err), &err);
    }
}

static void other_plain_codes_are_refused(void **state)
{
    (void)state;
    static const struct refusal refusals[] = {
        {"", "the aspect's code is empty."},
        {"White", "must begin with a letter a-z"},
        {"2white", "must begin with a letter a-z"},
        {"_white", "must begin with a letter a-z"},
        {"white ground", "must begin with a letter a-z"},
        {"白", "must begin with a letter a-z"},
        {"abcdefghijklmnopqrstuvwxyz0123456", "is longer than 32 characters"},
        {"spawning", "is a column name of fish files"},
        {"lot", "column name of fish files"},
        {"stage", "column name of fish files"},
        {"bowl", "column name of fish files"},
        {"fish", "column name of fish files"},
        {"judge", "column name of fish files"},
        {"date", "column name of fish files"},
        {"length_mm", "column name of fish files"},
        {"tag", "column name of fish files"},
        {"faults", "column name of fish files"},
    };
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        struct err err;
        assert_says(code_check_plain(refusals[i].code, "the aspect's code", &err), &err,
                    refusals[i].sentence);
    }
}

static void a_code_is_found_in_a_list(void **state)
{
    (void)state;
    assert_true(code_in_list("P1", "P1"));
    assert_true(code_in_list("P1;P2;P33", "P33"));
    assert_true(code_in_list("P1;P2;P33", "P2"));
    assert_false(code_in_list("P1;P2;P33", "P3"));
    assert_false(code_in_list("P11;P2", "P1"));
    assert_false(code_in_list("", "P1"));
}

static void codes_are_taken_off_a_list(void **state)
{
    (void)state;
    const char *list = "P1;親-2;P33";
    char code[CODE_SIZE];
    static const char *const codes[] = {"P1", "親-2", "P33"};
    for (int i = 0; i < 3; i++) {
        assert_true(code_next(&list, code));
        assert_string_equal(code, codes[i]);
    }
    assert_false(code_next(&list, code));
    assert_string_equal(code, "P33");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_are_free_within_their_limits),
        cmocka_unit_test(codes_that_break_files_are_refused),
        cmocka_unit_test(codes_that_hide_or_reorder_are_refused),
        cmocka_unit_test(plain_codes_name_columns),
        cmocka_unit_test(other_plain_codes_are_refused),
        cmocka_unit_test(a_code_is_found_in_a_list),
        cmocka_unit_test(codes_are_taken_off_a_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
