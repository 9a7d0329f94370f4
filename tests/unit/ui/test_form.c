#include "senbetsu/ui/form.h"
#include "support/views.h"

enum { CODE, DAY, SEX, BORN, FISH, SIRES, FIELD_COUNT };

enum { SEX_UNKNOWN, SEX_FEMALE, SEX_MALE, SEX_COUNT };

static const struct term sex_terms[SEX_COUNT] = {{"", "not known"}, {"f", "female"}, {"m", "male"}};

static bool no_semicolon(const char *value, struct err *err)
{
    return strchr(value, ';') == NULL || err_set(err, ERR_INPUT, "A code has no semicolon.");
}

static const struct field_spec specs[FIELD_COUNT] = {
    [CODE] = {.label = "Code", .check = no_semicolon, .required = true},
    [DAY] = {.label = "Date", .hint = "14/6, or the year alone", .kind = FIELD_DAY_OR_YEAR},
    [SEX] = {.label = "Sex", .choices = sex_terms, .choice_count = SEX_COUNT},
    [BORN] = {.label = "Born in", .kind = FIELD_NUMBER, .lowest = 1900, .highest = 2199},
    [FISH] = {.label = "Fish", .kind = FIELD_NUMBER, .lowest = 0, .highest = 9999999},
    [SIRES] = {.label = "Sires", .kind = FIELD_LIST},
};

static const struct key enter = {KEY_RETURN, 0}, save = {KEY_FUNCTION, 2}, erase = {KEY_ERASE, 0},
                        right = {KEY_ARROW_RIGHT, 0}, left = {KEY_ARROW_LEFT, 0},
                        up = {KEY_ARROW_UP, 0}, down = {KEY_ARROW_DOWN, 0},
                        escape = {KEY_ESCAPE, 0};

static struct form new_form(void)
{
    struct form form;
    form_init(&form, "A form", specs, FIELD_COUNT);
    text_copy(form.today, sizeof form.today, "2026-06-30");
    return form;
}

static bool shows(const struct form *form, int rows, const char *part)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, rows, 80);
    text_init(&text);
    form_draw(&grid, form);
    grid_text(&grid, &text);
    bool found = strstr(text.data, part) != NULL;
    text_done(&text);
    grid_done(&grid);
    return found;
}

#define assert_shown(form, part) assert_true(shows(form, 24, part))
#define assert_hidden(form, part) assert_false(shows(form, 24, part))

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
    assert_string_equal(form.message,
                        "Choose with Space, a number from 1 to 3, or the beginning of a word.");
    type(&form, " ");
    assert_string_equal(form.message, "");
}

static void test_a_choice_is_found_by_its_beginning(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = SEX;
    type(&form, "m");
    assert_int_equal(form.fields[SEX].choice, SEX_MALE);
    assert_string_equal(form.message, "");
    form_key(&form, right);
    type(&form, "n");
    assert_int_equal(form.fields[SEX].choice, SEX_UNKNOWN);
    type(&form, "-");
    assert_int_equal(form.current, DAY);
}

static void test_one_choice_is_no_choice(void **state)
{
    (void)state;
    static const struct term only[] = {{"K7", ""}};
    struct form form = new_form();
    form_offer(&form, SEX, only, 1, 0);
    form.current = SEX;
    type(&form, "2");
    assert_string_equal(form.message, "There is only this one to choose.");
    form_offer(&form, SEX, only, 0, 0);
    type(&form, "1");
    assert_string_equal(form.message, "There is nothing to choose from.");
}

static const struct term ponds[] = {{"1", ""},       {"10", ""},    {"11", ""},     {"12", ""},
                                    {"mud 1", ""},   {"mud 2", ""}, {"mud 12", ""}, {"house", ""},
                                    {"House 2", ""}, {"north", ""}, {"", ""}};

