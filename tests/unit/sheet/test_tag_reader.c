#include "senbetsu/sheet/tag_reader.h"
#include "support/test.h"

/* The milliseconds from digit to digit of a hand that goes through the aspects of many fish, at
 * five a second and in bursts of eight: uneven by a tenth and more, as no hand is a machine. */
static const int five_a_second[] = {212, 187, 176, 230, 195, 241, 168, 203, 189, 222, 174, 198,
                                    215, 183, 207, 236, 171, 192, 219, 201, 180, 226, 194, 209};
static const int eight_a_second[] = {131, 112, 138, 119, 104, 142, 126, 135, 108, 129, 146, 117,
                                     123, 109, 137, 128, 115, 141, 120, 133, 106, 139, 124, 118};
enum { GAPS = 24 };

static const char tag[] = "392145000123456";

static struct press at(int64_t from_ms, int64_t to_ms)
{
    return (struct press){.key = '0', .from_ms = from_ms, .to_ms = to_ms};
}

/* Digits with the same gap, beginning at 1000. */
static struct tag_reader burst(const char *digits, int gap_ms)
{
    struct tag_reader reader;
    int64_t now_ms = 1000;
    tag_reader_init(&reader);
    for (; *digits != '\0'; digits++, now_ms += gap_ms) {
        struct press press = at(now_ms, now_ms);
        if (reader.count > 0)
            assert_true(tag_reader_goes_on(&reader, &press));
        tag_reader_add(&reader, *digits - '0', &press);
    }
    return reader;
}

static void assert_burst(const char *digits, int gap_ms, enum reader_result result)
{
    struct tag_reader reader = burst(digits, gap_ms);
    if (tag_reader_result(&reader) != result)
        fail_msg("%s every %d ms: %d", digits, gap_ms, (int)tag_reader_result(&reader));
}

static void every_pace_of_a_reader_is_known(void **state)
{
    (void)state;
    for (int gap_ms = 0; gap_ms <= READER_SLOWEST_MS; gap_ms++) {
        assert_burst(tag, gap_ms, READER_TAG);
        assert_burst("392274877906943", gap_ms, READER_TAG);
        assert_burst("3921450001", gap_ms, READER_GARBLED);
        assert_burst("39214500012345", gap_ms, READER_GARBLED);
        assert_burst("3921450001234567", gap_ms, READER_GARBLED);
        assert_burst("392145000", gap_ms, READER_NONE); /* nine are a hand's, whatever their pace */
    }
    for (int gap_ms = READER_SLOWEST_MS + 2; gap_ms <= READER_SLOWEST_MS + READER_SLACK_MS;
         gap_ms++)
        assert_burst(tag, gap_ms, READER_NONE);
}

/* A poll of the keyboard, a bundle of the terminal: up to 10 ms to either side. */
static void a_pace_may_waver_a_little(void **state)
{
    (void)state;
    static const int late_ms[] = {0, 9, 2, 7, 0, 8, 4, 1, 9, 3, 6, 0, 5, 9, 2};
    for (int gap_ms = 10; gap_ms <= READER_SLOWEST_MS; gap_ms++) {
        struct tag_reader reader;
        tag_reader_init(&reader);
        for (int i = 0; i < TAG_DIGITS; i++) {
            int64_t now_ms = 1000 + i * gap_ms + late_ms[i];
            struct press press = at(now_ms, now_ms);
            tag_reader_add(&reader, tag[i] - '0', &press);
        }
        if (tag_reader_result(&reader) != READER_TAG)
            fail_msg("every %d ms", gap_ms);
    }
}

/* A hand, wherever one begins to look and however many digits one takes. */
static void assert_hand(const int gaps[GAPS], int percent)
{
    for (int first = 0; first < GAPS; first++)
        for (int count = 2; count <= READER_KEPT; count++) {
            struct tag_reader reader;
            int64_t now_ms = 1000;
            tag_reader_init(&reader);
            for (int i = 0; i < count; i++) {
                struct press press = at(now_ms, now_ms);
                tag_reader_add(&reader, tag[i % TAG_DIGITS] - '0', &press);
                now_ms += gaps[(first + i) % GAPS] * percent / 100;
            }
            if (tag_reader_result(&reader) != READER_NONE)
                fail_msg("%d digits from %d on are taken for a reader's", count, first);
        }
}

