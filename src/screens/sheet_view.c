/* The sheet's screen from top to bottom, but for the lists of aspects, faults and choices
 * (sheet_lists.c). Everything is drawn from the machine's struct, so what is shown cannot differ
 * from what is recorded. */
#include "sheet_view.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/ui/big.h"

#include <stdio.h>
#include <string.h>

enum {
    GAP = 2,
    ROOMY_ROWS = 36,
    ROOMY_COLUMNS = 110,
    LISTS_LEAST = 11,
    LINE_SIZE = 96,
    WIDE_SIZE = 2 * LABEL_SIZE
};

static const struct fish *current_fish(const struct sheet *sheet)
{
    return &sheet->fish[sheet->current];
}

/* Where everything stands, from top to bottom. */
struct layout {
    int scale; /* of the large number */
    int strip, fish, fish_rows, question, lists, list_rows, message;
    int panel;           /* columns of the side panel */
    int aspects, faults; /* columns of the two lists */
};

/* The more columns the faults need, the narrower the aspects become. */
static void share_lists(struct layout *layout, const struct standard *standard, int columns)
{
    static const int percent[] = {60, 46, 34};
    int wanted = fault_columns(standard, layout->list_rows);
    int room = columns - layout->panel - 2 * GAP + 1;
    layout->aspects = room * percent[wanted > 3 ? 2 : wanted - 1] / 100;
    layout->faults = room - layout->aspects;
}

static struct layout lay_out(const struct grid *grid, const struct standard *standard)
{
    bool roomy = grid->rows >= ROOMY_ROWS && grid->columns >= ROOMY_COLUMNS;
    int air = roomy ? 1 : 0;
    struct layout layout = {.scale = 1, .panel = roomy ? 26 : PANEL_COLUMNS};
    layout.message = grid->rows - FRAME_FOOT_ROWS;
    layout.strip = 1 + air;
    layout.fish = layout.strip + STRIP_ROWS + air;
    int fixed = layout.fish + 1 + 3 * air + 1;
    int needed = standard->aspect_count > LISTS_LEAST ? standard->aspect_count : LISTS_LEAST;
    if (roomy && layout.message - air - fixed - 2 * BIG_ROWS >= needed)
        layout.scale = 2;
    layout.fish_rows = 1 + layout.scale * BIG_ROWS;
    layout.question = layout.fish + layout.fish_rows + air;
    layout.lists = layout.question + 1 + air;
    layout.list_rows = layout.message - air - layout.lists;
    share_lists(&layout, standard, grid->columns);
    return layout;
}

void title_draw(struct grid *grid, const char *title, const char *judge, const struct clock *clock)
{
    char time[TIME_OF_DAY_SIZE], beside[2 * CODE_SIZE];
    time_of_instant(clock_now(clock), clock->offset_minutes, time);
    snprintf(beside, sizeof beside, "%s%s%s", judge, judge[0] != '\0' ? " · " : "", time);
    grid_put_right(grid, 0, grid->columns, grid->columns / 2, STYLE_PLAIN, beside);
    grid_put(grid, 0, 0, grid->columns - utf8_width(beside) - GAP, STYLE_TITLE, title);
}

static bool said_nothing(const char *said)
{
    return said == NULL || said[0] == '\0';
}

void foot_draw(struct grid *grid, const char *said, bool alert, const char *own,
               const struct key_table *keys)
{
    if (said_nothing(said))
        frame_foot(grid, STYLE_STRONG, own, keys);
    else
        frame_foot(grid, alert ? STYLE_ALERT : STYLE_STRONG, said, keys);
}

/* The progress strip. */

/* Marks stand in fives; numbers under every tenth. */
enum { GROUP = 5, NUMBERED = 10, MORE_COLUMNS = 6 };

/* The part of the queue that is shown. */
struct window {
    int first, end, all;
};

/* How many marks fit; every group but the last takes a gap too. */
static int marks_that_fit(int columns)
{
    int whole = (columns + 1) / (GROUP + 1), left = (columns + 1) % (GROUP + 1);
    return whole * GROUP + (left > 0 ? left - 1 : 0);
}

