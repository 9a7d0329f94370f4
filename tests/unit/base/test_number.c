#include "senbetsu/base/number.h"
#include "support/test.h"

static void whole_numbers_are_read(void **state)
{
    (void)state;
    int64_t number;
    assert_true(number_whole("0", 0, 9, &number) && number == 0);
    assert_true(number_whole("007", 0, 9, &number) && number == 7);
    assert_true(number_whole("-5", -9, 9, &number) && number == -5);
    assert_true(number_whole("9223372036854775807", 0, INT64_MAX, &number) && number == INT64_MAX);
    assert_true(number_whole("-9223372036854775807", INT64_MIN, 0, &number) &&
                number == -INT64_MAX);
}

static void nothing_else_is_a_whole_number(void **state)
{
    (void)state;
    static const char *const texts[] = {"",
                                        "-",
                                        "+1",
                                        " 1",
                                        "1 ",
                                        "1.0",
                                        "1e2",
                                        "0x1",
                                        "abc",
                                        "１",
                                        "--1",
                                        "1,0",
                                        "-1",
                                        "10",
                                        "9223372036854775808",
                                        "99999999999999999999999"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        int64_t number = 77;
        if (number_whole(texts[i], 0, 9, &number))
            fail_msg("\"%s\" was taken for a number from 0 to 9", texts[i]);
        assert_int_equal(number, 77);
    }
    int64_t number = 77;
    assert_false(number_whole("9223372036854775808", 0, INT64_MAX, &number));
    assert_false(number_whole("-10", -9, 9, &number));
}

static void numbers_are_understood_as_people_write_them(void **state)
{
    (void)state;
    static const struct {
        const char *typed;
        int64_t number;
    } rows[] = {
        {"0", 0},
        {"7", 7},
        {"007", 7},
        {"120000", 120000},
        {"120 000", 120000},
        {"120,000", 120000},
        {"120.000", 120000},
        {"120'000", 120000},
        {"1 200 000", 1200000},
        {"1,200,000", 1200000},
        {"1.200.000", 1200000},
        {"1.000", 1000},
        {"120k", 120000},
        {"120K", 120000},
        {"120 k", 120000},
        {"1.5k", 1500},
        {"1,5k", 1500},
        {"1.25k", 1250},
        {"0.125k", 125},
        {"12 500k", 12500000},
        {"1,200,000k", INT64_C(1200000000)},
        {"0.3M", 300000},
        {"0,3m", 300000},
        {"0.300M", 300000},
        {"1.234567M", 1234567},
        {"2M", 2000000},
        {" 120 000 ", 120000},
        {"9223372036854775807", INT64_MAX},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        int64_t number = -1;
        struct err err = {0};
        if (!number_typed(rows[i].typed, 0, INT64_MAX, &number, &err))
            fail_msg("\"%s\" is refused: %s", rows[i].typed, err.text);
        if (number != rows[i].number)
            fail_msg("\"%s\" is taken for %lld", rows[i].typed, (long long)number);
    }
}

static void what_can_be_no_such_number_is_refused(void **state)
{
    (void)state;
    static const char *const texts[] = {
        "",
        " ",
        "k",
        "x",
        "-1",
        "+1",
        "1.5",
        "1,5",
        "12.00",
        "1.2345",
        "1 2",
        "1 20 000",
        "12 34",
        "1.200,000",
        "1,200.5",
        "1200 000",
        "0.300",
        "012 345",
        "1.2.3k",
        "1.2345k",
        "1.5kk",
        "1.5 x",
        "1..5k",
        "1.k",
        ".5k",
        "1  000",
        "1e3",
        "1 5k",
        "1'5k",
        "12k5",
        "1.2345678M",
        "9223372036854775808",
        "9223372036854775807k",
        "123456789012345678901234567890123456789012345678901234567890"};
    static const char *const two_ways[] = {"1.500k", "1,500k", "12.345M", "120.000k"};
    int64_t number = 77;
    struct err err;
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        if (number_typed(texts[i], 0, INT64_MAX, &number, &err))
            fail_msg("\"%s\" was taken for %lld", texts[i], (long long)number);
        assert_non_null(strstr(err.text, "A whole number from 0 to"));
    }
    for (size_t i = 0; i < sizeof two_ways / sizeof *two_ways; i++)
        assert_says(number_typed(two_ways[i], 0, INT64_MAX, &number, &err), &err, "in two ways");
    assert_says(number_typed("12k", 1, 999, &number, &err), &err, "from 1 to 999");
    assert_says(number_typed("0", 1, 999, &number, &err), &err, "not \"0\"");
    assert_int_equal(number, 77);
}

