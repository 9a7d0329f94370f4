/* The table of a parent, and who can be a dam or a sire.
 *
 * Sex and birth year may be unknown, as brood fish are often bought without papers; unknown sex may
 * serve as either, and only a known one is an error. */
#include "senbetsu/core/parent.h"

#define AT(member) COLUMN_AT(struct parent, member)

const struct column parent_columns[PARENT_COLUMN_COUNT] = {
    [PARENT_COLUMN_CODE] = {"parent", .sql = "code", .label = "Code", .kind = COLUMN_CODE,
                            .required = true, AT(code)},
    [PARENT_COLUMN_SEX] = {"sex", .label = "Sex", COLUMN_WORDS(sex_terms), AT(sex)},
    [PARENT_COLUMN_VARIETY] = {"variety", .label = "Variety", COLUMN_OF_VARIETY, AT(variety)},
    [PARENT_COLUMN_BORN] = {"born", .label = "Born in", .hint = "a year", COLUMN_YEAR, AT(born)},
    [PARENT_COLUMN_DAM] = {"dam", .label = "Its dam", .hint = "a code of this ledger",
                           .kind = COLUMN_DAM, AT(dam)},
    [PARENT_COLUMN_SIRE] = {"sire", .label = "Its sire", .hint = "a code of this ledger",
                            .kind = COLUMN_SIRE, AT(sire)},
    [PARENT_COLUMN_NOTE] = {"note", .label = "Note", .kind = COLUMN_NOTE, AT(note)},
    [PARENT_COLUMN_STATE] = {"state", .label = "State", COLUMN_WORDS(brood_state_terms), AT(state)},
    [PARENT_COLUMN_SINCE] = {"since", .label = "Since", .hint = "the day: 14.6., today, -2",
                             .kind = COLUMN_DAY, AT(since)},
};

void parent_merge(const struct parent *known, struct parent *parent)
{
    bool another = parent->state != BROOD_UNSAID && parent->state != known->state;
    bool dated = parent->since[0] != '\0';
    columns_merge(parent_columns, PARENT_COLUMN_COUNT, known, parent);
    parent->id = known->id;
    if (another && !dated)
        parent->since[0] = '\0';
}

bool parent_check_state(const struct parent *parent, struct err *err)
{
    return parent->state != BROOD_UNSAID || parent->since[0] == '\0' ||
           err_set(err, ERR_INPUT, "Say what %s is since %s: available, resting, sold or dead.",
                   parent->code, parent->since);
}

bool parent_is_out(const struct parent *parent)
{
    return parent->state != BROOD_UNSAID && parent->state != BROOD_AVAILABLE;
}

bool parent_check_role(const char *code, enum sex sex, bool as_dam, struct err *err)
{
    return sex != (as_dam ? SEX_MALE : SEX_FEMALE) ||
           err_set(err, ERR_INPUT, "%s is %s and cannot be a %s.", code, as_dam ? "male" : "female",
                   as_dam ? "dam" : "sire");
}
