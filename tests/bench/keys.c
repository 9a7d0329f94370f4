/* A key at the bowls, from the moment it is pressed until the screen answers, its record on disk by
 * then. The reference is what SQLite needs at least to keep a key: a bare prepared INSERT of one
 * row and its commit, in the same folder and in turns with the keys. */
#include "bench.h"
#include "farm.h"
#include "support/terminal.h"

#include <sqlite3.h>
#include <stdio.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { KEYS = 300, QUIET_MS = 200 };

/* The reference. */

struct bare {
    sqlite3 *db;
    sqlite3_stmt *insert;
};

static void open_bare(const struct bench *bench, struct bare *bare)
{
    char path[4096];
    unlink(bench_path(bench, "bare.db", path));
    if (sqlite3_open(path, &bare->db) != SQLITE_OK ||
        sqlite3_exec(bare->db,
                     "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;"
                     "CREATE TABLE IF NOT EXISTS key (id INTEGER PRIMARY KEY, fish INTEGER,"
                     " at_ms INTEGER, scores TEXT)",
                     NULL, NULL, NULL) != SQLITE_OK ||
        sqlite3_prepare_v2(bare->db,
                           "INSERT INTO key (fish, at_ms, scores) VALUES (1, 2, '...3.......')", -1,
                           &bare->insert, NULL) != SQLITE_OK)
        give_up(path, sqlite3_errmsg(bare->db));
}

static void close_bare(struct bare *bare)
{
    sqlite3_finalize(bare->insert);
    sqlite3_close(bare->db);
}

static int64_t bare_insert(struct bare *bare)
{
    int64_t begin = now_us();
    if (sqlite3_step(bare->insert) != SQLITE_DONE || sqlite3_reset(bare->insert) != SQLITE_OK)
        give_up("the bare INSERT", sqlite3_errmsg(bare->db));
    return now_us() - begin;
}

/* The processor time of a process so far. */
static int64_t cpu_us(pid_t process)
{
    clockid_t clock;
    struct timespec used;
    if (clock_getcpuclockid(process, &clock) != 0 || clock_gettime(clock, &used) != 0)
        give_up("the processor time of a process", "cannot be read");
    return (int64_t)used.tv_sec * 1000000 + used.tv_nsec / 1000;
}

/* Keys. */

static int64_t one_key(struct terminal *terminal, const char *key)
{
    int64_t begin = now_us();
    terminal_key(terminal, key);
    if (!terminal_answers(terminal))
        give_up("the screens", "did not answer a key");
    int64_t took = now_us() - begin;
    terminal_settle(terminal, 2);
    return took;
}

/* Where keys are typed. Enter leads there, from the first screen or from where one was last. */
struct where {
    const char *there;   /* what its screen shows */
    const char *records; /* the table that has a row for each key */
};
static const struct where sheet = {"weight", "stroke"};
static const struct where tally = {"a key is a FISH", "tally_stroke"};

/* Keys do not bounce: they come as soon as they can. */
static struct terminal *open_at(const struct bench *bench, const struct where *where,
                                const char *ledger, const char *const *environment)
{
    enum { SCREENS_DEEP = 5 };
    const char *command[] = {bench->program, "--ledger", ledger, "--judge",
                             "Bench",        "--bounce", "0",    NULL};
    struct terminal *terminal =
        terminal_open(&(struct terminal_setup){.command = command, .environment = environment});
    terminal_shows(terminal, "q ");
    for (int screens = 0; screens < SCREENS_DEEP; screens++) {
        terminal_settle(terminal, QUIET_MS);
        if (terminal_has(terminal, where->there))
            return terminal;
        terminal_key(terminal, "Enter");
    }
    give_up("the screens never showed", where->there);
}

/* Kinds of keys that are pressed in turns, each beside its own INSERT. */
struct turn {
    const char *key;
    int64_t keys[KEYS], inserts[KEYS];
    double cpu_keys, cpu_inserts;
};

