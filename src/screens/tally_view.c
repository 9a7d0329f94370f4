/* The tally's screen: two counters to be read from a metre away, what goes with them at the right,
 * and the reasons below. */
#include "tally_view.h"
#include "senbetsu/base/number.h"
#include "senbetsu/ui/counter.h"
#include "sheet_view.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { GAP = 1, ROOMY_ROWS = 36, NUMBER_TEXT = 24, MARGIN_ROWS = 12 };

/* How sure the number is, and how it came about where nobody tallied it. */
static struct counter counter_of(const char *word, enum style style, const struct count *count,
                                 bool is_rest)
{
    struct counter counter = {.word = word, .style = style, .number = count->number};
    char percent[NUMBER_SIZE];
    number_to_tenth(count->cv, CV_ONE / 100, percent);
    if (!is_rest)
        count_text(count, counter.beside);
    else if (count->cv > 0)
        snprintf(counter.beside, sizeof counter.beside, "the rest of the lot ±%s %%", percent);
    else
        snprintf(counter.beside, sizeof counter.beside, "the rest of the lot%s",
                 count_error_unknown(count) ? ", error not known" : "");
    return counter;
}

static void margin_unit(struct margin *margin, const struct tally_sheet *sheet)
{
    const struct scoop *scoop = &sheet->now.scoop;
    const struct count size = {scoop->fish, METHOD_SCOOPED, scoop_cv(scoop)};
    char mean[NUMBER_SIZE], percent[NUMBER_SIZE], value[96] = "not measured";
    grid_putf(margin->grid, margin->row++, margin->column, MARGIN_COLUMNS, STYLE_CURSOR,
              sheet->scoops ? " a key is a SCOOP " : " a key is a FISH ");
    if (scoop->id != 0) {
        number_to_tenth(scoop->fish, scoop->samples, mean);
        number_to_tenth(size.cv, CV_ONE / 100, percent);
        if (size.cv > 0)
            snprintf(value, sizeof value, "%s ±%s %%", mean, percent);
        else
            snprintf(value, sizeof value, "about %s", mean);
    }
    margin_line(margin, "scoop", value);
}

static void margin_time(struct margin *margin, const struct tally_sheet *sheet)
{
    int64_t pace = tally_pace_per_hour(&sheet->now.pace);
    int64_t minutes = tally_minutes(sheet->left, pace);
    char value[64];
    margin_number(margin, "pace", pace > 0 ? pace : -1, " fish/h");
    margin_number(margin, "still", sheet->left, " fish");
    if (minutes < 0)
        snprintf(value, sizeof value, "not known");
    else
        snprintf(value, sizeof value, "%" PRId64 " h %02" PRId64 " min", minutes / 60,
                 minutes % 60);
    margin_line(margin, "to the end", value);
}

/* The label of a reject's reason, where the standard knows the code. */
static const char *reason_label(const struct tally_sheet *sheet, const char *code)
{
    int fault = standard_fault(&sheet->standard, code);
    if (code[0] == '\0')
        return "no reason";
    return fault < 0 ? code : sheet->standard.faults[fault].label;
}

static void margin_last(struct margin *margin, const struct tally_sheet *sheet)
{
    const struct tally_mark *last = &sheet->now.last;
    char value[LABEL_TEXT_SIZE + 64], label[LABEL_TEXT_SIZE];
    int row = margin->row;
    margin_line(margin, "last key", "");
    if (!sheet->now.any_last)
        return;
    snprintf(value, sizeof value, "%s 1 %s", tally_terms[last->kind].word,
             last->scoop.id == 0 ? "fish" : "scoop");
    grid_put(margin->grid, row, margin->column + MARGIN_NAME_COLUMNS, MARGIN_VALUE_COLUMNS,
             STYLE_STRONG, value);
    if (last->kind == TALLY_REJECT)
        grid_put(margin->grid, margin->row++, margin->column + MARGIN_NAME_COLUMNS,
                 MARGIN_VALUE_COLUMNS, STYLE_STRONG,
                 label_fit(reason_label(sheet, last->reason), MARGIN_VALUE_COLUMNS, label));
}

