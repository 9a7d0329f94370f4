/* How often the 90 % interval of a pair holds the truth, on farms whose parents are known because
 * they were drawn: parent_coverage RUNS. Prints a line a farm. Fails where all farms of 30
 * spawnings or more together are outside 87 to 93 % by more than chance explains, and from 1000
 * runs on where one of them is. Where parents are drawn once and kept for all runs, a farm also
 * shows how far those few parents happen to lie from what is usual, and counts only together with
 * the others. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/stats/glmm/predictions.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 200, MANY_RUNS = 1000, ENOUGH_SPAWNINGS = 30 };

static const double LOWEST = 0.87, HIGHEST = 0.93, SEASON_SD = 0.4;

struct farm {
    int spawnings, seasons, dams, sires, pairs;
    double sd[PARENT_TERMS];
    double level;        /* of a middling season, on the logit scale */
    int fewest, largest; /* fish of a spawning */
};

/* Pairs come back over the seasons, but for the sixth farm, where each was set once. */
static const struct farm farms[] = {
    {8, 2, 3, 2, 5, {0.4, 0.3, 0.2, 0.3}, -1.8, 500, 20000},
    {12, 3, 4, 3, 7, {0.3, 0.3, 0, 0.3}, -1.5, 500, 20000},
    {15, 3, 5, 3, 8, {0.3, 0.2, 0.2, 0.2}, -0.8, 200, 5000},
    {30, 4, 6, 5, 14, {0.4, 0.3, 0.2, 0.3}, -1.8, 500, 20000},
    {40, 4, 8, 6, 20, {0.3, 0.3, 0.1, 0.25}, -0.5, 100, 2000},
    {40, 4, 10, 8, 40, {0.4, 0.3, 0.2, 0.3}, -1.8, 500, 20000},
    {60, 6, 5, 4, 15, {0.2, 0.2, 0.2, 0.3}, -1.0, 300, 8000},
    {80, 6, 14, 10, 35, {0.4, 0.3, 0.2, 0.3}, -1.8, 500, 20000},
    {120, 8, 16, 12, 50, {0.3, 0.3, 0, 0.3}, -1.5, 500, 20000},
    {200, 10, 24, 18, 80, {0.35, 0.25, 0.15, 0.3}, -1.8, 500, 20000},
};

enum { FARMS = sizeof farms / sizeof *farms };

struct truth {
    double season[MOST], effect[PARENT_PAIR + 1][MOST];
};

struct simulation {
    const struct farm *farm;
    gsl_rng *random;
    int level[MOST][PARENT_PAIR]; /* of each pair: its dam and its sire */
    struct parent_row rows[MOST];
    struct truth truth;
};

/* Of all intervals; squares add up run by run, since the pairs of a run share their luck. */
struct verdict_counts {
    long held, held_plainly, all, runs, refused;
    double shares, squares; /* held ÷ all of each run */
};

static bool is_new_pair(const struct simulation *simulation, int pair)
{
    for (int i = 0; i < pair; i++)
        if (memcmp(simulation->level[i], simulation->level[pair], sizeof *simulation->level) == 0)
            return false;
    return true;
}

static int draw_below(struct simulation *simulation, int count)
{
    return (int)gsl_rng_uniform_int(simulation->random, (unsigned long)count);
}

static void draw_pairs(struct simulation *simulation)
{
    for (int pair = 0; pair < simulation->farm->pairs;) {
        simulation->level[pair][PARENT_DAM] = draw_below(simulation, simulation->farm->dams);
        simulation->level[pair][PARENT_SIRE] = draw_below(simulation, simulation->farm->sires);
        pair += is_new_pair(simulation, pair);
    }
}

/* Who was set when, and with how many fish: the same in all runs. */
static void draw_spawnings(struct simulation *simulation)
{
    const struct farm *farm = simulation->farm;
    int season[MOST];
    for (int i = 0; i < farm->spawnings; i++)
        season[i] = i % farm->seasons;
    gsl_ran_shuffle(simulation->random, season, (size_t)farm->spawnings, sizeof *season);
    for (int i = 0; i < farm->spawnings; i++) {
        int pair = i < farm->pairs ? i : draw_below(simulation, farm->pairs);
        const int *level = simulation->level[pair];
        simulation->rows[i] =
            (struct parent_row){.season = season[i],
                                .level = {level[PARENT_DAM], level[PARENT_SIRE], pair, i},
                                .n = (int64_t)exp(gsl_ran_flat(
                                    simulation->random, log(farm->fewest), log(farm->largest)))};
    }
}

static void draw_normal(struct simulation *simulation, double mean, double sd, int count,
                        double *ret)
{
    for (int i = 0; i < count; i++)
        ret[i] = mean + gsl_ran_gaussian(simulation->random, sd);
}

static void draw_truth(struct simulation *simulation)
{
    const struct farm *farm = simulation->farm;
    const int counts[] = {farm->dams, farm->sires, farm->pairs};
    draw_normal(simulation, farm->level, SEASON_SD, farm->seasons, simulation->truth.season);
    for (int term = 0; term <= PARENT_PAIR; term++)
        draw_normal(simulation, 0, farm->sd[term], counts[term], simulation->truth.effect[term]);
}

static void draw_kept(struct simulation *simulation)
{
    const struct farm *farm = simulation->farm;
    for (int i = 0; i < farm->spawnings; i++) {
        struct parent_row *row = &simulation->rows[i];
        double logit = simulation->truth.season[row->season] +
                       gsl_ran_gaussian(simulation->random, farm->sd[PARENT_SPAWNING]);
        for (int term = 0; term <= PARENT_PAIR; term++)
            logit += simulation->truth.effect[term][row->level[term]];
        row->kept = gsl_ran_binomial(simulation->random, parent_share(logit), (unsigned)row->n);
    }
}

