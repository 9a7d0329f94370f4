/* Eight programs at one ledger, each at a terminal of its own, while an office keeps on importing,
 * passing, backing up and asking for reports: sorters PROGRAM FOLDER KEYS [PER SECOND]
 *
 * FOLDER is an empty folder on the disk to measure. Every sorter presses KEYS keys, each as soon as
 * the screen has been still for FRAME_MS after the one before it, or PER SECOND of them. Told are
 * the times from a key to the screen, beside a bare write of a page followed by fdatasync, in the
 * same folder and over the same time; how often the office did what, and how long that took; and
 * the keys that were refused. Afterwards every key of every sorter must be in the ledger, in its
 * order, and the command check must find nothing. Fails where that is not so.
 *
 * Two sorters share a bowl, two have other bowls of the same round, two share a tally, and two are
 * in rounds of their own. */
#include "measure.h"
#include "senbetsu/base/alloc.h"
#include "support/terminal.h"

#include <fcntl.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { SORTERS = 8, KEYS_MOST = 100000, QUIET_MS = 60, FRAME_MS = 25, WRITE_EVERY_MS = 40 };

static const char standard[] = "[standard]\nname = bench\nvariety = Bench\nstage = harvest\n"
                               "scale = 1-5\ntypical = 3\nkeep_at = 60\nhold_at = 50\n"
                               "[aspect body]\nlabel = Body\nweight = 40\n"
                               "[aspect white]\nlabel = White\nweight = 35\n"
                               "[fault window]\nlabel = Window\neffect = deduct 5\nkey = w\n";
static const char spawnings[] = "spawning,season,variety\nB1,2025,Bench\nB2,2025,Bench\n"
                                "B3,2025,Bench\nB4,2025,Bench\nB5,2025,Bench\n";
static const char rounds[] = "spawning,stage,manner,in\nB1,harvest,judge,\nB2,first,pick,1000000\n"
                             "B3,harvest,judge,\nB4,first,pick,1000000\nB5,harvest,judge,\n";

/* What a sorter does: goes down so many lines at the first screen; a bowl that is set up, or one
 * that is there and the fish to begin at; neither is the tally. */
static const struct post {
    const char *down, *set_up, *begin_at;
} posts[SORTERS] = {
    {"", "30000", NULL},          {"", NULL, "#15001"},           {"", "30000", NULL},
    {"", "30000", NULL},          {"Down", NULL, NULL},           {"Down", NULL, NULL},
    {"Down Down", "30000", NULL}, {"Down Down Down", NULL, NULL},
};

/* In memory that all processes share. */
struct shared {
    volatile bool begun, ended;
    volatile bool ready[SORTERS];
    int refused[SORTERS];
    char typed[SORTERS][KEYS_MOST + 1]; /* as the ledger should have it */
    int64_t times[SORTERS][KEYS_MOST];
    int64_t bare[KEYS_MOST];
    int bare_count;
};

enum task { IMPORT, PASS, PASS_OF_SORTERS, BACKUP, SEASON, RATES, TASKS };
static const char *const task_names[TASKS] = {"import", "pass",   "pass of the sorters' round",
                                              "backup", "season", "rates"};

static struct run {
    const char *program, *folder;
    char ledger[2048];
    int keys, per_second;
    struct shared *shared;
} run;

static const char *path_in(const char *name, char ret[4096])
{
    snprintf(ret, 4096, "%s/%s", run.folder, name);
    return ret;
}

static void pause_ms(int64_t ms)
{
    if (ms > 0)
        nanosleep(&(struct timespec){ms / 1000, ms % 1000 * 1000000}, NULL);
}

/* Commands. */

static int64_t command(const char *a, const char *b, const char *c, const char *d, const char *e,
                       const char *f, const char *g)
{
    const char *words[] = {run.program, "--ledger", run.ledger, a, b, c, d, e, f, g, NULL};
    return timed(words);
}

static void import(const char *kind, const char *name, const char *content)
{
    char path[4096];
    write_file(path_in(name, path), content);
    command("import", kind, path, NULL, NULL, NULL, NULL);
}

