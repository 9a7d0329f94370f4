#include "bench.h"
#include "private.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/restore.h"
#include "support/points.h"
#include "wrapped.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static void a_restored_copy_takes_the_ledgers_place(void **state)
{
    struct bench *bench = *state;
    struct clock clock = clock_fixed(&bench->now);
    char kept[512];
    const char *copy = bench_file(bench, "copy.db");
    bench_judge_some(bench);
    assert_ok(ledger_backup(bench->ledger, copy, &bench->err), &bench->err);
    bench_stroke(bench, bench_fish(bench, 1, 4), 1, bench_score("white", 3));
    bench_close(bench);

    bench->now = INT64_C(1785052800000) + 61000; /* 2026-07-26 08:01:01 UTC */
    clock.offset_minutes = 9 * 60;
    assert_ok(ledger_restore(copy, bench->path, &clock, kept, sizeof kept, &bench->err),
              &bench->err);
    assert_string_equal(kept + strlen(bench->path), ".before-restore-20260726-170101");
    bench_open(bench);
    assert_int_equal(bench_count_fish(bench, bench->ledger), 3);
    /* Serials given after the backup are not given a second time: it is another station now. */
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM station"), 2);
    bench_close(bench);

    struct ledger *old;
    bench_open_copy(bench, kept, &old);
    assert_int_equal(bench_count_fish(bench, old), 4);
    ledger_close(old);
}

