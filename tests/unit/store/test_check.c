#include "bench.h"
#include "private.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/tallies.h"
#include "support/check.h"

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

/* A ledger with a row of every kind, and nothing to say against it. */
static void fill(struct bench *bench)
{
    struct tally_mark mark = {.kind = TALLY_KEEP};
    int64_t samples[] = {30, 32}, round;
    judge_all_sorts(bench);
    move_fish_about(bench);
    round = bench_round(bench).id;
    assert_true(scoop_measure(samples, 2, &mark.scoop));
    assert_ok(scoop_save(bench->ledger, round, 0, &mark.scoop, NULL, &bench->err), &bench->err);
    for (int i = 0; i < 2; i++)
        assert_ok(tally_record(bench->ledger, round, 0, &mark, NULL, &bench->err), &bench->err);
    assert_ok(tally_undo(bench->ledger, round, 0, NULL, &mark, &bench->err), &bench->err);
    for (int i = 0; i < 2; i++)
        assert_ok(first_look_record(bench->ledger, round, 0, true, NULL, &bench->err), &bench->err);
    assert_ok(first_look_undo(bench->ledger, round, 0, NULL, &bench->err), &bench->err);
    bench_do(bench, "INSERT INTO pass SELECT s.number << 32 | (s.serial + 1), r.id, 1, v.id, NULL,"
                    " 1, NULL, 1785052800000, 0, 1, 0, 0 FROM round AS r, station AS s,"
                    " (SELECT min(id) AS id FROM standard_version) AS v;"
                    "INSERT INTO decision_reason SELECT id, 1, 'score', 'score' FROM pass;"
                    "INSERT INTO decision SELECT p.id, f.id, 'keep', 1, NULL, NULL, f.judgement_key"
                    " FROM pass AS p, (SELECT min(id) AS id FROM fish) AS g"
                    " JOIN fish AS f ON f.id = g.id;"
                    "UPDATE station SET serial = serial + 1");
    struct check_result result;
    struct text said;
    text_init(&said);
    check_into(bench->ledger, true, &said, &result); /* what the pass means for each fish */
    text_done(&said);
    assert_in_order(bench->ledger);
}

/* What each rule is broken by, and what it says then. The first of a kind stands for all that
 * follows from it. */