/* Half of a thousand fish get other scores each time. */
static void write_fish(int turn)
{
    char path[4096];
    struct text text;
    text_init(&text);
    text_add(&text, "spawning,stage,bowl,fish,body,white\n");
    for (int i = 0; i < 1000; i++)
        text_addf(&text, "B5,harvest,%d,%d,%d,%d\n", i / 100 + 1, i % 100 + 1, i % 5 + 1,
                  i % 2 == 0 ? 3 : turn % 5 + 1);
    write_file(path_in("many.csv", path), text.data);
    text_done(&text);
}

static int64_t do_task(enum task task, int turn)
{
    char path[4096];
    switch (task) {
    case IMPORT:
        write_fish(turn);
        return command("import", "fish", path_in("many.csv", path), NULL, NULL, NULL, NULL);
    case PASS:
        return command("pass", "--spawning=B5", "--stage=harvest",
                       turn % 2 == 0 ? "--places=200" : "--places=300", "--csv", NULL, NULL);
    case PASS_OF_SORTERS:
        return command("pass", "--spawning=B1", "--stage=harvest", "--csv", NULL, NULL, NULL);
    case BACKUP:
        unlink(path_in("copy.db", path));
        return command("backup", path, NULL, NULL, NULL, NULL, NULL);
    case SEASON:
        return command("season", "--season=2025", NULL, NULL, NULL, NULL, NULL);
    case RATES:
        return command("rates", NULL, NULL, NULL, NULL, NULL, NULL);
    case TASKS:
    default:
        abort();
    }
}

/* One thing after another until the sorters are done. */
static void office(void)
{
    static int64_t times[TASKS][KEYS_MOST];
    int turn = 0;
    while (!run.shared->begun)
        pause_ms(10);
    for (; !run.shared->ended; turn++)
        for (int task = 0; task < TASKS; task++)
            times[task][turn] = do_task((enum task)task, turn);
    for (int task = 0; task < TASKS; task++)
        printf("  %-28s %4d times, median %lld ms\n", task_names[task], turn,
               (long long)median(times[task], (size_t)turn) / 1000);
}

/* Bare writes. */

static void write_bare(void)
{
    char path[4096];
    int file = open(path_in("pages", path), O_CREAT | O_WRONLY | O_TRUNC, 0600);
    while (!run.shared->begun)
        pause_ms(10);
    while (!run.shared->ended && run.shared->bare_count < KEYS_MOST) {
        run.shared->bare[run.shared->bare_count++] = synced_write(file);
        pause_ms(WRITE_EVERY_MS);
    }
    close(file);
}

/* A sorter. */

static void type(struct terminal *terminal, const char *keys)
{
    char list[64];
    snprintf(list, sizeof list, "%s", keys);
    for (char *key = strtok(list, " "); key != NULL; key = strtok(NULL, " ")) {
        terminal_key(terminal, key);
        terminal_settle(terminal, QUIET_MS);
    }
}

static void expect(struct terminal *terminal, const char *part)
{
    struct text text;
    if (terminal_shows(terminal, part))
        return;
    text_init(&text);
    terminal_text(terminal, &text);
    fprintf(stderr, "%s\n", text.data);
    give_up("the screens never showed", part);
}

static struct terminal *take_post(int sorter)
{
    const struct post *post = &posts[sorter];
    char judge[16];
    snprintf(judge, sizeof judge, "--judge=J%d", sorter);
    const char *words[] = {run.program, "--ledger", run.ledger, judge, NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = words});
    expect(terminal, "B1");
    type(terminal, post->down);
    type(terminal, "Enter Enter");
    bool sheet = post->set_up != NULL || post->begin_at != NULL;
    if (sheet)
        expect(terminal, "whole round");
    if (post->set_up != NULL) {
        type(terminal, "+");
        terminal_type(terminal, post->set_up);
        type(terminal, "Enter");
    } else if (sheet) {
        type(terminal, "Enter");
        terminal_type(terminal, post->begin_at); /* found with its last digit */
    }
    expect(terminal, post->begin_at != NULL ? "1 of 2 open"
                     : sheet                ? "2 of 2 open"
                                            : "a key is a FISH");
    terminal_settle(terminal, QUIET_MS);
    return terminal;
}

static unsigned draw(unsigned *random, unsigned below)
{
    *random = *random * 1103515245u + 12345u;
    return (*random >> 8) % below;
}

/* The next key, and how the ledger has it: a fault set or taken away (w), a fish finished (E), one
 * kept (k) or rejected (r), the last key undone (u). */
