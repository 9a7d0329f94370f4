/* A form: checking, typing, drawing. What a line is and what may stand in it comes from the
 * caller's table; a line is checked when it is left and all of them when the form is accepted, so
 * that who types on without looking loses nothing. */
#include "senbetsu/ui/form.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { VALUE_COLUMN = 23 };

void form_init(struct form *form, const char *title, const struct field_spec *specs, int count)
{
    *form = (struct form){.title = title, .specs = specs, .count = count, .wrong = -1};
    for (int i = 0; i < count; i++) {
        form->fields[i].choices = specs[i].choices;
        form->fields[i].choice_count = specs[i].choice_count;
    }
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
}

int64_t form_number(const struct form *form, int field, int64_t unknown)
{
    int64_t number = unknown;
    number_whole(form->fields[field].value, form->specs[field].lowest, form->specs[field].highest,
                 &number);
    return number;
}

void form_refuse(struct form *form, int field, const char *sentence)
{
    form->wrong = field;
    if (field >= 0)
        form->current = field;
    text_copy(form->message, sizeof form->message, sentence);
}

/* Checking. */

static bool number_right(const struct field_spec *spec, const char *value, struct err *err)
{
    int64_t number;
    if (number_whole(value, spec->lowest, spec->highest, &number))
        return true;
    return err_set(err, ERR_INPUT,
                   "A whole number from %" PRId64 " to %" PRId64 " is expected, not \"%s\".",
                   spec->lowest, spec->highest, value);
}

/* Puts the sentence under a field that is wrong. */
static bool check(struct form *form, int index)
{
    const struct field_spec *spec = &form->specs[index];
    const struct field *field = &form->fields[index];
    bool right = true;
    struct err err;
    if (field->choices != NULL)
        right = true;
    else if (field->value[0] == '\0')
        right = !spec->required || err_set(&err, ERR_INPUT, "This is required.");
    else if (spec->kind == FIELD_NUMBER)
        right = number_right(spec, field->value, &err);
    else if (spec->check != NULL)
        right = spec->check(field->value, &err);
    right = right && (form->check == NULL || form->check(form->owner, form, index, &err));
    if (!right)
        form_refuse(form, index, err.text);
    return right;
}

/* Typing. */

static void step(struct field *field, int by)
{
    field->choice = (field->choice + by + field->choice_count) % field->choice_count;
}

static void choose(struct form *form, struct field *field, uint32_t code)
{
    char sentence[80];
    if (field->choice_count == 0) {
        form_refuse(form, form->current, "There is nothing to choose from.");
    } else if (code == ' ' || code == '+') {
        step(field, 1);
    } else if (code >= '1' && code < '1' + (uint32_t)field->choice_count) {
        field->choice = (int)(code - '1');
    } else {
        snprintf(sentence, sizeof sentence, "Choose with Space or a number from 1 to %d.",
                 field->choice_count);
        form_refuse(form, form->current, sentence);
    }
}

/* A list is typed as people write one, but its words stand side by side without blanks. */
static bool is_space_of_list(const char *list, uint32_t code)
{
    size_t used = strlen(list);
    return code == ' ' && (used == 0 || list[used - 1] == ';');
}

static void add(struct field *field, uint32_t code)
{
    char glyph[8];
    size_t bytes = utf8_encode(code, glyph), used = strlen(field->value);
    if (code >= ' ' && code != 0x7f && used + bytes < sizeof field->value)
        memcpy(field->value + used, glyph, bytes + 1);
}

static bool is_typed_in_digits(const struct field_spec *spec)
{
    return spec->kind == FIELD_NUMBER || spec->kind == FIELD_FIGURES;
}

static bool can_be_typed(const struct field_spec *spec, uint32_t code)
{
    if (!is_typed_in_digits(spec) || (code >= '0' && code <= '9'))
        return true;
    return spec->kind == FIELD_FIGURES && code > 0 && code < 128 &&
           strchr(spec->others, (int)code) != NULL;
}

