/* What is typed ahead of a refusal never counts for something else than it was meant for: whatever
 * is refused, for whatever reason, and however the keys behind it come. Every judgement is meant
 * for one aspect of one fish: where the ledger has one it is the one that was meant, and what the
 * screen shows is what the ledger has. */
#include "keyboard.h"
#include "private.h"
#include "scene.h"
#include "senbetsu/sheet/tag_reader.h"
#include "senbetsu/store/tallies.h"

enum { ASPECTS = 11 };

/* Strips the bench's bowl of what a test before has done to it: a bowl of its own for each. */
static void open_bowl(struct bench *bench)
{
    struct small_ledger *small = &bench->small;
    struct err err;
    static int number;
    assert_ok(
        bowl_begin(small->ledger, small->round.id, ++number, 60, "2026-11-08", &small->bowl, &err),
        &err);
    app_open_sheet(&bench->app, small->bowl.id, NULL);
    bench->small.now += 5000;
}

static void close_sheet(struct bench *bench)
{
    while (bench->app.screen_count > 1)
        app_pop(&bench->app);
    bench->app.holds = bench->app.uncertain = false;
}

/* What a disk fails to write is not what these tests wait for it to sync. */
static int not_synced(struct bench *bench, int result)
{
    sqlite3_exec(bench->small.ledger->db, "PRAGMA synchronous = OFF", NULL, NULL, NULL);
    return result;
}

static int setup(void **state)
{
    int result = bench_setup_empty(state);
    struct bench *bench = *state;
    struct small_ledger *small = &bench->small;
    struct standard standard = scene_standard();
    struct spawning spawning = {.code = "26-014",
                                .season = 2026,
                                .date = "2026-06-14",
                                .variety = "Kikusui",
                                .eggs = NOT_COUNTED,
                                .hatched = NOT_COUNTED};
    enum saved saved;
    struct err err;
    assert_ok(
        standard_save(small->ledger, &standard, ORIGIN_IMPORTED, &small->standard, &saved, &err),
        &err);
    assert_ok(spawning_save(small->ledger, &spawning, 0, "", &saved, &err), &err);
    assert_ok(round_begin(small->ledger, "26-014", "", standard.stage, &small->round, &err), &err);
    bench->app.bounce_ms = BOUNCE_MS;
    return not_synced(bench, result);
}

static size_t strokes_in_ledger(struct bench *bench)
{
    struct undoable *list;
    size_t count;
    struct err err;
    assert_ok(undoable_of(bench->small.ledger, bench->small.round.id, bench->small.bowl.id, &list,
                          &count, &err),
              &err);
    free(list);
    return count;
}

/* Scores that were meant for the aspects of fish after fish, from the first aspect of the first. */
static void assert_as_meant(struct bench *bench, const char *meant, int recorded)
{
    for (int i = 0; meant[i] != '\0'; i++) {
        struct fish fish = bench_fish(bench, (size_t)(1 + i / ASPECTS));
        int score = fish.judgement.scores[i % ASPECTS];
        int expected = i < recorded ? meant[i] - '0' : SCORE_NONE;
        if (score != expected)
            fail_msg("score %d is %d, not %d, after %d of %s", i + 1, score, expected, recorded,
                     meant);
    }
}

/* What the screen asks for is what the ledger says comes next. */
static void assert_asks_for(struct bench *bench, int at)
{
    char asked[64];
    snprintf(asked, sizeof asked, "▸ %c ",
             bench->small.standard.standard.aspects[at % ASPECTS].label[0]);
    assert_shows(bench, asked);
}

static void assert_answered(struct bench *bench, enum trouble kind, const char *key)
{
    if (kind == TROUBLE_IO) { /* the first key only finds out */
        keyboard_key(bench, 1000, "9");
        keyboard_run(bench, 100);
        assert_shows(bench, "It was not recorded: press it again.");
    }
    keyboard_key(bench, 1000, key);
    keyboard_run(bench, 100);
    assert_hides(bench, "recorded");
}

static const char fourteen[] = "12345123455432";

/* The disk stalls with the key that it refuses; all that a hand types meanwhile is there when it
 * gives up. */
static void test_scores_typed_during_a_stall_do_not_shift(void **state)
{
    struct bench *bench = *state;
    for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++)
        for (int n = 1; n <= 14; n++) {
            open_bowl(bench);
            trouble_begin(bench, kind, n, 3000);
            keyboard_text(bench, 200, fourteen);
            keyboard_run(bench, 1000);
            assert_shows(bench, trouble_said[kind]);
            assert_true(trouble_end(bench));
            assert_as_meant(bench, fourteen, n - 1);
            assert_asks_for(bench, n - 1);
            char again[] = {fourteen[n - 1], '\0'};
            assert_answered(bench, kind, again);
            assert_as_meant(bench, fourteen, n);
            close_sheet(bench);
        }
}

