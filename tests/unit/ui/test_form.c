#include "senbetsu/ui/form.h"
#include "support/views.h"

enum { CODE, DAY, SEX, BORN, SIRES, FIELD_COUNT };

enum { SEX_UNKNOWN, SEX_FEMALE, SEX_MALE, SEX_COUNT };

static const struct term sex_terms[SEX_COUNT] = {{"", "not known"}, {"f", "female"}, {"m", "male"}};

static bool no_semicolon(const char *value, struct err *err)
{
    return strchr(value, ';') == NULL || err_set(err, ERR_INPUT, "A code has no semicolon.");
}

static const struct field_spec specs[FIELD_COUNT] = {
    [CODE] = {.label = "Code", .check = no_semicolon, .required = true},
    [DAY] = {.label = "Date", .hint = "2026-06-14, or the year alone"},
    [SEX] = {.label = "Sex", .choices = sex_terms, .choice_count = SEX_COUNT},
    [BORN] = {.label = "Born in", .kind = FIELD_NUMBER, .lowest = 1900, .highest = 2199},
    [SIRES] = {.label = "Sires", .kind = FIELD_LIST},
};

static const struct key enter = {KEY_RETURN, 0}, save = {KEY_FUNCTION, 2}, erase = {KEY_ERASE, 0},
                        right = {KEY_ARROW_RIGHT, 0}, left = {KEY_ARROW_LEFT, 0};

static struct form new_form(void)
{
    struct form form;
    form_init(&form, "A form", specs, FIELD_COUNT);
    return form;
}

static void type(struct form *form, const char *text)
{
    for (; *text != '\0'; text++)
        assert_int_equal(form_key(form, key_of(*text)), FORM_STAY);
}

static void test_typing_goes_into_the_current_line(void **state)
{
    (void)state;
    struct form form = new_form();
    type(&form, "K7?");
    form_key(&form, erase);
    assert_string_equal(form.fields[CODE].value, "K7");
    form_key(&form, enter);
    type(&form, "2026");
    assert_string_equal(form.fields[DAY].value, "2026");
    form_key(&form, (struct key){KEY_REMOVE, 0});
    assert_string_equal(form.fields[DAY].value, "");
}

static void test_erasing_takes_a_whole_character(void **state)
{
    (void)state;
    struct form form = new_form();
    form_key(&form, (struct key){KEY_CHARACTER, 0x9BC9}); /* 鯉 */
    assert_string_equal(form.fields[CODE].value, "鯉");
    form_key(&form, erase);
    form_key(&form, erase);
    assert_string_equal(form.fields[CODE].value, "");
}

static void test_a_line_never_overflows(void **state)
{
    (void)state;
    struct form form = new_form();
    for (int i = 0; i < 2 * FORM_VALUE_SIZE; i++)
        form_key(&form, key_of('x'));
    assert_int_equal(strlen(form.fields[CODE].value), FORM_VALUE_SIZE - 1);
}

static void test_choices_go_round(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = SEX;
    form_key(&form, left);
    assert_int_equal(form.fields[SEX].choice, SEX_MALE);
    form_key(&form, right);
    assert_int_equal(form.fields[SEX].choice, SEX_UNKNOWN);
    type(&form, "2");
    assert_int_equal(form.fields[SEX].choice, SEX_FEMALE);
    type(&form, "9");
    assert_int_equal(form.fields[SEX].choice, SEX_FEMALE);
    assert_int_equal(form.wrong, SEX);
    assert_string_equal(form.message, "Choose with Space or a number from 1 to 3.");
    type(&form, " ");
    assert_string_equal(form.message, "");
}

static void test_numbers_take_digits_only(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = BORN;
    type(&form, "20x");
    assert_string_equal(form.fields[BORN].value, "20");
    assert_string_equal(form.message, "Only digits can be typed here.");
    assert_int_equal(form.wrong, BORN);
    form_key(&form, (struct key){KEY_FUNCTION, 5});
    assert_string_equal(form.message, "This key does nothing here; F1 shows the keys.");
    type(&form, "21");
    assert_string_equal(form.message, "");
}

