/* Keep rates, for comparing culls with one another and with what is usual: a line a cull, under the
 * key whose fish it counts.
 *
 * A rate never stands without its interval: the bar is full up to the interval's low end, which is
 * certain, and grey up to its high end, which may be. Survival is no part of the keep rate, since
 * fish that die were not culled, and has a line of its own. What is doubtful follows as a sentence,
 * so that nobody needs the documents to see that a number is weak. */
#include "senbetsu/print/rates.h"
#include "senbetsu/base/csv.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { FIELD_SIZE = 64, BAR_CELLS = 14 };

const char rates_columns[] =
    "  stage                 in      kept  rate %    95 % interval   0       100 %";

const char *rate_stages(const struct rate_row *row, char ret[RATE_TEXT_SIZE])
{
    bool chained = row->first != row->last;
    snprintf(ret, RATE_TEXT_SIZE, "%s%s%s", stage_terms[row->first].word, chained ? "-" : "",
             chained ? stage_terms[row->last].word : "");
    return ret;
}

/* Ten decimals and no zeros at the end; a share that is smaller than they can tell, in ten digits
 * that count. Printing through a format would take longer than all the rest of a large table. */
static void fraction_text(double value, char ret[FIELD_SIZE])
{
    enum { DECIMALS = 10 };
    const double one = 1e10;
    if ((value != 0 && value < 1e-3) || value > 1e8) {
        snprintf(ret, FIELD_SIZE, "%.10g", value);
        return;
    }
    int64_t units = (int64_t)(value * one + 0.5);
    int decimals = DECIMALS;
    for (; decimals > 0 && units % 10 == 0; decimals--)
        units /= 10;
    char *end = ret + FIELD_SIZE - 1;
    char *at = end;
    *at = '\0';
    for (int digits = 0; units > 0 || digits <= decimals; digits++) {
        if (digits == decimals && decimals > 0)
            *--at = '.';
        *--at = (char)('0' + units % 10);
        units /= 10;
    }
    memmove(ret, at, (size_t)(end - at) + 1);
}

static void csv_add_fraction(struct text *out, bool known, double value)
{
    char field[FIELD_SIZE] = "";
    if (known)
        fraction_text(value, field);
    csv_add(out, field, false);
}

/* Words separated by ';'. */
static const char *flags_text(const struct rate_row *row, char ret[FIELD_SIZE])
{
    snprintf(ret, FIELD_SIZE, "%s%s%s%s%s", row->cull.whole > 0 ? ";at-work" : "",
             row->cull.outdated ? ";pass-outdated" : "", row->cull.recovered ? ";recovered" : "",
             row->cull.error_unknown ? ";error-unknown" : "", row->uneven ? ";uneven" : "");
    return ret[0] == ';' ? ret + 1 : ret;
}

void rates_csv_row(enum rates_by by, const struct rate_row *row, struct text *out)
{
    char stages[RATE_TEXT_SIZE], flags[FIELD_SIZE];
    csv_add(out, rates_by_terms[by].word, true);
    csv_add(out, row->key, false);
    csv_add_known(out, row->season != 0, row->season);
    csv_add(out, rate_stages(row, stages), false);
    csv_add_number(out, row->cull.in, false);
    csv_add_number(out, row->cull.kept, false);
    csv_add_fraction(out, row->has_rate, row->rate);
    csv_add_fraction(out, row->has_interval, row->interval.low);
    csv_add_fraction(out, row->has_interval, row->interval.high);
    csv_add(out, flags_text(row, flags), false);
    csv_add(out, row->spawnings, false);
    csv_add_known(out, row->cull.dead >= 0, row->cull.dead);
    csv_add_fraction(out, row->survival >= 0, row->survival);
    csv_add(out, rate_row_untypical(row) ? "outside" : "", false);
    csv_add_known(out, row->cull.whole > 0, row->cull.done);
    csv_add_known(out, row->cull.whole > 0, row->cull.whole);
    csv_end_row(out);
}

void rates_csv(enum rates_by by, const struct rate_row *rows, size_t count, struct text *out)
{
    text_add(out, "by,key,season,stage,in,kept,rate,low,high,flag,spawning,dead,survival,typical,"
                  "judged,of\n");
    for (size_t i = 0; i < count; i++)
        rates_csv_row(by, &rows[i], out);
}

const char *rate_percent(double share, char ret[RATE_TEXT_SIZE])
{
    double percent = 100 * share;
    int decimals = percent >= 1 || percent <= 0 ? 1 : percent >= 0.1 ? 2 : 4;
    snprintf(ret, RATE_TEXT_SIZE, "%.*f", decimals, percent);
    return ret;
}

/* What is filled up to the low end is certain, what follows up to the high end may be; where there
 * is no interval the bar ends at the rate. */