static struct form form_of_ponds(void)
{
    struct form form = new_form();
    form_offer(&form, SEX, ponds, 11, 0);
    form.current = SEX;
    return form;
}

static void test_many_choices_are_found_as_one_types(void **state)
{
    (void)state;
    struct form form = form_of_ponds();
    struct field *pond = &form.fields[SEX];
    type(&form, "mud ");
    assert_int_equal(pond->choice, 4);
    type(&form, "1");
    assert_int_equal(pond->choice, 4);
    type(&form, "2");
    assert_int_equal(pond->choice, 6);
    form_key(&form, erase);
    assert_string_equal(pond->begun, "mud 1");
    type(&form, "9");
    assert_string_equal(pond->begun, "mud 1");
    assert_non_null(strstr(form.message, "None begins with \"mud 19\""));
    form_key(&form, enter);
    assert_int_equal(form.current, BORN);
    assert_string_equal(pond->begun, "");
    assert_int_equal(pond->choice, 6);
    char text[FORM_VALUE_SIZE];
    assert_string_equal(form_text(&form, SEX, text), "mud 12");
}

/* Capitals or not; Up and Down go through those that begin so, through the lines otherwise. */
static void test_matches_are_gone_through(void **state)
{
    (void)state;
    struct form form = form_of_ponds();
    const struct field *pond = &form.fields[SEX];
    type(&form, "ho");
    assert_int_equal(pond->choice, 7);
    form_key(&form, down);
    assert_int_equal(pond->choice, 8);
    form_key(&form, down);
    assert_int_equal(pond->choice, 7);
    form_key(&form, up);
    assert_int_equal(pond->choice, 8);
    form_key(&form, right);
    assert_int_equal(pond->choice, 7);
    assert_int_equal(form.current, SEX);
    type(&form, "use ");
    assert_int_equal(pond->choice, 8);
    form_key(&form, down);
    assert_int_equal(form.current, BORN);
    form_key(&form, up);
    form_key(&form, down);
    assert_int_equal(form.current, BORN);
}

/* A keypad has digits, + and -. */
static void test_many_choices_are_found_on_a_keypad(void **state)
{
    (void)state;
    struct form form = form_of_ponds();
    const struct field *pond = &form.fields[SEX];
    type(&form, "12");
    assert_int_equal(pond->choice, 3);
    type(&form, "-");
    assert_string_equal(pond->begun, "1");
    type(&form, "-+");
    assert_int_equal(pond->choice, 4);
    type(&form, "-");
    assert_int_equal(form.current, DAY);
}

static void test_many_choices_are_drawn(void **state)
{
    (void)state;
    struct form form = form_of_ponds();
    assert_shown(&form, "[1]  1 of 11");
    type(&form, "mu");
    assert_shown(&form, "mu_  [mud 1]  3 begin so");
}

/* As long as they fit, all are seen; the brackets stand between the words where it is narrow. */
static void test_choices_stand_close_where_it_is_narrow(void **state)
{
    (void)state;
    static const struct term ways[] = {{"", ""},        {"counted", ""},   {"estimated", ""},
                                       {"weighed", ""}, {"displaced", ""}, {"scooped", ""}};
    struct form form = new_form();
    form_offer(&form, SEX, ways, 6, 0);
    assert_shown(&form, "[not said]counted estimated weighed displaced scooped");
    form.current = SEX;
    type(&form, "3");
    assert_shown(&form, " not said counted[estimated]weighed displaced scooped");
    form_offer(&form, SEX, ways, 3, 2);
    assert_shown(&form, " not said  counted [estimated]");
}

static void test_short_numbers_take_digits_only(void **state)
{
    (void)state;
    static const struct field_spec bowl[] = {
        {.label = "Bowl", .kind = FIELD_NUMBER, .lowest = 1, .highest = 99}};
    struct form form;
    form_init(&form, "A form", bowl, 1);
    type(&form, "2k");
    assert_string_equal(form.fields[0].value, "2");
    assert_string_equal(form.message, "Only digits can be typed here.");
    form_key(&form, (struct key){KEY_FUNCTION, 5});
    assert_string_equal(form.message, "This key does nothing here; F1 shows the keys.");
    type(&form, "1");
    assert_string_equal(form.message, "");
}

