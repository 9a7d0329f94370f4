#include "senbetsu/store/lot_events.h"

#include "bench.h"
#include "private.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/store/round_counts.h"

static int64_t lot(struct bench *bench, const char *spawnings, const char *code)
{
    int64_t id = 0;
    assert_ok(lot_begin(bench->ledger, spawnings, code, &id, &bench->err), &bench->err);
    return id;
}

static struct lot_event event_of(int64_t lot_id, const char *day, enum lot_event_kind kind)
{
    struct lot_event event;
    lot_event_init(&event);
    event.lot_id = lot_id;
    event.kind = kind;
    snprintf(event.day, sizeof event.day, "%s", day);
    return event;
}

static void record(struct bench *bench, const char *code, const char *day, enum lot_event_kind kind,
                   int64_t number)
{
    struct lot_event event = event_of(lot(bench, "K1", code), day, kind);
    event.fish = (struct count){number, METHOD_COUNTED, 0};
    bench->now += 1000;
    assert_ok(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err);
}

static int64_t split(struct bench *bench, const char *from, const char *into, const char *day,
                     int64_t number)
{
    struct lot_event event = event_of(lot(bench, "K1", from), day, EVENT_TRANSFER);
    int64_t id = 0;
    event.all = number == NOT_COUNTED;
    event.fish = (struct count){number, number == NOT_COUNTED ? METHOD_UNSAID : METHOD_COUNTED, 0};
    bench->now += 1000;
    assert_ok(lot_split(bench->ledger, &event, into, 0, &id, &bench->err), &bench->err);
    return id;
}

static void second_spawning(struct bench *bench)
{
    struct spawning spawning = {.code = "K2",
                                .season = 2026,
                                .variety = "Kikusui",
                                .eggs = NOT_COUNTED,
                                .hatched = NOT_COUNTED};
    enum saved saved;
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
}

/* Puts K1's own lot and K2's together. */
static int64_t merge(struct bench *bench, const char *day)
{
    int64_t id = 0, lots[] = {lot(bench, "K1", ""), lot(bench, "K2", "")};
    struct lot_event said = event_of(0, day, EVENT_TRANSFER);
    bench->now += 1000;
    assert_ok(lot_merge(bench->ledger, lots, 2, "both", &said, 0, &id, &bench->err), &bench->err);
    return id;
}

static struct lot_line line(struct bench *bench, int64_t lot_id)
{
    struct lot_line *lines, found = {.pond = ""};
    size_t count;
    assert_ok(lot_lines_list(bench->ledger, &lines, &count, &bench->err), &bench->err);
    for (size_t i = 0; i < count; i++)
        if (lines[i].of.lot_id == lot_id)
            found = lines[i];
    lot_lines_free(lines, count);
    return found;
}

static int64_t now_in(struct bench *bench, int64_t lot_id)
{
    return line(bench, lot_id).book.now.number;
}

static void state_cull(struct bench *bench, const char *code, enum stage stage, const char *day,
                       int64_t kept)
{
    struct round round;
    struct round_counts said;
    enum saved saved;
    assert_ok(round_begin(bench->ledger, "K1", code, stage, &round, &bench->err), &bench->err);
    round_counts_init(&said);
    said.kept = (struct count){kept, METHOD_COUNTED, 0};
    snprintf(said.day, sizeof said.day, "%s", day);
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
}

static void what_happens_adds_up(void **state)
{
    struct bench *bench = *state;
    int64_t own = lot(bench, "K1", "");
    record(bench, "", "2026-07-01", EVENT_COUNT, 1000);
    record(bench, "", "2026-07-02", EVENT_DEAD, 12);
    record(bench, "", "2026-07-03", EVENT_LOST, 30);
    record(bench, "", "2026-07-04", EVENT_FOUND, 5);
    int64_t west = split(bench, "", "west", "2026-07-05", 400);
    assert_int_equal(now_in(bench, own), 563);
    assert_int_equal(now_in(bench, west), 400);
    struct lot_line said = line(bench, own);
    assert_int_equal(said.book.dead, 12);
    assert_int_equal(said.book.moved_out, 400);
    assert_int_equal(said.book.now.method, METHOD_COUNTED);
}

/* What was said late stands where it happened. */
static void the_day_orders_not_the_keyboard(void **state)
{
    struct bench *bench = *state;
    int64_t own = lot(bench, "K1", "");
    record(bench, "", "2026-07-10", EVENT_COUNT, 500);
    record(bench, "", "2026-07-08", EVENT_DEAD, 100);
    record(bench, "", "2026-07-12", EVENT_DEAD, 20);
    assert_int_equal(now_in(bench, own), 480);
    state_cull(bench, "", STAGE_SECOND, "2026-07-11", 200);
    assert_int_equal(now_in(bench, own), 180);
}