static void no_hand_is_taken_for_a_reader(void **state)
{
    (void)state;
    assert_hand(five_a_second, 100);
    assert_hand(eight_a_second, 100);
    assert_hand(eight_a_second, 90); /* and quicker still, at the pace of the slowest readers */
    assert_hand(eight_a_second, 75);
}

/* Thirty a second, as even as any reader. */
static void a_key_held_down_is_no_reader(void **state)
{
    (void)state;
    assert_burst("333333333333333", 33, READER_NONE);
    assert_burst("333333333333333333333333333333333333333333", 33, READER_NONE);
    assert_burst("5555555555", 25, READER_NONE);
}

/* The disk was slow for so long, and all keys of that time were there at once. */
static void what_waited_through_a_stall_is_no_reader(void **state)
{
    (void)state;
    for (int stall_ms = 1800; stall_ms <= 4000; stall_ms += 100)
        for (int count = 2; count <= READER_KEPT; count++) {
            struct tag_reader reader;
            tag_reader_init(&reader);
            for (int i = 0; i < count && i * 125 <= stall_ms; i++) {
                struct press press = at(1000, 1000 + stall_ms);
                tag_reader_add(&reader, tag[i % TAG_DIGITS] - '0', &press);
            }
            assert_int_equal(tag_reader_result(&reader), READER_NONE);
        }
}

/* One write took long while a reader was at work: what is known of the other digits is enough. */
static void a_reader_is_known_over_a_short_stall(void **state)
{
    (void)state;
    for (int gap_ms = 1; gap_ms <= READER_SLOWEST_MS; gap_ms++) {
        struct tag_reader reader;
        const int64_t stall_from = 1000 + 4 * gap_ms, stall_to = stall_from + 300;
        tag_reader_init(&reader);
        for (int i = 0; i < TAG_DIGITS; i++) {
            int64_t now_ms = 1000 + i * gap_ms;
            struct press press = now_ms > stall_from && now_ms < stall_to ? at(stall_from, stall_to)
                                                                          : at(now_ms, now_ms);
            assert_true(i == 0 || tag_reader_goes_on(&reader, &press));
            tag_reader_add(&reader, tag[i] - '0', &press);
        }
        assert_int_equal(tag_reader_result(&reader), READER_TAG);
    }
}

static void a_burst_ends_with_a_rest(void **state)
{
    (void)state;
    struct tag_reader reader = burst("39", 10);
    struct press soon = at(1130, 1130), later = at(1010 + 160, 1010 + 160), back = at(900, 900);
    assert_true(tag_reader_goes_on(&reader, &soon));
    assert_false(tag_reader_goes_on(&reader, &later));
    assert_false(tag_reader_goes_on(&reader, &back)); /* the clock was set back */
    tag_reader_init(&reader);
    assert_false(tag_reader_goes_on(&reader, &soon));
}

/* The end comes late over slow links; only what may be a reader's is waited for. */
static void waits_for_the_end_of_what_a_reader_sends(void **state)
{
    (void)state;
    struct tag_reader reader = burst(tag, 2);
    struct press end = at(1028 + READER_LATE_MS, 1028 + READER_LATE_MS);
    struct press too_late = at(1029 + READER_LATE_MS, 1029 + READER_LATE_MS);
    assert_int_equal(tag_reader_wait_ms(&reader), READER_LATE_MS);
    assert_true(tag_reader_ends(&reader, &end));
    assert_false(tag_reader_ends(&reader, &too_late));
    reader = burst("392", 2);
    assert_int_equal(tag_reader_wait_ms(&reader), 0);
    tag_reader_init(&reader);
    assert_int_equal(tag_reader_wait_ms(&reader), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_pace_of_a_reader_is_known),
        cmocka_unit_test(a_pace_may_waver_a_little),
        cmocka_unit_test(no_hand_is_taken_for_a_reader),
        cmocka_unit_test(a_key_held_down_is_no_reader),
        cmocka_unit_test(what_waited_through_a_stall_is_no_reader),
        cmocka_unit_test(a_reader_is_known_over_a_short_stall),
        cmocka_unit_test(a_burst_ends_with_a_rest),
        cmocka_unit_test(waits_for_the_end_of_what_a_reader_sends),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
