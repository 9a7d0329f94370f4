/* Pairs over the seasons and crosses not tried yet, for choosing what to set: a line a pair, best
 * first within its variety.
 *
 * The chart puts the raw rate and the expected one on the same scale, so that one sees how far the
 * model draws a pair with few spawnings towards the average, and how much whiskers overlap: the
 * order alone would promise too much. Each variety has its own scale, for rates of one variety say
 * nothing about another. docs/pairs.md explains how to read it. */
#include "senbetsu/print/pairs.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/print/rates.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PAIR_COLUMNS = 19, CHART_CELLS = 21 };

/* Fish of one spawning that are left after the harvest cull. */
static double tosai(const struct pairs_table *table, const struct pair_row *row, double share)
{
    return (double)table->fry * share * row->later;
}

static void csv_interval(struct text *out, bool known, struct interval interval)
{
    csv_add_real(out, known, interval.low);
    csv_add_real(out, known, interval.high);
}

void pairs_csv(const struct pairs_table *table, struct text *out)
{
    text_add(out, "dam,sires,siring,seasons,spawnings,in,kept,rate,low,high,expected,expected_low,"
                  "expected_high,best,variety,untried,spawning_low,spawning_high,dam_spawnings,"
                  "sire_spawnings,offspring_inbreeding,tosai,tosai_low,tosai_high,available\n");
    for (const struct pair_row *row = table->rows; row < table->rows + table->count; row++) {
        const struct parent_prediction *prediction = &row->prediction;
        bool known = row->has_prediction, asked = known && table->fry > 0;
        csv_add(out, row->dam, true);
        csv_add(out, row->sires, false);
        csv_add(out, row->siring, false);
        csv_add_number(out, row->seasons, false);
        csv_add_number(out, row->spawnings, false);
        csv_add_known(out, row->spawnings > 0, row->cull.in);
        csv_add_known(out, row->spawnings > 0, row->cull.kept);
        csv_add_real(out, row->has_rate, row->rate);
        csv_interval(out, row->has_interval, row->interval);
        csv_add_real(out, known, prediction->expected);
        csv_interval(out, known, prediction->interval);
        csv_add_real(out, known && row->out == NULL, prediction->best);
        csv_add(out, row->variety, false);
        csv_add(out, row->untried ? "yes" : "", false);
        csv_interval(out, known, prediction->spawning);
        csv_add_number(out, row->of_dam, false);
        csv_add_number(out, row->of_sires, false);
        csv_add_real(out, row->has_inbreeding, row->inbreeding);
        csv_add_real(out, asked, tosai(table, row, prediction->expected));
        csv_add_real(out, asked, tosai(table, row, prediction->spawning.low));
        csv_add_real(out, asked, tosai(table, row, prediction->spawning.high));
        csv_add(out, row->available ? "yes" : "", false);
        csv_end_row(out);
    }
}

int pairs_cell(double share, double most, int cells)
{
    int cell = (int)(share / most * cells);
    return cell < 0 ? 0 : cell >= cells ? cells - 1 : cell;
}

/* Rounded up to one digit: 0.0749 is 0.08. */
static double rounded_up(double share)
{
    double step = pow(10, floor(log10(share) + 1e-9));
    return fmin(ceil(share / step - 1e-9) * step, 1);
}

double pairs_scale(const struct pair_row *rows, size_t count)
{
    double set = 0, all = 1e-4;
    for (size_t i = 0; i < count; i++) {
        double most = rows[i].has_rate && !rows[i].recovered ? rows[i].rate : 0;
        if (rows[i].has_prediction)
            most = fmax(most, rows[i].prediction.interval.high);
        all = fmax(all, most);
        if (!rows[i].untried)
            set = fmax(set, most);
    }
    return rounded_up(set > 0 ? set : all);
}

/* Two digits that count, one decimal at least where there are no more before the point: fewer than
 * rate_percent has of small rates, so that an interval fits into its column. */
