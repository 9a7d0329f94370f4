#include "senbetsu/sheet/tag_reader.h"
#include "support/test.h"

/* What a caller makes of a run of keys: digits that reached the scores, E for an Enter that did,
 * x for another key, [tag] for a tag, {…} for what a reader garbled. */
struct told {
    char text[128];
};

static void tell(struct told *told, const char *what)
{
    strncat(told->text, what, sizeof told->text - strlen(told->text) - 1);
}

static void tell_burst(struct tag_reader *reader, struct told *told, enum reader_result result)
{
    tell(told, result == READER_TAG ? "[" : result == READER_GARBLED ? "{" : "");
    tell(told, reader->digits);
    tell(told, result == READER_TAG ? "]" : result == READER_GARBLED ? "}" : "");
    tag_reader_init(reader);
}

static void take_key(struct tag_reader *reader, struct told *told, char key, int64_t now_ms)
{
    int digit = key >= '0' && key <= '9' ? key - '0' : -1;
    enum reader_result result = tag_reader_key(reader, digit, now_ms);
    if (result == READER_WAIT)
        return;
    if (result == READER_PASS) {
        tell(told, (char[]){key, '\0'});
        return;
    }
    tell_burst(reader, told, result);
    if (key != 'E' || result == READER_RELEASE)
        take_key(reader, told, key, now_ms);
}

static void take_timeout(struct tag_reader *reader, struct told *told, int64_t now_ms)
{
    enum reader_result result = tag_reader_timeout(reader, now_ms);
    if (result != READER_WAIT && result != READER_PASS)
        tell_burst(reader, told, result);
}

/* One key every `gap_ms`; a '_' is a rest of 500 ms in which the caller asks at the right time. */
static const char *play(const char *keys, int gap_ms)
{
    static struct told told;
    struct tag_reader reader;
    int64_t now_ms = 1000;
    told.text[0] = '\0';
    tag_reader_init(&reader);
    for (; *keys != '\0'; keys++, now_ms += gap_ms) {
        if (*keys == '_') {
            take_timeout(&reader, &told, now_ms - gap_ms + tag_reader_wait_ms(&reader));
            now_ms += 500;
        } else {
            take_key(&reader, &told, *keys, now_ms);
        }
    }
    take_timeout(&reader, &told, now_ms + tag_reader_wait_ms(&reader));
    return told.text;
}

static void tells_a_reader_from_fingers(void **state)
{
    (void)state;
    static const struct {
        const char *what, *keys;
        int gap_ms;
        const char *told;
    } rows[] = {
        {"fingers", "345E", 150, "345E"},
        {"fingers that rest", "3_4_5_E", 150, "345E"},
        {"quick fingers", "345E", READER_GAP_MS, "345E"},
        {"letters and Enter pass at once", "xEx", 5, "xEx"},
        {"a reader", "392145000123456E", 2, "[392145000123456]"},
        {"the slowest reader", "392145000123456E", READER_GAP_MS - 1, "[392145000123456]"},
        {"too slow for a reader", "392145000123456E", READER_GAP_MS, "392145000123456E"},
        {"a reader without delay", "392145000123456E", 0, "[392145000123456]"},
        {"two tags in a row", "392145000123456E392145000123457E", 2,
         "[392145000123456][392145000123457]"},
        {"nine digits are typed by fingers", "392145000E", 2, "392145000E"},
        {"ten digits are a reader's", "3921450001E", 2, "{3921450001}"},
        {"fourteen digits", "39214500012345E", 2, "{39214500012345}"},
        {"sixteen digits", "3921450001234567E", 2, "{3921450001234567}"},
        {"more than is kept", "392145000123456392145000123456777E", 2,
         "{392145000123456392145000123456}"},
        {"fifteen without Enter", "392145000123456", 2, "[392145000123456]"},
        {"fifteen, then another key", "392145000123456x", 2, "[392145000123456]x"},
        {"fifteen, Enter late", "392145000123456_E", 2, "[392145000123456]E"},
        {"a garbled burst, then fingers", "3921450001234_5", 2, "{3921450001234}5"},
        {"the highest number of 38 bits", "392274877906943E", 2, "[392274877906943]"},
        {"whatever the number", "999999999999999E", 2, "[999999999999999]"},
        {"fingers, then a reader", "3_4_392145000123456E_5", 2, "34[392145000123456]5"},
        {"a letter in the burst", "39214x5000123456E", 2, "39214x{5000123456}"},
        {"keys of a paste", "33E44E", 0, "33E44E"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *told = play(rows[i].keys, rows[i].gap_ms);
        if (strcmp(told, rows[i].told) != 0)
            fail_msg("%s: \"%s\", not \"%s\"", rows[i].what, told, rows[i].told);
    }
}

static void a_digit_typed_just_before_the_burst_stays_a_score(void **state)
{
    (void)state;
    struct tag_reader reader;
    struct told told = {""};
    tag_reader_init(&reader);
    take_key(&reader, &told, '4', 1000);
    const char *tag = "392145000123456E";
    for (int i = 0; tag[i] != '\0'; i++)
        take_key(&reader, &told, tag[i], 1050 + i);
    assert_string_equal(told.text, "4[392145000123456]");
}

static void waits_no_longer_than_the_gap(void **state)
{
    (void)state;
    struct tag_reader reader;
    tag_reader_init(&reader);
    assert_int_equal(tag_reader_timeout(&reader, 5000), READER_PASS);
    assert_int_equal(tag_reader_key(&reader, 3, 5000), READER_WAIT);
    assert_int_equal(tag_reader_timeout(&reader, 5000 + READER_GAP_MS - 1), READER_WAIT);
    assert_int_equal(tag_reader_timeout(&reader, 5000 + READER_GAP_MS), READER_RELEASE);
    assert_string_equal(reader.digits, "3");
}

static void a_clock_set_back_makes_no_burst(void **state)
{
    (void)state;
    struct tag_reader reader;
    tag_reader_init(&reader);
    assert_int_equal(tag_reader_key(&reader, 3, 5000), READER_WAIT);
    assert_int_equal(tag_reader_key(&reader, 4, 1000), READER_RELEASE);
    assert_int_equal(tag_reader_timeout(&reader, 1000), READER_RELEASE);
}

static void waits_longer_for_the_end_of_what_a_reader_sends(void **state)
{
    (void)state;
    struct tag_reader reader;
    struct told told = {""};
    tag_reader_init(&reader);
    assert_int_equal(tag_reader_wait_ms(&reader), 0);
    for (int i = 0; i < TAG_DIGITS; i++)
        take_key(&reader, &told, "392145000123456"[i], 1000 + i);
    assert_int_equal(tag_reader_wait_ms(&reader), READER_LATE_MS);
    assert_int_equal(tag_reader_timeout(&reader, 1000 + READER_LATE_MS), READER_WAIT);
    take_key(&reader, &told, 'E', 1300);
    assert_string_equal(told.text, "[392145000123456]");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tells_a_reader_from_fingers),
        cmocka_unit_test(a_digit_typed_just_before_the_burst_stays_a_score),
        cmocka_unit_test(waits_no_longer_than_the_gap),
        cmocka_unit_test(waits_longer_for_the_end_of_what_a_reader_sends),
        cmocka_unit_test(a_clock_set_back_makes_no_burst),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
