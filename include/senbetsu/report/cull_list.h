/* The evening's list: which fish go where after a cull, bowl by bowl. It is made here, print lays
 * it out, the screen with the tag reader shows it. */
#ifndef SENBETSU_REPORT_CULL_LIST_H
#define SENBETSU_REPORT_CULL_LIST_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/count.h"
#include "senbetsu/core/round.h"
#include "senbetsu/core/tally.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/rounds.h"

/* Why fish were rejected, and how many. */
struct reject_reason {
    char label[LABEL_SIZE];
    int64_t fish;
};

enum {
    JUDGES_SIZE = 8 * CODE_SIZE, /* more names than fit end in "…" */
    STANDARD_TEXT_SIZE = CODE_SIZE + 128,
    INSTANT_SIZE = 32,
};

struct cull_round {
    char spawning[CODE_SIZE];
    char variety[CODE_SIZE];
    char lot[CODE_SIZE];
    enum stage stage;
    enum waiting waiting;
    int expected;       /* fish to judge in the whole round, as its form says; 0 = not said */
    int places;         /* for how many fish, -1 = no limit */
    enum fate fate;     /* of the rejects of whom nothing else is stated */
    struct fates fates; /* as stated */
    bool estimated;     /* that number rests on scoops or weights */
    bool stated; /* rejects were stated or tallied: `rejected`; else they are those of `fish` */
    int64_t rejected;
    char pond[CODE_SIZE];              /* where the lot is, "" = nobody said */
    char first_day[11], last_day[11];  /* on which fish were judged or tallied, "" = none was */
    char judges[JUDGES_SIZE];          /* who did, "Aoki, Ines"; "" = nobody said */
    char standard[STANDARD_TEXT_SIZE]; /* what decides: "kikusui-harvest version 1: keep from 65,
                                          hold from 55" */
    char passed[INSTANT_SIZE];         /* the latest pass, "2026-11-05 16:20"; "" = none yet */
    struct picks picks;                /* of a closer look at basins: held fish that are kept */
    char left_open[TIE_TEXT_SIZE]; /* what the places leave to a person: "29 fish tie at 50.0 for 10
                                      places"; "" = nothing (pass_run_open_text) */
    /* Of report/rounds.h, "" = nothing of the sort: why the pass is out of date, "1 fish judged
     * since"; "not done: 35 of 60 judged". */
    char outdated[ROUND_SENTENCE_SIZE], not_done[ROUND_SENTENCE_SIZE];
    struct bowl *bowls; /* by number */
    size_t bowl_count;
    struct reject_reason *reasons; /* of tallied rejects */
    size_t reason_count;
    struct fish_row *fish; /* by bowl and number, keeps included */
    size_t fish_count;
};

struct cull_list {
    char title[128]; /* "2026-11-05", or "K26-1, harvest" */
    char printed[32];
    struct cull_round *rounds;
    size_t round_count;
};

struct bowl_fish {
    int number;
    const char *station;         /* of two bowls of one number, whose it is; else "" */
    int expected;                /* 0 = not known */
    const struct fish_row *fish; /* by number */
    size_t count;
};

/* Walks a round's bowls by number, those without fish and those that only fish name included.
 * `*iterator` starts as {0}; false after the last bowl. */
struct bowl_iterator {
    size_t bowl, fish;
};
bool bowl_iterator_next(const struct cull_round *round, struct bowl_iterator *iterator,
                        struct bowl_fish *ret);

/* Numbers up to `expected` that no fish bears: runs of them, in order. `*gap` starts as {0}; false
 * after the last run. */
struct bowl_gap {
    size_t at; /* the iterator's own */
    int first, last;
};
bool bowl_gap_next(const struct bowl_fish *bowl, struct bowl_gap *gap);

struct cull_count {
    int fish[VERDICT_COUNT];
    int unseen; /* expected and never looked at */
};
void cull_count_add(struct cull_count *count, const struct bowl_fish *bowl);

/* Of fish expected in the round and in no bowl, too, nobody has looked at any; those that a closer
 * look picked are kept. */
struct cull_count cull_count_round(const struct cull_round *round);

/* A tie that the latest pass has left open. */
struct cull_tie {
    int fish;   /* that tie, those picked already left out; 0 = there is none */
    int places; /* for them: fewer than `fish` */
    int rank;   /* theirs in that pass */
};
struct cull_tie cull_tie_of(const struct cull_round *round);
bool cull_ties(const struct fish_row *fish, const struct cull_tie *tie);

/* Begun and left open, or never looked at. */
int cull_not_judged(const struct cull_count *count);

/* Each round is listed by what stands of its fish (docs/decisions/standing.md): a fish judged or
 * corrected since the latest pass is marked. A round without a pass shows the verdicts as they were
 * judged, and its basis says so. */
bool cull_list_of_round(struct ledger *ledger, const struct round *round, struct cull_list *ret,
                        struct err *err);

/* All rounds at work on a day ("2026-11-05"). ERR_ABSENT where there is none. */
bool cull_list_of_day(struct ledger *ledger, const char *day, struct cull_list *ret,
                      struct err *err);

/* One round alone, without its pond, its judges, and length, tag and note of its fish. */
bool cull_round_make(struct ledger *ledger, const struct round *round, struct cull_round *ret,
                     struct err *err);
void cull_round_done(struct cull_round *round);

/* The fish of a pass's round that are expected and that nobody has looked at, as the list counts
 * them. */
bool cull_list_unseen(struct ledger *ledger, const struct pass_run *run, int *ret, struct err *err);

void cull_list_done(struct cull_list *list);

/* Why the tallied fish of a round were rejected: labels of its standard, codes where there is none
 * that serves the cull. The caller frees them. */
bool reject_reasons_make(struct ledger *ledger, const struct round *round,
                         const struct tally_totals *totals, struct reject_reason **ret,
                         size_t *ret_count, struct err *err);

#endif
