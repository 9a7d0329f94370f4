#include "senbetsu/ui/tally_view.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/ui/big.h"
#include "senbetsu/ui/label.h"
#include "senbetsu/ui/tally_screen.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { FOOTER_ROWS = 2, EDGE_COLUMNS = 30, GAP = 1, ROOMY_ROWS = 36, NUMBER_TEXT = 24 };

/* "1234", or "1234 ±2.5 %" of a number with a known error, "about 1234" without one. */
static const char *count_text(const struct count *count, char ret_text[64])
{
    char percent[NUMBER_SIZE];
    const char *about = count_error_unknown(count) ? "about " : "";
    int length = snprintf(ret_text, 64, "%s%" PRId64, about, count->number);
    if (count->cv > 0) {
        number_to_tenth(count->cv, CV_ONE / 100, percent);
        snprintf(ret_text + length, 64 - (size_t)length, " ±%s %%", percent);
    }
    return ret_text;
}

static void add_part(struct text *line, const char *part)
{
    if (part[0] == '\0')
        return;
    if (line->length > 0)
        text_add(line, " · ");
    text_add(line, part);
}

static void draw_heading(struct grid *grid, const struct tally_sheet *sheet)
{
    const struct tally_heading *heading = &sheet->heading;
    char time[TIME_OF_DAY_SIZE];
    struct text line;
    text_init(&line);
    time_of_instant(clock_now(&sheet->clock), sheet->clock.offset_minutes, time);
    add_part(&line, heading->judge);
    add_part(&line, time);
    int width = utf8_width(line.data);
    grid_put_right(grid, 0, grid->columns, grid->columns / 2, STYLE_PLAIN, line.data);
    text_clear(&line);
    add_part(&line, heading->spawning);
    add_part(&line, heading->pair);
    add_part(&line, heading->variety);
    add_part(&line, stage_terms[heading->stage].word);
    add_part(&line, manner_terms[sheet->manner].word);
    if (heading->lot[0] != '\0')
        text_addf(&line, " · lot %s", heading->lot);
    grid_put(grid, 0, 0, grid->columns - width - 2, STYLE_TITLE, line.data);
    text_done(&line);
}

/* One of the two large numbers with its caption above it. */
struct counter {
    const char *word;
    enum style style;
    const struct count *count;
    const char *rest; /* how it came about where nobody tallied it; NULL = it was tallied */
};

static void counter_number(const struct counter *counter, char ret_text[NUMBER_TEXT])
{
    snprintf(ret_text, NUMBER_TEXT, "%" PRId64, counter->count->number);
}

static void draw_counter(struct grid *grid, int row, int scale, int columns,
                         const struct counter *counter)
{
    char number[NUMBER_TEXT], exact[64];
    counter_number(counter, number);
    grid_fill(grid, (struct area){row, 0, 1, columns}, counter->style);
    grid_put(grid, row, GAP, columns - GAP, counter->style, counter->word);
    grid_put_right(grid, row, columns - GAP, columns - 10, counter->style,
                   counter->rest != NULL ? counter->rest : count_text(counter->count, exact));
    if (GAP + big_width(number, scale) <= columns)
        big_draw(grid, row + 1, GAP, scale, counter->style, number);
}

static void list_counters(const struct tally_sheet *sheet, struct counter ret[2])
{
    const struct tally_totals *totals = &sheet->totals;
    ret[0] = (struct counter){"K keep", STYLE_KEEP, &totals->kept,
                              totals->kept_is_rest ? "the rest of the lot" : NULL};
    ret[1] = (struct counter){"R reject", STYLE_REJECT, &totals->rejected,
                              totals->rejected_is_rest ? "the rest of the lot" : NULL};
}

/* As large as both numbers can be. */
static int counter_scale(const struct grid *grid, const struct counter counters[2])
{
    int scale = grid->rows >= ROOMY_ROWS ? 2 : 1;
    for (int i = 0; i < 2; i++) {
        char number[NUMBER_TEXT];
        counter_number(&counters[i], number);
        if (big_width(number, scale) + 2 * GAP + EDGE_COLUMNS > grid->columns)
            scale = 1;
    }
    return scale;
}

/* Lines of the edge: a name and what stands beside it. */
struct edge {
    struct grid *grid;
    int row, column;
};

