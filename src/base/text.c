/* A growing text is how all output is made: it is written as a whole once it is complete, so that a
 * command that fails prints nothing. */
#include "senbetsu/base/text.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

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

char *text_copy_shown(char *buffer, size_t size, const char *string)
{
    size_t length = 0;
    while (*string != '\0') {
        char character[5];
        size_t bytes = utf8_encode(utf8_shown(utf8_next(&string)), character);
        if (length + bytes >= size)
            break;
        memcpy(buffer + length, character, bytes);
        length += bytes;
    }
    buffer[length] = '\0';
    return buffer;
}

char *text_copy(char *buffer, size_t size, const char *string)
{
    size_t bytes = utf8_cut(string, size - 1);
    memmove(buffer, string, bytes);
    buffer[bytes] = '\0';
    return buffer;
}

/* Bytes of the blank that the text begins with: a space, a tab, U+00A0, U+202F or U+3000. */
static size_t blank_at(const char *text)
{
    static const char *const blanks[] = {" ", "\t", "\xC2\xA0", "\xE2\x80\xAF", "\xE3\x80\x80"};
    for (size_t i = 0; i < sizeof blanks / sizeof *blanks; i++)
        if (strncmp(text, blanks[i], strlen(blanks[i])) == 0)
            return strlen(blanks[i]);
    return 0;
}

char *text_trim(char *string)
{
    const char *begin = string, *cursor;
    size_t length = 0; /* as far as the last character that is no blank */
    while (blank_at(begin) > 0)
        begin += blank_at(begin);
    for (cursor = begin; *cursor != '\0';) {
        size_t blank = blank_at(cursor);
        cursor += blank > 0 ? blank : 1;
        if (blank == 0)
            length = (size_t)(cursor - begin);
    }
    memmove(string, begin, length);
    string[length] = '\0';
    return string;
}

struct form {
    uint32_t code;
    const char *ascii;
};

/* By code. What is only an ASCII letter with marks needs no row. */
static const struct form forms[] = {
    {0x00A0, " "},   {0x00AB, "\""}, {0x00B0, "deg"}, {0x00B1, "+/-"}, {0x00B5, "u"},
    {0x00B7, "."},   {0x00BB, "\""}, {0x00BC, "1/4"}, {0x00BD, "1/2"}, {0x00BE, "3/4"},
    {0x00C6, "AE"},  {0x00D7, "x"},  {0x00D8, "O"},   {0x00DF, "ss"},  {0x00E6, "ae"},
    {0x00F7, "/"},   {0x00F8, "o"},  {0x0141, "L"},   {0x0142, "l"},   {0x0152, "OE"},
    {0x0153, "oe"},  {0x2010, "-"},  {0x2011, "-"},   {0x2012, "-"},   {0x2013, "-"},
    {0x2014, "-"},   {0x2015, "-"},  {0x2018, "'"},   {0x2019, "'"},   {0x201A, "'"},
    {0x201C, "\""},  {0x201D, "\""}, {0x201E, "\""},  {0x2020, "+"},   {0x2022, "*"},
    {0x2026, "..."}, {0x2032, "'"},  {0x2033, "\""},  {0x20AC, "EUR"}, {0x2190, "<-"},
    {0x2192, "->"},  {0x2212, "-"},  {0x2248, "~"},   {0x2260, "!="},  {0x2264, "<="},
    {0x2265, ">="},  {0x2500, "-"},  {0x2501, "="},   {0x2502, "|"},   {0x2503, "|"},
    {0x250C, "+"},   {0x2510, "+"},  {0x2514, "+"},   {0x2518, "+"},   {0x251C, "+"},
    {0x2524, "+"},   {0x252C, "+"},  {0x2534, "+"},   {0x253C, "+"},   {0x2550, "="},
    {0x2551, "|"},   {0x2588, "#"},  {0x2610, "[ ]"}, {0x2611, "[x]"}, {0x2640, "f"},
    {0x2642, "m"},   {0x2713, "x"},  {0x2714, "x"},   {0x3000, "  "},
};

