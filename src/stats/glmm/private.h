/* The parts of the parent model, in the order of a fit; each has a file of its name.
 *
 *     observations       the data, y and n; the design matrix X; which random terms can be told
 * apart normal equations   H = I + ΛZ'WZΛ: factored, solved, and what is wanted of its inverse
 *     laplace            the deviance at a point (β, σ), its gradient, the conditional modes
 *     optimum            where the deviance is least, and the covariance of the estimates
 *     quadrature         points around the estimated σ that stand for what they may be instead
 *     predictions        what is expected of a cross; draws
 *
 * y ~ Binomial(n, π), logit π = Xβ + Zb, b = Λu, u standard normal, Λ the diagonal of the terms'
 * standard deviations σ. Random effects are u throughout, in units of their term's σ, so that σ = 0
 * divides by nothing. Method and references: docs/parent-model.md. */
#ifndef STATS_GLMM_PRIVATE_H
#define STATS_GLMM_PRIVATE_H

#include "senbetsu/stats/glmm/predictions.h"

#include <gsl/gsl_matrix.h>

/* One spawning: all rows of it added up. */
struct observation {
    int season, variety;
    int level[PARENT_TERMS]; /* always >= 0: what is unknown has got a level of its own */
    double n, kept;
};

struct pair_parents {
    int level[PARENT_PAIR]; /* its dam and its sire */
};

struct observations {
    struct observation *row;
    int count;
    int seasons, varieties;
    int levels[PARENT_TERMS];  /* with those of what is unknown, which come last */
    struct pair_parents *pair; /* [levels of pair] */
    double log_coefficients;   /* the sum of the input's log binomial coefficients */
    enum parent_state *season_state, *variety_state;
};

/* Adds up the input and drops the spawnings that tell nothing: separation in observations.c. */
bool observations_init(struct observations *data, const struct parent_data *input, struct err *err);
void observations_done(struct observations *data);

/* Sum-to-zero coding of a variety within its group. */
struct sum_contrast {
    int start, size; /* its columns; size 0: the variety was compared with none */
    int place;       /* the variety's own column from start; == size: -1 in all of them */
};

/* X: a column for each season, then contrasts of varieties that sum to zero among those that were
 * compared. */
struct design {
    int columns, seasons;
    int seasons_fitted;                /* the first of the columns */
    int *season_column;                /* [seasons]; -1 without an estimate */
    struct sum_contrast *contrast;     /* [varieties] */
    int groups;                        /* of varieties that were compared with one another */
    int *season_group, *variety_group; /* whose number is that of one of its varieties */
    /* X, of full rank. Spawnings of one season and variety have the same row, which stands once. */
    gsl_matrix *x; /* [strata × columns] */
    int *stratum;  /* [observations] whose row each has */
    double *sum;   /* [strata] scratch */
    int count;     /* of observations */
};

void design_init(struct design *design, const struct observations *data);
void design_done(struct design *design);

/* ret [observations] = X · fixed [columns]; and the transpose, ret [columns] += X' · values. */
void design_fixed(const struct design *design, const double *fixed, double *ret);
void design_add_transposed(const struct design *design, const double *values, double *ret);
/* X in full. */
double design_x(const struct design *design, int row, int column);

/* Adds what a season's level, or a variety's deviation, is made of to `x` [columns]. */
void design_add_season(const struct design *design, int season, double *x);
void design_add_variety(const struct design *design, int variety, double *x);

/* Adds the mean of all seasons with a level and linked with the variety; PARENT_UNKNOWN = any. */
void design_add_typical_season(const struct design *design, int variety, double *x);

/* Which terms of the mask `asked` the data can tell apart; sets `ret_fit` [PARENT_TERMS]. Of terms
 * that put the same spawnings together, spawning is kept before the others, and a dam or a sire
 * before the pair; but where dam, sire and pair are all the same, it is the pair that is kept:
 * nothing is known of either parent alone. */
void find_fitted_terms(const struct observations *data, const struct design *design, unsigned asked,
                       enum parent_fit *ret_fit);

/* A number for each level of each random term. The levels of spawning are the observations. */
struct level_vector {
    double *of[PARENT_TERMS];
    int size; /* of all, which lie one after the other from of[0] */
};

/* Dams, sires and pairs, whose places come before those of spawnings. */
int levels_above_spawnings(const struct observations *data);

void level_vector_init(struct level_vector *vector, const struct observations *data);
void level_vector_done(struct level_vector *vector);
void level_vector_copy(struct level_vector *to, const struct level_vector *from);
double level_vector_dot(const struct level_vector *a, const struct level_vector *b);

/* The vector's place of an observation's level. */
static inline int level_place(const struct observations *data, int row, int term)
{
    return term == PARENT_SPAWNING ? row : data->row[row].level[term];
}

/* H, by blocks. */
struct normal_equations {
    const struct observations *data;
    double sd[PARENT_TERMS];
    double *weight;                /* [observations] W = Var(kept) */
    double *spawning_weight;       /* [observations] what is left when spawnings are eliminated */
    double *pair_sum;              /* [pairs] the sum of those */
    double *pair_weight;           /* [pairs] what is left when pairs are eliminated */
    enum parent_term wide, narrow; /* dam and sire; wide has more levels */
    double *wide_root;             /* [wide] roots of its diagonal */
    int *row_end;                  /* [wide] where the pairs of each end in row_pair */
    int *row_pair;                 /* [pairs] by their wide parents */
    double *cross;                 /* [pairs] the block between wide and narrow, over wide_root */
    gsl_matrix *factor;            /* [narrow × narrow] Cholesky's */
    double log_determinant;        /* of H */
};

void normal_equations_init(struct normal_equations *equations, const struct observations *data);
void normal_equations_done(struct normal_equations *equations);