static void refuse_character(struct form *form, const struct field_spec *spec)
{
    char sentence[80] = "Only digits can be typed here.";
    if (spec->kind == FIELD_FIGURES)
        snprintf(sentence, sizeof sentence, "Only digits and \"%s\" can be typed here.",
                 spec->others);
    form_refuse(form, form->current, sentence);
}

static void type(struct form *form, uint32_t code)
{
    struct field *field = &form->fields[form->current];
    const struct field_spec *spec = &form->specs[form->current];
    /* Some keypads have a comma where others have the point. */
    if (code == ',' && spec->kind == FIELD_FIGURES && strchr(spec->others, '.') != NULL)
        code = '.';
    if (field->choices != NULL) {
        choose(form, field, code);
    } else if (!can_be_typed(spec, code)) {
        refuse_character(form, spec);
    } else if (spec->kind != FIELD_LIST || !is_space_of_list(field->value, code)) {
        if (spec->kind == FIELD_NUMBER && !form->edited)
            field->value[0] = '\0';
        add(field, code);
    }
    form->edited = true;
    form->changed = true;
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
    form_refuse(form, form->current, sentence);
}

static void erase_character(struct field *field)
{
    size_t length = strlen(field->value);
    while (length > 0 && (field->value[--length] & 0xC0) == 0x80)
        continue;
    field->value[length] = '\0';
}

/* Keys. The state of their handlers is the form. */

static void move(struct app *app, void *state, int by)
{
    struct form *form = state;
    int to = form->current + by;
    if (to >= 0 && to < form->count)
        form->current = to;
    form->edited = false;
}

static void accept(struct app *app, void *state, int number)
{
    struct form *form = state;
    form_refuse(form, -1, "");
    for (int i = 0; i < form->count; i++)
        if (!check(form, i))
            return;
    form->request = FORM_ACCEPT;
}

static void enter(struct app *app, void *state, int number)
{
    struct form *form = state;
    if (form->current + 1 == form->count) {
        accept(app, state, number);
        return;
    }
    check(form, form->current);
    move(app, state, 1);
}

static void step_choice(struct app *app, void *state, int by)
{
    struct form *form = state;
    struct field *field = &form->fields[form->current];
    if (field->choice_count > 0)
        step(field, by);
    form->changed = true;
}

static void erase(struct app *app, void *state, int number)
{
    struct form *form = state;
    erase_character(&form->fields[form->current]);
    form->edited = form->changed = true;
}

static void empty(struct app *app, void *state, int number)
{
    struct form *form = state;
    form->fields[form->current].value[0] = '\0';
    form->changed = true;
}

static void ask_for(struct app *app, void *state, int request)
{
    struct form *form = state;
    form->request = (enum form_request)request;
}

static void minus(struct app *app, void *state, int number)
{
    struct form *form = state;
    struct field *field = &form->fields[form->current];
    if (form->edited && field->choices == NULL && field->value[0] != '\0') {
        if (is_typed_in_digits(&form->specs[form->current]))
            erase_character(field);
        else
            type(form, '-');
    } else if (form->current > 0) {
        move(app, state, -1);
    } else if (form->changed && !form->leaving) {
        form->leaving = true;
        form_refuse(form, -1, "Press - again to go back without saving.");
    } else {
        ask_for(app, state, FORM_LEAVE);
    }
}

static const struct key_row key_rows[] = {
    {"Enter", "next line; last: save", "the next line; on the last one, save", .handler = enter},
    {"-", "back", "the line above, then back; while typing: erase a digit", .handler = minus},
    {"Up Shift-Tab", "above", "the line above", .handler = move, .number = -1},
    {"Down Tab", "below", "the line below", .handler = move, .number = 1},
    {"Left", NULL, "the previous choice", .handler = step_choice, .number = -1},
    {"Right", "choice", "the next choice (also Space, or its number)", .handler = step_choice,
     .number = 1},
    {"Backspace", NULL, "erase the last character", .handler = erase},
    {"Delete", "empty", "clear the line", .handler = empty},
    {"F2", "save", "save from any line", .handler = accept},
    {"F1", "help", "all keys", .handler = ask_for, .number = FORM_HELP},
    {"Esc", "leave", "back without saving", .handler = ask_for, .number = FORM_LEAVE},
};

