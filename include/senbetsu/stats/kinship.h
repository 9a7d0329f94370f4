/* Kinship and inbreeding from a pedigree, by the tabular method (Emik and Terrill 1949, J Hered
 * 40:51–55; Lynch and Walsh 1998, Genetics and Analysis of Quantitative Traits, chapter 7); what
 * two fish are to each other, in words; and how many parents a season's fish really come from. */
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

/* What two fish are to each other, in words; from the nearest on. */
enum kinship_name {
    KIN_SAME,
    KIN_PARENT,
    KIN_FULL_SIBS,
    KIN_HALF_SIBS,
    KIN_GRANDPARENT,
    KIN_UNCLE,
    KIN_DOUBLE_COUSINS,
    KIN_GREAT_GRANDPARENT,
    KIN_HALF_UNCLE,
    KIN_COUSINS,
    KIN_HALF_COUSINS,
    KIN_DISTANT,
    KIN_NONE,
    KIN_COUNT
};

struct kinship_name_row {
    const char *words;
    double kinship; /* where nothing else connects the two: Falconer and Mackay 1996, chapter 5 */
};

extern const struct kinship_name_row kinship_names[KIN_COUNT];

/* The nearest relation of the list that holds between two fish of the table, whichever way about.
 * They may be related in other ways besides: then their kinship is above the row's. */
enum kinship_name kinship_name_of(const struct kinship *kinship, int a, int b);

/* How many equal parts would be as uneven as these amounts (none below 0): 1 ÷ Σp², p the shares.
 * 0 where all amounts are 0. The form of the founder equivalents of Lacy 1989, Zoo Biol 8:111–123
 * (cited from memory). */
double effective_number(const double *amounts, int count);

/* The effective number of parents, 4 · dams · sires ÷ (dams + sires) (Wright 1931, Genetics
 * 16:97–159). For unequal contributions each sex goes in with its effective_number: docs/kinship.md
 * derives it. 0 where there are none of a sex. */
double effective_parents(double dams, double sires);

/* By how much inbreeding grows in a generation, 1 ÷ (2 · effective number); that must be above 0.
 */
double inbreeding_per_generation(double effective);

#endif
