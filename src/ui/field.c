/* A line of a form: understanding, typing, choosing, drawing. What is typed stays as it is typed
 * while the cursor is on it, and what it was taken for stands beside it: a date or a number read in
 * another way than it was meant is seen before it is saved. */
#include "senbetsu/ui/field.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

enum { CHOSEN_BY_NUMBER = 9, SHORT_NUMBER = 999 };

/* Understanding. */

/* People put a comma between words as well; no code has one. */
static const char between[] = ";,";

/* "P2 ; P3, P4;" is "P2;P3;P4". */
static void tidy_list(char *list)
{
    char typed[FORM_VALUE_SIZE], *rest = NULL;
    size_t used = 0;
    text_copy(typed, sizeof typed, list);
    list[0] = '\0';
    for (char *word = strtok_r(typed, between, &rest); word != NULL;
         word = strtok_r(NULL, between, &rest))
        if (text_trim(word)[0] != '\0')
            used += (size_t)snprintf(list + used, FORM_VALUE_SIZE - used, "%s%s",
                                     used > 0 ? ";" : "", word);
}

static bool understand_number(const struct field_spec *spec, char *value, struct err *err)
{
    int64_t number;
    if (!number_typed(value, spec->lowest, spec->highest, &number, err))
        return false;
    snprintf(value, FORM_VALUE_SIZE, "%" PRId64, number);
    return true;
}

static bool understand_day(char *value, const char *today, struct err *err)
{
    char day[DATE_SIZE];
    if (!date_typed(value, today, day, err))
        return false;
    text_copy(value, FORM_VALUE_SIZE, day);
    return true;
}

static bool is_year(const char *value)
{
    int64_t year;
    return strlen(value) == 4 && number_whole(value, 1900, 2199, &year);
}

bool field_understand(const struct field_spec *spec, const struct field *field, const char *today,
                      char ret_value[FORM_VALUE_SIZE], struct err *err)
{
    bool right = true;
    text_trim(text_copy(ret_value, FORM_VALUE_SIZE, field->choices != NULL ? "" : field->value));
    if (spec->kind == FIELD_LIST)
        tidy_list(ret_value);
    if (field->choices != NULL)
        return true;
    if (ret_value[0] == '\0')
        return !spec->required || err_set(err, ERR_INPUT, "This is required.");
    if (spec->kind == FIELD_NUMBER)
        right = understand_number(spec, ret_value, err);
    else if (spec->kind == FIELD_DAY || (spec->kind == FIELD_DAY_OR_YEAR && !is_year(ret_value)))
        right = understand_day(ret_value, today, err);
    return right && (spec->check == NULL || spec->check(ret_value, err));
}

/* Typing. */

static bool is_number(const struct field_spec *spec, uint32_t code)
{
    return spec->kind == FIELD_NUMBER && spec->highest > SHORT_NUMBER && code < 128 &&
           strchr(" .,'kKmM", (int)code) != NULL;
}

static bool is_figure(const struct field_spec *spec, uint32_t code)
{
    return spec->kind == FIELD_FIGURES && code < 128 && strchr(spec->others, (int)code) != NULL;
}

bool field_is_figures(const struct field_spec *spec)
{
    return spec->kind == FIELD_NUMBER || spec->kind == FIELD_FIGURES;
}

bool field_goes_on(const struct field_spec *spec, const struct field *field)
{
    return field->typed && !field->refused &&
           (spec->kind == FIELD_TEXT || spec->kind == FIELD_LIST || spec->kind == FIELD_FIGURES);
}

/* Digits and signs of a Japanese keyboard are as wide as its letters (U+FF01–U+FF5E), its blank is
 * U+3000; some keypads have a comma where others have the point. */
static uint32_t as_meant(const struct field_spec *spec, uint32_t code)
{
    if (spec->kind == FIELD_TEXT || spec->kind == FIELD_LIST)
        return code;
    if (code == 0x3000)
        return ' ';
    if (code >= 0xFF01 && code <= 0xFF5E)
        code -= 0xFF01 - '!';
    return code == ',' && spec->kind == FIELD_FIGURES && is_figure(spec, '.') ? '.' : code;
}

