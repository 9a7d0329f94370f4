#include "senbetsu/base/date.h"
#include "senbetsu/exchange/csv_rows.h"
#include "senbetsu/exchange/import.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/spawnings.h"

#include <string.h>

enum {
    COLUMN_SPAWNING,
    COLUMN_SEASON,
    COLUMN_DATE,
    COLUMN_VARIETY,
    COLUMN_DAM,
    COLUMN_SIRES,
    COLUMN_SIRING,
    COLUMN_EGGS,
    COLUMN_HATCHED,
    COLUMN_NOTE,
    COLUMN_COUNT,
};

static const struct column columns[COLUMN_COUNT] = {
    {"spawning", true}, {"season", false}, {"date", false}, {"variety", false}, {"dam", false},
    {"sires", false},   {"siring", false}, {"eggs", false}, {"hatched", false}, {"note", false},
};

enum { EGGS_MOST = 100000000 };

static bool check_parent(struct ledger *ledger, const struct row *row, int column, const char *code)
{
    struct err why = {0};
    return parent_serves(ledger, code, column == COLUMN_DAM, &why) ||
           row_refuse_as(row, column, &why);
}

static bool read_dam(struct ledger *ledger, const struct row *row, struct spawning *spawning)
{
    return row_code(row, COLUMN_DAM, spawning->dam, sizeof spawning->dam) &&
           (spawning->dam[0] == '\0' || check_parent(ledger, row, COLUMN_DAM, spawning->dam));
}

static bool read_sire(struct ledger *ledger, const struct row *row, const char *field,
                      size_t length, struct text *sires)
{
    char code[CODE_SIZE];
    struct err why = {0};
    if (length >= sizeof code)
        return row_refuse(row, COLUMN_SIRES, "a code is longer than %d characters.",
                          CODE_CHARACTERS);
    memcpy(code, field, length);
    code[length] = '\0';
    if (!code_check(code, "a sire's code", &why))
        return row_refuse(row, COLUMN_SIRES, "%s", why.text);
    if (code_in_list(sires->data, code))
        return row_refuse(row, COLUMN_SIRES, "%s is named twice.", code);
    if (!check_parent(ledger, row, COLUMN_SIRES, code))
        return false;
    text_addf(sires, "%s%s", sires->length > 0 ? ";" : "", code);
    return true;
}

static bool read_sires(struct ledger *ledger, const struct row *row, struct spawning *spawning)
{
    const char *field = row_field(row, COLUMN_SIRES);
    struct text sires;
    bool done = true;
    text_init(&sires);
    for (const char *at = field; done && *field != '\0'; at++) {
        size_t length = strcspn(at, ";");
        done = read_sire(ledger, row, at, length, &sires);
        at += length;
        if (*at == '\0')
            break;
    }
    if (done && sires.length >= sizeof spawning->sires)
        done = row_refuse(row, COLUMN_SIRES, "there are more sires than a spawning can have.");
    if (done)
        text_copy(spawning->sires, sizeof spawning->sires, sires.data);
    text_done(&sires);
    return done;
}

static bool read_season(const struct row *row, struct spawning *spawning)
{
    int64_t season = 0;
    if (!row_whole(row, COLUMN_SEASON, 1900, 2199, &season) ||
        !row_date(row, COLUMN_DATE, spawning->date))
        return false;
    spawning->season = (int)season;
    if (spawning->date[0] == '\0')
        return season != 0 ||
               row_refuse(row, row->rows->where[COLUMN_SEASON] >= 0 ? COLUMN_SEASON : COLUMN_DATE,
                          "the season or the date of the spawning is needed.");
    if (season != 0 && season != date_year(spawning->date))
        return row_refuse(row, COLUMN_DATE, "%s is not in season %d.", spawning->date,
                          spawning->season);
    spawning->season = date_year(spawning->date);
    return true;
}

/* Where nothing is said: as it was known; of several sires at least that no one is certain. */
static bool read_siring(struct ledger *ledger, const struct row *row, struct spawning *spawning)
{
    struct spawning known = {.siring = SIRING_SINGLE};
    struct err why = {0};
    if (!spawning_get(ledger, spawning->code, &known, &why) && why.code != ERR_ABSENT)
        return row_refuse_as(row, COLUMN_SPAWNING, &why);
    bool several = strchr(spawning->sires[0] != '\0' ? spawning->sires : known.sires, ';') != NULL;
    int siring = several && known.siring == SIRING_SINGLE ? (int)SIRING_GROUP : (int)known.siring;
    if (!row_term(row, COLUMN_SIRING, siring_terms, SIRING_COUNT, &siring))
        return false;
    if (several && siring == SIRING_SINGLE)
        return row_refuse(row, COLUMN_SIRING,
                          "siring single has one sire; several are named for %s.", spawning->code);
    spawning->siring = (enum siring)siring;
    return true;
}

static bool read_row(struct ledger *ledger, const struct row *row, struct spawning *spawning)
{
    return row_code(row, COLUMN_SPAWNING, spawning->code, sizeof spawning->code) &&
           read_season(row, spawning) &&
           row_code(row, COLUMN_VARIETY, spawning->variety, sizeof spawning->variety) &&
           read_dam(ledger, row, spawning) && read_sires(ledger, row, spawning) &&
           read_siring(ledger, row, spawning) &&
           row_whole(row, COLUMN_EGGS, 0, EGGS_MOST, &spawning->eggs) &&
           row_whole(row, COLUMN_HATCHED, 0, EGGS_MOST, &spawning->hatched) &&
           row_note(row, COLUMN_NOTE, spawning->note, sizeof spawning->note);
}

static bool check_once(const struct rows *rows, size_t index, const struct row *row)
{
    for (size_t i = 0; i < index; i++) {
        struct row before = rows_at(rows, i, NULL);
        if (strcmp(row_field(&before, COLUMN_SPAWNING), row_field(row, COLUMN_SPAWNING)) == 0)
            return row_refuse(row, COLUMN_SPAWNING, "%s stands on line %d already.",
                              row_field(row, COLUMN_SPAWNING), before.line);
    }
    return true;
}

static bool import_row(struct import *import, const struct rows *rows, size_t index,
                       struct err *err)
{
    struct row row = rows_at(rows, index, err);
    struct spawning spawning = {.eggs = UNKNOWN_COUNT, .hatched = UNKNOWN_COUNT};
    struct err why = {0};
    enum saved saved;
    if (!read_row(import->ledger, &row, &spawning) || !check_once(rows, index, &row))
        return false;
    if (!spawning_save(import->ledger, &spawning, import->judge, "import", &saved, &why))
        return row_refuse_as(&row, COLUMN_SPAWNING, &why);
    import_count(import, saved);
    return true;
}

bool import_spawnings(struct import *import, struct err *err)
{
    struct rows rows;
    if (!rows_read(import, columns, COLUMN_COUNT, false, &rows, err))
        return false;
    bool done = true;
    for (size_t i = 0; done && i < rows.csv.row_count; i++)
        done = import_row(import, &rows, i, err);
    rows_done(&rows);
    return done;
}
