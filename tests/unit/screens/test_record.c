#include "bench.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/print/day.h"
#include "senbetsu/print/due.h"
#include "senbetsu/print/pairs.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/print/season.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/parents.h"

/* Two spawnings of one pair, a picked round, a round of three judged fish in two bowls. */
static int setup(void **state)
{
    int result = bench_setup_small(state);
    struct bench *bench = *state;
    bench_import_text(bench, import_parents, "parent,sex,variety\nD1,f,Plain\nS1,m,Plain\n");
    bench_import_text(bench, import_spawnings,
                      "spawning,season,date,variety,dam,sires,eggs,hatched\n"
                      "K1,2026,2026-06-14,Plain,D1,S1,200000,120000\n"
                      "K2,2026,2026-06-20,Plain,D1,S1,200000,120000\n");
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK2,,first,2026-08-01,pick,900,90\n");
    bench_import_text(bench, import_lots,
                      "spawning,lot,date,event,number,how\nK1,,2026-08-01,count,1000,counted\n");
    bench_import_text(bench, import_fish,
                      "spawning,lot,stage,bowl,fish,judge,date,body,white\n"
                      "K1,,first,1,1,Ines,2026-11-08,5,5\nK1,,first,1,2,Ines,2026-11-08,3,3\n"
                      "K1,,first,2,1,Ines,2026-11-08,4,5\n");
    return result;
}

/* All that the ledger says, on paper and on screen. */

static void add_screen(struct bench *bench, struct text *out)
{
    struct text text;
    bench_text(bench, &text);
    text_add(out, text.data);
    text_done(&text);
    app_pop(&bench->app);
}

static void add_screens(struct bench *bench, struct text *out)
{
    struct app *app = &bench->app;
    app_say(app, "%s", "");
    app_open_home(app);
    add_screen(bench, out);
    app_open_spawning(app, "K1");
    add_screen(bench, out);
    app_open_lots(app, "K1");
    add_screen(bench, out);
    app_open_round(app, bench->small.round.id);
    add_screen(bench, out);
    app_open_rates(app, 2026);
    add_screen(bench, out);
    app_open_pairs(app);
    add_screen(bench, out);
}

static void add_pages(struct ledger *ledger, struct text *out)
{
    struct page_setup page = page_default();
    struct day_sheet day;
    struct due_list due;
    struct rates rates;
    struct pairs_table pairs;
    struct season_book season;
    struct cull_list list;
    struct err err;
    assert_ok(day_sheet_make(ledger, "2026-11-08", &day, &err), &err);
    day_sheet_print(&day, page, out);
    day_sheet_done(&day);
    assert_ok(due_list_make(ledger, "2026-11-08", 300, NULL, &due, &err), &err);
    due_list_print(&due, page, out);
    free(due.dues);
    assert_ok(rates_make(ledger, BY_SPAWNING, -1, NULL, &rates, &err), &err);
    rates_csv(BY_SPAWNING, rates.rows, rates.count, out);
    rates_done(&rates);
    assert_ok(pairs_make(ledger, -1, NULL, 0, NULL, &pairs, &err), &err);
    pairs_csv(&pairs, out);
    pairs_done(&pairs);
    assert_ok(season_book_make(ledger, 2026, NULL, &season, &err), &err);
    season_book_print(&season, page, out);
    season_book_done(&season);
    if (cull_list_of_day(ledger, "2026-11-08", &list, &err)) {
        cull_list_print(&list, page, out);
        cull_list_done(&list);
    }
}

static void add_exports(struct ledger *ledger, struct text *out)
{
    const struct export_filter all = {NULL, NULL, -1};
    struct err err;
    assert_ok(export_parents(ledger, out, &err) && export_spawnings(ledger, out, &err) &&
                  export_rounds(ledger, out, &err) && export_lots(ledger, out, &err),
              &err);
    assert_true(export_fish(ledger, &all, out, &err) || err.code == ERR_ABSENT);
}

