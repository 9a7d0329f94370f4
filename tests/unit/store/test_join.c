#include "bench.h"
#include "private.h"
#include "senbetsu/store/corrections.h"
#include "senbetsu/store/join.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/names.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/spawnings.h"

#include <dirent.h>

/* The farm's ledger and, from a copy of it, that of the far ponds; both are open. */
struct two {
    struct bench *office;
    char path[512];
    struct ledger *ponds;
};

static struct ledger *open_at(struct bench *bench, const char *path, int seed)
{
    bool is_new;
    struct ledger *ledger;
    struct ledger_setup setup = bench_setup(bench, path, seed);
    assert_ok(ledger_open(&setup, &ledger, &is_new, &bench->err), &bench->err);
    return ledger;
}

static void copy_file(const char *from, const char *to)
{
    size_t size;
    char *bytes = bench_bytes(from, &size);
    bench_write(to, bytes, size);
    free(bytes);
}

static struct two begin(void **state)
{
    struct two two = {.office = *state};
    snprintf(two.path, sizeof two.path, "%s", bench_file(two.office, "ponds.db"));
    bench_close(two.office);
    copy_file(two.office->path, two.path);
    bench_open(two.office);
    two.ponds = open_at(two.office, two.path, 2);
    assert_ok(station_rename(two.ponds, "far ponds", 0, &two.office->err), &two.office->err);
    two.office->now += 1000;
    return two;
}

static void end(struct two *two)
{
    ledger_close(two->ponds);
}

static int64_t ask(struct ledger *ledger, const char *sql)
{
    sqlite3_stmt *statement;
    int64_t number = -1;
    assert_int_equal(sqlite3_prepare_v2(ledger->db, sql, -1, &statement, NULL), SQLITE_OK);
    if (sqlite3_step(statement) == SQLITE_ROW)
        number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    return number;
}

static void tell(struct ledger *ledger, const char *sql)
{
    assert_int_equal(sqlite3_exec(ledger->db, sql, NULL, NULL, NULL), SQLITE_OK);
}

static struct join join(struct two *two)
{
    struct join report = {.rows = 0};
    assert_ok(ledger_join(two->office->ledger, two->path, false, &report, &two->office->err),
              &two->office->err);
    return report;
}

/* The other way round. */
static void join_back(struct two *two)
{
    struct join report = {.rows = 0};
    assert_ok(ledger_join(two->ponds, two->office->path, false, &report, &two->office->err),
              &two->office->err);
    join_done(&report);
}

static struct parent parent(struct ledger *ledger, const char *code, struct bench *bench)
{
    struct parent read = {.id = 0};
    assert_ok(parent_get(ledger, code, &read, &bench->err), &bench->err);
    return read;
}

/* Changes the note of D1. */
static void note(struct ledger *ledger, const char *text, struct bench *bench)
{
    struct parent changed = parent(ledger, "D1", bench);
    enum saved saved;
    int64_t judge;
    snprintf(changed.note, sizeof changed.note, "%s", text);
    assert_ok(judge_named(ledger, ledger == bench->ledger ? "Aki" : "Mika", &judge, &bench->err) &&
                  parent_change(ledger, &changed, judge, "", &saved, &bench->err),
              &bench->err);
}

static void the_other_stations_work_is_added_once(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct parent k9 = {.code = "K9", .sex = SEX_FEMALE};
    struct bowl bowl;
    enum saved saved;
    int64_t fish;
    assert_ok(parent_save(two.ponds, &k9, 0, "", &saved, &bench->err), &bench->err);
    assert_ok(bowl_begin(two.ponds, bench_round(bench).id, 3, 0, "2026-07-26", &bowl, &bench->err),
              &bench->err);
    assert_ok(fish_begin(two.ponds, bowl.id, 1, &fish, &bench->err), &bench->err);
    struct join first = join(&two);
    assert_int_equal(first.added[JOINED_PARENTS], 1);
    assert_int_equal(first.added[JOINED_BOWLS], 1);
    assert_int_equal(first.added[JOINED_FISH], 1);
    assert_int_equal(first.station_count, 1);
    assert_string_equal(first.stations[0].name, "far ponds");
    assert_int_equal(first.difference_count, 0);
    assert_true(bench_exists(first.before));
    assert_int_equal(parent(bench->ledger, "K9", bench).sex, SEX_FEMALE);
    struct join second = join(&two);
    assert_int_equal(second.rows, 0);
    assert_string_equal(second.before, ""); /* a copy of the same is of no use */
    assert_true(bench_exists(first.before));
    join_done(&first);
    join_done(&second);
    end(&two);
}

