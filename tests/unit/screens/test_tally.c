/* The tally by its keys, on a ledger in a folder; and its screen as text, which tests/data/views
 * holds for each state. */
#include "bench.h"
#include "senbetsu/store/tallies.h"
#include "sheet_view.h"
#include "support/fake_tally.h"
#include "support/source.h"
#include "tally_view.h"

static int open_tally(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    app_open_tally(&bench->app, bench->small.round.id, false);
    return result;
}

/* As many faults as a standard may have. */
static int open_tally_of_many(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    struct standard standard = bench->small.standard.standard;
    enum saved saved;
    struct err err;
    standard.fault_count = STANDARD_FAULTS;
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        struct fault *fault = &standard.faults[i];
        *fault = (struct fault){.effect = EFFECT_REJECT};
        snprintf(fault->code, sizeof fault->code, "fault%d", i + 1);
        snprintf(fault->label, sizeof fault->label, "Fault %d", i + 1);
    }
    assert_ok(standard_save(bench->small.ledger, &standard, ORIGIN_IMPORTED, &bench->small.standard,
                            &saved, &err),
              &err);
    app_open_tally(&bench->app, bench->small.round.id, false);
    return result;
}

/* What the ledger holds. */
static struct tally_totals totals(struct bench *bench)
{
    struct tally_line *lines;
    size_t count;
    struct err err;
    assert_ok(tally_lines(bench->small.ledger, bench->small.round.id, &lines, &count, &err), &err);
    struct tally_totals totals = tally_totals_of(lines, count);
    free(lines);
    return totals;
}

static void assert_last_reason(struct bench *bench, const char *reason)
{
    struct tally_mark last;
    struct err err;
    assert_ok(tally_last(bench->small.ledger, bench->small.round.id, bench->app.judge, &last, &err),
              &err);
    assert_string_equal(last.reason, reason);
}

static void assert_refused(struct bench *bench, const char *key, const char *sentence)
{
    bench_press(bench, key);
    assert_true(bench->app.alert);
    assert_shows(bench, sentence);
}

static void test_letters_and_digits_name_reasons(void **state)
{
    struct bench *bench = *state;
    struct letters letters = letters_assign(&bench->small.standard.standard);
    const char letter[] = {letters.faults[1], '\0'};
    bench_press(bench, "1");
    assert_last_reason(bench, "spine");
    bench_press(bench, letter);
    assert_last_reason(bench, "eye");
    bench_press(bench, "0 n");
    assert_last_reason(bench, "");
    bench_press(bench, "+ Enter Space m");
    assert_int_equal(totals(bench).rejected.number, 4);
    assert_int_equal(totals(bench).kept.number, 3);
    assert_int_equal(totals(bench).dead.number, 1);
    assert_refused(bench, "4", "There is no reason with this number.");
    assert_refused(bench, "V", "V does nothing here; ? shows the keys.");
}

/* Everything with the keys of a number pad. */
static void test_the_keypad_suffices(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "* 4 8 + 5 2 + 5");
    assert_shows(bench, "fish in each scoop: 48+52+5_");
    bench_press(bench, "- 5 0 Enter");
    assert_shows(bench, "a key is a SCOOP");
    bench_press(bench, "+ 0 * + 1 - . 1");
    assert_int_equal(totals(bench).kept.number, 51);
    assert_int_equal(totals(bench).rejected.number, 50);
    assert_int_equal(totals(bench).dead.number, 1);
    bench_press(bench, ". 2");
    assert_shows(bench, "fish in each scoop: _");
    bench_press(bench, "-");
    assert_hides(bench, "fish in each scoop");
    bench_press(bench, ". 9");
    assert_shows(bench, "Keys: Everything else of the tally by number");
    bench_press(bench, "5 -");
    assert_hides(bench, "Keys:");
    assert_int_equal(totals(bench).rejected.number, 50);
    bench_press(bench, "?");
    assert_shows(bench, "leave the tally");
    bench_press(bench, "5 . 0");
    assert_hides(bench, "a key is a");
}

