#include "senbetsu/ui/form.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { VALUE_COLUMN = 23, CODE_LIST = 8 };

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

static bool codes_right(const char *value, struct err *err)
{
    char list[NOTE_SIZE];
    text_copy(list, sizeof list, value);
    char *rest = NULL;
    int count = 0;
    for (char *code = strtok_r(list, ";", &rest); code != NULL; code = strtok_r(NULL, ";", &rest)) {
        if (!code_check(code, "A code", err))
            return false;
        count++;
    }
    return count <= CODE_LIST ||
           err_set(err, ERR_INPUT, "At most %d codes can be named here.", CODE_LIST);
}

static bool day_right(const char *value, struct err *err)
{
    int64_t year;
    if (date_valid(value) || number_whole(value, 1900, 2199, &year))
        return true;
    return err_set(err, ERR_INPUT,
                   "A date such as 2026-06-14 is expected, or the year alone, not \"%s\".", value);
}

static bool number_right(const struct field_spec *spec, const char *value, struct err *err)
{
    int64_t number;
    if (number_whole(value, spec->lowest, spec->highest, &number))
        return true;
    return err_set(err, ERR_INPUT,
                   "A whole number from %" PRId64 " to %" PRId64 " is expected, not \"%s\".",
                   spec->lowest, spec->highest, value);
}

static bool field_right(const struct field_spec *spec, const struct field *field, struct err *err)
{
    if (field->choices != NULL)
        return true;
    if (field->value[0] == '\0')
        return !spec->required || err_set(err, ERR_INPUT, "This is needed.");
    switch (spec->check) {
    case CHECK_CODE:
        return code_check(field->value, "The code", err);
    case CHECK_CODES:
        return codes_right(field->value, err);
    case CHECK_DAY:
        return day_right(field->value, err);
    case CHECK_NUMBER:
        return number_right(spec, field->value, err);
    case CHECK_FIGURES:
        return spec->right(field->value, err);
    case CHECK_TEXT:
        break;
    }
    return true;
}

/* Puts the sentence under a field that is wrong. */
static bool check(struct form *form, int field)
{
    struct err err;
    if (field_right(&form->specs[field], &form->fields[field], &err))
        return true;
    form_refuse(form, field, err.text);
    return false;
}

static enum form_action accept(struct form *form)
{
    form_refuse(form, -1, "");
    for (int i = 0; i < form->count; i++)
        if (!check(form, i))
            return FORM_STAY;
    return FORM_ACCEPT;
}

/* Typing. */

static void step(struct field *field, int by)
{
    if (field->choice_count > 0)
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

/* Codes are typed as people write a list, but stand side by side without spaces. */
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
    return spec->check == CHECK_NUMBER || spec->check == CHECK_FIGURES;
}

/* A keypad has the point where others have the comma. */
static uint32_t as_figure(const struct field_spec *spec, uint32_t code)
{
    bool point = spec->check == CHECK_FIGURES && strchr(spec->others, '.') != NULL;
    return point && code == ',' ? '.' : code;
}

static bool can_be_typed(const struct field_spec *spec, uint32_t code)
{
    if (!is_typed_in_digits(spec) || (code >= '0' && code <= '9'))
        return true;
    return spec->check == CHECK_FIGURES && code > 0 && code < 128 &&
           strchr(spec->others, (int)code) != NULL;
}

static void refuse_character(struct form *form, const struct field_spec *spec)
{
    char sentence[80] = "Only digits can be typed here.";
    if (spec->check == CHECK_FIGURES)
        snprintf(sentence, sizeof sentence, "Only digits and \"%s\" can be typed here.",
                 spec->others);
    form_refuse(form, form->current, sentence);
}

static void type(struct form *form, uint32_t code)
{
    struct field *field = &form->fields[form->current];
    const struct field_spec *spec = &form->specs[form->current];
    code = as_figure(spec, code);
    if (field->choices != NULL) {
        choose(form, field, code);
    } else if (!can_be_typed(spec, code)) {
        refuse_character(form, spec);
    } else if (spec->check != CHECK_CODES || !is_space_of_list(field->value, code)) {
        if (spec->check == CHECK_NUMBER && !form->edited)
            field->value[0] = '\0';
        add(field, code);
    }
    form->edited = true;
    form->changed = true;
}

