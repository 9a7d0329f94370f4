#include "senbetsu/base/csv.h"
#include "senbetsu/base/number.h"
#include "senbetsu/core/judgement.h"
#include "support/source.h"
#include "support/standard.h"
#include "support/test.h"

enum { WHITE, PATTERN, BODY };
enum { SPINE, GILL, EYE, NOSE };

/* Scale 1–5, weights 4, 3 and 1; 65 points keep a fish, 55 hold it. */
static const struct standard example = {
    STANDARD("kikusui-harvest", "Kikusui", STAGE_HARVEST, 6500, 5500),
    ASPECTS(3, FLOORED_ASPECT("white", "White ground", 4, 2, VERDICT_REJECT),
            FLOORED_ASPECT("pattern", "Pattern", 3, 2, VERDICT_HOLD), ASPECT("body", "Body", 1)),
    FAULTS(4, FAULT("spine", "Bent spine", EFFECT_REJECT), FAULT("gill", "Gill cover", EFFECT_HOLD),
           DEDUCTION("eye", "Colour over the eye", 1000),
           DEDUCTION("nose", "Colour on the nose", 225)),
};

static struct judgement judged(int white, int pattern, int body, uint32_t faults)
{
    struct judgement judgement;
    judgement_init(&judgement);
    judgement.scores[WHITE] = (int8_t)white;
    judgement.scores[PATTERN] = (int8_t)pattern;
    judgement.scores[BODY] = (int8_t)body;
    judgement.faults = faults;
    return judgement;
}

static uint32_t seen(int fault)
{
    return UINT32_C(1) << fault;
}

static void assert_decided(struct judgement judgement, enum verdict verdict, const char *reason,
                           const char *score)
{
    struct decision decision = judgement_decide(&example, &judgement);
    char text[REASON_SIZE], points[NUMBER_SIZE];
    decision_reason_code(&example, &decision, text);
    decision_score_text(&example, &decision, points);
    assert_int_equal(decision.verdict, verdict);
    assert_string_equal(text, reason);
    assert_string_equal(points, score);
    assert_int_equal(decision.rank, 0);
}

static void a_new_judgement_is_empty(void **state)
{
    (void)state;
    struct judgement judgement;
    judgement_init(&judgement);
    for (int i = 0; i < STANDARD_ASPECTS; i++)
        assert_int_equal(judgement.scores[i], SCORE_NONE);
    assert_int_equal(judgement.faults, 0);
    assert_int_equal(judgement.by_hand, VERDICT_OPEN);
    assert_decided(judgement, VERDICT_OPEN, "unscored white", "");
}

/* 100 · (4·3 + 3·2 + 1·1) / (4 · 8) = 59.375, and so on. */
static void the_score_decides(void **state)
{
    (void)state;
    assert_decided(judged(5, 5, 5, 0), VERDICT_KEEP, "score", "100.0");
    assert_decided(judged(4, 3, 2, 0), VERDICT_HOLD, "score", "59.4");
    assert_decided(judged(2, 2, 1, 0), VERDICT_REJECT, "score", "21.9");
    assert_decided(judged(4, 4, 4, 0), VERDICT_KEEP, "score", "75.0");
}

static void a_threshold_belongs_to_the_better_side(void **state)
{
    (void)state;
    struct standard standard = example;
    struct judgement judgement = judged(4, 4, 4, 0); /* exactly 75 points */
    standard.keep_at = 7500;
    assert_int_equal(judgement_decide(&standard, &judgement).verdict, VERDICT_KEEP);
    standard.keep_at = 7501;
    standard.hold_at = 7500;
    assert_int_equal(judgement_decide(&standard, &judgement).verdict, VERDICT_HOLD);
    standard.hold_at = 7501;
    assert_int_equal(judgement_decide(&standard, &judgement).verdict, VERDICT_REJECT);
}

static void deductions_are_taken_off_and_never_below_nothing(void **state)
{
    (void)state;
    assert_decided(judged(4, 4, 4, seen(EYE)), VERDICT_KEEP, "score", "65.0");
    assert_decided(judged(4, 4, 4, seen(NOSE)), VERDICT_KEEP, "score", "72.8"); /* 72.75 */
    assert_decided(judged(4, 4, 4, seen(EYE) | seen(NOSE)), VERDICT_HOLD, "score", "62.8");
    assert_decided(judged(2, 2, 1, seen(EYE) | seen(NOSE)), VERDICT_REJECT, "score", "9.6");
    struct standard standard = example;
    standard.faults[EYE].deduction = 10000;
    struct judgement judgement = judged(5, 4, 4, seen(EYE));
    assert_true(judgement_decide(&standard, &judgement).score == 0);
}

