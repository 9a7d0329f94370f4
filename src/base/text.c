#include "senbetsu/base/text.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Makes room for `more` bytes and the terminator. */
static void reserve(struct text *text, size_t more)
{
    text->data = alloc_room(text->data, text->length + more, &text->capacity, 1);
}

void text_init(struct text *text)
{
    *text = (struct text){0};
    reserve(text, 0);
    text->data[0] = '\0';
}

void text_done(struct text *text)
{
    free(text->data);
    *text = (struct text){0};
}

void text_clear(struct text *text)
{
    text->length = 0;
    text->data[0] = '\0';
}

void text_add(struct text *text, const char *string)
{
    text_add_bytes(text, string, strlen(string));
}

void text_add_bytes(struct text *text, const char *bytes, size_t length)
{
    reserve(text, length);
    if (length > 0)
        memcpy(text->data + text->length, bytes, length);
    text->length += length;
    text->data[text->length] = '\0';
}

void text_add_repeated(struct text *text, const char *string, int times)
{
    for (int i = 0; i < times; i++)
        text_add(text, string);
}

void text_join(struct text *text, const char *separator, const char *part)
{
    if (part[0] == '\0')
        return;
    if (text->length > 0)
        text_add(text, separator);
    text_add(text, part);
}

void text_addf(struct text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    text_addv(text, format, arguments);
    va_end(arguments);
}

void text_addv(struct text *text, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    size_t room = text->capacity - text->length;
    int length = vsnprintf(text->data + text->length, room, format, arguments);
    if (length >= 0 && (size_t)length >= room) {
        reserve(text, (size_t)length);
        vsnprintf(text->data + text->length, (size_t)length + 1, format, again);
    }
    if (length > 0)
        text->length += (size_t)length;
    text->data[text->length] = '\0';
    va_end(again);
}

void text_add_column(struct text *text, const char *string, int columns)
{
    int room = columns < 0 ? -columns : columns;
    bool whole = utf8_width(string) <= room;
    const char *ending = !whole && room > 1 ? "…" : "";
    int ending_width = utf8_width(ending);
    size_t bytes = utf8_fit(string, room - ending_width);
    size_t start = text->length;
    text_add_bytes(text, string, bytes);
    int blanks = room - ending_width - utf8_width(text->data + start);
    if (columns < 0) {
        text->length = start;
        text_add_repeated(text, " ", blanks);
        text_add_bytes(text, string, bytes);
        blanks = 0;
    }
    text_add(text, ending);
    text_add_repeated(text, " ", blanks);
}

char *text_copy(char *buffer, size_t size, const char *string)
{
    size_t bytes = utf8_cut(string, size - 1);
    memmove(buffer, string, bytes);
    buffer[bytes] = '\0';
    return buffer;
}
