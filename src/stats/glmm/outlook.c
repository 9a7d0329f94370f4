#include "senbetsu/stats/glmm/outlook.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/stats/glmm/draws.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

double parent_share(double logit)
{
    return 1 / (1 + exp(-logit));
}

struct interval parent_share_interval(double logit, double variance)
{
    double reach = gsl_cdf_ugaussian_Qinv((1 - OUTLOOK_CONFIDENCE) / 2) * sqrt(variance);
    return (struct interval){parent_share(logit - reach), parent_share(logit + reach)};
}

/* What a spawning's own luck adds to the variance: the same for all crosses. */
static double luck_of(const struct parent_model *model, struct parent_cross cross)
{
    double run = parent_model_expect(model, &cross).variance;
    cross.level[PARENT_SPAWNING] = PARENT_NEW;
    return parent_model_expect(model, &cross).variance - run;
}

static struct parent_outlook expect(const struct parent_model *model,
                                    const struct parent_cross *cross, double luck)
{
    struct parent_expectation run = parent_model_expect(model, cross);
    return (struct parent_outlook){.expected = parent_share(run.mean),
                                   .interval = parent_share_interval(run.mean, run.variance),
                                   .spawning =
                                       parent_share_interval(run.mean, run.variance + luck)};
}

/* Counts one draw: a cross is among the best where fewer than OUTLOOK_BEST of its variety are
 * better. */
static void count_best(const struct parent_cross *crosses, int count, const double *drawn,
                       struct parent_outlook *ret)
{
    for (int i = 0; i < count; i++) {
        int better = 0;
        for (int j = 0; j < count && better < OUTLOOK_BEST; j++)
            better += crosses[j].variety == crosses[i].variety && drawn[j] > drawn[i];
        ret[i].best += better < OUTLOOK_BEST;
    }
}

void parent_outlook_find(const struct parent_model *model, const struct parent_cross *crosses,
                         int count, int draws, uint64_t seed, struct parent_outlook *ret)
{
    struct parent_draws *source = parent_draws_new(model, crosses, count, seed);
    double *drawn = alloc_zeroed((size_t)count, sizeof *drawn);
    double luck = count > 0 ? luck_of(model, crosses[0]) : 0;
    for (int i = 0; i < count; i++)
        ret[i] = expect(model, &crosses[i], luck);
    for (int i = 0; i < draws; i++) {
        parent_draws_next(source, drawn);
        count_best(crosses, count, drawn, ret);
    }
    for (int i = 0; i < count; i++)
        ret[i].best /= draws;
    free(drawn);
    parent_draws_free(source);
}
