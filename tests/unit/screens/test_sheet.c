/* The sheet by its keys, on a ledger in a folder. Time is the bench's own, so the tag reader's
 * pace does not depend on how fast the machine is. */
#include "bench.h"
#include "scene.h"
#include "senbetsu/sheet/tag_reader.h"
#include "senbetsu/store/fish.h"

static int open_bowl(void **state, const struct standard *standard)
{
    int result = bench_setup_empty(state);
    struct bench *bench = *state;
    struct small_ledger *small = &bench->small;
    struct spawning spawning = {.code = "26-014",
                                .season = 2026,
                                .date = "2026-06-14",
                                .variety = "Kikusui",
                                .eggs = NOT_COUNTED,
                                .hatched = NOT_COUNTED};
    enum saved saved;
    struct err err;
    assert_ok(
        standard_save(small->ledger, standard, ORIGIN_IMPORTED, &small->standard, &saved, &err),
        &err);
    assert_ok(spawning_save(small->ledger, &spawning, 0, "", &saved, &err), &err);
    assert_ok(round_begin(small->ledger, "26-014", "", standard->stage, &small->round, &err), &err);
    assert_ok(bowl_begin(small->ledger, small->round.id, 3, 60, "2026-11-08", &small->bowl, &err),
              &err);
    app_open_sheet(&bench->app, small->bowl.id, NULL);
    return result;
}

static int setup(void **state)
{
    struct standard standard = scene_standard();
    return open_bowl(state, &standard);
}

static int setup_largest(void **state)
{
    struct standard standard = scene_largest_standard();
    return open_bowl(state, &standard);
}

static void assert_score(struct bench *bench, int aspect, int score)
{
    assert_int_equal(bench_fish(bench, 1).judgement.scores[aspect], score);
}

static void assert_no_scores(struct bench *bench)
{
    struct fish fish = bench_fish(bench, 1);
    for (int i = 0; i < bench->small.standard.standard.aspect_count; i++)
        assert_int_equal(fish.judgement.scores[i], SCORE_NONE);
    assert_false(fish.closed);
}

static void assert_tag(struct bench *bench, const char *tag)
{
    assert_string_equal(bench_fish(bench, 1).tag, tag);
}

/* Keys with a second between them and after the last. */
static void press(struct bench *bench, const char *keys)
{
    bench_press(bench, keys);
    bench_wait(bench);
}

/* One key; '\r' is Enter, '\t' Tab. */
static void hit(struct bench *bench, char key)
{
    enum key_kind kind = key == '\r' ? KEY_RETURN : key == '\t' ? KEY_TABULATOR : KEY_CHARACTER;
    app_key(&bench->app, (struct key){kind, kind == KEY_CHARACTER ? (uint32_t)key : 0});
}

/* Keys this many milliseconds after one another. */
static void burst(struct bench *bench, const char *keys, int gap_ms)
{
    for (; *keys != '\0'; keys++) {
        bench->small.now += gap_ms;
        hit(bench, *keys);
    }
}

/* Keys that came at some time while the program could not read for so long. */
static void stalled(struct bench *bench, const char *keys, int stall_ms)
{
    int64_t from_ms = bench->small.now;
    bench->small.now += stall_ms;
    bench->app.pressed = (struct pressed){from_ms, bench->small.now};
    for (; *keys != '\0'; keys++)
        hit(bench, *keys);
    bench->app.pressed = (struct pressed){0};
}

/* Nothing comes for as long as the screen wants to wait. */
static void rest(struct bench *bench)
{
    bench->small.now += app_wait_ms(&bench->app);
    app_key(&bench->app, (struct key){KEY_NONE, 0});
}

static const char tag_text[] = "392141000123456";

/* The tag reader. */

static void test_a_digit_is_recorded_at_once(void **state)
{
    struct bench *bench = *state;
    burst(bench, "4", 0);
    assert_score(bench, 0, 4);
    assert_true(app_wait_ms(&bench->app) > READER_LATE_MS);
    press(bench, "5 2");
    assert_score(bench, 1, 5);
    assert_score(bench, 2, 2);
}