/* Rule 1 before 2 before 3 before 4 before 5, each with the first of its kind. */
static void the_first_rule_that_applies_is_the_reason(void **state)
{
    (void)state;
    assert_decided(judged(SCORE_NONE, 1, 1, seen(SPINE) | seen(GILL)), VERDICT_REJECT,
                   "fault spine", "");
    assert_decided(judged(5, 5, 5, seen(SPINE)), VERDICT_REJECT, "fault spine", "100.0");
    assert_decided(judged(1, SCORE_NONE, SCORE_NONE, seen(GILL)), VERDICT_OPEN, "unscored pattern",
                   "");
    assert_decided(judged(1, 1, 5, seen(GILL)), VERDICT_REJECT, "floor white", "12.5");
    assert_decided(judged(5, 1, 5, seen(GILL)), VERDICT_HOLD, "floor pattern", "62.5");
    assert_decided(judged(5, 5, 5, seen(GILL)), VERDICT_HOLD, "fault gill", "100.0");
    assert_decided(judged(2, 2, 2, 0), VERDICT_REJECT, "score", "25.0");
}

static void a_floor_that_rejects_outweighs_one_that_holds_before_it(void **state)
{
    (void)state;
    struct standard standard = example;
    standard.aspects[WHITE].below_floor = VERDICT_HOLD;
    standard.aspects[PATTERN].below_floor = VERDICT_REJECT;
    struct judgement judgement = judged(1, 1, 5, 0);
    struct decision decision = judgement_decide(&standard, &judgement);
    assert_int_equal(decision.verdict, VERDICT_REJECT);
    assert_int_equal(decision.which, PATTERN);
}

static void the_hand_outweighs_every_rule(void **state)
{
    (void)state;
    struct judgement judgement = judged(5, 5, 5, seen(SPINE));
    judgement.by_hand = VERDICT_KEEP;
    assert_decided(judgement, VERDICT_KEEP, "by hand", "100.0");
    judgement = judged(SCORE_NONE, 5, 5, 0);
    judgement.by_hand = VERDICT_REJECT;
    assert_decided(judgement, VERDICT_REJECT, "by hand", "");
}

static void scores_off_the_scale_count_as_not_judged(void **state)
{
    (void)state;
    assert_decided(judged(5, 6, 5, 0), VERDICT_OPEN, "unscored pattern", "");
    assert_decided(judged(0, 5, 5, 0), VERDICT_OPEN, "unscored white", "");
}

static void faults_a_standard_does_not_have_are_not_seen(void **state)
{
    (void)state;
    assert_decided(judged(5, 5, 5, UINT32_C(0xFFFFFFF0)), VERDICT_KEEP, "score", "100.0");
}

static void assert_label(struct decision decision, const char *expected)
{
    char label[REASON_SIZE];
    decision_reason_label(&example, &decision, label);
    assert_string_equal(label, expected);
}

static void reasons_have_words_for_people(void **state)
{
    (void)state;
    assert_label((struct decision){.reason = REASON_FAULT, .which = SPINE}, "Bent spine");
    assert_label((struct decision){.reason = REASON_UNSCORED, .which = WHITE},
                 "White ground not judged");
    assert_label((struct decision){.reason = REASON_FLOOR, .which = WHITE}, "White ground under 2");
    assert_label((struct decision){VERDICT_KEEP, REASON_SCORE, .which = -1}, "score");
    assert_label((struct decision){VERDICT_HOLD, REASON_SCORE, .which = -1}, "score under 65");
    assert_label((struct decision){VERDICT_REJECT, REASON_SCORE, .which = -1}, "score under 55");
    assert_label((struct decision){.reason = REASON_PLACES, .which = -1}, "no place left");
    assert_label((struct decision){.reason = REASON_BY_HAND, .which = -1}, "by hand");
    char code[REASON_SIZE];
    struct decision places = {.reason = REASON_PLACES, .which = -1};
    decision_reason_code(&example, &places, code);
    assert_string_equal(code, "places");
}