/* It moves on by half of what it shows, so that it seldom has to be drawn anew. */
static struct window window_around(int all, int current, int columns)
{
    if (all <= marks_that_fit(columns))
        return (struct window){0, all, all};
    int shown = marks_that_fit(columns - 2 * MORE_COLUMNS) / GROUP * GROUP;
    int step = shown < 2 * GROUP ? GROUP : shown / 2 / GROUP * GROUP;
    int first = (current - (shown - step) / 2) / step * step;
    if (first > all - shown)
        first = (all - shown + GROUP - 1) / GROUP * GROUP;
    if (first < 0)
        first = 0;
    return (struct window){first, first + shown < all ? first + shown : all, all};
}

static int column_of(struct window window, int column, int index)
{
    int place = index - window.first;
    return column + place + place / GROUP;
}

/* A fish that has not come yet counts on from the last. */
static int number_at(const struct sheet *sheet, int index)
{
    int known = (int)sheet->fish_count;
    if (index < known)
        return sheet_fish_number(sheet, (size_t)index);
    int last = known > 0 ? sheet_fish_number(sheet, (size_t)known - 1) : 0;
    return last + index - known + 1;
}

/* Not where it would touch the pointer. */
static void draw_number(struct grid *grid, int row, int column, int pointer, int number)
{
    char digits[16];
    int width = snprintf(digits, sizeof digits, "%d", number);
    if (pointer < column - width || pointer > column + 1)
        grid_put_right(grid, row, column + 1, -1, STYLE_QUIET, digits);
}

static const struct mark *mark_of(const struct sheet *sheet, int index)
{
    bool done = index < (int)sheet->fish_count && sheet->fish[index].closed;
    return &verdict_marks[done ? sheet_decision(sheet, (size_t)index).verdict : VERDICT_OPEN];
}

void progress_strip_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    int known = (int)sheet->fish_count, current = (int)sheet->current;
    int all = !sheet->second_look && sheet->expected > known ? sheet->expected : known;
    struct window window = window_around(all, current, area.columns);
    bool cut = window.end - window.first < window.all;
    int left = area.column + (cut ? MORE_COLUMNS : 0);
    int pointer = column_of(window, left, current);
    for (int i = window.first; i < window.end; i++) {
        const struct mark *mark = mark_of(sheet, i);
        int column = column_of(window, left, i);
        grid_put(grid, area.row, column, 1, mark->style, mark->letter);
        if (!sheet->second_look && number_at(sheet, i) % NUMBERED == 0)
            draw_number(grid, area.row + 1, column, pointer, number_at(sheet, i));
    }
    grid_put(grid, area.row + 1, pointer, 1, STYLE_CURSOR, "▲");
    char more[16];
    snprintf(more, sizeof more, "◂%d", window.first);
    if (window.first > 0)
        grid_put(grid, area.row, area.column, MORE_COLUMNS, STYLE_QUIET, more);
    snprintf(more, sizeof more, "%d▸", all - window.end);
    if (all > window.end)
        grid_put_right(grid, area.row, area.column + area.columns, MORE_COLUMNS, STYLE_QUIET, more);
}

/* The current fish. */

enum {
    RECENT_TOP = BIG_ROWS,
    RECENT_ROWS = 3,
    RECENT_COLUMNS = 24,
    RECENT_NUMBER = 6,
    RECENT_MARK = 2,
};

/* "KEEP 75.0", "REJECT by hand", "REJECT". */
static void verdict_text(const struct sheet *sheet, size_t index, char ret_text[LINE_SIZE])
{
    struct decision decision = sheet_decision(sheet, index);
    const char *word = verdict_marks[decision.verdict].word;
    char score[32];
    decision_score_text(&sheet->standard, &decision, score);
    if (decision.reason == REASON_BY_HAND)
        snprintf(ret_text, LINE_SIZE, "%s by hand", word);
    else
        snprintf(ret_text, LINE_SIZE, "%s%s%s", word, decision.scored ? " " : "", score);
}

/* NOW, and how far the fish is: as much as stands beside the widest verdict. */
static void draw_caption(struct grid *grid, struct area area, const struct sheet *sheet)
{
    const struct fish *fish = current_fish(sheet);
    const struct mark *mark = &verdict_marks[sheet_decision(sheet, sheet->current).verdict];
    char text[LINE_SIZE];
    int count = sheet->standard.aspect_count, open = 0;
    for (int i = 0; i < count; i++)
        open += fish->judgement.scores[i] == SCORE_NONE;
    int used = 1 + grid_put(grid, area.row, area.column, area.columns, STYLE_CURSOR, "NOW");
    if (fish->closed)
        verdict_text(sheet, sheet->current, text);
    else if (sheet->unnumbered)
        snprintf(text, sizeof text, "any held, %d open", open);
    else if (sheet->second_look)
        snprintf(text, sizeof text, "bowl %d, %d open", fish->bowl, open);
    else
        snprintf(text, sizeof text, "%d of %d open", open, count);
    grid_put(grid, area.row, area.column + used, area.columns - used,
             fish->closed ? mark->style : STYLE_PLAIN, text);
}