/* Two keys at once keep their order. */
static void test_fast_fingers_lose_nothing(void **state)
{
    struct bench *bench = *state;
    burst(bench, "4y5\r", 0);
    struct fish fish = bench_fish(bench, 1);
    assert_int_equal(fish.judgement.scores[0], 4);
    assert_int_equal(fish.judgement.scores[1], 5);
    assert_int_equal(fish.judgement.faults, 1u << 6);
    assert_true(fish.closed);
}

/* Whatever the pace and the end, on a fish of which something is scored already: its score stays,
 * the tag is there, and nothing else. With these eleven aspects the digits close fish and begin
 * others. */
static void test_no_reading_becomes_a_score(void **state)
{
    static const char *const ends[] = {"\r", "\t", "\r\r", ""};
    static const int gaps_ms[] = {1, 10, 40, 80, 120};
    struct bench *bench = *state;
    press(bench, "4");
    for (size_t gap = 0; gap < sizeof gaps_ms / sizeof *gaps_ms; gap++)
        for (size_t end = 0; end < sizeof ends / sizeof *ends; end++) {
            bench->small.now += 2000;
            burst(bench, "152141353123454", gaps_ms[gap]);
            burst(bench, ends[end], gaps_ms[gap]);
            rest(bench);
            assert_tag(bench, "152141353123454");
            assert_score(bench, 0, 4);
            assert_score(bench, 1, SCORE_NONE);
            assert_false(bench_fish(bench, 1).closed);
            assert_int_equal(bench_fish(bench, 2).look, 0);
            assert_shows(bench, "10 of 11 open");
            assert_shows(bench, "▸ T A I L   T U B E");
            assert_shows(bench, "were taken back as scores");
            press(bench, "-");
            assert_tag(bench, "");
        }
}

/* At five a second, and in bursts of eight: uneven, as hands are. */
static void test_no_hand_loses_a_digit(void **state)
{
    static const int gaps_ms[] = {212, 187, 131, 112, 138, 119, 104, 142,
                                  126, 135, 108, 129, 146, 117, 195};
    static const char digits[] = "152141353123454";
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof gaps_ms / sizeof *gaps_ms; i++) {
        bench->small.now += gaps_ms[i];
        hit(bench, digits[i]);
    }
    bench->small.now += 130;
    hit(bench, '\r');
    for (int i = 0; i < 15; i++) {
        struct fish fish = bench_fish(bench, i < 11 ? 1 : 2);
        assert_int_equal(fish.judgement.scores[i % 11], digits[i] - '0');
    }
    assert_true(bench_fish(bench, 2).closed);
    assert_tag(bench, "");
}

/* All that came while the disk was slow was typed by hand: 80 digits at eight a second. */
static void test_digits_of_a_stall_are_scores(void **state)
{
    struct bench *bench = *state;
    char digits[81] = "";
    for (int i = 0; i < 80; i++)
        digits[i] = (char)('1' + i % 5);
    for (int i = 0; i < 80; i += 16) {
        char part[17];
        text_copy(part, sizeof part, digits + i);
        stalled(bench, part, 2000);
    }
    rest(bench);
    for (int i = 0; i < 80; i++)
        assert_int_equal(bench_fish(bench, (size_t)(1 + i / 11)).judgement.scores[i % 11],
                         digits[i] - '0');
    assert_tag(bench, "");
}

/* A key held down says the same digit all the time: all of them score. */
static void test_repeated_digits_are_scores(void **state)
{
    struct bench *bench = *state;
    for (int i = 0; i < 600; i++)
        burst(bench, "3", 33);
    rest(bench);
    for (size_t fish = 1; fish <= 600 / 11; fish++)
        assert_true(bench_fish(bench, fish).closed);
    assert_int_equal(bench_fish(bench, 55).judgement.scores[5], 3);
    assert_int_equal(bench_fish(bench, 55).judgement.scores[6], SCORE_NONE);
}

