#include "bench.h"
#include "lots.h"
#include "private.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/names.h"
#include "senbetsu/store/parents.h"

#include <unistd.h>

static int64_t station_of(int64_t id)
{
    return id >> 32;
}

static void ids_carry_their_station(void **state)
{
    struct bench *bench = *state;
    int64_t id = bench_fish(bench, 1, 1);
    int64_t next = bench_fish(bench, 1, 2);
    assert_int_equal(station_of(id), bench_ask(bench, "SELECT station FROM ledger"));
    assert_true(station_of(id) > 0 && station_of(id) < 1 << 30);
    assert_true(next > id);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM (SELECT id FROM bowl UNION ALL "
                                      "SELECT id FROM fish UNION ALL SELECT id FROM spawning)"),
                     bench_ask(bench, "SELECT count(DISTINCT id) FROM (SELECT id FROM bowl UNION "
                                      "ALL SELECT id FROM fish UNION ALL SELECT id FROM "
                                      "spawning)"));
}

static void copy_file(const char *from, const char *to)
{
    size_t size;
    char *bytes = bench_bytes(from, &size);
    bench_write(to, bytes, size);
    free(bytes);
}

static struct ledger *open_at(struct bench *bench, const char *path, int seed)
{
    bool is_new;
    struct ledger *ledger;
    struct ledger_setup setup = bench_setup(bench, path, seed);
    assert_ok(ledger_open(&setup, &ledger, &is_new, &bench->err), &bench->err);
    return ledger;
}

static void a_copied_ledger_becomes_another_station(void **state)
{
    struct bench *bench = *state;
    char copy[512];
    int64_t here;
    int64_t there;
    int64_t bowl = bench_bowl(bench, 1).id;
    int64_t covariance = bench_fish(bench, 1, 1);
    bench_close(bench);
    snprintf(copy, sizeof copy, "%s", bench_file(bench, "copy.db"));
    copy_file(bench->path, copy);

    bench_open(bench);
    struct ledger *other = open_at(bench, copy, 2);
    /* Both go on in the same bowl; what they add can never be taken for one another. */
    assert_ok(fish_begin(bench->ledger, bowl, 2, &here, &bench->err), &bench->err);
    assert_ok(fish_begin(other, bowl, 2, &there, &bench->err), &bench->err);
    assert_int_equal(station_of(here), station_of(covariance));
    assert_int_not_equal(station_of(there), station_of(covariance));
    /* What they share is still the same fish to both. */
    assert_ok(fish_begin(other, bowl, 1, &there, &bench->err), &bench->err);
    assert_int_equal(there, covariance);
    ledger_close(other);
}

static void a_moved_ledger_stays_itself(void **state)
{
    struct bench *bench = *state;
    char moved[512];
    int64_t id;
    int64_t first = bench_fish(bench, 1, 1);
    int64_t bowl = bench_bowl(bench, 1).id;
    bench_close(bench);
    snprintf(moved, sizeof moved, "%s", bench_file(bench, "moved.db"));
    assert_int_equal(rename(bench->path, moved), 0);
    struct ledger *ledger = open_at(bench, moved, 2);
    assert_ok(fish_begin(ledger, bowl, 2, &id, &bench->err), &bench->err);
    assert_int_equal(station_of(id), station_of(first));
    ledger_close(ledger);
}

static void a_seed_that_was_used_is_moved_on(void **state)
{
    struct bench *bench = *state;
    char copy[512];
    bench_close(bench);
    snprintf(copy, sizeof copy, "%s", bench_file(bench, "copy.db"));
    copy_file(bench->path, copy);
    ledger_close(open_at(bench, copy, 1)); /* the ledger's own seed */
    snprintf(bench->path, sizeof bench->path, "%.95s", copy);
    assert_int_equal(bench_ask(bench, "SELECT count(DISTINCT number) FROM station"), 2);
}

