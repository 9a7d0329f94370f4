#include "bench.h"
#include "private.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/restore.h"

#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

static void judge_some(struct bench *bench)
{
    for (int number = 1; number <= 3; number++)
        bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", number + 1));
}

static void open_copy(struct bench *bench, const char *path, struct ledger **ret)
{
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, path, 9);
    setup.create = false;
    assert_ok(ledger_open(&setup, ret, &is_new, &bench->err), &bench->err);
    assert_false(is_new);
}

static size_t count_fish(struct bench *bench, struct ledger *ledger)
{
    struct round round;
    struct fish *fish;
    size_t count;
    assert_ok(round_find(ledger, "K1", NULL, STAGE_SECOND, &round, &bench->err), &bench->err);
    assert_ok(fish_of_round(ledger, round.id, bench_standard(), &fish, &count, &bench->err),
              &bench->err);
    free(fish);
    return count;
}

static void a_restored_copy_takes_the_ledgers_place(void **state)
{
    struct bench *bench = *state;
    struct clock clock = clock_fixed(&bench->now);
    char kept[512];
    const char *copy = bench_file(bench, "copy.db");
    judge_some(bench);
    assert_ok(ledger_backup(bench->ledger, copy, &bench->err), &bench->err);
    bench_stroke(bench, bench_fish(bench, 1, 4), 1, bench_score("white", 3));
    bench_close(bench);

    bench->now = INT64_C(1785052800000) + 61000; /* 2026-07-26 08:01:01 UTC */
    clock.offset_minutes = 9 * 60;
    assert_ok(ledger_restore(copy, bench->path, &clock, kept, sizeof kept, &bench->err),
              &bench->err);
    assert_string_equal(kept + strlen(bench->path), ".before-restore-20260726-170101");
    bench_open(bench);
    assert_int_equal(count_fish(bench, bench->ledger), 3);
    /* Serials given after the backup are not given a second time: it is another station now. */
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM station"), 2);
    bench_close(bench);

    struct ledger *old;
    open_copy(bench, kept, &old);
    assert_int_equal(count_fish(bench, old), 4);
    ledger_close(old);
}

static void restoring_needs_no_ledger_there(void **state)
{
    struct bench *bench = *state;
    struct clock clock = clock_fixed(&bench->now);
    char kept[512] = "x";
    const char *copy = bench_file(bench, "copy.db");
    const char *place = bench_file(bench, "new.db");
    judge_some(bench);
    assert_ok(ledger_backup(bench->ledger, copy, &bench->err), &bench->err);
    assert_int_equal(chmod(copy, 0444), 0); /* a copy on something read-only */
    assert_ok(ledger_restore(copy, place, &clock, kept, sizeof kept, &bench->err), &bench->err);
    assert_string_equal(kept, "");
    struct ledger *restored;
    assert_int_equal(chmod(place, 0644), 0);
    open_copy(bench, place, &restored);
    assert_int_equal(count_fish(bench, restored), 3);
    ledger_close(restored);
}

static void a_damaged_ledger_is_put_aside_with_all_it_has(void **state)
{
    struct bench *bench = *state;
    struct clock clock = clock_fixed(&bench->now);
    char kept[512];
    size_t size;
    const char *copy = bench_file(bench, "copy.db");
    assert_ok(ledger_backup(bench->ledger, copy, &bench->err), &bench->err);
    bench_close(bench);
    bench_write(bench->path, "no ledger any more", 18);
    bench_write(bench_file(bench, "ledger.db-wal"), "left", 4);
    assert_ok(ledger_restore(copy, bench->path, &clock, kept, sizeof kept, &bench->err),
              &bench->err);
    char *bytes = bench_bytes(kept, &size);
    assert_int_equal(size, 18);
    free(bytes);
    assert_false(bench_exists(bench_file(bench, "ledger.db-wal")));
    bench_open(bench);
}

struct refusal {
    const char *name;
    void (*spoil)(struct bench *bench, char *copy);
    const char *says;
};

static void take_away(struct bench *bench, char *copy)
{
    (void)bench;
    unlink(copy);
}

static void make_text(struct bench *bench, char *copy)
{
    (void)bench;
    bench_write(copy, "a letter", 8);
}

static void make_noise(struct bench *bench, char *copy)
{
    FILE *file = fopen(copy, "r+b");
    (void)bench;
    assert_int_equal(fseek(file, 4096L * 2, SEEK_SET), 0);
    for (int i = 0; i < 4096; i++)
        fputc(0xa5, file);
    fclose(file);
}

static void cut(struct bench *bench, char *copy)
{
    (void)bench;
    assert_int_equal(truncate(copy, 4096L * 3), 0);
}

static void make_newer(struct bench *bench, char *copy)
{
    sqlite3 *db;
    (void)bench;
    sqlite3_open(copy, &db);
    sqlite3_exec(db, "PRAGMA user_version = 7", NULL, NULL, NULL);
    sqlite3_close(db);
}

static void name_the_ledger(struct bench *bench, char *copy)
{
    snprintf(copy, 512, "%s", bench->path);
}

static void name_a_folder(struct bench *bench, char *copy)
{
    snprintf(copy, 512, "%s", bench->folder);
}

static void leave_a_wal(struct bench *bench, char *copy)
{
    char path[520];
    (void)bench;
    snprintf(path, sizeof path, "%s-wal", copy);
    bench_write(path, "unsaved", 7);
}

static const struct refusal refusals[] = {
    {"absent", take_away, "No such file"},
    {"text", make_text, "This is not a ledger"},
    {"noise", make_noise, "is damaged; use another one"},
    {"cut", cut, "is damaged"},
    {"newer", make_newer, "has layout 7"},
    {"the ledger", name_the_ledger, "is the ledger itself"},
    {"a folder", name_a_folder, "Is a directory"},
    {"a ledger in use", leave_a_wal, "make one with the command backup"},
};

static void what_is_no_good_copy_is_refused(void **state)
{
    struct bench *bench = *state;
    struct clock clock = clock_fixed(&bench->now);
    char kept[512];
    char copy[512];
    size_t before;
    size_t after;
    judge_some(bench);
    for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
        snprintf(copy, sizeof copy, "%s", bench_file(bench, "copy.db"));
        unlink(copy);
        if (bench->ledger == NULL)
            bench_open(bench);
        assert_ok(ledger_backup(bench->ledger, copy, &bench->err), &bench->err);
        bench_close(bench);
        char *bytes_before = bench_bytes(bench->path, &before);
        refusals[i].spoil(bench, copy);
        assert_says(ledger_restore(copy, bench->path, &clock, kept, sizeof kept, &bench->err),
                    &bench->err, refusals[i].says);
        char *bytes_after = bench_bytes(bench->path, &after);
        assert_int_equal(after, before);
        assert_memory_equal(bytes_after, bytes_before, before);
        assert_false(bench_exists(bench_file(bench, "ledger.db.unfinished")));
        free(bytes_before);
        free(bytes_after);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_restored_copy_takes_the_ledgers_place),
        on_stocked_bench(restoring_needs_no_ledger_there),
        on_stocked_bench(a_damaged_ledger_is_put_aside_with_all_it_has),
        on_stocked_bench(what_is_no_good_copy_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