static void a_cached_verdict_says_what_could_be_kept(void **state)
{
    (void)state;
    struct judgement judgement = judged(4, 4, 4, 0);
    struct cached_verdict cached = cached_verdict_of(&example, &judgement);
    assert_true(cached.could_be_kept && cached.scored);
    assert_int_equal(cached.verdict, VERDICT_KEEP);
    assert_true(cached.score == 75 * cached.unit);
    assert_true(cached.unit == 100 * 4 * 8);

    judgement = judged(2, 2, 2, 0); /* rejected by its score: it was still a fish to choose from */
    assert_true(cached_verdict_of(&example, &judgement).could_be_kept);
    judgement = judged(5, 5, 5, seen(SPINE));
    assert_false(cached_verdict_of(&example, &judgement).could_be_kept);
    assert_true(cached_verdict_of(&example, &judgement).scored);
    judgement = judged(5, 1, 5, 0);
    assert_false(cached_verdict_of(&example, &judgement).could_be_kept);
    judgement = judged(5, 5, SCORE_NONE, 0);
    assert_false(cached_verdict_of(&example, &judgement).scored);
    judgement = judged(5, 5, 5, 0);
    judgement.by_hand = VERDICT_KEEP;
    assert_false(cached_verdict_of(&example, &judgement).could_be_kept);
}

/* The ledger keeps the score of a fish that nothing else decides: it says all there is to decide.
 */
static void a_score_decides_like_the_judgement_it_was_made_of(void **state)
{
    (void)state;
    int by_score = 0;
    for (int white = 1; white <= 5; white++)
        for (int body = 1; body <= 5; body++) {
            struct judgement judgement = judged(white, 3, body, seen(EYE));
            struct decision whole = judgement_decide(&example, &judgement);
            if (!cached_verdict_of(&example, &judgement).could_be_kept)
                continue;
            struct decision decision = decision_of_score(&example, whole.score);
            by_score++;
            assert_int_equal(decision.verdict, whole.verdict);
            assert_int_equal(decision.reason, whole.reason);
            assert_int_equal(decision.which, whole.which);
            assert_true(decision.scored && decision.score == whole.score);
        }
    assert_true(by_score > 0);
}

static void a_judgement_is_one_number(void **state)
{
    (void)state;
    struct judgement judgement, differs;
    judgement_init(&judgement);
    assert_true(judgement_key(&example, &judgement) == 0);
    judgement = judged(4, SCORE_NONE, 3, seen(SPINE));
    judgement.by_hand = VERDICT_HOLD;
    int64_t key = judgement_key(&example, &judgement);
    differs = judgement;
    differs.by_hand = VERDICT_KEEP;
    assert_true(judgement_key(&example, &differs) != key);
    differs = judgement;
    differs.faults = 0;
    assert_true(judgement_key(&example, &differs) != key);
    differs = judged(3, SCORE_NONE, 4, seen(SPINE)); /* the same scores of other aspects */
    differs.by_hand = VERDICT_HOLD;
    assert_true(judgement_key(&example, &differs) != key);

    /* Neither thresholds nor the order of the aspects are part of it. */
    struct standard other = example;
    other.keep_at++;
    other.aspects[0] = example.aspects[2];
    other.aspects[2] = example.aspects[0];
    int8_t first = judgement.scores[0];
    judgement.scores[0] = judgement.scores[2];
    judgement.scores[2] = first;
    assert_true(judgement_key(&other, &judgement) == key);
}

static void a_judgement_is_packed(void **state)
{
    (void)state;
    char text[JUDGEMENT_TEXT_SIZE];
    struct judgement judgement;
    judgement_init(&judgement);
    judgement_text(&example, &judgement, text);
    assert_string_equal(text, "");
    judgement = judged(4, SCORE_NONE, 10, 0);
    judgement_text(&example, &judgement, text);
    assert_string_equal(text, "4.X");
    judgement = judged(SCORE_NONE, SCORE_NONE, SCORE_NONE, 1U << 1);
    judgement_text(&example, &judgement, text);
    assert_memory_equal(text, "....+", 5);
    assert_int_equal(strlen(text), 3 + example.fault_count);
    judgement = judged(4, SCORE_NONE, 3, 0);
    judgement.by_hand = VERDICT_HOLD;
    judgement_text(&example, &judgement, text);
    assert_string_equal(text + 3 + example.fault_count, "hold");
}

