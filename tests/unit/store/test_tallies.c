#include "bench.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/tallies.h"
#include "support/check.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

/* The round K1/second, picked or removed from `lot` fish (0 = not known). */
static struct round tallied_round(struct bench *bench, enum manner manner, int lot)
{
    struct round round = bench_round(bench);
    round.manner = manner;
    round.expected = lot;
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
    return round;
}

static void press(struct bench *bench, const struct round *round, int64_t judge,
                  enum tally_kind kind, const char *reason, int64_t scoop)
{
    struct tally_mark mark = {.kind = kind, .scoop.id = scoop};
    snprintf(mark.reason, sizeof mark.reason, "%s", reason);
    bench->now += 1000;
    assert_ok(tally_record(bench->ledger, round->id, judge, &mark, NULL, &bench->err), &bench->err);
}

static struct tally_totals totals(struct bench *bench, const struct round *round)
{
    struct tally_totals totals;
    assert_ok(tally_totals(bench->ledger, round->id, &totals, &bench->err), &bench->err);
    return totals;
}

static struct scoop measure(struct bench *bench, const struct round *round, int64_t judge,
                            int64_t first, int64_t second)
{
    const int64_t samples[] = {first, second};
    struct scoop scoop;
    assert_true(scoop_measure(samples, 2, &scoop));
    bench->now += 1000;
    assert_ok(scoop_save(bench->ledger, round->id, judge, &scoop, NULL, &bench->err), &bench->err);
    assert_true(scoop.id != 0);
    return scoop;
}

static void keys_add_up(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_REMOVE, 0);
    for (int i = 0; i < 4; i++)
        press(bench, &round, 0, TALLY_KEEP, "", 0);
    press(bench, &round, 0, TALLY_REJECT, "spine", 0);
    press(bench, &round, 0, TALLY_REJECT, "", 0);
    press(bench, &round, 0, TALLY_DEAD, "", 0);
    struct tally_totals sum = totals(bench, &round);
    assert_int_equal(sum.kept.number, 4);
    assert_int_equal(sum.kept.method, METHOD_COUNTED);
    assert_int_equal(sum.rejected.number, 2);
    assert_int_equal(sum.dead.number, 1);
    assert_int_equal(sum.reason_count, 2);
    assert_int_equal(strlen(sum.first_day), 10);
    assert_string_equal(sum.first_day, sum.last_day);
}

/* A stroke keeps the size it was made with, whatever is measured later. */
static void scoops_keep_their_size(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_REMOVE, 0);
    struct scoop large = measure(bench, &round, 0, 490, 510);
    press(bench, &round, 0, TALLY_REJECT, "", large.id);
    struct scoop small = measure(bench, &round, 0, 40, 60);
    press(bench, &round, 0, TALLY_REJECT, "", small.id);
    press(bench, &round, 0, TALLY_REJECT, "", small.id);
    struct tally_totals sum = totals(bench, &round);
    assert_int_equal(sum.rejected.number, 600);
    assert_int_equal(sum.rejected.method, METHOD_SCOOPED);
    /* 500 ± 10 and 100 ± 20: 22.36 of 600. */
    assert_in_range(sum.rejected.cv, 37265, 37269);
}

static void each_judge_has_a_scoop(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 0);
    int64_t ines, ryo;
    struct scoop found;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    assert_ok(judge_named(bench->ledger, "Ryo", &ryo, &bench->err), &bench->err);
    assert_ok(scoop_latest(bench->ledger, round.id, ines, &found, &bench->err), &bench->err);
    assert_int_equal(found.id, 0);
    struct scoop hers = measure(bench, &round, ines, 50, 52);
    assert_ok(scoop_latest(bench->ledger, round.id, ryo, &found, &bench->err), &bench->err);
    assert_int_equal(found.id, hers.id);
    measure(bench, &round, ryo, 20, 22);
    assert_ok(scoop_latest(bench->ledger, round.id, ines, &found, &bench->err), &bench->err);
    assert_int_equal(found.id, hers.id);
    assert_int_equal(found.fish, 102);
    assert_int_equal(found.samples, 2);
}

