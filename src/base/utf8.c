/* A thin layer over libutf8proc: the C library's own functions know the width of a character only
 * in some locales, and the sheet has to stand the same on every terminal.
 *
 * Files and typed lines are checked by it, so that bytes which are not UTF-8 can neither reach the
 * ledger nor move the cursor of a terminal. Characters that reorder what stands beside them or
 * cannot be seen (bidirectional controls, zero-width spaces and joiners, tags) are well-formed
 * text; a mark is shown in their place, so that nobody reads what the ledger does not say. */
#include "senbetsu/base/utf8.h"

#include <string.h>
#include <utf8proc.h>

enum { REPLACEMENT = 0xFFFD };

size_t utf8_decode(const char *bytes, size_t length, uint32_t *ret_code)
{
    utf8proc_int32_t code;
    utf8proc_ssize_t read =
        utf8proc_iterate((const utf8proc_uint8_t *)bytes, (utf8proc_ssize_t)length, &code);
    if (read <= 0)
        return 0;
    *ret_code = (uint32_t)code;
    return (size_t)read;
}

/* Nearly all text is of these, which stand for themselves and are one column wide: they are not
 * looked up. */
static bool is_plain(uint32_t code)
{
    return code >= ' ' && code <= '~';
}

uint32_t utf8_next(const char **cursor)
{
    if (**cursor == '\0')
        return 0;
    if (is_plain((unsigned char)**cursor))
        return (unsigned char)*(*cursor)++;
    uint32_t code = REPLACEMENT;
    size_t read = utf8_decode(*cursor, strnlen(*cursor, 4), &code);
    *cursor += read == 0 ? 1 : read;
    return code;
}

size_t utf8_encode(uint32_t code, char *buffer)
{
    if (!utf8proc_codepoint_valid((utf8proc_int32_t)code))
        code = REPLACEMENT;
    utf8proc_ssize_t bytes =
        utf8proc_encode_char((utf8proc_int32_t)code, (utf8proc_uint8_t *)buffer);
    buffer[bytes] = '\0';
    return (size_t)bytes;
}

bool utf8_control(uint32_t code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0);
}

struct range {
    uint32_t first, last;
};

/* Unicode's Default_Ignorable_Code_Point beyond the categories that are no characters to show
 * anyway (format, unassigned). The fillers among them pass for letters, the selectors for marks. */
static const struct range ignorable[] = {
    {0x034F, 0x034F}, {0x115F, 0x1160}, {0x17B4, 0x17B5}, {0x180B, 0x180F},
    {0x3164, 0x3164}, {0xFE00, 0xFE0F}, {0xFFA0, 0xFFA0}, {0xE0100, 0xE01EF},
};

static bool is_ignorable(uint32_t code)
{
    for (size_t i = 0; i < sizeof ignorable / sizeof *ignorable; i++)
        if (code >= ignorable[i].first && code <= ignorable[i].last)
            return true;
    return false;
}

bool utf8_printable(uint32_t code)
{
    if (!utf8proc_codepoint_valid((utf8proc_int32_t)code) || is_ignorable(code))
        return false;
    switch ((int)utf8proc_category((utf8proc_int32_t)code)) {
    case UTF8PROC_CATEGORY_CC:
    case UTF8PROC_CATEGORY_CF:
    case UTF8PROC_CATEGORY_CN:
    case UTF8PROC_CATEGORY_CO:
    case UTF8PROC_CATEGORY_CS:
    case UTF8PROC_CATEGORY_ZL:
    case UTF8PROC_CATEGORY_ZP:
        return false;
    default:
        return true;
    }
}

uint32_t utf8_shown(uint32_t code)
{
    if (is_plain(code))
        return code;
    if (code == '\t' || code == '\n' || code == '\r')
        return ' ';
    return code != REPLACEMENT && utf8_printable(code) ? code : UTF8_MARK;
}

int utf8_code_width(uint32_t code)
{
    return is_plain(code) ? 1 : utf8proc_charwidth((utf8proc_int32_t)utf8_shown(code));
}

size_t utf8_plain(const char *string)
{
    size_t bytes = 0;
    while (is_plain((unsigned char)string[bytes]))
        bytes++;
    return bytes;
}

int utf8_width(const char *string)
{
    int columns = 0;
    while (*string != '\0')
        columns += utf8_code_width(utf8_next(&string));
    return columns;
}

size_t utf8_count(const char *string)
{
    size_t count = 0;
    for (; *string != '\0'; count++)
        utf8_next(&string);
    return count;
}

static utf8proc_int32_t next_lower(const char **cursor)
{
    return utf8proc_tolower((utf8proc_int32_t)utf8_next(cursor));
}

bool utf8_same_letters(const char *a, size_t bytes, const char *b)
{
    const char *end = a + bytes;
    while (a < end && *b != '\0')
        if (next_lower(&a) != next_lower(&b))
            return false;
    return a == end && *b == '\0';
}

size_t utf8_fit(const char *string, int columns)
{
    const char *cursor = string;
    while (*cursor != '\0') {
        const char *next = cursor;
        columns -= utf8_code_width(utf8_next(&next));
        if (columns < 0)
            break;
        cursor = next;
    }
    return (size_t)(cursor - string);
}

size_t utf8_cut(const char *string, size_t bytes)
{
    size_t length = strnlen(string, bytes + 1);
    if (length <= bytes)
        return length;
    size_t cut = bytes;
    while (cut > 0 && bytes - cut < 3 && (string[cut] & 0xC0) == 0x80)
        cut--;
    return cut;
}