/* On one day the cull comes first, unless its fish were only put together on that day. */
static void a_cull_and_events_of_one_day(void **state)
{
    struct bench *bench = *state;
    record(bench, "", "2026-07-10", EVENT_DEAD, 7);
    state_cull(bench, "", STAGE_FIRST, "2026-07-10", 100);
    assert_int_equal(now_in(bench, lot(bench, "K1", "")), 93);
    int64_t west = split(bench, "", "west", "2026-07-12", 60);
    record(bench, "west", "2026-07-12", EVENT_DEAD, 2);
    state_cull(bench, "west", STAGE_SECOND, "2026-07-12", 40);
    assert_int_equal(now_in(bench, west), 38);
}

/* It stands behind the fish that were put in. */
static void a_first_cull_without_a_day(void **state)
{
    struct bench *bench = *state;
    record(bench, "", "2026-07-01", EVENT_COUNT, 1000);
    int64_t west = split(bench, "", "west", "2026-07-05", 400);
    state_cull(bench, "west", STAGE_FIRST, "", 150);
    assert_int_equal(now_in(bench, west), 150);
    record(bench, "west", "2026-07-09", EVENT_DEAD, 4);
    assert_int_equal(now_in(bench, west), NOT_COUNTED);
}

/* Nobody knows whether fish died before the others went in. */
static void a_cull_that_fish_went_into_without_a_day(void **state)
{
    struct bench *bench = *state;
    int64_t own = lot(bench, "K1", "");
    struct round round;
    struct round_counts said;
    enum saved saved;
    round_counts_init(&said);
    said.in = (struct count){500, METHOD_COUNTED, 0};
    assert_ok(round_begin(bench->ledger, "K1", "", STAGE_FIRST, &round, &bench->err), &bench->err);
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
    assert_int_equal(now_in(bench, own), 500);
    record(bench, "", "2026-07-09", EVENT_DEAD, 4);
    assert_int_equal(now_in(bench, own), NOT_COUNTED);
}

/* As the screen does: what is last is asked for, then taken back. */
static struct lot_event undo_last(struct bench *bench, int64_t lot_id)
{
    struct lot_event last, taken;
    assert_ok(lot_last_event(bench->ledger, lot_id, &last, &bench->err), &bench->err);
    assert_ok(lot_event_follow(bench->ledger, &last, &bench->err), &bench->err);
    assert_ok(lot_undo(bench->ledger, lot_id, last.id, 0, &taken, &bench->err), &bench->err);
    assert_int_equal(taken.id, last.id);
    assert_int_equal(taken.kind, last.kind);
    return last;
}

static void lots_put_together_are_mixed(void **state)
{
    struct bench *bench = *state;
    second_spawning(bench);
    record(bench, "", "2026-07-01", EVENT_COUNT, 100);
    record(bench, "", "2026-07-09", EVENT_DEAD, 10); /* after they were put together: flagged */
    struct lot_event count = event_of(lot(bench, "K2", ""), "2026-07-01", EVENT_COUNT);
    count.fish = (struct count){50, METHOD_WEIGHED, 100000};
    assert_ok(lot_event_record(bench->ledger, &count, 0, &bench->err), &bench->err);
    int64_t both = merge(bench, "2026-07-05");
    struct lot_line said = line(bench, both);
    assert_true(said.of.mixed);
    assert_int_equal(said.book.now.number, 150);
    assert_int_equal(said.book.now.method, METHOD_WEIGHED);
    assert_int_equal(said.book.now.cv, 33333); /* 5 of 150 */
    assert_int_equal(now_in(bench, lot(bench, "K2", "")), 0);
    assert_int_equal(line(bench, lot(bench, "K1", "")).book.overdrawn, 10);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot_source AS s JOIN lot AS l ON "
                                      "l.id = s.lot WHERE l.code = 'both'"),
                     2);
    assert_int_equal(lot(bench, "K1;K2", "both"), both);
    assert_int_equal(merge(bench, "2026-07-06"), both);
}

/* A part of a mixed lot is mixed of the same; lots of one spawning put together are not mixed. */
static void parts_are_of_the_same_spawnings(void **state)
{
    struct bench *bench = *state;
    int64_t part, again;
    second_spawning(bench);
    record(bench, "", "2026-07-01", EVENT_COUNT, 100);
    struct lot_event said = event_of(merge(bench, "2026-07-02"), "2026-07-03", EVENT_TRANSFER);
    said.fish.number = 30;
    assert_ok(lot_split(bench->ledger, &said, "shade", 0, &part, &bench->err), &bench->err);
    assert_true(line(bench, part).of.mixed);
    int64_t lots[] = {split(bench, "", "east", "2026-07-04", 5),
                      split(bench, "", "west", "2026-07-04", 5)};
    snprintf(said.day, sizeof said.day, "2026-07-05");
    assert_ok(lot_merge(bench->ledger, lots, 2, "west", &said, 0, &again, &bench->err),
              &bench->err);
    assert_int_equal(again, lots[1]);
    assert_false(line(bench, again).of.mixed);
    assert_int_equal(now_in(bench, again), 10);
}

