/* The parent model beside R's lme4 on the same spawnings. */
#include "bench.h"
#include "senbetsu/base/text.h"
#include "senbetsu/stats/glmm/model.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { SEASONS = 20, DAMS = 60, SIRES = 40, PAIRS = 250, SPAWNINGS = 500, TURNS = 9 };

static const double overdispersions[PARENT_TERMS] = {0.5, 0.3, 0.25, 0.25};

static struct parent_row rows[SPAWNINGS];

static void draw_levels(gsl_rng *random, double overdispersion, int count, double *ret)
{
    for (int i = 0; i < count; i++)
        ret[i] = gsl_ran_gaussian(random, overdispersion);
}

/* Pairs that come back over the seasons; every dam and sire is in one at least. */
static void draw_rows(gsl_rng *random, const int *levels)
{
    double season[SEASONS], effects[PARENT_TERMS][SPAWNINGS];
    int dams[PAIRS], sires[PAIRS];
    draw_levels(random, 0.3, SEASONS, season);
    for (int term = 0; term < PARENT_TERMS; term++)
        draw_levels(random, overdispersions[term], levels[term], effects[term]);
    for (int i = 0; i < PAIRS; i++) {
        dams[i] = i % DAMS;
        sires[i] = (i + i / 120) % SIRES; /* 120: when dams and sires meet again */
    }
    for (int i = 0; i < SPAWNINGS; i++) {
        int pair = (int)gsl_rng_uniform_int(random, PAIRS), number = i % SEASONS;
        rows[i] = (struct parent_row){.season = number,
                                      .level = {dams[pair], sires[pair], pair, i},
                                      .n = 300 + (int64_t)gsl_rng_uniform_int(random, 2700)};
        double logit = -1.2 + season[number];
        for (int term = 0; term < PARENT_TERMS; term++)
            logit += effects[term][rows[i].level[term]];
        rows[i].kept = gsl_ran_binomial(random, 1 / (1 + exp(-logit)), (unsigned)rows[i].n);
    }
}

static bool write_rows(const char *path)
{
    FILE *file = fopen(path, "w");
    if (file == NULL)
        return false;
    fputs("season,dam,sire,pair,spawning,n,kept\n", file);
    for (int i = 0; i < SPAWNINGS; i++)
        fprintf(file, "%d,%d,%d,%d,%d,%lld,%lld\n", rows[i].season, rows[i].level[PARENT_DAM],
                rows[i].level[PARENT_SIRE], rows[i].level[PARENT_PAIR], i, (long long)rows[i].n,
                (long long)rows[i].kept);
    return fclose(file) == 0;
}

struct result {
    double seconds, loglik;
};

static bool fit(const struct parent_data *data, struct result *ret)
{
    int64_t times[TURNS];
    for (int i = 0; i < TURNS; i++) {
        struct parent_model *model;
        struct err err;
        int64_t begin = now_us();
        if (!parent_model_new(data, PARENT_ALL_TERMS, &model, &err)) {
            fprintf(stderr, "%s\n", err.text);
            return false;
        }
        times[i] = now_us() - begin;
        ret->loglik = parent_model_effects(model)->loglik;
        parent_model_free(model);
    }
    ret->seconds = (double)median(times, TURNS) / 1e6;
    return true;
}

static bool fit_in_r(const char *path, struct result *ret)
{
    char command[8192];
    snprintf(command, sizeof command, "Rscript '%s' '%s' 2>/dev/null", PAIRS_SCRIPT, path);
    FILE *output = popen(command, "r");
    if (output == NULL)
        return false;
    bool read = fscanf(output, "%lf %lf", &ret->seconds, &ret->loglik) == 2;
    return pclose(output) == 0 && read;
}

