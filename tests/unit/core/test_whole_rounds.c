/* Whole rounds by chance: what must hold whatever the standard and the fish. */
#include "chance.h"
#include "senbetsu/base/number.h"

enum { ROUNDS = 400, MOST_FISH = 60 };

struct sample {
    struct standard standard;
    struct judgement judgements[MOST_FISH];
    struct decision decisions[MOST_FISH]; /* with `places` */
    struct decision free[MOST_FISH];      /* without a limit */
    size_t count;
    int places;
};

static int ties_decided; /* so that the rounds are known to have had some */

static void draw(struct chance *chance, struct sample *ret)
{
    chance_standard(chance, &ret->standard);
    ret->count = (size_t)chance_below(chance, MOST_FISH + 1);
    for (size_t i = 0; i < ret->count; i++)
        chance_judgement(chance, &ret->standard, &ret->judgements[i]);
    ret->places = chance_below(chance, 20);
    round_decide(&ret->standard, ret->judgements, ret->count, ret->places, ret->decisions);
    round_decide(&ret->standard, ret->judgements, ret->count, -1, ret->free);
}

static void for_many_rounds(void (*holds)(const struct sample *sample))
{
    struct chance chance = {20260614};
    for (int i = 0; i < ROUNDS; i++) {
        struct sample sample;
        draw(&chance, &sample);
        holds(&sample);
    }
}

static void assert_same(const struct decision *a, const struct decision *b)
{
    assert_int_equal(a->verdict, b->verdict);
    assert_int_equal(a->reason, b->reason);
    assert_int_equal(a->which, b->which);
    assert_int_equal(a->scored, b->scored);
    assert_true(a->score == b->score);
    assert_int_equal(a->rank, b->rank);
}

static bool by_hand(const struct decision *decision)
{
    return decision->reason == REASON_BY_HAND;
}

/* The formula of the score in floating point: good enough to find a wrong term. */
static double about(const struct standard *standard, const struct judgement *judgement)
{
    double sum = 0, weights = 0, points;
    for (int i = 0; i < standard->aspect_count; i++) {
        sum += standard->aspects[i].weight * (double)(judgement->scores[i] - standard->lowest) /
               (standard->highest - standard->lowest);
        weights += standard->aspects[i].weight;
    }
    points = 100 * sum / weights;
    for (int i = 0; i < standard->fault_count; i++)
        if (standard->faults[i].effect == EFFECT_DEDUCT && (judgement->faults >> i & 1))
            points -= standard->faults[i].deduction / 100.0;
    return points > 0 ? points : 0;
}

static void scores_follow_the_formula_of(const struct sample *sample)
{
    int64_t unit = score_unit(&sample->standard);
    for (size_t i = 0; i < sample->count; i++) {
        const struct decision *decision = &sample->decisions[i];
        if (!decision->scored)
            continue;
        assert_true(decision->score >= 0 && decision->score <= 100 * unit);
        double off = (double)decision->score / (double)unit -
                     about(&sample->standard, &sample->judgements[i]);
        assert_true(off < 1e-9 && off > -1e-9);
    }
}

static void scores_follow_the_formula(void **state)
{
    (void)state;
    for_many_rounds(scores_follow_the_formula_of);
}

static void a_rank_is_one_more_than_the_fish_that_are_better_of(const struct sample *sample)
{
    for (size_t i = 0; i < sample->count; i++) {
        int better = 0;
        for (size_t j = 0; j < sample->count; j++)
            better += sample->free[j].scored && sample->free[j].score > sample->free[i].score;
        assert_int_equal(sample->free[i].rank, sample->free[i].scored ? better + 1 : 0);
        assert_int_equal(sample->free[i].rank, sample->decisions[i].rank);
    }
}

static void a_rank_is_one_more_than_the_fish_that_are_better(void **state)
{
    (void)state;
    for_many_rounds(a_rank_is_one_more_than_the_fish_that_are_better_of);
}