/* At noon, for pages say when they were printed. */
static struct text everything(struct bench *bench)
{
    struct text out;
    int64_t now = bench->small.now;
    bench->small.now = now - now % DAY_MS + DAY_MS / 2;
    text_init(&out);
    add_screens(bench, &out);
    add_pages(bench->small.ledger, &out);
    add_exports(bench->small.ledger, &out);
    bench->small.now = now;
    return out;
}

/* Fails with the lines from the first difference on. */
static void assert_same(const char *is, const char *was)
{
    const char *line = is;
    while (*is != '\0' && *is == *was) {
        line = *is == '\n' ? is + 1 : line;
        is++, was++;
    }
    if (*is != *was)
        fail_msg("%.200s\ninstead of …%.200s", line, was);
}

/* A wrong record of a kind. */

static int64_t wrong_parent(struct bench *bench)
{
    struct parent parent = {.id = 0};
    struct err err;
    bench_import_text(bench, import_parents, "parent,sex,variety\nS9,m,Plain\n");
    assert_ok(parent_get(bench->small.ledger, "S9", &parent, &err), &err);
    return parent.id;
}

static int64_t wrong_spawning(struct bench *bench)
{
    struct spawning spawning = {.id = 0};
    struct err err;
    bench_import_text(bench, import_spawnings,
                      "spawning,season,date,variety,dam,sires,hatched\n"
                      "K9,2026,2026-06-22,Plain,D1,S1,5000\n");
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept,put_down\n"
                      "K9,,first,2026-08-02,pick,700,70,600\nK9,,second,2026-11-08,pick,70,7,1\n");
    bench_import_text(bench, import_lots,
                      "spawning,lot,date,event,number,how\nK9,,2026-11-08,dead,3,counted\n");
    assert_ok(spawning_get(bench->small.ledger, "K9", &spawning, &err), &err);
    return spawning.id;
}

static int64_t wrong_lot(struct bench *bench)
{
    int64_t lot = 0;
    struct err err;
    bench_import_text(bench, import_lots,
                      "spawning,lot,date,event,number,how,into_spawning,into_lot\n"
                      "K1,,2026-08-02,transfer,400,counted,K1,west\n");
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK1,west,first,2026-09-01,pick,400,"
                      "30\n");
    assert_ok(lot_begin(bench->small.ledger, "K1", "west", &lot, &err), &err);
    return lot;
}

static int64_t wrong_round(struct bench *bench)
{
    struct round round = {.id = 0};
    struct err err;
    bench_import_text(
        bench, import_rounds,
        "spawning,lot,stage,date,manner,in,kept\nK1,,second,2026-11-08,remove,90,40\n");
    assert_ok(round_find(bench->small.ledger, "K1", "", STAGE_SECOND, &round, &err), &err);
    return round.id;
}

static int64_t wrong_bowl(struct bench *bench)
{
    struct bowl bowl = {.id = 0};
    struct err err;
    bench_import_text(bench, import_fish,
                      "spawning,lot,stage,bowl,fish,judge,date,body,white\n"
                      "K1,,first,3,1,Ines,2026-11-08,5,4\nK1,,first,3,2,Ines,2026-11-08,1,3\n");
    assert_ok(
        bowl_begin(bench->small.ledger, bench->small.round.id, 3, 0, "2026-11-08", &bowl, &err),
        &err);
    return bowl.id;
}

static int64_t wrong_judge(struct bench *bench)
{
    int64_t id = 0;
    struct err err;
    assert_ok(judge_named(bench->small.ledger, "Inse", &id, &err), &err);
    return id;
}

static const struct {
    enum record_kind kind;
    int64_t (*add)(struct bench *bench);
    const char *title;
    bool silent; /* nothing but the list of names has it */
} wrongs[] = {
    {RECORD_PARENT, wrong_parent, "parent S9", false},
    {RECORD_SPAWNING, wrong_spawning, "spawning K9 of 2026", false},
    {RECORD_LOT, wrong_lot, "lot west of K1", false},
    {RECORD_ROUND, wrong_round, "second cull of K1", false},
    {RECORD_BOWL, wrong_bowl, "bowl 3, first cull of K1", false},
    {RECORD_JUDGE, wrong_judge, "judge Inse", true},
};