/* They open over the tally, which stays as it was. */
static void test_other_screens_open_over_it(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "g");
    assert_shows(bench, "first look, before the first cull");
    bench_press(bench, "q +");
    assert_int_equal(totals(bench).kept.number, 1);
    bench_press(bench, ". 3");
    assert_shows(bench, "first look, before the first cull");
    bench_press(bench, "q t");
    assert_hides(bench, "a key is a FISH");
    bench_press(bench, "Esc . 4");
    assert_hides(bench, "a key is a FISH");
    bench_press(bench, "Esc");
    assert_shows(bench, "a key is a FISH");
    assert_int_equal(totals(bench).kept.number, 1);
}

static void test_further_reasons_by_page(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "/ 1");
    assert_last_reason(bench, "fault10");
    bench_press(bench, "/ 0");
    assert_last_reason(bench, "fault19");
    bench_press(bench, "/ / 7");
    assert_last_reason(bench, "fault26");
    bench_press(bench, "/ / / 2");
    assert_last_reason(bench, "fault11");
    bench_press(bench, "1");
    assert_last_reason(bench, "fault1");
}

/* By number and at the fish: what does nothing says so, and nothing is recorded. */
static void test_a_wrong_key_is_named(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, ".");
    assert_refused(bench, "7", "7 does nothing here; 9 shows the keys.");
    bench_press(bench, "1");
    assert_int_equal(totals(bench).dead.number, 1); /* it was still the menu */
    bench_press(bench, "-");
    assert_refused(bench, "Z", "Z does nothing here; ? shows the keys.");
    assert_int_equal(totals(bench).in.number, 0);
}

static void test_waiting_looks_into_the_ledger(void **state)
{
    struct bench *bench = *state;
    const struct tally_mark mark = {.kind = TALLY_KEEP};
    int64_t other;
    struct err err;
    assert_shows(bench, "tallied    0");
    assert_ok(judge_named(bench->small.ledger, "Ryo", &other, &err), &err);
    struct place place = {.judge = other, .round_id = bench->small.round.id};
    assert_ok(tally_record(bench->small.ledger, bench->small.round.id, other, &mark, &place, &err),
              &err);
    bench_wait(bench);
    assert_shows(bench, "tallied    1");
}

static void test_the_title_names_manner_and_judge(void **state)
{
    struct bench *bench = *state;
    assert_shows(bench, "K1 · Plain · first · ");
    assert_shows(bench, "Ines · ");
}

/* What it looks like. */

/* As tests/data/views/tally-NAME-80x24.txt has it, without the footer (test_key_tables.c). */
static void look_at(const struct fake_tally *fake, int page, int rows, int columns,
                    const char *name)
{
    const struct letters letters = letters_assign(&fake->sheet.standard);
    char title[128];
    snprintf(title, sizeof title, "K26-1 · Kikusui · second · %s",
             manner_terms[fake->sheet.manner].word);
    const struct tally_view view = {.sheet = &fake->sheet,
                                    .letters = &letters,
                                    .page = page,
                                    .title = title,
                                    .judge = "Ines",
                                    .keys = &tally_keys};
    struct grid grid;
    struct text text;
    char path[128];
    grid_init(&grid, rows, columns);
    text_init(&text);
    tally_view_draw(&grid, &view);
    grid.rows -= (FRAME_FOOT_ROWS - 1);
    grid_text(&grid, &text);
    snprintf(path, sizeof path, "tests/data/views/tally-%s-%dx%d.txt", name, columns, rows);
    assert_as_in_source(path, text.data);
    text_done(&text);
    grid_done(&grid);
}

static void look(const struct fake_tally *fake, const char *name)
{
    look_at(fake, 0, 24, 80, name);
}

static void repeat(struct fake_tally *fake, enum tally_command_kind kind, int number, int times)
{
    for (int i = 0; i < times; i++)
        fake_tally_do(fake, kind, number);
}

static void measure(struct fake_tally *fake, const char *line)
{
    repeat(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE, 1);
    for (; *line != '\0'; line++)
        repeat(fake, TALLY_DO_TYPE, *line, 1);
    repeat(fake, TALLY_DO_ACCEPT, 0, 1);
}

static void test_a_fresh_tally(void **state)
{
    struct fake_tally *fake = *state;
    look(fake, "fresh");
}

