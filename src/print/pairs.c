#include "senbetsu/print/pairs.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/print/rates.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PAIR_COLUMNS = 19, CHART_CELLS = 21 };

static void csv_known(struct text *out, bool known, int64_t number)
{
    if (known)
        csv_add_number(out, number, false);
    else
        csv_add(out, "", false);
}

/* Fish of one spawning that are left after the harvest cull. */
static double tosai(const struct pairs_table *table, const struct pair_row *row, double share)
{
    return (double)table->fry * share * row->later;
}

static void csv_prediction(const struct pairs_table *table, const struct pair_row *row,
                           struct text *out)
{
    const struct parent_prediction *prediction = &row->prediction;
    bool known = row->has_prediction, asked = known && table->fry > 0;
    csv_add(out, row->variety, false);
    csv_add(out, row->untried ? "yes" : "", false);
    csv_add_real(out, known, prediction->spawning.low);
    csv_add_real(out, known, prediction->spawning.high);
    csv_add_number(out, row->of_dam, false);
    csv_add_number(out, row->of_sires, false);
    csv_add_real(out, row->has_inbreeding, row->inbreeding);
    csv_add_real(out, asked, tosai(table, row, prediction->expected));
    csv_add_real(out, asked, tosai(table, row, prediction->spawning.low));
    csv_add_real(out, asked, tosai(table, row, prediction->spawning.high));
}

static void csv_row(const struct pairs_table *table, const struct pair_row *row, struct text *out)
{
    csv_add(out, row->dam, true);
    csv_add(out, row->sires, false);
    csv_add(out, row->siring, false);
    csv_add_number(out, row->seasons, false);
    csv_add_number(out, row->spawnings, false);
    csv_known(out, row->spawnings > 0, row->cull.in);
    csv_known(out, row->spawnings > 0, row->cull.kept);
    csv_add_real(out, row->has_rate, row->rate);
    csv_add_real(out, row->has_interval, row->interval.low);
    csv_add_real(out, row->has_interval, row->interval.high);
    csv_add_real(out, row->has_prediction, row->prediction.expected);
    csv_add_real(out, row->has_prediction, row->prediction.interval.low);
    csv_add_real(out, row->has_prediction, row->prediction.interval.high);
    csv_add_real(out, row->has_prediction, row->prediction.best);
    csv_prediction(table, row, out);
    csv_end_row(out);
}