static void restoring_needs_no_ledger_there(void **state)
{
    struct bench *bench = *state;
    struct clock clock = clock_fixed(&bench->now);
    char kept[512] = "x";
    const char *copy = bench_file(bench, "copy.db");
    const char *place = bench_file(bench, "new.db");
    bench_judge_some(bench);
    assert_ok(ledger_backup(bench->ledger, copy, &bench->err), &bench->err);
    assert_int_equal(chmod(copy, 0444), 0); /* a copy on something read-only */
    assert_ok(ledger_restore(copy, place, &clock, kept, sizeof kept, &bench->err), &bench->err);
    assert_string_equal(kept, "");
    struct ledger *restored;
    assert_int_equal(chmod(place, 0644), 0);
    bench_open_copy(bench, place, &restored);
    assert_int_equal(bench_count_fish(bench, restored), 3);
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
    bench_judge_some(bench);
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

/* What a restore finds in the ledger's place: a ledger with four fish, while the copy has three, or
 * something else. */
struct finds {
    const char *name;
    void (*prepare)(struct bench *bench); /* closes it */
    bool ledger;
    bool vacant;
};

static void judge_a_fourth(struct bench *bench)
{
    bench_stroke(bench, bench_fish(bench, 1, 4), 1, bench_score("white", 3));
}

static void leave_closed(struct bench *bench)
{
    judge_a_fourth(bench);
    bench_close(bench);
}

/* The fourth fish is in the WAL of a session that was broken off. */
static void leave_broken_off(struct bench *bench)
{
    int status;
    bench_close(bench);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        bench_open(bench);
        judge_a_fourth(bench);
        _exit(0);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    assert_true(bench_exists(bench_file(bench, "ledger.db-wal")));
}

static void leave_damaged(struct bench *bench)
{
    bench_close(bench);
    bench_write(bench->path, "no ledger any more", 18);
    bench_write(bench_file(bench, "ledger.db-wal"), "left", 4);
    bench_write(bench_file(bench, "ledger.db-journal"), "left too", 8);
}

static void leave_nothing(struct bench *bench)
{
    bench_close(bench);
    unlink(bench->path);
}

static const struct finds all_finds[] = {
    {"a closed ledger", leave_closed, true, false},
    {"a ledger that was broken off", leave_broken_off, true, false},
    {"a damaged ledger", leave_damaged, false, false},
    {"nothing", leave_nothing, false, true},
};
enum { FINDS = sizeof all_finds / sizeof *all_finds };

/* The files that a find consists of, made once: to make a ledger takes long. */
struct found_file {
    const char *name;
    char *bytes;
    size_t size;
};
static struct found_file found_files[FINDS][4];

static void remember(struct bench *bench, struct found_file files[4])
{
    static const char *const names[] = {"copy.db", "ledger.db", "ledger.db-wal",
                                        "ledger.db-journal"};
    for (int i = 0; i < 4; i++)
        if (bench_exists(bench_file(bench, names[i]))) {
            files[i].name = names[i];
            files[i].bytes = bench_bytes(bench_file(bench, names[i]), &files[i].size);
        }
}

static int make_finds(void **state)
{
    (void)state;
    /* Hundreds of ledgers are synced; it is the order of the calls that is tested, not the disk. */
    if (getenv("TMPDIR") == NULL && access("/dev/shm", W_OK) == 0)
        setenv("TMPDIR", "/dev/shm", 1);
    for (int i = 0; i < FINDS; i++) {
        struct bench bench;
        bench_init(&bench);
        bench_open(&bench);
        bench_stock(&bench);
        bench_judge_some(&bench);
        assert_ok(ledger_backup(bench.ledger, bench_file(&bench, "copy.db"), &bench.err),
                  &bench.err);
        all_finds[i].prepare(&bench);
        remember(&bench, found_files[i]);
        bench_done(&bench);
    }
    return 0;
}

static int forget_finds(void **state)
{
    (void)state;
    for (int i = 0; i < FINDS * 4; i++)
        free(found_files[i / 4][i % 4].bytes);
    return 0;
}

static void begin_with(struct bench *bench, const struct finds *finds)
{
    const struct found_file *files = found_files[finds - all_finds];
    bench_init(bench);
    for (int i = 0; i < 4; i++)
        if (files[i].name != NULL)
            bench_write(bench_file(bench, files[i].name), files[i].bytes, files[i].size);
}

static bool restore_now(struct bench *bench)
{
    int64_t now = INT64_C(1785052800000); /* 2026-07-26 08:00:00 UTC */
    char kept[512];
    struct clock clock = clock_fixed(&now);
    return ledger_restore(bench_file(bench, "copy.db"), bench->path, &clock, kept, sizeof kept,
                          &bench->err);
}

static void expect_content(const char *path, const char *content)
{
    size_t size;
    char *bytes = bench_bytes(path, &size);
    assert_int_equal(size, strlen(content));
    assert_memory_equal(bytes, content, size);
    free(bytes);
}

static void expect_damaged_whole(const char *path)
{
    char name[600];
    expect_content(path, "no ledger any more");
    snprintf(name, sizeof name, "%s-wal", path);
    expect_content(name, "left");
    snprintf(name, sizeof name, "%s-journal", path);
    expect_content(name, "left too");
}

static void expect_fish(struct bench *bench, const char *path, size_t expected)
{
    struct ledger *ledger;
    bench_open_copy(bench, path, &ledger);
    assert_int_equal(bench_count_fish(bench, ledger), expected);
    ledger_close(ledger);
}

/* Has the restore happened? Either it has, whole, or all is as it was. Never is there no ledger. */
static bool expect_old_or_new(struct bench *bench, const struct finds *finds)
{
    const char *kept = bench_file(bench, "ledger.db.before-restore-20260726-080000");
    struct ledger_setup setup = bench_setup(bench, bench->path, 9);
    struct ledger *ledger;
    bool is_new;
    setup.create = false;
    if (!ledger_open(&setup, &ledger, &is_new, &bench->err)) {
        assert_false(finds->ledger);
        if (finds->vacant)
            assert_false(bench_exists(bench->path));
        else
            expect_damaged_whole(bench->path);
        return false;
    }
    size_t fish = bench_count_fish(bench, ledger);
    ledger_close(ledger);
    assert_false(bench_exists(bench_file(bench, "ledger.db.restoring-20260726-080000")));
    if (fish == 3 && finds->ledger)
        expect_fish(bench, kept, 4);
    else if (fish == 3 && !finds->vacant)
        expect_damaged_whole(kept);
    else if (fish != 3)
        assert_true(finds->ledger && fish == 4 && !bench_exists(kept));
    return fish == 3;
}

/* Every copy under a final name is as large as the pages that its header counts. */
static void expect_only_whole_copies(const struct bench *bench)
{
    DIR *folder = opendir(bench->folder);
    assert_non_null(folder);
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        size_t size;
        if (strstr(entry->d_name, ".restoring-") == NULL ||
            strstr(entry->d_name, ".unfinished-") != NULL)
            continue;
        char *bytes = bench_bytes(bench_file(bench, entry->d_name), &size);
        const unsigned char *pages = (const unsigned char *)bytes + 28;
        assert_true(size > 4096);
        assert_int_equal(size, 4096 * (pages[2] * 256 + pages[3]));
        free(bytes);
    }
    closedir(folder);
}