static const char *next_key(bool sheet, char before, unsigned *random, char *ret_mark)
{
    unsigned drawn = draw(random, 10);
    if (drawn == 0 && before != 0 && before != 'u' && before != 'E') {
        *ret_mark = 'u';
        return "-";
    }
    bool first = drawn < 5;
    *ret_mark = sheet ? (first ? 'w' : 'E') : first ? 'r' : 'k';
    return sheet ? (first ? "w" : "\r") : first ? "n" : "+";
}

static bool was_refused(struct terminal *terminal)
{
    struct text text;
    text_init(&text);
    terminal_text(terminal, &text);
    bool refused = strstr(text.data, "othing was recorded") != NULL ||
                   strstr(text.data, "Another program") != NULL;
    if (refused) {
        const char *line = strstr(text.data, "othing was recorded");
        line = line != NULL ? line : strstr(text.data, "Another program");
        fprintf(stderr, "%.*s\n", (int)strcspn(line, "\n"), line);
    }
    text_done(&text);
    return refused;
}

static void sort_fish(int sorter)
{
    struct terminal *terminal = take_post(sorter);
    struct shared *shared = run.shared;
    bool sheet = posts[sorter].set_up != NULL || posts[sorter].begin_at != NULL;
    unsigned random = (unsigned)sorter + 1;
    shared->ready[sorter] = true;
    while (!shared->begun)
        pause_ms(10);
    int64_t due = now_us();
    for (int i = 0; i < run.keys; i++) {
        char mark, before = i > 0 ? shared->typed[sorter][i - 1] : 0;
        const char *key = next_key(sheet, before, &random, &mark);
        if (run.per_second > 0) {
            unsigned usual = 1000000u / (unsigned)run.per_second;
            due += usual / 2 + draw(&random, usual);
            pause_ms((due - now_us()) / 1000);
        }
        terminal_settle(terminal, 0); /* what the screen says by itself, such as the time */
        int64_t begin = now_us();
        terminal_type(terminal, key);
        if (!terminal_answers(terminal))
            give_up("a sorter", "got no answer to a key");
        shared->times[sorter][i] = now_us() - begin;
        terminal_settle(terminal, FRAME_MS);
        shared->refused[sorter] += was_refused(terminal);
        shared->typed[sorter][i] = mark;
    }
    terminal_settle(terminal, 10 * FRAME_MS);
    terminal_close(terminal);
}

/* All together. */

static pid_t start(void (*work)(int), void (*also)(void), int sorter)
{
    fflush(stdout);
    pid_t pid = fork();
    if (pid != 0)
        return pid;
    if (also != NULL)
        also();
    else
        work(sorter);
    exit(0);
}

static bool ended_well(pid_t pid)
{
    int status;
    return waitpid(pid, &status, 0) == pid && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

/* What the ledger has of a judge's keys, in the order in which they were pressed. */
static void recorded(sqlite3 *db, int sorter, struct text *ret)
{
    static const char sql[] =
        "SELECT iif(k.undoes IS NOT NULL, 'u', k.mark) FROM judge AS j JOIN ("
        " SELECT id, judge, undoes, iif(closes IS NULL, 'w', 'E') AS mark FROM stroke UNION ALL"
        " SELECT id, judge, undoes, iif(kind = 'keep', 'k', 'r') FROM tally_stroke"
        ") AS k ON k.judge = j.id WHERE j.name = 'J' || ? ORDER BY k.id";
    sqlite3_stmt *statement;
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK)
        give_up("SQLite", sqlite3_errmsg(db));
    sqlite3_bind_int(statement, 1, sorter);
    while (sqlite3_step(statement) == SQLITE_ROW)
        text_add(ret, (const char *)sqlite3_column_text(statement, 0));
    sqlite3_finalize(statement);
}

static size_t same_until(const char *a, const char *b)
{
    size_t at = 0;
    while (a[at] != '\0' && a[at] == b[at])
        at++;
    return at;
}

