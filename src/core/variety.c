/* How varieties are told apart. A variety is written in many ways: in Japanese, in letters with and
 * without marks, in one word or two. All are compared by their letters alone, so that a person need
 * not know how the list has it, while a slip of a finger is still found to be one. */
#include "senbetsu/core/variety.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <string.h>

#define AT(member) COLUMN_AT(struct variety, member)

const struct column variety_columns[VARIETY_COLUMN_COUNT] = {
    [VARIETY_COLUMN_NAME] = {"variety", .sql = "name", .label = "Name", .kind = COLUMN_CODE,
                             .required = true, AT(name)},
    [VARIETY_COLUMN_JAPANESE] = {"japanese", .label = "Japanese", .kind = COLUMN_CODE,
                                 AT(japanese)},
    [VARIETY_COLUMN_SPELLINGS] = {"spellings", .label = "Also written", .hint = "separated by ;",
                                  .kind = COLUMN_CODES, AT(spellings)},
};

/* Calls `each` with the letters of every name until it says true, and returns whether it did. */
static bool any_name(const struct variety *variety,
                     bool (*each)(void *context, const char *letters), void *context)
{
    char spelling[CODE_SIZE];
    const char *list = variety->spellings;
    struct text letters;
    text_init(&letters);
    text_add_letters(&letters, variety->name);
    bool found = each(context, letters.data);
    text_clear(&letters);
    text_add_letters(&letters, variety->japanese);
    found = found || (letters.length > 0 && each(context, letters.data));
    while (!found && code_next(&list, spelling)) {
        text_clear(&letters);
        text_add_letters(&letters, spelling);
        found = each(context, letters.data);
    }
    text_done(&letters);
    return found;
}

static bool is_same(void *context, const char *letters)
{
    return strcmp(context, letters) == 0;
}

bool variety_is(const struct variety *variety, const char *text)
{
    struct text letters;
    text_init(&letters);
    text_add_letters(&letters, text);
    bool same = letters.length > 0 && any_name(variety, is_same, letters.data);
    text_done(&letters);
    return same;
}

const struct variety *variety_find(const struct variety *varieties, size_t count, const char *text)
{
    for (size_t i = 0; i < count; i++)
        if (variety_is(&varieties[i], text))
            return &varieties[i];
    return NULL;
}

struct search {
    const char *letters;
    size_t distance; /* least so far */
};

/* "Line 1" and "Line 2" are two. */
static bool has_same_digits(const char *a, const char *b)
{
    static const char digits[] = "0123456789";
    do {
        a += strcspn(a, digits);
        b += strcspn(b, digits);
        if (*a != *b)
            return false;
    } while (*a++ != '\0' && *b++ != '\0');
    return true;
}

static bool come_nearer(void *context, const char *letters)
{
    struct search *search = context;
    size_t distance = text_distance(search->letters, letters);
    if (!has_same_digits(search->letters, letters))
        distance += VARIETY_TYPO;
    if (distance < search->distance)
        search->distance = distance;
    return false;
}

const struct variety *variety_nearest(const struct variety *varieties, size_t count,
                                      const char *text, bool *ret_typo)
{
    struct text letters;
    const struct variety *nearest = NULL;
    text_init(&letters);
    text_add_letters(&letters, text);
    struct search search = {letters.data, SIZE_MAX};
    for (size_t i = 0; i < count; i++) {
        size_t before = search.distance;
        any_name(&varieties[i], come_nearer, &search);
        if (search.distance < before)
            nearest = &varieties[i];
    }
    *ret_typo = search.distance <= VARIETY_TYPO && 2 * search.distance < utf8_count(letters.data);
    text_done(&letters);
    return nearest;
}

bool variety_add_spelling(struct variety *variety, const char *text)
{
    size_t used = strlen(variety->spellings);
    if (variety_is(variety, text))
        return true;
    if (used + 1 + strlen(text) >= sizeof variety->spellings)
        return false;
    if (used > 0)
        variety->spellings[used++] = ';';
    text_copy(variety->spellings + used, sizeof variety->spellings - used, text);
    return true;
}