static const char *percent(double share, char ret[RATE_TEXT_SIZE])
{
    snprintf(ret, RATE_TEXT_SIZE, share >= 0.01 || share <= 0 ? "%.1f" : "%#.2g", 100 * share);
    return ret;
}

/* Raw and expected rate with the whisker of the latter. */
static void add_chart(struct page *page, const struct pair_row *row, double most)
{
    bool ascii = page->setup.ascii;
    const char *cells[CHART_CELLS];
    for (int i = 0; i < CHART_CELLS; i++)
        cells[i] = " ";
    if (row->has_prediction) {
        const struct interval *interval = &row->prediction.interval;
        int low = pairs_cell(interval->low, most, CHART_CELLS);
        int high = pairs_cell(interval->high, most, CHART_CELLS);
        for (int i = low; i <= high; i++)
            cells[i] = ascii ? "-" : "─";
        cells[low] = ascii ? "|" : "├";
        cells[high] = interval->high > most ? ">" : ascii ? "|" : "┤";
    }
    if (row->has_rate)
        cells[pairs_cell(row->rate, most, CHART_CELLS)] = ascii ? "o" : "○";
    if (row->has_prediction)
        cells[pairs_cell(row->prediction.expected, most, CHART_CELLS)] = ascii ? "#" : "●";
    for (int i = 0; i < CHART_CELLS; i++)
        text_add(&page->line, cells[i]);
}

/* "K7 × P2"; a name that is too long has a line of its own. Then on what it rests: "3 in 2",
 * spawnings in seasons, or "4+0", of the dam and of the sire where they were never set together;
 * and the numbers. */
static void add_numbers(struct page *page, const struct pair_row *row)
{
    char rests[48], rate[RATE_TEXT_SIZE] = "-", expected[RATE_TEXT_SIZE] = "-", low[RATE_TEXT_SIZE],
                    high[RATE_TEXT_SIZE];
    char interval[2 * RATE_TEXT_SIZE + 8] = "-", best[16] = "-";
    struct text pair;
    text_init(&pair);
    text_addf(&pair, "%s × %s", row->dam, row->sires);
    bool fits = utf8_width(pair.data) <= PAIR_COLUMNS;
    if (!fits)
        page_add(page, "", pair.data);
    text_add_column(&page->line, fits ? pair.data : "", PAIR_COLUMNS);
    text_done(&pair);
    if (row->spawnings > 0)
        snprintf(rests, sizeof rests, "%d in %d", row->spawnings, row->seasons);
    else
        snprintf(rests, sizeof rests, "%d+%d", row->of_dam, row->of_sires);
    if (row->has_rate)
        percent(row->rate, rate);
    if (row->has_prediction) {
        percent(row->prediction.expected, expected);
        snprintf(interval, sizeof interval, "%s-%s", percent(row->prediction.interval.low, low),
                 percent(row->prediction.interval.high, high));
        if (row->out == NULL)
            snprintf(best, sizeof best, "%.0f", 100 * row->prediction.best);
    }
    text_addf(&page->line, "%7s %6s %6s %12s %4s ", rests, rate, expected, interval, best);
}

/* What does not fit into the line of the chart. */
static void add_more(struct page *page, const struct pairs_table *table, const struct pair_row *row)
{
    struct text line;
    char low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    text_init(&line);
    if (row->has_interval)
        text_addf(&line, "; raw %s to %s (95 %%)", percent(row->interval.low, low),
                  percent(row->interval.high, high));
    if (row->siring[0] != '\0' && strcmp(row->siring, "single") != 0)
        text_addf(&line, "; %s", row->siring);
    if (row->inbreeding > 0)
        text_addf(&line, "; young inbred %.3g %%", 100 * row->inbreeding);
    if (table->fry > 0 && row->has_prediction)
        text_addf(&line, "; %.0f tosai, %.0f to %.0f from one spawning",
                  tosai(table, row, row->prediction.expected),
                  tosai(table, row, row->prediction.spawning.low),
                  tosai(table, row, row->prediction.spawning.high));
    if (row->out != NULL)
        text_addf(&line, "; %s is %s", row->out->code, brood_state_terms[row->out->state].word);
    if (row->recovered)
        text_add(&line, "; more fish kept than went in");
    if (line.length > 0)
        page_add(page, "    ", line.data + 2);
    text_done(&line);
}