static double true_logit(const struct simulation *simulation, int pair)
{
    const struct truth *truth = &simulation->truth;
    double logit = truth->effect[PARENT_PAIR][pair];
    for (int i = 0; i < simulation->farm->seasons; i++)
        logit += truth->season[i] / simulation->farm->seasons;
    for (int term = 0; term < PARENT_PAIR; term++)
        logit += truth->effect[term][simulation->level[pair][term]];
    return logit;
}

static bool holds(double mean, double variance, double logit)
{
    struct interval interval = parent_share_interval(mean, variance);
    double share = parent_share(logit);
    return share >= interval.low && share <= interval.high;
}

static void count_intervals(const struct simulation *simulation, const struct parent_model *model,
                            struct verdict_counts *tally)
{
    int held = 0, pairs = simulation->farm->pairs;
    for (int pair = 0; pair < pairs; pair++) {
        const int *level = simulation->level[pair];
        struct parent_cross cross = {
            PARENT_TYPICAL, PARENT_ANY_VARIETY, {level[0], level[1], pair, PARENT_WITHOUT}};
        struct parent_expectation found = parent_model_expect(model, &cross);
        double logit = true_logit(simulation, pair);
        held += holds(found.mean, found.variance, logit);
        tally->held_plainly += holds(found.mean, found.conditional_variance, logit);
    }
    double share = (double)held / pairs;
    tally->held += held;
    tally->all += pairs;
    tally->runs++;
    tally->shares += share;
    tally->squares += share * share;
}

static void run_once(struct simulation *simulation, struct verdict_counts *tally)
{
    const struct farm *farm = simulation->farm;
    struct parent_data data = {simulation->rows,
                               (size_t)farm->spawnings,
                               farm->seasons,
                               1,
                               {farm->dams, farm->sires, farm->pairs, farm->spawnings}};
    struct parent_model *model;
    struct err err;
    draw_kept(simulation);
    if (!parent_model_new(&data, PARENT_ALL_TERMS, &model, &err)) {
        tally->refused++;
        return;
    }
    count_intervals(simulation, model, tally);
    parent_model_free(model);
}

/* `anew`: parents and seasons are drawn for each run, else once for the farm. */
static struct verdict_counts run_farm(int number, int runs, bool anew)
{
    struct verdict_counts tally = {0};
    struct simulation *simulation = alloc_zeroed(1, sizeof *simulation);
    simulation->farm = &farms[number];
    simulation->random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(simulation->random, (unsigned long)number + 1);
    draw_pairs(simulation);
    draw_spawnings(simulation);
    for (int run = 0; run < runs; run++) {
        if (anew || run == 0)
            draw_truth(simulation);
        run_once(simulation, &tally);
    }
    gsl_rng_free(simulation->random);
    free(simulation);
    return tally;
}

static double coverage(const struct verdict_counts *tally)
{
    return (double)tally->held / (double)tally->all;
}

static double standard_error(const struct verdict_counts *tally)
{
    double runs = (double)tally->runs, mean = tally->shares / runs;
    return sqrt((tally->squares / runs - mean * mean) / runs);
}

static void add(struct verdict_counts *sum, const struct verdict_counts *tally)
{
    sum->held += tally->held;
    sum->all += tally->all;
    sum->runs += tally->runs;
    sum->shares += tally->shares;
    sum->squares += tally->squares;
}

static bool is_right(const struct verdict_counts *tally, double allowance)
{
    double share = coverage(tally);
    return share >= LOWEST - allowance && share <= HIGHEST + allowance;
}

/* Prints a farm's line; adds it to `sum` if it is large enough to be held to anything. */
static bool try_farm(int number, int runs, bool anew, struct verdict_counts *sum)
{
    const struct farm *farm = &farms[number];
    struct verdict_counts tally = run_farm(number, runs, anew);
    bool large = farm->spawnings >= ENOUGH_SPAWNINGS;
    bool right = !large || !anew || runs < MANY_RUNS || is_right(&tally, 0);
    printf("%3d spawnings, %2d seasons, %2d dams, %2d sires, %2d pairs, drawn %s: %4.1f %%, "
           "estimates taken as certain %4.1f %%, refused %ld%s\n",
           farm->spawnings, farm->seasons, farm->dams, farm->sires, farm->pairs,
           anew ? "anew" : "once", 100 * coverage(&tally),
           100 * (double)tally.held_plainly / (double)tally.all, tally.refused,
           right ? "" : "  WRONG");
    fflush(stdout);
    if (large)
        add(sum, &tally);
    return right;
}

static bool try_farms(int runs, bool anew)
{
    struct verdict_counts sum = {0};
    bool right = true;
    for (int i = 0; i < FARMS; i++)
        right &= try_farm(i, runs, anew, &sum);
    bool together = is_right(&sum, 3 * standard_error(&sum));
    printf("farms of %d spawnings and more together: %.1f %%, standard error %.1f %%%s\n",
           ENOUGH_SPAWNINGS, 100 * coverage(&sum), 100 * standard_error(&sum),
           together ? "" : "  WRONG");
    return right && together;
}

int main(int count, char **words)
{
    int runs = count == 2 ? atoi(words[1]) : 0;
    if (runs <= 0) {
        fputs("parent_coverage RUNS\n", stderr);
        return 2;
    }
    bool anew = try_farms(runs, true);
    bool once = runs < MANY_RUNS || try_farms(runs, false);
    return anew && once ? 0 : 1;
}