static const struct breakage {
    const char *sql, *says;
    bool remark, derived;
} breakages[] = {
    {"PRAGMA foreign_keys = OFF; DELETE FROM bowl WHERE number = 2",
     "that they belong to is missing", false, false},
    {"UPDATE standard_version SET text = 'nonsense'", "the standard kikusui-second", false, false},
    {"DELETE FROM ledger", "does not say which station it is", false, false},
    {"UPDATE spawning SET date = '2026-06-31' WHERE code = 'K1'",
     "Spawning K1: 2026-06-31 is no day of the calendar.", false, false},
    {"UPDATE lot_event SET day = '2026-02-30' WHERE kind = 'dead'", "Lot K1: 2026-02-30 is no day",
     false, false},
    {"UPDATE spawning SET eggs = 100000001, hatched = 0 WHERE code = 'K2'",
     "Spawning K2: 100000001 fish are more than there can be.", false, false},
    {"INSERT INTO stroke (id, fish, look, seq, checking, correction, at_ms, undoes) "
     "SELECT (7 << 32) + 1, fish, 1, 99, 0, 0, 1785052800000, (SELECT max(id) FROM stroke) "
     "FROM stroke ORDER BY id LIMIT 1",
     "an undo names a stroke of another fish", false, false},
    {"INSERT INTO tally_stroke (id, round, at_ms, undoes) SELECT id + 1000, round, at_ms, id"
     " FROM tally_stroke WHERE undoes IS NOT NULL",
     "The tally of lot K1, stage second: an undo names a key", false, false},
    {"INSERT INTO first_look_stroke (id, round, at_ms, undoes) SELECT id + 1000, round, at_ms, id"
     " FROM first_look_stroke WHERE undoes IS NOT NULL",
     "The first look of lot K1, stage second: an undo names a key", false, false},
    {"UPDATE lot_event SET lot = (SELECT id FROM lot WHERE code = 'west') WHERE undoes IS NOT NULL",
     "Lot K1 west: an undo names an event of another lot, or another undo.", false, false},
    {"INSERT INTO lot_event (id, lot, revision, day, at_ms, undoes) SELECT id + 1000, lot, "
     "revision,"
     " day, at_ms, undoes FROM lot_event WHERE undoes IS NOT NULL",
     "Lot K1: an event was undone twice.", false, false},
    {"UPDATE tally_stroke SET id = id >> 32 << 32 WHERE undoes IS NOT NULL",
     "The tally of lot K1, stage second: an undo stands before", false, false},
    {"UPDATE stroke SET seq = 1 WHERE id = (SELECT id FROM stroke WHERE seq = 2 LIMIT 1)",
     "its strokes are out of order", false, false},
    {"UPDATE stroke SET scores = '3' WHERE id = (SELECT min(id) FROM stroke WHERE scores <> '')",
     "a stroke has more or fewer scores", false, false},
    {"UPDATE round SET standard = 'none'", "its standard none is not in the ledger", false, false},
    {"INSERT INTO round (id, lot, stage, manner, waiting) SELECT 5 << 32, id, 'third', 'judge',"
     " 'cell' FROM lot WHERE code = 'west'; UPDATE bowl SET round = 5 << 32",
     "its pass decided a fish of another cull", false, false},
    {"UPDATE scoop SET squares = fish", "no scoops can have held 62 fish in 2 samples", false,
     false},
    {"INSERT INTO round (id, lot, stage, manner, waiting) SELECT 5 << 32, id, 'third', 'judge',"
     " 'cell' FROM lot WHERE code = 'west'; UPDATE scoop SET round = 5 << 32",
     "a key of its tally counts with a scoop of another cull", false, false},
    {"DELETE FROM lot_source WHERE lot = (SELECT id FROM lot WHERE code = 'both')",
     "Lot both: it is mixed, but of fewer than two spawnings.", false, false},
    {"UPDATE lot_event SET target = (SELECT id FROM lot WHERE code = 'K2') WHERE number = 5"
     " AND kind = 'transfer'",
     "Lot K2: it has fish of a spawning that is not one of its own.", false, false},
    {"UPDATE parent SET dam = (SELECT id FROM parent WHERE code = 'S2') WHERE code = 'S1';"
     "UPDATE parent SET sire = (SELECT id FROM parent WHERE code = 'S1') WHERE code = 'S2'",
     "Parent S1: by its dams and sires it descends from itself.", false, false},
    {"UPDATE parent SET sex = 'm' WHERE code = 'D1'", "Spawning K1: its dam D1 is male.", false,
     false},
    {"INSERT INTO audit_log (id, kind, record, field, new_value, revision, at_ms, why)"
     " VALUES (3 << 32, 'bowl', 12345, 'day', '', 1, 1785052800000, '')",
     "A change of a bowl is logged that is not in the ledger.", false, false},
    {"INSERT INTO lot_source SELECT l.id, s.id FROM lot AS l, spawning AS s WHERE l.code = 'west'"
     " AND s.code = 'K2'",
     "Lot K1 west: the spawnings of its fish are not those of its name.", false, true},
    {"UPDATE fish SET closed_ms = closed_ms + 1 WHERE number = 2",
     "Bowl 1, fish 2: when it was closed", false, true},
    {"UPDATE round SET pass = NULL", "Lot K1, stage second: its latest pass is not the one", false,
     true},
    {"UPDATE fish SET verdict = 'keep' WHERE number = 9",
     "Lot K1, stage second, bowl 1, fish 9: what stands of it", false, true},
    {"UPDATE fish SET judged = 'keep', could_be_kept = 1 WHERE number = 9",
     "Lot K1, stage second, bowl 1, fish 9: its verdict is not what its strokes add up to.", false,
     true},
    {"UPDATE fish SET (judged, score, unit) = ('open', NULL, NULL) WHERE judged = 'reject'",
     "its verdict is not what its strokes add up to.", false, true},
    {"UPDATE bowl SET fish_keep = fish_keep + 1, last_ms = 0 WHERE number = 2",
     "Lot K1, stage second, bowl 2: its fish by verdict are miscounted.", false, true},
    {"UPDATE round SET fish_hold = 7, first_ms = NULL",
     "Lot K1, stage second: its fish by verdict are miscounted.", false, true},
    {"UPDATE round SET bowls = bowls + 1",
     "Lot K1, stage second: its fish by verdict are miscounted.", false, true},
    {"UPDATE round SET fish_held = 0", "Lot K1, stage second: its fish by verdict are miscounted.",
     false, true},
    {"UPDATE pass SET fish_keep = 8", "the fish that a pass decided are miscounted", false, true},
    {"UPDATE station SET serial = 1", "Station bench: it would give numbers a second time.", false,
     true},
    {"UPDATE standard_item SET code = 'head' WHERE code = 'body'",
     "Standard kikusui-second, version 1: its aspects and faults are not", false, true},
    {"UPDATE parent SET born = 2027 WHERE code = 'D1'",
     "Spawning K1: its dam D1 was born in 2027, not before it.", true, false},
    {"UPDATE spawning SET date = '2026-12-01' WHERE code = 'K1'",
     "Lot K1, stage second: its day 2026-07-26 is before its spawning, 2026-12-01.", true, false},
    {"UPDATE bowl SET day = '2026-08-26' WHERE number = 1",
     "Lot K1, stage second, bowl 1: it was judged before 2026-08-26", true, false},
    {"UPDATE lot SET retired_ms = 1885052800000 WHERE own; UPDATE spawning SET retired_ms ="
     " 1885052800000",
     "The second cull of K1 is not retired", true, false},
    {"UPDATE bowl SET retired_ms = 1585052800000 WHERE number = 1; UPDATE round SET"
     " (bowls, fish_held, fish_open, fish_keep, fish_hold, fish_reject, fish_changed, first_ms,"
     " last_ms) = (SELECT 1, max(coalesce(expected, 0), fish_open + fish_keep + fish_hold +"
     " fish_reject), fish_open, fish_keep, fish_hold, fish_reject, fish_changed, first_ms, last_ms"
     " FROM bowl WHERE number = 2)",
     "Lot K1, stage second, bowl 1: it was judged after it was retired.", true, false},
    {"INSERT INTO judge (id, name, same_as, retired_ms) VALUES (1 << 40, 'A', NULL, NULL),"
     " ((1 << 40) + 1, 'B', 1 << 40, 1), ((1 << 40) + 2, 'C', (1 << 40) + 1, 1)",
     "Judge C is said to be B, who is said to be somebody else.", true, false},
    {"UPDATE scoop SET at_ms = 1000", "Scoops: 1 of before 2000, the first at 1970-01-01", true,
     false},
    {"UPDATE scoop SET at_ms = 4102444800000", "Scoops: 1 of after now, the last at 2100-01-01",
     true, false},
    {"UPDATE scoop SET at_ms = at_ms + 36000000", "Station bench: its clock went back from", true,
     false},
};