static void a_preview_changes_nothing(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct join report;
    note(two.ponds, "from the ponds", bench);
    note(bench->ledger, "from the office", bench);
    int64_t before = ask(bench->ledger, "SELECT count(*) FROM audit_log");
    assert_ok(ledger_join(bench->ledger, two.path, true, &report, &bench->err), &bench->err);
    assert_int_equal(report.added[JOINED_CHANGES], 2);
    assert_int_equal(report.difference_count, 1);
    assert_string_equal(report.before, "");
    assert_int_equal(ask(bench->ledger, "SELECT count(*) FROM audit_log"), before);
    assert_string_equal(parent(bench->ledger, "D1", bench).note, "from the office");
    DIR *folder = opendir(bench->folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;)
        assert_null(strstr(entry->d_name, "join"));
    closedir(folder);
    join_done(&report);
    end(&two);
}

static void what_both_changed_is_listed_and_the_later_stands(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    note(bench->ledger, "red", bench);
    bench->now += 60000;
    note(two.ponds, "orange", bench);
    struct join report = join(&two);
    assert_int_equal(report.difference_count, 1);
    const struct difference *difference = &report.differences[0];
    assert_string_equal(difference->title, "parent D1");
    assert_string_equal(difference->field, "note");
    assert_int_equal(difference->count, 2);
    assert_string_equal(difference->said[0].value, "orange");
    assert_string_equal(difference->said[0].judge, "Mika");
    assert_string_equal(difference->said[0].station, "far ponds");
    assert_true(difference->said[0].stands && !difference->said[1].stands);
    assert_string_equal(difference->said[1].value, "red");
    assert_string_equal(difference->said[1].judge, "Aki");
    assert_string_equal(parent(bench->ledger, "D1", bench).note, "orange");
    join_done(&report);
    end(&two);
}

static size_t differences(struct ledger *ledger, struct bench *bench, int64_t *ret_entry)
{
    struct difference *list;
    size_t count;
    assert_ok(difference_list(ledger, &list, &count, &bench->err), &bench->err);
    if (count > 0)
        *ret_entry = list[0].said[1].entry;
    free(list);
    return count;
}

static void a_decision_travels_with_the_next_join(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    int64_t earlier = 0;
    note(bench->ledger, "red", bench);
    bench->now += 60000;
    note(two.ponds, "orange", bench);
    struct join report = join(&two);
    join_done(&report);
    bench->now -= INT64_C(86400000); /* who decides has a clock that is behind */
    assert_int_equal(differences(bench->ledger, bench, &earlier), 1);
    assert_ok(difference_decide(bench->ledger, earlier, 0, "looked at her", &bench->err),
              &bench->err);
    assert_int_equal(differences(bench->ledger, bench, &earlier), 0);
    assert_string_equal(parent(bench->ledger, "D1", bench).note, "red");
    join_back(&two);
    assert_string_equal(parent(two.ponds, "D1", bench).note, "red");
    assert_int_equal(differences(two.ponds, bench, &earlier), 0);
    end(&two);
}

static void who_enters_the_same_differs_in_nothing(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct parent here = {.code = "K9", .sex = SEX_FEMALE}, there = {.code = "K9", .born = 2020};
    enum saved saved;
    assert_ok(parent_save(bench->ledger, &here, 0, "", &saved, &bench->err) &&
                  parent_save(two.ponds, &there, 0, "", &saved, &bench->err),
              &bench->err);
    struct join report = join(&two);
    assert_int_equal(report.difference_count, 0);
    assert_int_equal(report.added[JOINED_PARENTS], 0);
    struct parent both = parent(bench->ledger, "K9", bench);
    assert_int_equal(both.sex, SEX_FEMALE);
    assert_int_equal(both.born, 2020);
    join_done(&report);
    end(&two);
}

static void two_of_one_name_are_told_apart_until_one_is_renamed(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct parent k9 = {.code = "K9"};
    enum saved saved;
    assert_ok(parent_save(bench->ledger, &k9, 0, "", &saved, &bench->err), &bench->err);
    bench->now += 1000;
    assert_ok(record_rename(two.ponds, RECORD_PARENT, parent(two.ponds, "S2", bench).id, "K9", 0,
                            "", &bench->err),
              &bench->err);
    struct join report = join(&two);
    assert_int_equal(report.clash_count, 1);
    assert_non_null(strstr(report.clashes[0], "named K9: one is shown as K9~2"));
    join_done(&report);
    assert_ok(record_rename(bench->ledger, RECORD_PARENT, parent(bench->ledger, "K9", bench).id,
                            "K8", 0, "", &bench->err),
              &bench->err);
    report = join(&two);
    assert_int_equal(report.clash_count, 0);
    assert_true(parent(bench->ledger, "K9", bench).id == parent(two.ponds, "K9", bench).id);
    join_done(&report);
    end(&two);
}

