/* Culling passes and what they decided. */
#ifndef SENBETSU_STORE_PASSES_H
#define SENBETSU_STORE_PASSES_H

#include "senbetsu/core/judgement.h"
#include "senbetsu/store/ledger.h"

struct pass {
    int64_t id;
    int64_t round_id;
    int64_t standard_version;
    int places;   /* -1 = no limit */
    int64_t unit; /* score_unit of the standard */
    int64_t judge;
    int64_t at_ms;
};

/* What a pass decided as recorded: readable without the standard. Thousands of fish share a few
 * reasons. */
struct decision_reason {
    char code[REASON_SIZE];  /* as `pass --csv` prints it */
    char label[REASON_SIZE]; /* for people */
};

struct pass_decision {
    int64_t fish;
    int64_t score; /* in 1/unit points of the pass */
    int rank;      /* 0 = without a score */
    int reason;    /* index of the pass's reasons */
    enum verdict verdict;
    bool stands; /* it is what stands of the fish already; only for pass_record, which is told */
};

struct pass_decisions {
    struct decision_reason *reasons;
    size_t reason_count;
    struct pass_decision *fish;
    size_t count;
};

/* Records pass and decisions in one transaction, on the judgements that the fish have in the ledger
 * then; from now on they stand. Fills in pass->id. */
bool pass_record(struct ledger *ledger, struct pass *pass, const struct pass_decisions *decisions,
                 struct err *err);

/* The latest pass of a round. ERR_ABSENT where there is none. */
bool pass_latest(struct ledger *ledger, int64_t round_id, struct pass *ret, struct err *err);

/* In order of bowl and number. The caller ends with pass_decisions_done. */
bool pass_decisions_get(struct ledger *ledger, int64_t pass_id, struct pass_decisions *ret,
                        struct err *err);
void pass_decisions_done(struct pass_decisions *decisions);

#endif