/* What is not found, whole, before the test fails. */
static int print_breakage(const struct breakage *broken, const struct check_result *result,
                          const struct text *said)
{
    print_error("%s:\n%zu wrong, %zu remarks: %s", broken->sql, result->wrong, result->remarks,
                said->data);
    return 1;
}

static int broken_rules;

static void break_and_check(const struct breakage *broken, bool repairs)
{
    void *state;
    struct check_result result;
    struct text said;
    text_init(&said);
    bench_set_up_stocked(&state);
    struct bench *bench = state;
    fill(bench);
    bench_do(bench, broken->sql);
    check_into(bench->ledger, false, &said, &result);
    if (strstr(said.data, broken->says) == NULL ||
        (broken->remark ? result.wrong : result.remarks) != 0 ||
        (broken->remark ? result.remarks : result.wrong) == 0)
        broken_rules += print_breakage(broken, &result, &said);
    if (repairs) {
        check_into(bench->ledger, true, &said, &result);
        assert_true(result.repaired > 0);
        assert_non_null(strstr(said.data, broken->says));
        assert_in_order(bench->ledger);
    }
    text_done(&said);
    bench_tear_down(&state);
}

static void each_rule_finds_what_breaks_it(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof breakages / sizeof *breakages; i++)
        break_and_check(&breakages[i], breakages[i].derived);
    assert_int_equal(broken_rules, 0);
}

/* Finding writes nothing, a repair only what is derived, and neither anything to a sound ledger. */
static void a_check_writes_nothing(void **state)
{
    struct bench *bench = *state;
    struct check_result result;
    struct text said;
    text_init(&said);
    fill(bench);
    bench_do(bench, "UPDATE fish SET verdict = 'keep' WHERE number = 9");
    int before = sqlite3_total_changes(bench->ledger->db);
    check_into(bench->ledger, false, &said, &result);
    assert_true(result.wrong > 0);
    assert_int_equal(sqlite3_total_changes(bench->ledger->db), before);
    check_into(bench->ledger, true, &said, &result);
    assert_true(sqlite3_total_changes(bench->ledger->db) > before);
    before = sqlite3_total_changes(bench->ledger->db);
    check_into(bench->ledger, true, &said, &result);
    assert_int_equal(result.repaired, 0);
    assert_int_equal(sqlite3_total_changes(bench->ledger->db), before);
    text_done(&said);
}