void recent_fish_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    int row = area.row, room = area.columns - RECENT_NUMBER - RECENT_MARK - 1;
    for (size_t i = sheet->current; i-- > 0 && row < area.row + area.rows; row++) {
        struct decision decision = sheet_decision(sheet, i);
        const struct mark *mark = mark_of(sheet, (int)i);
        char score[32], reason[REASON_SIZE], label[LABEL_TEXT_SIZE];
        decision_score_text(&sheet->standard, &decision, score);
        decision_reason_label(&sheet->standard, &decision, reason);
        const char *why = decision.reason == REASON_SCORE ? score : label_fit(reason, room, label);
        grid_putf(grid, row, area.column, RECENT_NUMBER, STYLE_PLAIN, "%*d", RECENT_NUMBER - 1,
                  sheet_fish_number(sheet, i));
        grid_put(grid, row, area.column + RECENT_NUMBER, 1, mark->style, mark->letter);
        grid_put(grid, row, area.column + RECENT_NUMBER + RECENT_MARK, room, STYLE_QUIET, why);
    }
}

void current_fish_draw(struct grid *grid, struct area area, const struct sheet *sheet, int scale)
{
    char number[16];
    snprintf(number, sizeof number, "%d", sheet_fish_number(sheet, sheet->current));
    int width = big_width(number, scale);
    draw_caption(grid, area, sheet);
    if (width <= area.columns)
        big_draw(grid, area.row + 1, area.column, scale, STYLE_STRONG, number);
    else
        width = grid_put(grid, area.row + 1 + BIG_ROWS / 2, area.column, -1, STYLE_STRONG, number);
    int used = width + GAP;
    struct area recent = {area.row + 1 + RECENT_TOP, area.column + used, area.rows - 1 - RECENT_TOP,
                          area.columns - used};
    if (recent.rows >= RECENT_ROWS && recent.columns >= RECENT_COLUMNS)
        recent_fish_draw(grid, recent, sheet);
}

/* The verdict of the fish that was closed last. */

/* The number and the letter of its verdict on the same ground, for beside the large number of the
 * fish in front a verdict alone would be read as that one's. */
static void draw_large(struct grid *grid, int row, struct area area, int number,
                       const struct mark *mark)
{
    enum { NUMBER_GAP = 3 };
    char digits[16];
    snprintf(digits, sizeof digits, "%d", number);
    int column = area.column + 1, letter = column + big_width(digits, 1) + NUMBER_GAP;
    big_draw(grid, row, column, 1, mark->style, digits);
    big_draw(grid, row, letter, 1, mark->style, mark->letter);
}

/* Why there was no place: the line it was closed against. */
static void places_text(const struct sheet *sheet, char ret_text[REASON_SIZE])
{
    static const char *const words[] = {[CUT_UNKNOWN] = "no place left",
                                        [CUT_ALL] = "no place left",
                                        [CUT_EARLY] = "too early to keep",
                                        [CUT_NONE] = "places full"};
    char score[NUMBER_SIZE];
    if (sheet->last_cut.kind == CUT_OVER) {
        number_to_tenth(sheet->last_cut.score, score_unit(&sheet->standard), score);
        snprintf(ret_text, REASON_SIZE, "not over the line %s", score);
    } else {
        snprintf(ret_text, REASON_SIZE, "%s", words[sheet->last_cut.kind]);
    }
}

void verdict_banner_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    if (sheet->last >= sheet->fish_count)
        return;
    const struct decision *decision = &sheet->last_decision;
    const struct mark *mark = &verdict_marks[decision->verdict];
    char name[64], score[32], reason[REASON_SIZE], why[REASON_SIZE + 40];
    sheet_fish_name(sheet, sheet->last, name);
    decision_score_text(&sheet->standard, decision, score);
    if (decision->reason == REASON_PLACES)
        places_text(sheet, reason);
    else
        decision_reason_label(&sheet->standard, decision, reason);
    if (decision->reason == REASON_SCORE)
        snprintf(why, sizeof why, "%s points", score);
    else
        snprintf(why, sizeof why, "%s%s%s", decision->scored ? score : "",
                 decision->scored ? ", " : "", reason);
    grid_fill(grid, area, mark->style);
    grid_putf(grid, area.row, area.column + 1, area.columns - 2, mark->style, "%s %s  %s", name,
              mark->word, why);
    draw_large(grid, area.row + 1 + (area.rows - 1 - BIG_ROWS) / 2, area,
               sheet_fish_number(sheet, sheet->last), mark);
}