static void measure_model(struct bench *bench)
{
    static const int levels[PARENT_TERMS] = {DAMS, SIRES, PAIRS, SPAWNINGS};
    char path[4096];
    bench_path(bench, "spawnings-of-pairs.csv", path);
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    draw_rows(random, levels);
    gsl_rng_free(random);
    struct parent_data data = {rows, SPAWNINGS, SEASONS, 1, {DAMS, SIRES, PAIRS, SPAWNINGS}};
    struct result ours, theirs;
    if (!write_rows(path) || !fit(&data, &ours))
        give_up("the parent model", "cannot be measured");
    if (!fit_in_r(path, &theirs)) {
        bench_remark("%.1f ms; not compared: R with lme4 (Debian: r-cran-lme4) is not installed",
                     1000 * ours.seconds);
        return;
    }
    bench_ratio(bench, "parent model, spawnings", SPAWNINGS, ours.seconds / theirs.seconds, "glmer",
                0.03);
    bench_remark("log-likelihood %.6f, higher by %.2g", ours.loglik, ours.loglik - theirs.loglik);
}

static void import_text(const struct bench *bench, const char *ledger, const char *kind,
                        struct text *content)
{
    char path[4096];
    write_file(bench_path(bench, "pairs.csv", path), content->data);
    bench_run(bench, ledger, (const char *[]){"import", kind, path, NULL});
    text_done(content);
}

/* A farm of these parents, whose pairs come back over the seasons. */
static void make_farm(const struct bench *bench, const char *ledger, int dams, int sires, int count)
{
    struct text parents, spawnings, rounds;
    text_init(&parents);
    text_init(&spawnings);
    text_init(&rounds);
    text_add(&parents, "parent,sex,variety\n");
    text_add(&spawnings, "spawning,season,variety,dam,sires,siring\n");
    text_add(&rounds, "spawning,stage,date,manner,in,kept\n");
    for (int i = 0; i < dams; i++)
        text_addf(&parents, "D%d,f,Kohaku\n", i);
    for (int i = 0; i < sires; i++)
        text_addf(&parents, "S%d,m,Kohaku\n", i);
    for (int i = 0; i < count; i++) {
        int season = 2025 - i % SEASONS, dam = i % dams, sire = (i + i / dams / 3) % sires;
        int in = 300 + i * 37 % 2700, share = 10 + dam * 7 % 11 + sire * 5 % 7 + i * 13 % 5;
        text_addf(&spawnings, "Q%d,%d,Kohaku,D%d,S%d,single\n", i, season, dam, sire);
        text_addf(&rounds, "Q%d,first,%d-06-12,pick,%d,%d\n", i, season, in, in * share / 100);
    }
    import_text(bench, ledger, "parents", &parents);
    import_text(bench, ledger, "spawnings", &spawnings);
    import_text(bench, ledger, "rounds", &rounds);
}

/* From the start of the program to the last line. */
static void measure_table(struct bench *bench)
{
    static const struct {
        int dams, sires, spawnings;
        double most;
    } farms[] = {{45, 33, 500, 0.3}, {100, 75, 2000, 2}};
    for (size_t i = 0; i < sizeof farms / sizeof *farms; i++) {
        char ledger[4096], name[32];
        int64_t times[TURNS];
        snprintf(name, sizeof name, "pairs-%d.db", farms[i].spawnings);
        bench_path(bench, name, ledger);
        make_farm(bench, ledger, farms[i].dams, farms[i].sires, farms[i].spawnings);
        for (int turn = 0; turn < TURNS; turn++)
            times[turn] = bench_run(bench, ledger, (const char *[]){"pairs", "--csv", NULL}).cpu_us;
        bench_line(bench, "pairs, spawnings", farms[i].spawnings,
                   (double)median(times, TURNS) / 1e6, "s of processor time", farms[i].most);
    }
}

const struct bench_row pair_rows[] = {
    {"pairs", "the table of pairs and untried crosses", measure_table},
    {"model", "the parent model of 500 spawnings", measure_model},
    {NULL, NULL, NULL},
};