static void a_judgement_is_read_back(void **state)
{
    (void)state;
    static const char *const wrong[] = {"4",
                                        "4.",
                                        "4.:",
                                        "4.Y",
                                        "4.33",
                                        "4.3+x",
                                        "4.3 .",
                                        "4.3open",
                                        "4.3keep",
                                        "4.3.....x",
                                        "keep",
                                        "-.3",
                                        "4.3+++++++++++++++keep"};
    struct judgement read;
    for (int score = 0; score <= 10; score++)
        for (int by_hand = VERDICT_OPEN; by_hand < VERDICT_COUNT; by_hand++)
            for (uint32_t faults = 0; faults < 1U << example.fault_count; faults++) {
                char text[JUDGEMENT_TEXT_SIZE];
                struct judgement judgement = judged(score, SCORE_NONE, 10 - score, faults);
                judgement.by_hand = (enum verdict)by_hand;
                judgement_text(&example, &judgement, text);
                assert_true(judgement_parse(&example, text, &read));
                assert_memory_equal(read.scores, judgement.scores, sizeof read.scores);
                assert_true(read.faults == judgement.faults);
                assert_int_equal(read.by_hand, judgement.by_hand);
            }
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        if (judgement_parse(&example, wrong[i], &read))
            fail_msg("\"%s\" is taken", wrong[i]);
}

/* Published numbers have scores up to 100: a scale that no key could enter, but the arithmetic is
 * the same. The thresholds are out of the way. */
static struct standard hundred_scale(int aspect_count)
{
    struct standard standard = {.lowest = 0, .highest = 100, .aspect_count = aspect_count};
    for (int i = 0; i < aspect_count; i++)
        standard.aspects[i] = (struct aspect){.weight = 1, .floor = NO_FLOOR};
    return standard;
}

/* "0.15 0.26 0.59" as whole hundredths, "74 66 44" as hundredths too. Returns how many. */
static int numbers_in(const char *text, int ret_hundredths[STANDARD_ASPECTS])
{
    char copy[256], *rest;
    int count = 0;
    snprintf(copy, sizeof copy, "%s", text);
    for (char *word = strtok_r(copy, " ", &rest); word; word = strtok_r(NULL, " ", &rest))
        assert_true(number_hundredths(word, 0, 10000, &ret_hundredths[count++]));
    return count;
}

static struct standard weighted(const char *weights)
{
    int hundredths[STANDARD_ASPECTS];
    struct standard standard = hundred_scale(numbers_in(weights, hundredths));
    for (int i = 0; i < standard.aspect_count; i++)
        standard.aspects[i].weight = hundredths[i];
    return standard;
}

static struct judgement valued(const char *values)
{
    int hundredths[STANDARD_ASPECTS];
    struct judgement judgement;
    judgement_init(&judgement);
    int count = numbers_in(values, hundredths);
    for (int i = 0; i < count; i++)
        judgement.scores[i] = (int8_t)(hundredths[i] / 100);
    return judgement;
}

/* Source: the older show standard, figure 50, colour 30, pattern 20 (koi pond primer): a fish of
 * 80, 70 and 60 has 0.5 · 80 + 0.3 · 70 + 0.2 · 60 = 73. */
static void fifty_thirty_twenty(void **state)
{
    (void)state;
    struct standard standard = weighted("0.50 0.30 0.20");
    struct judgement judgement = valued("80 70 60");
    struct decision decision = judgement_decide(&standard, &judgement);
    char text[NUMBER_SIZE];
    decision_score_text(&standard, &decision, text);
    assert_string_equal(text, "73.0");
    assert_true(decision.score == 73 * score_unit(&standard));
}

static void read_table(const char *path, struct csv *ret)
{
    struct text text;
    struct err err;
    source_file(path, &text);
    assert_ok(csv_parse(&text, ret, &err), &err);
    assert_true(ret->row_count > 0);
    text_done(&text);
}

static const char *cell(const struct csv *csv, size_t row, const char *column)
{
    return csv_field(csv, row, csv_column(csv, column));
}

/* The score is exactly this many points. */
static void assert_points(const struct standard *standard, const struct decision *decision,
                          const char *points)
{
    int hundredths;
    assert_true(number_hundredths(points, 0, 10000, &hundredths));
    assert_true(100 * decision->score == hundredths * score_unit(standard));
}

