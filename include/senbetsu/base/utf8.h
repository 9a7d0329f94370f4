/* UTF-8 and terminal columns, the same in every locale (tables: libutf8proc). */
#ifndef SENBETSU_BASE_UTF8_H
#define SENBETSU_BASE_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Decodes the character at `*cursor` and moves the cursor past it. A byte that is no UTF-8 gives
 * U+FFFD and moves one byte; the end gives 0 and moves nothing. */
uint32_t utf8_next(const char **cursor);

/* Writes `code` and a terminator into `buffer` (5 bytes or more). Returns the bytes before the
 * terminator. */
size_t utf8_encode(uint32_t code, char *buffer);

/* The character that `bytes` begins with, and how many of them it is made of; 0 if they are not
 * well-formed: then `*ret_code` is untouched. */
size_t utf8_decode(const char *bytes, size_t length, uint32_t *ret_code);

/* Is it one of the control characters U+0000–U+001F, U+007F–U+009F? */
bool utf8_control(uint32_t code);

/* Can it be shown? Controls, line separators, private and unassigned characters cannot, nor what
 * has no shape of its own but changes what others look like or where they stand: Unicode's category
 * Format and what it calls Default_Ignorable. Combining marks can. */
bool utf8_printable(uint32_t code);

/* What is shown of a character on a screen, on paper and in a sentence: itself, a blank for a tab
 * or a line's end, UTF8_MARK for what cannot be shown. */
enum { UTF8_MARK = '?' };
uint32_t utf8_shown(uint32_t code);

/* Columns that a terminal uses for what is shown: 0 for combining marks, 2 for wide characters. */
int utf8_code_width(uint32_t code);
int utf8_width(const char *string);

/* Bytes at the start of `string` that are shown as they are, a column each: ASCII but its controls.
 */
size_t utf8_plain(const char *string);

/* Characters (not bytes) in the string. */
size_t utf8_count(const char *string);

/* Are the first `bytes` of `a` and the whole of `b` the same but for capital and small letters? */
bool utf8_same_letters(const char *a, size_t bytes, const char *b);

/* Bytes of the longest start of `string` that fits into `columns`. */
size_t utf8_fit(const char *string, int columns);

/* Bytes of the longest start of `string` that has whole characters and no more than `bytes`. */
size_t utf8_cut(const char *string, size_t bytes);

#endif