/* The disk refuses at once, and the hand types on without looking up. */
static void test_scores_typed_on_blindly_do_not_shift(void **state)
{
    static const int paces_ms[] = {0, 30, 125, 200};
    struct bench *bench = *state;
    for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++)
        for (size_t pace = 0; pace < sizeof paces_ms / sizeof *paces_ms; pace++)
            for (int n = 1; n <= 9; n++) {
                open_bowl(bench);
                trouble_begin(bench, kind, n, 0);
                keyboard_text(bench, paces_ms[pace], "123451234");
                keyboard_run(bench, 200);
                assert_shows(bench, trouble_said[kind]);
                assert_true(trouble_end(bench));
                assert_as_meant(bench, "123451234", n - 1);
                assert_asks_for(bench, n - 1);
                close_sheet(bench);
            }
}

/* A message stays through whatever is no key: waiting, another size. */
static void test_the_message_stays_until_it_is_answered(void **state)
{
    struct bench *bench = *state;
    open_bowl(bench);
    trouble_begin(bench, TROUBLE_FULL, 1, 0);
    keyboard_text(bench, 200, "4");
    keyboard_run(bench, 60 * 1000);
    trouble_end(bench);
    assert_shows(bench, trouble_said[TROUBLE_FULL]);
    app_key(&bench->app, (struct key){KEY_NONE, 0});
    assert_shows(bench, trouble_said[TROUBLE_FULL]);
    assert_answered(bench, TROUBLE_FULL, "4");
    assert_as_meant(bench, "4", 1);
    close_sheet(bench);
}

/* A tag reader's digits score until it is known whose they are. Whichever of them is refused, none
 * is left as a score, and the fish has its tag. */
static void test_no_refusal_makes_scores_of_a_tag(void **state)
{
    static const char tag[] = "152141353123454";
    static const int paces_ms[] = {0, 4, 40, 80, 120};
    struct bench *bench = *state;
    for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++)
        for (size_t pace = 0; pace < sizeof paces_ms / sizeof *paces_ms; pace++)
            for (int n = 1; n <= 16; n++) {
                open_bowl(bench);
                trouble_begin(bench, kind, n, 0);
                keyboard_text(bench, paces_ms[pace], tag);
                keyboard_text(bench, paces_ms[pace], "\r");
                keyboard_run(bench, 30 * 1000);
                assert_true(trouble_end(bench));
                struct fish fish = bench_fish(bench, 1);
                for (int i = 0; i < ASPECTS; i++)
                    assert_int_equal(fish.judgement.scores[i], SCORE_NONE);
                assert_int_equal(bench_fish(bench, 2).look, 0);
                assert_string_equal(fish.tag, tag);
                assert_asks_for(bench, 0);
                bench_press(bench, "-");
                assert_string_equal(bench_fish(bench, 1).tag, "");
                close_sheet(bench);
            }
}

/* And one that comes behind a refused key is thrown away: it was meant for the next fish. */
static void test_a_tag_behind_a_refusal_is_nobodys(void **state)
{
    struct bench *bench = *state;
    for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++) {
        open_bowl(bench);
        trouble_begin(bench, kind, 1, 3000);
        keyboard_text(bench, 200, "s152141353123454\r");
        keyboard_run(bench, 200);
        assert_true(trouble_end(bench));
        assert_shows(bench, trouble_said[kind]);
        assert_int_equal(strokes_in_ledger(bench), 0);
        close_sheet(bench);
    }
}

/* Held down: whatever repeats within a quarter of a second does nothing, what comes later does what
 * a key held down always does; no fish behind it is closed. */
static void test_a_key_held_down_closes_no_other_fish(void **state)
{
    struct bench *bench = *state;
    for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++) {
        open_bowl(bench);
        trouble_begin(bench, kind, 1, 0);
        keyboard_text(bench, 200, "\r");
        for (int i = 0; i < 40; i++)
            keyboard_text(bench, i == 0 ? 240 : 30, "\r");
        keyboard_run(bench, 200);
        assert_true(trouble_end(bench));
        assert_int_equal(strokes_in_ledger(bench), 0);
        assert_shows(bench, trouble_said[kind]);
        close_sheet(bench);
    }
}

/* The watch for tag readers. */

/* However long the disk takes with a digit, and whichever: what a hand typed meanwhile, at five a
 * second, is fifteen scores and an Enter, and never a tag. */
