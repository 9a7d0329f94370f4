/* Ready notes and reasons: what is said most often, one digit each. */
#include "senbetsu/sheet/sheet.h"

enum { READY_COUNT = 9 };

static const char *const notes[READY_COUNT] = {
    "wound or illness",
    "parasites seen",
    "split fin, may heal",
    "shooter, far ahead of its siblings",
    "small for its age",
    "pattern still moving",
    "show to a second pair of eyes",
    "photo taken",
    "wanted as a parent",
};

static const char *const reasons[VERDICT_COUNT][READY_COUNT] = {
    [VERDICT_KEEP] =
        {
            "better in the water than on paper",
            "will finish late",
            "parent line wanted",
            "rare pattern",
            "outstanding body",
            "promised to a customer",
        },
    [VERDICT_HOLD] =
        {
            "wound has to heal first",
            "too early to tell",
            "compare with the other bowls",
            "second pair of eyes wanted",
            "light too poor to judge",
            "may be from another lot",
        },
    [VERDICT_REJECT] =
        {
            "worse in the water than on paper",
            "ill or weak",
            "swims badly",
            "will not grow on",
            "enough of this kind",
            "fault the standard does not name",
        },
};

static bool is_ready_digit(int digit)
{
    return digit >= 1 && digit <= READY_COUNT;
}

const char *sheet_ready_note(int digit)
{
    return is_ready_digit(digit) ? notes[digit - 1] : NULL;
}

const char *sheet_ready_reason(enum verdict verdict, int digit)
{
    return is_ready_digit(digit) && verdict < VERDICT_COUNT ? reasons[verdict][digit - 1] : NULL;
}