/* Sets `sd` and factors with the weights that stand there. False where they are no numbers. */
bool normal_equations_factor(struct normal_equations *equations, const double *sd);

/* Replaces the right side by the solution, H⁻¹ · vector. */
void normal_equations_solve(const struct normal_equations *equations, struct level_vector *vector);
/* The same of dams, sires and pairs, where nothing stands on the right side of spawnings. */
void normal_equations_solve_above(const struct normal_equations *equations,
                                  struct level_vector *vector);

/* ret [observations] = ZΛ · vector; and the transpose, ret = ΛZ' · values [observations]. */
void add_up_effects(const struct normal_equations *equations, const struct level_vector *vector,
                    double *ret);
void add_up_by_level(const struct normal_equations *equations, const double *values,
                     struct level_vector *ret);

/* What is wanted of H⁻¹: variances, not all of it. */
struct inverse {
    struct level_vector variance; /* the diagonal */
    double *pair_variance;        /* [pairs] of the sum of dam and sire, on the logit scale */
    double *row_variance;         /* [observations] of the sum of all four */
    /* Half the derivative of log |H| to each standard deviation, weights held. */
    double gradient[PARENT_TERMS];
    gsl_matrix *narrow; /* [narrow × narrow] its block; NULL until it is found */
    gsl_matrix *wide;   /* [wide × narrow] the block between, less its sign and wide_root */
};

void inverse_init(struct inverse *inverse, const struct observations *data);
void inverse_done(struct inverse *inverse);
void inverse_find(struct inverse *inverse, const struct normal_equations *equations);

/* The variance, on the logit scale, of the effects of a dam, a sire and a pair together; -1 = none
 * of that kind. A pair must come with its own dam and sire, where those are in the model. */
double inverse_of_sum(const struct inverse *inverse, const struct normal_equations *equations,
                      const int *level);

/* The model at a point: `columns` fixed effects β followed by PARENT_TERMS standard deviations. All
 * that comes out is even in each of the latter, so that zero is no border. */
struct laplace {
    const struct observations *data;
    const struct design *design;
    int size; /* of a point */
    struct normal_equations equations;
    struct inverse inverse;
    struct level_vector modes;     /* the conditional modes ũ */
    double deviance;               /* -2 log likelihood, without binomial coefficients */
    double *residual;              /* [observations] kept less expected */
    double *fixed, *eta, *scratch; /* [observations] Xβ; Xβ + Zb */
    struct level_vector step, trial;
};

void laplace_init(struct laplace *laplace, const struct observations *data,
                  const struct design *design);
void laplace_done(struct laplace *laplace);

/* Finds modes and deviance at `point`, beginning with the modes that are there. False where there
 * are none to be found. */
bool laplace_at(struct laplace *laplace, const double *point);

/* The gradient of the deviance [size] where laplace_at last was. */
void laplace_gradient(struct laplace *laplace, double *ret);

/* Replaces `weights` by H⁻¹ · weights, and adds to `ret_fixed` [columns] the gradient to β of the
 * sum of modes, each times its weight. */
void laplace_solve(const struct laplace *laplace, struct level_vector *weights, double *ret_fixed);

/* Moves the β of `point` to their joint mode with u, standard deviations held, by at most `steps`
 * steps. Sets `ret_factor` [columns × columns] to Cholesky's factor of the information on β, and
 * `ret_moves` (may be NULL) to how much the modes fall as each of β grows, and leaves `laplace` at
 * `point`. False where there is no such mode. */
bool laplace_fit_fixed(struct laplace *laplace, double *point, int steps, gsl_matrix *ret_factor,
                       gsl_matrix *ret_moves);
gsl_matrix *laplace_moves_new(const struct laplace *laplace);

struct optimum {
    double *point; /* [size], standard deviations >= 0 */
    double deviance;
    /* [size × size] of the point; 0 for terms that are not in the model. A standard deviation that
     * is zero goes along with nothing; its variance is the square of where the deviance is one
     * higher. */
    gsl_matrix *covariance;
};

/* Leaves `laplace` at the optimum. Fails where there is none: where fixed effects or standard
 * deviations run away. */
bool optimum_find(struct laplace *laplace, const enum parent_fit *fit, struct optimum *ret,
                  struct err *err);
void optimum_done(struct optimum *optimum);

struct node {
    double weight;          /* all add up to 1 */
    double *point;          /* β are at their joint mode with u */
    struct laplace laplace; /* at point */
    gsl_matrix *fixed_root; /* [columns × columns] Cholesky's factor of the information on β */
    gsl_matrix *moves;      /* [columns × levels above spawnings] by which modes fall as β grow */
};

struct quadrature {
    int count; /* at least 1 */
    struct node *node;
};

/* `laplace` is at the optimum. */
void quadrature_init(struct quadrature *quadrature, const struct laplace *laplace,
                     const struct optimum *optimum, const enum parent_fit *fit);
void quadrature_done(struct quadrature *quadrature);

struct parent_model {
    struct observations data;
    struct design design;
    struct laplace laplace;
    struct optimum optimum;
    struct quadrature quadrature;
    struct parent_effects effects;
    int levels[PARENT_TERMS]; /* that the caller knows of */
};

/* Draws from all that the model does not know for certain: σ, β, u, and new levels. Crosses must
 * have no spawning that is in the data. The same seed draws the same numbers. The model must live
 * as long as the draws. */
struct parent_draws *parent_draws_new(const struct parent_model *model,
                                      const struct parent_cross *crosses, int count, uint64_t seed);
void parent_draws_free(struct parent_draws *draws);

/* The next draw: ret[i] of crosses[i], on the logit scale. A new level is drawn for each cross. */
void parent_draws_next(struct parent_draws *draws, double *ret);

#endif