/* Restores in a process of its own, under `mode`. Says whether that was killed. */
static bool restore_under(struct bench *bench, enum wrapped_mode mode, int at)
{
    int status;
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        wrapped_set(mode, at);
        _exit(restore_now(bench) ? 0 : 1);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    if (WEXITSTATUS(status) != KILLED)
        assert_int_equal(WEXITSTATUS(status), 0);
    return WEXITSTATUS(status) == KILLED;
}

static void break_off_everywhere(enum wrapped_mode mode)
{
    for (int i = 0; i < FINDS; i++) {
        int olds = 0, news = 0;
        bool killed = true;
        for (int at = 0; killed; at += one_point_in()) {
            struct bench bench;
            begin_with(&bench, &all_finds[i]);
            killed = restore_under(&bench, mode, at);
            if (mode == WRAPPED_KILL && !all_finds[i].vacant)
                assert_true(bench_exists(bench.path));
            expect_only_whole_copies(&bench);
            bool restored = expect_old_or_new(&bench, &all_finds[i]);
            olds += !restored;
            news += restored;
            if (!restored)
                assert_ok(restore_now(&bench), &bench.err);
            assert_true(restored || expect_old_or_new(&bench, &all_finds[i]));
            bench_done(&bench);
        }
        /* Before the step that decides, and after it. */
        assert_true((olds + 1) * one_point_in() > 3 && (news + 1) * one_point_in() > 3);
    }
}

static void a_restore_broken_off_anywhere_leaves_a_whole_ledger(void **state)
{
    (void)state;
    break_off_everywhere(WRAPPED_KILL);
}

static void so_it_does_where_there_are_no_hard_links(void **state)
{
    (void)state;
    break_off_everywhere(WRAPPED_NO_LINKS);
}

static int count_files(const struct bench *bench)
{
    int count = 0;
    DIR *folder = opendir(bench->folder);
    assert_non_null(folder);
    while (readdir(folder) != NULL)
        count++;
    closedir(folder);
    return count;
}

/* One call fails, or that and all after it, as on a disk that gives way. */
static void fail_everywhere(enum wrapped_mode mode)
{
    for (int i = 0; i < FINDS; i++) {
        int failed = 0;
        bool reached = true;
        for (int at = 0; reached; at += one_point_in()) {
            struct bench bench;
            begin_with(&bench, &all_finds[i]);
            int files = count_files(&bench);
            wrapped_set(mode, at);
            bool restored = restore_now(&bench);
            reached = wrapped_count() > at;
            wrapped_set(WRAPPED_PASS, 0);
            /* One that was broken off late is finished when the ledger is opened. */
            if (!restored && mode == WRAPPED_FAIL && all_finds[i].ledger && i != 1 &&
                strstr(bench.err.text, "opening the ledger again") == NULL)
                assert_int_equal(count_files(&bench), files);
            failed += !restored;
            bool there = expect_old_or_new(&bench, &all_finds[i]);
            if (restored)
                assert_true(there);
            if (!restored && there)
                assert_non_null(strstr(bench.err.text, "finishes it"));
            bench_done(&bench);
        }
        assert_true((failed + 1) * one_point_in() > 3);
    }
}

static void a_restore_that_fails_puts_everything_back(void **state)
{
    (void)state;
    fail_everywhere(WRAPPED_FAIL);
}

static void so_it_does_when_the_disk_gives_way(void **state)
{
    (void)state;
    fail_everywhere(WRAPPED_FAIL_ON);
}

