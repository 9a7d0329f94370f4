/* How a failure travels: a code for the program and one whole sentence for the person.
 *
 * The code is for the program (retry, exit status), the sentence for the person; nothing ever
 * parses the sentence. */
#ifndef SENBETSU_BASE_ERR_H
#define SENBETSU_BASE_ERR_H

#include <stdbool.h>

enum err_code {
    ERR_NONE,
    ERR_USAGE,     /* the command line is wrong: exit status 2 */
    ERR_INPUT,     /* a file or a field says something that cannot be taken */
    ERR_ABSENT,    /* a named spawning, round, standard … is not in the ledger */
    ERR_EXISTS,    /* a file of this name is there and was not to be replaced */
    ERR_BUSY,      /* another program holds the ledger; trying again may help */
    ERR_LEDGER,    /* a file that is no ledger, or one that this program cannot work with */
    ERR_DAMAGE,    /* proven: what the file holds is not what was written to it */
    ERR_GONE,      /* the ledger was moved, deleted or replaced while it was open */
    ERR_UNCERTAIN, /* saving failed in such a way that the change may be in the ledger all the same
                    */
    ERR_FULL,      /* no room on the disk */
    ERR_IO,        /* the disk reports errors */
    ERR_READONLY,
    ERR_PERMISSION,
    ERR_SYSTEM, /* the machine refused something else: no such file, no memory */
};

enum { ERR_TEXT_SIZE = 512 };

struct err {
    enum err_code code;
    char text[ERR_TEXT_SIZE];
};

/* Fills `err` (which may be NULL) and returns false, so that a function can end with
 * `return err_set(err, …)`. A sentence that is too long is cut at a whole character; marks stand
 * for characters that cannot be shown (utf8_shown). */
bool err_set(struct err *err, enum err_code code, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* What an errno of the operating system means: ERR_FULL, ERR_IO, ERR_READONLY, ERR_PERMISSION, else
 * ERR_SYSTEM. */
enum err_code err_class(int cause);

/* Puts `prefix` (a place such as "fish.csv, line 7") and ": " before the sentence. Returns false.
 */
bool err_at(struct err *err, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
