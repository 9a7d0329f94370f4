/* What things cost, as ratios that mean the same on any machine: bench PROGRAM FOLDER
 *
 * - A key pressed until the screen answers, its record on disk by then, against a bare write of one
 *   page followed by fdatasync in the same folder. The key is a fault's letter, taken away and set
 *   again; a digit costs READER_GAP_MS more, because it might be the first of a tag reader's.
 * - 10,000 fish imported and passed, against the SQLite shell's .import of the same file.
 * - The rates by pair of 20 seasons of 50 spawnings with five culls each, against the shell's
 *   .import of the same rounds into a new file. The shell waits until its file is on the disk,
 * rates have nothing to wait for: what the import takes without that is told as well, and what
 * rates take of a ledger without a round, which is what starting and opening cost.
 *
 * Commands are timed as whole processes; medians, taken in turns where two are compared. */
#include "measure.h"
#include "senbetsu/base/alloc.h"
#include "support/terminal.h"
#include <fcntl.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { KEYS = 300, FISH = 10000, FISH_PER_BOWL = 100, QUIET_MS = 200 };

static const char standard[] = "[standard]\nname = bench\nvariety = Bench\nstage = harvest\n"
                               "scale = 1-5\ntypical = 3\nkeep_at = 60\nhold_at = 50\n"
                               "[aspect body]\nlabel = Body\nweight = 40\n"
                               "[aspect white]\nlabel = White\nweight = 35\n"
                               "[aspect head]\nlabel = Head\nweight = 25\n"
                               "[fault spine]\nlabel = Spine\neffect = reject\nkey = s\n"
                               "[fault window]\nlabel = Window\neffect = deduct 5\nkey = w\n";
static const char spawnings[] = "spawning,season,variety\nB1,2025,Bench\nB2,2025,Bench\n";

struct bench {
    const char *program;
    const char *folder;
    char ledger[4096];
};

static const char *path_in(const struct bench *bench, const char *name, char ret[4096])
{
    snprintf(ret, 4096, "%s/%s", bench->folder, name);
    return ret;
}

static void write_into(const struct bench *bench, const char *name, const char *content)
{
    char path[4096];
    write_file(path_in(bench, name, path), content);
}

static int64_t import(const struct bench *bench, const char *kind, const char *name)
{
    char path[4096];
    const char *command[] = {bench->program,
                             "--ledger",
                             bench->ledger,
                             "import",
                             kind,
                             path_in(bench, name, path),
                             NULL};
    return timed(command);
}

static int64_t one_key(struct terminal *terminal)
{
    int64_t begin = now_us();
    terminal_type(terminal, "w");
    if (!terminal_answers(terminal))
        give_up("the screens", "did not answer a key");
    int64_t took = now_us() - begin;
    terminal_settle(terminal, 2);
    return took;
}

/* The sheet of B1's first bowl, with an unjudged fish in front. */
static struct terminal *open_sheet(const struct bench *bench)
{
    const char *command[] = {bench->program, "--ledger", bench->ledger, "--judge", "Bench", NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    static const char *const steps[][2] = {
        {"B1", "Enter"}, {"B1: Bench", "Enter"}, {"bowl 1", "Enter"}, {"2 of 3 open", "w"}};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (!terminal_shows(terminal, steps[i][0]))
            give_up("the screens never showed", steps[i][0]);
        terminal_key(terminal, steps[i][1]);
    }
    terminal_settle(terminal, QUIET_MS);
    return terminal;
}

static void bench_key(const struct bench *bench)
{
    write_into(bench, "one.csv", "spawning,stage,bowl,fish,body,white,head\nB1,harvest,1,1,3,,\n");
    import(bench, "fish", "one.csv");
    char path[4096];
    int file = open(path_in(bench, "pages", path), O_CREAT | O_WRONLY | O_TRUNC, 0600);
    struct terminal *terminal = open_sheet(bench);
    int64_t keys[KEYS], writes[KEYS];
    for (int i = 0; i < KEYS; i++) {
        writes[i] = synced_write(file);
        keys[i] = one_key(terminal);
    }
    terminal_close(terminal);
    close(file);
    int64_t key = median(keys, KEYS), bare = median(writes, KEYS);
    printf("a key until the screen: %lld us, a synced write: %lld us, ratio %.1f\n", (long long)key,
           (long long)bare, (double)key / (double)bare);
}

static void write_fish(const struct bench *bench)
{
    struct text text;
    text_init(&text);
    text_add(&text, "spawning,stage,bowl,fish,faults,body,white,head\n");
    unsigned random = 1;
    for (int i = 0; i < FISH; i++) {
        random = random * 1103515245u + 12345u;
        unsigned bits = random >> 8;
        text_addf(&text, "B2,harvest,%d,%d,%s,%u,%u,%u\n", i / FISH_PER_BOWL + 1,
                  i % FISH_PER_BOWL + 1, bits % 11 == 0 ? "window" : "", bits % 5 + 1,
                  bits / 5 % 5 + 1, bits / 25 % 5 + 1);
    }
    write_into(bench, "many.csv", text.data);
    text_done(&text);
}

static void bench_many(const struct bench *bench)
{
    write_fish(bench);
    char many[4096], plain[4096], load[8192];
    path_in(bench, "many.csv", many);
    snprintf(load, sizeof load, ".import --csv %s fish", many);
    const char *shell[] = {"sqlite3", path_in(bench, "plain.db", plain), load, NULL};
    const char *pass[] = {bench->program, "--ledger", bench->ledger, "pass", "--spawning", "B2",
                          "--stage",      "harvest",  "--places",    "2000", "--csv",      NULL};
    int64_t bare = timed(shell);
    int64_t imported = import(bench, "fish", "many.csv");
    int64_t passed = timed(pass);
    printf(
        "%d fish: import %lld ms, pass %lld ms, SQLite's .import %lld ms, ratios %.1f and %.1f\n",
        FISH, (long long)imported / 1000, (long long)passed / 1000, (long long)bare / 1000,
        (double)imported / (double)bare, (double)passed / (double)bare);
}

