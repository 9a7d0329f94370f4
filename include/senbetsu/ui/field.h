/* A line of a form: a text, several words, a number, a day, or one of some choices. People write
 * numbers and days in their own ways; a line says at once how it understood what stands in it. */
#ifndef SENBETSU_UI_FIELD_H
#define SENBETSU_UI_FIELD_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/term.h"
#include "senbetsu/ui/grid.h"

#include <stdint.h>

enum { FORM_VALUE_SIZE = 4 * 200 + 1, FIELD_NOTE_SIZE = 160 };

/* What can be typed into a line. */
enum field_kind {
    FIELD_TEXT,
    FIELD_LIST,        /* several words, separated by ';'; a comma is taken for one */
    FIELD_NUMBER,      /* a whole number from `lowest` to `highest`, as number_typed reads it */
    FIELD_DAY,         /* a day, as date_typed reads it */
    FIELD_DAY_OR_YEAR, /* the same, or four digits: the year alone */
    FIELD_FIGURES,     /* digits and the characters of `others` */
};

struct field_spec {
    const char *label;
    const char *hint; /* beside an empty line; may be NULL */
    enum field_kind kind;
    bool required;
    int64_t lowest, highest;
    const char *others;
    /* Checks what the line says, as it was understood: trimmed, a number in digits, a day as
     * "2026-06-14". The sentence says what is expected. NULL = no check. An empty line is not
     * checked: it is valid unless it is required. */
    bool (*check)(const char *value, struct err *err);
    const struct term *choices; /* NULL = a line to type in */
    int choice_count;
};

struct field {
    char value[FORM_VALUE_SIZE];
    const struct term *choices; /* as the spec has them, or the caller's own */
    int choice_count;
    int choice;
    char begun[FIELD_NOTE_SIZE];    /* what was typed to find a choice by its beginning */
    char (*known)[FIELD_NOTE_SIZE]; /* words that a line to type in is likely to want; the field's
                                       own, NULL = none */
    int known_count;
    char wrong[ERR_TEXT_SIZE]; /* why the line cannot be taken, "" = nothing is known against it */
    bool typed;                /* by hand, since the form was opened */
    bool refused; /* by the form's owner, who alone knows why: stands until the line is changed */
};

/* What the line says, as its readers want it: see field_spec.check; "" of an empty line and of
 * choices. False with a sentence where it cannot be taken. `today` is a valid date where days can
 * be typed. */
bool field_understand(const struct field_spec *spec, const struct field *field, const char *today,
                      char ret_value[FORM_VALUE_SIZE], struct err *err);

/* Typing. Where the character cannot stand in such a line, false with a sentence. */
bool field_takes(const struct field_spec *spec, uint32_t code, char ret_sentence[FIELD_NOTE_SIZE]);
void field_add(const struct field_spec *spec, struct field *field, uint32_t code);
/* Takes back the last character typed. */
void field_erase(struct field *field);
/* Is minus a way to erase here, since it cannot be typed? */
bool field_is_figures(const struct field_spec *spec);
/* Does typing go on at the end when the cursor comes back to what was typed by hand? A number or a
 * day is given anew, a text, a list or figures may be long. */
bool field_goes_on(const struct field_spec *spec, const struct field *field);
/* Completes the word being typed to the first known one that begins so; false where there is none.
 */
bool field_complete(const struct field_spec *spec, struct field *field);

/* Choosing. A digit is the place of one of up to nine choices; anything else types the beginning of
 * one, and Space and + go to the next. False with a sentence where nothing comes of it. */
bool field_choose(struct field *field, uint32_t code, char ret_sentence[FIELD_NOTE_SIZE]);
/* To the next or previous choice, among those that begin as typed. */
void field_step(struct field *field, int by);
/* Is one of many choices looked for by its beginning? Up to nine are all in view. */
bool field_is_searched(const struct field *field);
/* How many choices begin as typed. */
int field_matches(const struct field *field);

/* How the line is drawn. */
enum field_cursor {
    CURSOR_ELSEWHERE,
    CURSOR_OVER, /* typing replaces what stands there */
    CURSOR_AT_END,
};

/* From `column` to the right edge of a row: what stands in the line and what it was taken for. */
void field_draw(struct grid *grid, int row, int column, const struct field_spec *spec,
                const struct field *field, const char *today, enum field_cursor cursor);

#endif