static void assert_grouped(int64_t number, const char *expected)
{
    char text[NUMBER_SIZE];
    number_grouped(number, text);
    assert_string_equal(text, expected);
}

static void long_numbers_stand_in_groups(void **state)
{
    (void)state;
    assert_grouped(0, "0");
    assert_grouped(2026, "2026");
    assert_grouped(9999, "9999");
    assert_grouped(10000, "10 000");
    assert_grouped(120000, "120 000");
    assert_grouped(1200000, "1 200 000");
    assert_grouped(-9999, "-9999");
    assert_grouped(-120000, "-120 000");
    assert_grouped(INT64_MAX, "9 223 372 036 854 775 807");
}

/* What is written in groups is read in groups. */
static void grouped_numbers_are_read_back(void **state)
{
    (void)state;
    char text[NUMBER_SIZE];
    struct err err;
    for (int64_t number = 1; number < INT64_MAX / 11; number = number * 11 + 7) {
        int64_t read = -1;
        number_grouped(number, text);
        assert_true(number_typed(text, 0, INT64_MAX, &read, &err));
        assert_true(read == number);
    }
}

static void assert_hundredths(const char *text, int expected)
{
    int hundredths;
    assert_true(number_hundredths(text, 0, 10000, &hundredths));
    assert_int_equal(hundredths, expected);
}

static void decimals_are_kept_as_hundredths(void **state)
{
    (void)state;
    assert_hundredths("0", 0);
    assert_hundredths("65", 6500);
    assert_hundredths("62.5", 6250);
    assert_hundredths("62.50", 6250);
    assert_hundredths("62.05", 6205);
    assert_hundredths("0.01", 1);
    assert_hundredths("100.00", 10000);
}

static void no_other_decimals_are_taken(void **state)
{
    (void)state;
    static const char *const texts[] = {"",
                                        ".",
                                        ".5",
                                        "5.",
                                        "62.555",
                                        "62,5",
                                        "100.01",
                                        "101",
                                        "-1",
                                        "+1",
                                        "1.2.3",
                                        "1..2",
                                        "1e1",
                                        " 1",
                                        "1 ",
                                        "1.x",
                                        "x",
                                        "62.5 ",
                                        "99999999999999999999",
                                        "922337203685477580",
                                        "92233720368547758"};
    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
        int hundredths = 77;
        if (number_hundredths(texts[i], 0, 10000, &hundredths))
            fail_msg("\"%s\" was taken for a number of points", texts[i]);
        assert_int_equal(hundredths, 77);
    }
}

static void assert_millionths(const char *text, int expected, const char *shortest)
{
    int millionths;
    char written[NUMBER_SIZE];
    assert_true(number_millionths(text, 0, 1000000, &millionths));
    assert_int_equal(millionths, expected);
    number_from_millionths(millionths, written);
    assert_string_equal(written, shortest);
}

static void six_decimals_are_kept_as_millionths(void **state)
{
    (void)state;
    static const char *const refused[] = {"",         ".5", "1.", "0.0000001",
                                          "1.000001", "-0", "5%", "0,5"};
    assert_millionths("0", 0, "0");
    assert_millionths("0.05", 50000, "0.05");
    assert_millionths("0.050000", 50000, "0.05");
    assert_millionths("0.000001", 1, "0.000001");
    assert_millionths("0.123456", 123456, "0.123456");
    assert_millionths("1", 1000000, "1");
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++) {
        int millionths = 77;
        assert_false(number_millionths(refused[i], 0, 1000000, &millionths));
        assert_int_equal(millionths, 77);
    }
}

static void hundredths_are_written_shortest_and_read_back(void **state)
{
    (void)state;
    char text[NUMBER_SIZE];
    number_from_hundredths(6500, text);
    assert_string_equal(text, "65");
    number_from_hundredths(6250, text);
    assert_string_equal(text, "62.5");
    number_from_hundredths(-6205, text);
    assert_string_equal(text, "-62.05");
    for (int i = 0; i <= 10000; i++) {
        number_from_hundredths(i, text);
        assert_hundredths(text, i);
    }
}

static void assert_tenth(int64_t numerator, int64_t denominator, const char *expected)
{
    char text[NUMBER_SIZE];
    number_to_tenth(numerator, denominator, text);
    assert_string_equal(text, expected);
}

