#include "senbetsu/sheet/tally_sheet.h"
#include "support/fake_tally.h"
#include "support/test.h"

static void press(struct fake_tally *fake, enum tally_command_kind kind, int number)
{
    struct tally_effects effects = fake_tally_do(fake, kind, number);
    if (effects.alert)
        fail_msg("command %d %d: %s", kind, number, fake->sheet.message);
}

static void type(struct fake_tally *fake, const char *line)
{
    for (; *line != '\0'; line++)
        press(fake, TALLY_DO_TYPE, *line);
    press(fake, TALLY_DO_ACCEPT, 0);
}

static void one_key_a_fish(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_KEEP, 0);
    press(fake, TALLY_DO_REJECT, 1);
    press(fake, TALLY_DO_REJECT, -1);
    press(fake, TALLY_DO_DEAD, 0);
    assert_int_equal(fake->stroke_count, 4);
    assert_int_equal(fake->sheet.totals.kept.number, 1);
    assert_int_equal(fake->sheet.totals.rejected.number, 2);
    assert_int_equal(fake->sheet.totals.dead.number, 1);
    assert_string_equal(fake->strokes[1].mark.reason, "jaw");
    assert_string_equal(fake->strokes[2].mark.reason, "");
    assert_int_equal(fake->sheet.now.last.kind, TALLY_DEAD);
}

static void a_reason_must_be_there(void **state)
{
    struct fake_tally *fake = *state;
    assert_true(fake_tally_do(fake, TALLY_DO_REJECT, FAKE_FAULTS).alert);
    assert_non_null(strstr(fake->sheet.message, "no reason with this number"));
    assert_int_equal(fake->stroke_count, 0);
}

static void scoops_need_a_size_first(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_UNIT, 0);
    assert_false(fake->sheet.scoops);
    assert_int_equal(fake->sheet.mode, TALLY_SIZE);
    type(fake, "48 52+50");
    assert_true(fake->sheet.scoops);
    assert_true(fake->scoops);
    assert_int_equal(fake->sheet.mode, TALLY_COUNTING);
    press(fake, TALLY_DO_KEEP, 0);
    press(fake, TALLY_DO_KEEP, 0);
    assert_int_equal(fake->sheet.totals.kept.number, 100);
    assert_int_equal(fake->sheet.totals.kept.method, METHOD_SCOOPED);
    press(fake, TALLY_DO_UNIT, 0);
    assert_false(fake->scoops);
    press(fake, TALLY_DO_KEEP, 0);
    assert_int_equal(fake->sheet.totals.kept.number, 101);
}

/* The size measured last counts from then on; scoops tallied before keep theirs. */
static void a_new_size_changes_no_earlier_scoop(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE);
    type(fake, "100");
    assert_non_null(strstr(fake->sheet.message, "gives no error"));
    press(fake, TALLY_DO_KEEP, 0);
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE);
    type(fake, "40+60");
    press(fake, TALLY_DO_KEEP, 0);
    assert_int_equal(fake->sheet.totals.kept.number, 150);
}

static void what_is_no_size_is_refused(void **state)
{
    struct fake_tally *fake = *state;
    static const char *const lines[] = {"", "0", "48 0", "100000", "  +"};
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
        press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE);
        for (const char *c = lines[i]; *c != '\0'; c++)
            press(fake, TALLY_DO_TYPE, *c);
        assert_true(fake_tally_do(fake, TALLY_DO_ACCEPT, 0).alert);
        assert_int_equal(fake->sheet.mode, TALLY_SIZE);
        assert_int_equal(fake->scoop_count, 0);
    }
    assert_true(fake_tally_do(fake, TALLY_DO_TYPE, 'x').alert);
    assert_true(fake_tally_do(fake, TALLY_DO_TYPE, '/').alert);
    assert_string_equal(fake->sheet.message,
                        "Type the fish of each scoop, with + between scoops: 48+52.");
}