static void undo_takes_back_from_the_last_one_on(void **state)
{
    struct bench *bench = *state;
    struct lot_event *events, taken;
    size_t count;
    int64_t own = lot(bench, "K1", "");
    record(bench, "", "2026-07-01", EVENT_COUNT, 1000);
    record(bench, "", "2026-06-20", EVENT_DEAD, 12);
    int64_t west = split(bench, "", "west", "2026-07-05", NOT_COUNTED);
    taken = undo_last(bench, west);
    assert_int_equal(taken.kind, EVENT_TRANSFER);
    assert_int_equal(taken.fish.number, 1000);
    assert_string_equal(taken.target, "west");
    assert_int_equal(now_in(bench, own), 1000);
    taken = undo_last(bench, own);
    assert_int_equal(taken.kind, EVENT_DEAD);
    taken = undo_last(bench, own);
    assert_says(lot_last_event(bench->ledger, own, &taken, &bench->err), &bench->err,
                "nothing left to undo");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot_event"), 6);
    assert_ok(lot_events_of_lot(bench->ledger, own, false, &events, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 0);
    free(events);
    assert_ok(lot_events_of_lot(bench->ledger, own, true, &events, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 3);
    assert_true(events[0].undone && events[2].undone);
    free(events);
}

/* Another session recorded something between the question and the second key. */
static void only_what_was_asked_about_is_taken_back(void **state)
{
    struct bench *bench = *state;
    struct lot_event asked, taken;
    int64_t own = lot(bench, "K1", "");
    record(bench, "", "2026-07-01", EVENT_COUNT, 1000);
    record(bench, "", "2026-07-02", EVENT_DEAD, 12);
    assert_ok(lot_last_event(bench->ledger, own, &asked, &bench->err), &bench->err);
    record(bench, "", "2026-07-03", EVENT_DEAD, 30);
    assert_says(lot_undo(bench->ledger, own, asked.id, 0, &taken, &bench->err), &bench->err,
                "has changed");
    assert_int_equal(now_in(bench, own), 958);
    undo_last(bench, own);
    undo_last(bench, own);
    assert_says(lot_undo(bench->ledger, own, asked.id, 0, &taken, &bench->err), &bench->err,
                "has changed");
    assert_int_equal(now_in(bench, own), 1000);
}

/* A lot that came by an event leaves with it. */
static void assert_gone(struct bench *bench, int64_t lot_id)
{
    assert_int_equal(line(bench, lot_id).of.lot_id, 0);
}

static void lots_put_together_come_apart_whole(void **state)
{
    struct bench *bench = *state;
    struct lot_event taken;
    second_spawning(bench);
    record(bench, "", "2026-07-01", EVENT_COUNT, 100);
    int64_t both = merge(bench, "2026-07-05");
    undo_last(bench, both);
    assert_int_equal(now_in(bench, lot(bench, "K1", "")), 100);
    assert_gone(bench, both);
    taken = undo_last(bench, lot(bench, "K1", ""));
    assert_int_equal(taken.kind, EVENT_COUNT);
}

static int64_t tick(void *context)
{
    return ++*(int64_t *)context;
}

/* They are one batch however long it took to write them down. */
static void lots_put_together_share_their_instant(void **state)
{
    struct bench *bench = *state;
    second_spawning(bench);
    record(bench, "", "2026-07-01", EVENT_COUNT, 100);
    bench->ledger->clock.now_ms = tick;
    int64_t both = merge(bench, "2026-07-05");
    undo_last(bench, both);
    assert_gone(bench, both);
}

/* As a file is read: all in one transaction. */
static void separate_transfers_are_taken_back_one_by_one(void **state)
{
    struct bench *bench = *state;
    struct lot_event transfer;
    second_spawning(bench);
    int64_t lots[] = {lot(bench, "K1", ""), lot(bench, "K2", "")};
    int64_t both = lot(bench, "K1;K2", "both");
    record(bench, "", "2026-07-01", EVENT_COUNT, 100);
    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    for (int i = 0; i < 2; i++) {
        transfer = event_of(lots[i], "2026-07-05", EVENT_TRANSFER);
        transfer.target_id = both;
        transfer.all = true;
        assert_ok(lot_event_record(bench->ledger, &transfer, 0, &bench->err), &bench->err);
    }
    assert_ok(transaction_commit(bench->ledger, &bench->err), &bench->err);
    assert_int_equal(undo_last(bench, both).lot_id, lots[1]);
    assert_int_equal(now_in(bench, both), 100);
    assert_int_equal(undo_last(bench, both).lot_id, lots[0]);
    assert_int_equal(now_in(bench, lots[0]), 100);
}

/* Taken back from either lot. */
static void a_split_goes_with_its_pond(void **state)
{
    struct bench *bench = *state;
    struct lot_event said = event_of(lot(bench, "K1", ""), "2026-07-05", EVENT_TRANSFER);
    int64_t west = 0;
    said.fish = (struct count){40, METHOD_COUNTED, 0};
    snprintf(said.pond, sizeof said.pond, "North 3");
    record(bench, "", "2026-07-01", EVENT_COUNT, 100);
    for (int from_west = 0; from_west <= 1; from_west++) {
        assert_ok(lot_split(bench->ledger, &said, "west", 0, &west, &bench->err), &bench->err);
        assert_string_equal(line(bench, west).pond, "North 3");
        assert_string_equal(line(bench, said.lot_id).pond, "");
        struct lot_event taken = undo_last(bench, from_west ? west : said.lot_id);
        assert_int_equal(taken.kind, EVENT_TRANSFER);
        assert_string_equal(line(bench, west).pond, "");
        assert_int_equal(now_in(bench, said.lot_id), 100);
    }
    assert_says(lot_last_event(bench->ledger, west, &said, &bench->err), &bench->err,
                "nothing left to undo");
}

static void a_lot_is_where_it_was_moved_last(void **state)
{
    struct bench *bench = *state;
    struct lot_event *events;
    size_t count;
    int64_t own = lot(bench, "K1", "");
    struct lot_event move = event_of(own, "2026-07-01", EVENT_MOVE);
    assert_says(lot_event_record(bench->ledger, &move, 0, &bench->err), &bench->err, "pond");
    snprintf(move.pond, sizeof move.pond, "North 3");
    assert_ok(lot_event_record(bench->ledger, &move, 0, &bench->err), &bench->err);
    snprintf(move.pond, sizeof move.pond, "Mud pond");
    assert_ok(lot_event_record(bench->ledger, &move, 0, &bench->err), &bench->err);
    assert_string_equal(line(bench, own).pond, "Mud pond");
    assert_ok(lot_events_of_day(bench->ledger, "2026-07-01", &events, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 2);
    assert_string_equal(events[0].pond, "North 3");
    free(events);
}

static void what_cannot_be_is_refused(void **state)
{
    struct bench *bench = *state;
    struct lot_event event = event_of(lot(bench, "K1", ""), "2026-02-30", EVENT_DEAD);
    second_spawning(bench);
    assert_says(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err,
                "is not a date");
    snprintf(event.day, sizeof event.day, "2026-07-01");
    assert_says(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err,
                "Enter the number");
    event.fish = (struct count){3, METHOD_COUNTED, 5};
    assert_says(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err, "no error");
    event.fish.cv = 0;
    event.kind = EVENT_TRANSFER;
    event.target_id = event.lot_id;
    assert_says(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err, "already");
    event.target_id = lot(bench, "K2", "");
    assert_says(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err,
                "Fish of spawning K1");
    assert_says(lot_merge(bench->ledger, &event.lot_id, 1, "x", &event, 0, &event.id, &bench->err),
                &bench->err, "two or more lots");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot_event"), 0);
}

/* A split that fails leaves no lot behind. */
static void all_of_it_or_nothing(void **state)
{
    struct bench *bench = *state;
    int64_t id;
    struct lot_event event = event_of(lot(bench, "K1", ""), "2026-07-01", EVENT_TRANSFER);
    assert_says(lot_split(bench->ledger, &event, "west", 0, &id, &bench->err), &bench->err,
                "Enter the number");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM lot"), 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(what_happens_adds_up),
        on_stocked_bench(the_day_orders_not_the_keyboard),
        on_stocked_bench(a_cull_and_events_of_one_day),
        on_stocked_bench(a_first_cull_without_a_day),
        on_stocked_bench(a_cull_that_fish_went_into_without_a_day),
        on_stocked_bench(lots_put_together_are_mixed),
        on_stocked_bench(parts_are_of_the_same_spawnings),
        on_stocked_bench(undo_takes_back_from_the_last_one_on),
        on_stocked_bench(only_what_was_asked_about_is_taken_back),
        on_stocked_bench(lots_put_together_come_apart_whole),
        on_stocked_bench(lots_put_together_share_their_instant),
        on_stocked_bench(separate_transfers_are_taken_back_one_by_one),
        on_stocked_bench(a_split_goes_with_its_pond),
        on_stocked_bench(a_lot_is_where_it_was_moved_last),
        on_stocked_bench(what_cannot_be_is_refused),
        on_stocked_bench(all_of_it_or_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