const struct key_table form_keys = KEY_TABLE("Filling in a form", key_rows);

enum form_request form_key(struct form *form, struct key key)
{
    int number;
    const struct key_row *row = keys_find(&form_keys, key, &number);
    form->request = FORM_STAY;
    if (form->wrong < 0 || form->wrong == form->current)
        form_refuse(form, -1, "");
    if (row == NULL || row->handler != minus)
        form->leaving = false;
    if (row != NULL)
        row->handler(NULL, form, number);
    else
        other_key(form, key);
    return form->request;
}

/* Drawing. */

static const char *word_of(const struct field *field, int choice)
{
    const char *word = field->choices[choice].word;
    return word[0] != '\0' ? word : "not said";
}

static int choices_width(const struct field *field)
{
    int width = 0;
    for (int i = 0; i < field->choice_count; i++)
        width += utf8_width(word_of(field, i)) + 2;
    return width;
}

/* All choices side by side where they fit, the one chosen in brackets; else only that one. */
static void draw_choices(struct grid *grid, int row, const struct field *field, enum style style)
{
    int column = VALUE_COLUMN, room = grid->columns - VALUE_COLUMN - 1;
    if (field->choice_count == 0) {
        grid_put(grid, row, column, room, STYLE_QUIET, "nothing to choose from");
        return;
    }
    bool all = choices_width(field) <= room;
    for (int i = 0; i < field->choice_count; i++) {
        bool chosen = i == field->choice;
        if (!chosen && !all)
            continue;
        column +=
            grid_putf(grid, row, column, grid->columns - column - 1, chosen ? style : STYLE_QUIET,
                      chosen ? "[%s]" : " %s ", word_of(field, i));
    }
    if (!all)
        grid_putf(grid, row, column + 2, -1, STYLE_QUIET, "%d of %d", field->choice + 1,
                  field->choice_count);
}

/* The end of a long line stays in sight: that is where the cursor is. */
static void draw_line(struct grid *grid, int row, const struct field_spec *spec,
                      const struct field *field, bool current)
{
    int room = grid->columns - VALUE_COLUMN - 2;
    const char *shown = field->value;
    while (utf8_width(shown) > room)
        utf8_next(&shown);
    int used = grid_put(grid, row, VALUE_COLUMN, room, STYLE_STRONG, shown);
    if (current)
        grid_put(grid, row, VALUE_COLUMN + used, 1, STYLE_CURSOR, "_");
    if (used == 0 && spec->hint != NULL)
        grid_put(grid, row, VALUE_COLUMN + 2, room - 2, STYLE_QUIET, spec->hint);
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
    bool current = i == form->current;
    if (current)
        frame_cursor(grid, row);
    grid_put(grid, row, TEXT_COLUMN, VALUE_COLUMN - TEXT_COLUMN - 1,
             current ? STYLE_STRONG : STYLE_PLAIN, form->specs[i].label);
    if (form->fields[i].choices != NULL)
        draw_choices(grid, row, &form->fields[i], current ? STYLE_CURSOR : STYLE_STRONG);
    else
        draw_line(grid, row, &form->specs[i], &form->fields[i], current);
    if (i == form->wrong)
        draw_sentence(grid, row + 1, form->message);
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

void form_draw(struct grid *grid, const struct form *form)
{
    struct frame frame = {.title = form->title,
                          .message = form->wrong < 0 ? form->message : NULL,
                          .alert = true,
                          .keys = &form_keys};
    struct body body = frame_draw(grid, &frame);
    for (int i = 0; i < form->count; i++)
        draw_field(grid, body.top + 2 * i, form, i);
    draw_below(grid, body.top + 2 * form->count, body.top + body.rows, form->below);
}