/* Source: in the table. */
static void published_weighted_sums_come_out(void **state)
{
    (void)state;
    struct csv csv;
    read_table("tests/data/weighted_sum.csv", &csv);
    struct standard standard = weighted(cell(&csv, 0, "weights"));
    struct judgement judgements[8];
    struct decision decisions[8];
    for (size_t i = 0; i < csv.row_count; i++)
        judgements[i] = valued(cell(&csv, i, "values"));
    round_decide(&standard, judgements, csv.row_count, -1, decisions);
    for (size_t i = 0; i < csv.row_count; i++) {
        assert_points(&standard, &decisions[i], cell(&csv, i, "score"));
        assert_int_equal(decisions[i].rank, atoi(cell(&csv, i, "rank")));
    }
    csv_done(&csv);
}

/* Source: in the table; every pair would be told apart by sums of doubles. */
static void ties_of_decimal_weights_stay_ties(void **state)
{
    (void)state;
    struct csv csv;
    read_table("tests/data/decimal_ties.csv", &csv);
    assert_int_equal(csv.row_count, 12);
    for (size_t i = 0; i < csv.row_count; i++) {
        struct standard standard = weighted(cell(&csv, i, "weights"));
        struct judgement pair[2] = {valued(cell(&csv, i, "a")), valued(cell(&csv, i, "b"))};
        struct decision decisions[2];
        round_decide(&standard, pair, 2, 1, decisions);
        assert_true(decisions[0].score == decisions[1].score);
        assert_points(&standard, &decisions[0], cell(&csv, i, "score"));
        for (int fish = 0; fish < 2; fish++) {
            assert_int_equal(decisions[fish].rank, 1);
            assert_int_equal(decisions[fish].reason, REASON_PLACES);
        }
    }
    csv_done(&csv);
}

/* Source: in the table. */
static void published_rankings_come_out(void **state)
{
    (void)state;
    struct csv csv;
    read_table("tests/data/ranking.csv", &csv);
    size_t end;
    for (size_t start = 0; start < csv.row_count; start = end) {
        struct decision decisions[16] = {0};
        for (end = start; end < csv.row_count &&
                          strcmp(cell(&csv, end, "example"), cell(&csv, start, "example")) == 0;
             end++)
            decisions[end - start] =
                (struct decision){.scored = true, .score = atoi(cell(&csv, end, "score"))};
        uint32_t order[16];
        decisions_rank(decisions, end - start, order);
        for (size_t i = start; i < end; i++)
            assert_int_equal(decisions[i - start].rank, atoi(cell(&csv, i, "rank")));
    }
    csv_done(&csv);
}

static void fish_without_a_score_have_no_rank(void **state)
{
    (void)state;
    struct decision decisions[] = {{.scored = true, .score = 5},
                                   {.scored = false, .score = 99, .rank = 7},
                                   {.scored = true, .score = 8}};
    uint32_t order[3];
    decisions_rank(decisions, 3, order);
    assert_int_equal(decisions[0].rank, 2);
    assert_int_equal(decisions[1].rank, 0);
    assert_int_equal(decisions[2].rank, 1);
    assert_memory_equal(order, ((uint32_t[]){2, 0, 1}), sizeof order);
    decisions_rank(NULL, 0, NULL);
}

static struct decision keep(int64_t score)
{
    return (struct decision){.verdict = VERDICT_KEEP,
                             .reason = REASON_SCORE,
                             .which = -1,
                             .scored = true,
                             .score = score};
}

/* How many of `scores` (ended by 0) stay keep when there are `places`. */
static int kept_of(const int *scores, int by_hand, int places)
{
    struct decision decisions[32];
    size_t count = 0;
    for (; scores[count] != 0; count++)
        decisions[count] = keep(scores[count]);
    for (int i = 0; i < by_hand; i++) {
        decisions[count] = keep(1);
        decisions[count++].reason = REASON_BY_HAND;
    }
    uint32_t order[32];
    decisions_rank(decisions, count, order);
    decisions_limit(decisions, order, count, places);
    int kept = 0;
    for (size_t i = 0; i < count; i++) {
        bool stays = decisions[i].verdict == VERDICT_KEEP;
        kept += stays;
        if (!stays) {
            assert_int_equal(decisions[i].verdict, VERDICT_HOLD);
            assert_int_equal(decisions[i].reason, REASON_PLACES);
        }
    }
    return kept;
}

