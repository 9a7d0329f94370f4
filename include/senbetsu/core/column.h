/* The columns of a record. Each kind of record (a parent, a spawning, …) has one table of them; the
 * files that are read and written, the forms on screen, the audit log and the ledger's SQL all go
 * by that table, so that a new fact about a fish is one new row there. */
#ifndef SENBETSU_CORE_COLUMN_H
#define SENBETSU_CORE_COLUMN_H

#include "senbetsu/base/date.h"
#include "senbetsu/base/err.h"
#include "senbetsu/core/code.h"
#include "senbetsu/core/count.h"
#include "senbetsu/core/terms.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { YEAR_LOWEST = 1900, YEAR_HIGHEST = 2199 };

/* What stands in a column, and the type of the member that holds it. */
enum column_kind {
    COLUMN_CODE,    /* char[CODE_SIZE]: a code, as code_check takes it */
    COLUMN_VARIETY, /* char[CODE_SIZE]: the name of a variety */
    COLUMN_DAM,     /* char[CODE_SIZE]: the code of a female parent */
    COLUMN_SIRE,    /* char[CODE_SIZE]: the code of a male parent */
    COLUMN_CODES,   /* char[CODES_SIZE]: one code or several */
    COLUMN_SIRES,   /* char[CODES_SIZE]: the codes of male parents, each once */
    COLUMN_TERM,    /* an enum: a word of a closed list */
    COLUMN_WHOLE,   /* int or int64_t: a whole number within bounds */
    COLUMN_CV,      /* int: a relative standard error from 0 to 1, kept in millionths */
    COLUMN_DAY,     /* char[DATE_SIZE]: "2026-06-14" */
    COLUMN_NOTE,    /* char[NOTE_SIZE]: one line of at most 200 characters */
};

struct column {
    const char *name;  /* in files and in the audit log */
    const char *sql;   /* in the ledger, where it has another name there */
    const char *label; /* on the form; NULL = the form does not ask for it */
    const char *hint;  /* on the form, beside an empty line */
    enum column_kind kind;
    bool required;
    bool form_required; /* required on the form; a file may leave it out and keep what the ledger
                           has */
    size_t at, size;    /* where the member is */
    const struct term *terms; /* of COLUMN_TERM */
    int term_count;
    int64_t lowest, highest; /* of COLUMN_WHOLE */
    int64_t unknown;         /* what a number or a term holds while nothing is known */
};

/* The place of a member, as COLUMN_AT(struct parent, born). */
#define COLUMN_AT(record, member)                                                                  \
    .at = offsetof(record, member), .size = sizeof(((record *)NULL)->member)
#define COLUMN_WORDS(words)                                                                        \
    .kind = COLUMN_TERM, .terms = (words), .term_count = (int)(sizeof(words) / sizeof *(words))
#define COLUMN_YEAR .kind = COLUMN_WHOLE, .lowest = YEAR_LOWEST, .highest = YEAR_HIGHEST
#define COLUMN_OF_VARIETY .hint = "Kohaku or 紅白", .kind = COLUMN_VARIETY
#define COLUMN_FISH .kind = COLUMN_WHOLE, .lowest = 0, .highest = FISH_MOST, .unknown = NOT_COUNTED

/* Reads what stands in a file or was typed; an empty text leaves the member as it is. False with a
 * sentence such as "a whole number from 1900 to 2199 is expected, not "x"."; the caller says where
 * that was. */
bool column_parse(const struct column *column, const char *text, void *record, struct err *err);

/* The member as files have it, "" while it is unknown. Points into `buffer` or the record. */
const char *column_text(const struct column *column, const void *record, char buffer[CODES_SIZE]);

/* A number, or the index of a term. */
int64_t column_number(const struct column *column, const void *record);
void column_set_number(const struct column *column, void *record, int64_t number);

/* The kinds that are text. */
bool column_is_text(const struct column *column);

bool column_known(const struct column *column, const void *record);
bool column_equal(const struct column *column, const void *a, const void *b);

/* Makes all members of the table unknown. */
void columns_init(const struct column *columns, int count, void *record);

/* Fills members that are unknown in `record` from `known`. */
void columns_merge(const struct column *columns, int count, const void *known, void *record);

bool columns_equal(const struct column *columns, int count, const void *a, const void *b);

#endif
