/* What the fitted model expects of crosses: a linear predictor of fixed effects, of levels in the
 * data and of new ones; its mean and variance; draws of many at once.
 *
 * The mean is that at the estimates. Given σ, the variance is that of the random effects and of
 * levels that are new, plus what the uncertainty of β brings to the mean (modes move against β).
 * Over the quadrature's σ these are averaged, with the square of how far each mean is from that at
 * the estimates (docs/parent-model.md). */
#include "senbetsu/stats/glmm/predictions.h"
#include "private.h"
#include "senbetsu/base/alloc.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What is taken to be the pair's own of the variance between spawnings, where each pair was set
 * once and nothing tells the two apart. A choice, no estimate: docs/parent-model.md. */
static const double PART_OF_PAIR = 1.0 / 6;

/* A cross as the model sees it. */
struct linear_predictor {
    double *fixed;           /* [columns] how often each fixed effect counts */
    int place[PARENT_TERMS]; /* where each term's level stands in a level_vector; -1 = nowhere */
    double new_variance[PARENT_TERMS]; /* how much of each term's variance is new */
};

/* Spawnings without fish, or of seasons that were left out, are as good as new. */
static int place_of_spawning(const struct observations *data, int spawning)
{
    for (int i = 0; i < data->count; i++)
        if (data->row[i].level[PARENT_SPAWNING] == spawning)
            return i;
    return PARENT_NEW;
}

static void linear_predictor_init(struct linear_predictor *predictor,
                                  const struct parent_model *model,
                                  const struct parent_cross *cross)
{
    const struct design *design = &model->design;
    const enum parent_fit *fit = model->effects.fit;
    *predictor = (struct linear_predictor){.new_variance = {0}};
    predictor->fixed = alloc_zeroed((size_t)design->columns, sizeof *predictor->fixed);
    if (cross->season == PARENT_TYPICAL)
        design_add_typical_season(design, cross->variety, predictor->fixed);
    else
        design_add_season(design, cross->season, predictor->fixed);
    if (cross->variety != PARENT_ANY_VARIETY)
        design_add_variety(design, cross->variety, predictor->fixed);
    for (int term = 0; term < PARENT_TERMS; term++) {
        int level = fit[term] == PARENT_FITTED ? cross->level[term] : PARENT_WITHOUT;
        if (term == PARENT_SPAWNING && level >= 0)
            level = place_of_spawning(&model->data, level);
        predictor->place[term] = level >= 0 ? level : -1;
        predictor->new_variance[term] = level == PARENT_NEW;
    }
    if (fit[PARENT_PAIR] == PARENT_SAME_AS_SPAWNING &&
        cross->level[PARENT_PAIR] != PARENT_WITHOUT &&
        cross->level[PARENT_SPAWNING] == PARENT_WITHOUT)
        predictor->new_variance[PARENT_SPAWNING] = PART_OF_PAIR;
}

/* Mean and variance at one set of standard deviations, fixed effects known, of a predictor, or of
 * its difference from `less` where that is not NULL. Sets `ret_gradient` [columns] to the gradient
 * of the mean to β. */
static void moments_at(const struct laplace *laplace, const double *point,
                       const struct linear_predictor *predictor,
                       const struct linear_predictor *less, double *ret_mean, double *ret_variance,
                       double *ret_gradient)
{
    const double *sd = laplace->equations.sd;
    struct level_vector weights, solved;
    double mean = 0, variance = 0;
    int columns = laplace->design->columns;
    level_vector_init(&weights, laplace->data);
    level_vector_init(&solved, laplace->data);
    for (int i = 0; i < columns; i++) {
        ret_gradient[i] = predictor->fixed[i] - (less == NULL ? 0 : less->fixed[i]);
        mean += ret_gradient[i] * point[i];
    }
    for (int term = 0; term < PARENT_TERMS; term++) {
        double new_variance = predictor->new_variance[term];
        if (predictor->place[term] >= 0)
            weights.of[term][predictor->place[term]] += sd[term];
        if (less != NULL && less->place[term] >= 0)
            weights.of[term][less->place[term]] -= sd[term];
        if (less != NULL)
            new_variance += less->new_variance[term];
        variance += new_variance * sd[term] * sd[term];
    }
    *ret_mean = mean + level_vector_dot(&weights, &laplace->modes);
    level_vector_copy(&solved, &weights);
    laplace_solve(laplace, &solved, ret_gradient);
    *ret_variance = variance + level_vector_dot(&weights, &solved);
    level_vector_done(&weights);
    level_vector_done(&solved);
}

