/* Thousands of commands in random order: whatever is pressed, what the sheet shows is what the
 * ledger holds. */
#include "support/sheet_bench.h"
#include "support/test.h"

/* xorshift: the same walk on every machine. */
static uint32_t draw(uint32_t *seed, uint32_t below)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed % below;
}

/* Often what a hand does, sometimes what none would. */
static struct sheet_command random_command(const struct sheet *sheet, uint32_t *seed)
{
    static const enum sheet_command_kind frequent[] = {
        COMMAND_SCORE, COMMAND_SCORE,      COMMAND_SCORE,      COMMAND_TYPICAL, COMMAND_TYPICAL,
        COMMAND_FAULT, COMMAND_ENTER_MODE, COMMAND_ENTER_MODE, COMMAND_ASPECT,  COMMAND_UNDO,
        COMMAND_CLEAR, COMMAND_EARLIER,    COMMAND_TAG};
    static const enum sheet_command_kind typing[] = {COMMAND_TYPE,   COMMAND_TYPE,   COMMAND_CHOOSE,
                                                     COMMAND_CHOOSE, COMMAND_ACCEPT, COMMAND_ERASE};
    static const char *const tags[] = {"", "T1", "T2", "T3", "elsewhere", "a,b"};
    enum sheet_command_kind kind = (enum sheet_command_kind)draw(seed, COMMAND_LEAVE + 1);
    if (sheet->mode >= SHEET_LENGTH && draw(seed, 4) != 0)
        kind = typing[draw(seed, sizeof typing / sizeof *typing)];
    else if (draw(seed, 4) != 0)
        kind = frequent[draw(seed, sizeof frequent / sizeof *frequent)];
    struct sheet_command command = {kind, (int)draw(seed, 8) - 1, tags[draw(seed, 6)]};
    if (kind == COMMAND_TYPE)
        command.number = draw(seed, 2) != 0 ? '0' + (int)draw(seed, 10) : (int)draw(seed, 0x3000);
    if (kind == COMMAND_ENTER_MODE)
        command.number = (int)draw(seed, SHEET_MODE_COUNT + 1);
    return command;
}

static void assert_in_bounds(const struct sheet *sheet)
{
    assert_true(sheet->fish_count > 0);
    assert_true(sheet->current < sheet->fish_count);
    assert_in_range(sheet->aspect, 0, BENCH_ASPECTS);
    assert_in_range(sheet->mode, 0, SHEET_MODE_COUNT - 1);
    assert_true(sheet->last == SIZE_MAX || sheet->fish[sheet->last].closed);
    assert_true(sheet->expected == 0 || sheet->fish_count <= (size_t)sheet->expected);
    for (size_t i = 0; i < sheet->fish_count; i++) {
        const struct fish *fish = &sheet->fish[i];
        assert_int_equal(fish->number, (int)i + 1);
        assert_true(fish->id != 0 || i + 1 == sheet->fish_count);
        assert_in_range(fish->length_mm, 0, 2000);
        if (fish->closed)
            assert_int_equal(fish->sent, sheet_decision(sheet, i).verdict);
    }
}

static void assert_standings_derived(const struct fake_port *port)
{
    for (size_t i = 0; i < port->fish_count; i++) {
        struct fish fish = fake_port_fish(port, (int64_t)i + 1, 0);
        struct judgement deciding = fish_deciding(&fish, port->standard);
        struct standing standing = standing_of(port->standard, &deciding);
        assert_int_equal(port->standings[i].verdict, standing.verdict);
        assert_int_equal(port->standings[i].could_be_kept, standing.could_be_kept);
        if (standing.scored)
            assert_int_equal(port->standings[i].score, standing.score);
    }
}

/* Totals that could not be read after a stroke are read now. */
static void assert_same_after_reopening(struct bench *bench, bool second_look)
{
    struct sheet anew;
    struct err err;
    struct sheet_place place = bench->port.place;
    bench_do(bench, COMMAND_REFRESH, 0);
    assert_ok(fake_port_open(&bench->port, &anew, bench->sheet.expected, second_look, &err), &err);
    assert_sheets_equal(&bench->sheet, &anew);
    assert_int_equal(place.number, bench->port.place.number);
    assert_string_equal(place.aspect, bench->port.place.aspect);
    sheet_done(&anew);
}

static void walk(struct bench *bench, uint32_t seed, int commands)
{
    for (int i = 0; i < commands; i++) {
        struct sheet_command command = random_command(&bench->sheet, &seed);
        struct sheet before = sheet_copy(&bench->sheet);
        size_t strokes = bench->port.stroke_count;
        bench->port.now_ms += 700;
        if (draw(&seed, 10) == 0)
            bench->port.fail_at = bench->port.calls + 1;
        struct sheet_effects effects = sheet_do(&bench->sheet, &command);
        bench->port.fail_at = 0;
        assert_in_range(bench->port.stroke_count, strokes, strokes + 1);
        if (effects.alert) {
            assert_sheets_equal(&before, &bench->sheet);
            assert_int_equal(bench->port.stroke_count, strokes);
        }
        sheet_done(&before);
        assert_in_bounds(&bench->sheet);
        assert_same_after_reopening(bench, false);
        assert_standings_derived(&bench->port);
    }
}