static void tenths_are_rounded_half_away_from_zero(void **state)
{
    (void)state;
    assert_tenth(0, 1, "0.0");
    assert_tenth(1, 20, "0.1");
    assert_tenth(-1, 20, "-0.1");
    assert_tenth(1, 21, "0.0");
    assert_tenth(-1, 21, "0.0");
    assert_tenth(3, 20, "0.2");
    assert_tenth(5, 7, "0.7");
    assert_tenth(500, 7, "71.4");
    assert_tenth(1999, 200, "10.0");
    assert_tenth(-1999, 200, "-10.0");
    assert_tenth(73, 1, "73.0");
}

static void the_largest_numbers_have_tenths_too(void **state)
{
    (void)state;
    assert_tenth(INT64_MAX, 1, "9223372036854775807.0");
    assert_tenth(INT64_MIN, 1, "-9223372036854775808.0");
    assert_tenth(INT64_MAX, INT64_MAX, "1.0");
    assert_tenth(INT64_MAX - 1, INT64_MAX, "1.0");
    assert_tenth(INT64_MAX / 2, INT64_MAX, "0.5");
    assert_tenth(1, INT64_MAX, "0.0");
}

static void assert_compared(int64_t a, int64_t b, int64_t c, int64_t d, int expected)
{
    assert_int_equal(number_compare_fractions(a, b, c, d), expected);
    assert_int_equal(number_compare_fractions(c, d, a, b), -expected);
    assert_int_equal(number_compare_fractions(a, b, a, b), 0);
}

static void fractions_are_compared(void **state)
{
    (void)state;
    assert_compared(1, 2, 2, 4, 0);
    assert_compared(1, 3, 1, 2, -1);
    assert_compared(-1, 3, 1, 3, -1);
    assert_compared(-1, 2, -2, 4, 0);
    assert_compared(-1, 2, -1, 3, -1);
    assert_compared(0, 5, 0, 7, 0);
    assert_compared(7, 3, 5, 2, -1);
}

/* Neighbours in a Farey sequence differ by 1/(b·d), far below what a double can tell apart. */
static void fractions_next_to_each_other_differ(void **state)
{
    (void)state;
    assert_compared(INT64_MAX - 1, INT64_MAX, INT64_MAX - 2, INT64_MAX - 1, 1);
    assert_compared(INT64_MAX, INT64_MAX - 1, INT64_MAX - 1, INT64_MAX - 2, -1);
    /* Fibonacci numbers 90, 91 and 92: their quotients take turns above and below. */
    int64_t f90 = INT64_C(2880067194370816120), f91 = INT64_C(4660046610375530309),
            f92 = INT64_C(7540113804746346429);
    assert_compared(f90, f91, f91, f92, -1);
    assert_compared(-f90, f91, -f91, f92, 1);
    assert_compared(INT64_MIN, INT64_MAX, INT64_MIN, INT64_MAX, 0);
    assert_compared(INT64_MIN, 1, INT64_MAX, 1, -1);
    assert_compared(INT64_MIN, 1, INT64_MIN, 2, -1);
    assert_compared(1, INT64_MAX, 1, INT64_MAX - 1, -1);
}

/* Against cross products, where those fit. */
static void small_fractions_agree_with_cross_products(void **state)
{
    (void)state;
    for (int a = -12; a <= 12; a++)
        for (int b = 1; b <= 12; b++)
            for (int c = -12; c <= 12; c++)
                for (int d = 1; d <= 12; d++)
                    assert_int_equal(number_compare_fractions(a, b, c, d),
                                     (a * d > c * b) - (a * d < c * b));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(whole_numbers_are_read),
        cmocka_unit_test(nothing_else_is_a_whole_number),
        cmocka_unit_test(numbers_are_understood_as_people_write_them),
        cmocka_unit_test(what_can_be_no_such_number_is_refused),
        cmocka_unit_test(long_numbers_stand_in_groups),
        cmocka_unit_test(grouped_numbers_are_read_back),
        cmocka_unit_test(decimals_are_kept_as_hundredths),
        cmocka_unit_test(no_other_decimals_are_taken),
        cmocka_unit_test(hundredths_are_written_shortest_and_read_back),
        cmocka_unit_test(six_decimals_are_kept_as_millionths),
        cmocka_unit_test(tenths_are_rounded_half_away_from_zero),
        cmocka_unit_test(the_largest_numbers_have_tenths_too),
        cmocka_unit_test(fractions_are_compared),
        cmocka_unit_test(fractions_next_to_each_other_differ),
        cmocka_unit_test(small_fractions_agree_with_cross_products),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
