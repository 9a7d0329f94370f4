/* What the evening ends with, and the sums over seasons. References are the same sums and ranks in
 * plain SQL, over bare rows that the shell imported from the same file. */
#include "bench.h"
#include "farm.h"
#include "support/terminal.h"

#include <stdio.h>

enum { FEWEST = 10000, TURNS = 5, SEASONS = 20, SPAWNINGS = 50, RATES_TURNS = 21 };
enum { MOVED_FISH = 20000, MOVES = 60 };

static void compare_pass(struct bench *bench, int64_t fish)
{
    struct fish_farm farm = farm_of_fish(bench, fish, fish);
    char bare[4096], create[1024];
    farm_bare_rows(bench, &farm, bare);
    const char *dry[BENCH_WORDS], *recorded[BENCH_WORDS];
    bench_words(bench, farm.ledger,
                (const char *[]){"pass", "--spawning=B1", "--stage=harvest", "--places=2000",
                                 "--dry-run", "--csv", NULL},
                dry);
    bench_words(bench, farm.ledger,
                (const char *[]){"pass", "--spawning=B1", "--stage=harvest", "--places=2000",
                                 "--csv", NULL},
                recorded);
    const char *ranked[] = {"sqlite3", bare, farm_rank_sql, NULL};
    snprintf(create, sizeof create, "DROP TABLE IF EXISTS ranks; CREATE TABLE ranks AS %s",
             farm_rank_sql);
    const char *kept[] = {"sqlite3", bare, create, NULL};
    struct compared compared = compare_commands(dry, ranked, TURNS, NULL, NULL);
    bench_ratio(bench, "pass, dry, processor time", fish, compared.cpu, "ranks in SQL", 0.6);
    bench_line(bench, "pass, dry, memory", fish, (double)compared.ours.peak_kb / 1024, "MB", 0);
    compared = compare_commands(recorded, kept, TURNS, NULL, NULL);
    bench_ratio(bench, "pass, recorded, processor time", fish, compared.cpu, "CREATE TABLE of them",
                1.2);
    const char *day[BENCH_WORDS];
    bench_words(bench, farm.ledger, (const char *[]){"day", "--csv", NULL}, day);
    compared = compare_commands(day, ranked, TURNS, NULL, NULL);
    bench_ratio(bench, "day of so many fish, processor time", fish, compared.cpu, "ranks in SQL",
                0);
}

static void measure_pass(struct bench *bench)
{
    for (int64_t fish = FEWEST; fish <= bench->most_fish; fish *= 10)
        compare_pass(bench, fish);
}

static void measure_rates(struct bench *bench)
{
    struct season_farm farm = farm_of_seasons(bench, SEASONS, SPAWNINGS);
    char plain[4096], load[4200];
    bench_path(bench, "rates.db", plain);
    snprintf(load, sizeof load, ".import --csv %s rounds", farm.rounds);
    cost_of((const char *[]){"sqlite3", plain, load, NULL});
    const char *sums[] = {
        "sqlite3", plain,
        "SELECT spawning, stage, sum(kept), sum(\"in\"), 1.0 * sum(kept) / sum(\"in\")"
        " FROM rounds GROUP BY spawning, stage",
        NULL};
    const char *page[BENCH_WORDS], *csv[BENCH_WORDS];
    bench_words(bench, farm.ledger, (const char *[]){"rates", "--by", "pair", NULL}, page);
    bench_words(bench, farm.ledger, (const char *[]){"rates", "--by", "pair", "--csv", NULL}, csv);
    struct compared compared = compare_commands(page, sums, RATES_TURNS, NULL, NULL);
    bench_ratio(bench, "rates --by pair", 5L * SEASONS * SPAWNINGS, compared.cpu, "sums in SQL", 1);
    compared = compare_commands(csv, sums, RATES_TURNS, NULL, NULL);
    bench_ratio(bench, "rates --by pair --csv", 5L * SEASONS * SPAWNINGS, compared.cpu,
                "sums in SQL", 0.5);
}

/* From the key until the screen shows the threshold where it is now, and with it every fish decided
 * anew. */
static void measure_threshold(struct bench *bench)
{
    struct fish_farm farm = farm_of_fish(bench, MOVED_FISH, MOVED_FISH);
    const char *command[] = {bench->program, "--ledger", farm.ledger, "--judge", "Bench", NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    int64_t took[MOVES];
    if (!terminal_shows(terminal, "B1"))
        give_up("the screens never showed", "B1");
    terminal_type(terminal, "\r");
    if (!terminal_shows(terminal, "5 pass"))
        give_up("the spawning never showed", "5 pass");
    terminal_type(terminal, "5");
    if (!terminal_shows(terminal, "<60>"))
        give_up("the pass never showed", "<60>");
    for (int i = 0; i < MOVES; i++) {
        char shown[16];
        int halves = i + 1;
        snprintf(shown, sizeof shown, "<%d%s>", 60 + halves / 2, halves % 2 == 1 ? ".5" : "");
        int64_t begin = now_us();
        terminal_type(terminal, "+");
        if (!terminal_shows(terminal, shown))
            give_up("the threshold never showed", shown);
        took[i] = now_us() - begin;
    }
    terminal_close(terminal);
    bench_line(bench, "threshold moved, median", MOVED_FISH, (double)median(took, MOVES) / 1000,
               "ms", 5);
    bench_line(bench, "threshold moved, slowest of sixty", MOVED_FISH,
               (double)took[MOVES - 1] / 1000, "ms", 16);
}

static void compare_grown(struct bench *bench, const struct fish_farm *few,
                          const struct fish_farm *many, const char *const *words,
                          const char *reference)
{
    const char *small[BENCH_WORDS], *large[BENCH_WORDS];
    bench_words(bench, few->ledger, words, small);
    bench_words(bench, many->ledger, words, large);
    struct compared compared = compare_commands(large, small, RATES_TURNS, NULL, NULL);
    bench_ratio(bench, words[0], many->fish, compared.cpu, reference, 1.5);
}

/* The answer is as long, the ledger a thousand times as large. */
static void measure_growth(struct bench *bench)
{
    enum { TIMES = 1000, ROUNDS = 10, LISTED = 100 };
    int64_t most = bench->most_fish;
    struct fish_farm few = farm_of_fish(bench, most / TIMES, most / TIMES / ROUNDS);
    struct fish_farm many = farm_of_fish(bench, most, most / ROUNDS);
    compare_grown(bench, &few, &many, (const char *[]){"rates", NULL}, "with a thousandth");
    compare_grown(bench, &few, &many, (const char *[]){"season", NULL}, "with a thousandth");
    compare_grown(bench, &few, &many, (const char *[]){"due", "--days=365", NULL},
                  "with a thousandth");
    few = farm_of_fish(bench, LISTED, LISTED);
    many = farm_of_fish(bench, most, LISTED);
    compare_grown(bench, &few, &many,
                  (const char *[]){"list", "--spawning=B1", "--stage=harvest", NULL},
                  "with no other fish");
}

const struct bench_row pass_rows[] = {
    {"pass", "a round decided, dry and recorded", measure_pass},
    {"rates", "rates by pair of 5,000 rounds", measure_rates},
    {"threshold", "a threshold of the pass moved", measure_threshold},
    {"growth", "reports from a ledger a thousand times as large", measure_growth},
    {NULL, NULL, NULL},
};
