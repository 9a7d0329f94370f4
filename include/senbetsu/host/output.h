/* Where a finished text goes. Each call writes all of it or fails with one sentence. */
#ifndef SENBETSU_HOST_OUTPUT_H
#define SENBETSU_HOST_OUTPUT_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>
#include <stdint.h>

bool output_standard(const struct text *text, struct err *err);

/* One sentence on standard error, beside what goes out. */
void output_note(const char *sentence);

/* "Checking … 40 %" in one line of its own on standard error, where that is a terminal; NULL takes
 * the line away again. */
void output_progress(const char *what, int64_t done, int64_t of);

/* Is standard output a terminal? Then nothing is broken into pages. */
bool output_is_terminal(void);

/* A new file, or with `replace` in place of the old one, which stays as it was if anything fails.
 * ERR_EXISTS where there is a file and `replace` is false. Never replaced, by whatever link it is
 * named: an SQLite file, the open `ledger` (its path; NULL = none is open), and what SQLite keeps
 * beside either. */
bool output_file(const char *path, const char *ledger, bool replace, const struct text *text,
                 struct err *err);

/* Hands the text to `lp`; `printer` NULL or "" = the machine's default one. No shell is involved.
 */
bool output_printer(const char *printer, const struct text *text, struct err *err);

#endif