/* "20" over the "8" of the bowl before is 20, not 820. */
static void test_a_typed_number_replaces_the_one_before(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, BORN, "2019");
    form.current = BORN;
    type(&form, "2021");
    assert_string_equal(form.fields[BORN].value, "2021");
    form_key(&form, (struct key){KEY_ARROW_UP, 0});
    form_key(&form, (struct key){KEY_ARROW_DOWN, 0});
    form_key(&form, erase);
    type(&form, "2");
    assert_string_equal(form.fields[BORN].value, "2022");
    form_set(&form, CODE, "K");
    form.current = CODE;
    form.edited = false;
    type(&form, "7");
    assert_string_equal(form.fields[CODE].value, "K7");
}

static void test_a_list_of_codes_needs_no_care_for_spaces(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = SIRES;
    type(&form, " P 2;  P3");
    assert_string_equal(form.fields[SIRES].value, "P 2;P3");
}

/* A hand that types on without looking loses nothing by a wrong line. */
static void test_enter_tells_of_a_wrong_line_and_goes_on(void **state)
{
    (void)state;
    struct form form = new_form();
    form_key(&form, enter);
    assert_string_equal(form.message, "This is required.");
    assert_int_equal(form.wrong, CODE);
    assert_int_equal(form.current, DAY);
    type(&form, "2026");
    assert_int_equal(form.wrong, CODE);
    form_key(&form, (struct key){KEY_ARROW_UP, 0});
    type(&form, "K");
    assert_int_equal(form.wrong, -1);
    assert_string_equal(form.message, "");
}

/* The key on the last line saves, F2 on any. */
static void test_it_is_accepted_when_every_line_is_right(void **state)
{
    (void)state;
    struct form form = new_form();
    type(&form, "K7");
    for (int i = 0; i < FIELD_COUNT - 1; i++)
        assert_int_equal(form_key(&form, enter), FORM_STAY);
    assert_int_equal(form_key(&form, enter), FORM_ACCEPT);
    form.current = CODE;
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
    assert_int_equal(form_key(&form, (struct key){KEY_ESCAPE, 0}), FORM_LEAVE);
}

static void assert_refused(int field, const char *value, const char *sentence)
{
    struct form form = new_form();
    form_set(&form, CODE, "K7");
    form_set(&form, field, value);
    assert_int_equal(form_key(&form, save), FORM_STAY);
    assert_int_equal(form.wrong, field);
    assert_int_equal(form.current, field);
    if (strstr(form.message, sentence) == NULL)
        fail_msg("\"%s\" is answered by \"%s\"", value, form.message);
    form_set(&form, field, field == CODE ? "K7" : "");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
    assert_string_equal(form.message, "");
}

static void test_a_wrong_line_gets_a_sentence_under_it(void **state)
{
    (void)state;
    assert_refused(CODE, "", "This is required.");
    assert_refused(CODE, "K7;K8", "A code has no semicolon.");
    assert_refused(BORN, "about 2020", "from 1900 to 2199");
    assert_refused(BORN, "1899", "from 1900 to 2199");
}

/* `owner` is the year before which nobody was born. */
static bool born_after_the_date(void *owner, const struct form *form, int field, struct err *err)
{
    return field != BORN || form_number(form, BORN, 2199) >= *(const int *)owner ||
           err_set(err, ERR_INPUT, "Nobody was born before %d.", *(const int *)owner);
}

static void test_a_line_is_checked_beside_the_others(void **state)
{
    (void)state;
    int year = 2020;
    struct form form = new_form();
    form.check = born_after_the_date;
    form.owner = &year;
    form_set(&form, CODE, "K7");
    form_set(&form, BORN, "2019");
    form.current = BORN;
    assert_int_equal(form_key(&form, save), FORM_STAY);
    assert_int_equal(form.wrong, BORN);
    assert_string_equal(form.message, "Nobody was born before 2020.");
    type(&form, "2020");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
}

static void test_numbers_come_back(void **state)
{
    (void)state;
    struct form form = new_form();
    assert_int_equal(form_number(&form, BORN, 0), 0);
    form_set_number(&form, BORN, 2021, 0);
    assert_int_equal(form_number(&form, BORN, 0), 2021);
    form_set_number(&form, BORN, 0, 0);
    assert_string_equal(form.fields[BORN].value, "");
}

