#include "senbetsu/screens/pass_view.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/mark.h"
#include "senbetsu/screens/progress.h"

#include <stdio.h>
#include <string.h>

enum {
    HEAD_ROWS = 6,
    RANK_END = 7,
    FISH_COLUMN = 9,
    SCORE_END = 24,
    MARK_COLUMN = 26,
    SCALE_COLUMN = 31,
    REASON_COLUMNS = 25,
};

static const char *const dial_names[DIAL_COUNT] = {"keep from", "hold from", "places"};

void pass_ready(struct pass_view *view)
{
    const struct preview *preview = &view->preview;
    list_count(&view->list, (int)(view->only_changed ? preview->changed_count : preview->count));
}

/* Keys. */

static void change_dial(struct pass_view *view, int by)
{
    view->dial = (enum preview_dial)(((int)view->dial + by + DIAL_COUNT) % DIAL_COUNT);
}

static int ask(struct pass_view *view)
{
    bool sure = view->asking;
    view->asking = !sure;
    return sure ? PASS_RECORD : LIST_NOTHING;
}

static int carry_out(struct pass_view *view, const struct binding *binding)
{
    switch (binding->action) {
    case PASS_TURN:
        preview_turn(&view->preview, view->dial, binding->number);
        pass_ready(view);
        return LIST_NOTHING;
    case PASS_DIAL:
        change_dial(view, binding->number);
        return LIST_NOTHING;
    case PASS_CHANGED:
        view->only_changed = !view->only_changed;
        view->list.current = 0;
        pass_ready(view);
        return LIST_NOTHING;
    case PASS_RECORD:
        return ask(view);
    default:
        return binding->action;
    }
}

int pass_key(struct pass_view *view, struct key key)
{
    const struct binding *binding = binding_find(CONTEXT_PASS, key);
    if (view->asking && (binding == NULL || binding->action != PASS_RECORD)) {
        view->asking = false;
        return LIST_NOTHING;
    }
    if (binding == NULL || list_key(&view->list, CONTEXT_PASS, key) == LIST_NOTHING)
        return LIST_NOTHING;
    return carry_out(view, binding);
}

/* The head: dials, the two ribbons, who changes side. */

static void dial_value(const struct preview *preview, enum preview_dial dial,
                       char ret_text[NUMBER_SIZE])
{
    if (dial == DIAL_KEEP_AT)
        number_from_hundredths(preview->standard.keep_at, ret_text);
    else if (dial == DIAL_HOLD_AT)
        number_from_hundredths(preview->standard.hold_at, ret_text);
    else if (preview->places == NO_PLACES)
        snprintf(ret_text, NUMBER_SIZE, "no limit");
    else
        snprintf(ret_text, NUMBER_SIZE, "%d", preview->places);
}

static void draw_dials(struct grid *grid, int row, const struct pass_view *view)
{
    int column = TEXT_COLUMN;
    for (enum preview_dial dial = 0; dial < DIAL_COUNT; dial++) {
        bool front = dial == view->dial;
        char value[NUMBER_SIZE];
        dial_value(&view->preview, dial, value);
        grid_put(grid, row, column, -1, front ? STYLE_STRONG : STYLE_PLAIN, dial_names[dial]);
        column += (int)strlen(dial_names[dial]) + 1;
        grid_putf(grid, row, column, -1, front ? STYLE_CURSOR : STYLE_STRONG,
                  front ? "<%s>" : " %s ", value);
        column += 14;
    }
}

static struct verdict_counts tally_of(const struct preview *preview, bool tried)
{
    struct verdict_counts tally = {.expected = (int)preview->count};
    for (size_t i = 0; i < preview->count; i++)
        verdict_counts_add(&tally,
                           tried ? preview->decisions[i].verdict : preview->fish[i].standing);
    return tally;
}