static void places_are_filled_by_whole_groups(void **state)
{
    (void)state;
    static const int scores[] = {70, 90, 80, 80, 80, 95, 60, 0};
    assert_int_equal(kept_of(scores, 0, -1), 7);
    assert_int_equal(kept_of(scores, 0, 7), 7);
    assert_int_equal(kept_of(scores, 0, 6), 6);
    assert_int_equal(kept_of(scores, 0, 5), 5);
    assert_int_equal(kept_of(scores, 0, 4), 2); /* 95, 90; three 80s do not fit into two places */
    assert_int_equal(kept_of(scores, 0, 3), 2);
    assert_int_equal(kept_of(scores, 0, 2), 2);
    assert_int_equal(kept_of(scores, 0, 1), 1);
    assert_int_equal(kept_of(scores, 0, 0), 0);
}

static void a_smaller_group_behind_one_that_does_not_fit_waits_too(void **state)
{
    (void)state;
    static const int scores[] = {90, 80, 80, 70, 0};
    assert_int_equal(kept_of(scores, 0, 2), 1);
}

static void fish_kept_by_hand_take_their_places_first(void **state)
{
    (void)state;
    static const int scores[] = {90, 80, 70, 0};
    assert_int_equal(kept_of(scores, 1, 3), 3); /* the hand's, 90, 80 */
    assert_int_equal(kept_of(scores, 2, 2), 2); /* the hand's two */
    assert_int_equal(kept_of(scores, 3, 2), 3); /* the hand may overfill, nobody else */
    assert_int_equal(kept_of(scores, 2, 5), 5);
}

/* Of fish of example's standard, all of the same judgement but those kept or held by hand. */
static struct tie tie_of(int same, int kept, int held, int places)
{
    struct judgement round[32];
    struct decision decisions[32];
    size_t count = 0;
    for (int i = 0; i < 3; i++)
        round[count++] = judged(5, 5, 4, 0); /* 96.9 */
    for (int i = 0; i < same + kept + held; i++) {
        round[count] = judged(4, 4, 4, 0); /* 75 */
        round[count++].by_hand = i < kept          ? VERDICT_KEEP
                                 : i < kept + held ? VERDICT_HOLD
                                                   : VERDICT_OPEN;
    }
    round[count++] = judged(4, 4, 3, 0); /* reaches keep, but behind them */
    round_decide(&example, round, count, places, decisions);
    return decisions_tie(decisions, count, places);
}

#define assert_tie(of, fish, left)                                                                 \
    do {                                                                                           \
        struct tie tied = (of);                                                                    \
        assert_int_equal(tied.count, (fish));                                                      \
        assert_int_equal(tied.places_left, (left));                                                \
    } while (false)

static void a_tie_that_straddles_the_places_is_found(void **state)
{
    (void)state;
    assert_tie(tie_of(9, 0, 0, 7), 9, 4);
    assert_tie(tie_of(9, 0, 0, 3), 0, 0); /* the places end between two scores */
    assert_tie(tie_of(9, 0, 0, 12), 0, 0);
    assert_tie(tie_of(9, 0, 0, 11), 9, 8);
    assert_tie(tie_of(9, 0, 0, 2), 3, 2); /* the best three */
    assert_tie(tie_of(9, 0, 0, 20), 0, 7);
    assert_tie(tie_of(9, 0, 0, -1), 0, 0);
}

/* Fish taken and left by hand make it smaller, until the rest fits or no place is left. */
static void a_tie_is_decided_by_hand(void **state)
{
    (void)state;
    assert_tie(tie_of(8, 1, 0, 7), 8, 3);
    assert_tie(tie_of(7, 1, 1, 7), 7, 3);
    assert_tie(tie_of(5, 4, 0, 7), 0, 0);
    assert_tie(tie_of(4, 0, 5, 7), 0, 0); /* four places for the four that are left over */
    assert_tie(tie_of(0, 9, 0, 7), 0, -2);
}

static void fish_behind_those_left_for_a_tie_wait(void **state)
{
    (void)state;
    struct decision decisions[] = {keep(90), keep(80), keep(70), keep(70)};
    decisions[3].reason = REASON_BY_HAND;
    decisions_hold_behind(decisions, 4, 80);
    assert_int_equal(decisions[1].verdict, VERDICT_KEEP);
    assert_int_equal(decisions[2].verdict, VERDICT_HOLD);
    assert_int_equal(decisions[2].reason, REASON_PLACES);
    assert_int_equal(decisions[3].verdict, VERDICT_KEEP);
    assert_tie(decisions_tie(decisions, 4, 4), 0, 1); /* it waits for another, not in a tie */
}

