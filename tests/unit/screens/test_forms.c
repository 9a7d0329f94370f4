/* The small forms: who judges, the next bowl, the fates of rejects, a number by samples, a cross.
 */
#include "bench.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/retired.h"

#include <stdlib.h>

static void test_the_judge_is_named(void **state)
{
    struct bench *bench = *state;
    app_ask_judge(&bench->app);
    assert_shows(bench, "Your name           Ines");
    bench_press(bench, "Delete F2");
    assert_shows(bench, "This is required.");
    bench_type(bench, "Aoki");
    bench_press(bench, "F2");
    assert_shows(bench, "judge: Aoki");
}

/* On a keypad there are no letters. */
static void test_a_digit_picks_a_judge(void **state)
{
    struct bench *bench = *state;
    int64_t id;
    struct err err;
    assert_ok(judge_named(bench->app.ledger, "Aoki", &id, &err), &err);
    app_ask_judge(&bench->app);
    assert_shows(bench, "A digit picks a name; Enter takes it.");
    assert_shows(bench, "2  Ines");
    bench_type(bench, "3");
    assert_shows(bench, "No name has this number");
    bench_type(bench, "1");
    assert_shows(bench, "Your name           Aoki");
    bench_press(bench, "Enter");
    assert_shows(bench, "judge: Aoki");
    assert_int_equal(bench->app.judge, id);
}

static void test_a_name_is_taken_by_its_beginning(void **state)
{
    struct bench *bench = *state;
    app_ask_judge(&bench->app);
    bench_type(bench, "i");
    assert_shows(bench, "Right takes Ines");
    bench_press(bench, "Right Enter");
    assert_shows(bench, "judge: Ines");
}

static void test_a_name_is_checked(void **state)
{
    struct bench *bench = *state;
    app_ask_judge(&bench->app);
    bench_type(bench, "a+b");
    bench_press(bench, "Enter");
    assert_shows(bench, "The name \"a+b\" contains \"+\"");
}

static void test_the_next_bowl_has_a_number_of_its_own(void **state)
{
    struct bench *bench = *state;
    app_ask_bowl(&bench->app, bench->small.round.id);
    assert_shows(bench, "Bowl number         2");
    assert_shows(bench, "Fish in it          5");
    bench_press(bench, "Up 1 F2");
    assert_shows(bench, "Bowl 1 exists already; choose it in the list.");
    bench_press(bench, "7 F2");
    assert_shows(bench, "Body line");
    bench_press(bench, "q");
}

static void test_rejects_get_their_fates(void **state)
{
    struct bench *bench = *state;
    app_open_sheet(&bench->app, bench->small.bowl.id, NULL);
    bench_press(bench, "1 1 1 1");
    bench_wait(bench);
    bench_press(bench, "q");
    app_ask_fates(&bench->app, bench->small.round.id);
    assert_shows(bench, "Where the 2 rejects went");
    bench_press(bench, "3 F2");
    assert_shows(bench, "2");
    bench_press(bench, "Delete 1 F2");
    assert_shows(bench, "seasons and spawnings");
}

/* Whoever sets places is offered cells, and told why; whoever chose keeps what he chose. */
static void test_places_suggest_cells(void **state)
{
    struct bench *bench = *state;
    app_ask_new_round(&bench->app, "K1");
    assert_shows(bench, "[basin] cell");
    bench_press(bench, "Down Down Down Down 2 0");
    assert_shows(bench, "basin [cell]");
    assert_shows(bench, "Cells, as places are set: fish that tie for the last ones can be found.");
    bench_press(bench, "Backspace Backspace");
    assert_shows(bench, "[basin] cell");
    assert_hides(bench, "Cells, as places are set");
    bench_press(bench, "2 Down Down Left");
    assert_shows(bench, "[basin] cell");
    assert_hides(bench, "Cells, as places are set");
    bench_press(bench, "Up Up 5");
    assert_shows(bench, "[basin] cell");
}

/* What a round begins with is no change of it. */
static void test_a_round_begins_without_history(void **state)
{
    struct bench *bench = *state;
    struct round round;
    struct record_change *changes;
    size_t count;
    struct err err;
    app_ask_new_round(&bench->app, "K1");
    bench_press(bench, "Down");
    bench_type(bench, "west");
    bench_press(bench, "Down Down Down 2 0 F2");
    assert_ok(round_find(bench->small.ledger, "K1", "west", STAGE_FIRST, &round, &err), &err);
    assert_int_equal(round.places, 20);
    assert_int_equal(round.waiting, WAITING_CELL);
    assert_ok(record_history(bench->small.ledger, RECORD_ROUND, round.id, &changes, &count, &err),
              &err);
    assert_int_equal(count, 0);
    free(changes);
}

/* The number stands below while it is typed; it is stated of the round when asked twice. */
static void test_fish_are_counted_by_samples(void **state)
{
    struct bench *bench = *state;
    app_ask_samples(&bench->app, bench->small.round.id);
    assert_shows(bench, "The number of fish appears here.");
    bench_press(bench, "Down");
    bench_type(bench, "36/1.5+35/1.6");
    bench_press(bench, "Down");
    bench_type(bench, "316.8");
    assert_shows(bench, "7256 fish");
    bench_press(bench, "F2");
    assert_shows(bench, "Choose whether these fish went in or were kept, or go back.");
    bench_press(bench, "Right F2");
    assert_shows(bench, "Enter again records it: 7256 fish");
    bench_press(bench, "F2");
    assert_shows(bench, "went into the round.");
}

