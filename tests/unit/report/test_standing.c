/* Whatever is done in a round, everybody tells the same of it: strokes, undos, passes and new
 * thresholds in random order, and after each of them the fish, the counters of bowls and round, the
 * summary, the list and the rates agree with the rule (docs/decisions/standing.md). */
#include "bench.h"
#include "private.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/rates.h"
#include "senbetsu/report/rounds.h"
#include "support/check.h"

#include <stdlib.h>

enum { BOWLS = 2, BOWL_FISH = 5, FISH = BOWLS * BOWL_FISH, STEPS = 150 };

/* What the rule needs to know of a fish. */
struct told {
    int64_t id, last;     /* its last stroke that can be undone, 0 = none */
    bool passed;          /* it was there when the round was passed last */
    int64_t judgement;    /* its key as that pass saw it */
    enum verdict decided; /* by that pass */
};

struct play {
    struct bench *bench;
    struct standard_version version;
    struct told fish[FISH];
    bool passed;
    unsigned seed;
};

static int chance(struct play *play, int sides)
{
    play->seed = play->seed * 1103515245U + 12345U;
    return (int)(play->seed >> 16) % sides;
}

static struct fish known(struct play *play, int64_t id)
{
    struct fish fish;
    struct err *err = &play->bench->err;
    assert_ok(fish_load(play->bench->ledger, id, &play->version.standard, &fish, err), err);
    return fish;
}

static void write(struct play *play, struct told *told, struct fish *fish, struct stroke *stroke)
{
    struct err *err = &play->bench->err;
    struct cached_verdict cached = fish_cached_verdict(fish, &play->version.standard);
    stroke->fish = told->id;
    stroke->standard = play->version.id;
    assert_ok(stroke_record(play->bench->ledger, stroke, &cached, NULL, err), err);
    play->bench->now += 1000;
}

static void add(struct stroke *stroke, struct fish *fish, const struct standard *standard,
                struct entry entry)
{
    stroke->entries[stroke->entry_count++] = entry;
    fish_apply(fish, standard, stroke->look, stroke->at_ms, &entry);
}

/* A few scores or a fault, perhaps a verdict by hand, closed where that decides; sometimes there is
 * no place. */
static void judge(struct play *play, struct told *told)
{
    static const char *const aspects[] = {"white", "body"};
    const struct standard *standard = &play->version.standard;
    struct bench *bench = play->bench;
    if (told->id == 0)
        told->id = bench_fish(bench, 1 + (int)(told - play->fish) / BOWL_FISH,
                              1 + (int)(told - play->fish) % BOWL_FISH);
    struct fish fish = known(play, told->id);
    struct stroke stroke = {.look = fish.look == 0 ? 1 : fish.look, .at_ms = bench->now};
    if (fish.closed && chance(play, 4) == 0)
        stroke.look++;
    for (int i = 0; i < 2; i++)
        if (chance(play, 4) > 0)
            add(&stroke, &fish, standard, bench_score(aspects[i], 1 + chance(play, 5)));
    if (chance(play, 6) == 0)
        add(&stroke, &fish, standard, bench_fault("spine", chance(play, 2)));
    if (chance(play, 8) == 0)
        add(&stroke, &fish, standard,
            (struct entry){.kind = ENTRY_VERDICT, .number = chance(play, VERDICT_COUNT)});
    enum verdict verdict = judgement_decide(standard, &fish.judgement).verdict;
    if (verdict != VERDICT_OPEN) {
        struct entry close = bench_close_entry(verdict);
        if (verdict == VERDICT_KEEP && chance(play, 3) == 0) {
            close.number = VERDICT_HOLD;
            snprintf(close.what, sizeof close.what, CLOSE_NO_PLACE);
        }
        add(&stroke, &fish, standard, close);
    }
    if (stroke.entry_count == 0)
        return;
    write(play, told, &fish, &stroke);
    told->last = stroke.id;
}