void pairs_csv(const struct pairs_table *table, struct text *out)
{
    text_add(out, "dam,sires,siring,seasons,spawnings,in,kept,rate,low,high,expected,expected_low,"
                  "expected_high,best,variety,untried,spawning_low,spawning_high,dam_spawnings,"
                  "sire_spawnings,offspring_inbreeding,tosai,tosai_low,tosai_high\n");
    for (size_t i = 0; i < table->count; i++)
        csv_row(table, &table->rows[i], out);
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

/* One line of a list: what of the rows stands in it. */
struct list {
    struct page *page;
    const struct pairs_table *table;
    double most; /* end of the variety's scale */
};

/* Two digits that count, one decimal at least where there are no more before the point: fewer than
 * rate_percent has of small rates, so that an interval fits into its column. */
static const char *percent(double share, char ret[RATE_TEXT_SIZE])
{
    snprintf(ret, RATE_TEXT_SIZE, share >= 0.01 || share <= 0 ? "%.1f" : "%#.2g", 100 * share);
    return ret;
}

/* Raw and expected rate with the whisker of the latter. */
static void add_chart(const struct list *list, const struct pair_row *row, struct text *out)
{
    bool ascii = list->page->setup.ascii;
    const char *cells[CHART_CELLS];
    for (int i = 0; i < CHART_CELLS; i++)
        cells[i] = " ";
    if (row->has_prediction) {
        const struct interval *interval = &row->prediction.interval;
        int low = pairs_cell(interval->low, list->most, CHART_CELLS);
        int high = pairs_cell(interval->high, list->most, CHART_CELLS);
        for (int i = low; i <= high; i++)
            cells[i] = ascii ? "-" : "─";
        cells[low] = ascii ? "|" : "├";
        cells[high] = interval->high > list->most ? ">" : ascii ? "|" : "┤";
    }
    if (row->has_rate)
        cells[pairs_cell(row->rate, list->most, CHART_CELLS)] = ascii ? "o" : "○";
    if (row->has_prediction)
        cells[pairs_cell(row->prediction.expected, list->most, CHART_CELLS)] = ascii ? "#" : "●";
    for (int i = 0; i < CHART_CELLS; i++)
        text_add(out, cells[i]);
}

/* "K7 × P2"; a name that is too long has a line of its own. */
static void add_pair(const struct list *list, const struct pair_row *row, struct text *line)
{
    struct text pair;
    text_init(&pair);
    text_addf(&pair, "%s × %s", row->dam, row->sires);
    bool fits = utf8_width(pair.data) <= PAIR_COLUMNS;
    if (!fits)
        page_add(list->page, "", pair.data);
    text_add_column(line, fits ? pair.data : "", PAIR_COLUMNS);
    text_done(&pair);
}

/* "3 in 2": spawnings in seasons; "4+0": of the dam and of the sire, where they were never set
 * together. */
static void add_rest(const struct pair_row *row, struct text *line)
{
    char text[48];
    if (row->spawnings > 0)
        snprintf(text, sizeof text, "%d in %d", row->spawnings, row->seasons);
    else
        snprintf(text, sizeof text, "%d+%d", row->of_dam, row->of_sires);
    text_addf(line, "%7s", text);
}

static void add_numbers(const struct pair_row *row, struct text *line)
{
    char rate[RATE_TEXT_SIZE] = "-", expected[RATE_TEXT_SIZE] = "-", low[RATE_TEXT_SIZE],
         high[RATE_TEXT_SIZE];
    char interval[2 * RATE_TEXT_SIZE + 8] = "-", best[16] = "-";
    if (row->has_rate)
        percent(row->rate, rate);
    if (row->has_prediction) {
        percent(row->prediction.expected, expected);
        snprintf(interval, sizeof interval, "%s-%s", percent(row->prediction.interval.low, low),
                 percent(row->prediction.interval.high, high));
        snprintf(best, sizeof best, "%.0f", 100 * row->prediction.best);
    }
    text_addf(line, " %6s %6s %12s %4s ", rate, expected, interval, best);
}

/* What does not fit into the line of the chart. */
static void add_more(const struct list *list, const struct pair_row *row)
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
    if (list->table->fry > 0 && row->has_prediction)
        text_addf(&line, "; %.0f tosai, %.0f to %.0f from one spawning",
                  tosai(list->table, row, row->prediction.expected),
                  tosai(list->table, row, row->prediction.spawning.low),
                  tosai(list->table, row, row->prediction.spawning.high));
    if (row->recovered)
        text_add(&line, "; more fish kept than went in");
    if (line.length > 0)
        page_add(list->page, "    ", line.data + 2);
    text_done(&line);
}

static void add_row(const struct list *list, const struct pair_row *row)
{
    struct text line;
    text_init(&line);
    page_together(list->page, false);
    page_together(list->page, true);
    add_pair(list, row, &line);
    add_rest(row, &line);
    add_numbers(row, &line);
    add_chart(list, row, &line);
    page_addf(list->page, "%s", line.data);
    text_done(&line);
    add_more(list, row);
    page_together(list->page, false);
}

/* Ends with the scale of the chart. */
static void add_rule(const struct list *list, const char *label)
{
    char end[32];
    struct text line;
    text_init(&line);
    text_addf(&line, "── %s ", label);
    text_add_repeated(&line, "─",
                      list->page->setup.columns - CHART_CELLS - 1 - utf8_width(line.data));
    snprintf(end, sizeof end, "%.3g %%", 100 * list->most);
    text_addf(&line, " 0%*s", CHART_CELLS - 1, end);
    page_addf(list->page, "%s", line.data);
    text_done(&line);
}