static void test_a_number_of_no_round_is_only_shown(void **state)
{
    struct bench *bench = *state;
    app_ask_samples(&bench->app, 0);
    assert_hides(bench, "In the round");
    bench_press(bench, "Down");
    bench_type(bench, "36/x");
    assert_shows(bench, "can be typed here.");
    bench_type(bench, "1.5");
    bench_press(bench, "Down");
    bench_type(bench, "316.8");
    bench_press(bench, "F2");
    assert_shows(bench, "That is the number; nothing was recorded.");
}

/* Parents of the sex that is wanted, varieties, ponds: what the ledger has is a key away. */
static void test_words_of_the_ledger_are_completed(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_parents,
                      "parent,sex,variety\nO70,f,Plain\nO71,f,Plain\nB70,m,Plain\n");
    app_ask_spawning(&bench->app, NULL);
    bench_press(bench, "Down Down");
    bench_type(bench, "pl");
    bench_press(bench, "Right");
    assert_shows(bench, "Variety             Plain");
    bench_press(bench, "Down");
    bench_type(bench, "b");
    assert_hides(bench, "Right takes");
    bench_press(bench, "Backspace");
    bench_type(bench, "o");
    assert_shows(bench, "Right takes O70; 2 begin so");
    bench_press(bench, "Down");
    bench_type(bench, "b");
    assert_shows(bench, "Right takes B70");
    bench_press(bench, "Esc Esc");
}

static void assert_on_16_rows(struct bench *bench, const char *part)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 16, 80);
    text_init(&text);
    app_draw(&bench->app, &grid);
    grid_text(&grid, &text);
    if (strstr(text.data, part) == NULL)
        fail_msg("\"%s\" is not on\n%s", part, text.data);
    text_done(&text);
    grid_done(&grid);
}

/* A form scrolls where there are few rows; other screens ask for more. */
static void test_few_rows_are_enough_for_a_form(void **state)
{
    struct bench *bench = *state;
    app_open_home(&bench->app);
    assert_on_16_rows(bench, "Too small");
    app_ask_spawning(&bench->app, NULL);
    assert_on_16_rows(bench, " more below");
    bench_press(bench, "Shift-Tab Enter Enter Enter Enter Enter Enter Enter Enter");
    assert_on_16_rows(bench, "> Note");
    assert_on_16_rows(bench, " more above");
}

/* What is typed in people's ways is in the ledger as everything else is. */
static void test_a_spawning_is_entered_as_people_write(void **state)
{
    struct bench *bench = *state;
    struct spawning spawning;
    struct err err;
    app_ask_spawning(&bench->app, NULL);
    bench_type(bench, " K9 ");
    bench_press(bench, "Enter");
    bench_type(bench, "14/6");
    assert_shows(bench, "= 2026-06-14, Sunday");
    bench_press(bench, "Enter");
    bench_type(bench, "Plain ");
    bench_press(bench, "Enter Enter Enter Enter");
    bench_type(bench, "0.3M");
    assert_shows(bench, "= 300 000");
    bench_press(bench, "Enter");
    bench_type(bench, "120.000");
    bench_press(bench, "F2");
    assert_shows(bench, "Spawning K9 is in the ledger.");
    assert_ok(spawning_get(bench->app.ledger, "K9", &spawning, &err), &err);
    assert_string_equal(spawning.date, "2026-06-14");
    assert_int_equal(spawning.season, 2026);
    assert_string_equal(spawning.variety, "Plain");
    assert_int_equal(spawning.eggs, 300000);
    assert_int_equal(spawning.hatched, 120000);
}

static void test_lines_are_checked(void **state)
{
    (void)state;
    struct err err;
    assert_true(check_code("K7", &err));
    assert_says(check_code("K7;K8", &err), &err, "The code");
    assert_true(check_codes("P2;P3", &err));
    assert_says(check_codes("P2;a+b", &err), &err, "A code");
    assert_says(check_codes("1;2;3;4;5;6;7;8;9", &err), &err, "At most 8 codes");
}

#define on_bench(test) cmocka_unit_test_setup_teardown(test, bench_setup_small, bench_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_lines_are_checked),
        on_bench(test_words_of_the_ledger_are_completed),
        on_bench(test_a_spawning_is_entered_as_people_write),
        on_bench(test_few_rows_are_enough_for_a_form),
        on_bench(test_the_judge_is_named),
        on_bench(test_a_digit_picks_a_judge),
        on_bench(test_a_name_is_taken_by_its_beginning),
        on_bench(test_a_name_is_checked),
        on_bench(test_the_next_bowl_has_a_number_of_its_own),
        on_bench(test_rejects_get_their_fates),
        on_bench(test_fish_are_counted_by_samples),
        on_bench(test_places_suggest_cells),
        on_bench(test_a_round_begins_without_history),
        on_bench(test_a_number_of_no_round_is_only_shown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