static void add_bar(const struct rate_row *row, bool ascii, struct text *out)
{
    double low = row->has_interval ? row->interval.low : row->rate;
    double high = row->has_interval ? row->interval.high : row->rate;
    text_add(out, ascii ? "|" : "▕");
    for (int i = 0; i < BAR_CELLS; i++) {
        double middle = (i + 0.5) / BAR_CELLS;
        if (middle <= low)
            text_add(out, ascii ? "#" : "█");
        else if (middle <= high)
            text_add(out, ascii ? "=" : "▒");
        else
            text_add(out, ascii ? "." : " ");
    }
    text_add(out, ascii ? "|" : "▏");
}

const char *rate_interval_text(const struct rate_row *row, char ret[RATE_TEXT_SIZE])
{
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    if (row->has_interval)
        snprintf(ret, RATE_TEXT_SIZE, "%.24s to %.24s", rate_percent(row->interval.low, low),
                 rate_percent(row->interval.high, high));
    else
        snprintf(ret, RATE_TEXT_SIZE, "-");
    return ret;
}

int rate_warnings(const struct rate_row *row, char ret[RATE_WARNINGS_MOST][RATE_WARNING_SIZE])
{
    const struct typical *typical = row->typical;
    int count = 0;
    if (row->cull.whole > 0)
        snprintf(ret[count++], RATE_WARNING_SIZE, "not done: %" PRId64 " of %" PRId64 " judged%s",
                 row->cull.done, row->cull.whole,
                 row->cull.not_done ? "; no rate before the rest is" : "; left out of the rate");
    if (row->cull.outdated)
        text_copy(ret[count++], RATE_WARNING_SIZE,
                  "a pass is out of date: the numbers may change with the next one");
    if (row->cull.recovered)
        text_copy(ret[count++], RATE_WARNING_SIZE,
                  "more fish than before: some were found again, or a count is wrong");
    if (row->cull.error_unknown)
        text_copy(ret[count++], RATE_WARNING_SIZE,
                  "the error of an estimate is not known: the interval is too narrow");
    if (row->uneven)
        text_copy(ret[count++], RATE_WARNING_SIZE,
                  "not every spawning went through all of these stages");
    if (rate_row_untypical(row))
        snprintf(ret[count++], RATE_WARNING_SIZE,
                 "outside the usual %d to %d %%: check the standard or the count (%s: %s)",
                 typical->lowest, typical->highest, typical->group,
                 evidence_terms[typical->evidence].gloss);
    return count;
}

void rates_add_row(struct page *page, const struct rate_row *row)
{
    char stages[RATE_TEXT_SIZE], rate[RATE_TEXT_SIZE] = "-", interval[RATE_TEXT_SIZE];
    char warnings[RATE_WARNINGS_MOST][RATE_WARNING_SIZE];
    struct text *line = &page->line;
    if (row->has_rate)
        rate_percent(row->rate, rate);
    text_addf(line, "  %-14s %9" PRId64 " %9" PRId64 " %7s %17s  ", rate_stages(row, stages),
              row->cull.in, row->cull.kept, rate, rate_interval_text(row, interval));
    add_bar(row, page->setup.ascii, line);
    page_line(page, "");
    if (row->survival >= 0 && row->first == row->last)
        text_addf(line, "%s %% of those %s were there", rate_percent(row->survival, rate),
                  row->after == STAGE_COUNT ? "that hatched" : "kept before");
    if (row->cull.dead >= 0)
        text_addf(line, "%s%" PRId64 " found dead", line->length > 0 ? ", " : "", row->cull.dead);
    page_line(page, "    alive: ");
    int count = rate_warnings(row, warnings);
    for (int i = 0; i < count; i++)
        page_add(page, "    ! ", warnings[i]);
}

static bool same_key(const struct rate_row *a, const struct rate_row *b)
{
    return strcmp(a->key, b->key) == 0 && strcmp(a->spawnings, b->spawnings) == 0 &&
           a->season == b->season;
}

void rates_print(enum rates_by by, const struct rate_row *rows, size_t count,
                 struct page_setup setup, struct text *out)
{
    struct page page;
    page_start(&page, setup, "Keep rates by %s", rates_by_terms[by].word);
    page_heading(&page, "%s", rates_columns);
    if (count == 0)
        page_addf(
            &page,
            "No keep rate yet: no round has both numbers, the fish that went in and those kept.");
    for (const struct rate_row *row = rows; row < rows + count; row++) {
        if (row == rows || !same_key(row - 1, row)) {
            bool in_spawning = by == BY_LOT && strcmp(row->key, row->spawnings) != 0;
            char season[16] = "";
            if (by != BY_SEASON && row->season != 0)
                snprintf(season, sizeof season, ", %d", row->season);
            page_part(&page, "%s%s%s%s", row->key, in_spawning ? " of " : "",
                      in_spawning ? row->spawnings : "", season);
        }
        rates_add_row(&page, row);
    }
    page_finish(&page, out);
}
