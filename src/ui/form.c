/* A form: its lines together. What a line is and what may stand in it comes from the caller's table
 * (field.c understands it); a line is checked when it is left and all of them when the form is
 * accepted, so that who types on without looking loses nothing, and who looks sees what is wrong
 * until it is right. */
#include "senbetsu/ui/form.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { VALUE_COLUMN = 23, FIELD_ROWS = 2 };

void form_init(struct form *form, const char *title, const struct field_spec *specs, int count)
{
    *form = (struct form){.title = title, .specs = specs, .count = count};
    for (int i = 0; i < count; i++) {
        form->fields[i].choices = specs[i].choices;
        form->fields[i].choice_count = specs[i].choice_count;
    }
}

void form_done(struct form *form)
{
    for (int i = 0; i < form->count; i++)
        free(form->fields[i].known);
}

void form_set(struct form *form, int field, const char *value)
{
    text_copy(form->fields[field].value, sizeof form->fields[field].value, value);
}

void form_set_number(struct form *form, int field, int64_t number, int64_t unknown)
{
    char text[NUMBER_SIZE] = "";
    if (number != unknown)
        snprintf(text, sizeof text, "%" PRId64, number);
    form_set(form, field, text);
}

void form_offer(struct form *form, int field, const struct term *choices, int count, int choice)
{
    form->fields[field].choices = choices;
    form->fields[field].choice_count = count;
    form->fields[field].choice = choice;
    form->fields[field].begun[0] = '\0';
}

void form_suggest(struct form *form, int field, const char *word)
{
    struct field *line = &form->fields[field];
    bool known = word[0] == '\0';
    for (int i = 0; i < line->known_count && !known; i++)
        known = strcmp(line->known[i], word) == 0;
    if (known)
        return;
    line->known = alloc_resized(line->known, (size_t)line->known_count + 1, sizeof *line->known);
    text_copy(line->known[line->known_count++], FIELD_NOTE_SIZE, word);
}

const char *form_text(const struct form *form, int field, char ret_text[FORM_VALUE_SIZE])
{
    const struct field *line = &form->fields[field];
    struct err err;
    if (line->choices != NULL)
        return line->choice_count > 0 ? line->choices[line->choice].word : "";
    if (!field_understand(&form->specs[field], line, form->today, ret_text, &err))
        text_copy(ret_text, FORM_VALUE_SIZE, line->value);
    return ret_text;
}

int64_t form_number(const struct form *form, int field, int64_t unknown)
{
    char text[FORM_VALUE_SIZE];
    int64_t number = unknown;
    number_whole(form_text(form, field, text), form->specs[field].lowest,
                 form->specs[field].highest, &number);
    return number;
}

static void say(struct form *form, const char *sentence)
{
    text_copy(form->message, sizeof form->message, sentence);
}

void form_refuse(struct form *form, int field, const char *sentence)
{
    if (field < 0) {
        say(form, sentence);
        return;
    }
    form->current = field;
    form->edited = false;
    form->fields[field].refused = true;
    text_copy(form->fields[field].wrong, sizeof form->fields[field].wrong, sentence);
}

/* Checking. */

static bool is_right(const struct form *form, int index, char ret_value[FORM_VALUE_SIZE],
                     struct err *err)
{
    return field_understand(&form->specs[index], &form->fields[index], form->today, ret_value,
                            err) &&
           (form->check == NULL || form->check(form->owner, form, index, err));
}

/* A line that is left: it says why it is wrong, or what it was understood as. */
static bool settle(struct form *form, int index)
{
    struct field *field = &form->fields[index];
    char value[FORM_VALUE_SIZE];
    struct err err = {0};
    bool right = is_right(form, index, value, &err);
    if (right && field->choices == NULL)
        text_copy(field->value, sizeof field->value, value);
    if (!right || !field->refused)
        text_copy(field->wrong, sizeof field->wrong, right ? "" : err.text);
    return right;
}