static bool compare_ledger(void)
{
    sqlite3 *db;
    bool same = true;
    if (sqlite3_open_v2(run.ledger, &db, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK)
        give_up("SQLite", "cannot open the ledger");
    for (int i = 0; i < SORTERS; i++) {
        struct text keys;
        text_init(&keys);
        recorded(db, i, &keys);
        if (strcmp(keys.data, run.shared->typed[i]) != 0) {
            size_t at = same_until(keys.data, run.shared->typed[i]);
            printf("J%d: %zu keys in the ledger, %d typed; NOT the same from %zu on: %.9s, %.9s\n",
                   i, keys.length, run.keys, at, keys.data + at, run.shared->typed[i] + at);
            same = false;
        }
        text_done(&keys);
    }
    sqlite3_close(db);
    return same;
}

static void print_times(int64_t took)
{
    struct shared *shared = run.shared;
    static int64_t all[SORTERS * KEYS_MOST];
    size_t count = 0, bare_count = (size_t)shared->bare_count;
    int refused = 0;
    for (int i = 0; i < SORTERS; i++) {
        memcpy(all + count, shared->times[i], (size_t)run.keys * sizeof *all);
        count += (size_t)run.keys;
        refused += shared->refused[i];
    }
    static const struct {
        const char *name;
        double part;
    } parts[] = {{"median", 0.5}, {"90 %", 0.9}, {"99 %", 0.99}, {"99.9 %", 0.999}, {"longest", 1}};
    printf("%d sorters, %d keys each, %.0f keys a second; %d refused\n", SORTERS, run.keys,
           (double)count * 1e6 / (double)took, refused);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        int64_t key = quantile(all, count, parts[i].part);
        int64_t bare = quantile(shared->bare, bare_count, parts[i].part);
        printf("  %-8s a key until the screen %7.1f ms, a synced write %7.1f ms, ratio %.1f\n",
               parts[i].name, (double)key / 1e3, (double)bare / 1e3, (double)key / (double)bare);
    }
}

static void prepare(void)
{
    char path[4096];
    snprintf(run.ledger, sizeof run.ledger, "%s/ledger.db", run.folder);
    write_file(path_in("bench.ini", path), standard);
    command("import", "standard", path, NULL, NULL, NULL, NULL);
    import("spawnings", "spawnings.csv", spawnings);
    import("rounds", "rounds.csv", rounds);
    int file = open(path_in("shared", path), O_CREAT | O_RDWR | O_TRUNC, 0600);
    if (file < 0 || ftruncate(file, sizeof *run.shared) != 0)
        give_up(path, "cannot be made");
    run.shared = mmap(NULL, sizeof *run.shared, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
    if (run.shared == MAP_FAILED)
        give_up("mmap", "failed");
}

int main(int argc, char **argv)
{
    pid_t sorters[SORTERS];
    bool fine = true;
    if (argc < 4)
        give_up("usage", "sorters PROGRAM FOLDER KEYS [PER SECOND]");
    run = (struct run){.program = argv[1],
                       .folder = argv[2],
                       .keys = atoi(argv[3]),
                       .per_second = argc > 4 ? atoi(argv[4]) : 0};
    if (run.keys < 1 || run.keys > KEYS_MOST)
        give_up("KEYS", "must be from 1 to 100000");
    prepare();
    for (int i = 0; i < SORTERS; i++) {
        sorters[i] = start(sort_fish, NULL, i);
        while (!run.shared->ready[i] && waitpid(sorters[i], NULL, WNOHANG) == 0)
            pause_ms(10);
        if (i == 0) /* the fish that the second sorter of this bowl begins at */
            import("fish", "first.csv",
                   "spawning,stage,bowl,fish,body,white\nB1,harvest,1,15001,3,\n");
    }
    pid_t at_work = start(NULL, office, 0), writing = start(NULL, write_bare, 0);
    int64_t begin = now_us();
    run.shared->begun = true;
    for (int i = 0; i < SORTERS; i++)
        fine = ended_well(sorters[i]) && fine;
    int64_t took = now_us() - begin;
    run.shared->ended = true;
    fine = ended_well(at_work) && ended_well(writing) && fine;
    print_times(took);
    command("check", NULL, NULL, NULL, NULL, NULL, NULL);
    fine = compare_ledger() && fine;
    for (int i = 0; i < SORTERS; i++)
        fine = fine && run.shared->refused[i] == 0;
    printf("%s\n", fine ? "every key is in the ledger, in its order" : "NOT as it should be");
    return fine ? 0 : 1;
}
