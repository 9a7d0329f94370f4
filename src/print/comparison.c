/* Two pairs side by side: the numbers season by season, then in words what they come to.
 *
 * A table alone invites the reader to see a winner, so each line below it answers one question in a
 * sentence: how far apart, could it be chance, do the seasons agree, do spawnings of one pair
 * differ by themselves, what is left out. Warnings stand last, next to the conclusion they limit.
 * docs/compare.md explains the methods. */
#include "senbetsu/print/comparison.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/print/rates.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { FIELD_SIZE = 64 };

/* A result under which chance is taken for a poor explanation: the usual 5 %. */
static bool is_found(const struct significance *found)
{
    return found->known && found->p < 0.05;
}

static void csv_add_estimate(struct text *out, const struct estimate *estimate)
{
    csv_add_real(out, estimate->known, estimate->value);
    csv_add_real(out, estimate->has_interval, estimate->interval.low);
    csv_add_real(out, estimate->has_interval, estimate->interval.high);
}

void compare_csv(const struct comparison *comparison, struct text *out)
{
    text_add(out, "season,in_a,kept_a,in_b,kept_b,difference,low,high,odds_ratio,or_low,or_high,"
                  "p_equal,p_seasons\n");
    for (size_t i = 0; i <= comparison->count; i++) {
        bool last = i == comparison->count;
        const struct compare_row *row = last ? &comparison->all : &comparison->rows[i];
        if (row->season != 0)
            csv_add_number(out, row->season, true);
        else
            csv_add(out, "all", true);
        csv_add_number(out, row->fish.in_a, false);
        csv_add_number(out, row->fish.kept_a, false);
        csv_add_number(out, row->fish.in_b, false);
        csv_add_number(out, row->fish.kept_b, false);
        csv_add_estimate(out, &row->difference);
        csv_add_estimate(out, &row->odds_ratio);
        csv_add_real(out, row->equal.known, row->equal.p);
        csv_add_real(out, row->alike.known, row->alike.p);
        csv_end_row(out);
    }
}

static const char *p_text(double p, char ret[FIELD_SIZE])
{
    if (p < 0.0001)
        snprintf(ret, FIELD_SIZE, "p < 0.0001");
    else
        snprintf(ret, FIELD_SIZE, p < 0.001 ? "p %.4f" : p < 0.1 ? "p %.3f" : "p %.2f", p);
    return ret;
}

/* Of a difference in points of per cent: as many decimals as it takes to tell its ends apart. */
static int decimals_of(const struct estimate *difference)
{
    const struct interval *interval = &difference->interval;
    double width = difference->has_interval ? interval->high - interval->low : 1;
    return width >= 0.01 ? 1 : width >= 0.001 ? 2 : 3;
}

/* "+3.5", "-0.28" */
static const char *points_text(double difference, int decimals, char ret[FIELD_SIZE])
{
    snprintf(ret, FIELD_SIZE, "%+.*f", decimals, 100 * difference);
    return ret;
}

/* "3.4 more", "0.5 fewer" */
static const char *more_text(double difference, int decimals, char ret[FIELD_SIZE])
{
    snprintf(ret, FIELD_SIZE, "%.*f %s", decimals, fabs(100 * difference),
             difference < 0 ? "fewer" : "more");
    return ret;
}

static const char *share_text(int64_t kept, int64_t in, char ret[RATE_TEXT_SIZE])
{
    return in == 0 ? "-" : rate_percent((double)kept / (double)in, ret);
}

static void add_numbers(struct page *page, const struct compare_row *row)
{
    const struct estimate *difference = &row->difference;
    const struct two_groups *fish = &row->fish;
    int decimals = decimals_of(difference);
    char season[16] = "all", a[RATE_TEXT_SIZE], b[RATE_TEXT_SIZE], points[FIELD_SIZE] = "-";
    char low[FIELD_SIZE], high[FIELD_SIZE], interval[2 * FIELD_SIZE + 8] = "-";
    if (row->season != 0)
        snprintf(season, sizeof season, "%d", row->season);
    if (difference->known)
        points_text(difference->value, decimals, points);
    if (difference->has_interval)
        snprintf(interval, sizeof interval, "%s to %s",
                 points_text(difference->interval.low, decimals, low),
                 points_text(difference->interval.high, decimals, high));
    page_addf(page, "  %-6s %8" PRId64 " %7" PRId64 " %6s %8" PRId64 " %7" PRId64 " %6s %6s %16s",
              season, fish->in_a, fish->kept_a, share_text(fish->kept_a, fish->in_a, a), fish->in_b,
              fish->kept_b, share_text(fish->kept_b, fish->in_b, b), points, interval);
}