/* What is wrong besides is left to people. */
static void a_repair_leaves_what_was_recorded(void **state)
{
    struct bench *bench = *state;
    struct check_result result;
    struct text said;
    text_init(&said);
    fill(bench);
    bench_do(bench, "UPDATE parent SET sex = 'm' WHERE code = 'D1';"
                    "UPDATE bowl SET fish_keep = 100 WHERE number = 1");
    check_into(bench->ledger, true, &said, &result);
    assert_int_equal(result.repaired, 1);
    assert_wrong(bench->ledger, 1, "its dam D1 is male");
    text_done(&said);
}

static void a_damaged_file_is_not_repaired(void **state)
{
    struct bench *bench = *state;
    struct check_result result;
    struct check_listener listener = {.found = keep_finding};
    struct text said;
    text_init(&said);
    listener.context = &said;
    fill(bench);
    bench_do(bench, "PRAGMA ignore_check_constraints = ON;"
                    "UPDATE fish SET number = -1, verdict = 'keep' WHERE number = 9");
    assert_says(ledger_repair(bench->ledger, &listener, &result, &bench->err), &bench->err,
                "The ledger is damaged");
    assert_int_equal(bench->err.code, ERR_DAMAGE);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM fish WHERE number = -1"), 1);
    assert_non_null(strstr(said.data, "A record holds a value that cannot be."));
    text_done(&said);
}

/* A thousand equal findings are three and a number. */
static void many_of_a_kind_are_told_as_one(void **state)
{
    struct bench *bench = *state;
    struct check_result result;
    struct text said;
    text_init(&said);
    fill(bench);
    bench_do(bench, "UPDATE fish SET closed_ms = 1");
    check_into(bench->ledger, false, &said, &result);
    assert_true(result.wrong >= 7);
    int lines = 0;
    for (const char *at = said.data; (at = strstr(at, "when it was closed")) != NULL; at++)
        lines++;
    assert_int_equal(lines, 3);
    text_done(&said);
}

static void a_sound_ledger_has_no_findings(void **state)
{
    fill(*state);
}

/* Put into another bowl, a fish takes its place in the counters along. */
static void the_counters_follow_a_fish_into_another_bowl(void **state)
{
    struct bench *bench = *state;
    judge_all_sorts(bench);
    bench_do(bench, "UPDATE fish SET bowl = (SELECT id FROM bowl WHERE number = 2) "
                    "WHERE number IN (2, 9)");
    assert_in_order(bench->ledger);
    assert_int_equal(bench_ask(bench, "SELECT fish_open + fish_keep + fish_hold + fish_reject "
                                      "FROM bowl WHERE number = 2"),
                     5);
}

/* Two stations may each have taken the same event back. */
static void an_event_taken_back_at_two_stations_is_no_finding(void **state)
{
    struct bench *bench = *state;
    move_fish_about(bench);
    bench_do(bench, "INSERT INTO lot_event (id, lot, revision, day, at_ms, undoes) "
                    "SELECT (7 << 32) + 1, lot, revision, day, at_ms, undoes FROM lot_event "
                    "WHERE undoes IS NOT NULL");
    assert_in_order(bench->ledger);
}

static int steps_heard;

static void hear_step(void *context, int done, int of)
{
    (void)context;
    assert_true(done >= 0 && done <= of);
    steps_heard++;
}

static void a_check_tells_how_far_it_is(void **state)
{
    struct bench *bench = *state;
    struct check_result result;
    struct text said;
    text_init(&said);
    struct check_listener listener = {keep_finding, hear_step, &said};
    assert_ok(ledger_check(bench->ledger, &listener, &result, &bench->err), &bench->err);
    assert_true(steps_heard > 30);
    assert_int_equal(result.fish, 0);
    text_done(&said);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_sound_ledger_has_no_findings),
        cmocka_unit_test(each_rule_finds_what_breaks_it),
        on_stocked_bench(a_check_writes_nothing),
        on_stocked_bench(a_repair_leaves_what_was_recorded),
        on_stocked_bench(a_damaged_file_is_not_repaired),
        on_stocked_bench(many_of_a_kind_are_told_as_one),
        on_stocked_bench(the_counters_follow_a_fish_into_another_bowl),
        on_stocked_bench(an_event_taken_back_at_two_stations_is_no_finding),
        on_stocked_bench(a_check_tells_how_far_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
