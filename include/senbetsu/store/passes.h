/* Culling passes and what they decided. */
#ifndef SENBETSU_STORE_PASSES_H
#define SENBETSU_STORE_PASSES_H

#include "senbetsu/core/judgement.h"
#include "senbetsu/store/ledger.h"

struct pass {
    int64_t id;
    int64_t round_id;
    int64_t standard_version;
    int places; /* -1 = no limit */
    int64_t judge;
    int64_t at_ms;
};

/* A decision as recorded: readable without the standard. */
struct pass_decision {
    int64_t fish;
    enum verdict verdict;
    char reason[REASON_SIZE];       /* code form, as `pass --csv` prints it */
    char reason_label[REASON_SIZE]; /* for people */
    bool scored;
    int64_t score, unit;
    int rank;
};

/* Records pass and decisions in one transaction, on the judgements that the fish have in the ledger
 * then; from now on they stand. Fills in pass->id. */
bool pass_record(struct ledger *ledger, struct pass *pass, const struct pass_decision *decisions,
                 size_t count, struct err *err);

/* The latest pass of a round. ERR_ABSENT where there is none. */
bool pass_latest(struct ledger *ledger, int64_t round_id, struct pass *ret, struct err *err);

/* In order of bowl and number. */
bool pass_decisions(struct ledger *ledger, int64_t pass_id, struct pass_decision **ret,
                    size_t *ret_count, struct err *err);

#endif
