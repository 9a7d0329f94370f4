/* The parent model: what seasons, varieties, dams, sires, pairs and single spawnings have to do
 * with the share of fish that is kept.
 *
 *     logit(share) = season + variety + dam + sire + pair + spawning
 *
 * Seasons and varieties are fixed, the four others normal around zero. Fitted by maximum
 * likelihood, the random terms integrated out by Laplace's approximation. The method, and what
 * becomes of borderline data, is told in docs/parent-model.md. All numbers are on the logit scale.
 */
#ifndef SENBETSU_STATS_GLMM_MODEL_H
#define SENBETSU_STATS_GLMM_MODEL_H

#include "senbetsu/base/err.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum parent_term {
    PARENT_DAM,
    PARENT_SIRE, /* a group of males that spawned together is a sire of its own */
    PARENT_PAIR,
    PARENT_SPAWNING,
    PARENT_TERMS
};

enum { PARENT_ALL_TERMS = (1 << PARENT_TERMS) - 1 };

/* Fish of one spawning. Numbers of seasons, varieties and levels count from 0; a level that nobody
 * knows is PARENT_UNKNOWN: it stands for a dam (sire, …) of which nothing but this spawning is
 * known. */
enum { PARENT_UNKNOWN = -1 };

struct parent_row {
    int season, variety;
    int level[PARENT_TERMS];
    int64_t n, kept; /* 0 <= kept <= n; a row without fish counts for nothing */
};

struct parent_data {
    const struct parent_row *rows;
    size_t row_count;
    int seasons, varieties;
    int levels[PARENT_TERMS]; /* how many there are, in the rows or not */
};

/* Why a term is not in the model: the data cannot tell it from something else. */
enum parent_fit {
    PARENT_FITTED,
    PARENT_NOT_ASKED,
    PARENT_ONE_LEVEL,        /* there is one only */
    PARENT_SINGLE_FISH,      /* every level has a single fish */
    PARENT_SAME_AS_FIXED,    /* told from seasons and varieties nowhere */
    PARENT_SAME_AS_DAM,      /* the same spawnings are together as by dam */
    PARENT_SAME_AS_SIRE,     /* … as by sire */
    PARENT_SAME_AS_PAIR,     /* … as by pair: each dam had one sire and each sire one dam */
    PARENT_SAME_AS_SPAWNING, /* each level has one spawning only */
};

/* What an estimate is. Only PARENT_ESTIMATED has finite numbers. */
enum parent_state {
    PARENT_ESTIMATED,
    /* A season or variety without fish, or with nothing but whole spawnings kept and whole
     * spawnings not: both numbers are 0. */
    PARENT_UNSEEN,
    PARENT_NONE_KEPT, /* no fish of it was kept: the estimate is -INFINITY, se INFINITY */
    PARENT_ALL_KEPT,  /* … all fish: INFINITY */
};

struct parent_level {
    enum parent_state state;
    double estimate, se;
};

struct parent_effects {
    double loglik;                /* with the binomial coefficients of the rows */
    struct parent_level *seasons; /* a season's level, its varieties weighted equally */
    /* Deviations that sum to zero among varieties that were compared: those that share a season,
     * or are linked by others that do. NULL where no two varieties were. */
    struct parent_level *varieties;
    int variety_groups; /* more than 1: not all varieties could be compared with one another */
    double *covariance; /* of seasons followed by varieties, both ways, row after row */
    enum parent_fit fit[PARENT_TERMS];
    double sd[PARENT_TERMS]; /* 0 for what is not in the model, and often for what is */
    /* Conditional modes, and their standard deviations given the estimated fixed effects and
     * standard deviations. A level without fish has 0 and sd. Always estimated, never NULL. */
    struct parent_level *levels[PARENT_TERMS];
};

struct parent_model;

/* Fits the terms of the mask `terms` (1 << PARENT_DAM …) as far as the data can tell them apart.
 * Fails on data without fish, or that contradict themselves (numbers out of range, a pair with two
 * dams, a spawning in two seasons), where no season has both kept and rejected fish, and where the
 * likelihood has no maximum that can be found. */
bool parent_model_new(const struct parent_data *data, unsigned terms, struct parent_model **ret,
                      struct err *err);
void parent_model_free(struct parent_model *model);

/* Lives as long as the model. */
const struct parent_effects *parent_model_effects(const struct parent_model *model);

#endif