static struct parent_expectation expect(const struct parent_model *model,
                                        const struct linear_predictor *predictor,
                                        const struct linear_predictor *less)
{
    struct parent_expectation expectation = {.variance = 0};
    size_t columns = (size_t)model->design.columns;
    gsl_vector *gradient = gsl_vector_alloc(columns);
    moments_at(&model->laplace, model->optimum.point, predictor, less, &expectation.mean,
               &expectation.conditional_variance, gradient->data);
    for (int i = 0; i < model->quadrature.count; i++) {
        const struct node *node = &model->quadrature.node[i];
        double mean, variance, of_fixed;
        moments_at(&node->laplace, node->point, predictor, less, &mean, &variance, gradient->data);
        gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, node->fixed_root, gradient);
        gsl_blas_ddot(gradient, gradient, &of_fixed);
        double off = mean - expectation.mean;
        expectation.variance += node->weight * (variance + of_fixed + off * off);
    }
    gsl_vector_free(gradient);
    return expectation;
}

bool parent_model_knows(const struct parent_model *model, int variety)
{
    return model->data.variety_state[variety] == PARENT_ESTIMATED;
}

struct parent_expectation parent_model_expect(const struct parent_model *model,
                                              const struct parent_cross *cross)
{
    struct linear_predictor predictor;
    linear_predictor_init(&predictor, model, cross);
    struct parent_expectation expectation = expect(model, &predictor, NULL);
    free(predictor.fixed);
    return expectation;
}

struct parent_expectation parent_model_difference(const struct parent_model *model,
                                                  const struct parent_cross *cross,
                                                  const struct parent_cross *other)
{
    struct linear_predictor predictor, less;
    linear_predictor_init(&predictor, model, cross);
    linear_predictor_init(&less, model, other);
    struct parent_expectation expectation = expect(model, &predictor, &less);
    free(predictor.fixed);
    free(less.fixed);
    return expectation;
}

struct parent_draws {
    const struct parent_model *model;
    gsl_rng *random;
    int count;
    struct linear_predictor *predictors; /* [count] */
    gsl_vector *fixed;                   /* [columns] as drawn, from where the node has them */
    struct level_vector effects;
    double *scratch; /* [observations] */
};

struct parent_draws *parent_draws_new(const struct parent_model *model,
                                      const struct parent_cross *crosses, int count, uint64_t seed)
{
    struct parent_draws *draws = alloc_zeroed(1, sizeof *draws);
    draws->model = model;
    draws->random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(draws->random, (unsigned long)seed);
    draws->count = count;
    draws->predictors = alloc_zeroed((size_t)count, sizeof *draws->predictors);
    for (int i = 0; i < count; i++)
        linear_predictor_init(&draws->predictors[i], model, &crosses[i]);
    draws->fixed = gsl_vector_alloc((size_t)model->design.columns);
    level_vector_init(&draws->effects, &model->data);
    draws->scratch = alloc_zeroed((size_t)model->data.count, sizeof *draws->scratch);
    return draws;
}

void parent_draws_free(struct parent_draws *draws)
{
    if (draws == NULL)
        return;
    for (int i = 0; i < draws->count; i++)
        free(draws->predictors[i].fixed);
    free(draws->predictors);
    gsl_rng_free(draws->random);
    gsl_vector_free(draws->fixed);
    level_vector_done(&draws->effects);
    free(draws->scratch);
    free(draws);
}

static double draw_normal(struct parent_draws *draws)
{
    return gsl_ran_gaussian_ziggurat(draws->random, 1);
}

static const struct node *draw_node(struct parent_draws *draws)
{
    const struct quadrature *quadrature = &draws->model->quadrature;
    double left = gsl_rng_uniform(draws->random);
    int i = 0;
    while (i < quadrature->count - 1 && (left -= quadrature->node[i].weight) > 0)
        i++;
    return &quadrature->node[i];
}

/* A right side whose variance is H makes a solution whose variance is H⁻¹; and modes move against
 * the fixed effects. */
