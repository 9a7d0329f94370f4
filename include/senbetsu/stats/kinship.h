/* Kinship and inbreeding from a pedigree, by the tabular method (Emik and Terrill 1949, J Hered
 * 40:51–55; Lynch and Walsh 1998, Genetics and Analysis of Quantitative Traits, chapter 7). */
#ifndef SENBETSU_STATS_KINSHIP_H
#define SENBETSU_STATS_KINSHIP_H

#include "senbetsu/base/err.h"
#include <stdbool.h>
#include <stddef.h>

/* A dam or sire that is not known: it counts as a founder of its own, related to nobody. A
 * table of more than KINSHIP_MOST fish is refused: it would take more than 256 MB. */
enum { UNKNOWN_PARENT = -1, KINSHIP_MOST = 8000 };

struct pedigree_fish {
    const char *code; /* names the fish in sentences */
    int dam, sire;    /* places in the same pedigree, in any order; UNKNOWN_PARENT */
};

/* The table of some fish and all their ancestors. */
struct kinship {
    const struct pedigree_fish *pedigree; /* the caller's; it must stay as long as the table */
    int count;                            /* of fish in the table */
    int *fish;                            /* their places in the pedigree, each after its parents */
    int *rows;     /* of each fish of the pedigree: its row in the table, or -1 */
    double *table; /* lower triangle, row by row */
};

/* Works out the table of `wanted_count` fish (NULL: of the whole pedigree, `count` fish) and their
 * ancestors. Fails on a loop, naming the fish in it, and on more than KINSHIP_MOST fish. */
bool kinship_make(const struct pedigree_fish *pedigree, int count, const int *wanted,
                  int wanted_count, struct kinship *ret, struct err *err);
void kinship_done(struct kinship *kinship);

/* The coefficient of kinship: the chance that a gene taken from `a` and one taken from `b` at the
 * same place are copies of one gene of a common ancestor. The inbreeding of their offspring is the
 * same number. Both fish must be in the table. */
double kinship_between(const struct kinship *kinship, int a, int b);

/* Of the fish itself. */
double kinship_inbreeding(const struct kinship *kinship, int fish);

/* Where two lines of descent meet. */
struct common_ancestor {
    int fish;
    int above_a, above_b; /* fewest generations; 0 = it is the fish itself */
    double paths;         /* in how many ways the two lines can run without meeting earlier */
    double part;          /* of the kinship that comes from here */
};

/* The common ancestors of two fish in the table, largest part first; the parts sum up to the
 * kinship. Each path from one fish up to the ancestor and down to the other, with n fish on it,
 * gives (1/2)^n · (1 + F of the ancestor): Wright 1922, Am Nat 56:330–338. Free `*ret` with free().
 */
void common_ancestors(const struct kinship *kinship, int a, int b, struct common_ancestor **ret,
                      size_t *ret_count);

#endif