static void undo_goes_back_key_by_key(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_KEEP, 0);
    press(fake, TALLY_DO_REJECT, 0);
    press(fake, TALLY_DO_UNDO, 0);
    assert_string_equal(fake->sheet.message, "Undone: reject 1 fish, Bent spine (magari).");
    assert_int_equal(fake->sheet.totals.rejected.number, 0);
    assert_int_equal(fake->sheet.totals.kept.number, 1);
    press(fake, TALLY_DO_UNDO, 0);
    assert_string_equal(fake->sheet.message, "Undone: keep 1 fish.");
    assert_int_equal(fake->sheet.totals.kept.number, 0);
    assert_true(fake_tally_do(fake, TALLY_DO_UNDO, 0).alert);
    assert_non_null(strstr(fake->sheet.message, "no key"));
}

/* It is the ledger that knows it: after an undo, another's key and a restart as well. */
static void the_last_key_is_the_one_undo_takes_next(void **state)
{
    struct fake_tally *fake = *state;
    assert_false(fake->sheet.now.any_last);
    press(fake, TALLY_DO_REJECT, 1);
    press(fake, TALLY_DO_DEAD, 0);
    fake_tally_by_another(fake, TALLY_KEEP);
    press(fake, TALLY_DO_UNDO, 0);
    assert_string_equal(fake->sheet.message, "Undone: dead 1 fish.");
    assert_true(fake->sheet.now.any_last);
    assert_string_equal(fake->sheet.now.last.reason, "jaw");
    fake_tally_reopen(fake);
    assert_true(fake->sheet.now.any_last);
    assert_int_equal(fake->sheet.now.last.kind, TALLY_REJECT);
    press(fake, TALLY_DO_UNDO, 0);
    assert_string_equal(fake->sheet.message, "Undone: reject 1 fish, Twisted jaw.");
    assert_false(fake->sheet.now.any_last);
}

static void pace_and_time_to_the_end(void **state)
{
    struct fake_tally *fake = *state;
    fake->lot = (struct count){101, METHOD_COUNTED, 0};
    press(fake, TALLY_DO_REFRESH, 0);
    press(fake, TALLY_DO_KEEP, 0);
    assert_int_equal(fake->sheet.left, -1);
    assert_int_equal(fake->sheet.totals.rejected.number, 100);
    assert_true(fake->sheet.totals.rejected_is_rest);
    for (int i = 0; i < 20; i++)
        press(fake, TALLY_DO_REJECT, 0);
    assert_int_equal(fake->sheet.left, 80);
    assert_int_equal(tally_pace_per_hour(&fake->sheet.now.pace), 3600 / FAKE_TALLY_SECONDS);
    assert_int_equal(fake->sheet.totals.rejected.number, 20);
    assert_false(fake->sheet.totals.rejected_is_rest);
}

/* The book says how far the lot is, but no fish are taken for the rest of it. */
static void the_book_settles_nothing(void **state)
{
    struct fake_tally *fake = *state;
    fake->by_book = (struct count){101, METHOD_ESTIMATED, 0};
    fake_tally_reopen(fake);
    press(fake, TALLY_DO_KEEP, 0);
    for (int i = 0; i < 20; i++)
        press(fake, TALLY_DO_REJECT, 0);
    assert_int_equal(fake->sheet.left, 80);
    assert_int_equal(fake->sheet.totals.rejected.number, 20);
    assert_false(fake->sheet.totals.rejected_is_rest);
    assert_int_equal(tally_sheet_lot(&fake->sheet)->number, 101);
    fake->lot = (struct count){51, METHOD_COUNTED, 0};
    press(fake, TALLY_DO_REFRESH, 0);
    assert_int_equal(fake->sheet.left, 30);
    assert_int_equal(fake->sheet.totals.rejected.number, 20);
}

