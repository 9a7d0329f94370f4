/* How well the running cut line fills the places of a round, beside two other ways: cut_line RUNS.
 * Rounds are drawn and judged fish by fish; a fish that is told to keep is kept and none is looked
 * at again. Beside it stands what the pass decides of the same fish, all of them known. Prints a
 * line a kind of round and rule:
 *
 *   filled  share of the rounds whose kept fish are as many as the pass keeps
 *   short   fish too few, on average
 *   over    fish kept that the pass does not keep, on average
 *   swing   points that the line moved in all, from the tenth fish on
 *
 * Fails where the rule keeps more fish than there are places, or where, over all kinds of rounds,
 * it keeps more wrong fish or swings more than the rule that divides the places left. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/core/progress.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 1000, ASPECTS = 11, KEEP_AT = 5000, WEIGHTS = 100, SEEN = 10 };

/* Scores in hundredths of a point. */
struct round_kind {
    const char *name;
    int fish, places;
    bool typical;    /* most fish get the typical score on all or nearly all aspects: many ties */
    bool best_first; /* the first quarter of the fish is better than the rest */
};

static const struct round_kind kinds[] = {
    {"30 fish, 2 places", 30, 2, false, false},
    {"30 fish, 10 places", 30, 10, false, false},
    {"60 fish, 3 places", 60, 3, false, false},
    {"60 fish, 20 places", 60, 20, false, false},
    {"240 fish, 12 places", 240, 12, false, false},
    {"240 fish, 48 places", 240, 48, false, false},
    {"1000 fish, 50 places", 1000, 50, false, false},
    {"60 fish, 20 places, typical", 60, 20, true, false},
    {"240 fish, 12 places, typical", 240, 12, true, false},
    {"240 fish, 48 places, typical", 240, 48, true, false},
    {"60 fish, 12 places, best first", 60, 12, false, true},
    {"240 fish, 48 places, best first", 240, 48, false, true},
};
enum { KINDS = sizeof kinds / sizeof *kinds };

/* Some of a bowl judged so far. */
struct so_far {
    int64_t scores[MOST];
    int count, judged, kept, places, left;
};

static int highest_first(const void *a, const void *b)
{
    int64_t x = *(const int64_t *)a, y = *(const int64_t *)b;
    return (x < y) - (x > y);
}

static int lowest_first(const void *a, const void *b)
{
    return highest_first(b, a);
}

/* No regard to places: what the standard says of each fish. */
static struct cut standard_alone(const struct so_far *so_far)
{
    (void)so_far;
    return (struct cut){.kind = CUT_ALL};
}

/* The places left divided among the fish left: the lowest score seen of which no more are to come
 * than there are places left, from the tenth fish on. */
static struct cut places_left(const struct so_far *so_far)
{
    int places = so_far->places - so_far->kept;
    if (places <= 0)
        return (struct cut){.kind = CUT_NONE};
    if (places >= so_far->left || so_far->judged < SEEN || so_far->count == 0)
        return (struct cut){.kind = CUT_ALL};
    int64_t best[MOST];
    memcpy(best, so_far->scores, (size_t)so_far->count * sizeof *best);
    qsort(best, (size_t)so_far->count, sizeof *best, highest_first);
    int64_t line = best[0];
    for (int i = 0; i < so_far->count; i++) {
        if (i + 1 < so_far->count && best[i + 1] == best[i])
            continue;
        if ((int64_t)so_far->left * (i + 1) > (int64_t)places * so_far->judged)
            break;
        line = best[i];
    }
    return (struct cut){.kind = CUT_OVER, .score = line - 1};
}

static struct cut whole_round(const struct so_far *so_far)
{
    int64_t scores[MOST];
    memcpy(scores, so_far->scores, (size_t)so_far->count * sizeof *scores);
    qsort(scores, (size_t)so_far->count, sizeof *scores, lowest_first);
    return cut_line(scores, (size_t)so_far->count, so_far->judged, so_far->kept, so_far->places,
                    so_far->left, KEEP_AT);
}

static const struct rule {
    const char *name;
    struct cut (*line)(const struct so_far *so_far);
} rules[] = {
    {"no line", standard_alone}, {"places left", places_left}, {"whole round", whole_round}};
enum { RULES = sizeof rules / sizeof *rules };

struct outcome {
    int64_t rounds, filled, missing, over, most;
    int64_t swing; /* hundredths of a point */
};

static int aspect_score(gsl_rng *random, double quality)
{
    double score = round(3 + 0.8 * quality + gsl_ran_gaussian(random, 0.8));
    return score < 1 ? 1 : score > 5 ? 5 : (int)score;
}