/* Whether a fish that could be kept keeps its place, from the rule's words alone: it does if the
 * fish at least as good as it, with those kept by hand, are no more than the places. */
static void places_are_held_of(const struct sample *sample)
{
    for (size_t i = 0; i < sample->count; i++) {
        const struct decision *before = &sample->free[i], *after = &sample->decisions[i];
        if (before->verdict != VERDICT_KEEP || by_hand(before)) {
            assert_same(before, after);
            continue;
        }
        int ahead = 0;
        for (size_t j = 0; j < sample->count; j++)
            ahead += sample->free[j].verdict == VERDICT_KEEP &&
                     (by_hand(&sample->free[j]) || sample->free[j].score >= before->score);
        assert_int_equal(after->verdict, ahead <= sample->places ? VERDICT_KEEP : VERDICT_HOLD);
        assert_int_equal(after->reason, ahead <= sample->places ? REASON_SCORE : REASON_PLACES);
    }
}

static void places_are_held(void **state)
{
    (void)state;
    for_many_rounds(places_are_held_of);
}

static void no_more_are_kept_than_there_are_places_of(const struct sample *sample)
{
    int kept = 0, kept_by_hand = 0;
    for (size_t i = 0; i < sample->count; i++) {
        if (sample->decisions[i].verdict != VERDICT_KEEP)
            continue;
        kept++;
        kept_by_hand += by_hand(&sample->decisions[i]);
    }
    assert_true(kept <= sample->places || kept == kept_by_hand);
}

static void no_more_are_kept_than_there_are_places(void **state)
{
    (void)state;
    for_many_rounds(no_more_are_kept_than_there_are_places_of);
}

static void the_order_of_the_fish_does_not_matter_of(const struct sample *sample)
{
    struct judgement reversed[MOST_FISH];
    struct decision decisions[MOST_FISH];
    for (size_t i = 0; i < sample->count; i++)
        reversed[i] = sample->judgements[sample->count - 1 - i];
    round_decide(&sample->standard, reversed, sample->count, sample->places, decisions);
    for (size_t i = 0; i < sample->count; i++)
        assert_same(&decisions[sample->count - 1 - i], &sample->decisions[i]);
}

static void the_order_of_the_fish_does_not_matter(void **state)
{
    (void)state;
    for_many_rounds(the_order_of_the_fish_does_not_matter_of);
}

static int goodness(enum verdict verdict)
{
    return verdict == VERDICT_KEEP ? 2 : verdict == VERDICT_HOLD ? 1 : 0;
}

static void higher_thresholds_never_make_a_fish_better_of(const struct sample *sample)
{
    struct standard stricter = sample->standard;
    stricter.keep_at += (10000 - stricter.keep_at) / 2;
    stricter.hold_at += (stricter.keep_at - stricter.hold_at) / 2;
    for (size_t i = 0; i < sample->count; i++) {
        struct decision strict = judgement_decide(&stricter, &sample->judgements[i]);
        assert_true(goodness(strict.verdict) <= goodness(sample->free[i].verdict));
        assert_true(strict.score == sample->free[i].score);
    }
}

static void higher_thresholds_never_make_a_fish_better(void **state)
{
    (void)state;
    for_many_rounds(higher_thresholds_never_make_a_fish_better_of);
}

/* Of fish that their score decides: one held by a floor can lose that protection by being better.
 */
static void a_better_aspect_never_makes_a_fish_worse_of(const struct sample *sample)
{
    for (size_t i = 0; i < sample->count; i++) {
        for (int aspect = 0; aspect < sample->standard.aspect_count; aspect++) {
            struct judgement judgement = sample->judgements[i];
            if (sample->free[i].reason != REASON_SCORE ||
                judgement.scores[aspect] == sample->standard.highest)
                continue;
            judgement.scores[aspect]++;
            struct decision better = judgement_decide(&sample->standard, &judgement);
            assert_true(better.score >= sample->free[i].score);
            assert_true(goodness(better.verdict) >= goodness(sample->free[i].verdict));
        }
    }
}