static void test_what_waited_through_a_stall_is_no_tag(void **state)
{
    static const char digits[] = "152141353123454";
    struct bench *bench = *state;
    for (int stall_ms = 500; stall_ms <= 8000; stall_ms *= 2)
        for (int n = 1; n <= 15; n++) {
            open_bowl(bench);
            trouble_slow(bench, n, stall_ms);
            keyboard_text(bench, 200, digits);
            keyboard_text(bench, 200, "\r");
            keyboard_run(bench, 2000);
            assert_true(trouble_end(bench));
            assert_as_meant(bench, digits, 15);
            assert_string_equal(bench_fish(bench, 1).tag, "");
            assert_string_equal(bench_fish(bench, 2).tag, "");
            assert_true(bench_fish(bench, 2).closed); /* Enter gave the rest */
            close_sheet(bench);
        }
}

/* A program that did not run while it waited for a key, for it was stopped or the machine had other
 * things to do, finds all keys at once. */
static void test_what_waited_for_a_sleeping_program_is_no_tag(void **state)
{
    static const char digits[] = "152141353123454";
    struct bench *bench = *state;
    open_bowl(bench);
    keyboard_text(bench, 200, "4");
    keyboard_run(bench, 100);
    keyboard_sleep(bench, 5000);
    keyboard_text(bench, 200, digits + 1);
    keyboard_text(bench, 200, "\r");
    keyboard_run(bench, 2000);
    assert_as_meant(bench, "452141353123454", 15);
    assert_string_equal(bench_fish(bench, 1).tag, "");
    close_sheet(bench);
}

/* And a reader is known by the loop as it comes, at every pace and in one piece. */
static void test_a_tag_is_a_tag(void **state)
{
    static const char tag[] = "152141353123454";
    static const int paces_ms[] = {0, 1, 10, 40, 80, 120};
    struct bench *bench = *state;
    for (size_t pace = 0; pace < sizeof paces_ms / sizeof *paces_ms; pace++) {
        open_bowl(bench);
        keyboard_text(bench, 300, "1");
        keyboard_run(bench, 1000);
        keyboard_text(bench, 0, ""); /* the reader begins */
        keyboard_text(bench, paces_ms[pace], tag);
        keyboard_text(bench, paces_ms[pace], "\r");
        keyboard_run(bench, 2000);
        assert_string_equal(bench_fish(bench, 1).tag, tag);
        assert_as_meant(bench, "1", 1);
        bench_press(bench, "-");
        close_sheet(bench);
    }
}

/* Each kind of key. */

/* Rows of the screen that show where the sheet is: not the clock, nor what was said, nor the fish
 * that was closed last. */
static void place_on_screen(struct bench *bench, struct text *ret)
{
    enum { QUESTION = 9, MESSAGE = 21 };
    struct text text;
    bench_text(bench, &text);
    text_init(ret);
    int row = 0;
    for (const char *line = text.data; *line != '\0' && row < MESSAGE; row++) {
        size_t length = strcspn(line, "\n");
        if (row == 1 || row == 2 || row >= QUESTION)
            text_addf(ret, "%.*s\n", (int)length, line);
        line += length + (line[length] == '\n');
    }
    text_done(&text);
}

static void assert_as_reopened(struct bench *bench, const char *keys)
{
    struct text before, after;
    struct place place;
    struct err err;
    keyboard_key(bench, 1000, "Esc");
    keyboard_run(bench, 100);
    place_on_screen(bench, &before);
    close_sheet(bench);
    assert_ok(place_get(bench->small.ledger, bench->app.judge, &place, &err), &err);
    app_open_place(&bench->app, &place);
    place_on_screen(bench, &after);
    if (strcmp(before.data, after.data) != 0)
        fail_msg("after a refusal of %s the sheet shows\n%sand the ledger has\n%s", keys,
                 before.data, after.data);
    text_done(&before);
    text_done(&after);
}

/* What is pressed before, what the key is, and that digits behind it do nothing. */
static const struct {
    const char *before, *keys;
} kinds_of_keys[] = {
    {"", "3"},
    {"4 2", "3"},
    {"4", "Enter"},
    {"4", "="},
    {"4", "s"},
    {"4", "y"},
    {"4 y", "y"},
    {"4", "* 7"},
    {"4", "H"},
    {"4", "/ 5"},
    {"4", "+"},
    {"4", "Up"},
    {"4", "Down"},
    {"4 B", "Delete"},
    {"4 2", "-"},
    {"4 y", "u"},
    {"s", "-"},
    {"s", "p"},
    {"s s p", "n"},
    {"s s p", "g"},
    {"4", "l 1 2 3 Enter"},
    {"4", "t A 7 Enter"},
    {"t A 7 Enter s", "t A 8 Enter"},
    {"4", "m 1"},
    {"4", "m 0 f i n Enter"},
    {"4", "v 1 1"},
    {"v 2 1 p", "v 0"},
    {"s s", "# 1 Enter"},
    {"Enter p", "W 5"},
};

