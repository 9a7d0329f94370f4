#include "senbetsu/sheet/letters.h"
#include "support/sheet_bench.h"
#include "support/test.h"

static void labels_give_their_first_free_letter(void **state)
{
    (void)state;
    struct standard standard = bench_standard();
    struct letters letters = letters_assign(&standard);
    assert_int_equal(letters.aspects[WHITE], 'W');
    assert_int_equal(letters.aspects[HEAD], 'H');
    assert_int_equal(letters.aspects[PATTERN], 'P');
    assert_int_equal(letters.aspects[BODY], 'B');
    /* "Bent spine": b is the sheet's own, e is free. "Colour …": c. "Wound": w. */
    assert_int_equal(letters.faults[SPINE], 'e');
    assert_int_equal(letters.faults[EYE], 'c');
    assert_int_equal(letters.faults[WOUND], 'w');
}

static void keys_of_the_standard_stand(void **state)
{
    (void)state;
    struct standard standard = bench_standard();
    standard.aspects[BODY].key = 'W';
    standard.faults[WOUND].key = 'e';
    struct letters letters = letters_assign(&standard);
    assert_int_equal(letters.aspects[BODY], 'W');
    assert_int_equal(letters.aspects[WHITE], 'H');
    assert_int_equal(letters.aspects[HEAD], 'E');
    assert_int_equal(letters.faults[WOUND], 'e');
    assert_int_equal(letters.faults[SPINE], 's');
}

static void labels_without_latin_letters_fall_back_on_code_and_alphabet(void **state)
{
    (void)state;
    struct standard standard = bench_standard();
    text_copy(standard.aspects[WHITE].label, LABEL_SIZE, "白地");
    text_copy(standard.aspects[HEAD].label, LABEL_SIZE, "頭");
    text_copy(standard.aspects[HEAD].code, sizeof standard.aspects[HEAD].code, "w");
    struct letters letters = letters_assign(&standard);
    assert_int_equal(letters.aspects[WHITE], 'W');
    assert_int_equal(letters.aspects[HEAD], 'A');
}

static struct standard fullest_standard(void)
{
    struct standard standard = bench_standard();
    standard.aspect_count = STANDARD_ASPECTS;
    standard.fault_count = STANDARD_FAULTS;
    for (int i = 0; i < STANDARD_ASPECTS; i++)
        standard.aspects[i] = standard.aspects[WHITE];
    for (int i = 0; i < STANDARD_FAULTS; i++)
        standard.faults[i] = standard.faults[SPINE];
    return standard;
}

static void no_letter_is_given_twice(void **state)
{
    (void)state;
    struct standard standard = fullest_standard();
    struct letters letters = letters_assign(&standard);
    int given[128] = {0}, without = 0;
    for (int i = 0; i < STANDARD_ASPECTS; i++) {
        assert_in_range(letters.aspects[i], 'A', 'Z');
        given[(int)letters.aspects[i]]++;
    }
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        without += letters.faults[i] == 0;
        given[(int)letters.faults[i]]++;
        assert_non_null(
            strchr(STANDARD_SMALL_LETTERS "ABCDEFGHIJKLMNOPQRSTUVWXYZ", letters.faults[i]));
    }
    for (int letter = 1; letter < 128; letter++)
        assert_in_range(given[letter], 0, 1);
    /* 16 small letters and the two capitals that 24 aspects leave. */
    assert_int_equal(without, STANDARD_FAULTS - 18);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(labels_give_their_first_free_letter),
        cmocka_unit_test(keys_of_the_standard_stand),
        cmocka_unit_test(labels_without_latin_letters_fall_back_on_code_and_alphabet),
        cmocka_unit_test(no_letter_is_given_twice),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
