#include "bench.h"
#include "senbetsu/store/backup.h"
#include "wrapped.h"

#include <dirent.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static void a_backup_is_one_whole_file(void **state)
{
    struct bench *bench = *state;
    struct ledger *copy;
    char path[512];
    bench_judge_some(bench); /* still in the WAL */
    snprintf(path, sizeof path, "%s", bench_file(bench, "copy.db"));
    assert_ok(ledger_backup(bench->ledger, path, &bench->err), &bench->err);
    assert_false(bench_exists(bench_file(bench, "copy.db-wal")));
    assert_false(bench_exists(bench_file(bench, "copy.db-journal")));
    bench_open_copy(bench, path, &copy);
    assert_int_equal(bench_count_fish(bench, copy), 3);
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

/* Runs in a process of its own, for it changes what a process may do. Says what `expect` found. */
static int apart(struct bench *bench, int (*expect)(struct bench *bench))
{
    int status;
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0)
        _exit(expect(bench));
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return WEXITSTATUS(status);
}

static bool leaves_nothing(const struct bench *bench)
{
    int others = 0;
    DIR *folder = opendir(bench->folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;)
        others += strncmp(entry->d_name, "copy.db", 7) == 0;
    closedir(folder);
    return others == 0;
}

static int back_up_to_a_small_disk(struct bench *bench)
{
    struct rlimit small = {.rlim_cur = 64 * 1024, .rlim_max = 64 * 1024};
    bench->ledger = NULL;
    bench_open(bench);
    signal(SIGXFSZ, SIG_IGN);
    setrlimit(RLIMIT_FSIZE, &small);
    if (ledger_backup(bench->ledger, bench_file(bench, "copy.db"), &bench->err))
        return 1;
    if (strstr(bench->err.text, "copy.db.") == NULL || strstr(bench->err.text, "damaged") != NULL)
        return 2;
    return leaves_nothing(bench) ? 0 : 3;
}

/* The ledger is sound, and its disk has room: it is not the one to name. */
static void what_hinders_a_copy_is_said_of_its_own_disk(void **state)
{
    struct bench *bench = *state;
    bench_judge_some(bench);
    bench_close(bench);
    assert_int_equal(apart(bench, back_up_to_a_small_disk), 0);
    bench_open(bench);
    assert_int_equal(bench_count_fish(bench, bench->ledger), 3);
}

static void a_copy_has_the_rights_of_the_ledger(void **state)
{
    struct bench *bench = *state;
    struct stat about;
    static const mode_t rights[] = {0600, 0660, 0644};
    char name[16];
    for (size_t i = 0; i < sizeof rights / sizeof *rights; i++) {
        snprintf(name, sizeof name, "copy%zu.db", i);
        assert_int_equal(chmod(bench->path, rights[i]), 0);
        mode_t mask = umask(i == 0 ? 0 : 077);
        assert_ok(ledger_backup(bench->ledger, bench_file(bench, name), &bench->err), &bench->err);
        umask(mask);
        assert_int_equal(stat(bench_file(bench, name), &about), 0);
        assert_int_equal(about.st_mode & 0777, rights[i]);
    }
}

/* One of them gets the name, the other is told so, and nobody speaks of damage. */
static void two_backups_at_once_do_not_meet(void **state)
{
    enum { BOTH = 2 };
    struct bench *bench = *state;
    int made = 0;
    int status;
    pid_t children[BOTH];
    bench_judge_some(bench);
    bench_close(bench);
    for (int i = 0; i < BOTH; i++) {
        children[i] = fork();
        assert_true(children[i] >= 0);
        if (children[i] == 0) {
            bench->ledger = NULL;
            bench_open(bench);
            bool done = ledger_backup(bench->ledger, bench_file(bench, "copy.db"), &bench->err);
            _exit(done ? 0 : bench->err.code == ERR_EXISTS ? 1 : 2);
        }
    }
    for (int i = 0; i < BOTH; i++) {
        assert_int_equal(waitpid(children[i], &status, 0), children[i]);
        assert_true(WIFEXITED(status) && WEXITSTATUS(status) < 2);
        made += WEXITSTATUS(status) == 0;
    }
    assert_int_equal(made, 1);
    struct ledger *copy;
    bench_open_copy(bench, bench_file(bench, "copy.db"), &copy);
    assert_int_equal(bench_count_fish(bench, copy), 3);
    ledger_close(copy);
    bench_open(bench);
}

static void no_link_leads_a_copy_astray(void **state)
{
    struct bench *bench = *state;
    assert_int_equal(symlink("mine", bench_file(bench, "copy.db")), 0);
    assert_int_equal(symlink("mine", bench_file(bench, "copy.db.unfinished")), 0);
    assert_says(ledger_backup(bench->ledger, bench_file(bench, "copy.db"), &bench->err),
                &bench->err, "There is already a file");
    assert_false(bench_exists(bench_file(bench, "mine")));
}

/* Whatever a backup is broken off by, there is no half copy under its name. */
static void a_backup_broken_off_anywhere_leaves_no_half_file(void **state)
{
    struct bench *bench = *state;
    bool killed = true;
    bench_judge_some(bench);
    bench_close(bench);
    for (int at = 0; killed; at++) {
        int status;
        const char *copy = bench_file(bench, "copy.db");
        pid_t child = fork();
        assert_true(child >= 0);
        if (child == 0) {
            bench->ledger = NULL;
            bench_open(bench);
            wrapped_set(WRAPPED_KILL, at);
            _exit(ledger_backup(bench->ledger, copy, &bench->err) ? 0 : 1);
        }
        assert_int_equal(waitpid(child, &status, 0), child);
        killed = WEXITSTATUS(status) == KILLED;
        assert_true(killed || at > 3);
        if (bench_exists(copy)) {
            struct ledger *ledger;
            bench_open_copy(bench, copy, &ledger);
            assert_int_equal(bench_count_fish(bench, ledger), 3);
            ledger_close(ledger);
        }
        assert_true(killed || bench_exists(copy));
        unlink(copy);
    }
    bench_open(bench);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_backup_is_one_whole_file),
        on_stocked_bench(a_backup_overwrites_nothing),
        on_stocked_bench(what_hinders_a_copy_is_said_of_its_own_disk),
        on_stocked_bench(a_copy_has_the_rights_of_the_ledger),
        on_stocked_bench(two_backups_at_once_do_not_meet),
        on_stocked_bench(no_link_leads_a_copy_astray),
        on_stocked_bench(a_backup_broken_off_anywhere_leaves_no_half_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