static void a_tie_has_words_for_people(void **state)
{
    (void)state;
    char text[TIE_TEXT_SIZE];
    struct tie tie = tie_of(9, 0, 0, 7);
    assert_string_equal(tie_text(&example, &tie, text), "9 fish tie at 75.0 for 4 places");
    tie = tie_of(9, 0, 0, 4);
    assert_string_equal(tie_text(&example, &tie, text), "9 fish tie at 75.0 for 1 place");
    tie = tie_of(0, 9, 0, 8);
    assert_string_equal(tie_text(&example, &tie, text),
                        "1 more fish is kept by hand than there are places");
    tie = tie_of(0, 9, 0, 2);
    assert_string_equal(tie_text(&example, &tie, text),
                        "7 more fish are kept by hand than there are places");
    tie = tie_of(9, 0, 0, 20);
    assert_string_equal(tie_text(&example, &tie, text), "");
}

static void only_fish_to_be_kept_count_for_places(void **state)
{
    (void)state;
    struct judgement round[] = {
        judged(5, 5, 5, seen(SPINE)), /* 100, knocked out */
        judged(5, 5, 5, seen(GILL)),  /* 100, held for a fault */
        judged(5, 5, 4, 0),           /* 96.9 */
        judged(5, 4, 5, 0),           /* 90.6 */
        judged(4, 4, 4, 0),           /* 75 */
        judged(4, 3, 2, 0),           /* 59.4, held by its score */
        judged(5, 5, SCORE_NONE, 0),
    };
    struct decision decisions[7];
    round_decide(&example, round, 7, 2, decisions);
    static const struct {
        int rank;
        enum verdict verdict;
        enum reason reason;
    } expected[7] = {
        {1, VERDICT_REJECT, REASON_FAULT},  {1, VERDICT_HOLD, REASON_FAULT},
        {3, VERDICT_KEEP, REASON_SCORE},    {4, VERDICT_KEEP, REASON_SCORE},
        {5, VERDICT_HOLD, REASON_PLACES},   {6, VERDICT_HOLD, REASON_SCORE},
        {0, VERDICT_OPEN, REASON_UNSCORED},
    };
    for (int i = 0; i < 7; i++) {
        assert_int_equal(decisions[i].rank, expected[i].rank);
        assert_int_equal(decisions[i].verdict, expected[i].verdict);
        assert_int_equal(decisions[i].reason, expected[i].reason);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_new_judgement_is_empty),
        cmocka_unit_test(the_score_decides),
        cmocka_unit_test(a_threshold_belongs_to_the_better_side),
        cmocka_unit_test(deductions_are_taken_off_and_never_below_nothing),
        cmocka_unit_test(the_first_rule_that_applies_is_the_reason),
        cmocka_unit_test(a_floor_that_rejects_outweighs_one_that_holds_before_it),
        cmocka_unit_test(the_hand_outweighs_every_rule),
        cmocka_unit_test(scores_off_the_scale_count_as_not_judged),
        cmocka_unit_test(faults_a_standard_does_not_have_are_not_seen),
        cmocka_unit_test(reasons_have_words_for_people),
        cmocka_unit_test(a_cached_verdict_says_what_could_be_kept),
        cmocka_unit_test(a_score_decides_like_the_judgement_it_was_made_of),
        cmocka_unit_test(a_judgement_is_one_number),
        cmocka_unit_test(a_judgement_is_packed),
        cmocka_unit_test(a_judgement_is_read_back),
        cmocka_unit_test(fifty_thirty_twenty),
        cmocka_unit_test(published_weighted_sums_come_out),
        cmocka_unit_test(ties_of_decimal_weights_stay_ties),
        cmocka_unit_test(published_rankings_come_out),
        cmocka_unit_test(fish_without_a_score_have_no_rank),
        cmocka_unit_test(places_are_filled_by_whole_groups),
        cmocka_unit_test(a_smaller_group_behind_one_that_does_not_fit_waits_too),
        cmocka_unit_test(fish_kept_by_hand_take_their_places_first),
        cmocka_unit_test(a_tie_that_straddles_the_places_is_found),
        cmocka_unit_test(a_tie_is_decided_by_hand),
        cmocka_unit_test(fish_behind_those_left_for_a_tie_wait),
        cmocka_unit_test(a_tie_has_words_for_people),
        cmocka_unit_test(only_fish_to_be_kept_count_for_places),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