static void test_numbers_of_fish_are_typed_as_people_write_them(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = FISH;
    type(&form, "1.5k");
    assert_shown(&form, "1.5k_  = 1500");
    assert_int_equal(form_number(&form, FISH, -1), 1500);
    assert_string_equal(form.fields[FISH].value, "1.5k");
    type(&form, "x");
    assert_non_null(strstr(form.message, "such as 1200, 12 000 or 12k"));
    form_key(&form, enter);
    assert_string_equal(form.fields[FISH].value, "1500");
    form_key(&form, up);
    type(&form, "120 000");
    form_key(&form, enter);
    assert_string_equal(form.fields[FISH].value, "120000");
    assert_shown(&form, "120000   = 120 000");
}

static void test_days_are_typed_as_people_write_them(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, CODE, "K7");
    form.current = DAY;
    type(&form, "14/6");
    assert_shown(&form, "14/6_  = 2026-06-14, Sunday");
    form_key(&form, enter);
    assert_string_equal(form.fields[DAY].value, "2026-06-14");
    assert_shown(&form, "2026-06-14   Sunday");
    form.current = DAY;
    type(&form, "-2");
    assert_shown(&form, "-2_  = 2026-06-28, Sunday");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
    assert_string_equal(form.fields[DAY].value, "2026-06-28");
    type(&form, "2026");
    assert_shown(&form, "the year alone");
    form_key(&form, (struct key){KEY_REMOVE, 0});
    type(&form, "1.7.26");
    assert_shown(&form, "= 2026-07-01, Wednesday, still to come");
    form_key(&form, (struct key){KEY_REMOVE, 0});
    type(&form, "31.6.");
    form_key(&form, down);
    assert_string_equal(form.fields[DAY].wrong, "The calendar has no day \"31.6.\".");
}

static void test_a_japanese_keyboard_has_wide_digits(void **state)
{
    (void)state;
    struct form form = new_form();
    form.current = FISH;
    static const uint32_t wide[] = {0xFF11, 0xFF12, 0xFF0E, 0xFF15, 0xFF4B}; /* 12.5k */
    for (int i = 0; i < 5; i++)
        form_key(&form, (struct key){KEY_CHARACTER, wide[i]});
    assert_string_equal(form.fields[FISH].value, "12.5k");
    form.current = DAY;
    form.edited = false;
    static const uint32_t day[] = {0xFF11, 0xFF14, 0xFF0F, 0xFF16}; /* 14/6 */
    for (int i = 0; i < 4; i++)
        form_key(&form, (struct key){KEY_CHARACTER, day[i]});
    assert_string_equal(form.fields[DAY].value, "14/6");
    form.current = CODE;
    form.edited = false;
    form_key(&form, (struct key){KEY_CHARACTER, 0xFF11});
    assert_string_equal(form.fields[CODE].value, "１");
}

/* "20" over the "8" of the bowl before is 20, not 820; and so with every line. */
static void test_typing_replaces_what_was_there(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, BORN, "2019");
    form.current = BORN;
    type(&form, "2021");
    assert_string_equal(form.fields[BORN].value, "2021");
    form_key(&form, up);
    form_key(&form, down);
    form_key(&form, erase);
    type(&form, "2");
    assert_string_equal(form.fields[BORN].value, "2022");
    form_set(&form, CODE, "K");
    form_key(&form, up);
    form_key(&form, up);
    form_key(&form, up);
    assert_hidden(&form, "K_");
    assert_shown(&form, "K   typing replaces it");
    type(&form, "P7");
    assert_string_equal(form.fields[CODE].value, "P7");
    assert_shown(&form, "P7_");
}

