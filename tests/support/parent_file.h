/* Spawnings of a file, as a parent model takes them: columns season, variety where there is more
 * than one, dam, sire, pair (else made of dam and sire), spawning, n, kept. */
#ifndef SENBETSU_TESTS_SUPPORT_PARENT_FILE_H
#define SENBETSU_TESTS_SUPPORT_PARENT_FILE_H

#include "senbetsu/base/csv.h"
#include "senbetsu/stats/glmm/model.h"
#include "support/cells.h"
#include "support/source.h"

enum { NAMED_SEASON = PARENT_TERMS, NAMED_VARIETY, NAMED_KINDS, NAMES = 200, NAME_SIZE = 64 };

static const char *const named_kinds[NAMED_KINDS] = {"dam",      "sire",   "pair",
                                                     "spawning", "season", "variety"};

struct parent_file {
    struct parent_row rows[NAMES];
    char names[NAMED_KINDS][NAMES][NAME_SIZE];
    int counts[NAMED_KINDS];
    struct parent_data data;
};

static inline int parent_file_find(const struct parent_file *file, int kind, const char *name)
{
    for (int i = 0; i < file->counts[kind]; i++)
        if (strcmp(file->names[kind][i], name) == 0)
            return i;
    return -1;
}

static inline int parent_file_level(struct parent_file *file, int kind, const char *name)
{
    int found = parent_file_find(file, kind, name);
    if (found >= 0)
        return found;
    assert_true(file->counts[kind] < NAMES);
    snprintf(file->names[kind][file->counts[kind]], NAME_SIZE, "%s", name);
    return file->counts[kind]++;
}

static inline int64_t parent_file_number(const struct csv *csv, size_t row, const char *column)
{
    return strtoll(csv_field(csv, row, csv_column(csv, column)), NULL, 10);
}

static inline void parent_file_row(struct parent_file *file, const struct csv *csv, size_t row)
{
    const char *fields[CELLS];
    cells_of(csv, row, fields);
    int levels[NAMED_KINDS];
    for (int kind = 0; kind < NAMED_KINDS; kind++) {
        int column = csv_column(csv, named_kinds[kind]);
        char name[2 * NAME_SIZE] = "the only one";
        if (column >= 0)
            snprintf(name, sizeof name, "%s", fields[column]);
        else if (kind == PARENT_PAIR)
            snprintf(name, sizeof name, "%sx%s", fields[csv_column(csv, "dam")],
                     fields[csv_column(csv, "sire")]);
        levels[kind] = parent_file_level(file, kind, name);
    }
    struct parent_row *to = &file->rows[row];
    memcpy(to->level, levels, sizeof to->level);
    to->season = levels[NAMED_SEASON];
    to->variety = levels[NAMED_VARIETY];
    to->n = parent_file_number(csv, row, "n");
    to->kept = parent_file_number(csv, row, "kept");
}

/* Reads `path` under the source tree. */
static inline void parent_file_read(struct parent_file *file, const char *path)
{
    struct text text;
    struct csv csv;
    struct err err;
    memset(file, 0, sizeof *file);
    source_file(path, &text);
    assert_ok(csv_parse(&text, &csv, &err), &err);
    assert_true(csv.row_count <= NAMES);
    for (size_t i = 0; i < csv.row_count; i++)
        parent_file_row(file, &csv, i);
    file->data = (struct parent_data){.rows = file->rows,
                                      .row_count = csv.row_count,
                                      .seasons = file->counts[NAMED_SEASON],
                                      .varieties = file->counts[NAMED_VARIETY]};
    memcpy(file->data.levels, file->counts, sizeof file->data.levels);
    csv_done(&csv);
    text_done(&text);
}

#endif