static void a_better_aspect_never_makes_a_fish_worse(void **state)
{
    (void)state;
    for_many_rounds(a_better_aspect_never_makes_a_fish_worse_of);
}

/* Twice the weights are the same standard: other numbers, the same shares. */
static void only_the_shares_of_the_weights_count_of(const struct sample *sample)
{
    struct standard doubled = sample->standard;
    for (int i = 0; i < doubled.aspect_count; i++)
        doubled.aspects[i].weight *= 2;
    struct decision decisions[MOST_FISH];
    round_decide(&doubled, sample->judgements, sample->count, sample->places, decisions);
    for (size_t i = 0; i < sample->count; i++) {
        assert_int_equal(decisions[i].verdict, sample->decisions[i].verdict);
        assert_int_equal(decisions[i].rank, sample->decisions[i].rank);
        assert_int_equal(number_compare_fractions(decisions[i].score, score_unit(&doubled),
                                                  sample->decisions[i].score,
                                                  score_unit(&sample->standard)),
                         0);
    }
}

static void only_the_shares_of_the_weights_count(void **state)
{
    (void)state;
    for_many_rounds(only_the_shares_of_the_weights_count_of);
}

/* Counts what chance brought, so that the tests above are known to have met it. */
static int reasons_met[REASON_PLACES + 1], ties_met;

static void count_what_was_met(const struct sample *sample)
{
    for (size_t i = 0; i < sample->count; i++) {
        reasons_met[sample->decisions[i].reason]++;
        for (size_t j = 0; j < i; j++)
            ties_met += sample->free[i].scored && sample->free[i].rank == sample->free[j].rank;
    }
}

static void chance_brought_everything(void **state)
{
    (void)state;
    for_many_rounds(count_what_was_met);
    for (int reason = 0; reason <= REASON_PLACES; reason++)
        assert_true(reasons_met[reason] > 100);
    assert_true(ties_met > 1000);
}

/* Whoever decides a tie by hand, whichever fish he takes, fills the places exactly. */
static void a_decided_tie_fills_the_places(const struct sample *sample)
{
    struct judgement judgements[MOST_FISH];
    struct decision decisions[MOST_FISH];
    struct tie tie = decisions_tie(sample->decisions, sample->count, sample->places);
    int left = tie.places_left;
    if (tie.count == 0)
        return;
    memcpy(judgements, sample->judgements, sizeof judgements);
    for (size_t i = sample->count; i-- > 0;)
        if (decision_ties(&sample->decisions[i], &tie))
            judgements[i].by_hand = left-- > 0 ? VERDICT_KEEP : VERDICT_HOLD;
    round_decide(&sample->standard, judgements, sample->count, sample->places, decisions);
    int kept = 0;
    for (size_t i = 0; i < sample->count; i++)
        kept += decisions[i].verdict == VERDICT_KEEP;
    assert_int_equal(kept, sample->places);
    assert_int_equal(decisions_tie(decisions, sample->count, sample->places).count, 0);
    ties_decided++;
}

static void ties_are_decided_by_hand(void **state)
{
    (void)state;
    ties_decided = 0;
    for_many_rounds(a_decided_tie_fills_the_places);
    assert_true(ties_decided > 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scores_follow_the_formula),
        cmocka_unit_test(a_rank_is_one_more_than_the_fish_that_are_better),
        cmocka_unit_test(places_are_held),
        cmocka_unit_test(no_more_are_kept_than_there_are_places),
        cmocka_unit_test(the_order_of_the_fish_does_not_matter),
        cmocka_unit_test(higher_thresholds_never_make_a_fish_better),
        cmocka_unit_test(a_better_aspect_never_makes_a_fish_worse),
        cmocka_unit_test(only_the_shares_of_the_weights_count),
        cmocka_unit_test(chance_brought_everything),
        cmocka_unit_test(ties_are_decided_by_hand),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
