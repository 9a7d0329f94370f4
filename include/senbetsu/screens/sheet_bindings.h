/* The keys of the sheet and the tally in one table. */
#ifndef SENBETSU_SCREENS_SHEET_BINDINGS_H
#define SENBETSU_SCREENS_SHEET_BINDINGS_H

#include "senbetsu/base/text.h"
#include "senbetsu/ui/keys.h"

/* Modes in which a key can mean something of its own. */
enum context {
    CONTEXT_SHEET,      /* SHEET_JUDGE */
    CONTEXT_SHEET_PICK, /* SHEET_PICK_FAULT, SHEET_PICK_ASPECT: digits */
    CONTEXT_SHEET_MENU,
    CONTEXT_SHEET_CHOICE, /* ready notes, verdicts, reasons: digits */
    CONTEXT_SHEET_LINE,   /* typing */
    CONTEXT_TALLY,        /* TALLY_COUNTING */
    CONTEXT_TALLY_FURTHER,
    CONTEXT_TALLY_MENU,
    CONTEXT_TALLY_SIZE,
    CONTEXT_COUNT,
};

/* A row without a help line is one more key of the row above it. */
struct binding {
    enum context context;
    struct key key; /* KEY_NONE = only told in help: keys that another table gives */
    int action;     /* meaning given by the context's own enum */
    int number;     /* passed on with the action */
    const char
        *name; /* the key as people read it: "Enter", "-", "u"; NULL = the row above names it */
    const char *label; /* in the footer; NULL = only in help */
    const char *help;  /* one line */
};

extern const struct binding bindings[];
extern const int binding_count;

/* The row of this key in this context, or NULL. */
const struct binding *binding_find(enum context context, struct key key);

/* One sentence on a key that means nothing in this context: "z does nothing here; ? shows the
 * keys.", or how to go back where there is no help. */
void binding_absent(enum context context, struct key key, char ret_sentence[NO_KEY_SIZE]);

/* A context's heading in help and README: "At the fish". */
const char *context_title(enum context context);

/* The footer of a context on `rows` rows from `row` down: key and label, as many as fit, in table
 * order. */
void footer_draw(struct grid *grid, int row, int rows, enum context context);

/* The help screen of a context, and the README's list as Markdown (all contexts). */
void help_draw(struct grid *grid, enum context context);
void bindings_markdown(struct text *out);

#endif