static void test_right_and_end_go_on_behind_what_was_there(void **state)
{
    (void)state;
    static const struct key keys[] = {{KEY_ARROW_RIGHT, 0}, {KEY_ARROW_LEFT, 0}, {KEY_LAST, 0}};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        struct form form = new_form();
        form_set(&form, CODE, "K");
        form_key(&form, keys[i]);
        type(&form, "7");
        assert_string_equal(form.fields[CODE].value, "K7");
    }
}

/* A list of samples may be long: whoever comes back to it wants to add one. */
static void test_what_was_typed_by_hand_is_gone_on_with(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, SIRES, "P9");
    form.current = SIRES;
    type(&form, "P1");
    form_key(&form, up);
    form_key(&form, down);
    type(&form, ";P2");
    assert_string_equal(form.fields[SIRES].value, "P1;P2");
    form_key(&form, up);
    type(&form, "12");
    form_key(&form, down);
    form_key(&form, up);
    type(&form, "13");
    assert_string_equal(form.fields[FISH].value, "13");
    form_refuse(&form, SIRES, "There is no P1.");
    type(&form, "P3");
    assert_string_equal(form.fields[SIRES].value, "P3");
}

static void test_a_refused_character_replaces_nothing(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, FISH, "2019");
    form.current = FISH;
    type(&form, "x");
    assert_string_equal(form.fields[FISH].value, "2019");
}

static void test_blanks_are_taken_off(void **state)
{
    (void)state;
    struct form form = new_form();
    type(&form, "  K 7 ");
    form.fields[SIRES].value[0] = '\0';
    form_set(&form, SIRES, "P2 ; P3, P 4,;");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
    assert_string_equal(form.fields[CODE].value, "K 7");
    assert_string_equal(form.fields[SIRES].value, "P2;P3;P 4");
}

static void test_known_words_are_completed(void **state)
{
    (void)state;
    static const char *const known[] = {"P1", "P10", "P12", "Q1", "", "P1"};
    struct form form = new_form();
    for (int i = 0; i < 6; i++) {
        form_suggest(&form, CODE, known[i]);
        form_suggest(&form, SIRES, known[i]);
    }
    type(&form, "p");
    assert_shown(&form, "Right takes P1; 3 begin so");
    form_key(&form, right);
    assert_string_equal(form.fields[CODE].value, "P1");
    type(&form, "2");
    form_key(&form, right);
    assert_string_equal(form.fields[CODE].value, "P12");
    form.current = SIRES;
    form.edited = false;
    type(&form, "Q1; p10, q");
    assert_shown(&form, "Right takes Q1");
    form_key(&form, right);
    form_key(&form, enter);
    assert_string_equal(form.fields[SIRES].wrong, "");
    assert_string_equal(form.fields[SIRES].value, "Q1;p10;Q1");
    form_done(&form);
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
static void test_a_wrong_line_says_so_until_it_is_right(void **state)
{
    (void)state;
    struct form form = new_form();
    form_key(&form, enter);
    assert_string_equal(form.fields[CODE].wrong, "This is required.");
    assert_int_equal(form.current, DAY);
    type(&form, "32.6.");
    assert_string_equal(form.fields[DAY].wrong, "");
    form_key(&form, down);
    assert_string_equal(form.fields[CODE].wrong, "This is required.");
    assert_string_equal(form.fields[DAY].wrong, "The calendar has no day \"32.6.\".");
    form_key(&form, up);
    form_key(&form, right);
    form_key(&form, erase);
    assert_string_equal(form.fields[DAY].wrong, "The calendar has no day \"32.6\".");
    form_key(&form, erase);
    form_key(&form, erase);
    form_key(&form, erase);
    type(&form, ".6");
    assert_string_equal(form.fields[DAY].wrong, "");
    form_key(&form, up);
    type(&form, "K");
    assert_string_equal(form.fields[CODE].wrong, "");
}

static void test_enter_on_the_last_line_goes_to_the_first_wrong_one(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, FISH, "many");
    form.current = SIRES;
    assert_int_equal(form_key(&form, enter), FORM_STAY);
    assert_int_equal(form.current, CODE);
    assert_string_equal(form.fields[CODE].wrong, "This is required.");
    assert_true(form.fields[FISH].wrong[0] != '\0');
    type(&form, "K7");
    assert_int_equal(form_key(&form, save), FORM_STAY);
    assert_int_equal(form.current, FISH);
    type(&form, "12");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
}