/* The question. */

static int ask(struct grid *grid, int row, int column, const char *text)
{
    return column + grid_put(grid, row, column, -1, STYLE_CURSOR, text);
}

/* A label as it is read from a metre: capitals with gaps, without what stands in parentheses. Whole
 * as it is where that needs more than `columns`. */
static void widen(const char *label, int columns, char ret_text[WIDE_SIZE])
{
    size_t used = 0;
    for (const char *next = label; *next != '\0' && *next != '(';) {
        const char *begin = next;
        utf8_next(&next);
        size_t length = (size_t)(next - begin);
        memcpy(ret_text + used, begin, length);
        if (*begin >= 'a' && *begin <= 'z')
            ret_text[used] = (char)(*begin - 'a' + 'A');
        used += length;
        if (length == 1) /* letters of other scripts are wide enough, or joined */
            ret_text[used++] = ' ';
    }
    while (used > 0 && ret_text[used - 1] == ' ')
        used--;
    ret_text[used] = '\0';
    if (utf8_width(ret_text) > columns || used == 0)
        text_copy(ret_text, WIDE_SIZE, label);
}

static void ask_for_aspect(struct grid *grid, int row, int column, const struct sheet *sheet)
{
    const struct standard *standard = &sheet->standard;
    if (sheet->resting) {
        char text[LINE_SIZE];
        snprintf(text, sizeof text, "%s; capital letter or /: correct fish %d",
                 sheet->second_look ? "All are looked at. q or . 0: leave"
                                    : "The bowl is full. b or . 8: next bowl",
                 sheet_fish_number(sheet, sheet->current));
        ask(grid, row, column, text);
        return;
    }
    if (sheet->aspect >= standard->aspect_count) {
        ask(grid, row, column,
            "Done. Enter: next open fish; capital letter or /: an aspect to correct");
        return;
    }
    const struct aspect *aspect = &standard->aspects[sheet->aspect];
    const struct fish *fish = current_fish(sheet);
    char name[WIDE_SIZE], weight[LINE_SIZE], floor[LINE_SIZE] = "";
    if (fish->closed)
        column = ask(grid, row, column, "Done. To correct: ");
    int room = grid->columns - column - scale_columns(standard) - GAP;
    widen(aspect->label, room, name);
    column += grid_put(grid, row, column, room, STYLE_CURSOR, name) + GAP;
    column +=
        scale_draw(grid, row, column, STYLE_CURSOR, standard, fish->judgement.scores[sheet->aspect],
                   sheet_likely_score(sheet, fish, sheet->aspect));
    snprintf(weight, sizeof weight, "  weight %d", aspect->weight);
    if (aspect->floor != NO_FLOOR)
        snprintf(floor, sizeof floor, "  under %d: %s", aspect->floor,
                 verdict_terms[aspect->below_floor].word);
    if (column + utf8_width(weight) + utf8_width(floor) <= grid->columns)
        column = ask(grid, row, column, weight);
    if (column + utf8_width(floor) <= grid->columns)
        ask(grid, row, column, floor);
}

/* What is asked for in the modes beside judging. */
static void prompt_text(const struct sheet *sheet, char ret_text[LINE_SIZE])
{
    static const char *const prompts[SHEET_MODE_COUNT] = {
        [SHEET_PICK_FAULT] = "Fault, by the number beside it",
        [SHEET_PICK_ASPECT] = "Aspect, by the number beside it",
        [SHEET_MENU] = "What do you want to do?",
        [SHEET_LENGTH] = "Length in mm: ",
        [SHEET_TAG] = "Tag: ",
        [SHEET_NOTE] = "Which note?",
        [SHEET_NOTE_TEXT] = "Note: ",
        [SHEET_VERDICT] = "Which verdict by hand?",
        [SHEET_FIND] = "Fish (number, bowl-number or *tag): ",
    };
    if (sheet->mode == SHEET_REASON || sheet->mode == SHEET_REASON_TEXT)
        snprintf(ret_text, LINE_SIZE, "%s by hand, because: ", verdict_marks[sheet->chosen].word);
    else if (sheet->mode == SHEET_NEXT_BOWL && sheet->expected > 0)
        snprintf(ret_text, LINE_SIZE, "Fish in the next bowl (Enter: %d again): ", sheet->expected);
    else if (sheet->mode == SHEET_NEXT_BOWL)
        snprintf(ret_text, LINE_SIZE, "Fish in the next bowl (Enter: not known): ");
    else if (sheet->mode == SHEET_ASK_TAG)
        text_copy(ret_text, LINE_SIZE, sheet->question);
    else
        snprintf(ret_text, LINE_SIZE, "%s", prompts[sheet->mode]);
}

