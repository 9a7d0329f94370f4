#include "senbetsu/screens/pair_line.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/rates.h"

#include <math.h>
#include <stdio.h>

int chart_share(double share)
{
    return (int)lround(fmin(share, 1) * WHOLE_SHARE);
}

static struct whisker whisker_of(const struct pair_row *row)
{
    struct whisker whisker = {NO_SHARE, NO_SHARE, NO_SHARE, NO_SHARE};
    if (row->has_rate)
        whisker.counted = chart_share(row->rate);
    if (row->has_prediction) {
        whisker.expected = chart_share(row->prediction.expected);
        whisker.low = chart_share(row->prediction.interval.low);
        whisker.high = chart_share(row->prediction.interval.high);
    }
    return whisker;
}

static void fill_texts(struct pairs_line *line, const struct pair_row *row)
{
    snprintf(line->texts[PAIRS_NAME], PAIRS_TEXT_SIZE, "%s × %s", row->dam, row->sires);
    if (row->spawnings > 0)
        snprintf(line->texts[PAIRS_RESTS], PAIRS_TEXT_SIZE, "%d in %d", row->spawnings,
                 row->seasons);
    else
        snprintf(line->texts[PAIRS_RESTS], PAIRS_TEXT_SIZE, "%d+%d", row->of_dam, row->of_sires);
    if (row->untried)
        text_copy(line->texts[PAIRS_COUNTED], PAIRS_TEXT_SIZE, "untried");
    if (row->has_rate)
        rate_percent(row->rate, line->texts[PAIRS_COUNTED]);
    if (row->has_prediction) {
        rate_percent(row->prediction.expected, line->texts[PAIRS_EXPECTED]);
        snprintf(line->texts[PAIRS_BEST], PAIRS_TEXT_SIZE, "%.0f", 100 * row->prediction.best);
    }
    if (row->has_inbreeding)
        snprintf(line->texts[PAIRS_INBREEDING], PAIRS_TEXT_SIZE, "%.3g", 100 * row->inbreeding);
}

/* "15.1 to 27.0" */
static const char *range(const struct interval *interval, char ret[2 * RATE_TEXT_SIZE])
{
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    snprintf(ret, 2 * (size_t)RATE_TEXT_SIZE, "%s to %s", rate_percent(interval->low, low),
             rate_percent(interval->high, high));
    return ret;
}

/* On what it rests, and that it was drawn. */
static void tell_rest(const struct pair_row *row, struct text *out)
{
    if (row->untried)
        text_add(out, "untried");
    else if (row->spawnings == 0)
        text_add(out, "set but not culled yet");
    else
        text_addf(out, "%d spawning%s in %d season%s", row->spawnings,
                  row->spawnings == 1 ? "" : "s", row->seasons, row->seasons == 1 ? "" : "s");
    if (row->spawnings == 0)
        text_addf(out, ", its dam has %d culled with others, its sire %d", row->of_dam,
                  row->of_sires);
}

/* "; counted 2.0 % (95 %: 1.9 to 2.2)" */
static void tell_share(const char *what, double share, const char *confidence,
                       const struct interval *interval, struct text *out)
{
    char percent[RATE_TEXT_SIZE], ends[2 * RATE_TEXT_SIZE];
    text_addf(out, "; %s %s %%", what, rate_percent(share, percent));
    if (interval != NULL)
        text_addf(out, " (%s: %s)", confidence, range(interval, ends));
}

static void tell_shares(const struct pair_row *row, struct text *out)
{
    const struct parent_prediction *prediction = &row->prediction;
    char ends[2 * RATE_TEXT_SIZE];
    if (row->has_rate)
        tell_share("counted", row->rate, "95 %", row->has_interval ? &row->interval : NULL, out);
    if (row->has_prediction) {
        tell_share("drawn towards the average", prediction->expected, "90 %", &prediction->interval,
                   out);
        text_addf(out, "; next spawning %s", range(&prediction->spawning, ends));
    }
}

static void tell(const struct pair_row *row, char *ret, size_t size)
{
    struct text out;
    text_init(&out);
    text_addf(&out, "%s × %s: ", row->dam, row->sires);
    tell_rest(row, &out);
    tell_shares(row, &out);
    text_add(&out, ".");
    if (row->recovered)
        text_add(&out, " More fish were kept than went in.");
    text_copy(ret, size, out.data);
    text_done(&out);
}

struct pairs_line pair_line(const struct pair_row *row, double most)
{
    struct pairs_line line = {.variety = row->variety,
                              .most = chart_share(most),
                              .untried = row->untried,
                              .whisker = whisker_of(row)};
    fill_texts(&line, row);
    tell(row, line.about, sizeof line.about);
    return line;
}