/* A judge takes back only his own keys, from the last one back. */
static void undo_is_ones_own(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 0);
    struct tally_mark undone, last;
    int64_t ines;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    press(bench, &round, ines, TALLY_KEEP, "", 0);
    press(bench, &round, 0, TALLY_REJECT, "spine", 0);
    press(bench, &round, ines, TALLY_DEAD, "", 0);
    assert_ok(tally_undo(bench->ledger, round.id, ines, NULL, &undone, &bench->err), &bench->err);
    assert_int_equal(undone.kind, TALLY_DEAD);
    assert_ok(tally_last(bench->ledger, round.id, ines, &last, &bench->err), &bench->err);
    assert_int_equal(last.kind, TALLY_KEEP);
    assert_ok(tally_last(bench->ledger, round.id, 0, &last, &bench->err), &bench->err);
    assert_string_equal(last.reason, "spine");
    assert_int_equal(totals(bench, &round).dead.number, 0);
    assert_int_equal(totals(bench, &round).rejected.number, 1);
    assert_ok(tally_undo(bench->ledger, round.id, ines, NULL, &undone, &bench->err), &bench->err);
    assert_int_equal(totals(bench, &round).kept.number, 0);
    assert_says(tally_undo(bench->ledger, round.id, ines, NULL, &undone, &bench->err), &bench->err,
                "no key left");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM tally_stroke"), 5);
}

/* The lot's number is what was stated of the round, else what it expects. */
static void the_lots_number_settles_a_pick(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 200);
    struct round_counts said;
    enum saved saved;
    press(bench, &round, 0, TALLY_KEEP, "", 0);
    struct tally_totals sum = totals(bench, &round);
    assert_int_equal(sum.rejected.number, 199);
    assert_true(sum.rejected_is_rest);
    round_counts_init(&said);
    said.in = (struct count){1000, METHOD_WEIGHED, 50000};
    assert_ok(round_counts_record(bench->ledger, round.id, &said, 0, &saved, &bench->err),
              &bench->err);
    sum = totals(bench, &round);
    assert_int_equal(sum.rejected.number, 999);
    assert_int_equal(sum.rejected.method, METHOD_WEIGHED);
    assert_int_equal(sum.rejected.cv, 50050);
}

static void an_untouched_round_settles_nothing(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 200);
    struct tally_totals sum = totals(bench, &round);
    assert_int_equal(sum.rejected.number, 0);
    assert_string_equal(sum.first_day, "");
}

static void check_names_an_undo_that_cannot_be(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 0);
    struct tally_mark undone;
    press(bench, &round, 0, TALLY_KEEP, "", 0);
    assert_ok(tally_undo(bench->ledger, round.id, 0, NULL, &undone, &bench->err), &bench->err);
    assert_in_order(bench->ledger);
    bench_do(bench, "INSERT INTO tally_stroke (id, round, at_ms, undoes) "
                    "SELECT id + 1, round, at_ms, id FROM tally_stroke WHERE undoes IS NOT NULL");
    /* Nor was its number given. */
    assert_wrong(bench->ledger, 2, "an undo names a key of another round");
}

static void pace_is_a_judges_own(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 0);
    struct tally_pace pace;
    int64_t ines, began = bench->now;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    for (int i = 0; i < 62; i++)
        press(bench, &round, ines, TALLY_KEEP, "", 0);
    press(bench, &round, 0, TALLY_KEEP, "", 0);
    assert_ok(tally_pace_of(bench->ledger, round.id, ines, began, &pace, &bench->err), &bench->err);
    assert_int_equal(tally_pace_per_hour(&pace), 3600);
    assert_ok(tally_pace_of(bench->ledger, round.id, ines, bench->now, &pace, &bench->err),
              &bench->err);
    assert_int_equal(tally_pace_per_hour(&pace), 0);
}

/* The key and the place are one transaction: a place that cannot be leaves no key behind. */
static void key_and_place_are_one(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_PICK, 0);
    struct tally_mark mark = {.kind = TALLY_KEEP};
    struct place place = {.round_id = round.id, .number = 1, .in_sheet = true}, read;
    assert_ok(tally_record(bench->ledger, round.id, 0, &mark, &place, &bench->err), &bench->err);
    assert_ok(place_get(bench->ledger, 0, &read, &bench->err), &bench->err);
    assert_int_equal(read.round_id, round.id);
    assert_int_equal(read.number, 1);
    place.round_id = 1;
    assert_false(tally_record(bench->ledger, round.id, 0, &mark, &place, &bench->err));
    assert_int_equal(totals(bench, &round).kept.number, 1);
}