/* Lines that were wrong, after a key. */
static void look_again(struct form *form)
{
    char value[FORM_VALUE_SIZE];
    for (int i = 0; i < form->count; i++) {
        struct field *field = &form->fields[i];
        struct err err = {0};
        if (field->wrong[0] != '\0' && !field->refused)
            text_copy(field->wrong, sizeof field->wrong,
                      is_right(form, i, value, &err) ? "" : err.text);
    }
}

/* Typing. */

static struct field *current_field(struct form *form)
{
    return &form->fields[form->current];
}

static const struct field_spec *current_spec(const struct form *form)
{
    return &form->specs[form->current];
}

static void mark_changed(struct form *form)
{
    current_field(form)->refused = false;
    current_field(form)->typed = true;
    form->changed = true;
}

/* Does typing replace what stands in the current line? */
static bool is_replaced(const struct form *form)
{
    return !form->edited && !field_goes_on(current_spec(form), &form->fields[form->current]);
}

static void type(struct form *form, uint32_t code)
{
    struct field *field = current_field(form);
    char sentence[FIELD_NOTE_SIZE] = "";
    if (field->choices != NULL) {
        if (field_choose(field, code, sentence))
            mark_changed(form);
    } else if (field_takes(current_spec(form), code, sentence)) {
        if (is_replaced(form)) {
            text_copy(form->replaced, sizeof form->replaced, field->value);
            field->value[0] = '\0';
        }
        field_add(current_spec(form), field, code);
        form->edited = true;
        mark_changed(form);
    }
    say(form, sentence);
}

/* Any other key is typed into the line, or answered with a sentence that it does nothing. */
static void other_key(struct form *form, struct key key)
{
    char sentence[NO_KEY_SIZE];
    if (key.kind == KEY_CHARACTER) {
        type(form, key.code);
        return;
    }
    keys_absent(&form_keys, key, sentence);
    say(form, sentence);
}

/* Keys. The state of their handlers is the form. */

static void go_to(struct form *form, int field)
{
    current_field(form)->begun[0] = '\0';
    form->current = field;
    form->edited = false;
}

/* A line that is left empty unasked is not complained of yet. */
static void move(struct app *app, void *state, int by)
{
    struct form *form = state;
    int to = form->current + by;
    if (form->edited || current_field(form)->value[0] != '\0')
        settle(form, form->current);
    go_to(form, to >= 0 && to < form->count ? to : form->current);
}

/* Through the choices that begin as typed, where there are several; else through the lines. */
static void move_or_step(struct app *app, void *state, int by)
{
    struct form *form = state;
    struct field *field = current_field(form);
    if (field_is_searched(field) && field_matches(field) > 1)
        field_step(field, by);
    else
        move(app, state, by);
}

static void accept(struct app *app, void *state, int number)
{
    struct form *form = state;
    int wrong = form->count;
    form->edited = false;
    for (int i = form->count - 1; i >= 0; i--) {
        form->fields[i].refused = false;
        if (!settle(form, i))
            wrong = i;
    }
    if (wrong < form->count)
        go_to(form, wrong);
    else
        form->request = FORM_ACCEPT;
}

static void enter(struct app *app, void *state, int number)
{
    struct form *form = state;
    if (form->current + 1 == form->count) {
        accept(app, state, number);
        return;
    }
    settle(form, form->current);
    go_to(form, form->current + 1);
}

static void step_choice(struct app *app, void *state, int by)
{
    struct form *form = state;
    field_step(current_field(form), by);
    mark_changed(form);
}

/* To the end of what stands in the line, and from there to the known word that begins so. */
static void edit(struct form *form)
{
    if (is_replaced(form))
        form->edited = true;
    else if (field_complete(current_spec(form), current_field(form)))
        mark_changed(form);
}

static void right(struct app *app, void *state, int number)
{
    struct form *form = state;
    if (current_field(form)->choices != NULL)
        step_choice(app, state, number);
    else
        edit(form);
}

static void left(struct app *app, void *state, int number)
{
    struct form *form = state;
    if (current_field(form)->choices != NULL)
        step_choice(app, state, number);
    else
        form->edited = true;
}

