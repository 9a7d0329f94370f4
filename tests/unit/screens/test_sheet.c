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

/* A fish of the bowl as the ledger has it; empty where it is not in it. */
static struct fish fish_in_ledger(struct bench *bench, size_t number)
{
    struct fish *list, fish;
    size_t count;
    struct err err;
    fish_init(&fish, 0, 0, 0, 0);
    assert_ok(fish_of_bowl(bench->small.ledger, bench->small.bowl.id,
                           &bench->small.standard.standard, &list, &count, &err),
              &err);
    if (number <= count)
        fish = list[number - 1];
    free(list);
    return fish;
}

static void assert_score(struct bench *bench, int aspect, int score)
{
    assert_int_equal(fish_in_ledger(bench, 1).judgement.scores[aspect], score);
}

static void assert_no_scores(struct bench *bench)
{
    struct fish fish = fish_in_ledger(bench, 1);
    for (int i = 0; i < bench->small.standard.standard.aspect_count; i++)
        assert_int_equal(fish.judgement.scores[i], SCORE_NONE);
    assert_false(fish.closed);
}

static void assert_tag(struct bench *bench, const char *tag)
{
    assert_string_equal(fish_in_ledger(bench, 1).tag, tag);
}

/* Keys with a second between them and after the last. */
static void press(struct bench *bench, const char *keys)
{
    bench_press(bench, keys);
    bench_wait(bench);
}

/* Keys this many milliseconds after one another; '\r' is Enter. */
static void burst(struct bench *bench, const char *keys, int gap_ms)
{
    for (; *keys != '\0'; keys++) {
        bench->small.now += gap_ms;
        app_key(&bench->app, *keys == '\r' ? (struct key){KEY_RETURN, 0}
                                           : (struct key){KEY_CHARACTER, (uint32_t)*keys});
    }
}

/* The tag reader. */

static void test_a_typed_digit_scores(void **state)
{
    struct bench *bench = *state;
    burst(bench, "4", 0);
    assert_no_scores(bench);
    assert_int_equal(app_wait_ms(&bench->app), READER_GAP_MS);
    bench_wait(bench);
    assert_score(bench, 0, 4);
    assert_true(app_wait_ms(&bench->app) > READER_GAP_MS);
    press(bench, "5 2");
    assert_score(bench, 1, 5);
    assert_score(bench, 2, 2);
}

/* Two keys so close that the first is still held keep their order. */
static void test_fast_fingers_lose_nothing(void **state)
{
    struct bench *bench = *state;
    burst(bench, "4y5\r", 0);
    bench_wait(bench);
    struct fish fish = fish_in_ledger(bench, 1);
    assert_int_equal(fish.judgement.scores[0], 4);
    assert_int_equal(fish.judgement.scores[1], 5);
    assert_int_equal(fish.judgement.faults, 1u << 6);
    assert_true(fish.closed);
}

/* Two digits typed as one burst are two scores. */
static void test_two_fast_digits_are_two_scores(void **state)
{
    struct bench *bench = *state;
    burst(bench, "45", 2);
    bench_wait(bench);
    assert_score(bench, 0, 4);
    assert_score(bench, 1, 5);
    assert_shows(bench, "9 of 11 open");
}

static void test_a_reader_fills_the_tag(void **state)
{
    struct bench *bench = *state;
    burst(bench, "392141000123456\r", 2);
    assert_tag(bench, "392141000123456");
    assert_no_scores(bench);
    assert_shows(bench, "tag 392141000123456");
    assert_shows(bench, "11 of 11 open");
}

/* As slow as a reader may be, and one step slower. */
static void test_the_pace_of_a_reader(void **state)
{
    struct bench *bench = *state;
    burst(bench, "392141000123456\r", READER_GAP_MS - 1);
    assert_tag(bench, "392141000123456");
    assert_no_scores(bench);
    burst(bench, "45", READER_GAP_MS);
    bench_wait(bench);
    assert_score(bench, 0, 4);
    assert_score(bench, 1, 5);
}