/* What the office enters is one row, wherever it is entered and in whatever order. */
static void what_the_office_enters_has_one_id_everywhere(void **state)
{
    struct bench *bench = *state;
    struct parent k1 = {.code = "K1"}, k2 = {.code = "K2", .dam = "K1"};
    struct spawning spawning = {.code = "T9", .season = 2026, .siring = SIRING_SINGLE};
    struct spawning read;
    struct round round;
    enum saved saved;
    int64_t judge, lot, ids[2][4];
    struct ledger *other = open_at(bench, bench_file(bench, "other.db"), 3);
    struct ledger *ledgers[] = {bench->ledger, other};
    for (int i = 0; i < 2; i++) {
        struct ledger *ledger = ledgers[i];
        if (i == 1)
            assert_ok(judge_named(ledger, "Bo", &judge, &bench->err), &bench->err);
        assert_ok(parent_save(ledger, &k1, 0, "", &saved, &bench->err), &bench->err);
        assert_ok(parent_save(ledger, &k2, 0, "", &saved, &bench->err), &bench->err);
        assert_ok(spawning_save(ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
        assert_ok(spawning_get(ledger, "T9", &read, &bench->err), &bench->err);
        assert_ok(lot_find_or_add(ledger, "T9", "b", &lot, &bench->err), &bench->err);
        assert_ok(round_begin(ledger, "T9", "b", STAGE_FIRST, &round, &bench->err), &bench->err);
        assert_ok(judge_named(ledger, "Mika", &judge, &bench->err), &bench->err);
        int64_t made[] = {judge, read.id, lot, round.id};
        memcpy(ids[i], made, sizeof made);
    }
    ledger_close(other);
    for (int i = 0; i < 4; i++) {
        assert_true(ids[0][i] == ids[1][i]);
        assert_true(station_of(ids[0][i]) >= 1 << 30); /* no station has these */
    }
}

/* A code that is given anew is not the old record's. */
static void a_record_that_was_renamed_keeps_its_id(void **state)
{
    struct bench *bench = *state;
    struct parent k1 = {.code = "K1"}, old, young;
    enum saved saved;
    assert_ok(parent_save(bench->ledger, &k1, 0, "", &saved, &bench->err), &bench->err);
    assert_ok(parent_get(bench->ledger, "K1", &old, &bench->err), &bench->err);
    assert_ok(record_rename(bench->ledger, RECORD_PARENT, old.id, "K9", 0, "", &bench->err),
              &bench->err);
    assert_ok(parent_save(bench->ledger, &k1, 0, "", &saved, &bench->err), &bench->err);
    assert_ok(parent_get(bench->ledger, "K1", &young, &bench->err), &bench->err);
    assert_true(old.id != young.id);
}

static void two_new_ledgers_share_no_id(void **state)
{
    struct bench *bench = *state;
    struct ledger *other = open_at(bench, bench_file(bench, "other.db"), 3);
    int64_t ours;
    int64_t theirs;
    for (int i = 0; i < 100; i++) {
        assert_ok(transaction_begin(bench->ledger, &bench->err) &&
                      transaction_begin(other, &bench->err),
                  &bench->err);
        assert_ok(new_id(bench->ledger, &ours, &bench->err), &bench->err);
        assert_ok(new_id(other, &theirs, &bench->err), &bench->err);
        assert_int_not_equal(station_of(ours), station_of(theirs));
        transaction_rollback(bench->ledger);
        transaction_rollback(other);
    }
    ledger_close(other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(ids_carry_their_station),
        on_stocked_bench(a_copied_ledger_becomes_another_station),
        on_stocked_bench(a_moved_ledger_stays_itself),
        on_stocked_bench(a_seed_that_was_used_is_moved_on),
        on_stocked_bench(what_the_office_enters_has_one_id_everywhere),
        on_stocked_bench(a_record_that_was_renamed_keeps_its_id),
        on_stocked_bench(two_new_ledgers_share_no_id),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