static void test_a_reader_after_fingers(void **state)
{
    struct bench *bench = *state;
    press(bench, "4");
    burst(bench, "5", 1000);
    bench->small.now += 200;
    burst(bench, "392141000123456\r", 2);
    assert_score(bench, 0, 4);
    assert_score(bench, 1, 5);
    assert_score(bench, 2, SCORE_NONE);
    assert_tag(bench, "392141000123456");
}

/* The tag and what was taken back for it are one key for undo, and one transaction: no score is
 * left behind. */
static void test_a_reading_is_undone_as_one(void **state)
{
    struct bench *bench = *state;
    press(bench, "4 2");
    burst(bench, "392141000123456\r", 2);
    assert_tag(bench, tag_text);
    press(bench, "-");
    assert_tag(bench, "");
    assert_score(bench, 1, 2);
    press(bench, "-");
    assert_score(bench, 1, SCORE_NONE);
    assert_score(bench, 0, 4);
}

/* Not a digit of it becomes a score, and the sentence stays until the next key. */
static void test_a_garbled_reading(void **state)
{
    struct bench *bench = *state;
    burst(bench, "39214100012\r", 2);
    assert_no_scores(bench);
    assert_tag(bench, "");
    assert_shows(bench, "sent 11 digits");
    bench->small.now += 1000;
    press(bench, "4");
    assert_score(bench, 0, 4);
    assert_hides(bench, "sent 11 digits");
    burst(bench, "39214100012\r", 2);
    assert_shows(bench, "sent 11 digits, not 15; taken back as scores. Read it again.");
    assert_score(bench, 0, 4);
    assert_score(bench, 1, SCORE_NONE);
}

static void test_a_reader_that_ends_late(void **state)
{
    struct bench *bench = *state;
    burst(bench, "392141000123456", 2);
    assert_int_equal(app_wait_ms(&bench->app), READER_LATE_MS);
    burst(bench, "\r", 300);
    assert_tag(bench, "392141000123456");
    assert_no_scores(bench);
}

/* A tag goes to the fish and what is being typed stays. */
static void test_a_reader_in_any_mode(void **state)
{
    static const char *const modes[][2] = {
        {"l 1 2", "Length in mm: 12"},
        {".", "What do you want to do?"},
        {"*", "Fault, by"},
        {"/", "Aspect, by"},
        {"m", "Which note?"},
        {"t", "Tag: "},
        {"v", "Which verdict"},
        {"b 1 2", "again): 12"},
    };
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        press(bench, modes[i][0]);
        assert_shows(bench, modes[i][1]);
        burst(bench, "392141000123456\r", 2);
        assert_tag(bench, "392141000123456");
        assert_int_equal(bench_fish(bench, 1).length_mm, 0);
        if (modes[i][0][0] != 't') /* the line is still there */
            assert_shows(bench, modes[i][1]);
        press(bench, "Esc");
        assert_shows(bench, "▸ B O D Y");
        press(bench, "-");
        assert_tag(bench, "");
    }
    assert_no_scores(bench);
}

/* A tag read while the help is up is not lost, and not half of it scored. */
static void test_a_reader_under_the_help(void **state)
{
    struct bench *bench = *state;
    press(bench, "?");
    burst(bench, "392141000123456\r", 2);
    assert_tag(bench, "392141000123456");
    assert_no_scores(bench);
}

/* In the menu 0 leaves the sheet, and many tags begin with it. */
static void test_a_reading_does_not_leave_the_sheet(void **state)
{
    struct bench *bench = *state;
    press(bench, ".");
    burst(bench, "056141000123456\r", 100);
    assert_tag(bench, "056141000123456");
    assert_shows(bench, "What do you want to do?");
    assert_no_scores(bench);
    burst(bench, "0", 1000);
    assert_true(app_wait_ms(&bench->app) < 200);
    rest(bench);
    assert_hides(bench, "of 11 open");
}

