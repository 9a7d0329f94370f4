/* Where a finished text goes. Each call writes all of it or fails with one sentence. */
#ifndef SENBETSU_HOST_OUTPUT_H
#define SENBETSU_HOST_OUTPUT_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>

bool output_standard(const struct text *text, struct err *err);

/* Is standard output a terminal? Then nothing is broken into pages. */
bool output_is_terminal(void);

/* A new file, or in place of an old one, which stays as it was if anything fails. */
bool output_file(const char *path, const struct text *text, struct err *err);

/* Hands the text to `lp`; `printer` NULL or "" = the machine's default one. No shell is involved.
 */
bool output_printer(const char *printer, const struct text *text, struct err *err);

#endif
