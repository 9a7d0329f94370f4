#include "senbetsu/base/alloc.h"
#include "senbetsu/exchange/csv_rows.h"
#include "senbetsu/exchange/import.h"
#include "senbetsu/store/parents.h"

#include <stdlib.h>
#include <string.h>

enum {
    COLUMN_PARENT,
    COLUMN_SEX,
    COLUMN_VARIETY,
    COLUMN_BORN,
    COLUMN_DAM,
    COLUMN_SIRE,
    COLUMN_NOTE,
    COLUMN_COUNT,
};

static const struct column columns[COLUMN_COUNT] = {
    {"parent", true}, {"sex", false},  {"variety", false}, {"born", false},
    {"dam", false},   {"sire", false}, {"note", false},
};

/* Where in the file each parent stands. */
struct named {
    const char *code;
    int row;
};

enum { NOBODY = -1 };

/* A row and what it waits for: a dam or sire that stands in the same file must be saved first. */
struct entry_row {
    struct parent parent;
    int dam, sire; /* rows, NOBODY = not in this file */
    bool saved;
};

struct reading {
    struct import *import;
    struct rows rows;
    struct named *names;
    struct entry_row *entries;
    int count;
};

static int compare_named(const void *left, const void *right)
{
    const struct named *a = left, *b = right;
    int order = strcmp(a->code, b->code);
    return order != 0 ? order : a->row - b->row;
}

static void sort_names(struct reading *reading)
{
    reading->names = alloc_zeroed((size_t)reading->count, sizeof *reading->names);
    for (int i = 0; i < reading->count; i++) {
        struct row row = rows_at(&reading->rows, (size_t)i, NULL);
        reading->names[i] = (struct named){row_field(&row, COLUMN_PARENT), i};
    }
    qsort(reading->names, (size_t)reading->count, sizeof *reading->names, compare_named);
}