/* Keys that bounce or repeat. */

static void setup_bounce(struct bench *bench)
{
    press(bench, "q");
    bench->app.bounce_ms = BOUNCE_MS;
    app_open_sheet(&bench->app, bench->small.bowl.id, NULL);
    bench->small.now += 5000;
}

static size_t closed(struct bench *bench)
{
    size_t count = 0;
    while (bench_fish(bench, count + 1).closed)
        count++;
    return count;
}

static void test_a_bouncing_key_closes_one_fish(void **state)
{
    struct bench *bench = *state;
    setup_bounce(bench);
    burst(bench, "\r\r", 12);
    assert_int_equal(closed(bench), 1);
    assert_shows(bench, "The same key within 0.1 s was held back; press it again.");
    assert_true(bench->app.alert);
    burst(bench, "\r", BOUNCE_MS);
    assert_int_equal(closed(bench), 2);
    burst(bench, "ss", 40);
    assert_int_equal(closed(bench), 3);
}

/* Other keys in quick succession are a quick hand's. */
static void test_different_keys_are_never_held_back(void **state)
{
    struct bench *bench = *state;
    setup_bounce(bench);
    burst(bench, "33333333333\rs\r", 1);
    assert_int_equal(closed(bench), 4);
}

static void test_a_quick_hand_closes_every_fish(void **state)
{
    struct bench *bench = *state;
    setup_bounce(bench);
    for (int i = 0; i < 8; i++)
        burst(bench, "\r", 125);
    assert_int_equal(closed(bench), 8);
    for (int i = 0; i < 5; i++)
        burst(bench, "\r", 200);
    assert_int_equal(closed(bench), 13);
    /* What came during a stall came at nobody knows which time. */
    stalled(bench, "\r\r\r\r", 600);
    assert_int_equal(closed(bench), 17);
}

/* The first repeat comes after half a second, and looks like a press. */
static void test_a_key_held_down_closes_one_fish(void **state)
{
    struct bench *bench = *state;
    setup_bounce(bench);
    burst(bench, "\r", 1000);
    burst(bench, "\r", 500);
    assert_int_equal(closed(bench), 2);
    for (int i = 0; i < 60; i++)
        burst(bench, "\r", 33);
    assert_int_equal(closed(bench), 1);
    assert_shows(bench, "NOW 11 of 11 open");
    burst(bench, "\r", 300);
    assert_int_equal(closed(bench), 2);
}

static void test_holding_back_can_be_off(void **state)
{
    struct bench *bench = *state;
    burst(bench, "\r\r\r", 1);
    assert_int_equal(closed(bench), 3);
}

/* Keys. */

/* An obvious reject: 1 key. A good average fish: 1. An average one with one exception: 3. */
static void test_few_keys_a_fish(void **state)
{
    struct bench *bench = *state;
    press(bench, "s");
    assert_true(bench_fish(bench, 1).closed);
    assert_int_equal(bench_fish(bench, 1).sent, VERDICT_REJECT);
    press(bench, "Enter");
    assert_true(bench_fish(bench, 2).closed);
    press(bench, "P 2 Enter");
    assert_true(bench_fish(bench, 3).closed);
    assert_int_equal(bench_fish(bench, 3).judgement.scores[3], 2);
}

static void test_the_keypad_alone(void **state)
{
    struct bench *bench = *state;
    press(bench, "* 1");
    assert_int_equal(bench_fish(bench, 1).sent, VERDICT_REJECT);
    press(bench, "/ 4 2 Enter");
    assert_int_equal(bench_fish(bench, 2).judgement.scores[3], 2);
    assert_true(bench_fish(bench, 2).closed);
    press(bench, ". 4 1 3 2 Enter");
    assert_int_equal(bench_fish(bench, 3).length_mm, 132);
    press(bench, ". 7 1 3");
    assert_int_equal(bench_fish(bench, 3).judgement.by_hand, VERDICT_KEEP);
    press(bench, ". 8 4 0 Enter");
    assert_shows(bench, "0 of 40");
    press(bench, ". 0");
    assert_hides(bench, "0 of 40");
}