/* Only the owner knows what is wrong with it, so it stands until something else is typed. */
static void test_what_the_owner_refuses_stands_until_it_is_changed(void **state)
{
    (void)state;
    struct form form = new_form();
    form_set(&form, CODE, "K7");
    form_refuse(&form, CODE, "There is a K7.");
    form_key(&form, down);
    assert_string_equal(form.fields[CODE].wrong, "There is a K7.");
    form_key(&form, up);
    assert_string_equal(form.fields[CODE].wrong, "There is a K7.");
    type(&form, "K8");
    assert_string_equal(form.fields[CODE].wrong, "");
    form_refuse(&form, CODE, "There is a K8.");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
    assert_string_equal(form.fields[CODE].wrong, "");
}

static void test_a_long_sentence_stands_at_the_foot_too(void **state)
{
    (void)state;
    struct form form = new_form();
    form_refuse(&form, CODE,
                "This sentence is longer than the screen is wide, as those of the ledger sometimes "
                "are, and it ends here.");
    assert_shown(&form, "it ends here.");
    form_key(&form, down);
    assert_hidden(&form, "it ends here.");
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
}

/* Nothing that was typed is lost without a question. */
static void test_escape_asks_once(void **state)
{
    (void)state;
    struct form form = new_form();
    assert_int_equal(form_key(&form, escape), FORM_LEAVE);
    type(&form, "K");
    assert_int_equal(form_key(&form, escape), FORM_STAY);
    assert_string_equal(form.message,
                        "Esc again leaves, and nothing is saved; anything else goes on.");
    type(&form, "7");
    assert_string_equal(form.fields[CODE].value, "K7");
    assert_string_equal(form.message, "");
    assert_int_equal(form_key(&form, escape), FORM_STAY);
    assert_int_equal(form_key(&form, escape), FORM_LEAVE);
}

