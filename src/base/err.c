#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"

#include <stdarg.h>
#include <stdio.h>

/* Formats into `ret`, cut at a whole character. The draft is a little longer than that, so that
 * text_copy sees where the last character ends. */
static void write_cut(char ret[ERR_TEXT_SIZE], const char *format, va_list arguments)
    __attribute__((format(printf, 2, 0)));

static void write_cut(char ret[ERR_TEXT_SIZE], const char *format, va_list arguments)
{
    char draft[ERR_TEXT_SIZE + 4];
    vsnprintf(draft, sizeof draft, format, arguments);
    text_copy(ret, ERR_TEXT_SIZE, draft);
}

bool err_set(struct err *err, enum err_code code, const char *format, ...)
{
    if (err == NULL)
        return false;
    char sentence[ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    write_cut(sentence, format, arguments);
    va_end(arguments);
    err->code = code;
    text_copy(err->text, sizeof err->text, sentence);
    return false;
}

bool err_at(struct err *err, const char *format, ...)
{
    if (err == NULL)
        return false;
    char place[ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    write_cut(place, format, arguments);
    va_end(arguments);
    return err_set(err, err->code, "%s: %s", place, err->text);
}