static void test_every_letter_of_the_standard(void **state)
{
    struct bench *bench = *state;
    const struct standard *standard = &bench->small.standard.standard;
    struct letters letters = letters_assign(standard);
    for (int i = 0; i < standard->aspect_count; i++) {
        char name[8] = {letters.aspects[i], '\0'}, shown[64];
        press(bench, name);
        snprintf(shown, sizeof shown, "▸ %c ", letters.aspects[i]);
        assert_shows(bench, shown);
    }
    for (int i = standard->fault_count - 1; i >= 0; i--) {
        char name[8] = {letters.faults[i], '\0'};
        press(bench, name);
        assert_true((bench_fish(bench, 1).judgement.faults >> i & 1) != 0);
        press(bench, "-");
    }
}

static void assert_picks(struct bench *bench, const char *keys, int fault)
{
    press(bench, keys);
    assert_int_equal(bench_fish(bench, 1).judgement.faults, 1u << fault);
    press(bench, "-");
}

static void test_pages_reach_every_fault(void **state)
{
    static const char *const names[] = {"1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "+"};
    struct bench *bench = *state;
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        char keys[32] = "*";
        for (int page = 0; page < i / 12; page++)
            strcat(keys, " *");
        strcat(keys, " ");
        strcat(keys, names[i % 12]);
        assert_picks(bench, keys, i);
    }
    assert_picks(bench, "* * * * 1", 0); /* round and round */
    press(bench, "* 3");
    assert_picks(bench, "- * 1", 0); /* from the first page again */
}

static void test_minus_leads_back_on_the_keypad(void **state)
{
    struct bench *bench = *state;
    press(bench, "l -");
    assert_shows(bench, "▸ B O D Y");
    press(bench, "l 1 3 -");
    assert_shows(bench, "Length in mm: 1_");
    press(bench, "Esc t 7 - 8");
    assert_shows(bench, "Tag: 7-8_");
    press(bench, "Enter");
    assert_tag(bench, "7-8");
}

static void test_help_comes_and_goes(void **state)
{
    struct bench *bench = *state;
    press(bench, "?");
    assert_shows(bench, "Keys: At the fish");
    assert_shows(bench, "any key: more");
    bench_wait(bench);
    assert_shows(bench, "any key: more");
    press(bench, "s");
    assert_shows(bench, "any key: back");
    assert_shows(bench, "leave the sheet");
    press(bench, "s");
    assert_hides(bench, "any key: back");
    assert_int_equal(bench_fish(bench, 1).judgement.faults, 0);
}

static void assert_absent(struct bench *bench, const char *key, const char *sentence, bool alert)
{
    bench_press(bench, key);
    if (key[0] >= '0' && key[0] <= '9') {
        bench_wait(bench);
    }
    assert_shows(bench, sentence);
    assert_int_equal(bench->app.alert, alert);
}

/* A key that does nothing says so, and leaves the mode as it is. */
static void test_keys_that_are_not_offered_say_so(void **state)
{
    struct bench *bench = *state;
    assert_absent(bench, "Z", "No aspect has the letter Z.", true);
    assert_absent(bench, "z", "No fault has the letter z.", true);
    assert_absent(bench, "@", "@ does nothing here; ? shows the keys.", true);
    assert_absent(bench, "Esc", "This key does nothing here; ? shows the keys.", false);
    assert_absent(bench, "9", "9 is not a score here; scores go from 1 to 5.", true);
    press(bench, "*");
    assert_absent(bench, "+", "No fault has the number + here.", true);
    assert_absent(bench, "z", "z does nothing here; - goes back.", true);
    press(bench, "- /");
    assert_absent(bench, "+", "No aspect has the number + here.", true);
    press(bench, "- .");
    assert_absent(bench, "=", "= does nothing here; - goes back.", true);
    assert_absent(bench, "q", "q does nothing here; - goes back.", true);
    assert_absent(bench, "PgUp", "This key does nothing here; - goes back.", false);
    press(bench, "6");
    assert_absent(bench, "s", "s does nothing here; - goes back.", true);
    press(bench, "0");
    assert_absent(bench, "Up", "This key does nothing here; Esc goes back.", false);
    press(bench, "q 3");
    assert_shows(bench, "Note: q3_");
    assert_no_scores(bench);
}