/* As many of the fish that change side as the row holds: "2-17 H>K". */
static void draw_changed(struct grid *grid, int row, const struct preview *preview)
{
    if (preview->changed_count == 0) {
        grid_put(grid, row, TEXT_COLUMN, -1, STYLE_QUIET, "no fish changes side");
        return;
    }
    int column = TEXT_COLUMN;
    column +=
        grid_putf(grid, row, column, -1, STYLE_STRONG, "%zu change side:", preview->changed_count);
    for (size_t i = 0; i < preview->changed_count; i++) {
        const struct preview_fish *fish = &preview->fish[preview->changed[i]];
        enum verdict verdict = preview->decisions[preview->changed[i]].verdict;
        char text[64];
        int width = snprintf(text, sizeof text, "%d-%d %s>%s", fish->bowl, fish->number,
                             verdict_marks[fish->standing].letter, verdict_marks[verdict].letter);
        if (column + 2 + width + 2 > grid->columns) {
            grid_put(grid, row, column + 1, -1, STYLE_QUIET, "…");
            return;
        }
        column += 2 + grid_put(grid, row, column + 2, -1, verdict_marks[verdict].style, text);
    }
}

static void draw_head(struct grid *grid, int row, const struct pass_view *view)
{
    struct verdict_counts tried = tally_of(&view->preview, true),
                          standing = tally_of(&view->preview, false);
    draw_dials(grid, row, view);
    progress_draw(grid, row + 1, TEXT_COLUMN, "this pass", &tried);
    progress_draw(grid, row + 2, TEXT_COLUMN, "as it stands", &standing);
    draw_changed(grid, row + 3, &view->preview);
    grid_put_right(grid, row + 5, RANK_END, -1, STYLE_QUIET, "rank");
    grid_put(grid, row + 5, FISH_COLUMN, -1, STYLE_QUIET, "bowl-fish");
    grid_put_right(grid, row + 5, SCORE_END, -1, STYLE_QUIET, "score");
    grid_put(grid, row + 5, SCALE_COLUMN, -1, STYLE_QUIET, "0");
    grid_put_right(grid, row + 5, grid->columns - REASON_COLUMNS - 1, -1, STYLE_QUIET, "100");
    grid_put(grid, row + 5, grid->columns - REASON_COLUMNS, -1, STYLE_QUIET, "reason");
}

/* The list. */

static int scale_columns(const struct grid *grid)
{
    return grid->columns - REASON_COLUMNS - 1 - SCALE_COLUMN;
}

/* `score` in units of 1/unit points, out of 100. */
static void put_on_scale(struct grid *grid, int row, int64_t score, int64_t unit, enum style style,
                         const char *mark)
{
    int at = (int)(score * (scale_columns(grid) - 1) / (100 * unit));
    grid_put(grid, row, SCALE_COLUMN + at, 1, style, mark);
}

static void draw_scale(struct grid *grid, int row, const struct preview *preview,
                       const struct decision *decision)
{
    const struct standard *standard = &preview->standard;
    put_on_scale(grid, row, standard->hold_at, 100, STYLE_RULE, ":");
    put_on_scale(grid, row, standard->keep_at, 100, STYLE_RULE, "|");
    if (decision->scored)
        put_on_scale(grid, row, decision->score, score_unit(standard),
                     verdict_marks[decision->verdict].style,
                     verdict_marks[decision->verdict].letter);
}

static void draw_verdict(struct grid *grid, int row, enum verdict verdict, enum verdict standing)
{
    if (verdict == standing)
        grid_put(grid, row, MARK_COLUMN + 2, 1, verdict_marks[verdict].style,
                 verdict_marks[verdict].letter);
    else
        grid_putf(grid, row, MARK_COLUMN, 3, verdict_marks[verdict].style, "%s>%s",
                  verdict_marks[standing].letter, verdict_marks[verdict].letter);
}

/* Without the first gloss in brackets, where the reason is too long with it. */
static void shorten_reason(char *reason)
{
    char *gloss = strstr(reason, " ("), *end = gloss != NULL ? strchr(gloss, ')') : NULL;
    if (utf8_width(reason) > REASON_COLUMNS && end != NULL)
        memmove(gloss, end + 1, strlen(end + 1) + 1);
}

