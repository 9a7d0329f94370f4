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

#include <assert.h>
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

/* Many crosses at once. What a set of standard deviations says of all sums of a dam, a sire and a
 * pair is worked out once, and each cross takes what it needs of it. */

/* Where the pair of the cross is in the data, so are its parents. */
static bool has_own_parents(const struct parent_model *model,
                            const struct linear_predictor *predictor)
{
    int pair = predictor->place[PARENT_PAIR];
    for (int term = 0; pair >= 0 && term < PARENT_PAIR; term++)
        if (model->effects.fit[term] == PARENT_FITTED &&
            predictor->place[term] != model->data.pair[pair].level[term])
            return false;
    return true;
}

/* As moments_at, fixed effects known. */
static void moments_above(const struct laplace *laplace, const struct inverse *inverse,
                          const double *point, const struct linear_predictor *predictor,
                          double *ret_mean, double *ret_variance)
{
    const double *sd = laplace->equations.sd;
    double mean = 0, variance = inverse_of_sum(inverse, &laplace->equations, predictor->place);
    for (int i = 0; i < laplace->design->columns; i++)
        mean += predictor->fixed[i] * point[i];
    for (int term = 0; term < PARENT_TERMS; term++) {
        if (predictor->place[term] >= 0)
            mean += sd[term] * laplace->modes.of[term][predictor->place[term]];
        variance += predictor->new_variance[term] * sd[term] * sd[term];
    }
    *ret_mean = mean;
    *ret_variance = variance;
}

/* The gradient to β of the mean at a node: the fixed effects count, and modes fall as they grow. */
static void gradient_above(const struct node *node, const struct linear_predictor *predictor,
                           double *ret)
{
    const struct laplace *laplace = &node->laplace;
    const double *sd = laplace->equations.sd;
    for (int i = 0; i < laplace->design->columns; i++) {
        const double *moves = gsl_matrix_const_ptr(node->moves, (size_t)i, 0);
        ret[i] = predictor->fixed[i];
        for (int term = 0; term <= PARENT_PAIR; term++) {
            ptrdiff_t from = laplace->modes.of[term] - laplace->modes.of[0];
            if (predictor->place[term] >= 0)
                ret[i] -= sd[term] * moves[from + predictor->place[term]];
        }
    }
}

static void add_node(const struct node *node, const struct inverse *inverse,
                     const struct linear_predictor *predictors, int count,
                     struct parent_expectation *expectations)
{
    gsl_vector *gradient = gsl_vector_alloc(node->fixed_root->size1);
    for (int i = 0; i < count; i++) {
        double mean, variance, of_fixed;
        moments_above(&node->laplace, inverse, node->point, &predictors[i], &mean, &variance);
        gradient_above(node, &predictors[i], gradient->data);
        gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasNonUnit, node->fixed_root, gradient);
        gsl_blas_ddot(gradient, gradient, &of_fixed);
        double off = mean - expectations[i].mean;
        expectations[i].variance += node->weight * (variance + of_fixed + off * off);
    }
    gsl_vector_free(gradient);
}

static struct linear_predictor *predictors_new(const struct parent_model *model,
                                               const struct parent_cross *crosses, int count)
{
    struct linear_predictor *predictors = alloc_zeroed((size_t)count, sizeof *predictors);
    for (int i = 0; i < count; i++)
        linear_predictor_init(&predictors[i], model, &crosses[i]);
    return predictors;
}

static void predictors_free(struct linear_predictor *predictors, int count)
{
    for (int i = 0; i < count; i++)
        free(predictors[i].fixed);
    free(predictors);
}

void parent_model_expect_each(const struct parent_model *model, const struct parent_cross *crosses,
                              int count, struct parent_expectation *ret)
{
    const struct laplace *laplace = &model->laplace;
    struct linear_predictor *predictors = predictors_new(model, crosses, count);
    struct inverse inverse;
    inverse_init(&inverse, &model->data);
    inverse_find(&inverse, &laplace->equations);
    for (int i = 0; i < count; i++) {
        ret[i] = (struct parent_expectation){.variance = 0};
        moments_above(laplace, &inverse, model->optimum.point, &predictors[i], &ret[i].mean,
                      &ret[i].conditional_variance);
    }
    for (int i = 0; i < model->quadrature.count; i++) {
        const struct node *node = &model->quadrature.node[i];
        inverse_find(&inverse, &node->laplace.equations);
        add_node(node, &inverse, predictors, count, ret);
    }
    inverse_done(&inverse);
    for (int i = 0; i < count; i++)
        if (!has_own_parents(model, &predictors[i]))
            ret[i] = expect(model, &predictors[i], NULL);
    predictors_free(predictors, count);
}