/* The way back that a keypad has. */
static void test_minus_goes_backward(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = BORN;
    type(&form, "2021--");
    assert_string_equal(form.fields[BORN].value, "20");
    type(&form, "---");
    assert_string_equal(form.fields[BORN].value, "");
    assert_int_equal(form.current, SEX);
    type(&form, "-");
    assert_int_equal(form.current, DAY);
    type(&form, "2026-06-14");
    assert_string_equal(form.fields[DAY].value, "2026-06-14");
    form_key(&form, enter);
    type(&form, "--");
    assert_int_equal(form.current, CODE);
    assert_string_equal(form.fields[DAY].value, "2026-06-14");
}

/* From the first line it leaves; nothing is lost without a question. */
static void test_minus_leaves_the_form(void **state)
{
    (void)state;
    struct form form = new_form();
    const struct key minus = key_of('-');
    form_set(&form, CODE, "K7");
    assert_int_equal(form_key(&form, minus), FORM_LEAVE);
    form_key(&form, enter);
    type(&form, "2026");
    form_key(&form, (struct key){KEY_ARROW_UP, 0});
    assert_int_equal(form_key(&form, minus), FORM_STAY);
    assert_non_null(strstr(form.message, "without saving"));
    form_key(&form, enter);
    assert_string_equal(form.message, "");
    type(&form, "-");
    assert_int_equal(form_key(&form, minus), FORM_STAY);
    assert_int_equal(form_key(&form, minus), FORM_LEAVE);
}

static bool not_seven(const char *value, struct err *err)
{
    return strcmp(value, "7") != 0 || err_set(err, ERR_INPUT, "All but 7 are expected.");
}

static void test_figures_are_the_callers(void **state)
{
    (void)state;
    static const struct field_spec figures[] = {
        {.label = "Weight", .kind = FIELD_FIGURES, .others = ".", .check = not_seven},
        {.label = "Note"},
    };
    struct form form;
    form_init(&form, "A form", figures, 2);
    type(&form, "1,5x");
    assert_string_equal(form.fields[0].value, "1.5");
    assert_string_equal(form.message, "Only digits and \".\" can be typed here.");
    type(&form, "---7");
    form_key(&form, enter);
    assert_int_equal(form.wrong, 0);
    assert_string_equal(form.message, "All but 7 are expected.");
    form_set(&form, 0, "");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
}

static void test_lines_stand_below(void **state)
{
    (void)state;
    struct form form = new_form();
    text_copy(form.below, sizeof form.below, "7096 fish\n  95 % interval 6100 to 8092\n");
    assert_screens("form-below", form_draw, &form);
}

static void test_it_is_drawn(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, CODE, "鯉7");
    form_set(&form, BORN, "20x1");
    form.fields[SEX].choice = SEX_FEMALE;
    form_key(&form, save);
    assert_screens("form", form_draw, &form);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_typing_goes_into_the_current_line),
        cmocka_unit_test(test_erasing_takes_a_whole_character),
        cmocka_unit_test(test_a_line_never_overflows),
        cmocka_unit_test(test_choices_go_round),
        cmocka_unit_test(test_numbers_take_digits_only),
        cmocka_unit_test(test_a_typed_number_replaces_the_one_before),
        cmocka_unit_test(test_a_list_of_codes_needs_no_care_for_spaces),
        cmocka_unit_test(test_enter_tells_of_a_wrong_line_and_goes_on),
        cmocka_unit_test(test_it_is_accepted_when_every_line_is_right),
        cmocka_unit_test(test_a_wrong_line_gets_a_sentence_under_it),
        cmocka_unit_test(test_a_line_is_checked_beside_the_others),
        cmocka_unit_test(test_numbers_come_back),
        cmocka_unit_test(test_minus_goes_backward),
        cmocka_unit_test(test_minus_leaves_the_form),
        cmocka_unit_test(test_figures_are_the_callers),
        cmocka_unit_test(test_lines_stand_below),
        cmocka_unit_test(test_it_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
