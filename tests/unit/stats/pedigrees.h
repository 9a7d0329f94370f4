/* The published pedigrees, read from tests/data/pedigrees.csv. */
#ifndef SENBETSU_TESTS_UNIT_STATS_PEDIGREES_H
#define SENBETSU_TESTS_UNIT_STATS_PEDIGREES_H

#include "senbetsu/base/csv.h"
#include "senbetsu/stats/kinship.h"
#include "support/source.h"

enum { PEDIGREE_NAME, PEDIGREE_FISH, PEDIGREE_SIRE, PEDIGREE_DAM };

static inline void load_table(const char *path, struct csv *ret)
{
    struct text bytes;
    struct err err;
    source_file(path, &bytes);
    assert_ok(csv_parse(&bytes, ret, &err), &err);
    text_done(&bytes);
}

/* The codes stay those of the table that it was read from. */
struct pedigree {
    struct pedigree_fish *fish;
    int count;
};

static inline int place_of(const struct pedigree *pedigree, const char *code)
{
    for (int i = 0; i < pedigree->count; i++)
        if (strcmp(pedigree->fish[i].code, code) == 0)
            return i;
    return UNKNOWN_PARENT;
}

/* The pedigree of this name, its fish in the table's order or the other way about. Free `fish` with
 * free(). */
static inline struct pedigree take_pedigree(const struct csv *csv, const char *name, bool backwards)
{
    struct pedigree pedigree = {calloc(csv->row_count, sizeof *pedigree.fish), 0};
    size_t rows[512];
    for (size_t i = 0; i < csv->row_count; i++) {
        size_t row = backwards ? csv->row_count - 1 - i : i;
        if (strcmp(csv_field(csv, row, PEDIGREE_NAME), name) != 0)
            continue;
        rows[pedigree.count] = row;
        pedigree.fish[pedigree.count++].code = csv_field(csv, row, PEDIGREE_FISH);
    }
    if (pedigree.count == 0)
        fail_msg("there is no pedigree %s", name);
    for (int i = 0; i < pedigree.count; i++) {
        pedigree.fish[i].dam = place_of(&pedigree, csv_field(csv, rows[i], PEDIGREE_DAM));
        pedigree.fish[i].sire = place_of(&pedigree, csv_field(csv, rows[i], PEDIGREE_SIRE));
    }
    return pedigree;
}

#endif