/* "B 0.14 to 0.20 %" */
static void add_share(char pair, int64_t kept, int64_t in, struct text *out)
{
    struct interval interval = wilson_interval(kept, in, CONFIDENCE_LEVEL);
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    text_addf(out, "%c %s to %s %%", pair, rate_percent(interval.low, low),
              rate_percent(interval.high, high));
}

/* The numbers, then "A 1.9 to 2.1 %, B 0.14 to 0.20 %; odds ratio 2.67 (1.29 to 5.52), p 0.013":
 * nothing of what is not known. */
static void add_row(struct page *page, const struct compare_row *row)
{
    char p[FIELD_SIZE];
    page_together(page, true);
    add_numbers(page, row);
    if (two_groups_valid(&row->fish)) {
        add_share('A', row->fish.kept_a, row->fish.in_a, &page->line);
        text_add(&page->line, ", ");
        add_share('B', row->fish.kept_b, row->fish.in_b, &page->line);
    }
    if (row->odds_ratio.known)
        text_addf(&page->line, "; odds ratio %.3g", row->odds_ratio.value);
    if (row->odds_ratio.has_interval)
        text_addf(&page->line, " (%.3g to %.3g)", row->odds_ratio.interval.low,
                  row->odds_ratio.interval.high);
    if (row->equal.known)
        text_addf(&page->line, ", %s", p_text(row->equal.p, p));
    page_line(page, "    ");
    if (row->recovered)
        page_add(page, "    ! ",
                 "more fish were kept than went in: some were found again, or a count is wrong");
    page_together(page, false);
}

static void add_difference(struct page *page, const struct comparison *comparison)
{
    const struct estimate *difference = &comparison->all.difference;
    char value[FIELD_SIZE], low[FIELD_SIZE], high[FIELD_SIZE];
    int decimals = decimals_of(difference);
    if (!difference->known)
        return;
    text_addf(&page->line, "of 100 fish A keeps %s than B",
              more_text(difference->value, decimals, value));
    if (difference->has_interval)
        text_addf(&page->line, "; with 95 %% confidence between %s and %s",
                  more_text(difference->interval.low, decimals, low),
                  more_text(difference->interval.high, decimals, high));
    text_add(&page->line, comparison->count > 1 ? ". Pairs are compared within each season." : ".");
    page_line(page, "Together: ");
}

/* "13 of 100", "fewer than 1 of 10000" */
static const char *times_text(double p, char ret[FIELD_SIZE])
{
    int of = p >= 0.01 ? 100 : p >= 0.001 ? 1000 : 10000;
    if (p < 0.0001)
        snprintf(ret, FIELD_SIZE, "fewer than 1 of %d", of);
    else
        snprintf(ret, FIELD_SIZE, "%.0f of %d", p * of, of);
    return ret;
}

static void add_seasons(struct page *page, const struct significance *alike)
{
    char p[FIELD_SIZE];
    if (!alike->known)
        text_add(&page->line,
                 "it is not known whether they agree; that takes two in which fish of both pairs "
                 "were counted, some kept and some not.");
    else if (is_found(alike))
        text_addf(&page->line,
                  "they do not agree (%s): the difference, or which pair is ahead, changes with "
                  "the season. Go by the single seasons.",
                  p_text(alike->p, p));
    else
        text_addf(&page->line, "they do not contradict each other (%s).", p_text(alike->p, p));
    page_line(page, "Seasons: ");
}

static void add_spread_found(const struct significance *found, struct text *out)
{
    char p[FIELD_SIZE];
    if (is_found(found))
        text_addf(out, "more than chance explains: %.3g times as much (%s)",
                  found->statistic / found->df, p_text(found->p, p));
    else
        text_addf(out, "no more than chance explains (%s)", p_text(found->p, p));
}

/* How much more than chance a pair's spawnings differ. Seasons by themselves are worth a word only
 * where there are several spawnings in one and others beside it. */