static void to_end(struct app *app, void *state, int number)
{
    ((struct form *)state)->edited = true;
}

static void erase(struct app *app, void *state, int number)
{
    struct form *form = state;
    field_erase(current_field(form));
    form->edited = true;
    mark_changed(form);
}

static void empty(struct app *app, void *state, int number)
{
    struct form *form = state;
    current_field(form)->value[0] = current_field(form)->begun[0] = '\0';
    form->edited = true;
    mark_changed(form);
}

static void ask_for(struct app *app, void *state, int request)
{
    struct form *form = state;
    form->request = (enum form_request)request;
}

static void leave(struct form *form, const char *key)
{
    char sentence[80];
    if (!form->changed || form->leaving) {
        form->request = FORM_LEAVE;
        return;
    }
    form->leaving = true;
    snprintf(sentence, sizeof sentence,
             "%s again leaves, and nothing is saved; anything else goes on.", key);
    say(form, sentence);
}

static void escape(struct app *app, void *state, int number)
{
    leave(state, "Esc");
}

static void go_back(struct app *app, struct form *form)
{
    if (form->current > 0)
        move(app, form, -1);
    else
        leave(form, "-");
}

static bool is_day(const struct field_spec *spec)
{
    return spec->kind == FIELD_DAY || spec->kind == FIELD_DAY_OR_YEAR;
}

/* In a day it is the first character of -2; the second - takes that back and goes on backward. */
static void minus(struct app *app, void *state, int number)
{
    struct form *form = state;
    struct field *field = current_field(form);
    const struct field_spec *spec = current_spec(form);
    bool taken_back = is_day(spec) && form->edited && strcmp(field->value, "-") == 0;
    if (taken_back)
        text_copy(field->value, sizeof field->value, form->replaced);
    bool empty_line = form->edited && field->value[0] == '\0';
    if (field_is_searched(field))
        field_erase(field);
    else if (field->choices != NULL || taken_back || empty_line || (!form->edited && !is_day(spec)))
        go_back(app, form);
    else if (field_is_figures(spec))
        erase(app, form, number);
    else
        type(form, '-');
}

static const struct key_row key_rows[] = {
    {"Enter", "next line; last: save", "the next line; on the last one, save", .handler = enter},
    {"-", "back", "the line above, then back; in a number: erase a digit", .handler = minus},
    {"Up", "above", "the line above; the match before, of several", .handler = move_or_step,
     .number = -1},
    {"Down", "below", "the line below; the next match, of several", .handler = move_or_step,
     .number = 1},
    {"Shift-Tab", NULL, "the line above", .handler = move, .number = -1},
    {"Tab", NULL, "the line below", .handler = move, .number = 1},
    {"Left", NULL, "the previous choice", .handler = left, .number = -1},
    {"Right", "choice; edit", "the next choice (or Space, number, beginning); edit a line",
     .handler = right, .number = 1},
    {"End", NULL, "edit what is offered in the line; typing alone replaces it", .handler = to_end},
    {"Backspace", NULL, "erase the last character", .handler = erase},
    {"Delete", "empty", "clear the line", .handler = empty},
    {"F2", "save", "save from any line", .handler = accept},
    {"F1", "help", "all keys", .handler = ask_for, .number = FORM_HELP},
    {"Esc", "leave", "back without saving; asks once where something was typed", .handler = escape},
};

const struct key_table form_keys = KEY_TABLE("Filling in a form", key_rows);

enum form_request form_key(struct form *form, struct key key)
{
    int number;
    const struct key_row *row = keys_find(&form_keys, key, &number);
    form->request = FORM_STAY;
    say(form, "");
    if (row == NULL || (row->handler != minus && row->handler != escape))
        form->leaving = false;
    if (row != NULL)
        row->handler(NULL, form, number);
    else
        other_key(form, key);
    look_again(form);
    return form->request;
}

/* Drawing. */