static void draw_margin(struct grid *grid, int row, int column, const struct tally_sheet *sheet)
{
    struct margin margin = {grid, row, column};
    char lot[64];
    margin_unit(&margin, sheet);
    margin.row++;
    const struct count *in = tally_sheet_lot(sheet);
    margin_line(&margin,
                in == &sheet->by_book && in->number != NOT_COUNTED ? "by book" : "in the lot",
                in->number == NOT_COUNTED ? "not known" : count_text(in, lot));
    margin_line(&margin, "tallied", count_text(&sheet->tallied.in, lot));
    margin_time(&margin, sheet);
    margin_line(&margin, "dead", count_text(&sheet->totals.dead, lot));
    margin.row++;
    margin_last(&margin, sheet);
}

static int64_t reason_number(const struct tally_totals *totals, const char *code)
{
    for (int i = 0; i < totals->reason_count; i++)
        if (strcmp(totals->reasons[i].code, code) == 0)
            return totals->reasons[i].count.number;
    return 0;
}

/* The digit that names a reason now, and its letter. */
static void reason_keys(const struct tally_view *view, int index, char ret_text[8])
{
    enum tally_mode mode = view->sheet->mode;
    int place = index - TALLY_DIRECT - view->page * TALLY_PAGE;
    char digit = ' ', letter = 'n';
    if (index >= 0)
        letter = view->letters->faults[index];
    if (index < 0)
        digit = mode == TALLY_COUNTING ? '0' : ' ';
    else if (mode == TALLY_COUNTING && index < TALLY_DIRECT)
        digit = (char)('1' + index);
    else if (mode == TALLY_FURTHER && place >= 0 && place < TALLY_PAGE)
        digit = (char)('0' + (place + 1) % TALLY_PAGE);
    snprintf(ret_text, 8, "%c %c", digit, letter != 0 ? letter : ' ');
}

static void draw_reason(struct grid *grid, struct area area, const char *keys, const char *label,
                        int64_t number)
{
    enum { KEYS = 4 };
    char text[NUMBER_TEXT], fitted[LABEL_TEXT_SIZE];
    int width = snprintf(text, sizeof text, "%" PRId64, number);
    int room = area.columns - KEYS - width - 2;
    grid_put(grid, area.row, area.column, KEYS, STYLE_KEY, keys);
    grid_put(grid, area.row, area.column + KEYS, room, STYLE_PLAIN, label_fit(label, room, fitted));
    grid_put_right(grid, area.row, area.column + area.columns - 1, width,
                   number > 0 ? STYLE_REJECT : STYLE_QUIET, text);
}

/* The reasons in columns, downward; the rejects without one come last. */
static void draw_reasons(struct grid *grid, struct area area, const struct tally_view *view)
{
    const struct tally_sheet *sheet = view->sheet;
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
        reason_keys(view, fault, keys);
        draw_reason(grid, cell, keys, reason_label(sheet, code),
                    reason_number(&sheet->tallied, code));
    }
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

void tally_view_draw(struct grid *grid, const struct tally_view *view)
{
    const struct tally_sheet *sheet = view->sheet;
    const struct tally_totals *totals = &sheet->totals;
    const struct counter counters[] = {
        counter_of("K keep", STYLE_KEEP, &totals->kept, totals->kept_is_rest),
        counter_of("R reject", STYLE_REJECT, &totals->rejected, totals->rejected_is_rest),
    };
    int margin = grid->columns - MARGIN_COLUMNS, scale = counter_scale(grid, counters, 2, margin),
        height = counter_rows(scale) > MARGIN_ROWS / 2 ? counter_rows(scale) : MARGIN_ROWS / 2;
    int air = grid->rows >= ROOMY_ROWS ? 1 : 0;
    int second = 1 + air + height + air, question = second + height + air;
    int message = grid->rows - FRAME_FOOT_ROWS;
    grid_clear(grid);
    title_draw(grid, view->title, view->judge, &sheet->clock);
    counter_draw(grid, 1 + air, scale, margin - GAP, &counters[0]);
    counter_draw(grid, second, scale, margin - GAP, &counters[1]);
    draw_margin(grid, 1 + air, margin, sheet);
    draw_question(grid, question, sheet);
    draw_reasons(grid, (struct area){question + 1, 0, message - question - 1, grid->columns}, view);
    if (sheet->mode == TALLY_SIZE)
        grid_put(grid, message, 0, -1, STYLE_QUIET,
                 "count the fish of one or more full scoops, one after another");
    foot_draw(grid, view->said, view->alert, sheet->message, view->keys);
}