static void edge_line(struct edge *edge, const char *name, const char *value)
{
    enum { NAME_COLUMNS = 11 };
    grid_put(edge->grid, edge->row, edge->column, NAME_COLUMNS - 1, STYLE_QUIET, name);
    grid_put(edge->grid, edge->row, edge->column + NAME_COLUMNS, EDGE_COLUMNS - NAME_COLUMNS,
             STYLE_PLAIN, value);
    edge->row++;
}

static void edge_number(struct edge *edge, const char *name, int64_t number, const char *unit)
{
    char value[64];
    if (number < 0)
        snprintf(value, sizeof value, "not known");
    else
        snprintf(value, sizeof value, "%" PRId64 "%s", number, unit);
    edge_line(edge, name, value);
}

static void edge_unit(struct edge *edge, const struct tally_sheet *sheet)
{
    const struct scoop *scoop = &sheet->now.scoop;
    const struct count size = {scoop->fish, HOW_SCOOPED, scoop_cv(scoop)};
    char mean[NUMBER_SIZE], percent[NUMBER_SIZE], value[96] = "not measured";
    grid_putf(edge->grid, edge->row++, edge->column, EDGE_COLUMNS, STYLE_CURSOR,
              sheet->scoops ? " a key is a SCOOP " : " a key is a FISH ");
    if (scoop->id != 0) {
        number_to_tenth(scoop->fish, scoop->samples, mean);
        number_to_tenth(size.cv, CV_ONE / 100, percent);
        if (size.cv > 0)
            snprintf(value, sizeof value, "%s ±%s %%", mean, percent);
        else
            snprintf(value, sizeof value, "about %s", mean);
    }
    edge_line(edge, "scoop", value);
}

static void edge_time(struct edge *edge, const struct tally_sheet *sheet)
{
    int64_t pace = tally_pace_per_hour(&sheet->now.pace);
    int64_t minutes = tally_minutes(sheet->left, pace);
    char value[64];
    edge_number(edge, "pace", pace > 0 ? pace : -1, " fish/h");
    edge_number(edge, "still", sheet->left, " fish");
    if (minutes < 0)
        snprintf(value, sizeof value, "not known");
    else
        snprintf(value, sizeof value, "%" PRId64 " h %02" PRId64 " min", minutes / 60,
                 minutes % 60);
    edge_line(edge, "to the end", value);
}

/* The label of a reject's reason, where the standard knows the code. */
static const char *reason_label(const struct tally_sheet *sheet, const char *code)
{
    int fault = standard_fault(&sheet->standard, code);
    if (code[0] == '\0')
        return "no reason";
    return fault < 0 ? code : sheet->standard.faults[fault].label;
}

static void edge_last(struct edge *edge, const struct tally_sheet *sheet)
{
    const struct tally_mark *last = &sheet->last;
    char value[LABEL_SIZE + 64], label[LABEL_SIZE];
    int row = edge->row;
    edge_line(edge, "last key", "");
    if (!sheet->any_last)
        return;
    snprintf(value, sizeof value, "%s 1 %s", tally_terms[last->kind].word,
             last->scoop.id == 0 ? "fish" : "scoop");
    grid_put(edge->grid, row, edge->column + 11, EDGE_COLUMNS - 11, STYLE_STRONG, value);
    if (last->kind == TALLY_REJECT)
        grid_put(edge->grid, edge->row++, edge->column + 11, EDGE_COLUMNS - 11, STYLE_STRONG,
                 label_fit(reason_label(sheet, last->reason), EDGE_COLUMNS - 11, label));
}

static void draw_edge(struct grid *grid, int row, int column, const struct tally_sheet *sheet)
{
    struct edge edge = {grid, row, column};
    char lot[64];
    edge_unit(&edge, sheet);
    edge.row++;
    edge_line(&edge, "in the lot",
              sheet->now.lot.number == NOT_COUNTED ? "not known"
                                                   : count_text(&sheet->now.lot, lot));
    edge_number(&edge, "tallied", tally_handled(&sheet->tallied), "");
    edge_time(&edge, sheet);
    edge_line(&edge, "dead", count_text(&sheet->totals.dead, lot));
    edge.row++;
    edge_last(&edge, sheet);
}

static int64_t reason_number(const struct tally_totals *totals, const char *code)
{
    for (int i = 0; i < totals->reason_count; i++)
        if (strcmp(totals->reasons[i].code, code) == 0)
            return totals->reasons[i].count.number;
    return 0;
}