/* A rule that ends with the scale of the chart. */
static void add_rule(struct page *page, const char *label, double most)
{
    char end[32];
    snprintf(end, sizeof end, "%.3g %%", 100 * most);
    text_addf(&page->line, "── %s ", label);
    text_add_repeated(&page->line, "─",
                      page->setup.columns - CHART_CELLS - 1 - utf8_width(page->line.data));
    text_addf(&page->line, " 0%*s", CHART_CELLS - 1, end);
    page_line(page, "");
}

/* The `count` rows of one variety from `rows` on: those that were set, then those that were not. */
static void add_variety(struct page *page, const struct pairs_table *table,
                        const struct pair_row *rows, size_t count)
{
    double most = pairs_scale(rows, count);
    size_t listed = 0;
    page_blank(page);
    if (rows->variety[0] != '\0')
        page_add(page, "", rows->variety);
    page_subhead(page, rows->variety);
    for (int untried = 0; untried <= 1; untried++) {
        listed = 0;
        for (size_t i = 0; i < count; i++) {
            if (rows[i].untried != untried)
                continue;
            if (listed == 0)
                add_rule(page, untried ? "not tried yet" : "spawned before", most);
            if (listed++ >= UNTRIED_SHOWN && untried)
                continue;
            page_together(page, true);
            add_numbers(page, &rows[i]);
            add_chart(page, &rows[i], most);
            page_line(page, "");
            add_more(page, table, &rows[i]);
            page_together(page, false);
        }
    }
    if (listed > UNTRIED_SHOWN)
        page_addf(page, "%zu more untried crosses; --csv lists them all", listed - UNTRIED_SHOWN);
    page_subhead(page, "");
}

static void add_legend(struct page *page, const struct pairs_table *table)
{
    bool ascii = page->setup.ascii;
    page_blank(page);
    page_addf(page,
              "%s raw rate as counted, %s expected in a typical season, %s its 90 %% interval. "
              "The fewer spawnings, the more it is shrunk towards the average. A single spawning "
              "varies more than that. Rests on: spawnings in seasons, or the dam's + the sire's. "
              "Best 3: chance in 100 to be among the best three of its variety here. docs/pairs.md "
              "explains it.",
              ascii ? "o" : "○", ascii ? "#" : "●", ascii ? "|--|" : "├─┤");
    if (table->fry > 0)
        page_addf(page,
                  "Tosai: from %" PRId64 " fish that go into the %s cull; culls after the %s up to "
                  "the harvest as on this farm so far, if it has any.",
                  table->fry, stage_terms[table->first].word, stage_terms[table->last].word);
    if (table->first != table->last)
        page_addf(page, "Fish that died in between count as not kept.");
    if (table->no_model[0] != '\0')
        page_addf(page, "There are no expected rates: %s", table->no_model);
    fit_notes_add(&table->notes, page);
}

void pairs_print(const struct pairs_table *table, struct page_setup setup, struct text *out)
{
    struct page page;
    char stages[STAGE_RANGE_SIZE];
    page_start(&page, setup, "Pairs over the seasons: %s cull%s%s",
               stage_range(table->first, table->last, stages),
               table->variety[0] != '\0' ? ", " : "", table->variety);
    page_heading(&page, "                     rests    raw expect-    90 %% in-  best");
    page_heading(&page, "dam × sires             on      %%   ed %%       terval  3 %%");
    if (table->count == 0)
        page_addf(&page, "No pair has spawned yet, and there are no parents to cross.");
    for (size_t i = 0, next; i < table->count; i = next) {
        next = i + 1;
        while (next < table->count &&
               strcmp(table->rows[next].variety, table->rows[i].variety) == 0)
            next++;
        add_variety(&page, table, &table->rows[i], next - i);
    }
    add_legend(&page, table);
    page_finish(&page, out);
}