static void type_named(struct bench *bench, int after_ms, const char *keys)
{
    char list[128];
    char *rest = NULL;
    text_copy(list, sizeof list, keys);
    for (char *name = strtok_r(list, " ", &rest); name != NULL; name = strtok_r(NULL, " ", &rest))
        keyboard_key(bench, after_ms, name);
}

static void press_before(struct bench *bench, const char *before)
{
    open_bowl(bench);
    type_named(bench, 1000, before);
    keyboard_run(bench, 1000);
}

static int writes_of(struct bench *bench, const char *before, const char *keys)
{
    press_before(bench, before);
    trouble_slow(bench, 0, 0);
    type_named(bench, 300, keys);
    keyboard_run(bench, 100);
    trouble_end(bench);
    close_sheet(bench);
    return trouble_writes();
}

/* Digits typed ahead behind the key whose n-th write is refused are scored no more than what it
 * should have done. */
static void refuse(struct bench *bench, enum trouble kind, int n, const char *before,
                   const char *keys)
{
    press_before(bench, before);
    size_t strokes = strokes_in_ledger(bench);
    trouble_begin(bench, kind, n, 1000);
    type_named(bench, 300, keys);
    keyboard_text(bench, 50, "12345");
    keyboard_run(bench, 100);
    assert_true(trouble_end(bench));
    assert_shows(bench, trouble_said[kind]);
    if (kind == TROUBLE_IO) {
        keyboard_key(bench, 1000, "1");
        keyboard_run(bench, 100);
        assert_shows(bench, "It was not recorded: press it again.");
    }
    assert_int_equal(strokes_in_ledger(bench), strokes);
    assert_as_reopened(bench, keys);
    close_sheet(bench);
}

static void test_every_kind_of_key_is_refused_whole(void **state)
{
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof kinds_of_keys / sizeof *kinds_of_keys; i++) {
        const char *before = kinds_of_keys[i].before, *keys = kinds_of_keys[i].keys;
        int writes = writes_of(bench, before, keys);
        if (writes == 0)
            fail_msg("%s writes nothing", keys);
        for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++)
            for (int n = 1; n <= writes; n++)
                refuse(bench, kind, n, before, keys);
    }
}

/* Doubt. */

/* A ledger without a WAL may have the change after all: then the sheet is read anew. */
static void test_what_was_recorded_after_all_is_shown(void **state)
{
    struct bench *bench = *state;
    struct ledger *ledger = bench->small.ledger;
    open_bowl(bench);
    bench_press(bench, "4");
    struct fish fish = bench_fish(bench, 1);
    struct stroke stroke = {.fish = fish.id,
                            .judge = bench->app.judge,
                            .look = 1,
                            .at_ms = bench->small.now,
                            .standard = bench->small.standard.id,
                            .entry_count = 1,
                            .entries = {{.kind = ENTRY_SCORE, .what = "tube", .number = 5}}};
    struct err err;
    text_copy(stroke.entries[0].what, sizeof stroke.entries[0].what,
              bench->small.standard.standard.aspects[1].code);
    assert_int_equal(sqlite3_exec(ledger->db, "PRAGMA journal_mode = DELETE", NULL, NULL, NULL),
                     SQLITE_OK);
    assert_ok(stroke_record(ledger, &stroke, NULL, NULL, &err), &err);
    ledger->in_doubt = true;
    ledger->doubt_id = stroke.id;
    app_refuse(&bench->app, ERR_UNCERTAIN, "The disk failed.");
    assert_shows(bench, "It is not certain whether this was recorded");
    keyboard_key(bench, 1000, "5");
    keyboard_run(bench, 100);
    assert_shows(bench, "It was recorded.");
    assert_as_meant(bench, "45", 2);
    assert_shows(bench, "9 of 11 open");
    close_sheet(bench);
}