static void draw_effects(struct parent_draws *draws, const struct node *node)
{
    const struct normal_equations *equations = &node->laplace.equations;
    gsl_vector_view moved = gsl_vector_view_array(draws->scratch, (size_t)draws->model->data.count);
    for (size_t i = 0; i < draws->fixed->size; i++)
        gsl_vector_set(draws->fixed, i, draw_normal(draws));
    gsl_blas_dtrsv(CblasLower, CblasTrans, CblasNonUnit, node->fixed_root, draws->fixed);
    gsl_blas_dgemv(CblasNoTrans, -1, draws->model->design.x, draws->fixed, 0, &moved.vector);
    for (int i = 0; i < draws->model->data.count; i++) {
        double weight = equations->weight[i];
        draws->scratch[i] = weight * draws->scratch[i] + sqrt(weight) * draw_normal(draws);
    }
    add_up_by_level(equations, draws->scratch, &draws->effects);
    for (int i = 0; i < draws->effects.size; i++)
        draws->effects.of[0][i] += draw_normal(draws);
    normal_equations_solve(equations, &draws->effects);
    for (int i = 0; i < draws->effects.size; i++)
        draws->effects.of[0][i] += node->laplace.modes.of[0][i];
}

void parent_draws_next(struct parent_draws *draws, double *ret)
{
    const struct node *node = draw_node(draws);
    const double *sd = node->laplace.equations.sd;
    draw_effects(draws, node);
    for (int i = 0; i < draws->count; i++) {
        const struct linear_predictor *predictor = &draws->predictors[i];
        double sum = 0;
        for (size_t j = 0; j < draws->fixed->size; j++)
            sum += predictor->fixed[j] * (node->point[j] + gsl_vector_get(draws->fixed, j));
        for (int term = 0; term < PARENT_TERMS; term++)
            if (predictor->place[term] >= 0)
                sum += sd[term] * draws->effects.of[term][predictor->place[term]];
            else if (predictor->new_variance[term] > 0)
                sum += sd[term] * sqrt(predictor->new_variance[term]) * draw_normal(draws);
        ret[i] = sum;
    }
}

double parent_share(double logit)
{
    return 1 / (1 + exp(-logit));
}

struct interval parent_share_interval(double logit, double variance)
{
    double reach = normal_quantile(PREDICTION_CONFIDENCE) * sqrt(variance);
    return (struct interval){parent_share(logit - reach), parent_share(logit + reach)};
}

/* What a single spawning adds to the variance: the same for all crosses. */
static double spawning_variance(const struct parent_model *model, struct parent_cross cross)
{
    double pair = parent_model_expect(model, &cross).variance;
    cross.level[PARENT_SPAWNING] = PARENT_NEW;
    return parent_model_expect(model, &cross).variance - pair;
}

/* Counts one draw: a cross is among the best where fewer than PREDICTION_BEST of its variety are
 * better. */
static void count_best(const struct parent_cross *crosses, int count, const double *drawn,
                       struct parent_prediction *ret)
{
    for (int i = 0; i < count; i++) {
        int better = 0;
        for (int j = 0; j < count && better < PREDICTION_BEST; j++)
            better += crosses[j].variety == crosses[i].variety && drawn[j] > drawn[i];
        ret[i].best += better < PREDICTION_BEST;
    }
}

void parent_model_predict(const struct parent_model *model, const struct parent_cross *crosses,
                          int count, int draws, uint64_t seed, struct parent_prediction *ret)
{
    struct parent_draws *source = parent_draws_new(model, crosses, count, seed);
    double *drawn = alloc_zeroed((size_t)count, sizeof *drawn);
    double spawning = count > 0 ? spawning_variance(model, crosses[0]) : 0;
    for (int i = 0; i < count; i++) {
        struct parent_expectation pair = parent_model_expect(model, &crosses[i]);
        ret[i] = (struct parent_prediction){
            .expected = parent_share(pair.mean),
            .interval = parent_share_interval(pair.mean, pair.variance),
            .spawning = parent_share_interval(pair.mean, pair.variance + spawning)};
    }
    for (int i = 0; i < draws; i++) {
        parent_draws_next(source, drawn);
        count_best(crosses, count, drawn, ret);
    }
    for (int i = 0; i < count; i++)
        ret[i].best /= draws;
    free(drawn);
    parent_draws_free(source);
}
