/* How many parents a season's fish really come from. */
#ifndef SENBETSU_STATS_EFFECTIVE_H
#define SENBETSU_STATS_EFFECTIVE_H

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