/* The lines that are in sight: `first`, and `count` from it on. */
struct sight {
    int first, count;
};

static int lines_in(const char *text)
{
    int lines = 0;
    for (; *text != '\0'; lines++) {
        text += strcspn(text, "\n");
        text += *text == '\n';
    }
    return lines;
}

/* All where there is room; else the current line and, with it, the one after it. A third of the
 * room is kept for what the caller has to say below. */
static struct sight see(const struct form *form, int rows)
{
    int below = lines_in(form->below);
    int room = (rows - (below < rows / 3 ? below : rows / 3) + 1) / FIELD_ROWS;
    struct sight sight = {0, room < form->count ? room : form->count};
    sight.first = form->current + 2 - sight.count;
    if (sight.first > form->count - sight.count)
        sight.first = form->count - sight.count;
    if (sight.first < 0)
        sight.first = 0;
    return sight;
}

static bool too_wide(const struct grid *grid, const char *sentence)
{
    return utf8_width(sentence) > grid->columns - 1 - TEXT_COLUMN;
}

/* What is said at the foot: what is too long to stand under the current line, too. */
static const char *at_foot(const struct grid *grid, const struct form *form)
{
    const char *wrong = form->fields[form->current].wrong;
    return form->message[0] == '\0' && too_wide(grid, wrong) ? wrong : form->message;
}

/* Under the line, further to the left where it is long. */
static void draw_sentence(struct grid *grid, int row, const char *sentence)
{
    int column = grid->columns - 1 - utf8_width(sentence);
    if (column > VALUE_COLUMN)
        column = VALUE_COLUMN;
    grid_put(grid, row, column > TEXT_COLUMN ? column : TEXT_COLUMN, -1, STYLE_ALERT, sentence);
}

static void draw_field(struct grid *grid, int row, const struct form *form, int i)
{
    const struct field *field = &form->fields[i];
    bool current = i == form->current;
    enum field_cursor cursor = !current            ? CURSOR_ELSEWHERE
                               : is_replaced(form) ? CURSOR_OVER
                                                   : CURSOR_AT_END;
    if (current)
        frame_cursor(grid, row);
    grid_put(grid, row, TEXT_COLUMN, VALUE_COLUMN - TEXT_COLUMN - 1,
             current ? STYLE_STRONG : STYLE_PLAIN, form->specs[i].label);
    field_draw(grid, row, VALUE_COLUMN, &form->specs[i], field, form->today, cursor);
    if (field->wrong[0] != '\0')
        draw_sentence(grid, row + 1, field->wrong);
}

/* As many of the lines as there is room for; the first one, the result, stands out. */
static void draw_below(struct grid *grid, int row, int end, const char *line)
{
    enum style style = STYLE_STRONG;
    for (; *line != '\0' && row < end; row++, style = STYLE_PLAIN) {
        int length = (int)strcspn(line, "\n");
        grid_putf(grid, row, TEXT_COLUMN, -1, style, "%.*s", length, line);
        line += length + (line[length] == '\n');
    }
}

static void draw_more(struct grid *grid, int row, int count, const char *where)
{
    char text[48];
    snprintf(text, sizeof text, " %d more %s ", count, where);
    if (count > 0)
        grid_put_right(grid, row, grid->columns - TEXT_COLUMN, -1, STYLE_STRONG, text);
}

void form_draw(struct grid *grid, const struct form *form)
{
    struct frame frame = {
        .title = form->title, .message = at_foot(grid, form), .alert = true, .keys = &form_keys};
    struct body body = frame_draw(grid, &frame);
    struct sight sight = see(form, body.rows);
    for (int i = 0; i < sight.count; i++)
        draw_field(grid, body.top + FIELD_ROWS * i, form, sight.first + i);
    draw_below(grid, body.top + FIELD_ROWS * sight.count, body.top + body.rows, form->below);
    draw_more(grid, body.top - 1, sight.first, "above");
    draw_more(grid, body.top + body.rows, form->count - sight.first - sight.count, "below");
}
