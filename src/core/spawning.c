/* The table of a spawning, and the rules it can be checked by without a ledger: date and season,
 * number of sires and siring. That its dam and sires exist is for the store to check. */
#include "senbetsu/core/spawning.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#define AT(member) COLUMN_AT(struct spawning, member)

const struct column spawning_columns[SPAWNING_COLUMN_COUNT] = {
    [SPAWNING_COLUMN_CODE] = {"spawning", .sql = "code", .label = "Code",
                              .hint = "short, as written on the ponds", .kind = COLUMN_CODE,
                              .required = true, AT(code)},
    [SPAWNING_COLUMN_SEASON] = {"season", COLUMN_YEAR, AT(season)},
    [SPAWNING_COLUMN_DATE] = {"date", .label = "Date",
                              .hint = "14.6., 14/6, today; or the year alone",
                              .form_required = true, .kind = COLUMN_DAY, AT(date)},
    [SPAWNING_COLUMN_VARIETY] = {"variety", .label = "Variety", .form_required = true,
                                 COLUMN_OF_VARIETY, AT(variety)},
    [SPAWNING_COLUMN_DAM] = {"dam", .label = "Dam (oya)", .hint = "her code", .kind = COLUMN_DAM,
                             AT(dam)},
    [SPAWNING_COLUMN_SIRES] = {"sires", .label = "Sires", .hint = "their codes, separated by ;",
                               .kind = COLUMN_SIRES, AT(sires)},
    [SPAWNING_COLUMN_SIRING] = {"siring", .label = "Siring", COLUMN_WORDS(siring_terms),
                                .unknown = SIRING_COUNT, AT(siring)},
    [SPAWNING_COLUMN_EGGS] = {"eggs", .label = "Eggs", COLUMN_FISH, AT(eggs)},
    [SPAWNING_COLUMN_HATCHED] = {"hatched", .label = "Hatched", COLUMN_FISH, AT(hatched)},
    [SPAWNING_COLUMN_NOTE] = {"note", .label = "Note", .kind = COLUMN_NOTE, AT(note)},
};

static int compare_codes(const void *a, const void *b)
{
    return strcmp(a, b);
}

static void sort_sires(char sires[CODES_SIZE])
{
    char codes[CODES_SIZE / 2][CODE_SIZE];
    int count = 0;
    for (const char *list = sires; code_next(&list, codes[count]);)
        count++;
    qsort(codes, (size_t)count, sizeof *codes, compare_codes);
    size_t length = 0;
    for (int i = 0; i < count; i++) {
        if (i > 0 && strcmp(codes[i], codes[i - 1]) == 0)
            continue;
        if (length > 0)
            sires[length++] = ';';
        text_copy(sires + length, CODES_SIZE - length, codes[i]);
        length += strlen(codes[i]);
    }
}

void spawning_merge(const struct spawning *known, struct spawning *spawning)
{
    bool siring_said = spawning->siring != SIRING_COUNT;
    if (spawning->season == 0 && spawning->date[0] != '\0')
        spawning->season = date_year(spawning->date);
    columns_merge(spawning_columns, SPAWNING_COLUMN_COUNT, known, spawning);
    spawning->id = known->id;
    sort_sires(spawning->sires);
    if (spawning->siring == SIRING_COUNT)
        spawning->siring = SIRING_SINGLE;
    if (!siring_said && spawning->siring == SIRING_SINGLE && strchr(spawning->sires, ';') != NULL)
        spawning->siring = SIRING_GROUP;
}

bool spawning_check(const struct spawning *spawning, int *ret_column, struct err *err)
{
    int sires = 0;
    for (const char *list = spawning->sires, *at = list; *at != '\0'; at++)
        sires += at == list || at[-1] == ';';
    *ret_column = SPAWNING_COLUMN_DATE;
    if (spawning->date[0] != '\0' && !date_valid(spawning->date))
        return err_set(err, ERR_INPUT, "%s is not a date such as 2026-06-14.", spawning->date);
    if (spawning->date[0] != '\0' && date_year(spawning->date) != spawning->season)
        return err_set(err, ERR_INPUT, "Spawning %s is of %s, so its season is %d, not %d.",
                       spawning->code, spawning->date, date_year(spawning->date), spawning->season);
    *ret_column = SPAWNING_COLUMN_SEASON;
    if (spawning->season < YEAR_LOWEST || spawning->season > YEAR_HIGHEST)
        return err_set(err, ERR_INPUT, "Spawning %s needs a season, a year such as 2026.",
                       spawning->code);
    *ret_column = SPAWNING_COLUMN_SIRING;
    return sires <= 1 || spawning->siring != SIRING_SINGLE ||
           err_set(err, ERR_INPUT,
                   "Spawning %s has %d sires, so its siring is split, pooled or group, not single.",
                   spawning->code, sires);
}

bool spawning_check_hatched(const struct spawning *spawning, struct err *err)
{
    return spawning->eggs == NOT_COUNTED || spawning->hatched <= spawning->eggs ||
           err_set(err, ERR_INPUT, "Of %" PRId64 " eggs not more can have hatched.",
                   spawning->eggs);
}