bool field_takes(const struct field_spec *spec, uint32_t code, char ret_sentence[FIELD_NOTE_SIZE])
{
    code = as_meant(spec, code);
    if (code < ' ' || code == 0x7f)
        text_copy(ret_sentence, FIELD_NOTE_SIZE, "This key writes nothing.");
    else if (!field_is_figures(spec) || (code >= '0' && code <= '9') || is_number(spec, code) ||
             is_figure(spec, code))
        return true;
    else if (spec->kind == FIELD_FIGURES)
        snprintf(ret_sentence, FIELD_NOTE_SIZE, "Only digits and \"%s\" can be typed here.",
                 spec->others);
    else
        text_copy(ret_sentence, FIELD_NOTE_SIZE,
                  spec->highest > SHORT_NUMBER
                      ? "Only a number can be typed here, such as 1200, 12 000 or 12k."
                      : "Only digits can be typed here.");
    return false;
}

/* A list is typed as people write one, but its words stand side by side without blanks. */
static bool is_space_of_list(const char *list, uint32_t code)
{
    size_t used = strlen(list);
    return code == ' ' && (used == 0 || strchr(between, list[used - 1]) != NULL);
}

static void append(char *text, size_t size, uint32_t code)
{
    char glyph[8];
    size_t bytes = utf8_encode(code, glyph), used = strlen(text);
    if (used + bytes < size)
        memcpy(text + used, glyph, bytes + 1);
}

void field_add(const struct field_spec *spec, struct field *field, uint32_t code)
{
    if (spec->kind != FIELD_LIST || !is_space_of_list(field->value, code))
        append(field->value, sizeof field->value, as_meant(spec, code));
}

static void erase_last(char *text)
{
    size_t length = strlen(text);
    while (length > 0 && (text[--length] & 0xC0) == 0x80)
        continue;
    text[length] = '\0';
}

void field_erase(struct field *field)
{
    erase_last(field->choices != NULL ? field->begun : field->value);
}

/* Words by their beginning, in capital or small letters. */

static bool begins(const char *word, const char *beginning)
{
    const char *end = word;
    for (size_t left = utf8_count(beginning); left > 0 && *end != '\0'; left--)
        utf8_next(&end);
    return utf8_same_letters(word, (size_t)(end - word), beginning);
}

/* The word being typed: in a list the last one. */
static const char *word_typed(const struct field_spec *spec, const char *value)
{
    const char *word = value;
    for (const char *at = value; spec->kind == FIELD_LIST && *at != '\0'; at++)
        if (strchr(between, *at) != NULL)
            word = at + 1;
    return word;
}

/* The first known word that begins as `word` and goes on, or NULL; how many there are. */
static const char *known_word(const struct field *field, const char *word, int *ret_count)
{
    const char *first = NULL;
    *ret_count = 0;
    for (int i = 0; i < field->known_count && word[0] != '\0'; i++) {
        const char *known = field->known[i];
        if (!begins(known, word) || strcmp(known, word) == 0)
            continue;
        first = first != NULL ? first : known;
        ++*ret_count;
    }
    return first;
}

bool field_complete(const struct field_spec *spec, struct field *field)
{
    int count;
    const char *word = word_typed(spec, field->value);
    const char *known = known_word(field, word, &count);
    size_t before = (size_t)(word - field->value);
    if (known != NULL)
        text_copy(field->value + before, sizeof field->value - before, known);
    return known != NULL;
}

/* Choosing. */

static const char *word_of(const struct field *field, int choice)
{
    const char *word = field->choices[choice].word;
    return word[0] != '\0' ? word : "not said";
}

static bool matches(const struct field *field, int choice)
{
    return begins(word_of(field, choice), field->begun);
}

bool field_is_searched(const struct field *field)
{
    return field->choice_count > CHOSEN_BY_NUMBER && field->begun[0] != '\0';
}

int field_matches(const struct field *field)
{
    int count = 0;
    for (int i = 0; i < field->choice_count; i++)
        count += matches(field, i);
    return count;
}

void field_step(struct field *field, int by)
{
    for (int i = 0; i < field->choice_count; i++) {
        field->choice = (field->choice + by + field->choice_count) % field->choice_count;
        if (matches(field, field->choice))
            return;
    }
}

/* One more character of a beginning, or where all are in view the first of another one: the choice
 * stays where it still begins so, else it is the first that does. False where none does. */
