/* What must hold of a ledger that a fault or a cut has struck. Everything is looked at through
 * connections of the tests' own: as somebody else sees it. */
#ifndef SENBETSU_TESTS_FAULTS_ORACLE_H
#define SENBETSU_TESTS_FAULTS_ORACLE_H

#include "fault.h"
#include "scenario.h"

/* All that a ledger says, but for which station it is, as one number. */
enum { NO_LEDGER = 0, UNREADABLE = 1 }; /* absent or empty; not to be read */
uint64_t ledger_says(const char *path);

/* What the ledger says after each of a scenario's steps, as a run without faults left it. */
enum { STEPS_AT_MOST = 16 };
struct witness {
    uint64_t after[STEPS_AT_MOST + 1]; /* [0] = before the first */
    uint64_t copied;                   /* what a copy that was there before says; 0 = none was */
};

/* Where something was found wrong; each finding is printed and counted. */
struct finding_place {
    const struct scenario *scenario;
    struct strike fault;
    const char *when; /* "refused", "cut at event 31 (torn 512, seed 7)" */
};
void finding(const struct finding_place *place, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
int findings(void);

/* Files and descriptors, to be compared later. */
struct listing {
    struct image image; /* names alone */
    int descriptors;
};
void listing_take(struct listing *listing, const char *folder);

/* A step was refused after `said` steps had been told; the fault is over. True where the step has
 * been done all the same, as the sentence must have left open. */
bool oracle_refused(const struct finding_place *place, struct subject *subject,
                    const struct witness *witness, int said, const struct listing *before,
                    const struct err *err);

/* All steps were told, and everything is closed. */
void oracle_ended(const struct finding_place *place, struct subject *subject,
                  const struct witness *witness, const struct listing *before);

/* A new start finds the folder as a death left it: the ledger as after step `least` or `most`. */
void oracle_after_death(const struct finding_place *place, const char *folder,
                        const struct witness *witness, int least, int most);

#endif