static void what_is_newest_is_named_where_the_ledger_is_gone(void **state)
{
    static const char *const names[] = {"ledger.db.before-join-20260726-090000",
                                        "ledger.db.before-restore-20260726-100000",
                                        "ledger.db.before-v1"};
    struct bench *bench = *state;
    for (size_t newest = 0; newest < 3; newest++) {
        struct ledger_setup setup = bench_setup(bench, bench->path, 1);
        bool is_new;
        for (size_t i = 0; i < 3; i++) {
            struct timespec written[2] = {{.tv_sec = 1000}, {.tv_sec = i == newest ? 2000 : 1000}};
            bench_write(bench_file(bench, names[i]), "x", 1);
            assert_int_equal(utimensat(AT_FDCWD, bench_file(bench, names[i]), written, 0), 0);
        }
        assert_false(ledger_open(&setup, &bench->ledger, &is_new, &bench->err));
        assert_non_null(strstr(bench->err.text, names[newest]));
    }
}

/* A ledger that is gone is not begun anew in silence. */
static void no_ledger_is_begun_where_something_of_one_is_left(void **state)
{
    static const struct {
        const char *name;
        const char *says;
    } left[] = {
        {"ledger.db.before-restore-20260726-080000",
         "restore from what is newest, or name another ledger"},
        {"ledger.db.before-v3", "restore from what is newest"},
        {"ledger.db.before-join-20260726-080000", "restore from what is newest"},
        {"ledger.db.unfinished-Xk3f9A", "something of it is left"},
        {"ledger.db-wal", "put the ledger back beside it"},
        {"ledger.db-journal", "put the ledger back beside it"},
    };
    struct bench *bench = *state;
    bool is_new;
    bench_write(bench_file(bench, "other.db.before-v3"), "x", 1);
    for (size_t i = 0; i < sizeof left / sizeof *left; i++) {
        struct ledger_setup setup = bench_setup(bench, bench->path, 1);
        bench_write(bench_file(bench, left[i].name), "x", 1);
        assert_says(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err,
                    left[i].says);
        assert_non_null(strstr(bench->err.text, left[i].name));
        assert_false(bench_exists(bench->path));
        unlink(bench_file(bench, left[i].name));
    }
    bench_open(bench);
}

/* Whoever comes while somebody restores waits; whoever has it open is asked to close it. */
static void a_restore_and_an_open_ledger_keep_off_each_other(void **state)
{
    struct bench *bench = *state;
    struct ledger *ledger;
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, 9);
    bench_judge_some(bench);
    assert_ok(ledger_backup(bench->ledger, bench_file(bench, "copy.db"), &bench->err), &bench->err);
    assert_false(restore_now(bench));
    assert_int_equal(bench->err.code, ERR_BUSY);
    assert_non_null(strstr(bench->err.text, "open in another window"));
    bench_close(bench);

    int ends[2];
    int status;
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
        bench_write(bench_file(bench, "ledger.db.restoring-20260726-080000"), "x", 1);
        int file = open(bench_file(bench, "ledger.db.restoring-20260726-080000"), O_RDWR);
        bool locked = file >= 0 && fcntl(file, F_SETLK, &whole) == 0 && write(ends[1], "x", 1) == 1;
        pause();
        _exit(locked);
    }
    char byte;
    assert_int_equal(read(ends[0], &byte, 1), 1);
    assert_false(ledger_open(&setup, &ledger, &is_new, &bench->err));
    assert_int_equal(bench->err.code, ERR_BUSY);
    assert_non_null(strstr(bench->err.text, "is being restored"));
    kill(child, SIGKILL);
    assert_int_equal(waitpid(child, &status, 0), child);
    unlink(bench_file(bench, "ledger.db.restoring-20260726-080000"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_restored_copy_takes_the_ledgers_place),
        on_stocked_bench(restoring_needs_no_ledger_there),
        on_stocked_bench(a_damaged_ledger_is_put_aside_with_all_it_has),
        on_stocked_bench(what_is_no_good_copy_is_refused),
        cmocka_unit_test(a_restore_broken_off_anywhere_leaves_a_whole_ledger),
        cmocka_unit_test(so_it_does_where_there_are_no_hard_links),
        cmocka_unit_test(a_restore_that_fails_puts_everything_back),
        cmocka_unit_test(so_it_does_when_the_disk_gives_way),
        on_empty_bench(no_ledger_is_begun_where_something_of_one_is_left),
        on_empty_bench(what_is_newest_is_named_where_the_ledger_is_gone),
        on_stocked_bench(a_restore_and_an_open_ledger_keep_off_each_other),
    };
    return cmocka_run_group_tests(tests, make_finds, forget_finds);
}
