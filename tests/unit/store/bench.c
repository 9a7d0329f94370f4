#include "bench.h"

#include "senbetsu/store/parents.h"
#include "support/standard.h"

#include <dirent.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

/* 2026-07-26 08:00 UTC */
static const int64_t morning = INT64_C(1785052800000);

int bench_set_up(void **state)
{
    struct bench *bench = malloc(sizeof *bench);
    bench_init(bench);
    *state = bench;
    return 0;
}

int bench_set_up_stocked(void **state)
{
    bench_set_up(state);
    bench_open(*state);
    bench_stock(*state);
    return 0;
}

int bench_tear_down(void **state)
{
    bench_done(*state);
    free(*state);
    return 0;
}

void bench_init(struct bench *bench)
{
    const char *base = getenv("TMPDIR");
    *bench = (struct bench){.now = morning};
    snprintf(bench->folder, sizeof bench->folder, "%.40s/bench-XXXXXX", base ? base : "/tmp");
    assert_non_null(mkdtemp(bench->folder));
    snprintf(bench->path, sizeof bench->path, "%s/ledger.db", bench->folder);
}

void bench_done(struct bench *bench)
{
    bench_close(bench);
    DIR *folder = opendir(bench->folder);
    if (folder == NULL)
        abort();
    for (struct dirent *entry; (entry = readdir(folder)) != NULL;) {
        if (entry->d_name[0] == '.')
            continue;
        const char *path = bench_file(bench, entry->d_name);
        if (unlink(path) != 0)
            rmdir(path);
    }
    closedir(folder);
    assert_int_equal(rmdir(bench->folder), 0);
}

const char *bench_file(const struct bench *bench, const char *name)
{
    static char paths[4][512];
    static int next;
    char *path = paths[next++ % 4];
    snprintf(path, sizeof paths[0], "%s/%s", bench->folder, name);
    return path;
}

struct ledger_setup bench_setup(struct bench *bench, const char *path, int seed)
{
    struct ledger_setup setup = {
        .path = path, .create = true, .clock = clock_fixed(&bench->now), .station = "bench"};
    for (size_t i = 0; i < sizeof setup.seed; i++)
        setup.seed[i] = (uint8_t)(seed * 37 + (int)i * 11);
    return setup;
}

void bench_open(struct bench *bench)
{
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, bench->path, 1);
    assert_ok(ledger_open(&setup, &bench->ledger, &is_new, &bench->err), &bench->err);
}

void bench_close(struct bench *bench)
{
    ledger_close(bench->ledger);
    bench->ledger = NULL;
}

static const struct standard standard = {
    STANDARD("kikusui-second", "Kikusui", STAGE_SECOND, 6500, 5500),
    ASPECTS(2, FLOORED_ASPECT("white", "White ground", 4, 2, VERDICT_REJECT),
            ASPECT("body", "Body", 2)),
    FAULTS(2, FAULT("spine", "Bent spine", EFFECT_REJECT),
           DEDUCTION("eye", "Colour over the eye", 1000)),
};

const struct standard *bench_standard(void)
{
    return &standard;
}

void bench_stock(struct bench *bench)
{
    static const struct parent parents[] = {
        {.code = "D1", .sex = SEX_FEMALE}, {.code = "S1", .sex = SEX_MALE}, {.code = "S2"}};
    struct spawning spawning = {.code = "K1",
                                .season = 2026,
                                .date = "2026-06-01",
                                .variety = "Kikusui",
                                .dam = "D1",
                                .sires = "S1",
                                .siring = SIRING_SINGLE,
                                .eggs = NOT_COUNTED,
                                .hatched = NOT_COUNTED};
    struct standard_version version;
    enum saved saved;
    for (size_t i = 0; i < sizeof parents / sizeof *parents; i++)
        assert_ok(parent_save(bench->ledger, &parents[i], 0, "", &saved, &bench->err), &bench->err);
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
    assert_ok(
        standard_save(bench->ledger, &standard, ORIGIN_SHIPPED, &version, &saved, &bench->err),
        &bench->err);
    bench->standard = version.id;
    struct round round = bench_round(bench);
    snprintf(round.standard, sizeof round.standard, "%s", standard.name);
    assert_ok(round_save(bench->ledger, &round, 0, &bench->err), &bench->err);
}

