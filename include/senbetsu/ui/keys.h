/* Keys, and what they do on a screen: one table a screen, from which dispatch, footer, help page,
 * the sentence on a key that does nothing, and the README's list of keys are all made. A row says
 * it all, so that adding a key is adding a row. */
#ifndef SENBETSU_UI_KEYS_H
#define SENBETSU_UI_KEYS_H

#include "senbetsu/base/text.h"
#include "senbetsu/ui/grid.h"
#include <stdbool.h>
#include <stdint.h>

/* A key press, or something else that woke the terminal. */
enum key_kind {
    KEY_NONE,      /* nothing came within the time given */
    KEY_CHARACTER, /* `code` */
    KEY_RETURN,
    KEY_ERASE,
    KEY_ESCAPE,
    KEY_TABULATOR,
    KEY_BACKTAB,
    KEY_ARROW_UP,
    KEY_ARROW_DOWN,
    KEY_ARROW_LEFT,
    KEY_ARROW_RIGHT,
    KEY_FIRST, /* Home */
    KEY_LAST,  /* End */
    KEY_PAGE_UP,
    KEY_PAGE_DOWN,
    KEY_REMOVE,   /* Delete */
    KEY_FUNCTION, /* `code` = 1 for F1 … */
    KEY_RESIZED,  /* the terminal has another size */
    KEY_HANGUP,   /* the line is cut or the program was told to end */
};

struct key {
    enum key_kind kind;
    uint32_t code;
};

/* What the screens run in; the toolkit passes it on and never looks into it. */
struct app;

/* Carries a key out. `number` is the row's, and where the row has a range of keys as "1–9" it is
 * counted on from there: 4 does what 1 does, with a number 3 higher. */
typedef void key_handler(struct app *app, void *state, int number);

struct key_row {
    /* The keys as people read them, separated by blanks: "Enter", "- u", "Up 8 k", "1–9". */
    const char *keys;
    const char *label;    /* in the footer, beside the first key; NULL = only in help */
    const char *help;     /* one line */
    key_handler *handler; /* NULL = told in help only: the screen itself sees to such keys */
    int number;
    const struct key_table *shared; /* instead of all this: the rows of another table come here */
};

struct key_table {
    const char *title; /* over its help page and in README: "At the fish"; NULL in shared tables */
    const struct key_row *rows;
    size_t count;
};

/* The table of these rows. */
#define KEY_TABLE(heading, its_rows)                                                               \
    {                                                                                              \
        .title = (heading), .rows = (its_rows), .count = sizeof(its_rows) / sizeof(its_rows)[0]    \
    }

/* The row of this key and its number, or NULL. */
const struct key_row *keys_find(const struct key_table *table, struct key key, int *ret_number);

/* One sentence on a key that means nothing here: "z does nothing here; ? shows the keys.", or how
 * to go back where there is no help. */
enum { NO_KEY_SIZE = 80 };
void keys_absent(const struct key_table *table, struct key key, char ret_sentence[NO_KEY_SIZE]);

/* Key and label on `rows` rows from `row` down, as many as fit, in table order. */
void keys_footer(struct grid *grid, int row, int rows, const struct key_table *table);

/* A page of the help, counted from 0. True: there is a further one. */
bool keys_help(struct grid *grid, const struct key_table *table, int page);

/* The same as a section of Markdown. */
void keys_markdown(const struct key_table *table, struct text *out);

/* The key with this name: "Enter", "F1", "-"; KEY_NONE where there is none. A name of several
 * characters that is no key's, such as a range, has none. */
struct key key_named(const char *name);

/* Do the rows of `shared` belong to the table? */
bool keys_share(const struct key_table *table, const struct key_table *shared);

/* Calls `each` for every row, those of shared tables in their places. */
void keys_each(const struct key_table *table,
               void (*each)(void *context, const struct key_row *row), void *context);

#endif