/* Retired by hand it is as if it had never been there; one key brings it back. */
static void test_what_is_retired_never_was(void **state)
{
    struct bench *bench = *state;
    for (size_t i = 0; i < sizeof wrongs / sizeof wrongs[0]; i++) {
        struct text before = everything(bench);
        int64_t id = wrongs[i].add(bench);
        struct text with = everything(bench);
        assert_int_equal(strcmp(before.data, with.data) == 0, wrongs[i].silent);
        app_open_record(&bench->app, wrongs[i].kind, id);
        assert_shows(bench, wrongs[i].title);
        bench_press(bench, "-");
        bench_type(bench, "slip");
        bench_press(bench, "F2");
        assert_shows(bench, "bring it back");
        assert_shows(bench, "Ines  retired (slip)");
        bench_press(bench, "Enter"); /* one too many on the form */
        assert_shows(bench, "This is history");
        bench_press(bench, "q");
        struct text after = everything(bench);
        assert_same(after.data, before.data);
        app_open_records(&bench->app);
        bench_press(bench, "Home Down"); /* below the one judge, the latest */
        assert_shows(bench, wrongs[i].title);
        bench_press(bench, "+");
        assert_shows(bench, "Back again: ");
        bench_press(bench, "q");
        struct text again = everything(bench);
        assert_same(again.data, with.data);
        app_open_record(&bench->app, wrongs[i].kind, id);
        assert_shows(bench, "brought back");
        assert_shows(bench, "retired (slip)");
        bench_press(bench, "- F2 q");
        text_done(&before);
        text_done(&with);
        text_done(&after);
        text_done(&again);
    }
}

static void test_a_bowl_is_put_right(void **state)
{
    struct bench *bench = *state;
    app_open_round(&bench->app, bench->small.round.id);
    bench_press(bench, "Home e");
    assert_shows(bench, "bowl 1, first cull of K1");
    bench_press(bench, "Enter");
    bench_type(bench, "2");
    bench_press(bench, "F2");
    assert_shows(bench, "Bowl 2 is there already");
    bench_type(bench, "7");
    bench_press(bench, "F2");
    assert_shows(bench, "bowl 7, first cull of K1");
    assert_shows(bench, "number: 1 → 7");
    bench_press(bench, "Down Enter");
    bench_type(bench, "2-9");
    bench_press(bench, "F2");
    assert_shows(bench, "There is no fish 3 in bowl 7.");
    bench_press(bench, "Backspace Backspace F2");
    assert_shows(bench, "Fish 2 is fish 2 of bowl 2 now.");
    assert_shows(bench, "fish: 2 → moved into bowl 2");
    bench_press(bench, "Home Down Down Enter F2");
    assert_shows(bench, "Its fish are in bowl 2; the empty bowl is retired.");
    bench_press(bench, "q");
    assert_shows(bench, "bowl 2");
    assert_hides(bench, "bowl 7");
    assert_shows(bench, "whole round   KKKKKKKKKKKKKRRRRRRR  3 ");
}

static void test_a_round_is_put_right(void **state)
{
    struct bench *bench = *state;
    bench_import_text(bench, import_rounds,
                      "spawning,lot,stage,date,manner,in,kept\nK1,,second,2026-08-09,pick,90,40\n");
    app_open_spawning(&bench->app, "K1");
    bench_press(bench, "Home Down e Enter");
    assert_shows(bench, "Change this round");
    bench_press(bench, "Up Up Up Left F2");
    assert_shows(bench, "another first cull");
    bench_press(bench, "Right Right F2");
    assert_shows(bench, "third cull of K1");
    assert_shows(bench, "stage: second → third");
    bench_press(bench, "Home Down Enter");
    bench_type(bench, "95");
    bench_press(bench, "F2");
    assert_shows(bench, "stated: in 95");
    bench_press(bench, "- F2");
    assert_shows(bench, "retired");
    bench_press(bench, "q");
    assert_hides(bench, "third");
}