/* Of a long line the end is shown: that is where the typing happens. */
void question_draw(struct grid *grid, int row, const struct sheet *sheet)
{
    char prompt[LINE_SIZE];
    grid_fill(grid, (struct area){row, 0, 1, grid->columns}, STYLE_CURSOR);
    int column = ask(grid, row, 0, "▸ ");
    if (sheet->mode == SHEET_JUDGE) {
        ask_for_aspect(grid, row, column, sheet);
        return;
    }
    prompt_text(sheet, prompt);
    column = ask(grid, row, column, prompt);
    if (!sheet_types_line(sheet))
        return;
    const char *line = sheet->line;
    while (utf8_width(line) > grid->columns - column - 1)
        utf8_next(&line);
    ask(grid, row, ask(grid, row, column, line), "_");
}

/* The side panel. */

/* "bowl 16 of 60": how far something is filled. */
static void draw_filled(struct grid *grid, struct area *area, const char *what, int part, int whole)
{
    char filled[LINE_SIZE];
    if (whole > 0)
        snprintf(filled, sizeof filled, "%d of %d", part, whole);
    else
        snprintf(filled, sizeof filled, "%d", part);
    grid_put(grid, area->row, area->column, -1, STYLE_PLAIN, what);
    grid_put_right(grid, area->row++, area->column + area->columns,
                   area->columns - utf8_width(what), STYLE_STRONG, filled);
}

/* Where rows are plenty, a ribbon goes under the counts. No share: a rate without its interval
 * would say more than so few fish can. */
static void draw_progress(struct grid *grid, struct area *area, const char *what,
                          const struct verdict_counts *counts)
{
    enum { RIBBON_LEAST = 14 };
    int column = area->column;
    draw_filled(grid, area, what, counts->judged, counts->expected);
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        const struct mark *mark = &verdict_marks[verdict];
        column += grid_put(grid, area->row, column, -1, mark->style, mark->letter);
        column +=
            grid_putf(grid, area->row, column, -1, STYLE_PLAIN, " %d", counts->verdicts[verdict]);
        column += area->columns > PANEL_COLUMNS ? 2 : 1;
    }
    area->row++;
    if (area->rows >= RIBBON_LEAST)
        ribbon_draw(grid, area->row++, area->column, area->columns, counts);
    area->row++;
}

/* A bowl counts what stands of its fish; the queue of a second look, what was seen in it. */
static struct verdict_counts queue_counts(const struct sheet *sheet)
{
    if (!sheet->second_look) {
        struct verdict_counts bowl = sheet->round.bowl;
        bowl.expected = sheet->expected;
        return bowl;
    }
    struct verdict_counts counts = {.expected = (int)sheet->fish_count};
    counts.verdicts[VERDICT_OPEN] = sheet->verdicts[VERDICT_OPEN];
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        counts.verdicts[verdict] = sheet->verdicts[verdict];
        counts.judged += sheet->verdicts[verdict];
    }
    return counts;
}

static void draw_cut_line(struct grid *grid, const struct area *area, const struct sheet *sheet)
{
    static const char *const words[] = {[CUT_ALL] = "keep all that pass",
                                        [CUT_EARLY] = "too early to keep",
                                        [CUT_NONE] = "keep no more",
                                        [CUT_UNKNOWN] = "no cut line yet"};
    char line[LINE_SIZE], score[NUMBER_SIZE] = "";
    if (sheet->cut.kind == CUT_OVER) {
        number_to_tenth(sheet->cut.score, score_unit(&sheet->standard), score);
        snprintf(line, sizeof line, "keep over %s", score);
    } else {
        snprintf(line, sizeof line, "%s", words[sheet->cut.kind]);
    }
    grid_put(grid, area->row, area->column, area->columns,
             sheet->cut.kind == CUT_UNKNOWN ? STYLE_QUIET : STYLE_STRONG, line);
}

