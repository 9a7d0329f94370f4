/* What the evening ends with, and the sums over seasons. References are the same sums and ranks in
 * plain SQL, over bare rows that the shell imported from the same file. */
#include "bench.h"
#include "farm.h"

#include <stdio.h>

enum { FEWEST = 10000, TURNS = 5, SEASONS = 20, SPAWNINGS = 50, RATES_TURNS = 21 };

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

const struct bench_row pass_rows[] = {
    {"pass", "a round decided, dry and recorded", measure_pass},
    {"rates", "rates by pair of 5,000 rounds", measure_rates},
    {NULL, NULL, NULL},
};