/* As long as the disk fails nobody knows, and no key is taken. */
static void test_no_key_is_taken_while_it_is_not_known(void **state)
{
    struct bench *bench = *state;
    open_bowl(bench);
    keyboard_text(bench, 300, "4");
    keyboard_run(bench, 1000);
    bench->small.ledger->in_doubt = true;
    app_refuse(&bench->app, ERR_UNCERTAIN, "The disk failed.");
    for (int i = 0; i < 3; i++) {
        trouble_begin(bench, TROUBLE_IO, 1, 0);
        keyboard_key(bench, 1000, "5");
        keyboard_run(bench, 100);
        assert_true(trouble_end(bench));
        assert_shows(bench, "It is still not certain whether the last key was recorded.");
    }
    keyboard_key(bench, 1000, "5");
    keyboard_run(bench, 100);
    assert_shows(bench, "It was not recorded: press it again.");
    assert_as_meant(bench, "45", 1);
    keyboard_key(bench, 1000, "5");
    keyboard_run(bench, 100);
    assert_as_meant(bench, "45", 2);
    close_sheet(bench);
}

/* Screens with a key a fish. */

static int setup_small(void **state)
{
    int result = bench_setup_small(state);
    return not_synced(*state, result);
}

static int64_t tallied(struct bench *bench)
{
    struct tally_line *lines;
    size_t count;
    struct err err;
    assert_ok(tally_lines(bench->small.ledger, bench->small.round.id, &lines, &count, &err), &err);
    struct tally_totals totals = tally_totals_of(lines, count);
    free(lines);
    return totals.kept.number + totals.rejected.number;
}

static int64_t looked_at(struct bench *bench)
{
    struct first_look look;
    struct err err;
    assert_ok(first_look_get(bench->small.ledger, bench->small.round.id, &look, &err), &err);
    return look.looked_at;
}

/* Nine keys, of which the n-th is refused: n - 1 count, however the others come; then one more. */
static void assert_count_kept(struct bench *bench, int64_t (*counted)(struct bench *bench),
                              const char *keys, int pace_ms, int stall_ms)
{
    for (enum trouble kind = 0; kind < TROUBLE_COUNT; kind++)
        for (int n = 1; n <= 9; n++) {
            int64_t before = counted(bench);
            trouble_begin(bench, kind, n, stall_ms);
            keyboard_text(bench, 1000, "");
            keyboard_text(bench, pace_ms, keys);
            keyboard_run(bench, 200);
            assert_true(trouble_end(bench));
            assert_shows(bench, trouble_said[kind]);
            assert_int_equal(counted(bench), before + n - 1);
            if (kind == TROUBLE_IO) {
                keyboard_key(bench, 1000, "+");
                keyboard_run(bench, 100);
                assert_shows(bench, "It was not recorded: press it again.");
                assert_int_equal(counted(bench), before + n - 1);
            }
            keyboard_key(bench, 1000, "+");
            keyboard_run(bench, 1000);
            assert_int_equal(counted(bench), before + n);
            assert_hides(bench, "ecorded");
        }
}

static void test_the_tally_counts_what_it_shows(void **state)
{
    struct bench *bench = *state;
    app_open_tally(&bench->app, bench->small.round.id, false);
    assert_count_kept(bench, tallied, "+1+20+1+0", 50, 0);
    assert_count_kept(bench, tallied, "+1+20+1+0", 200, 3000);
}

static void test_the_first_look_counts_what_it_shows(void **state)
{
    struct bench *bench = *state;
    app_open_first_look(&bench->app, bench->small.round.id);
    assert_count_kept(bench, looked_at, "+0+00+0+0", 50, 0);
    assert_count_kept(bench, looked_at, "+0+00+0+0", 200, 3000);
}

#define on_sheet(test) cmocka_unit_test_setup_teardown(test, setup, bench_teardown)
#define on_small(test) cmocka_unit_test_setup_teardown(test, setup_small, bench_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_sheet(test_scores_typed_during_a_stall_do_not_shift),
        on_sheet(test_scores_typed_on_blindly_do_not_shift),
        on_sheet(test_the_message_stays_until_it_is_answered),
        on_sheet(test_no_refusal_makes_scores_of_a_tag),
        on_sheet(test_a_tag_behind_a_refusal_is_nobodys),
        on_sheet(test_a_key_held_down_closes_no_other_fish),
        on_sheet(test_what_waited_through_a_stall_is_no_tag),
        on_sheet(test_what_waited_for_a_sleeping_program_is_no_tag),
        on_sheet(test_a_tag_is_a_tag),
        on_sheet(test_every_kind_of_key_is_refused_whole),
        on_sheet(test_what_was_recorded_after_all_is_shown),
        on_sheet(test_no_key_is_taken_while_it_is_not_known),
        on_small(test_the_tally_counts_what_it_shows),
        on_small(test_the_first_look_counts_what_it_shows),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