/* The digit that names a reason now, and its letter. */
static void reason_keys(const struct tally_sheet *sheet, const struct letters *letters, int page,
                        int index, char ret_text[8])
{
    int place = index - TALLY_DIRECT - page * TALLY_PAGE;
    char digit = ' ', letter = 'n';
    if (index >= 0)
        letter = letters->faults[index];
    if (index < 0)
        digit = sheet->mode == TALLY_COUNTING ? '0' : ' ';
    else if (sheet->mode == TALLY_COUNTING && index < TALLY_DIRECT)
        digit = (char)('1' + index);
    else if (sheet->mode == TALLY_FURTHER && place >= 0 && place < TALLY_PAGE)
        digit = (char)('0' + (place + 1) % TALLY_PAGE);
    snprintf(ret_text, 8, "%c %c", digit, letter != 0 ? letter : ' ');
}

static void draw_reason(struct grid *grid, struct area area, const char *keys, const char *label,
                        int64_t number)
{
    enum { KEYS = 4 };
    char text[NUMBER_TEXT], fitted[LABEL_SIZE];
    int width = snprintf(text, sizeof text, "%" PRId64, number);
    int room = area.columns - KEYS - width - 2;
    grid_put(grid, area.row, area.column, KEYS, STYLE_KEY, keys);
    grid_put(grid, area.row, area.column + KEYS, room, STYLE_PLAIN, label_fit(label, room, fitted));
    grid_put_right(grid, area.row, area.column + area.columns - 1, width,
                   number > 0 ? STYLE_REJECT : STYLE_QUIET, text);
}

/* The reasons in columns, downward; the rejects without one come last. */
static void draw_reasons(struct grid *grid, struct area area, const struct tally_sheet *sheet,
                         const struct letters *letters, int page)
{
    int count = sheet->standard.fault_count + 1;
    int columns = (count + area.rows - 1) / area.rows;
    int least = area.columns / 40;
    if (columns < least)
        columns = least;
    int rows = (count + columns - 1) / columns;
    for (int i = 0; i < count; i++) {
        int fault = i < sheet->standard.fault_count ? i : -1;
        const char *code = fault < 0 ? "" : sheet->standard.faults[fault].code;
        char keys[8];
        struct area cell = {area.row + i % rows, area.column + i / rows * (area.columns / columns),
                            1, area.columns / columns};
        reason_keys(sheet, letters, page, fault, keys);
        draw_reason(grid, cell, keys, reason_label(sheet, code),
                    reason_number(&sheet->tallied, code));
    }
}

/* What is typed, else what the tally has to say. */
static void draw_message(struct grid *grid, int row, const struct tally_sheet *sheet)
{
    if (sheet->message[0] != '\0')
        grid_put(grid, row, 0, -1, STYLE_STRONG, sheet->message);
    else if (sheet->mode == TALLY_SIZE)
        grid_put(grid, row, 0, -1, STYLE_QUIET,
                 "count the fish of one or more full scoops, one after another");
}

static void draw_question(struct grid *grid, int row, const struct tally_sheet *sheet)
{
    grid_rule(grid, row, 0, grid->columns);
    if (sheet->mode != TALLY_SIZE)
        return;
    int column = grid_put(grid, row, 0, -1, STYLE_TITLE, "fish in each scoop: ");
    column += grid_put(grid, row, column, -1, STYLE_STRONG, sheet->line);
    grid_put(grid, row, column, 2, STYLE_CURSOR, "_ ");
}

void tally_view_draw(struct grid *grid, const struct tally_sheet *sheet,
                     const struct letters *letters, int page)
{
    struct counter counters[2];
    list_counters(sheet, counters);
    int scale = counter_scale(grid, counters), height = 1 + scale * BIG_ROWS;
    int edge = grid->columns - EDGE_COLUMNS, air = grid->rows >= ROOMY_ROWS ? 1 : 0;
    int second = 1 + air + height + air, question = second + height + air;
    int message = grid->rows - FOOTER_ROWS - 1;
    grid_clear(grid);
    draw_heading(grid, sheet);
    draw_counter(grid, 1 + air, scale, edge - GAP, &counters[0]);
    draw_counter(grid, second, scale, edge - GAP, &counters[1]);
    draw_edge(grid, 1 + air, edge, sheet);
    draw_question(grid, question, sheet);
    draw_reasons(grid, (struct area){question + 1, 0, message - question - 1, grid->columns}, sheet,
                 letters, page);
    draw_message(grid, message, sheet);
    footer_draw(grid, grid->rows - FOOTER_ROWS, FOOTER_ROWS, tally_context(sheet->mode));
}