/* Others may be at work in the round. */
static void test_a_long_wait_reads_the_round_again(void **state)
{
    struct bench *bench = *state;
    struct err err;
    assert_hides(bench, "places");
    assert_ok(round_get(bench->small.ledger, bench->small.round.id, &bench->small.round, &err),
              &err);
    bench->small.round.places = 7;
    assert_ok(round_save(bench->small.ledger, &bench->small.round, bench->app.judge, &err), &err);
    bench_wait(bench);
    assert_shows(bench, "0 of 7");
}

static void test_it_comes_back_to_fish_and_aspect(void **state)
{
    struct bench *bench = *state;
    struct place place;
    struct err err;
    press(bench, "Enter H q");
    assert_ok(place_get(bench->small.ledger, bench->app.judge, &place, &err), &err);
    assert_false(place.in_sheet);
    app_open_sheet(&bench->app, bench->small.bowl.id, &place);
    assert_shows(bench, "▸ H E A D");
    assert_ok(place_get(bench->small.ledger, bench->app.judge, &place, &err), &err);
    assert_true(place.in_sheet);
    assert_int_equal(place.number, 2);
}

static void test_a_second_look_needs_held_fish(void **state)
{
    struct bench *bench = *state;
    press(bench, "x 3 Enter s q"); /* one held, one rejected */
    app_open_second_look(&bench->app, bench->small.round.id, NULL);
    assert_shows(bench, "second look");
    assert_shows(bench, "0 of 1");
    press(bench, "s q");
    app_open_second_look(&bench->app, bench->small.round.id, NULL);
    assert_hides(bench, "second look  ");
    assert_int_equal(bench->app.alert, true);
    assert_non_null(strstr(bench->app.message, "No fish of this round is held"));
}

#define on_bowl(test) cmocka_unit_test_setup_teardown(test, setup, bench_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_bowl(test_a_digit_is_recorded_at_once),
        on_bowl(test_fast_fingers_lose_nothing),
        on_bowl(test_no_reading_becomes_a_score),
        on_bowl(test_no_hand_loses_a_digit),
        on_bowl(test_digits_of_a_stall_are_scores),
        on_bowl(test_repeated_digits_are_scores),
        on_bowl(test_a_reader_after_fingers),
        on_bowl(test_a_reading_is_undone_as_one),
        on_bowl(test_a_reading_does_not_leave_the_sheet),
        on_bowl(test_a_bouncing_key_closes_one_fish),
        on_bowl(test_different_keys_are_never_held_back),
        on_bowl(test_a_quick_hand_closes_every_fish),
        on_bowl(test_a_key_held_down_closes_one_fish),
        on_bowl(test_holding_back_can_be_off),
        on_bowl(test_a_garbled_reading),
        on_bowl(test_a_reader_that_ends_late),
        on_bowl(test_a_reader_in_any_mode),
        on_bowl(test_a_reader_under_the_help),
        on_bowl(test_few_keys_a_fish),
        on_bowl(test_the_keypad_alone),
        on_bowl(test_every_letter_of_the_standard),
        cmocka_unit_test_setup_teardown(test_pages_reach_every_fault, setup_largest,
                                        bench_teardown),
        on_bowl(test_minus_leads_back_on_the_keypad),
        on_bowl(test_help_comes_and_goes),
        on_bowl(test_keys_that_are_not_offered_say_so),
        on_bowl(test_a_long_wait_reads_the_round_again),
        on_bowl(test_it_comes_back_to_fish_and_aspect),
        on_bowl(test_a_second_look_needs_held_fish),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
