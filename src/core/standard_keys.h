/* The keys of a standard's text form and how their values are read; private to the layer. */
#ifndef SENBETSU_CORE_STANDARD_KEYS_H
#define SENBETSU_CORE_STANDARD_KEYS_H

#include "senbetsu/core/standard.h"

enum {
    STANDARD_LINE_BYTES = 1024, /* the longest line taken; the longest note needs 800 bytes */
    STANDARD_KEYS = 9,          /* no section has more */
};

/* Where the text is read, and what it is read into. */
struct standard_input {
    const char *file;
    int line; /* the line in hand, from 1 */
    struct err *err;
    bool failed;
    struct standard *standard;
    struct aspect *aspect; /* the one whose section is being read, or NULL */
    struct fault *fault;   /* likewise */
    int letter_lines[128]; /* by letter: the line that gave it away, 0 = it is free */
};

/* A key of a section: `set` reads its value and refuses it with a sentence. */
struct standard_key {
    const char *name;
    bool required;
    bool (*set)(struct standard_input *input, const struct standard_key *key, const char *value);
};

/* Each list ends in a key without a name. */
extern const struct standard_key standard_keys[], aspect_keys[], fault_keys[];

/* Index by name, or -1. */
int standard_key_index(const struct standard_key *keys, const char *name);

/* Fills the error with "FILE, line N: …", marks the input as failed and returns false. */
bool standard_refuse(struct standard_input *input, int line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* "weight is 0; a whole number from 1 to 100 is expected." */
bool standard_refuse_value(struct standard_input *input, int line, const char *name,
                           const char *value, const char *expected);

#endif