static void draw_reason(struct grid *grid, int row, const struct preview *preview, size_t index)
{
    const struct preview_fish *fish = &preview->fish[index];
    const struct decision *decision = &preview->decisions[index];
    char reason[REASON_SIZE];
    if (decision->reason == REASON_BY_HAND && fish->by_hand[0] != '\0')
        text_copy(reason, sizeof reason, fish->by_hand);
    else
        decision_reason_label(&preview->standard, decision, reason);
    shorten_reason(reason);
    grid_put(grid, row, grid->columns - REASON_COLUMNS, -1, STYLE_PLAIN, reason);
}

static void draw_fish(struct grid *grid, int row, const struct preview *preview, size_t index)
{
    const struct preview_fish *fish = &preview->fish[index];
    const struct decision *decision = &preview->decisions[index];
    char text[REASON_SIZE];
    if (decision->rank > 0) {
        snprintf(text, sizeof text, "%d", decision->rank);
        grid_put_right(grid, row, RANK_END, -1, STYLE_QUIET, text);
    }
    grid_putf(grid, row, FISH_COLUMN, -1, STYLE_STRONG, "%d-%d", fish->bowl, fish->number);
    decision_score_text(&preview->standard, decision, text);
    grid_put_right(grid, row, SCORE_END, -1, STYLE_PLAIN, text);
    draw_verdict(grid, row, decision->verdict, fish->standing);
    draw_scale(grid, row, preview, decision);
    draw_reason(grid, row, preview, index);
}

/* Is this fish of the order at or above the threshold (hundredths), by its score alone? */
static bool reaches(const struct preview *preview, size_t place, int threshold)
{
    if (place >= preview->count)
        return false;
    const struct decision *decision = &preview->decisions[preview->order[place]];
    return decision->scored &&
           number_compare_fractions(decision->score, score_unit(&preview->standard), threshold,
                                    100) >= 0;
}

static void draw_cut(struct grid *grid, struct rows *rows, const struct preview *preview,
                     enum preview_dial dial)
{
    char value[NUMBER_SIZE];
    int row = rows_next(rows);
    dial_value(preview, dial, value);
    grid_rule(grid, row, TEXT_COLUMN, grid->columns - 2 * TEXT_COLUMN);
    grid_putf(grid, row, SCALE_COLUMN, -1, STYLE_STRONG, " %s %s ", dial_names[dial], value);
}

/* Does the last fish at or above the threshold stand at this place of the order? */
static bool ends_above(const struct preview *preview, size_t place, int threshold)
{
    return reaches(preview, place, threshold) && !reaches(preview, place + 1, threshold);
}

static void draw_cuts(struct grid *grid, struct rows *rows, const struct preview *preview,
                      size_t place)
{
    if (place + 1 == preview->first_out)
        draw_cut(grid, rows, preview, DIAL_PLACES);
    if (ends_above(preview, place, preview->standard.keep_at))
        draw_cut(grid, rows, preview, DIAL_KEEP_AT);
    if (ends_above(preview, place, preview->standard.hold_at))
        draw_cut(grid, rows, preview, DIAL_HOLD_AT);
}

static void draw_pass_item(struct grid *grid, struct rows *rows, const void *model, int item,
                           bool front)
{
    const struct pass_view *view = model;
    const struct preview *preview = &view->preview;
    int row = rows_next(rows);
    if (row >= 0) {
        if (front)
            frame_front(grid, row, 1);
        draw_fish(grid, row, preview,
                  (view->only_changed ? preview->changed : preview->order)[item]);
    }
    if (!view->only_changed)
        draw_cuts(grid, rows, preview, (size_t)item);
}

static const char *question(const struct pass_view *view)
{
    if (preview_moved(&view->preview))
        return "Enter again records the pass and the new thresholds; any other key goes back.";
    return "Enter again records the pass; any other key goes back.";
}

void pass_draw(struct grid *grid, struct pass_view *view)
{
    struct frame frame = {.title = view->title,
                          .beside = view->beside,
                          .message = view->asking ? question(view) : view->message,
                          .alert = !view->asking && view->alert,
                          .context = CONTEXT_PASS};
    struct body body = frame_draw(grid, &frame);
    draw_head(grid, body.top, view);
    struct body list = {.top = body.top + HEAD_ROWS, .rows = body.rows - HEAD_ROWS};
    list_draw(&view->list, grid, list, draw_pass_item, view);
}
