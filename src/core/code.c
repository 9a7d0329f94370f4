/* What a code may look like. It stands in CSV fields, in lists that are separated by ';' and in
 * names of pairs with a '+', so it holds none of these; a plain code also names a CSV column.
 *
 * Nor does it hold anything that cannot be seen or that reorders what is seen, the joiners of some
 * scripts included: two codes that look alike are one code.
 *
 * It is checked when a record is made, so that nothing behind it has to quote or escape a code. */
#include "senbetsu/core/code.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/fish.h"

#include <inttypes.h>
#include <string.h>

static bool check_characters(const char *code, const char *what, struct err *err)
{
    for (const char *cursor = code; *cursor != '\0';) {
        uint32_t character;
        size_t bytes = utf8_decode(cursor, strnlen(cursor, 4), &character);
        if (bytes == 0)
            return err_set(err, ERR_INPUT, "%s is not UTF-8 text.", what);
        if (utf8_control(character))
            return err_set(err, ERR_INPUT, "%s contains a control character; remove it.", what);
        if (!utf8_printable(character))
            return err_set(err, ERR_INPUT,
                           "%s \"%s\" contains a character that cannot be shown (U+%04" PRIX32
                           "); remove it.",
                           what, code, character);
        if (strchr(",;+", *cursor) != NULL)
            return err_set(err, ERR_INPUT,
                           "%s \"%s\" contains \"%c\"; the characters , ; + are not allowed.", what,
                           code, *cursor);
        cursor += bytes;
    }
    return true;
}

static bool has_blank_end(const char *code)
{
    char trimmed[CODE_SIZE];
    text_trim(text_copy(trimmed, sizeof trimmed, code));
    return strlen(trimmed) != strlen(code);
}

bool code_check(const char *code, const char *what, struct err *err)
{
    size_t bytes = strlen(code);
    if (bytes == 0)
        return err_set(err, ERR_INPUT, "%s is empty.", what);
    if (!check_characters(code, what, err))
        return false;
    if (utf8_count(code) > CODE_CHARACTERS)
        return err_set(err, ERR_INPUT, "%s \"%s\" is longer than %d characters.", what, code,
                       CODE_CHARACTERS);
    if (has_blank_end(code))
        return err_set(err, ERR_INPUT, "%s \"%s\" begins or ends with a space; remove it.", what,
                       code);
    return true;
}

bool code_check_plain(const char *code, const char *what, struct err *err)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz";
    static const char others[] = "abcdefghijklmnopqrstuvwxyz0123456789_-";
    size_t bytes = strlen(code);
    if (bytes == 0)
        return err_set(err, ERR_INPUT, "%s is empty.", what);
    if (strchr(letters, code[0]) == NULL || strspn(code, others) != bytes)
        return err_set(err, ERR_INPUT,
                       "%s \"%s\" must begin with a letter a-z and contain only a-z, 0-9, _ and -.",
                       what, code);
    if (bytes > CODE_CHARACTERS)
        return err_set(err, ERR_INPUT, "%s \"%s\" is longer than %d characters.", what, code,
                       CODE_CHARACTERS);
    for (int i = 0; i < FISH_COLUMN_COUNT; i++)
        if (strcmp(fish_statement_columns[i].name, code) == 0)
            return err_set(err, ERR_INPUT,
                           "%s \"%s\" is a column name of fish files; choose another.", what, code);
    return true;
}

bool code_in_list(const char *list, const char *code)
{
    size_t length = strlen(code);
    for (const char *at = list; *at != '\0'; at += strcspn(at, ";"), at += *at == ';')
        if (strcspn(at, ";") == length && memcmp(at, code, length) == 0)
            return true;
    return false;
}

bool code_next(const char **list, char ret_code[CODE_SIZE])
{
    size_t length = strcspn(*list, ";");
    if (length == 0)
        return false;
    text_copy(ret_code, length < CODE_SIZE ? length + 1 : CODE_SIZE, *list);
    *list += length + ((*list)[length] == ';');
    return true;
}