static void assert_refused(int field, const char *value, const char *sentence)
{
    struct form form = new_form();
    form_set(&form, CODE, "K7");
    form_set(&form, field, value);
    assert_int_equal(form_key(&form, save), FORM_STAY);
    assert_int_equal(form.current, field);
    if (strstr(form.fields[field].wrong, sentence) == NULL)
        fail_msg("\"%s\" is answered by \"%s\"", value, form.fields[field].wrong);
    form_set(&form, field, field == CODE ? "K7" : "");
    assert_int_equal(form_key(&form, save), FORM_ACCEPT);
    assert_string_equal(form.fields[field].wrong, "");
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
    assert_string_equal(form.fields[BORN].wrong, "Nobody was born before 2020.");
    /* Also where another line makes it right. */
    year = 2019;
    form_key(&form, down);
    assert_string_equal(form.fields[BORN].wrong, "");
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
    type(&form, "-");
    assert_string_equal(form.fields[DAY].value, "-");
    type(&form, "-");
    assert_int_equal(form.current, CODE);
    assert_string_equal(form.fields[DAY].value, "");
    form_set(&form, DAY, "2026-06-14");
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
    assert_non_null(strstr(form.message, "- again leaves"));
    form_key(&form, enter);
    assert_string_equal(form.message, "");
    form_key(&form, up);
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
    assert_string_equal(form.fields[0].wrong, "All but 7 are expected.");
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

/* In 80 × 16 four lines are seen, and what is below the form; the rules say how many more. */
static void test_a_tall_form_scrolls(void **state)
{
    (void)state;
    struct form form = new_form();
    assert_screen_of("form-first", 16, 80, form_draw, &form);
    form_key(&form, enter);
    form.current = SIRES;
    assert_screen_of("form-last", 16, 80, form_draw, &form);
    text_copy(form.below, sizeof form.below, "7096 fish\n  95 % interval 6100 to 8092\n  more\n");
    form.current = SEX;
    assert_screen_of("form-below", 16, 80, form_draw, &form);
}

/* Wherever the cursor is, its line and what is wrong with it are seen. */
static void test_the_current_line_is_in_sight(void **state)
{
    (void)state;
    static struct field_spec many[FORM_FIELDS];
    char label[FORM_FIELDS][8], line[16];
    struct form form;
    for (int i = 0; i < FORM_FIELDS; i++) {
        snprintf(label[i], sizeof label[i], "L%d", i);
        many[i] = (struct field_spec){.label = label[i], .required = true};
    }
    form_init(&form, "A tall form", many, FORM_FIELDS);
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < FORM_FIELDS; i++) {
            snprintf(line, sizeof line, "> L%d ", i);
            assert_int_equal(form.current, i);
            assert_shown(&form, line);
            if (pass == 1)
                assert_shown(&form, "This is required.");
            form_key(&form, enter);
        }
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
        cmocka_unit_test(test_a_choice_is_found_by_its_beginning),
        cmocka_unit_test(test_one_choice_is_no_choice),
        cmocka_unit_test(test_many_choices_are_found_as_one_types),
        cmocka_unit_test(test_matches_are_gone_through),
        cmocka_unit_test(test_many_choices_are_found_on_a_keypad),
        cmocka_unit_test(test_many_choices_are_drawn),
        cmocka_unit_test(test_choices_stand_close_where_it_is_narrow),
        cmocka_unit_test(test_short_numbers_take_digits_only),
        cmocka_unit_test(test_numbers_of_fish_are_typed_as_people_write_them),
        cmocka_unit_test(test_days_are_typed_as_people_write_them),
        cmocka_unit_test(test_a_japanese_keyboard_has_wide_digits),
        cmocka_unit_test(test_typing_replaces_what_was_there),
        cmocka_unit_test(test_right_and_end_go_on_behind_what_was_there),
        cmocka_unit_test(test_what_was_typed_by_hand_is_gone_on_with),
        cmocka_unit_test(test_a_refused_character_replaces_nothing),
        cmocka_unit_test(test_blanks_are_taken_off),
        cmocka_unit_test(test_known_words_are_completed),
        cmocka_unit_test(test_a_list_of_codes_needs_no_care_for_spaces),
        cmocka_unit_test(test_a_wrong_line_says_so_until_it_is_right),
        cmocka_unit_test(test_enter_on_the_last_line_goes_to_the_first_wrong_one),
        cmocka_unit_test(test_what_the_owner_refuses_stands_until_it_is_changed),
        cmocka_unit_test(test_a_long_sentence_stands_at_the_foot_too),
        cmocka_unit_test(test_it_is_accepted_when_every_line_is_right),
        cmocka_unit_test(test_escape_asks_once),
        cmocka_unit_test(test_a_wrong_line_gets_a_sentence_under_it),
        cmocka_unit_test(test_a_line_is_checked_beside_the_others),
        cmocka_unit_test(test_numbers_come_back),
        cmocka_unit_test(test_minus_goes_backward),
        cmocka_unit_test(test_minus_leaves_the_form),
        cmocka_unit_test(test_figures_are_the_callers),
        cmocka_unit_test(test_lines_stand_below),
        cmocka_unit_test(test_a_tall_form_scrolls),
        cmocka_unit_test(test_the_current_line_is_in_sight),
        cmocka_unit_test(test_it_is_drawn),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
