#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <stdlib.h>
#include <utf8proc.h>

struct form {
    uint32_t code;
    const char *ascii;
};

/* By code. What is only an ASCII letter with marks needs no row. */
static const struct form forms[] = {
    {0x00A0, " "},   {0x00AB, "\""}, {0x00AD, ""},    {0x00B0, "deg"}, {0x00B1, "+/-"},
    {0x00B5, "u"},   {0x00B7, "."},  {0x00BB, "\""},  {0x00BC, "1/4"}, {0x00BD, "1/2"},
    {0x00BE, "3/4"}, {0x00C6, "AE"}, {0x00D7, "x"},   {0x00D8, "O"},   {0x00DF, "ss"},
    {0x00E6, "ae"},  {0x00F7, "/"},  {0x00F8, "o"},   {0x0141, "L"},   {0x0142, "l"},
    {0x0152, "OE"},  {0x0153, "oe"}, {0x200B, ""},    {0x2010, "-"},   {0x2011, "-"},
    {0x2012, "-"},   {0x2013, "-"},  {0x2014, "-"},   {0x2015, "-"},   {0x2018, "'"},
    {0x2019, "'"},   {0x201A, "'"},  {0x201C, "\""},  {0x201D, "\""},  {0x201E, "\""},
    {0x2020, "+"},   {0x2022, "*"},  {0x2026, "..."}, {0x2032, "'"},   {0x2033, "\""},
    {0x20AC, "EUR"}, {0x2190, "<-"}, {0x2192, "->"},  {0x2212, "-"},   {0x2248, "~"},
    {0x2260, "!="},  {0x2264, "<="}, {0x2265, ">="},  {0x2500, "-"},   {0x2501, "="},
    {0x2502, "|"},   {0x2503, "|"},  {0x250C, "+"},   {0x2510, "+"},   {0x2514, "+"},
    {0x2518, "+"},   {0x251C, "+"},  {0x2524, "+"},   {0x252C, "+"},   {0x2534, "+"},
    {0x253C, "+"},   {0x2550, "="},  {0x2551, "|"},   {0x2588, "#"},   {0x2610, "[ ]"},
    {0x2611, "[x]"}, {0x2640, "f"},  {0x2642, "m"},   {0x2713, "x"},   {0x2714, "x"},
    {0x3000, "  "},
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

void ascii_add(struct text *out, const char *string)
{
    while (*string != '\0')
        add_code(out, utf8_next(&string));
}