static void take_everything_back(struct bench *bench)
{
    for (size_t left = bench->sheet.undoable_count; left > 0; left--) {
        bench_do(bench, COMMAND_UNDO, 0);
        assert_in_bounds(&bench->sheet);
        assert_same_after_reopening(bench, false);
    }
    bench_refused(bench, COMMAND_UNDO, 0, "nothing left");
    for (size_t i = 0; i < bench->sheet.fish_count; i++) {
        struct fish empty;
        const struct fish *fish = &bench->sheet.fish[i];
        fish_init(&empty, fish->id, fish->bowl_id, fish->bowl, fish->number);
        assert_int_equal(fish->look, 0);
        assert_memory_equal(fish->judgement.scores, empty.judgement.scores,
                            sizeof empty.judgement.scores);
        assert_int_equal(fish->judgement.faults, 0);
        assert_int_equal(fish->judgement.by_hand, VERDICT_OPEN);
        assert_string_equal(fish->tag, "");
        assert_string_equal(fish->note, "");
        assert_int_equal(fish->length_mm, 0);
    }
    assert_int_equal(bench->sheet.round.tally.judged, 0);
    assert_int_equal(bench_front(bench)->number, 1);
}

static void any_walk_shows_what_the_ledger_holds(void **state)
{
    (void)state;
    static const int expected[] = {0, 1, 3, 12};
    for (uint32_t seed = 1; seed <= 40; seed++) {
        struct bench *bench = bench_new(expected[seed % 4]);
        bench->port.places = 3;
        text_copy(bench->port.other_tag, CODE_SIZE, "elsewhere");
        bench->port.other_bowl = 8;
        bench->port.other_number = 2;
        bench_do(bench, COMMAND_REFRESH, 0);
        walk(bench, seed * 2654435761u, 300);
        bench_do(bench, COMMAND_REFRESH, 0);
        take_everything_back(bench);
        bench_free(bench);
    }
}

/* In a second look the tray is fixed; while it is not finished, coming back shows the same. */
static void any_walk_through_a_second_look_can_be_broken_off(void **state)
{
    (void)state;
    for (uint32_t seed = 1; seed <= 20; seed++) {
        struct bench *bench = bench_new(5);
        for (int fish = 0; fish < 5; fish++) {
            bench_do(bench, COMMAND_FAULT, WOUND);
            bench_judge_fish(bench, 4);
        }
        bench_reopen(bench, true);
        uint32_t walk_seed = seed * 40503u;
        for (int i = 0; i < 250; i++) {
            struct sheet_command command = random_command(&bench->sheet, &walk_seed);
            bench->port.now_ms += 700;
            sheet_do(&bench->sheet, &command);
            assert_in_range(bench->sheet.fish_count, 5, 5);
            assert_standings_derived(&bench->port);
            if (!bench->sheet.full)
                assert_same_after_reopening(bench, true);
        }
        while (bench->sheet.undoable_count > 0)
            bench_do(bench, COMMAND_UNDO, 0);
        for (size_t i = 0; i < 5; i++) {
            assert_int_equal(bench->port.standings[i].verdict, VERDICT_HOLD);
            assert_int_equal(fake_port_fish(&bench->port, (int64_t)i + 1, 0).look, 1);
        }
        bench_free(bench);
    }
}

/* A bowl as an evening brings it: its totals are those of the fish. */
static void a_whole_bowl(void **state)
{
    (void)state;
    enum { FISH = 60 };
    struct bench *bench = bench_new(FISH);
    bench->port.places = 20;
    for (int fish = 1; fish <= FISH; fish++) {
        assert_int_equal(bench_front(bench)->number, fish);
        if (fish % 3 == 0)
            bench_do(bench, COMMAND_FAULT, SPINE);
        else if (fish % 5 == 0)
            bench_do(bench, COMMAND_FAULT, WOUND);
        if (fish % 3 != 0)
            bench_judge_fish(bench, 3 + fish % 2);
        if (fish == 31)
            bench_reopen(bench, false);
    }
    assert_true(bench->sheet.full);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_REJECT], 20);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_HOLD], 8);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_KEEP], 32);
    assert_int_equal(bench->sheet.tray_verdicts[VERDICT_OPEN], 0);
    assert_int_equal(bench->sheet.round.tally.judged, FISH);
    assert_int_equal(bench->sheet.cut.kind, CUT_NONE);
    bench_free(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_walk_shows_what_the_ledger_holds),
        cmocka_unit_test(any_walk_through_a_second_look_can_be_broken_off),
        cmocka_unit_test(a_whole_bowl),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
