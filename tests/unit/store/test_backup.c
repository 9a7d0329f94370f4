#include "bench.h"
#include "senbetsu/store/backup.h"

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

static void a_backup_is_one_whole_file(void **state)
{
    struct bench *bench = *state;
    struct ledger *copy;
    char path[512];
    judge_some(bench); /* still in the WAL */
    snprintf(path, sizeof path, "%s", bench_file(bench, "copy.db"));
    assert_ok(ledger_backup(bench->ledger, path, &bench->err), &bench->err);
    assert_false(bench_exists(bench_file(bench, "copy.db-wal")));
    assert_false(bench_exists(bench_file(bench, "copy.db-journal")));
    open_copy(bench, path, &copy);
    assert_int_equal(count_fish(bench, copy), 3);
    ledger_close(copy);
}

static void a_backup_overwrites_nothing(void **state)
{
    struct bench *bench = *state;
    struct stat about;
    const char *path = bench_file(bench, "copy.db");
    bench_write(path, "mine", 4);
    assert_says(ledger_backup(bench->ledger, path, &bench->err), &bench->err,
                "There is already a file");
    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(about.st_size, 4);
    assert_says(ledger_backup(bench->ledger, bench_file(bench, "no/folder.db"), &bench->err),
                &bench->err, "Its folder is not there");
    assert_ok(transaction_begin(bench->ledger, &bench->err),
              &bench->err); /* nothing was left open */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_backup_is_one_whole_file),
        on_stocked_bench(a_backup_overwrites_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