/* Somebody else's keys come with the next look into the ledger. */
static void a_refresh_brings_others_keys(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_KEEP, 0);
    fake_tally_by_another(fake, TALLY_REJECT);
    assert_int_equal(fake->sheet.totals.rejected.number, 0);
    press(fake, TALLY_DO_REFRESH, 0);
    assert_int_equal(fake->sheet.totals.rejected.number, 1);
}

static void it_opens_where_it_was_left(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE);
    type(fake, "9 11");
    press(fake, TALLY_DO_KEEP, 0);
    fake_tally_reopen(fake);
    assert_true(fake->sheet.scoops);
    assert_int_equal(fake->sheet.totals.kept.number, 10);
    press(fake, TALLY_DO_KEEP, 0);
    assert_int_equal(fake->sheet.totals.kept.number, 20);
}

static void a_command_ends_its_mode(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_ENTER_MODE, TALLY_MENU);
    press(fake, TALLY_DO_DEAD, 0);
    assert_int_equal(fake->sheet.mode, TALLY_COUNTING);
    press(fake, TALLY_DO_ENTER_MODE, TALLY_FURTHER);
    press(fake, TALLY_DO_CANCEL, 0);
    assert_int_equal(fake->sheet.mode, TALLY_COUNTING);
    assert_true(fake_tally_do(fake, TALLY_DO_LEAVE, 0).leave);
}

/* What the ledger refuses changes nothing on the screen but the sentence. */
static void a_failing_port_changes_nothing(void **state)
{
    static const struct tally_command commands[] = {{TALLY_DO_KEEP, 0}, {TALLY_DO_REJECT, 0},
                                                    {TALLY_DO_DEAD, 0}, {TALLY_DO_UNIT, 0},
                                                    {TALLY_DO_UNDO, 0}, {TALLY_DO_REFRESH, 0}};
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE);
    type(fake, "9 11");
    press(fake, TALLY_DO_KEEP, 0);
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
        size_t strokes = fake->stroke_count;
        struct tally_totals before = fake->sheet.totals;
        fake->fail_at = fake->calls + 1;
        assert_true(fake_tally_do(fake, commands[i].kind, commands[i].number).alert);
        assert_non_null(strstr(fake->sheet.message, "Another program is using the ledger."));
        assert_int_equal(fake->stroke_count, strokes);
        assert_memory_equal(&fake->sheet.totals, &before, sizeof before);
        assert_true(fake->sheet.scoops);
    }
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE);
    press(fake, TALLY_DO_TYPE, '7');
    fake->fail_at = fake->calls + 1;
    assert_true(fake_tally_do(fake, TALLY_DO_ACCEPT, 0).alert);
    assert_int_equal(fake->sheet.now.scoop.fish, 20);
    assert_string_equal(fake->sheet.line, "7");
}

/* The undo stands, the numbers shown are the old ones until the next look into the ledger. */
static void an_undo_whose_numbers_cannot_be_read(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_KEEP, 0);
    fake->fail_at = fake->calls + 2;
    press(fake, TALLY_DO_UNDO, 0);
    assert_non_null(strstr(fake->sheet.message, "could not be read again"));
    assert_int_equal(fake->sheet.totals.kept.number, 1);
    assert_false(fake->sheet.now.any_last);
    press(fake, TALLY_DO_REFRESH, 0);
    assert_int_equal(fake->sheet.totals.kept.number, 0);
}

static void it_does_not_open_where_the_port_fails(void **state)
{
    struct fake_tally *fake = *state;
    for (int call = 1; call <= 2; call++) {
        struct tally_sheet sheet;
        struct err err;
        fake->fail_at = fake->calls + call;
        assert_false(fake_tally_open(fake, &sheet, &err));
    }
}

/* xorshift: the same iterator on every machine. */
static uint32_t draw(uint32_t *seed, uint32_t below)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed % below;
}