/* Spawnings are eliminated: crosses have none. */
struct parent_draws {
    const struct parent_model *model;
    gsl_rng *random;
    int count;
    struct linear_predictor *predictors; /* [count] */
    int *likewise;     /* [count] the first of the crosses with the same fixed effects */
    double *fixed_sum; /* [count] of those that are first */
    gsl_vector *fixed; /* [columns] as drawn, from where the node has them */
    struct level_vector effects;
};

static void find_likewise(struct parent_draws *draws, const struct parent_cross *crosses)
{
    for (int i = 0; i < draws->count; i++) {
        int *first = &draws->likewise[i];
        while (crosses[*first].season != crosses[i].season ||
               crosses[*first].variety != crosses[i].variety)
            ++*first;
    }
}

struct parent_draws *parent_draws_new(const struct parent_model *model,
                                      const struct parent_cross *crosses, int count, uint64_t seed)
{
    struct parent_draws *draws = alloc_zeroed(1, sizeof *draws);
    draws->model = model;
    draws->count = count;
    draws->predictors = predictors_new(model, crosses, count);
    for (int i = 0; i < count; i++)
        assert(draws->predictors[i].place[PARENT_SPAWNING] < 0);
    draws->random = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(draws->random, (unsigned long)seed);
    draws->likewise = alloc_zeroed((size_t)count, sizeof *draws->likewise);
    find_likewise(draws, crosses);
    draws->fixed_sum = alloc_zeroed((size_t)count, sizeof *draws->fixed_sum);
    draws->fixed = gsl_vector_alloc((size_t)model->design.columns);
    level_vector_init(&draws->effects, &model->data);
    return draws;
}