static void test_a_reader_after_fingers(void **state)
{
    struct bench *bench = *state;
    press(bench, "4");
    burst(bench, "5", 1000);
    bench->small.now += READER_GAP_MS;
    burst(bench, "392141000123456\r", 2);
    assert_score(bench, 0, 4);
    assert_score(bench, 1, 5);
    assert_score(bench, 2, SCORE_NONE);
    assert_tag(bench, "392141000123456");
}

/* Not a digit of it becomes a score, and the sentence stays until the next key. */
static void test_a_garbled_reading(void **state)
{
    struct bench *bench = *state;
    burst(bench, "39214100012\r", 2);
    assert_no_scores(bench);
    assert_tag(bench, "");
    assert_shows(bench, "sent 11 digits");
    press(bench, "4");
    assert_score(bench, 0, 4);
    assert_hides(bench, "sent 11 digits");
}

static void test_a_reader_that_ends_late(void **state)
{
    struct bench *bench = *state;
    burst(bench, "392141000123456", 2);
    assert_int_equal(app_wait_ms(&bench->app), READER_LATE_MS);
    burst(bench, "\r", 2 * READER_GAP_MS);
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
        assert_int_equal(fish_in_ledger(bench, 1).length_mm, 0);
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

/* Keys. */

/* An obvious reject: 1 key. A good average fish: 1. An average one with one exception: 3. */
static void test_few_keys_a_fish(void **state)
{
    struct bench *bench = *state;
    press(bench, "s");
    assert_true(fish_in_ledger(bench, 1).closed);
    assert_int_equal(fish_in_ledger(bench, 1).sent, VERDICT_REJECT);
    press(bench, "Enter");
    assert_true(fish_in_ledger(bench, 2).closed);
    press(bench, "P 2 Enter");
    assert_true(fish_in_ledger(bench, 3).closed);
    assert_int_equal(fish_in_ledger(bench, 3).judgement.scores[3], 2);
}

static void test_the_keypad_alone(void **state)
{
    struct bench *bench = *state;
    press(bench, "* 1");
    assert_int_equal(fish_in_ledger(bench, 1).sent, VERDICT_REJECT);
    press(bench, "/ 4 2 Enter");
    assert_int_equal(fish_in_ledger(bench, 2).judgement.scores[3], 2);
    assert_true(fish_in_ledger(bench, 2).closed);
    press(bench, ". 4 1 3 2 Enter");
    assert_int_equal(fish_in_ledger(bench, 3).length_mm, 132);
    press(bench, ". 7 1 3");
    assert_int_equal(fish_in_ledger(bench, 3).judgement.by_hand, VERDICT_KEEP);
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
        assert_true((fish_in_ledger(bench, 1).judgement.faults >> i & 1) != 0);
        press(bench, "-");
    }
}

static void assert_picks(struct bench *bench, const char *keys, int fault)
{
    press(bench, keys);
    assert_int_equal(fish_in_ledger(bench, 1).judgement.faults, 1u << fault);
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
    assert_int_equal(fish_in_ledger(bench, 1).judgement.faults, 0);
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
    assert_absent(bench, "#", "# does nothing here; ? shows the keys.", true);
    assert_absent(bench, "Esc", "This key does nothing here; ? shows the keys.", false);
    assert_absent(bench, "9", "9 is not a score here; scores go from 1 to 5.", true);
    press(bench, "*");
    assert_absent(bench, "+", "No fault has the number + here.", true);
    assert_absent(bench, "z", "z does nothing here; - goes back.", true);
    press(bench, "- /");
    assert_absent(bench, "+", "No aspect has the number + here.", true);
    press(bench, "- .");
    assert_absent(bench, "+", "+ does nothing here; - goes back.", true);
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
        on_bowl(test_a_typed_digit_scores),
        on_bowl(test_fast_fingers_lose_nothing),
        on_bowl(test_two_fast_digits_are_two_scores),
        on_bowl(test_a_reader_fills_the_tag),
        on_bowl(test_the_pace_of_a_reader),
        on_bowl(test_a_reader_after_fingers),
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
