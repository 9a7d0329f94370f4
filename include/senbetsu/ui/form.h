/* A small form: labelled lines to type in, choices to step through, and a sentence under the line
 * that cannot be taken. Which lines there are is a table of the caller's. */
#ifndef SENBETSU_UI_FORM_H
#define SENBETSU_UI_FORM_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/term.h"
#include "senbetsu/ui/frame.h"

enum { FORM_FIELDS = 12, FORM_VALUE_SIZE = 4 * 200 + 1, FORM_BELOW_SIZE = 640 };

/* What can be typed into a line. */
enum field_kind {
    FIELD_TEXT,
    FIELD_LIST,    /* several words, separated by ';' without blanks */
    FIELD_NUMBER,  /* a whole number from `lowest` to `highest` */
    FIELD_FIGURES, /* digits and the characters of `others` */
};

struct field_spec {
    const char *label;
    const char *hint; /* beside an empty line; may be NULL */
    enum field_kind kind;
    bool required;
    int64_t lowest, highest;
    const char *others;
    /* Checks what was typed; the sentence says what is expected. NULL = no check. An empty line is
     * not checked: it is valid unless it is required. */
    bool (*check)(const char *value, struct err *err);
    const struct term *choices; /* NULL = a line to type in */
    int choice_count;
};

struct field {
    char value[FORM_VALUE_SIZE];
    const struct term *choices; /* as the spec has them, or the caller's own */
    int choice_count;
    int choice;
};

/* What a key asks the form's owner for. */
enum form_request { FORM_STAY, FORM_ACCEPT, FORM_LEAVE, FORM_HELP };

struct form;

/* Checks a line that is right by itself beside the others of its form. */
typedef bool form_check(void *owner, const struct form *form, int field, struct err *err);

struct form {
    const char *title;
    const struct field_spec *specs;
    struct field fields[FORM_FIELDS];
    int count;
    int current;
    bool edited;  /* the current line, since the cursor came to it */
    bool changed; /* any line, since the form was opened */
    bool leaving; /* the user was asked whether to leave and lose what was typed */
    enum form_request request;
    int wrong; /* the field that `message` stands under; -1 = at the foot */
    char message[ERR_TEXT_SIZE];
    form_check
        *check; /* called with `owner`; NULL = the lines have nothing to do with each other */
    void *owner;
    char below[FORM_BELOW_SIZE]; /* the caller's: lines under the form, the first one stands out */
};

extern const struct key_table form_keys;

void form_init(struct form *form, const char *title, const struct field_spec *specs, int count);

void form_set(struct form *form, int field, const char *value);
/* Nothing is written for `unknown`. */
void form_set_number(struct form *form, int field, int64_t number, int64_t unknown);
/* Other choices than the spec's; they must outlive the form. */
void form_offer(struct form *form, int field, const struct term *choices, int count, int choice);

/* The number in a checked field, or `unknown` where it is empty. */
int64_t form_number(const struct form *form, int field, int64_t unknown);

/* Puts a sentence under a field and the cursor on it; field -1 = at the foot of the screen. */
void form_refuse(struct form *form, int field, const char *sentence);

/* Does what the key says. Minus goes backward: in a number that is being typed it erases a digit,
 * in other lines that are being typed it is a character; else it goes to the line above, and from
 * the first line leaves the form, after asking where something would be lost. Enter reports a wrong
 * line at once and moves to the next; the sentence stays until that line is corrected. Typing
 * replaces a number that was already there. A key that does nothing says so. FORM_ACCEPT is
 * returned only when every field is valid; the caller then acts on it. */
enum form_request form_key(struct form *form, struct key key);

void form_draw(struct grid *grid, const struct form *form);

#endif