void parent_draws_free(struct parent_draws *draws)
{
    if (draws == NULL)
        return;
    predictors_free(draws->predictors, draws->count);
    gsl_rng_free(draws->random);
    free(draws->likewise);
    free(draws->fixed_sum);
    gsl_vector_free(draws->fixed);
    level_vector_done(&draws->effects);
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

/* A right side whose variance is H makes a solution whose variance is H⁻¹. */
static void draw_around_modes(struct parent_draws *draws, const struct node *node)
{
    const struct normal_equations *equations = &node->laplace.equations;
    const struct observations *data = &draws->model->data;
    double *effects = draws->effects.of[0];
    for (int i = 0; i < levels_above_spawnings(data); i++)
        effects[i] = draw_normal(draws);
    for (int pair = 0; pair < data->levels[PARENT_PAIR]; pair++) {
        double drawn = sqrt(equations->pair_sum[pair]) * draw_normal(draws);
        const int *parents = data->pair[pair].level;
        draws->effects.of[PARENT_PAIR][pair] += equations->sd[PARENT_PAIR] * drawn;
        for (int term = 0; term < PARENT_PAIR; term++)
            draws->effects.of[term][parents[term]] += equations->sd[term] * drawn;
    }
    normal_equations_solve_above(equations, &draws->effects);
}

static void draw_effects(struct parent_draws *draws, const struct node *node)
{
    size_t above = (size_t)levels_above_spawnings(&draws->model->data);
    gsl_vector_view effects = gsl_vector_view_array(draws->effects.of[0], above);
    gsl_vector_const_view modes = gsl_vector_const_view_array(node->laplace.modes.of[0], above);
    for (size_t i = 0; i < draws->fixed->size; i++)
        gsl_vector_set(draws->fixed, i, draw_normal(draws));
    gsl_blas_dtrsv(CblasLower, CblasTrans, CblasNonUnit, node->fixed_root, draws->fixed);
    draw_around_modes(draws, node);
    gsl_blas_dgemv(CblasTrans, -1, node->moves, draws->fixed, 1, &effects.vector);
    gsl_blas_daxpy(1, &modes.vector, &effects.vector);
}

static double draw_fixed_sum(const struct parent_draws *draws, const struct node *node, int cross)
{
    double sum = 0;
    for (size_t i = 0; i < draws->fixed->size; i++)
        sum += draws->predictors[cross].fixed[i] * (node->point[i] + draws->fixed->data[i]);
    return sum;
}

void parent_draws_next(struct parent_draws *draws, double *ret)
{
    const struct node *node = draw_node(draws);
    const double *sd = node->laplace.equations.sd;
    draw_effects(draws, node);
    for (int i = 0; i < draws->count; i++) {
        const struct linear_predictor *predictor = &draws->predictors[i];
        if (draws->likewise[i] == i)
            draws->fixed_sum[i] = draw_fixed_sum(draws, node, i);
        double sum = draws->fixed_sum[draws->likewise[i]], new_variance = 0;
        for (int term = 0; term < PARENT_TERMS; term++)
            if (predictor->place[term] >= 0)
                sum += sd[term] * draws->effects.of[term][predictor->place[term]];
            else
                new_variance += predictor->new_variance[term] * sd[term] * sd[term];
        ret[i] = new_variance > 0 ? sum + sqrt(new_variance) * draw_normal(draws) : sum;
    }
}

/* The best numbers of one variety's crosses so far, best first. */
struct podium {
    int variety;
    double best[PREDICTION_BEST];
};

static void podium_add(struct podium *podium, double number)
{
    int place = PREDICTION_BEST;
    while (place > 0 && number > podium->best[place - 1])
        place--;
    for (int i = PREDICTION_BEST - 1; i > place; i--)
        podium->best[i] = podium->best[i - 1];
    if (place < PREDICTION_BEST)
        podium->best[place] = number;
}

/* Counts one draw: a cross is among the best where fewer than PREDICTION_BEST of its variety are
 * better. `of` [count] says which podium is the variety's. */
static void count_best(const double *drawn, int count, const int *of, struct podium *podiums,
                       int varieties, struct parent_prediction *ret)
{
    for (int i = 0; i < varieties; i++)
        for (int place = 0; place < PREDICTION_BEST; place++)
            podiums[i].best[place] = -INFINITY;
    for (int i = 0; i < count; i++)
        if (drawn[i] > podiums[of[i]].best[PREDICTION_BEST - 1])
            podium_add(&podiums[of[i]], drawn[i]);
    for (int i = 0; i < count; i++)
        ret[i].best += drawn[i] >= podiums[of[i]].best[PREDICTION_BEST - 1];
}

static int find_podiums(const struct parent_cross *crosses, int count, struct podium *podiums,
                        int *ret_of)
{
    int varieties = 0;
    for (int i = 0; i < count; i++) {
        int at = 0;
        while (at < varieties && podiums[at].variety != crosses[i].variety)
            at++;
        if (at == varieties)
            podiums[varieties++].variety = crosses[i].variety;
        ret_of[i] = at;
    }
    return varieties;
}

static bool find_chances(const struct parent_model *model, const struct parent_cross *crosses,
                         int count, int turns, uint64_t seed, const struct watch *watch,
                         struct parent_prediction *ret)
{
    bool goes_on = true;
    struct podium *podiums = alloc_zeroed((size_t)count, sizeof *podiums);
    int *of = alloc_zeroed((size_t)count, sizeof *of);
    double *drawn = alloc_zeroed((size_t)count, sizeof *drawn);
    int varieties = find_podiums(crosses, count, podiums, of);
    struct parent_draws *draws = parent_draws_new(model, crosses, count, seed);
    for (int i = 0; i < turns && goes_on; i++) {
        parent_draws_next(draws, drawn);
        count_best(drawn, count, of, podiums, varieties, ret);
        goes_on = watch_tell(watch, "drawing which crosses are best", i + 1, turns);
    }
    for (int i = 0; i < count; i++)
        ret[i].best /= turns;
    parent_draws_free(draws);
    free(podiums);
    free(of);
    free(drawn);
    return goes_on;
}

bool parent_model_predict(const struct parent_model *model, const struct parent_cross *crosses,
                          int count, int draws, uint64_t seed, const struct watch *watch,
                          struct parent_prediction *ret)
{
    if (count == 0)
        return true;
    struct parent_expectation *expectations = alloc_zeroed((size_t)count, sizeof *expectations);
    double spawning = spawning_variance(model, crosses[0]);
    parent_model_expect_each(model, crosses, count, expectations);
    for (int i = 0; i < count; i++) {
        double mean = expectations[i].mean, variance = expectations[i].variance;
        ret[i] = (struct parent_prediction){.expected = parent_share(mean),
                                            .interval = parent_share_interval(mean, variance),
                                            .spawning =
                                                parent_share_interval(mean, variance + spawning)};
    }
    free(expectations);
    return draws == 0 || find_chances(model, crosses, count, draws, seed, watch, ret);
}
