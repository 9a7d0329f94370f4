/* A text that grows, and what is done with texts: columns, plain ASCII, cutting, distance.
 *
 * Lengths are bytes; widths are terminal columns. Nothing is ever cut inside a character. */
#ifndef SENBETSU_BASE_TEXT_H
#define SENBETSU_BASE_TEXT_H

#include <stdarg.h>
#include <stddef.h>

/* `data` is always a terminated string, also when empty; `length` is in bytes. */
struct text {
    char *data;
    size_t length;
    size_t capacity;
};

void text_init(struct text *text);
void text_done(struct text *text);

/* Empties the text and keeps its memory. */
void text_clear(struct text *text);

void text_add(struct text *text, const char *string);
void text_add_bytes(struct text *text, const char *bytes, size_t length);
void text_add_repeated(struct text *text, const char *string, int times);
/* Adds a part of a list: after the separator where something stands before it, nothing where the
 * part is empty. */
void text_join(struct text *text, const char *separator, const char *part);
void text_addf(struct text *text, const char *format, ...)
    __attribute__((format(printf, 2, 3), nonnull(2)));
void text_addv(struct text *text, const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0), nonnull(2)));

/* Adds `string` cut or padded with spaces to exactly `columns` terminal columns; a negative number
 * of columns aligns to the right. What is cut ends in "…" where there is room for it. */
void text_add_column(struct text *text, const char *string, int columns);

/* Copies `string` into `buffer` of `size` bytes, cut at a whole UTF-8 character. Returns `buffer`.
 */
char *text_copy(char *buffer, size_t size, const char *string);

/* The same for what is shown of the string (utf8_shown): whatever somebody else wrote, it neither
 * moves a cursor nor hides anything. Never longer than the string. */
char *text_copy_shown(char *buffer, size_t size, const char *string);
void text_add_shown(struct text *text, const char *string);

/* Takes the blanks off both ends, those of a Japanese keyboard and unbreakable ones too. Returns
 * `string`. */
char *text_trim(char *string);

/* Adds `string` as plain ASCII, for printers and terminals that know nothing else: signs that have
 * a usual ASCII form get it ("×" x, "–" -, "…" ..., box lines - and |), letters lose their marks
 * ("ō" o), and whatever is left, such as a Japanese character, becomes one '?'. The result may be
 * wider than what it came from. */
void text_add_ascii(struct text *out, const char *string);

/* Adds the letters and digits of `string`, small and without marks: "Shōwa" and "showa" add the
 * same, and so do "Shiro Utsuri" and "shiro-utsuri". */
void text_add_letters(struct text *out, const char *string);

/* The least number of characters to put in, take out or change that makes one of the other
 * (Levenshtein 1966, Soviet Physics Doklady 10:707–710). */
size_t text_distance(const char *a, const char *b);

#endif