static void undo(struct play *play, struct told *told)
{
    struct bench *bench = play->bench;
    struct stroke stroke = {.fish = told->id, .look = 1, .at_ms = bench->now, .undoes = told->last};
    if (told->last == 0)
        return;
    assert_ok(transaction_begin(bench->ledger, &bench->err), &bench->err);
    assert_ok(stroke_record(bench->ledger, &stroke, NULL, NULL, &bench->err), &bench->err);
    struct fish fish = known(play, told->id);
    transaction_rollback(bench->ledger);
    write(play, told, &fish, &stroke);
    told->last = 0;
}

static void pass(struct play *play)
{
    struct bench *bench = play->bench;
    struct round round = bench_round(bench);
    struct pass_run run;
    bool recorded = false;
    assert_ok(pass_run_load(bench->ledger, &round, NULL, &run, &bench->err), &bench->err);
    if (run.count > 0) {
        run.places = chance(play, FISH + 1) - 1;
        pass_run_decide(&run);
        assert_ok(pass_run_record(bench->ledger, &run, 0, &recorded, &bench->err), &bench->err);
        assert_true(recorded);
        play->passed = true;
    }
    for (struct told *told = play->fish; told < play->fish + FISH; told++)
        for (size_t i = 0; i < run.count; i++)
            if (run.fish[i].id == told->id) {
                told->passed = true;
                told->decided = run.decisions[i].verdict;
                struct fish fish;
                assert_ok(fish_load(bench->ledger, told->id, &run.standard, &fish, &bench->err),
                          &bench->err);
                struct judgement seen = fish_deciding(&fish, &run.standard);
                told->judgement = judgement_key(&run.standard, &seen);
            }
    pass_run_done(&run);
}

static void move_thresholds(struct play *play)
{
    struct bench *bench = play->bench;
    struct standard standard = play->version.standard;
    enum saved saved;
    standard.keep_at = 4000 + 500 * chance(play, 9);
    standard.hold_at = standard.keep_at - 1000;
    assert_ok(standard_save(bench->ledger, &standard, ORIGIN_IMPORTED, &play->version, &saved,
                            &bench->err),
              &bench->err);
}

static enum verdict expected(const struct play *play, const struct told *told,
                             const struct fish *fish, bool *ret_changed)
{
    const struct standard *standard = &play->version.standard;
    struct judgement deciding = fish_deciding(fish, standard);
    struct decision decision = judgement_decide(standard, &deciding);
    int64_t key = judgement_key(standard, &deciding);
    bool stands = told->passed && told->judgement == key;
    *ret_changed = play->passed && !stands && key != 0;
    if (stands)
        return told->decided;
    return fish->no_place && decision.verdict == VERDICT_KEEP && decision.reason == REASON_SCORE
               ? VERDICT_HOLD
               : decision.verdict;
}

static void assert_counts(const struct verdict_counts *a, const struct verdict_counts *b)
{
    assert_memory_equal(a->verdicts, b->verdicts, sizeof a->verdicts);
    assert_int_equal(a->changed, b->changed);
    assert_int_equal(a->judged, b->judged);
}

static void assert_bowls(struct bench *bench, const struct verdict_counts of_bowls[BOWLS])
{
    struct bowl *bowls;
    size_t count;
    assert_ok(bowl_list(bench->ledger, bench_round(bench).id, &bowls, &count, &bench->err),
              &bench->err);
    for (size_t i = 0; i < count; i++)
        assert_counts(&bowls[i].tally, &of_bowls[bowls[i].number - 1]);
    free(bowls);
}

static void assert_list(struct bench *bench, const struct verdict_counts *all)
{
    struct round round = bench_round(bench);
    struct cull_list list;
    int since = 0;
    assert_ok(cull_list_of_round(bench->ledger, &round, &list, &bench->err), &bench->err);
    struct cull_count count = cull_count_round(&list.rounds[0]);
    for (size_t i = 0; i < list.rounds[0].fish_count; i++)
        since += list.rounds[0].fish[i].since_pass;
    assert_memory_equal(count.fish, all->verdicts, sizeof count.fish);
    assert_int_equal(since, all->changed);
    cull_list_done(&list);
}