static bool find(struct field *field, uint32_t code)
{
    char before[FIELD_NOTE_SIZE];
    text_copy(before, sizeof before, field->begun);
    append(field->begun, sizeof field->begun, code);
    if (field_matches(field) == 0 && field->choice_count <= CHOSEN_BY_NUMBER) {
        field->begun[0] = '\0';
        append(field->begun, sizeof field->begun, code);
    }
    if (field_matches(field) == 0) {
        text_copy(field->begun, sizeof field->begun, before);
        return false;
    }
    if (before[0] == '\0') {
        field->choice = field->choice_count - 1;
        field_step(field, 1);
    } else if (!matches(field, field->choice)) {
        field_step(field, 1);
    }
    return true;
}

static void say_how_to_choose(const struct field *field, uint32_t code,
                              char ret_sentence[FIELD_NOTE_SIZE])
{
    char typed[8];
    utf8_encode(code, typed);
    if (field->choice_count == 1)
        text_copy(ret_sentence, FIELD_NOTE_SIZE, "There is only this one to choose.");
    else if (field->choice_count <= CHOSEN_BY_NUMBER)
        snprintf(ret_sentence, FIELD_NOTE_SIZE,
                 "Choose with Space, a number from 1 to %d, or the beginning of a word.",
                 field->choice_count);
    else
        snprintf(ret_sentence, FIELD_NOTE_SIZE,
                 "None begins with \"%.60s%s\"; erase with Backspace or -, or choose with Right.",
                 field->begun, typed);
}

bool field_choose(struct field *field, uint32_t code, char ret_sentence[FIELD_NOTE_SIZE])
{
    bool by_number = field->choice_count <= CHOSEN_BY_NUMBER && field->begun[0] == '\0';
    if (field->choice_count == 0)
        text_copy(ret_sentence, FIELD_NOTE_SIZE, "There is nothing to choose from.");
    if (field->choice_count == 0)
        return false;
    if (by_number && code >= '1' && code < '1' + (uint32_t)field->choice_count) {
        field->choice = (int)(code - '1');
        return true;
    }
    bool steps = code == '+' || code == ' ';
    if ((!steps || field->begun[0] != '\0') && code >= ' ' && find(field, code))
        return true;
    if (steps)
        field_step(field, 1);
    else
        say_how_to_choose(field, code, ret_sentence);
    return steps;
}

/* Drawing. */

static void write_day(const char *day, const char *typed, const char *today,
                      char ret_text[FIELD_NOTE_SIZE])
{
    const char *when = strcmp(day, today) > 0 ? ", still to come" : "";
    if (strcmp(day, typed) == 0)
        snprintf(ret_text, FIELD_NOTE_SIZE, "%s%s", date_weekday(day), when);
    else
        snprintf(ret_text, FIELD_NOTE_SIZE, "= %.10s, %s%s", day, date_weekday(day), when);
}

static void write_number(const struct field_spec *spec, const char *digits, const char *typed,
                         char ret_text[FIELD_NOTE_SIZE])
{
    char grouped[NUMBER_SIZE];
    int64_t number = 0;
    number_whole(digits, spec->lowest, spec->highest, &number);
    number_grouped(number, grouped);
    if (strcmp(grouped, typed) != 0)
        snprintf(ret_text, FIELD_NOTE_SIZE, "= %s", grouped);
}

static void write_known(const struct field_spec *spec, const struct field *field,
                        char ret_text[FIELD_NOTE_SIZE])
{
    int count;
    const char *known = known_word(field, word_typed(spec, field->value), &count);
    if (count == 1)
        snprintf(ret_text, FIELD_NOTE_SIZE, "Right takes %.80s", known);
    else if (count > 1)
        snprintf(ret_text, FIELD_NOTE_SIZE, "Right takes %.80s; %d begin so", known, count);
}

/* What the line was taken for where that is not what stands there: "= 2026-06-14, Sunday", "=
 * 120 000"; or which known word it may become. */