static void take_turns(const struct bench *bench, struct terminal *terminal, struct turn *turns,
                       int kinds, int times)
{
    struct bare bare;
    pid_t program = terminal_process(terminal);
    open_bare(bench, &bare);
    for (int kind = 0; kind < kinds; kind++)
        turns[kind].cpu_keys = turns[kind].cpu_inserts = 0;
    for (int i = 0; i < times; i++)
        for (int kind = 0; kind < kinds; kind++) {
            struct turn *turn = &turns[kind];
            int64_t own = cpu_us(getpid());
            turn->inserts[i] = bare_insert(&bare);
            turn->cpu_inserts += (double)(cpu_us(getpid()) - own);
            int64_t before = cpu_us(program);
            turn->keys[i] = one_key(terminal, turn->key);
            turn->cpu_keys += (double)(cpu_us(program) - before);
        }
    close_bare(&bare);
}

static const char reference[] = "a bare INSERT";

static double tell_median(struct bench *bench, const char *what, int64_t size, struct turn *turn,
                          int times, double most)
{
    double ratio =
        (double)median(turn->keys, (size_t)times) / (double)median(turn->inserts, (size_t)times);
    bench_ratio(bench, what, size, ratio, reference, most);
    return ratio;
}

static void tell_slowest(struct bench *bench, const char *what, struct turn *turn, double most)
{
    bench_ratio(bench, what, 0,
                (double)quantile(turn->keys, KEYS, 0.99) /
                    (double)quantile(turn->inserts, KEYS, 0.99),
                reference, most);
}

static void tell_cpu(struct bench *bench, const char *what, const struct turn *turn)
{
    bench_ratio(bench, what, 0, turn->cpu_keys / turn->cpu_inserts, reference, 3);
}

/* A fault is set and taken away again; a score is given and taken back. */
static void measure_letter(struct bench *bench)
{
    struct fish_farm farm = farm_of_fish(bench, 1000, FISH_PER_ROUND);
    struct terminal *terminal = open_at(bench, &sheet, farm.ledger, NULL);
    static struct turn letter = {.key = "w"}, digit[] = {{.key = "3"}, {.key = "-"}};
    take_turns(bench, terminal, &letter, 1, KEYS);
    take_turns(bench, terminal, digit, 2, KEYS);
    terminal_close(terminal);
    tell_median(bench, "a letter until the screen, median", 0, &letter, KEYS, 1.3);
    tell_slowest(bench, "a letter until the screen, 99 %", &letter, 1.6);
    tell_cpu(bench, "a letter, processor time", &letter);
    tell_median(bench, "a digit until the screen, median", 0, &digit[0], KEYS, 1.3);
    tell_slowest(bench, "a digit until the screen, 99 %", &digit[0], 1.6);
    tell_cpu(bench, "a digit, processor time", &digit[0]);
    tell_cpu(bench, "an undo, processor time", &digit[1]);
}

/* A fault of a judged fish is set or taken away, which closes it again, and that is taken back: in
 * rounds that grow. */
static void measure_closing(struct bench *bench)
{
    enum { SIZES = 3, TURNS = KEYS / 2 };
    static const int64_t sizes[SIZES] = {1000, 10000, 100000};
    static struct turn turns[] = {{.key = "w"}, {.key = "-"}};
    double closings[SIZES], undos[SIZES];
    size_t count = 0;
    for (; count < SIZES && sizes[count] <= bench->most_fish; count++) {
        struct fish_farm farm = farm_of_fish(bench, sizes[count], sizes[count]);
        struct terminal *terminal = open_at(bench, &sheet, farm.ledger, NULL);
        one_key(terminal, "p"); /* to one that is judged */
        take_turns(bench, terminal, turns, 2, TURNS);
        terminal_close(terminal);
        closings[count] = tell_median(bench, "a closing key until the screen, median", sizes[count],
                                      &turns[0], TURNS, 1.5);
        undos[count] = tell_median(bench, "an undo until the screen, median", sizes[count],
                                   &turns[1], TURNS, 1.5);
    }
    bench_growth("a closing key", "bare INSERTs", sizes, closings, count);
    bench_growth("an undo", "bare INSERTs", sizes, undos, count);
}

