#include "bench.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/lot_events.h"

#include <unistd.h>

/* The last finding's sentence. */
static void remember(void *context, const char *sentence)
{
    snprintf(context, 512, "%s", sentence);
}

static int check(struct bench *bench, char sentence[512])
{
    int findings = -1;
    sentence[0] = '\0';
    assert_ok(ledger_check(bench->ledger, remember, sentence, &findings, &bench->err), &bench->err);
    return findings;
}

/* Fish that were kept, rejected, held by hand, taken back and looked at twice. */
static void judge_all_sorts(struct bench *bench)
{
    for (int number = 1; number <= 6; number++) {
        int64_t fish = bench_fish(bench, 1 + number % 2, number);
        bench_stroke(bench, fish, 1, bench_score("white", number % 5 + 1));
        bench_stroke(bench, fish, 1, bench_score("body", 4));
        bench_stroke(bench, fish, 1, bench_close_entry(VERDICT_KEEP));
    }
    int64_t fish = bench_fish(bench, 1, 9);
    bench_stroke(bench, fish, 1, bench_fault("spine", 1));
    bench_stroke(bench, fish, 1, bench_close_entry(VERDICT_REJECT));
    bench_stroke(bench, fish, 2, bench_fault("spine", 0));
    bench_stroke(bench, fish, 2,
                 (struct entry){.kind = ENTRY_VERDICT, .number = VERDICT_HOLD, .text = "why"});
}

static void a_sound_ledger_has_no_findings(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    if (check(bench, sentence) != 0)
        fail_msg("%s", sentence);
}

static void a_tampered_verdict_is_found_and_summed_anew(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE fish SET judged = 'keep', could_be_kept = 1 WHERE number = 9");
    assert_int_equal(check(bench, sentence), 2); /* and what stands was not what it says */
    assert_non_null(strstr(sentence, "Lot K1, stage second, bowl 1, fish 9"));
    assert_int_equal(check(bench, sentence), 0);
}

static void what_stands_is_compared_with_the_judgement(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE fish SET verdict = 'keep' WHERE number = 9");
    assert_int_equal(check(bench, sentence), 1);
    assert_string_equal(sentence,
                        "Lot K1, stage second, bowl 1, fish 9: what stands of it did not match its "
                        "judgement and the latest pass; it was corrected.");
    assert_int_equal(check(bench, sentence), 0);
    bench_do(bench, "UPDATE fish SET changed = 1 WHERE number = 9");
    assert_int_equal(check(bench, sentence), 1);
    assert_int_equal(check(bench, sentence), 0);
    assert_int_equal(bench_ask(bench, "SELECT fish_changed FROM round"), 0);
}

static void a_round_names_its_latest_pass(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "INSERT INTO pass SELECT 1, r.id, 1, v.id, NULL, NULL, 0, 0, 0, 0, 0 "
                    "FROM round AS r, (SELECT min(id) AS id FROM standard_version) AS v");
    assert_int_equal(check(bench, sentence), 8); /* the pass, and seven fish that it has not seen */
    assert_int_equal(check(bench, sentence), 0);
    assert_int_equal(bench_ask(bench, "SELECT pass FROM round"), 1);
    assert_int_equal(bench_ask(bench, "SELECT fish_changed FROM round"), 7);
}

/* Put into another bowl, a fish takes its place in the counters along. */
static void the_counters_follow_a_fish_into_another_bowl(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE fish SET bowl = (SELECT id FROM bowl WHERE number = 2) "
                    "WHERE number IN (2, 9)");
    if (check(bench, sentence) != 0)
        fail_msg("%s", sentence);
    assert_int_equal(bench_ask(bench, "SELECT fish_open + fish_keep + fish_hold + fish_reject "
                                      "FROM bowl WHERE number = 2"),
                     5);
}

static void a_forgotten_verdict_is_found(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE fish SET (judged, score, unit) = ('open', NULL, NULL) "
                    "WHERE judged = 'reject'");
    assert_true(check(bench, sentence) > 0);
    assert_int_equal(check(bench, sentence), 0);
}

static void a_wrong_instant_is_found(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE fish SET closed_ms = closed_ms + 1 WHERE number = 2");
    assert_int_equal(check(bench, sentence), 1);
    assert_non_null(strstr(sentence, "Bowl 1, fish 2: when it was closed"));
    assert_int_equal(check(bench, sentence), 0);
}

/* Triggers carry a bowl's numbers to its round: both are right again with the bowl. */
static void miscounted_bowls_and_rounds_are_counted_anew(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE bowl SET fish_keep = fish_keep + 1, last_ms = 0 WHERE number = 2");
    assert_int_equal(check(bench, sentence), 1);
    assert_string_equal(sentence, "Lot K1, stage second, bowl 2: its fish by verdict were "
                                  "miscounted; they were counted again.");
    bench_do(bench, "UPDATE round SET fish_hold = 7, first_ms = NULL");
    assert_int_equal(check(bench, sentence), 1);
    assert_string_equal(
        sentence,
        "Lot K1, stage second: its fish by verdict were miscounted; they were counted again.");
    assert_int_equal(check(bench, sentence), 0);
    assert_int_equal(bench_ask(bench, "SELECT sum(fish_open + fish_keep + fish_hold + fish_reject)"
                                      " FROM round"),
                     7);
}