static void write_meaning(const struct field_spec *spec, const struct field *field,
                          const char *today, enum field_cursor cursor,
                          char ret_text[FIELD_NOTE_SIZE])
{
    char value[FORM_VALUE_SIZE];
    struct err err;
    ret_text[0] = '\0';
    bool right = field_understand(spec, field, today, value, &err) && value[0] != '\0';
    if (right && spec->kind == FIELD_NUMBER)
        write_number(spec, value, field->value, ret_text);
    else if (right && spec->kind == FIELD_DAY_OR_YEAR && is_year(value))
        text_copy(ret_text, FIELD_NOTE_SIZE, "the year alone");
    else if (right && (spec->kind == FIELD_DAY || spec->kind == FIELD_DAY_OR_YEAR))
        write_day(value, field->value, today, ret_text);
    else if (cursor == CURSOR_AT_END)
        write_known(spec, field, ret_text);
    else if (cursor == CURSOR_OVER && field->value[0] != '\0' &&
             (spec->kind == FIELD_TEXT || spec->kind == FIELD_LIST))
        text_copy(ret_text, FIELD_NOTE_SIZE, "typing replaces it");
}

/* The end of a long line stays in sight: that is where the cursor is. */
static void draw_line(struct grid *grid, int row, int column, const struct field_spec *spec,
                      const struct field *field, const char *today, enum field_cursor cursor)
{
    char meaning[FIELD_NOTE_SIZE];
    int room = grid->columns - column - 2;
    const char *shown = field->value;
    while (utf8_width(shown) > room)
        utf8_next(&shown);
    bool over = cursor == CURSOR_OVER && shown[0] != '\0';
    int used = grid_put(grid, row, column, room, over ? STYLE_CURSOR : STYLE_STRONG, shown);
    if (cursor != CURSOR_ELSEWHERE && !over)
        grid_put(grid, row, column + used, 1, STYLE_CURSOR, "_");
    write_meaning(spec, field, today, cursor, meaning);
    if (used == 0 && spec->hint != NULL)
        grid_put(grid, row, column + 2, room - 2, STYLE_QUIET, spec->hint);
    else if (used + 3 < room)
        grid_put(grid, row, column + used + 3, room - used - 3, STYLE_QUIET, meaning);
}

/* Two columns between words hold the brackets of either; where there is less room, one for both. */
static int choices_width(const struct field *field, int gap)
{
    int width = gap > 1 ? 0 : 1;
    for (int i = 0; i < field->choice_count; i++)
        width += utf8_width(word_of(field, i)) + gap;
    return width;
}

/* All choices side by side, the one chosen in brackets. */
static void draw_all(struct grid *grid, int row, int column, const struct field *field, int gap,
                     enum style style)
{
    for (int i = 0; i < field->choice_count; i++) {
        const char *word = word_of(field, i);
        if (i == field->choice)
            grid_putf(grid, row, column, -1, style, "[%s]", word);
        else
            grid_put(grid, row, column + 1, -1, STYLE_QUIET, word);
        column += utf8_width(word) + gap;
    }
}

/* Only the one chosen, behind what was typed to find it. */
static void draw_one(struct grid *grid, int row, int column, const struct field *field,
                     enum style style)
{
    bool searched = field->begun[0] != '\0';
    if (searched)
        column += grid_putf(grid, row, column, -1, STYLE_STRONG, "%s_  ", field->begun);
    column += grid_putf(grid, row, column, grid->columns - column - 16, style, "[%s]",
                        word_of(field, field->choice));
    if (searched)
        grid_putf(grid, row, column + 2, -1, STYLE_QUIET, "%d begin so", field_matches(field));
    else
        grid_putf(grid, row, column + 2, -1, STYLE_QUIET, "%d of %d", field->choice + 1,
                  field->choice_count);
}

void field_draw(struct grid *grid, int row, int column, const struct field_spec *spec,
                const struct field *field, const char *today, enum field_cursor cursor)
{
    enum style style = cursor != CURSOR_ELSEWHERE ? STYLE_CURSOR : STYLE_STRONG;
    int room = grid->columns - column - 1;
    if (field->choices == NULL)
        draw_line(grid, row, column, spec, field, today, cursor);
    else if (field->choice_count == 0)
        grid_put(grid, row, column, -1, STYLE_QUIET, "nothing to choose from");
    else if (choices_width(field, 2) <= room)
        draw_all(grid, row, column, field, 2, style);
    else if (choices_width(field, 1) <= room)
        draw_all(grid, row, column, field, 1, style);
    else
        draw_one(grid, row, column, field, style);
}