/* The first row of this code, or NOBODY. */
static int find_named(const struct reading *reading, const char *code)
{
    int low = 0, high = reading->count;
    while (low < high) {
        int middle = low + (high - low) / 2;
        if (strcmp(reading->names[middle].code, code) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    bool found = low < reading->count && strcmp(reading->names[low].code, code) == 0;
    return found ? reading->names[low].row : NOBODY;
}

/* The sex as the file has it, else as the ledger has it. */
static int sex_of(const struct reading *reading, int at, const struct parent *known)
{
    if (at == NOBODY)
        return (int)known->sex;
    struct row row = rows_at(&reading->rows, (size_t)at, NULL);
    int sex = term_find(sex_terms, SEX_COUNT, row_field(&row, COLUMN_SEX));
    return sex == SEX_UNKNOWN ? (int)known->sex : sex;
}

/* A dam or sire is in the file or the ledger, and of the right sex. */
static bool check_forebear(const struct reading *reading, const struct row *row, int column,
                           char *ret_code, int *ret_row)
{
    bool as_dam = column == COLUMN_DAM;
    struct parent known = {0};
    struct err why = {0};
    *ret_row = NOBODY;
    if (!row_code(row, column, ret_code, CODE_SIZE))
        return false;
    if (ret_code[0] == '\0')
        return true;
    *ret_row = find_named(reading, ret_code);
    bool in_ledger = parent_get(reading->import->ledger, ret_code, &known, &why);
    if (!in_ledger && why.code != ERR_ABSENT)
        return row_refuse_as(row, column, &why);
    if (!in_ledger && *ret_row == NOBODY)
        return row_refuse(row, column, "there is no parent %s in this file or in the ledger.",
                          ret_code);
    if (sex_of(reading, *ret_row, &known) == (as_dam ? SEX_MALE : SEX_FEMALE))
        return row_refuse(row, column, "%s is %s and cannot be a %s.", ret_code,
                          as_dam ? "male" : "female", as_dam ? "dam" : "sire");
    return true;
}

static bool read_row(const struct reading *reading, int index, struct err *err)
{
    struct row row = rows_at(&reading->rows, (size_t)index, err);
    struct entry_row *entry = &reading->entries[index];
    struct parent *parent = &entry->parent;
    int sex = SEX_UNKNOWN;
    int64_t born = 0;
    if (!row_code(&row, COLUMN_PARENT, parent->code, sizeof parent->code))
        return false;
    int first = find_named(reading, parent->code);
    if (first != index)
        return row_refuse(&row, COLUMN_PARENT, "%s stands on line %d already.", parent->code,
                          reading->rows.csv.rows[first].line);
    if (!row_term(&row, COLUMN_SEX, sex_terms, SEX_COUNT, &sex) ||
        !row_code(&row, COLUMN_VARIETY, parent->variety, sizeof parent->variety) ||
        !row_whole(&row, COLUMN_BORN, 1900, 2199, &born) ||
        !check_forebear(reading, &row, COLUMN_DAM, parent->dam, &entry->dam) ||
        !check_forebear(reading, &row, COLUMN_SIRE, parent->sire, &entry->sire) ||
        !row_note(&row, COLUMN_NOTE, parent->note, sizeof parent->note))
        return false;
    parent->sex = (enum sex)sex;
    parent->born = (int)born;
    return true;
}

/* The row that must be saved before this one, or NOBODY. */
static int waits_for(const struct reading *reading, int index)
{
    const struct entry_row *entry = &reading->entries[index];
    if (entry->dam != NOBODY && !reading->entries[entry->dam].saved)
        return entry->dam;
    if (entry->sire != NOBODY && !reading->entries[entry->sire].saved)
        return entry->sire;
    return NOBODY;
}

static bool save_row(const struct reading *reading, int index, struct err *err)
{
    struct row row = rows_at(&reading->rows, (size_t)index, err);
    struct entry_row *entry = &reading->entries[index];
    struct err why = {0};
    enum saved saved;
    if (!parent_save(reading->import->ledger, &entry->parent, reading->import->judge, "import",
                     &saved, &why))
        return row_refuse_as(&row, COLUMN_PARENT, &why);
    import_count(reading->import, saved);
    entry->saved = true;
    return true;
}

/* Rows that wait for each other: whoever of them stands first in the file is named. */
static bool refuse_circle(const struct reading *reading, int waiting, struct err *err)
{
    for (int steps = 0; steps < reading->count; steps++)
        waiting = waits_for(reading, waiting);
    int first = waiting;
    for (int at = waits_for(reading, waiting); at != waiting; at = waits_for(reading, at))
        first = at < first ? at : first;
    struct row row = rows_at(&reading->rows, (size_t)first, err);
    const struct entry_row *entry = &reading->entries[first];
    int column = entry->dam == waits_for(reading, first) ? COLUMN_DAM : COLUMN_SIRE;
    return row_refuse(&row, column, "%s would be its own ancestor.", entry->parent.code);
}

/* Saves whatever waits for nobody, again and again, until all is saved or nothing moves. */
static bool save_rows(const struct reading *reading, struct err *err)
{
    int left = reading->count;
    while (left > 0) {
        int before = left, waiting = NOBODY;
        for (int i = 0; i < reading->count; i++) {
            if (reading->entries[i].saved)
                continue;
            if (waits_for(reading, i) != NOBODY)
                waiting = i;
            else if (save_row(reading, i, err))
                left--;
            else
                return false;
        }
        if (left == before)
            return refuse_circle(reading, waiting, err);
    }
    return true;
}

static bool read_rows(struct reading *reading, struct err *err)
{
    reading->entries = alloc_zeroed((size_t)reading->count, sizeof *reading->entries);
    sort_names(reading);
    for (int i = 0; i < reading->count; i++)
        if (!read_row(reading, i, err))
            return false;
    return true;
}

bool import_parents(struct import *import, struct err *err)
{
    struct reading reading = {.import = import};
    if (!rows_read(import, columns, COLUMN_COUNT, false, &reading.rows, err))
        return false;
    reading.count = (int)reading.rows.csv.row_count;
    bool done = read_rows(&reading, err) && save_rows(&reading, err);
    free(reading.entries);
    free(reading.names);
    rows_done(&reading.rows);
    return done;
}