struct round bench_round(struct bench *bench)
{
    struct round round;
    assert_ok(round_begin(bench->ledger, "K1", "", STAGE_SECOND, &round, &bench->err), &bench->err);
    return round;
}

struct bowl bench_bowl(struct bench *bench, int number)
{
    struct bowl bowl;
    assert_ok(bowl_begin(bench->ledger, bench_round(bench).id, number, 0, "2026-07-26", &bowl,
                         &bench->err),
              &bench->err);
    return bowl;
}

int64_t bench_fish(struct bench *bench, int bowl, int number)
{
    int64_t id;
    assert_ok(fish_begin(bench->ledger, bench_bowl(bench, bowl).id, number, &id, &bench->err),
              &bench->err);
    return id;
}

int64_t bench_stroke(struct bench *bench, int64_t fish, int look, struct entry entry)
{
    struct fish known;
    struct stroke stroke = {.fish = fish,
                            .look = look,
                            .at_ms = bench->now,
                            .standard = bench->standard,
                            .entry_count = 1};
    stroke.entries[0] = entry;
    assert_ok(fish_load(bench->ledger, fish, &standard, &known, &bench->err), &bench->err);
    fish_apply(&known, &standard, look, bench->now, &entry);
    struct cached_verdict cached = fish_cached_verdict(&known, &standard);
    assert_ok(stroke_record(bench->ledger, &stroke, &cached, NULL, &bench->err), &bench->err);
    bench->now += 1000;
    return stroke.id;
}

struct entry bench_score(const char *aspect, int score)
{
    struct entry entry = {.kind = ENTRY_SCORE, .number = score};
    snprintf(entry.what, sizeof entry.what, "%s", aspect);
    return entry;
}

struct entry bench_fault(const char *fault, int seen)
{
    struct entry entry = {.kind = ENTRY_FAULT, .number = seen};
    snprintf(entry.what, sizeof entry.what, "%s", fault);
    return entry;
}

struct entry bench_close_entry(enum verdict verdict)
{
    return (struct entry){.kind = ENTRY_CLOSE, .number = (int)verdict};
}

static sqlite3 *connect_directly(const struct bench *bench)
{
    sqlite3 *db;
    assert_int_equal(sqlite3_open(bench->path, &db), SQLITE_OK);
    return db;
}

int64_t bench_ask(const struct bench *bench, const char *sql)
{
    sqlite3 *db = connect_directly(bench);
    sqlite3_stmt *statement;
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
        fail_msg("%s: %s", sql, sqlite3_errmsg(db));
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    int64_t number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
    return number;
}

void bench_do(const struct bench *bench, const char *sql)
{
    sqlite3 *db = connect_directly(bench);
    char *message = NULL;
    if (sqlite3_exec(db, sql, NULL, NULL, &message) != SQLITE_OK)
        fail_msg("%s: %s", sql, message);
    assert_int_equal(sqlite3_close(db), SQLITE_OK);
}

char *bench_bytes(const char *path, size_t *ret_size)
{
    struct stat about;
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    assert_int_equal(fstat(fileno(file), &about), 0);
    char *bytes = malloc((size_t)about.st_size + 1);
    *ret_size = fread(bytes, 1, (size_t)about.st_size, file);
    fclose(file);
    return bytes;
}

void bench_write(const char *path, const void *bytes, size_t size)
{
    FILE *file = fopen(path, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(bytes, 1, size, file), size);
    assert_int_equal(fclose(file), 0);
}

bool bench_exists(const char *path)
{
    struct stat about;
    return lstat(path, &about) == 0;
}

void bench_judge_some(struct bench *bench)
{
    for (int number = 1; number <= 3; number++)
        bench_stroke(bench, bench_fish(bench, 1, number), 1, bench_score("white", number + 1));
}

void bench_open_copy(struct bench *bench, const char *path, struct ledger **ret)
{
    bool is_new;
    struct ledger_setup setup = bench_setup(bench, path, 9);
    setup.create = false;
    assert_ok(ledger_open(&setup, ret, &is_new, &bench->err), &bench->err);
    assert_false(is_new);
}

size_t bench_count_fish(struct bench *bench, struct ledger *ledger)
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
