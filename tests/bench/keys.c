/* A key at the bowls, from the moment it is pressed until the screen answers, its record on disk by
 * then. The reference is what SQLite needs at least to keep a key: a bare prepared INSERT of one
 * row and its commit, in the same folder and in turns with the keys. */
#include "bench.h"
#include "farm.h"
#include "support/terminal.h"

#include <sqlite3.h>
#include <stdio.h>
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

enum front { NEW_FISH, JUDGED_FISH };

/* The sheet of B1's first bowl. Its keys do not bounce: they come as soon as they can. */
static struct terminal *open_sheet(const struct bench *bench, const char *ledger, enum front front)
{
    const char *command[] = {bench->program, "--ledger", ledger, "--judge",
                             "Bench",        "--bounce", "0",    NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    static const char *const steps[][2] = {
        {"B1", "Enter"}, {"B1: Kohaku", "Enter"}, {"bowl 1", "Enter"}};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (!terminal_shows(terminal, steps[i][0]))
            give_up("the screens never showed", steps[i][0]);
        terminal_key(terminal, steps[i][1]);
    }
    terminal_settle(terminal, QUIET_MS);
    if (front == JUDGED_FISH)
        one_key(terminal, "p");
    return terminal;
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
    struct terminal *terminal = open_sheet(bench, farm.ledger, NEW_FISH);
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
        struct terminal *terminal = open_sheet(bench, farm.ledger, JUDGED_FISH);
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

static int64_t strokes_in(const char *ledger)
{
    sqlite3 *db;
    sqlite3_stmt *count;
    if (sqlite3_open_v2(ledger, &db, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK ||
        sqlite3_prepare_v2(db, "SELECT count(*) FROM stroke", -1, &count, NULL) != SQLITE_OK ||
        sqlite3_step(count) != SQLITE_ROW)
        give_up(ledger, sqlite3_errmsg(db));
    int64_t strokes = sqlite3_column_int64(count, 0);
    sqlite3_finalize(count);
    sqlite3_close(db);
    return strokes;
}

/* As many keys as thirty a second are in ten minutes, as fast as they are answered: a score and its
 * undo, a fault seen and not seen, a fish finished and opened again. */
static void measure_long(struct bench *bench)
{
    static const char *const keys[] = {"3", "-", "w", "w", "Enter", "-"};
    enum { KINDS = sizeof keys / sizeof *keys, ROUNDS = 18000 / KINDS, PART = ROUNDS / 10 };
    static int64_t times[KINDS][ROUNDS];
    struct fish_farm farm = farm_of_fish(bench, 1000, FISH_PER_ROUND);
    struct terminal *terminal = open_sheet(bench, farm.ledger, NEW_FISH);
    int64_t before = strokes_in(farm.ledger);
    for (int i = 0; i < ROUNDS; i++)
        for (int kind = 0; kind < KINDS; kind++)
            times[kind][i] = one_key(terminal, keys[kind]);
    terminal_settle(terminal, QUIET_MS);
    int64_t lost = (int64_t)KINDS * ROUNDS - (strokes_in(farm.ledger) - before);
    terminal_close(terminal);
    bench_line(bench, "keys lost", (int64_t)KINDS * ROUNDS, (double)lost, "keys", 0);
    if (lost != 0)
        give_up("keys", "were lost");
    for (int kind = 0; kind < KINDS; kind++) {
        char what[64];
        double first = (double)median(times[kind], PART),
               last = (double)median(&times[kind][ROUNDS - PART], PART);
        snprintf(what, sizeof what, "%s after %d keys", keys[kind], KINDS * ROUNDS);
        bench_ratio(bench, what, 0, last / first, "the same at first", 1.1);
    }
}

const struct bench_row key_rows[] = {
    {"letter", "a letter and a digit at the sheet", measure_letter},
    {"closing", "a key that closes a fish, and an undo, in rounds that grow", measure_closing},
    {"keys-long", "keys of every kind for ten minutes", measure_long},
    {NULL, NULL, NULL},
};
