#include "senbetsu/sheet/scan.h"
#include "support/test.h"

/* What a caller makes of a run of keys: digits that reached the scores, E for an Enter that did,
 * x for another key, [tag] for a tag. */
struct told {
    char text[128];
};

static void tell(struct told *told, const char *what)
{
    strncat(told->text, what, sizeof told->text - strlen(told->text) - 1);
}

static void take_key(struct scan *scan, struct told *told, char key, int64_t now_ms)
{
    int digit = key >= '0' && key <= '9' ? key - '0' : -1;
    enum scan_result result = scan_key(scan, digit, key == 'E', now_ms);
    if (result == SCAN_WAIT)
        return;
    if (result == SCAN_PASS) {
        tell(told, (char[]){key, '\0'});
        return;
    }
    if (result == SCAN_TAG)
        tell(told, "[");
    tell(told, scan->digits);
    if (result == SCAN_TAG)
        tell(told, "]");
    scan_init(scan);
    if (result == SCAN_RELEASE)
        take_key(scan, told, key, now_ms);
}

static void take_timeout(struct scan *scan, struct told *told, int64_t now_ms)
{
    if (scan_timeout(scan, now_ms) != SCAN_RELEASE)
        return;
    tell(told, scan->digits);
    scan_init(scan);
}

/* One key every `gap_ms`; a '_' is a rest of 500 ms in which the caller asks at the right time. */
static const char *play(const char *keys, int gap_ms)
{
    static struct told told;
    struct scan scan;
    int64_t now_ms = 1000;
    told.text[0] = '\0';
    scan_init(&scan);
    for (; *keys != '\0'; keys++, now_ms += gap_ms) {
        if (*keys == '_') {
            take_timeout(&scan, &told, now_ms - gap_ms + SCAN_GAP_MS);
            now_ms += 500;
        } else {
            take_key(&scan, &told, *keys, now_ms);
        }
    }
    take_timeout(&scan, &told, now_ms + SCAN_GAP_MS);
    return told.text;
}

static void tells_reader_from_hand(void **state)
{
    (void)state;
    static const struct {
        const char *what, *keys;
        int gap_ms;
        const char *told;
    } rows[] = {
        {"a hand", "345E", 150, "345E"},
        {"a hand that rests", "3_4_5_E", 150, "345E"},
        {"a quick hand", "345E", SCAN_GAP_MS, "345E"},
        {"letters and Enter pass at once", "xEx", 5, "xEx"},
        {"a reader", "392145000123456E", 2, "[392145000123456]"},
        {"the slowest reader", "392145000123456E", SCAN_GAP_MS - 1, "[392145000123456]"},
        {"too slow for a reader", "392145000123456E", SCAN_GAP_MS, "392145000123456E"},
        {"a reader without delay", "392145000123456E", 0, "[392145000123456]"},
        {"two tags in a row", "392145000123456E392145000123457E", 2,
         "[392145000123456][392145000123457]"},
        {"fourteen digits", "39214500012345E", 2, "39214500012345E"},
        {"sixteen digits", "3921450001234567E", 2, "3921450001234567E"},
        {"fifteen without Enter", "392145000123456x", 2, "392145000123456x"},
        {"fifteen, Enter late", "392145000123456_E", 2, "392145000123456E"},
        {"country 000", "000145000123456E", 2, "000145000123456E"},
        {"the highest number of 38 bits", "392274877906943E", 2, "[392274877906943]"},
        {"a number beyond 38 bits", "392274877906944E", 2, "392274877906944E"},
        {"a hand, then a reader", "3_4_392145000123456E_5", 2, "34[392145000123456]5"},
        {"a letter in the burst", "39214x5000123456E", 2, "39214x5000123456E"},
        {"keys of a paste", "33E44E", 0, "33E44E"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const char *told = play(rows[i].keys, rows[i].gap_ms);
        if (strcmp(told, rows[i].told) != 0)
            fail_msg("%s: \"%s\", not \"%s\"", rows[i].what, told, rows[i].told);
    }
}

static void a_hands_digit_just_before_the_burst_stays_a_score(void **state)
{
    (void)state;
    struct scan scan;
    struct told told = {""};
    scan_init(&scan);
    take_key(&scan, &told, '4', 1000);
    const char *tag = "392145000123456E";
    for (int i = 0; tag[i] != '\0'; i++)
        take_key(&scan, &told, tag[i], 1050 + i);
    assert_string_equal(told.text, "4[392145000123456]");
}

static void waits_no_longer_than_the_gap(void **state)
{
    (void)state;
    struct scan scan;
    scan_init(&scan);
    assert_int_equal(scan_timeout(&scan, 5000), SCAN_PASS);
    assert_int_equal(scan_key(&scan, 3, false, 5000), SCAN_WAIT);
    assert_int_equal(scan_timeout(&scan, 5000 + SCAN_GAP_MS - 1), SCAN_WAIT);
    assert_int_equal(scan_timeout(&scan, 5000 + SCAN_GAP_MS), SCAN_RELEASE);
    assert_string_equal(scan.digits, "3");
}

static void a_clock_set_back_makes_no_burst(void **state)
{
    (void)state;
    struct scan scan;
    scan_init(&scan);
    assert_int_equal(scan_key(&scan, 3, false, 5000), SCAN_WAIT);
    assert_int_equal(scan_key(&scan, 4, false, 1000), SCAN_RELEASE);
    assert_int_equal(scan_timeout(&scan, 1000), SCAN_RELEASE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(tells_reader_from_hand),
        cmocka_unit_test(a_hands_digit_just_before_the_burst_stays_a_score),
        cmocka_unit_test(waits_no_longer_than_the_gap),
        cmocka_unit_test(a_clock_set_back_makes_no_burst),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