enum { SEASONS = 20, SPAWNINGS = 50, PAIRS = 100, CULLS = 5, TURNS = 51 };

static unsigned draw(unsigned *random, unsigned below)
{
    *random = *random * 1103515245u + 12345u;
    return (*random >> 8) % below;
}

static void write_parents(const struct bench *bench)
{
    struct text text;
    text_init(&text);
    text_add(&text, "parent,sex\n");
    for (int i = 0; i < PAIRS; i++)
        text_addf(&text, "D%d,f\nP%d,m\n", i, i);
    write_into(bench, "parents.csv", text.data);
    text_done(&text);
}

/* Every third pair has a group of two sires; pairs come back in other seasons. */
static void add_spawning(struct text *text, int season, int number, unsigned pair)
{
    text_addf(text, "R%d-%d,%d,Kikusui,D%u,P%u", season, number, season, pair, pair);
    if (pair % 3 == 0)
        text_addf(text, ";P%u,group\n", (pair + 1) % PAIRS);
    else
        text_add(text, ",single\n");
}

static void add_culls(struct text *text, int season, int number, unsigned *random)
{
    static const char *const stages[CULLS] = {"first", "second", "third", "fourth", "harvest"};
    unsigned in = 50000 + draw(random, 100000);
    for (int i = 0; i < CULLS; i++) {
        unsigned kept = in * (10 + draw(random, 40)) / 100;
        text_addf(text, "R%d-%d,,%s,%d-%02d-12,%s,%u,%s,%u,counted,,%u,10,\n", season, number,
                  stages[i], season, 6 + i, i < 2 ? "pick" : "remove", in,
                  i < 2 ? "weighed,0.05" : "counted,", kept, in - kept);
        in = kept;
    }
}

static void write_seasons(const struct bench *bench)
{
    unsigned random = 7;
    struct text spawned, culled;
    text_init(&spawned);
    text_init(&culled);
    text_add(&spawned, "spawning,season,variety,dam,sires,siring\n");
    text_add(&culled, "spawning,lot,stage,date,manner,in,in_how,in_cv,kept,kept_how,kept_cv,"
                      "rejected,dead,note\n");
    for (int season = 2026 - SEASONS; season < 2026; season++)
        for (int number = 1; number <= SPAWNINGS; number++) {
            add_spawning(&spawned, season, number, draw(&random, PAIRS));
            add_culls(&culled, season, number, &random);
        }
    write_into(bench, "seasons.csv", spawned.data);
    write_into(bench, "rounds.csv", culled.data);
    text_done(&spawned);
    text_done(&culled);
}

/* The shell's .import of the rounds into a new file; `waiting` until the disk has them. */
static int64_t shell_import(const struct bench *bench, bool waiting)
{
    char rounds[4096], plain[4096], load[8192];
    path_in(bench, "rounds.csv", rounds);
    unlink(path_in(bench, "rounds.db", plain));
    snprintf(load, sizeof load, ".import --csv %s rounds", rounds);
    const char *first = waiting ? "PRAGMA synchronous = FULL" : "PRAGMA synchronous = OFF";
    const char *shell[] = {"sqlite3", plain, first, load, NULL};
    return timed(shell);
}

static int64_t ask_rates(const struct bench *bench, const char *ledger)
{
    const char *ask[] = {bench->program, "--ledger", ledger,  "rates",
                         "--by",         "pair",     "--csv", NULL};
    return timed(ask);
}

static void compare_rates(const struct bench *bench, const char *empty)
{
    int64_t shells[TURNS], hasty[TURNS], rates[TURNS], least[TURNS];
    for (int i = 0; i < TURNS; i++) {
        shells[i] = shell_import(bench, true);
        hasty[i] = shell_import(bench, false);
        rates[i] = ask_rates(bench, bench->ledger);
        least[i] = ask_rates(bench, empty);
    }
    int64_t shell = median(shells, TURNS), rate = median(rates, TURNS);
    printf("rates --by pair %lld us, of an empty ledger %lld us; SQLite's .import %lld us, without "
           "waiting for the disk %lld us; ratio %.2f\n",
           (long long)rate, (long long)median(least, TURNS), (long long)shell,
           (long long)median(hasty, TURNS), (double)rate / (double)shell);
}

static void bench_rates(const struct bench *bench)
{
    struct bench empty = *bench;
    path_in(bench, "empty.db", empty.ledger);
    write_parents(bench);
    write_seasons(bench);
    import(&empty, "parents", "parents.csv");
    import(bench, "parents", "parents.csv");
    import(bench, "spawnings", "seasons.csv");
    printf("%d rounds: import %lld ms, ", SEASONS * SPAWNINGS * CULLS,
           (long long)import(bench, "rounds", "rounds.csv") / 1000);
    compare_rates(bench, empty.ledger);
}

int main(int argc, char **argv)
{
    if (argc != 3)
        give_up("usage", "bench PROGRAM FOLDER (an empty folder on the disk to measure)");
    struct bench bench = {.program = argv[1], .folder = argv[2]};
    path_in(&bench, "bench.db", bench.ledger);
    bench_rates(&bench);
    write_into(&bench, "bench.ini", standard);
    write_into(&bench, "spawnings.csv", spawnings);
    import(&bench, "spawnings", "spawnings.csv");
    import(&bench, "standard", "bench.ini");
    bench_many(&bench);
    bench_key(&bench);
    return 0;
}