static void what_something_live_stands_on_stays(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct spawning spawning;
    enum saved saved;
    assert_ok(record_retire(bench->ledger, RECORD_PARENT, parent(bench->ledger, "S2", bench).id, 0,
                            "", &bench->err),
              &bench->err);
    assert_ok(spawning_get(two.ponds, "K1", &spawning, &bench->err), &bench->err);
    snprintf(spawning.sires, sizeof spawning.sires, "S2");
    assert_ok(spawning_save(two.ponds, &spawning, 0, "", &saved, &bench->err), &bench->err);
    struct join report = join(&two);
    assert_int_equal(report.clash_count, 1);
    assert_non_null(strstr(report.clashes[0], "parent S2 was retired"));
    assert_ok(spawning_get(bench->ledger, "K1", &spawning, &bench->err), &bench->err);
    assert_string_equal(spawning.sires, "S2");
    join_done(&report);
    end(&two);
}

/* Two stations may have retired two records at one instant: one comes back without the other. */
static void what_was_retired_at_one_instant_comes_back_by_itself(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct err err = {0};
    int64_t s1 = parent(bench->ledger, "S1", bench).id, s2 = parent(bench->ledger, "S2", bench).id;
    struct parent read;
    tell(bench->ledger, "DELETE FROM spawning_sire");
    tell(two.ponds, "DELETE FROM spawning_sire");
    assert_ok(record_retire(bench->ledger, RECORD_PARENT, s2, 0, "", &bench->err) &&
                  record_retire(two.ponds, RECORD_PARENT, s1, 0, "", &bench->err),
              &bench->err);
    struct join report = join(&two);
    join_done(&report);
    tell(bench->ledger, "DELETE FROM spawning_sire");
    tell(bench->ledger, "UPDATE parent SET retired_ms = 5 WHERE code IN ('S1', 'S2')");
    assert_ok(record_bring_back(bench->ledger, RECORD_PARENT, s2, 0, "", &bench->err), &bench->err);
    assert_true(parent_get(bench->ledger, "S2", &read, &err));
    assert_false(parent_get(bench->ledger, "S1", &read, &err));
    end(&two);
}

static void nobody_becomes_his_own_ancestor(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct parent s2 = {.code = "S2", .sire = "S1"}, s1 = {.code = "S1", .sire = "S2"};
    enum saved saved;
    assert_ok(parent_save(bench->ledger, &s2, 0, "", &saved, &bench->err), &bench->err);
    bench->now += 1000;
    assert_ok(parent_save(two.ponds, &s1, 0, "", &saved, &bench->err), &bench->err);
    struct join report = join(&two);
    assert_string_equal(parent(bench->ledger, "S1", bench).sire, "S2");
    assert_string_equal(parent(bench->ledger, "S2", bench).sire, "");
    join_done(&report);
    end(&two);
}

static void bowls_and_fish_of_one_number_stay_two(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct bowl bowl, *bowls;
    size_t count;
    bench_fish(bench, 3, 1);
    assert_ok(bowl_begin(two.ponds, bench_round(bench).id, 3, 0, "2026-07-26", &bowl, &bench->err),
              &bench->err);
    struct join report = join(&two);
    assert_ok(bowl_list(bench->ledger, bench_round(bench).id, &bowls, &count, &bench->err),
              &bench->err);
    assert_int_equal(count, 2);
    assert_int_equal(bowls[0].number, 3);
    assert_int_equal(bowls[1].number, 3);
    free(bowls);
    join_done(&report);
    end(&two);
}

static void a_station_that_went_on_in_two_places_is_refused(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct join report;
    char clone[256];
    snprintf(clone, sizeof clone, "UPDATE ledger SET station = %lld",
             (long long)ask(bench->ledger, "SELECT station FROM ledger"));
    tell(two.ponds, clone);
    note(bench->ledger, "here", bench);
    note(two.ponds, "there", bench);
    int64_t before = ask(bench->ledger, "SELECT count(*) FROM audit_log");
    assert_says(ledger_join(bench->ledger, two.path, false, &report, &bench->err), &bench->err,
                "went on in two places");
    assert_int_equal(ask(bench->ledger, "SELECT count(*) FROM audit_log"), before);
    end(&two);
}