/* The rows of one variety that were set, or were not. Returns how many were not listed. */
static size_t add_rows(const struct list *list, const struct pair_row *rows, size_t count,
                       bool untried)
{
    size_t listed = 0, left = 0;
    for (size_t i = 0; i < count; i++) {
        if (rows[i].untried != untried)
            continue;
        if (listed == 0)
            add_rule(list, untried ? "not tried yet" : "spawned before");
        if (!untried || listed < UNTRIED_SHOWN)
            add_row(list, &rows[i]);
        else
            left++;
        listed++;
    }
    return left;
}

static void add_variety(struct list *list, const struct pair_row *rows, size_t count)
{
    list->most = pairs_scale(rows, count);
    page_blank(list->page);
    if (rows->variety[0] != '\0')
        page_add(list->page, "", rows->variety);
    page_subhead(list->page, rows->variety);
    add_rows(list, rows, count, false);
    size_t left = add_rows(list, rows, count, true);
    if (left > 0)
        page_addf(list->page, "%zu more untried crosses; --csv lists them all", left);
    page_subhead(list->page, "");
}

static void add_heading(const struct list *list)
{
    const struct pairs_table *table = list->table;
    struct text line;
    char stages[STAGE_RANGE_SIZE];
    text_init(&line);
    text_addf(&line, "Pairs over the seasons: %s cull%s%s",
              stage_range(table->first, table->last, stages), table->variety[0] != '\0' ? ", " : "",
              table->variety);
    page_heading(list->page, line.data);
    text_clear(&line);
    text_add_column(&line, "", PAIR_COLUMNS);
    text_addf(&line, "  rests    raw expect-    90 %% in-  best");
    page_heading(list->page, line.data);
    text_clear(&line);
    text_add_column(&line, "dam × sires", PAIR_COLUMNS);
    text_add(&line, "     on      %   ed %       terval  3 %");
    page_heading(list->page, line.data);
    text_done(&line);
}

static void add_legend(const struct list *list)
{
    const struct pairs_table *table = list->table;
    bool ascii = list->page->setup.ascii;
    page_blank(list->page);
    page_addf(
        list->page,
        "%s raw rate as counted, %s expected in a typical season, %s its 90 %% interval. The fewer "
        "spawnings, the more it is shrunk towards the average. A single spawning varies more than "
        "that. Rests on: spawnings in seasons, or the dam's + the sire's. Best 3: chance in 100 to "
        "be among the best three of its variety here. docs/pairs.md explains it.",
        ascii ? "o" : "○", ascii ? "#" : "●", ascii ? "|--|" : "├─┤");
    if (table->fry > 0)
        page_addf(list->page,
                  "Tosai: from %" PRId64 " fish that go into the %s cull; culls after the %s up to "
                  "the harvest as on this farm so far, if it has any.",
                  table->fry, stage_terms[table->first].word, stage_terms[table->last].word);
    if (table->first != table->last)
        page_addf(list->page, "Fish that died in between count as not kept.");
    if (table->trouble[0] != '\0')
        page_addf(list->page, "There are no expected rates: %s", table->trouble);
    fit_notes_add(&table->notes, list->page);
}

void pairs_print(const struct pairs_table *table, struct page_setup setup, struct text *out)
{
    struct page page;
    struct list list = {&page, table, 1};
    page_init(&page, setup);
    add_heading(&list);
    if (table->count == 0)
        page_addf(&page, "No pair has spawned yet, and there are no parents to cross.");
    for (size_t i = 0, next; i < table->count; i = next) {
        next = i + 1;
        while (next < table->count &&
               strcmp(table->rows[next].variety, table->rows[i].variety) == 0)
            next++;
        add_variety(&list, &table->rows[i], next - i);
    }
    add_legend(&list);
    page_write(&page, out);
    page_done(&page);
}
