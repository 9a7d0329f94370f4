/* A standard, for a variety at one stage: aspects with weights and floors, faults with their
 * effects, and the thresholds that turn a score into a verdict.
 *
 * Limits are small on purpose: a person scores a handful of aspects per fish, and faults fit the
 * bits of one word. */
#ifndef SENBETSU_CORE_STANDARD_H
#define SENBETSU_CORE_STANDARD_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/code.h"
#include "senbetsu/core/terms.h"

enum {
    STANDARD_ASPECTS = 24, /* at most */
    STANDARD_FAULTS = 26,  /* at most; a set of them fits a 32-bit word */
    STANDARD_VARIETIES = 512,
};

/* The letters a standard may give to an aspect or a fault: the others belong to the sheet itself
 * (a test holds them against its table of keys). Capital letters are all free. */
#define STANDARD_SMALL_LETTERS "acdefhijkorswxyz"

enum fault_effect { EFFECT_REJECT, EFFECT_HOLD, EFFECT_DEDUCT };

struct aspect {
    char code[CODE_CHARACTERS + 1];
    char label[LABEL_SIZE];
    int weight;               /* 1 to 100 */
    int floor;                /* lowest score that passes; NO_FLOOR where there is none */
    enum verdict below_floor; /* VERDICT_REJECT or VERDICT_HOLD */
    char key;                 /* the letter that goes to it, 0 = the sheet chooses one */
};

enum { NO_FLOOR = -1 };

struct fault {
    char code[CODE_CHARACTERS + 1];
    char label[LABEL_SIZE];
    enum fault_effect effect;
    int deduction; /* hundredths of a point, with EFFECT_DEDUCT */
    char key;
};

struct standard {
    char name[CODE_SIZE];
    char varieties[STANDARD_VARIETIES]; /* one variety, or several separated by ", " */
    char note[NOTE_SIZE];               /* where it comes from and how sure that is; may be empty */
    enum stage stage;
    int lowest, highest; /* scores: 0–9 or 1–10, where the key 0 stands for 10 */
    int typical;
    int keep_at, hold_at; /* hundredths of a point, 0 to 10000, hold_at <= keep_at */
    int aspect_count;     /* 1 or more */
    struct aspect aspects[STANDARD_ASPECTS];
    int fault_count;
    struct fault faults[STANDARD_FAULTS];
};

/* Index by code, or -1. */
int standard_aspect(const struct standard *standard, const char *code);
int standard_fault(const struct standard *standard, const char *code);

/* Does the standard apply to this variety? Letter case does not matter. */
bool standard_serves(const struct standard *standard, const char *variety);

/* Takes the first name off a standard's varieties: `*list` goes on to what follows. False at its
 * end. */
bool standard_next_variety(const char **list, char ret_name[CODE_SIZE]);

/* Names it, unless it is named already. False where there is no room. */
bool standard_add_variety(struct standard *standard, const char *name);

/* Same content, whatever the name's version: used to see whether an import changes anything. */
bool standard_equal(const struct standard *a, const struct standard *b);

/* Reads the text form (INI, docs/standards/README.md). `file` names the source in error sentences,
 * which carry the line: "kikusui.ini, line 12: weight is 0; a whole number from 1 to 100 is
 * expected." `ret` is untouched on failure. */
bool standard_parse(const char *text, size_t length, const char *file, struct standard *ret,
                    struct err *err);

/* Writes the text form; parsing it again gives an equal standard. */
void standard_write(const struct standard *standard, struct text *out);

#endif
