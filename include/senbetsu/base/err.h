/* How a failure travels: a code for the program and one whole sentence for the person.
 *
 * The code is for the program (retry, exit status), the sentence for the person; nothing ever
 * parses the sentence. */
#ifndef SENBETSU_BASE_ERR_H
#define SENBETSU_BASE_ERR_H

#include <stdbool.h>

enum err_code {
    ERR_NONE,
    ERR_USAGE,  /* the command line is wrong: exit status 2 */
    ERR_INPUT,  /* a file or a field says something that cannot be taken */
    ERR_ABSENT, /* a named spawning, round, standard … is not in the ledger */
    ERR_EXISTS, /* a file of this name is there and was not to be replaced */
    ERR_BUSY,   /* another program holds the ledger; trying again may help */
    ERR_LEDGER, /* the ledger itself cannot be used */
    ERR_SYSTEM, /* the machine refused: no such file, no space, no right */
};

enum { ERR_TEXT_SIZE = 512 };

struct err {
    enum err_code code;
    char text[ERR_TEXT_SIZE];
};

/* Fills `err` (which may be NULL) and returns false, so that a function can end with
 * `return err_set(err, …)`. A sentence that is too long is cut at a whole character. */
bool err_set(struct err *err, enum err_code code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Puts `prefix` (a place such as "fish.csv, line 7") and ": " before the sentence. Returns false.
 */
bool err_at(struct err *err, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