static struct tally_command random_command(const struct tally_sheet *sheet, uint32_t *seed)
{
    struct tally_command command = {(enum tally_command_kind)draw(seed, TALLY_DO_LEAVE + 1),
                                    (int)draw(seed, FAKE_FAULTS + 2) - 1};
    if (sheet->mode == TALLY_SIZE && draw(seed, 2) != 0)
        command.kind = draw(seed, 3) != 0 ? TALLY_DO_TYPE : TALLY_DO_ACCEPT;
    if (command.kind == TALLY_DO_TYPE)
        command.number = "0123456789+ x"[draw(seed, 13)];
    return command;
}

/* Thousands of commands in random order, the port failing now and then: after a look into the
 * ledger the screen shows exactly what it holds, and before it never something of one's own that
 * it does not hold. */
static void whatever_is_pressed_the_ledger_holds(void **state)
{
    struct fake_tally *fake = *state;
    uint32_t seed = 20260614;
    for (int i = 0; i < 6000; i++) {
        struct tally_command command = random_command(&fake->sheet, &seed);
        fake->fail_at = draw(&seed, 50) == 0 ? fake->calls + 1 : 0;
        fake_tally_do(fake, command.kind, command.number);
        assert_in_range(fake->sheet.mode, 0, TALLY_MODE_COUNT - 1);
        assert_int_equal(fake->sheet.scoops, fake->scoops);
        assert_true(!fake->sheet.scoops || fake->sheet.now.scoop.id != 0);
        if (i % 10 != 0)
            continue;
        struct tally_totals shown = fake->sheet.tallied, held = fake_tally_totals(fake);
        if (!fake->stale)
            assert_int_equal(tally_handled(&shown), tally_handled(&held));
        fake->fail_at = 0;
        press(fake, TALLY_DO_REFRESH, 0);
        shown = fake->sheet.tallied;
        assert_int_equal(shown.kept.number, held.kept.number);
        assert_int_equal(shown.rejected.number, held.rejected.number);
        assert_int_equal(shown.dead.number, held.dead.number);
        if (draw(&seed, 20) == 0)
            fake_tally_reopen(fake);
    }
    assert_true(fake->stroke_count > 500);
}

static void samples_are_read_from_a_line(void **state)
{
    int64_t samples[SCOOP_SAMPLES];
    (void)state;
    assert_int_equal(tally_samples("48 52+50", samples), 3);
    assert_int_equal(samples[2], 50);
    assert_int_equal(tally_samples(" 1,2;3+4 ", samples), 4);
    assert_int_equal(tally_samples("3/4", samples), 0);
    assert_int_equal(tally_samples("", samples), 0);
    assert_int_equal(tally_samples("1x", samples), 0);
    assert_int_equal(tally_samples("1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1 1", samples), 0);
    assert_int_equal(tally_samples("99999999999999999999", samples), 1);
    assert_true(samples[0] > SCOOP_MOST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_fake_tally(one_key_a_fish),
        on_fake_tally(a_reason_must_be_there),
        on_fake_tally(scoops_need_a_size_first),
        on_fake_tally(a_new_size_changes_no_earlier_scoop),
        on_fake_tally(what_is_no_size_is_refused),
        on_fake_tally(undo_goes_back_key_by_key),
        on_fake_tally(the_last_key_is_the_one_undo_takes_next),
        on_fake_tally(pace_and_time_to_the_end),
        on_fake_tally(the_book_settles_nothing),
        on_fake_tally(a_refresh_brings_others_keys),
        on_fake_tally(it_opens_where_it_was_left),
        on_fake_tally(a_command_ends_its_mode),
        on_fake_tally(a_failing_port_changes_nothing),
        on_fake_tally(an_undo_whose_numbers_cannot_be_read),
        on_fake_tally(it_does_not_open_where_the_port_fails),
        on_fake_tally(whatever_is_pressed_the_ledger_holds),
        cmocka_unit_test(samples_are_read_from_a_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