static int by_code(const void *key, const void *row)
{
    uint32_t code = *(const uint32_t *)key;
    uint32_t at = ((const struct form *)row)->code;
    return (code > at) - (code < at);
}

static bool is_mark(uint32_t code)
{
    switch ((int)utf8proc_category((utf8proc_int32_t)code)) {
    case UTF8PROC_CATEGORY_MN:
    case UTF8PROC_CATEGORY_ME:
        return true;
    default:
        return false;
    }
}

/* The letter under the marks: 'o' of "ō"; 0 where it is no ASCII letter. */
static uint32_t bare_letter(uint32_t code)
{
    enum { ROOM = 8 };
    utf8proc_int32_t parts[ROOM];
    utf8proc_ssize_t count =
        utf8proc_decompose_char((utf8proc_int32_t)code, parts, ROOM, UTF8PROC_DECOMPOSE, NULL);
    return count > 1 && count <= ROOM && parts[0] < 0x80 ? (uint32_t)parts[0] : 0;
}

static void add_character(struct text *out, uint32_t code)
{
    char character[5];
    text_add_bytes(out, character, utf8_encode(code, character));
}

void text_add_shown(struct text *text, const char *string)
{
    for (;;) {
        size_t plain = utf8_plain(string);
        text_add_bytes(text, string, plain);
        string += plain;
        if (*string == '\0')
            return;
        add_character(text, utf8_shown(utf8_next(&string)));
    }
}

static void add_code(struct text *out, uint32_t code)
{
    const struct form *form =
        bsearch(&code, forms, sizeof forms / sizeof *forms, sizeof *forms, by_code);
    uint32_t letter = code < 0x80 ? code : bare_letter(code);
    if (form != NULL)
        text_add(out, form->ascii);
    else if (letter != 0)
        add_character(out, letter);
    else if (!is_mark(code))
        text_add(out, "?");
}

void text_add_ascii(struct text *out, const char *string)
{
    while (*string != '\0')
        add_code(out, utf8_next(&string));
}

/* Marks and signs tell no two names apart; nor does whether a letter is capital. */
void text_add_letters(struct text *out, const char *string)
{
    enum { ROOM = 8 };
    utf8proc_int32_t parts[ROOM];
    while (*string != '\0') {
        int bound = 0;
        utf8proc_ssize_t count = utf8proc_decompose_char(
            (utf8proc_int32_t)utf8_next(&string), parts, ROOM,
            UTF8PROC_DECOMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD | UTF8PROC_STRIPMARK, &bound);
        for (utf8proc_ssize_t i = 0; i < count && i < ROOM; i++) {
            utf8proc_category_t category = utf8proc_category(parts[i]);
            if ((category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_LO) ||
                (category >= UTF8PROC_CATEGORY_ND && category <= UTF8PROC_CATEGORY_NO))
                add_character(out, (uint32_t)parts[i]);
        }
    }
}

static size_t least(size_t a, size_t b, size_t c)
{
    size_t smaller = a < b ? a : b;
    return smaller < c ? smaller : c;
}

/* `row[j]` is the distance of what was read of `a` from the first j characters of `b`. */
size_t text_distance(const char *a, const char *b)
{
    size_t columns = utf8_count(b);
    size_t *row = alloc_zeroed(columns + 1, sizeof *row);
    for (size_t j = 0; j <= columns; j++)
        row[j] = j;
    while (*a != '\0') {
        uint32_t character = utf8_next(&a);
        size_t before = row[0]++;
        const char *cursor = b;
        for (size_t j = 0; j < columns; j++) {
            size_t change = before + (character != utf8_next(&cursor));
            before = row[j + 1];
            row[j + 1] = least(change, before + 1, row[j] + 1);
        }
    }
    size_t distance = row[columns];
    free(row);
    return distance;
}