/* Presses key after key and says so, one byte a key, until it is killed. */
static void tally_until_killed(struct bench *bench, int acknowledge)
{
    bench->ledger = NULL;
    bench_open(bench);
    struct round round = bench_round(bench);
    for (int i = 0; i < 9999; i++) {
        press(bench, &round, 0, i % 3 == 0 ? TALLY_KEEP : TALLY_REJECT, "", 0);
        if (write(acknowledge, ".", 1) != 1)
            _exit(1);
    }
    _exit(0);
}

static int kill_after(struct bench *bench, int keys)
{
    int ends[2], acknowledged = 0, status;
    char byte;
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        close(ends[0]);
        tally_until_killed(bench, ends[1]);
    }
    close(ends[1]);
    while (acknowledged < keys && read(ends[0], &byte, 1) == 1)
        acknowledged++;
    kill(child, SIGKILL);
    while (read(ends[0], &byte, 1) == 1)
        acknowledged++;
    close(ends[0]);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
    return acknowledged;
}

static void every_acknowledged_key_outlives_the_program(void **state)
{
    struct bench *bench = *state;
    tallied_round(bench, MANNER_REMOVE, 0);
    bench_close(bench);
    int acknowledged = kill_after(bench, 40);
    bench_open(bench);
    struct round round = bench_round(bench);
    struct tally_totals sum = totals(bench, &round);
    assert_true(tally_handled(&sum) >= acknowledged);
    assert_true(tally_handled(&sum) <= acknowledged + 1);
    assert_int_equal(sum.kept.number, (tally_handled(&sum) + 2) / 3);
}

static void call_fish(struct bench *bench, int64_t judge, bool good, int times)
{
    struct round round = bench_round(bench);
    for (int i = 0; i < times; i++) {
        bench->now += 1000;
        assert_ok(first_look_record(bench->ledger, round.id, judge, good, NULL, &bench->err),
                  &bench->err);
    }
}

static struct first_look first_look_of(struct bench *bench)
{
    struct first_look look;
    assert_ok(first_look_get(bench->ledger, bench_round(bench).id, &look, &bench->err),
              &bench->err);
    return look;
}

static void nothing_was_looked_at(void **state)
{
    struct first_look found = first_look_of(*state);
    assert_int_equal(found.looked_at, 0);
    assert_string_equal(found.first_day, "");
}

/* The order of the fish is theirs, whoever called them: the rule goes by dishes. */
static void fish_add_up_in_their_order(void **state)
{
    struct bench *bench = *state;
    int64_t ines;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    call_fish(bench, ines, true, 4);
    call_fish(bench, 0, false, 16);
    call_fish(bench, ines, true, 2);
    bench->now += INT64_C(24) * 60 * 60 * 1000;
    call_fish(bench, 0, false, 1);
    struct first_look found = first_look_of(bench);
    assert_int_equal(found.looked_at, 23);
    assert_int_equal(found.good, 6);
    assert_int_equal(found.good_in_dish[0], 4);
    assert_int_equal(found.good_in_dish[1], 2);
    assert_int_equal(strlen(found.first_day), 10);
    assert_true(strcmp(found.first_day, found.last_day) < 0);
}

/* A judge takes back only his own fish, from the last one back; a row is never lost. */
static void undo_of_a_first_look_is_ones_own(void **state)
{
    struct bench *bench = *state;
    int64_t ines, round = bench_round(bench).id;
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    call_fish(bench, ines, true, 1);
    call_fish(bench, ines, false, 1);
    call_fish(bench, 0, true, 1);
    assert_ok(first_look_undo(bench->ledger, round, ines, NULL, &bench->err), &bench->err);
    assert_int_equal(first_look_of(bench).looked_at, 2);
    assert_int_equal(first_look_of(bench).good, 2);
    assert_ok(first_look_undo(bench->ledger, round, ines, NULL, &bench->err), &bench->err);
    assert_int_equal(first_look_of(bench).good, 1);
    assert_says(first_look_undo(bench->ledger, round, ines, NULL, &bench->err), &bench->err,
                "no key left");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM first_look_stroke"), 5);
}

