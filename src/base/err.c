/* Sentences are formatted where the fact is known and only copied from there on.
 *
 * A sentence quotes files, names and keys as they came; what it holds is what can be shown of them,
 * so whoever prints it need not look at it again. The struct lives on the caller's stack and holds
 * its sentence itself, so reporting a failure cannot fail: it needs no memory and nothing has to be
 * freed. */
#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>

/* A little longer than a sentence may be, so that text_copy sees where its last character ends. */
enum { DRAFT_SIZE = ERR_TEXT_SIZE + 4 };

bool err_set(struct err *err, enum err_code code, const char *format, ...)
{
    if (err == NULL)
        return false;
    char draft[DRAFT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(draft, sizeof draft, format, arguments);
    va_end(arguments);
    err->code = code;
    text_copy_shown(err->text, sizeof err->text, text_copy(draft, ERR_TEXT_SIZE, draft));
    return false;
}

bool err_at(struct err *err, const char *format, ...)
{
    if (err == NULL)
        return false;
    char draft[DRAFT_SIZE], place[ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(draft, sizeof draft, format, arguments);
    va_end(arguments);
    text_copy(place, sizeof place, draft);
    return err_set(err, err->code, "%s: %s", place, err->text);
}

enum err_code err_class(int cause)
{
    switch (cause) {
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
        return ERR_FULL;
    case EIO:
        return ERR_IO;
    case EROFS:
        return ERR_READONLY;
    case EACCES:
    case EPERM:
        return ERR_PERMISSION;
    default:
        return ERR_SYSTEM;
    }
}