/* Whoever looks at it is led back to where it was. */
static void test_a_screen_of_what_is_retired_gives_way(void **state)
{
    struct bench *bench = *state;
    struct err err;
    app_open_spawning(&bench->app, "K1");
    app_open_round(&bench->app, bench->small.round.id);
    assert_ok(record_retire(bench->small.ledger, RECORD_ROUND, bench->small.round.id, 0, "", &err),
              &err);
    bench_wait(bench);
    assert_shows(bench, "+ begin a round");
    assert_shows(bench, "The round is retired.");
    assert_false(bench->app.alert);
}

static void test_a_spawning_is_renamed(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Home");
    app_open_spawning(&bench->app, "K1");
    bench_press(bench, "q *");
    bench_type(bench, "K2");
    bench_press(bench, "F2");
    assert_shows(bench, "already used");
    bench_press(bench, "Backspace");
    bench_type(bench, "7");
    bench_press(bench, "F2");
    assert_shows(bench, "K7");
}

/* A line below the one that says how many eggs there were. */
static void test_what_cannot_be_is_said_at_its_line(void **state)
{
    struct bench *bench = *state;
    bench_press(bench, "Home * Down Down Down Down Down Down Down");
    bench_type(bench, "200001");
    assert_shows(bench, "> Hatched");
    bench_press(bench, "F2");
    assert_shows(bench, "Of 200000 eggs not more can have hatched.");
    bench_type(bench, "90000");
    bench_press(bench, "F2");
    assert_shows(bench, "Spawning K1 is in the ledger.");
}

static void test_an_event_of_a_lot_is_put_right(void **state)
{
    struct bench *bench = *state;
    app_open_lots(&bench->app, "K1");
    bench_press(bench, "e Down Down");
    assert_shows(bench, "> 2026-08-01 in all 1000 counted");
    bench_press(bench, "Enter Down");
    bench_type(bench, "1100");
    bench_press(bench, "F2");
    assert_shows(bench, "Put right.");
    assert_shows(bench, "2026-08-01 in all 1100 counted");
    bench_press(bench, "/");
    assert_shows(bench, "/ again undoes");
    bench_press(bench, "/");
    assert_shows(bench, "The event is undone.");
    assert_hides(bench, "1100");
    bench_press(bench, "q /");
    assert_shows(bench, "undone: 2026-08-01 in all 1000 counted");
    assert_shows(bench, "undone: 2026-08-01 in all 1100 counted");
}

static void test_a_judge_is_another(void **state)
{
    struct bench *bench = *state;
    wrong_judge(bench);
    bench_press(bench, "End Enter");
    assert_shows(bench, "> Ines");
    bench_press(bench, "Down Enter Down Enter");
    assert_shows(bench, "[Ines]");
    bench_press(bench, "F2");
    assert_shows(bench, "All that was recorded under it is Ines's.");
    bench_press(bench, "+");
    assert_shows(bench, "Back again: judge Inse.");
    bench_press(bench, "Home Enter");
    bench_type(bench, "Tomo");
    bench_press(bench, "F2");
    assert_shows(bench, "judge Tomo");
    assert_shows(bench, "name: Inse → Tomo");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_what_is_retired_never_was, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_bowl_is_put_right, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_round_is_put_right, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_screen_of_what_is_retired_gives_way, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_spawning_is_renamed, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_what_cannot_be_is_said_at_its_line, setup,
                                        bench_teardown),
        cmocka_unit_test_setup_teardown(test_an_event_of_a_lot_is_put_right, setup, bench_teardown),
        cmocka_unit_test_setup_teardown(test_a_judge_is_another, setup, bench_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