/* A cloned disk can't be told from the one it was made of: then its station is named anew. */
static void a_cloned_ledger_goes_on_as_a_station_of_its_own(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    uint8_t seed[16] = {7, 8, 9};
    char clone[256];
    snprintf(clone, sizeof clone, "UPDATE ledger SET station = %lld",
             (long long)ask(bench->ledger, "SELECT station FROM ledger"));
    tell(two.ponds, clone);
    assert_ok(station_begin(two.ponds, seed, "the clone", &bench->err), &bench->err);
    note(bench->ledger, "here", bench);
    bench->now += 1000;
    note(two.ponds, "there", bench);
    struct join report = join(&two);
    assert_string_equal(report.differences[0].said[0].station, "the clone");
    join_done(&report);
    end(&two);
}

static void what_cannot_be_joined_is_refused(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct join report;
    assert_says(ledger_join(bench->ledger, bench->path, false, &report, &bench->err), &bench->err,
                "the ledger itself");
    assert_says(
        ledger_join(bench->ledger, bench_file(bench, "none.db"), false, &report, &bench->err),
        &bench->err, "none.db");
    bench_write(bench_file(bench, "words.db"), "words", 5);
    assert_says(
        ledger_join(bench->ledger, bench_file(bench, "words.db"), false, &report, &bench->err),
        &bench->err, "ledger");
    tell(two.ponds, "PRAGMA user_version = 99");
    assert_says(ledger_join(bench->ledger, two.path, false, &report, &bench->err), &bench->err,
                "newer");
    tell(two.ponds, "PRAGMA user_version = 1");
    end(&two);
}

static void an_older_ledger_is_brought_up_in_a_copy(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    struct migration later[2] = {
        migrations[0],
        {.version = 2,
         .name = "9999_ponds",
         .sql = "CREATE TABLE pond (id INTEGER PRIMARY KEY) STRICT;\n",
         .checksum = "0000000000000000000000000000000000000000000000000000000000000000"}};
    struct join report;
    bool is_new;
    size_t before, after;
    assert_int_equal(migration_count, 1);
    note(two.ponds, "from an older program", bench);
    end(&two);
    char *bytes = bench_bytes(two.path, &before);
    bench_close(bench);
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    assert_ok(ledger_open_at(&setup, later, 2, &bench->ledger, &is_new, &bench->err), &bench->err);
    assert_ok(ledger_join_at(bench->ledger, two.path, false, later, 2, &report, &bench->err),
              &bench->err);
    assert_int_equal(report.layout, 1);
    assert_string_equal(parent(bench->ledger, "D1", bench).note, "from an older program");
    char *still = bench_bytes(two.path, &after);
    assert_int_equal(before, after);
    assert_memory_equal(bytes, still, before);
    free(bytes);
    free(still);
    join_done(&report);
}

static void a_clock_that_is_ahead_is_told(void **state)
{
    struct two two = begin(state);
    struct bench *bench = two.office;
    const int64_t hour = 3600 * 1000;
    bench->now += hour;
    note(two.ponds, "later", bench);
    bench->now -= hour;
    struct join report = join(&two);
    assert_in_range(report.ahead_ms, hour - 1000, hour + 1000);
    join_done(&report);
    end(&two);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(the_other_stations_work_is_added_once),
        on_stocked_bench(a_preview_changes_nothing),
        on_stocked_bench(what_both_changed_is_listed_and_the_later_stands),
        on_stocked_bench(a_decision_travels_with_the_next_join),
        on_stocked_bench(who_enters_the_same_differs_in_nothing),
        on_stocked_bench(two_of_one_name_are_told_apart_until_one_is_renamed),
        on_stocked_bench(what_something_live_stands_on_stays),
        on_stocked_bench(what_was_retired_at_one_instant_comes_back_by_itself),
        on_stocked_bench(nobody_becomes_his_own_ancestor),
        on_stocked_bench(bowls_and_fish_of_one_number_stay_two),
        on_stocked_bench(a_station_that_went_on_in_two_places_is_refused),
        on_stocked_bench(a_cloned_ledger_goes_on_as_a_station_of_its_own),
        on_stocked_bench(what_cannot_be_joined_is_refused),
        on_stocked_bench(an_older_ledger_is_brought_up_in_a_copy),
        on_stocked_bench(a_clock_that_is_ahead_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
