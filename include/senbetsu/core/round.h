/* A round is one culling of one lot at one stage: what is set for it, its numbers, and where its
 * rejects went. */
#ifndef SENBETSU_CORE_ROUND_H
#define SENBETSU_CORE_ROUND_H

#include "senbetsu/core/column.h"

struct round {
    int64_t id;
    int64_t spawning_id; /* 0 for a mixed lot */
    int64_t lot_id;
    char spawning[CODE_SIZE]; /* "" for a mixed lot */
    char variety[CODE_SIZE];  /* "" = unknown, or several */
    char lot[CODE_SIZE];
    bool own_lot; /* the lot a spawning begins as */
    int season;
    enum stage stage;
    enum manner manner;
    enum waiting waiting;
    enum fate fate;           /* of its rejects */
    int places;               /* -1 = not set */
    int expected;             /* fish to judge in all, 0 = not known: then the bowls' sum counts */
    char standard[CODE_SIZE]; /* the name its fish are judged by, "" = none yet */
};

/* What is set for a round. Stage and lot make it the one it is; the rest can be changed. */
enum {
    ROUND_COLUMN_STAGE,
    ROUND_COLUMN_LOT,
    ROUND_COLUMN_MANNER,
    ROUND_COLUMN_STANDARD,
    ROUND_COLUMN_PLACES,
    ROUND_COLUMN_EXPECTED,
    ROUND_COLUMN_WAITING,
    ROUND_COLUMN_FATE,
    ROUND_COLUMN_COUNT
};
extern const struct column round_columns[ROUND_COLUMN_COUNT];

struct round_counts {
    struct count in, kept;
    int64_t rejected, dead; /* NOT_COUNTED */
    char day[11];           /* when, "" = not known */
    char note[NOTE_SIZE];
};

/* Nothing is known. */
void round_counts_init(struct round_counts *counts);

/* Updates what is known with what is newly stated, each number by count_apply. What is not stated
 * stays. */
void round_counts_apply(struct round_counts *known, const struct round_counts *said);

/* Are both numbers of the round known? */
bool round_counts_whole(const struct round_counts *counts);

/* Fish rejected: as they were counted, else what is left of those that went in; NOT_COUNTED where
 * that cannot be told. */
int64_t round_counts_rejected(const struct round_counts *counts);

bool round_counts_equal(const struct round_counts *a, const struct round_counts *b);

/* What rates and the replay of the lots need of a round, and nothing else: they read all rounds of
 * all seasons at once. */
struct cull_numbers {
    int64_t id, lot_id;
    enum stage stage;
    bool bare; /* nothing is known of it but what was stated: no bowl, no key of a tally */
    struct count in, kept;
    int64_t dead;       /* NOT_COUNTED */
    char day[11];       /* "" = not known */
    int64_t covariance; /* by the errors of in and kept, as struct tally_totals has it */
    /* Of one that is not bare, as struct round_summary has them: */
    bool in_so_far;
    int64_t done, whole;
    bool outdated; /* its pass */
};

/* Fish by fate. As they are stated none are FATE_UNDECIDED and `over` is 0. */
struct fates {
    int64_t fish[FATE_COUNT];
    int64_t over; /* fish with a fate beyond those that were rejected; above 0 a number is wrong */
};

/* Is the fate of any fish known? */
bool fates_any(const struct fates *fates);
bool fates_equal(const struct fates *a, const struct fates *b);

/* Rejects without a stated fate get the round's own fate `rest`; where it has none, they are
 * FATE_UNDECIDED. There is no rest while `rejected` is NOT_COUNTED. */
void fates_settle(struct fates *fates, int64_t rejected, enum fate rest);

void fates_add(struct fates *total, const struct fates *more);

/* What a row of the rounds file states of a round. */
struct round_statement {
    char spawnings[CODES_SIZE]; /* one, or those of a mixed lot */
    char lot[CODE_SIZE];        /* "" = a spawning's own */
    enum stage stage;
    enum manner manner; /* MANNER_COUNT = not said */
    struct round_counts counts;
    int64_t fates[FATE_COUNT]; /* NOT_COUNTED */
};

enum {
    STATED_COLUMN_SPAWNING,
    STATED_COLUMN_LOT,
    STATED_COLUMN_STAGE,
    STATED_COLUMN_DATE,
    STATED_COLUMN_MANNER,
    STATED_COLUMN_IN, /* a number of fish is three columns: the number, how it was made, its error
                       */
    STATED_COLUMN_KEPT = STATED_COLUMN_IN + 3,
    STATED_COLUMN_REJECTED = STATED_COLUMN_KEPT + 3,
    STATED_COLUMN_DEAD,
    STATED_COLUMN_NOTE,
    STATED_COLUMN_FATES, /* one for each fate, in their order */
    STATED_COLUMN_COUNT = STATED_COLUMN_FATES + FATE_COUNT - 1
};
extern const struct column round_statement_columns[STATED_COLUMN_COUNT];

#endif