void side_panel_draw(struct grid *grid, struct area area, const struct sheet *sheet)
{
    struct verdict_counts queue = queue_counts(sheet);
    draw_progress(grid, &area, sheet->second_look ? "held" : "bowl", &queue);
    draw_progress(grid, &area, "round", &sheet->round.tally);
    if (sheet->pace > 0)
        grid_putf(grid, area.row, area.column, area.columns, STYLE_PLAIN, "%d fish an hour",
                  sheet->pace);
    else
        grid_put(grid, area.row, area.column, area.columns, STYLE_QUIET, "pace not known");
    area.row++;
    if (sheet->round.places < 0)
        return;
    draw_filled(grid, &area, "places", sheet->round.tally.verdicts[VERDICT_KEEP],
                sheet->round.places);
    draw_cut_line(grid, &area, sheet);
}

/* All together. */

/* What is known of the fish beside its judgement, else of the round. */
static void draw_known(struct grid *grid, int row, const struct sheet *sheet)
{
    const struct fish *fish = current_fish(sheet);
    struct text known;
    text_init(&known);
    if (sheet->unnumbered && !fish->closed)
        text_add(&known, " · Take any fish of the hold basin: in a basin it has no number");
    else if (sheet->second_look && !fish->closed)
        text_add(&known, " · Enter: as seen before, ○ faults too; =: typical");
    if (fish->length_mm > 0)
        text_addf(&known, " · %d mm", fish->length_mm);
    if (fish->tag[0] != '\0')
        text_addf(&known, " · tag %s", fish->tag);
    if (fish->hand_reason[0] != '\0' && fish->judgement.by_hand != VERDICT_OPEN)
        text_addf(&known, " · %s by hand: %s", verdict_terms[fish->judgement.by_hand].word,
                  fish->hand_reason);
    if (fish->note[0] != '\0')
        text_addf(&known, " · note: %s", fish->note);
    if (known.length == 0 && sheet->round.notice[0] != '\0')
        text_addf(&known, " · %s", sheet->round.notice);
    if (known.length > 0)
        grid_put(grid, row, 0, -1, STYLE_PLAIN, known.data + strlen(" · "));
    text_done(&known);
}

static void draw_strip(struct grid *grid, int row, const struct sheet *sheet)
{
    int column = GAP;
    if (sheet->second_look)
        column += grid_put(grid, row, 0, -1, STYLE_TITLE, "second look");
    else
        column += grid_putf(grid, row, 0, -1, STYLE_TITLE, "bowl %d", sheet->bowl);
    progress_strip_draw(grid, (struct area){row, column, STRIP_ROWS, grid->columns - column},
                        sheet);
}

void sheet_view_draw(struct grid *grid, const struct sheet_view *view)
{
    const struct sheet *sheet = view->sheet;
    struct layout layout = lay_out(grid, &sheet->standard);
    int banner = grid->columns - BANNER_COLUMNS, panel = grid->columns - layout.panel;
    struct area lists = {layout.lists, 0, layout.list_rows, layout.aspects};
    grid_clear(grid);
    title_draw(grid, view->title, view->judge, &sheet->clock);
    draw_strip(grid, layout.strip, sheet);
    current_fish_draw(grid, (struct area){layout.fish, 1, layout.fish_rows, banner - GAP}, sheet,
                      layout.scale);
    verdict_banner_draw(grid, (struct area){layout.fish, banner, layout.fish_rows, BANNER_COLUMNS},
                        sheet);
    question_draw(grid, layout.question, sheet);
    if (choices_offered(sheet->mode)) {
        lists.columns += layout.faults;
        choices_draw(grid, lists, view);
    } else {
        aspects_draw(grid, lists, view);
        lists.column = layout.aspects + GAP - 1;
        lists.columns = layout.faults;
        faults_draw(grid, lists, view);
    }
    side_panel_draw(grid, (struct area){layout.lists, panel, layout.list_rows, layout.panel},
                    sheet);
    foot_draw(grid, view->said, view->alert, sheet->message, view->keys);
    if (said_nothing(view->said) && sheet->message[0] == '\0')
        draw_known(grid, layout.message, sheet);
}
