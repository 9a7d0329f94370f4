/* Parents in and out. Rows may stand in any order: a dam or sire that the file brings itself is
 * saved before its young, however the file is sorted. */
#include "senbetsu/store/parents.h"
#include "rows.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

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
        reading->names[i] = (struct named){row_field(&row, PARENT_COLUMN_CODE), i};
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
static enum sex sex_of(const struct reading *reading, int at, const struct parent *known)
{
    if (at == NOBODY)
        return known->sex;
    struct row row = rows_at(&reading->rows, (size_t)at, NULL);
    int sex = term_find(sex_terms, SEX_COUNT, row_field(&row, PARENT_COLUMN_SEX));
    return sex <= (int)SEX_UNKNOWN ? known->sex : (enum sex)sex;
}

/* A dam or sire is in the file or the ledger, and of the right sex. */
static bool check_forebear(const struct reading *reading, const struct row *row, int column,
                           const char *code, int *ret_row)
{
    struct parent known = {0};
    struct err why = {0};
    *ret_row = code[0] != '\0' ? find_named(reading, code) : NOBODY;
    if (code[0] == '\0')
        return true;
    bool in_ledger = parent_get(row->ledger, code, &known, &why);
    if (!in_ledger && why.code != ERR_ABSENT)
        return row_refuse_as(row, column, &why);
    if (!in_ledger && *ret_row == NOBODY)
        return row_refuse(row, column, "there is no parent %s in this file or in the ledger.",
                          code);
    return parent_check_role(code, sex_of(reading, *ret_row, &known), column == PARENT_COLUMN_DAM,
                             &why) ||
           row_refuse_as(row, column, &why);
}

static bool read_row(const struct reading *reading, int index, struct err *err)
{
    struct row row = rows_at(&reading->rows, (size_t)index, err);
    struct entry_row *entry = &reading->entries[index];
    struct parent *parent = &entry->parent;
    if (!row_read(&row, parent) ||
        !row_settle_variety(&row, PARENT_COLUMN_VARIETY, parent->variety))
        return false;
    int first = find_named(reading, parent->code);
    if (first != index)
        return row_refuse(&row, PARENT_COLUMN_CODE, "%s is already on line %d.", parent->code,
                          reading->rows.csv.rows[first].line);
    return check_forebear(reading, &row, PARENT_COLUMN_DAM, parent->dam, &entry->dam) &&
           check_forebear(reading, &row, PARENT_COLUMN_SIRE, parent->sire, &entry->sire);
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
    if (!parent_save(row.ledger, &entry->parent, reading->rows.import->judge, "import", &saved,
                     &why))
        return row_refuse_as(&row, PARENT_COLUMN_CODE, &why);
    rows_count(&reading->rows, saved);
    entry->saved = true;
    return true;
}

/* Rows that wait for each other: the first of them in the file is named. */
static bool refuse_circle(const struct reading *reading, int waiting, struct err *err)
{
    for (int steps = 0; steps < reading->count; steps++)
        waiting = waits_for(reading, waiting);
    int first = waiting;
    for (int at = waits_for(reading, waiting); at != waiting; at = waits_for(reading, at))
        first = at < first ? at : first;
    struct row row = rows_at(&reading->rows, (size_t)first, err);
    const struct entry_row *entry = &reading->entries[first];
    int column = entry->dam == waits_for(reading, first) ? PARENT_COLUMN_DAM : PARENT_COLUMN_SIRE;
    return row_refuse(&row, column, "%s would be its own ancestor; correct its dam or sire.",
                      entry->parent.code);
}

/* Saves every row that waits for no other, again and again, until all are saved or none can be. */
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

bool import_parents(struct import *import, struct err *err)
{
    struct reading reading = {0};
    if (!rows_read(import, parent_columns, PARENT_COLUMN_COUNT, false, &reading.rows, err))
        return false;
    reading.count = (int)reading.rows.csv.row_count;
    reading.entries = alloc_zeroed((size_t)reading.count, sizeof *reading.entries);
    sort_names(&reading);
    bool done = true;
    for (int i = 0; done && i < reading.count; i++)
        done = read_row(&reading, i, err);
    done = done && save_rows(&reading, err);
    free(reading.entries);
    free(reading.names);
    rows_done(&reading.rows);
    return done;
}

bool export_parents(struct ledger *ledger, struct text *out, struct err *err)
{
    struct parent *parents;
    size_t count;
    if (!parent_list(ledger, &parents, &count, err))
        return false;
    export_names(parent_columns, PARENT_COLUMN_COUNT, out);
    csv_end_row(out);
    for (size_t i = 0; i < count; i++) {
        export_fields(parent_columns, PARENT_COLUMN_COUNT, &parents[i], out);
        csv_end_row(out);
    }
    free(parents);
    return true;
}
