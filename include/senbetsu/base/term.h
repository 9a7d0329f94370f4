/* Closed lists of words: one table each, from which parsing, printing, choices in forms and the
 * ledger's text columns all derive. */
#ifndef SENBETSU_BASE_TERM_H
#define SENBETSU_BASE_TERM_H

#include <stddef.h>

/* One word of a list: `word` in files and ledger, `gloss` a few words for people (the Japanese term
 * where the trade has one). */
struct term {
    const char *word;
    const char *gloss;
};

/* The index of `word` in a list of `count` terms, or -1. */
int term_find(const struct term *terms, int count, const char *word);

/* "black, first, second or harvest": the words for an error sentence, empty ones left out. */
const char *term_list(const struct term *terms, int count, char *buffer, size_t size);

#endif