/* What is no key of the form is typed, or told to do nothing. */
static void other_key(struct form *form, struct key key)
{
    char sentence[NO_KEY_SIZE];
    if (key.kind == KEY_CHARACTER) {
        type(form, key.code);
        return;
    }
    binding_absent(CONTEXT_FORM, key, sentence);
    form_refuse(form, form->current, sentence);
}

static void erase(struct field *field)
{
    size_t length = strlen(field->value);
    while (length > 0 && (field->value[--length] & 0xC0) == 0x80)
        continue;
    field->value[length] = '\0';
}

static void move(struct form *form, int by)
{
    int to = form->current + by;
    if (to >= 0 && to < form->count)
        form->current = to;
    form->edited = false;
}

/* Asks once where something would be lost. */
static enum form_action leave_by_minus(struct form *form)
{
    if (!form->changed || form->leaving)
        return FORM_LEAVE;
    form->leaving = true;
    form_refuse(form, -1, "- once more goes back, and nothing of this is saved.");
    return FORM_STAY;
}

static enum form_action minus(struct form *form)
{
    struct field *field = &form->fields[form->current];
    if (form->edited && field->choices == NULL && field->value[0] != '\0') {
        if (is_typed_in_digits(&form->specs[form->current]))
            erase(field);
        else
            type(form, '-');
    } else if (form->current > 0) {
        move(form, -1);
    } else {
        return leave_by_minus(form);
    }
    return FORM_STAY;
}

enum form_action form_key(struct form *form, struct key key)
{
    struct field *field = &form->fields[form->current];
    const struct binding *binding = binding_find(CONTEXT_FORM, key);
    enum form_action action = binding != NULL ? (enum form_action)binding->action : FORM_STAY;
    if (form->wrong < 0 || form->wrong == form->current)
        form_refuse(form, -1, "");
    if (action == FORM_ENTER && form->current + 1 < form->count) {
        check(form, form->current);
        action = FORM_DOWN;
    } else if (action == FORM_ENTER) {
        action = FORM_ACCEPT;
    }
    if (action != FORM_MINUS)
        form->leaving = false;
    switch (action) {
    case FORM_ACCEPT:
        return accept(form);
    case FORM_LEAVE:
    case FORM_HELP:
        return action;
    case FORM_MINUS:
        return minus(form);
    case FORM_UP:
    case FORM_DOWN:
        move(form, action == FORM_DOWN ? 1 : -1);
        break;
    case FORM_BEFORE:
    case FORM_AFTER:
        step(field, action == FORM_AFTER ? 1 : -1);
        form->changed = true;
        break;
    case FORM_ERASE:
        erase(field);
        form->edited = form->changed = true;
        break;
    case FORM_EMPTY:
        field->value[0] = '\0';
        form->changed = true;
        break;
    case FORM_ENTER:
    case FORM_STAY:
        other_key(form, key);
        break;
    }
    return FORM_STAY;
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

/* The end of a long line stays in sight: that is where the hand is. */
static void draw_line(struct grid *grid, int row, const struct field_spec *spec,
                      const struct field *field, bool front)
{
    int room = grid->columns - VALUE_COLUMN - 2;
    const char *shown = field->value;
    while (utf8_width(shown) > room)
        utf8_next(&shown);
    int used = grid_put(grid, row, VALUE_COLUMN, room, STYLE_STRONG, shown);
    if (front)
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
    bool front = i == form->current;
    if (front)
        frame_front(grid, row, 1);
    grid_put(grid, row, TEXT_COLUMN, VALUE_COLUMN - TEXT_COLUMN - 1,
             front ? STYLE_STRONG : STYLE_PLAIN, form->specs[i].label);
    if (form->fields[i].choices != NULL)
        draw_choices(grid, row, &form->fields[i], front ? STYLE_CURSOR : STYLE_STRONG);
    else
        draw_line(grid, row, &form->specs[i], &form->fields[i], front);
    if (i == form->wrong)
        draw_sentence(grid, row + 1, form->message);
}

/* As many of the lines as there is room for; what it comes to stands out. */
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
                          .context = CONTEXT_FORM};
    struct body body = frame_draw(grid, &frame);
    for (int i = 0; i < form->count; i++)
        draw_field(grid, body.top + 2 * i, form, i);
    draw_below(grid, body.top + 2 * form->count, body.top + body.rows, form->below);
}