static void records_without_what_they_belong_to_are_found(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "PRAGMA foreign_keys = OFF; DELETE FROM bowl WHERE number = 2");
    assert_true(check(bench, sentence) >= 3);
    assert_non_null(strstr(sentence, "belongs to a bowl that is missing"));
}

static void an_undo_of_another_fish_is_found(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "INSERT INTO stroke (id, fish, look, seq, checking, correction, at_ms, undoes) "
                    "SELECT 77, fish, 1, 99, 0, 0, 0, (SELECT max(id) FROM stroke) "
                    "FROM stroke ORDER BY id LIMIT 1");
    assert_int_equal(check(bench, sentence), 1);
    assert_non_null(strstr(sentence, "an undo names a stroke of another fish"));
}

/* K2 beside K1; of K1 a lot west, into which 5 fish were put; all of both in a lot together. */
static void move_fish_about(struct bench *bench)
{
    struct spawning spawning = {
        .code = "K2", .season = 2026, .eggs = NOT_COUNTED, .hatched = NOT_COUNTED};
    struct lot_event event, taken;
    enum saved saved;
    int64_t lots[2], west, both;
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
    assert_ok(lot_begin(bench->ledger, "K1", "", &lots[0], &bench->err), &bench->err);
    assert_ok(lot_begin(bench->ledger, "K2", "", &lots[1], &bench->err), &bench->err);
    lot_event_init(&event);
    event.lot_id = lots[0];
    event.fish.number = 5;
    snprintf(event.day, sizeof event.day, "2026-07-20");
    assert_ok(lot_split(bench->ledger, &event, "west", 0, &west, &bench->err), &bench->err);
    assert_ok(lot_merge(bench->ledger, lots, 2, "both", &event, 0, &both, &bench->err),
              &bench->err);
    event.kind = EVENT_DEAD;
    assert_ok(lot_event_record(bench->ledger, &event, 0, &bench->err), &bench->err);
    assert_ok(lot_last_event(bench->ledger, lots[0], &event, &bench->err), &bench->err);
    assert_ok(lot_undo(bench->ledger, lots[0], event.id, 0, &taken, &bench->err), &bench->err);
}

static void assert_finding(struct bench *bench, const char *tampering, const char *finding)
{
    char sentence[512];
    if (check(bench, sentence) != 0)
        fail_msg("%s", sentence);
    bench_do(bench, tampering);
    assert_int_equal(check(bench, sentence), 1);
    assert_string_equal(sentence, finding);
}

static void an_undo_of_another_lots_event_is_found(void **state)
{
    move_fish_about(*state);
    assert_finding(*state,
                   "UPDATE lot_event SET lot = (SELECT id FROM lot WHERE code = 'west') "
                   "WHERE undoes IS NOT NULL",
                   "Lot west: an undo names an event of another lot, or another undo.");
}

/* Two stations may each have taken the same event back. */
static void an_event_taken_back_twice_is_found(void **state)
{
    char sentence[512];
    struct bench *bench = *state;
    move_fish_about(bench);
    bench_do(bench, "INSERT INTO lot_event (id, lot, revision, day, at_ms, undoes) "
                    "SELECT (7 << 32) + 1, lot, revision, day, at_ms, undoes FROM lot_event "
                    "WHERE undoes IS NOT NULL");
    assert_int_equal(check(bench, sentence), 0);
    assert_finding(bench,
                   "INSERT INTO lot_event (id, lot, revision, day, at_ms, undoes) "
                   "SELECT (7 << 32) + 2, lot, revision, day, at_ms, undoes FROM lot_event "
                   "WHERE undoes IS NOT NULL LIMIT 1",
                   "Lot K1: an event was undone twice.");
}

static void fish_among_strangers_are_found(void **state)
{
    move_fish_about(*state);
    assert_finding(*state,
                   "UPDATE lot_event SET target = (SELECT id FROM lot WHERE code = 'K2') "
                   "WHERE number = 5 AND kind = 'transfer'",
                   "Lot K2: it has fish of a spawning that is not one of its own.");
}

static void a_lot_of_other_spawnings_than_its_name_says_is_found(void **state)
{
    move_fish_about(*state);
    assert_finding(*state,
                   "INSERT INTO lot_source SELECT l.id, s.id FROM lot AS l, spawning AS s "
                   "WHERE l.code = 'west' AND s.code = 'K2'",
                   "Lot west: the spawnings of its fish are not those of its name.");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_sound_ledger_has_no_findings),
        on_stocked_bench(a_tampered_verdict_is_found_and_summed_anew),
        on_stocked_bench(what_stands_is_compared_with_the_judgement),
        on_stocked_bench(a_round_names_its_latest_pass),
        on_stocked_bench(the_counters_follow_a_fish_into_another_bowl),
        on_stocked_bench(a_forgotten_verdict_is_found),
        on_stocked_bench(a_wrong_instant_is_found),
        on_stocked_bench(miscounted_bowls_and_rounds_are_counted_anew),
        on_stocked_bench(records_without_what_they_belong_to_are_found),
        on_stocked_bench(an_undo_of_another_fish_is_found),
        on_stocked_bench(an_undo_of_another_lots_event_is_found),
        on_stocked_bench(an_event_taken_back_twice_is_found),
        on_stocked_bench(fish_among_strangers_are_found),
        on_stocked_bench(a_lot_of_other_spawnings_than_its_name_says_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
