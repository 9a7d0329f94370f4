/* A small form: labelled lines to type in, choices to step through, and a sentence under each line
 * that cannot be taken. Which lines there are is a table of the caller's. */
#ifndef SENBETSU_UI_FORM_H
#define SENBETSU_UI_FORM_H

#include "senbetsu/base/date.h"
#include "senbetsu/ui/field.h"
#include "senbetsu/ui/frame.h"

enum { FORM_FIELDS = 12, FORM_BELOW_SIZE = 640 };

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
    char replaced[FORM_VALUE_SIZE]; /* what stood in the current line before typing replaced it */
    char today[DATE_SIZE];          /* for lines in which a day can be typed */
    enum form_request request;
    char message[ERR_TEXT_SIZE]; /* at the foot, until the next key */
    form_check
        *check; /* called with `owner`; NULL = the lines have nothing to do with each other */
    void *owner;
    char below[FORM_BELOW_SIZE]; /* the caller's: lines under the form, the first one stands out */
};

extern const struct key_table form_keys;

/* `title`, `specs` and the choices must outlive the form. */
void form_init(struct form *form, const char *title, const struct field_spec *specs, int count);

/* Frees what was suggested. A form without suggestions needs it no more than a plain struct. */
void form_done(struct form *form);

void form_set(struct form *form, int field, const char *value);
/* Nothing is written for `unknown`. */
void form_set_number(struct form *form, int field, int64_t number, int64_t unknown);
/* Other choices than the spec's; they must outlive the form. */
void form_offer(struct form *form, int field, const struct term *choices, int count, int choice);
/* A word that this line to type in is likely to want: the first that begins as what is typed can be
 * taken with a key. A word that is empty or was suggested before adds nothing. */
void form_suggest(struct form *form, int field, const char *word);

/* What a line says, as its readers want it (field_spec.check), or as it stands where that cannot be
 * understood; of choices the word. When the form is accepted this is what `value` holds. */
const char *form_text(const struct form *form, int field, char ret_text[FORM_VALUE_SIZE]);
/* The number in a line, or `unknown` where there is none. */
int64_t form_number(const struct form *form, int field, int64_t unknown);

/* Puts a sentence under a field and the cursor on it, until that line is changed; field -1 = at the
 * foot of the screen, until the next key. */
void form_refuse(struct form *form, int field, const char *sentence);

/* Does what the key says. Typing replaces what was offered in a line; after Right, End or Backspace
 * it goes on there, and so it does in a text that was typed by hand before. A line is checked when
 * it is left: one that is wrong says so until it is right, while the hand types on; the form is
 * accepted only when all are right, else the cursor goes to the first that is not. Minus goes
 * backward: in a number that is being typed it erases a digit, in other lines that are being typed
 * it is a character (and so it is at the beginning of a day: -2); else it goes to the line above,
 * and from the first line leaves the form. Leaving asks once where something was typed. A key that
 * does nothing says so. On FORM_ACCEPT every line holds what it was understood as. */
enum form_request form_key(struct form *form, struct key key);

/* As many lines as there is room for, around the current one; how many more there are stands on the
 * rules above and below. */
void form_draw(struct grid *grid, const struct form *form);

#endif