static void add_spread(struct page *page, const struct pair_overdispersion *overdispersion,
                       const char *lead)
{
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE], p[FIELD_SIZE];
    struct text *line = &page->line;
    if (!overdispersion->overall.known) {
        page_add(page, lead, "what was counted does not show how much they differ.");
        return;
    }
    text_addf(line, "%zu kept %s to %s %%. They differ ", overdispersion->spawnings,
              rate_percent(overdispersion->lowest, low),
              rate_percent(overdispersion->highest, high));
    add_spread_found(&overdispersion->overall, line);
    if (overdispersion->tarone.known)
        text_addf(line, "; Tarone's Z %.2f, %s", overdispersion->tarone.statistic,
                  p_text(overdispersion->tarone.p, p));
    text_add(line, ".");
    if (is_found(&overdispersion->overall) && overdispersion->beyond_chance > 0)
        text_addf(line, " What chance does not explain is about %s points to either side.",
                  rate_percent(overdispersion->beyond_chance, p));
    if (overdispersion->within.known && overdispersion->within.df < overdispersion->overall.df) {
        text_add(line, " Within a season they differ ");
        add_spread_found(&overdispersion->within, line);
        text_add(line, ".");
    }
    page_line(page, lead);
}

static void add_left_out(struct page *page, const struct comparison *comparison)
{
    char stages[STAGE_RANGE_SIZE];
    for (size_t i = 0; i < comparison->left_out_count; i++) {
        const struct compare_left_out *left_out = &comparison->left_out[i];
        text_addf(&page->line, "%s%s of %c", i > 0 ? ", " : "", left_out->spawning,
                  left_out->pair == 0 ? 'A' : 'B');
        if (left_out->alone)
            text_addf(&page->line, " (%c has none to compare in %d)",
                      left_out->pair == 0 ? 'B' : 'A', left_out->season);
        else if (comparison->has_stages)
            text_addf(&page->line, " (not counted %s %s)",
                      comparison->first == comparison->last ? "at" : "from",
                      stage_range(comparison->first, comparison->last, stages));
    }
    if (comparison->left_out_count > 0)
        text_add(&page->line, ".");
    page_line(page, "Left out: ");
}

static void add_warnings(struct page *page, const struct comparison *comparison)
{
    if (comparison->count > 0 && comparison->first != comparison->last)
        page_add(page, "! ",
                 "Kept at the last cull of the fish that went into the first: fish that died in "
                 "between or went elsewhere count as not kept.");
    if (is_found(&comparison->overdispersions[0].overall) ||
        is_found(&comparison->overdispersions[1].overall))
        page_add(page, "! ",
                 "Spawnings of a pair differ more than chance explains, but the intervals and p "
                 "above treat fish as independent: the intervals are too narrow and p too small, "
                 "the more so the fewer spawnings there are.");
    if (comparison->estimated)
        page_add(page, "! ",
                 "Some numbers are estimates, which are treated here as counts: the intervals are "
                 "too narrow, and errors of the estimates pass for differences between spawnings. "
                 "The intervals of the keep rates allow for them.");
}

static const char *name_of(const char *variety)
{
    return variety[0] != '\0' ? variety : "of unknown variety";
}

void compare_print(const struct comparison *comparison, struct page_setup setup, struct text *out)
{
    struct page page;
    char stages[STAGE_RANGE_SIZE], times[FIELD_SIZE];
    bool has_stages = comparison->has_stages;
    page_start(&page, setup, "Two pairs side by side%s%s", has_stages ? ": " : "",
               has_stages ? stage_range(comparison->first, comparison->last, stages) : "");
    page_heading(&page,
                 "  season     A in    kept      %%     B in    kept      %%    A-B    95 %% "
                 "interval");
    page_add(&page, "A  ", comparison->pairs[0]);
    page_add(&page, "B  ", comparison->pairs[1]);
    /* Each variety is culled in its own way: that is no merit of the parents. */
    if (strcmp(comparison->varieties[0], comparison->varieties[1]) != 0)
        page_item(&page, "!  ", "A is %s, B %s: this compares varieties, not only parents.",
                  name_of(comparison->varieties[0]), name_of(comparison->varieties[1]));
    page_blank(&page);
    for (size_t i = 0; i < comparison->count; i++)
        add_row(&page, &comparison->rows[i]);
    if (comparison->count > 0) {
        add_row(&page, &comparison->all);
        page_blank(&page);
        add_difference(&page, comparison);
        if (comparison->all.equal.known)
            page_item(&page, "Chance: ",
                      "two equal pairs would come out this far apart or further in %s such "
                      "comparisons.",
                      times_text(comparison->all.equal.p, times));
        add_seasons(&page, &comparison->all.alike);
    } else
        page_addf(&page,
                  "There is no season in which fish of both pairs were counted at the same culls.");
    add_spread(&page, &comparison->overdispersions[0], "Spawnings of A: ");
    add_spread(&page, &comparison->overdispersions[1], "Spawnings of B: ");
    add_left_out(&page, comparison);
    page_blank(&page);
    add_warnings(&page, comparison);
    page_finish(&page, out);
}
