/* The table of a fish, and what its tag and its length say.
 *
 * Classes of size are integers of millimetres at their bounds, since a fish of exactly 85 cm must
 * be in the same class on every machine. */
#include "senbetsu/core/fish.h"
#include "senbetsu/base/number.h"

#include <string.h>

#define AT(member) COLUMN_AT(struct fish_statement, member)
#define NUMBER_TO(most) .kind = COLUMN_WHOLE, .lowest = 1, .highest = (most)

const struct column fish_statement_columns[FISH_COLUMN_COUNT] = {
    [FISH_COLUMN_SPAWNING] = {"spawning", .kind = COLUMN_CODE, .required = true, AT(spawning)},
    [FISH_COLUMN_LOT] = {"lot", .kind = COLUMN_CODE, AT(lot)},
    [FISH_COLUMN_STAGE] = {"stage", COLUMN_WORDS(stage_terms), .required = true,
                           .unknown = STAGE_COUNT, AT(stage)},
    [FISH_COLUMN_BOWL] = {"bowl", NUMBER_TO(NUMBER_MOST), .required = true, AT(bowl)},
    [FISH_COLUMN_NUMBER] = {"fish", NUMBER_TO(NUMBER_MOST), .required = true, AT(number)},
    [FISH_COLUMN_JUDGE] = {"judge", .kind = COLUMN_CODE, AT(judge)},
    [FISH_COLUMN_DATE] = {"date", .kind = COLUMN_DAY, AT(date)},
    [FISH_COLUMN_LENGTH] = {"length_mm", NUMBER_TO(LENGTH_MOST), AT(length_mm)},
    [FISH_COLUMN_TAG] = {"tag", .kind = COLUMN_CODE, AT(tag)},
    [FISH_COLUMN_FAULTS] = {"faults", .kind = COLUMN_CODES, AT(faults)},
};

bool tag_is_transponder(const char *text)
{
    enum { COUNTRY_DIGITS = 3 };
    static const int64_t numbers = INT64_C(1) << 38;
    int64_t number;
    return strlen(text) == TAG_DIGITS && strspn(text, "0123456789") == TAG_DIGITS &&
           strncmp(text, "000", COUNTRY_DIGITS) != 0 &&
           number_whole(text + COUNTRY_DIGITS, 0, numbers - 1, &number);
}

int size_class_bu(int length_mm)
{
    if (length_mm < 1)
        return 0;
    if (length_mm <= 120)
        return 12;
    if (length_mm > 850)
        return 90;
    return (length_mm + 49) / 50 * 5;
}

int size_class_decimetre(int length_mm)
{
    enum { LARGEST = 8 };
    if (length_mm < 100)
        return 0;
    return length_mm / 100 < LARGEST ? length_mm / 100 : LARGEST;
}