/* 43 picked one by one out of 2400 weighed fish, and scoops of the rest put away. */
static void test_a_tally_under_way(void **state)
{
    struct fake_tally *fake = *state;
    fake->lot = (struct count){2400, METHOD_WEIGHED, 40000};
    repeat(fake, TALLY_DO_REFRESH, 0, 1);
    repeat(fake, TALLY_DO_KEEP, 0, 43);
    repeat(fake, TALLY_DO_REJECT, 0, 12);
    repeat(fake, TALLY_DO_DEAD, 0, 3);
    measure(fake, "48+52+50");
    repeat(fake, TALLY_DO_REJECT, -1, 9);
    repeat(fake, TALLY_DO_REJECT, 1, 1);
    look(fake, "middle");
    look_at(fake, 0, 40, 120, "middle");
}

/* The rest of a weighed lot has that lot's error. */
static void test_the_rest_of_the_lot(void **state)
{
    struct fake_tally *fake = *state;
    fake->lot = (struct count){2400, METHOD_WEIGHED, 40000};
    repeat(fake, TALLY_DO_REFRESH, 0, 1);
    repeat(fake, TALLY_DO_KEEP, 0, 43);
    look(fake, "rest");
}

/* Nobody stated the number of the lot. */
static void test_the_number_by_the_book(void **state)
{
    struct fake_tally *fake = *state;
    fake->by_book = (struct count){1940, METHOD_ESTIMATED, 0};
    fake_tally_reopen(fake);
    repeat(fake, TALLY_DO_KEEP, 0, 7);
    repeat(fake, TALLY_DO_REJECT, 0, 12);
    look(fake, "book");
}

static void test_largest_numbers(void **state)
{
    struct fake_tally *fake = *state;
    fake->sheet.manner = MANNER_REMOVE;
    measure(fake, "50000");
    repeat(fake, TALLY_DO_KEEP, 0, 3);
    repeat(fake, TALLY_DO_REJECT, 2, 25);
    look(fake, "large");
}

static void test_the_screen_in_other_modes(void **state)
{
    struct fake_tally *fake = *state;
    repeat(fake, TALLY_DO_KEEP, 0, 2);
    repeat(fake, TALLY_DO_ENTER_MODE, TALLY_MENU, 1);
    look(fake, "menu");
    repeat(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE, 1);
    repeat(fake, TALLY_DO_TYPE, '4', 1);
    repeat(fake, TALLY_DO_TYPE, '8', 1);
    repeat(fake, TALLY_DO_TYPE, '+', 1);
    look(fake, "size");
}

/* As many reasons as a standard may have: all are shown, and the further ones have their digits. */
static void test_every_reason(void **state)
{
    struct fake_tally *fake = *state;
    struct standard *standard = &fake->sheet.standard;
    standard->fault_count = STANDARD_FAULTS;
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        snprintf(standard->faults[i].code, sizeof standard->faults[i].code, "fault%d", i + 1);
        snprintf(standard->faults[i].label, sizeof standard->faults[i].label, "Fault %d (ketten)",
                 i + 1);
    }
    repeat(fake, TALLY_DO_REJECT, STANDARD_FAULTS - 1, 4);
    look(fake, "reasons");
    repeat(fake, TALLY_DO_ENTER_MODE, TALLY_FURTHER, 1);
    look_at(fake, 1, 24, 80, "further");
}

#define on_tally(test) cmocka_unit_test_setup_teardown(test, open_tally, bench_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_tally(test_letters_and_digits_name_reasons),
        on_tally(test_the_keypad_suffices),
        on_tally(test_other_screens_open_over_it),
        cmocka_unit_test_setup_teardown(test_further_reasons_by_page, open_tally_of_many,
                                        bench_teardown),
        on_tally(test_a_wrong_key_is_named),
        on_tally(test_waiting_looks_into_the_ledger),
        on_tally(test_the_title_names_manner_and_judge),
        on_fake_tally(test_a_fresh_tally),
        on_fake_tally(test_a_tally_under_way),
        on_fake_tally(test_the_rest_of_the_lot),
        on_fake_tally(test_the_number_by_the_book),
        on_fake_tally(test_largest_numbers),
        on_fake_tally(test_the_screen_in_other_modes),
        on_fake_tally(test_every_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