/* What is decided of a fish that is not looked at one by one. */
static void measure_tally(struct bench *bench)
{
    struct fish_farm farm = farm_of_tally(bench);
    struct terminal *terminal = open_at(bench, &tally, farm.ledger, NULL);
    static struct turn turns[] = {{.key = "1"}, {.key = "-"}};
    take_turns(bench, terminal, turns, 2, KEYS);
    terminal_close(terminal);
    tell_median(bench, "a tally key until the screen, median", 0, &turns[0], KEYS, 1.3);
    tell_slowest(bench, "a tally key until the screen, 99 %", &turns[0], 1.6);
    tell_cpu(bench, "a tally key, processor time", &turns[0]);
    tell_median(bench, "its undo until the screen, median", 0, &turns[1], KEYS, 1.5);
}

static int64_t rows_in(const char *ledger, const char *table)
{
    char sql[64];
    sqlite3 *db;
    sqlite3_stmt *count;
    snprintf(sql, sizeof sql, "SELECT count(*) FROM %s", table);
    if (sqlite3_open_v2(ledger, &db, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK ||
        sqlite3_prepare_v2(db, sql, -1, &count, NULL) != SQLITE_OK ||
        sqlite3_step(count) != SQLITE_ROW)
        give_up(ledger, sqlite3_errmsg(db));
    int64_t rows = sqlite3_column_int64(count, 0);
    sqlite3_finalize(count);
    sqlite3_close(db);
    return rows;
}

enum { LONG_KEYS = 18000, LONG_KINDS = 6 };

/* Types the keys in turns, as fast as they are answered: as many as thirty a second are in ten
 * minutes. Tells how many were lost, and by how much each kind grew from the first tenth to the
 * last. */
static void type_long(struct bench *bench, const struct fish_farm *farm, const char *where,
                      const char *const *keys, int kinds)
{
    static int64_t times[LONG_KINDS][LONG_KEYS];
    int turns = LONG_KEYS / kinds, part = turns / 10;
    struct terminal *terminal = open_at(bench, &sheet, farm->ledger, NULL);
    int64_t before = rows_in(farm->ledger, sheet.records);
    for (int i = 0; i < turns; i++)
        for (int kind = 0; kind < kinds; kind++)
            times[kind][i] = one_key(terminal, keys[kind]);
    terminal_settle(terminal, QUIET_MS);
    int64_t lost = (int64_t)kinds * turns - (rows_in(farm->ledger, sheet.records) - before);
    terminal_close(terminal);
    char what[80];
    snprintf(what, sizeof what, "keys lost, %s", where);
    bench_line(bench, what, LONG_KEYS, (double)lost, "keys", 0);
    if (lost != 0)
        give_up("keys", "were lost");
    for (int kind = 0; kind < kinds; kind++) {
        double first = (double)median(times[kind], (size_t)part),
               last = (double)median(&times[kind][turns - part], (size_t)part);
        snprintf(what, sizeof what, "%s after them, %s", keys[kind], where);
        bench_ratio(bench, what, 0, last / first, "the same at first", 1.1);
    }
}

/* A score and its undo, a fault seen and not seen, a fish finished; and on one fish, which is
 * opened again each time. */
static void measure_long(struct bench *bench)
{
    static const char *const keys[LONG_KINDS] = {"3", "-", "w", "w", "Enter", "-"};
    struct fish_farm farm = farm_of_fish(bench, 1000, FISH_PER_ROUND);
    type_long(bench, &farm, "fish after fish", keys, LONG_KINDS - 1);
    type_long(bench, &farm, "on one fish", keys, LONG_KINDS);
}

/* At a pace. */

enum { PER_SECOND = 30, WAITS_MOST = 60 * 60 };

static void rest_until(int64_t us)
{
    int64_t left = us - now_us();
    struct timespec rest = {left / 1000000, left % 1000000 * 1000};
    if (left > 0)
        nanosleep(&rest, NULL);
}

/* Types the keys of a cycle so many times. Once a second it waits for what the last key does,
 * behind all that are still in the line: `ret_waits` [WAITS_MOST], in µs. Returns how many. */
static size_t type_at_pace(struct terminal *terminal, const char *cycle, int64_t cycles,
                           int64_t *ret_waits)
{
    enum { STILL_MS = 100 };
    int64_t keys = (int64_t)strlen(cycle), next_us = now_us();
    size_t waits = 0;
    for (int64_t i = 1; i <= cycles * keys; i++) {
        int64_t begin_us = now_us();
        terminal_type(terminal, (char[]){cycle[(i - 1) % keys], '\0'});
        if (i % PER_SECOND == 0 && waits < WAITS_MOST) {
            terminal_settle(terminal, STILL_MS);
            ret_waits[waits++] = now_us() - begin_us - STILL_MS * 1000;
            next_us = now_us();
        } else {
            terminal_settle(terminal, 0);
        }
        next_us += 1000000 / PER_SECOND;
        rest_until(next_us);
    }
    return waits;
}

static void tell_pace(struct bench *bench, const struct where *where, const char *what,
                      const char *ledger, const char *cycle, int sync_ms)
{
    static int64_t waits[WAITS_MOST];
    char preload[4096], slow[32], line[100];
    snprintf(preload, sizeof preload, "LD_PRELOAD=%s", SLOW_DISK);
    snprintf(slow, sizeof slow, "SYNC_MS=%d", sync_ms);
    struct terminal *terminal =
        open_at(bench, where, ledger, (const char *[]){preload, slow, NULL});
    int64_t before = rows_in(ledger, where->records);
    int64_t cycles = (int64_t)bench->minutes * 60 * PER_SECOND / (int64_t)strlen(cycle);
    size_t count = type_at_pace(terminal, cycle, cycles, waits);
    terminal_settle(terminal, QUIET_MS);
    int64_t keys = cycles * (int64_t)strlen(cycle);
    int64_t lost = keys - (rows_in(ledger, where->records) - before);
    terminal_close(terminal);
    snprintf(line, sizeof line, "%s: lost of so many keys", what);
    bench_line(bench, line, keys, (double)lost, "keys", 0);
    if (lost != 0)
        give_up("keys", "were lost");
    double first = (double)median(waits, count / 4),
           last = (double)median(waits + count - count / 4, count / 4);
    snprintf(line, sizeof line, "%s: the last key's wait, at last", what);
    bench_line(bench, line, 0, last / 1000, "ms", 1000.0 / PER_SECOND);
    bench_remark("%.1f ms in the first quarter of the time", first / 1000);
}

/* Each key of both cycles is one row. */
static void measure_pace(struct bench *bench)
{
    struct fish_farm fish = farm_of_fish(bench, 1000, FISH_PER_ROUND),
                     counted = farm_of_tally(bench);
    for (int sync_ms = 0; sync_ms <= 20; sync_ms += 20) {
        char what[64];
        snprintf(what, sizeof what, "sheet, syncs of %d ms", sync_ms);
        tell_pace(bench, &sheet, what, fish.ledger, "w4--\r-", sync_ms);
        snprintf(what, sizeof what, "tally, syncs of %d ms", sync_ms);
        tell_pace(bench, &tally, what, counted.ledger, "1+0-", sync_ms);
    }
}

const struct bench_row key_rows[] = {
    {"letter", "a letter and a digit at the sheet", measure_letter},
    {"closing", "a key that closes a fish, and an undo, in rounds that grow", measure_closing},
    {"tally", "a key at the tally", measure_tally},
    {"keys-long", "keys of every kind, as many as ten minutes have", measure_long},
    {"pace", "30 keys a second for --minutes, also where a sync takes 20 ms more", measure_pace},
    {NULL, NULL, NULL},
};