/* A rate only of a round that is done. */
static void assert_rates(struct bench *bench, const struct verdict_counts *all)
{
    struct rates rates;
    assert_ok(rates_make(bench->ledger, BY_SPAWNING, -1, NULL, &rates, &bench->err), &bench->err);
    assert_int_equal(rates.count, all->judged > 0);
    if (rates.count > 0) {
        assert_int_equal(rates.rows[0].cull.in, all->judged);
        assert_int_equal(rates.rows[0].cull.kept, all->verdicts[VERDICT_KEEP]);
        assert_int_equal(rates.rows[0].has_rate, all->verdicts[VERDICT_OPEN] == 0);
    }
    rates_done(&rates);
}

static void assert_all_agree(struct play *play)
{
    struct bench *bench = play->bench;
    struct verdict_counts all = {.expected = 0}, of_bowls[BOWLS] = {{.expected = 0}};
    struct round_summary summary;
    for (int i = 0; i < FISH; i++) {
        bool changed;
        if (play->fish[i].id == 0)
            continue;
        struct fish fish = known(play, play->fish[i].id);
        enum verdict verdict = expected(play, &play->fish[i], &fish, &changed);
        assert_int_equal(fish.stands, verdict);
        assert_int_equal(fish.changed, changed);
        verdict_counts_add(&all, verdict);
        verdict_counts_add(&of_bowls[i / BOWL_FISH], verdict);
        all.changed += changed;
        of_bowls[i / BOWL_FISH].changed += changed;
    }
    assert_ok(round_summary_get(bench->ledger, bench_round(bench).id, &summary, &bench->err),
              &bench->err);
    assert_counts(&summary.tally, &all);
    assert_int_equal(summary.pass.id != 0, play->passed);
    if (all.changed > 0)
        assert_true(round_pass_outdated(&summary));
    assert_bowls(bench, of_bowls);
    assert_list(bench, &all);
    assert_rates(bench, &all);
    assert_in_order(bench->ledger);
}

static void everybody_tells_the_same_of_a_round(void **state)
{
    struct play play = {.bench = *state, .seed = 9};
    struct bench *bench = play.bench;
    assert_ok(standard_named(bench->ledger, bench_standard()->name, &play.version, &bench->err),
              &bench->err);
    for (int step = 0; step < STEPS; step++) {
        struct told *told = &play.fish[chance(&play, FISH)];
        int what = chance(&play, 16);
        if (what == 0)
            pass(&play);
        else if (what == 1)
            move_thresholds(&play);
        else if (what < 5)
            undo(&play, told);
        else
            judge(&play, told);
        assert_all_agree(&play);
    }
}

static int64_t steps_of_trying(struct bench *bench)
{
    struct round round = bench_round(bench);
    struct pass_run run;
    int64_t steps = 0;
    for (sqlite3_stmt *each = NULL; (each = sqlite3_next_stmt(bench->ledger->db, each)) != NULL;)
        sqlite3_stmt_status(each, SQLITE_STMTSTATUS_VM_STEP, 1);
    assert_ok(pass_run_load(bench->ledger, &round, NULL, &run, &bench->err), &bench->err);
    pass_run_done(&run);
    for (sqlite3_stmt *each = NULL; (each = sqlite3_next_stmt(bench->ledger->db, each)) != NULL;)
        steps += sqlite3_stmt_status(each, SQLITE_STMTSTATUS_VM_STEP, 1);
    return steps;
}

/* A pass is tried on what the ledger keeps ready of each fish, however often it was corrected. */
static void trying_a_pass_looks_at_no_stroke(void **state)
{
    struct bench *bench = *state;
    for (int number = 1; number <= BOWL_FISH; number++)
        bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", 3));
    steps_of_trying(bench);
    int64_t few = steps_of_trying(bench);
    for (int i = 0; i < STEPS; i++)
        bench_stroke(bench, bench_fish(bench, 1, 1 + i % BOWL_FISH), 1,
                     bench_score("white", 1 + i % 5));
    assert_int_equal(steps_of_trying(bench), few);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(everybody_tells_the_same_of_a_round),
        on_stocked_bench(trying_a_pass_looks_at_no_stroke),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