/* What is on the disk after a key comes back with the place. */
static void a_key_writes_the_place(void **state)
{
    struct bench *bench = *state;
    struct place place = {.round_id = bench_round(bench).id, .number = 2, .in_sheet = true};
    assert_ok(first_look_record(bench->ledger, place.round_id, 0, true, &place, &bench->err),
              &bench->err);
    bench_close(bench);
    bench_open(bench);
    struct place found = {.round_id = 0};
    assert_ok(place_get(bench->ledger, 0, &found, &bench->err), &bench->err);
    assert_int_equal(found.round_id, place.round_id);
    assert_int_equal(found.number, 2);
    assert_true(found.in_sheet);
    assert_int_equal(first_look_of(bench).good, 1);
}

static void check_names_an_undo_of_a_first_look_that_cannot_be(void **state)
{
    struct bench *bench = *state;
    call_fish(bench, 0, true, 1);
    assert_ok(first_look_undo(bench->ledger, bench_round(bench).id, 0, NULL, &bench->err),
              &bench->err);
    assert_in_order(bench->ledger);
    bench_do(bench, "INSERT INTO first_look_stroke (id, round, at_ms, undoes) SELECT id + 1, round,"
                    " at_ms, id FROM first_look_stroke WHERE undoes IS NOT NULL");
    assert_wrong(bench->ledger, 2, "The first look of lot K1, stage second: an undo names a key");
}

/* Keys of a judged round are picks: anybody puts back what anybody picked, each sort by itself, and
 * the round's numbers know nothing of them. */
static void picks_are_put_back_by_anybody(void **state)
{
    struct bench *bench = *state;
    struct round round = tallied_round(bench, MANNER_JUDGE, 0);
    struct picks picks;
    int64_t aiko, ines;
    assert_ok(judge_named(bench->ledger, "Aiko", &aiko, &bench->err), &bench->err);
    assert_ok(judge_named(bench->ledger, "Ines", &ines, &bench->err), &bench->err);
    press(bench, &round, aiko, TALLY_KEEP, "", 0);
    press(bench, &round, aiko, TALLY_KEEP, "", 0);
    press(bench, &round, aiko, TALLY_KEEP, TALLY_STAYS, 0);
    assert_ok(pick_undo(bench->ledger, round.id, ines, "", NULL, &bench->err), &bench->err);
    assert_ok(picks_get(bench->ledger, round.id, &picks, &bench->err), &bench->err);
    assert_int_equal(picks.from_hold, 1);
    assert_int_equal(picks.stay, 1);
    assert_ok(pick_undo(bench->ledger, round.id, ines, TALLY_STAYS, NULL, &bench->err),
              &bench->err);
    assert_false(pick_undo(bench->ledger, round.id, ines, TALLY_STAYS, NULL, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
    assert_ok(picks_get(bench->ledger, round.id, &picks, &bench->err), &bench->err);
    assert_int_equal(picks_total(&picks), 1);
    struct tally_totals sum = totals(bench, &round);
    assert_int_equal(sum.kept.number, 0);
    assert_string_equal(sum.first_day, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(picks_are_put_back_by_anybody),
        on_stocked_bench(keys_add_up),
        on_stocked_bench(scoops_keep_their_size),
        on_stocked_bench(each_judge_has_a_scoop),
        on_stocked_bench(undo_is_ones_own),
        on_stocked_bench(the_lots_number_settles_a_pick),
        on_stocked_bench(an_untouched_round_settles_nothing),
        on_stocked_bench(check_names_an_undo_that_cannot_be),
        on_stocked_bench(pace_is_a_judges_own),
        on_stocked_bench(key_and_place_are_one),
        on_stocked_bench(every_acknowledged_key_outlives_the_program),
        on_stocked_bench(nothing_was_looked_at),
        on_stocked_bench(fish_add_up_in_their_order),
        on_stocked_bench(undo_of_a_first_look_is_ones_own),
        on_stocked_bench(a_key_writes_the_place),
        on_stocked_bench(check_names_an_undo_of_a_first_look_that_cannot_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
