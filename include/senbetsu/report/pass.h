/* A culling pass from end to end: a round's judgements out of the ledger, the standard applied to
 * them, the result shown or recorded. The command and the pass screen share it. */
#ifndef SENBETSU_REPORT_PASS_H
#define SENBETSU_REPORT_PASS_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/entry.h"
#include "senbetsu/core/judgement.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/passes.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"

struct fish_row {
    int64_t bowl_id; /* two stations may each have a bowl of one number */
    int bowl, number;
    enum verdict verdict;
    enum verdict sent; /* where it was put when it was judged; VERDICT_OPEN = nowhere */
    int rank;          /* 0 = none */
    int length_mm;     /* 0 = not measured */
    bool since_pass;   /* judged or corrected after the pass the list is made from */
    char score[32];    /* "71.4", "" = none */
    char reason[REASON_SIZE];
    char reason_label[REASON_SIZE];
    char tag[CODE_SIZE];
    char note[NOTE_SIZE];
};

/* What a pass knows of a fish beside its decision. A round has many, so this is small. */
struct pass_fish {
    int64_t id;
    unsigned bowl; /* index of the run's bowls */
    unsigned number : 20;
    enum verdict stands : 3; /* in the ledger, before this pass */
    enum verdict sent : 3;   /* where it was put when it was judged; VERDICT_OPEN = nowhere, or not
                                read (pass_run_load) */
    enum verdict tie : 3;    /* taken or left for a tie: the verdict by hand; else VERDICT_OPEN */
    bool changed : 1;        /* judged or corrected since the latest pass */
};

struct pass_bowl {
    int64_t id; /* two stations may each have a bowl of one number */
    int number;
};

/* A verdict by hand: why, and what would be decided without it. */
struct by_hand {
    size_t fish;                            /* index in the run */
    char reason[NOTE_SIZE + CODE_SIZE + 8]; /* with the judge: "too thin (Aiko)", or "(Aiko)" */
    struct decision without;
};

/* One pass that has been tried and not yet recorded. `standard` and `places` may be changed at
 * will (thresholds only: never aspects, faults or scale); pass_run_decide then says what follows.
 */
struct pass_run {
    struct round round;
    int64_t seen;                    /* what was written until it was read (ledger_changed) */
    struct standard_version version; /* as the ledger has it */
    struct standard standard;        /* what is applied; begins as the version's own */
    int places;                      /* -1 = no limit; begins as the round's */
    struct picks picks;              /* of a closer look at basins: they have places already */
    struct pass_bowl *bowls;         /* those that have fish, by number */
    size_t bowl_count;
    struct pass_fish *fish;     /* every fish of the round in the ledger, by bowl and number */
    struct decision *decisions; /* the result, in the same order */
    uint32_t *order;            /* indexes, best first (decisions_rank) */
    size_t count;
    struct by_hand *by_hand; /* in the order of their fish */
    size_t by_hand_count;
    struct tie tie; /* for the places that are left */
    int left;       /* fish that were left for such a tie, and would be kept but for that */
    int outscores;  /* fish without a place that score more than one that was kept for a tie */
};

/* Reads the round and decides it once. `standard` is a name; NULL or "" = the one the round is
 * judged by, else the one for its variety and stage. Fails (ERR_ABSENT) where there is none, and
 * (ERR_INPUT) where its scale is not the one the round was judged on. */
bool pass_run_load(struct ledger *ledger, const struct round *round, const char *standard,
                   struct pass_run *ret, struct err *err);

/* The same with a certain version of a standard, and with where each fish was put. */
bool pass_run_load_version(struct ledger *ledger, const struct round *round,
                           const struct standard_version *version, struct pass_run *ret,
                           struct err *err);

/* The same; every fish is also shown to `visit`, in order. */
bool pass_run_load_with(struct ledger *ledger, const struct round *round,
                        const struct standard_version *version, fish_visitor *visit, void *context,
                        struct pass_run *ret, struct err *err);
void pass_run_done(struct pass_run *run);

/* Decides everything anew from `standard` and `places`: those that were picked in a closer look at
 * basins, whoever they are, have theirs, the scores get the rest. */
void pass_run_decide(struct pass_run *run);

/* What the places leave to a person: a tie, fish kept by hand beyond them, places that are free
 * though fish were left for want of one, or a fish that scores more than one kept for a tie; ""
 * where there is nothing to do. `*ret_open`: a closer look can decide it. */
const char *pass_run_open_text(const struct pass_run *run, bool *ret_open,
                               char ret_text[TIE_TEXT_SIZE]);

/* Reads the round of a run anew and decides it by the same standard and places: as another run, or
 * in its place. */
bool pass_run_again(struct ledger *ledger, const struct pass_run *run, struct pass_run *ret,
                    struct err *err);
bool pass_run_reload(struct ledger *ledger, struct pass_run *run, struct err *err);

/* Records the result in one transaction: a new version of the standard where thresholds were
 * changed, the pass with its decisions, the standard as the round's own where it had none, and its
 * places. Only of a round that is still as it was decided: where fish were judged meanwhile nothing
 * is recorded (`*ret_recorded` false), and whoever has shown the run reloads it and asks again.
 * ERR_INPUT where the round has no fish judged one by one. */
bool pass_run_record(struct ledger *ledger, struct pass_run *run, int64_t judge, bool *ret_recorded,
                     struct err *err);

/* Fish `index` as tables show it, without length, tag and note; and as files have it, without the
 * label of its reason either. */
void pass_run_row_filed(const struct pass_run *run, size_t index, struct fish_row *ret);
void pass_run_row(const struct pass_run *run, size_t index, struct fish_row *ret);

/* The standard that speaks for a round: the name given (NULL or "" = none), else the round's own,
 * else the one for its variety and stage. */
bool round_standard(struct ledger *ledger, const struct round *round, const char *name,
                    struct standard_version *ret, struct err *err);

/* Moves the fish of the second look to the front of `fish`, in their order, and returns how many:
 * those that stand on hold. The look that is due is the lowest that one of them has still to come;
 * beside them come the fish that have had it already, after the latest pass if there was one
 * (`passed`), so that an interrupted look continues where it was. Fish still held after it come up
 * together in the look after. A closer look has picked
 * `gone` of the held ones, nobody knows which: those that were put into the keep basin when they
 * were judged do not come up, for they stay there, and of the others the last ones. */
size_t second_look_pick(struct fish *fish, size_t count, bool passed, int gone);

#endif