/* Points of a scale 1-5 over eleven aspects; -1 = a fault rejects it, as of three in ten. */
static int64_t draw_fish(gsl_rng *random, const struct round_kind *kind, int index)
{
    static const int weights[ASPECTS] = {18, 8, 8, 6, 14, 13, 8, 8, 9, 3, 5};
    double quality = gsl_ran_gaussian(random, 0.8);
    if (kind->best_first)
        quality += index < kind->fish / 4 ? 0.7 : -0.2;
    if (gsl_rng_uniform(random) < 0.3)
        return -1;
    bool all_typical = kind->typical && gsl_rng_uniform(random) < 0.55;
    int64_t sum = 0;
    for (int i = 0; i < ASPECTS; i++) {
        bool typical = all_typical || (kind->typical && gsl_rng_uniform(random) < 0.8);
        sum += weights[i] * ((typical ? 3 : aspect_score(random, quality)) - 1);
    }
    return sum * 10000 / (4 * WEIGHTS);
}

/* Marks the fish that the pass keeps; how many. */
static int decide_all(const struct round_kind *kind, const int64_t *fish, bool *ret_keep)
{
    struct decision decisions[MOST];
    int kept = 0;
    for (int i = 0; i < kind->fish; i++)
        decisions[i] =
            (struct decision){.verdict = fish[i] >= KEEP_AT ? VERDICT_KEEP : VERDICT_REJECT,
                              .reason = REASON_SCORE,
                              .which = -1,
                              .scored = fish[i] >= 0,
                              .score = fish[i]};
    uint32_t order[MOST];
    decisions_rank(decisions, (size_t)kind->fish, order);
    decisions_limit(decisions, order, (size_t)kind->fish, kind->places);
    for (int i = 0; i < kind->fish; i++)
        kept += ret_keep[i] = decisions[i].verdict == VERDICT_KEEP;
    return kept;
}

static void judge_round(const struct round_kind *kind, const struct rule *rule, const int64_t *fish,
                        struct outcome *outcome)
{
    bool keeps[MOST];
    int to_keep = decide_all(kind, fish, keeps);
    struct so_far so_far = {.places = kind->places, .left = kind->fish};
    int64_t last = -1;
    for (int i = 0; i < kind->fish; i++) {
        struct cut cut = rule->line(&so_far);
        if (cut.kind == CUT_OVER && i > SEEN) {
            outcome->swing += last >= 0 ? llabs(cut.score - last) : 0;
            last = cut.score;
        }
        if (fish[i] >= KEEP_AT && cut_has_place(cut, fish[i])) {
            so_far.kept++;
            outcome->over += !keeps[i];
        }
        if (fish[i] >= 0)
            so_far.scores[so_far.count++] = fish[i];
        so_far.judged++;
        so_far.left--;
    }
    outcome->rounds++;
    outcome->filled += so_far.kept == to_keep;
    outcome->missing += so_far.kept < to_keep ? to_keep - so_far.kept : 0;
    int beyond = so_far.kept - kind->places;
    outcome->most = beyond > outcome->most ? beyond : outcome->most;
}

static double mean(int64_t sum, int64_t rounds)
{
    return (double)sum / (double)rounds;
}

static void print_outcome(const struct round_kind *kind, const struct rule *rule,
                          const struct outcome *outcome)
{
    printf("%-32s %-12s filled %5.1f %%  short %5.2f  over %6.2f  swing %6.1f\n", kind->name,
           rule->name, 100 * mean(outcome->filled, outcome->rounds),
           mean(outcome->missing, outcome->rounds), mean(outcome->over, outcome->rounds),
           mean(outcome->swing, outcome->rounds) / 100);
}

static void run_kind(const struct round_kind *kind, int runs, struct outcome sums[RULES])
{
    gsl_rng *random = gsl_rng_alloc(gsl_rng_mt19937);
    struct outcome outcomes[RULES] = {0};
    int64_t fish[MOST];
    for (int run = 0; run < runs; run++) {
        for (int i = 0; i < kind->fish; i++)
            fish[i] = draw_fish(random, kind, i);
        for (int rule = 0; rule < RULES; rule++)
            judge_round(kind, &rules[rule], fish, &outcomes[rule]);
    }
    gsl_rng_free(random);
    for (int rule = 0; rule < RULES; rule++) {
        print_outcome(kind, &rules[rule], &outcomes[rule]);
        sums[rule].over += outcomes[rule].over;
        sums[rule].swing += outcomes[rule].swing;
        if (outcomes[rule].most > sums[rule].most)
            sums[rule].most = outcomes[rule].most;
    }
}

int main(int argc, char **argv)
{
    int runs = argc == 2 ? atoi(argv[1]) : 0;
    struct outcome sums[RULES] = {0};
    if (runs < 1) {
        fprintf(stderr, "usage: cut_line RUNS\n");
        return 2;
    }
    for (int kind = 0; kind < KINDS; kind++)
        run_kind(&kinds[kind], runs, sums);
    const struct outcome *before = &sums[1], *now = &sums[2];
    bool fine = now->most <= 0 && now->over < before->over && now->swing < before->swing;
    printf("%s\n", fine ? "as it should be" : "NOT as it should be");
    return fine ? 0 : 1;
}
