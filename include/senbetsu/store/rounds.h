/* Lots, rounds and bowls. */
#ifndef SENBETSU_STORE_ROUNDS_H
#define SENBETSU_STORE_ROUNDS_H

#include "senbetsu/core/progress.h"
#include "senbetsu/core/round.h"
#include "senbetsu/core/standard.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/station.h"

/* The latest pass of a round, and what it decided on. */
struct latest_pass {
    int64_t id; /* 0 = there has been none */
    int64_t at_ms;
    int places; /* -1 = no limit */
    int fish;   /* of the round then, those not judged among them */
    char standard[CODE_SIZE];
    int version;
    int newest; /* version of the standard that the round is judged by now */
};

/* What the rows of a round and its bowls keep of its fish judged one by one; triggers keep it, so
 * that reading it looks at no fish. */
struct round_counters {
    int bowls;
    /* Expected: the sum of the bowls, each with its fish so far where they are more than was
     * counted; 0 while the last bowl was not counted. */
    struct verdict_counts tally;
    int held;                  /* the same sum, whatever is known of the last bowl */
    bool stated, tallied;      /* numbers of it were; some may have been taken back */
    int64_t first_ms, last_ms; /* the first fish looked at, the last begun or closed; -1 = none */
    struct latest_pass pass;
};

struct counted_round {
    struct round round;
    struct round_counters counters;
};

enum { BOWL_TITLE_SIZE = STATION_NAME_SIZE + 16 };

struct bowl {
    int64_t id;
    int64_t round_id;
    int number;
    int expected; /* 0 = not known */
    char day[11]; /* when it was set up */
    bool begun;   /* by the bowl_begin that gave it */
    struct verdict_counts tally;
    char station[STATION_NAME_SIZE]; /* that set it up, where another live bowl of its round has
                                        the same number (after a join); else "" */
};

/* "3", or "3 (far ponds)" where there are two. */
const char *bowl_title(const struct bowl *bowl, char ret_title[BOWL_TITLE_SIZE]);

/* The round of a spawning's lot at a stage. `lot` NULL or "" = the spawning's own lot; where that
 * has no such round but exactly one other lot has, that one. ERR_ABSENT, also where several could
 * be meant (the sentence names them). */
bool round_find(struct ledger *ledger, const char *spawning, const char *lot, enum stage stage,
                struct round *ret, struct err *err);

/* Finds the round of exactly this lot or begins it (manner judge); a lot not seen before becomes
 * part of the spawning. */
bool round_begin(struct ledger *ledger, const char *spawning, const char *lot, enum stage stage,
                 struct round *ret, struct err *err);

/* The same with the manner of a round that is not there yet. `spawnings` may be the codes of
 * several, separated by ';': then `lot` is the name of a lot mixed from exactly these. */
bool round_begin_as(struct ledger *ledger, const char *spawnings, const char *lot, enum stage stage,
                    enum manner manner, struct round *ret, bool *ret_new, struct err *err);
bool round_get(struct ledger *ledger, int64_t id, struct round *ret, struct err *err);

/* Writes manner, waiting, fate, places, expected and standard; what changes goes into the audit
 * log. Another standard works out the verdicts of the round's fish anew. */
bool round_save(struct ledger *ledger, const struct round *round, int64_t judge, struct err *err);

/* Writes the same of a round that has just been begun: that is no change, so nothing goes into the
 * audit log. Call it in the transaction that begins the round. */
bool round_fill(struct ledger *ledger, const struct round *begun, struct err *err);

/* Rounds with fish first looked at on this day, or bowls set up on it. */
bool round_list_of_day(struct ledger *ledger, const char *day, struct round **ret,
                       size_t *ret_count, struct err *err);

/* Of a spawning, or of all (NULL): by season, spawning, stage, lot. */
bool round_list(struct ledger *ledger, const char *spawning, struct round **ret, size_t *ret_count,
                struct err *err);

/* The same rounds with their counters, and one of them (ERR_ABSENT). */
bool counted_round_list(struct ledger *ledger, const char *spawning, struct counted_round **ret,
                        size_t *ret_count, struct err *err);
bool counted_round_get(struct ledger *ledger, int64_t id, struct counted_round *ret,
                       struct err *err);

/* Finds the bowl with this number or sets it up. `expected` 0 leaves what is known. */
bool bowl_begin(struct ledger *ledger, int64_t round_id, int number, int expected, const char *day,
                struct bowl *ret, struct err *err);
bool bowl_get(struct ledger *ledger, int64_t id, struct bowl *ret, struct err *err);

/* By number. */
bool bowl_list(struct ledger *ledger, int64_t round_id, struct bowl **ret, size_t *ret_count,
               struct err *err);

/* The counters of bowls and rounds follow every fish, and of every row SQLite looks whether what it
 * names is there. Whoever writes many fish, and has looked for what their rows name in the same
 * transaction, has both wait, counts the fish of each round that was touched (also whether what
 * stands of them hangs on a pass), and has them follow again, whatever became of it. */
void derived_wait(struct ledger *ledger);
bool round_count_fish(struct ledger *ledger, int64_t round_id, struct err *err);
void derived_follow(struct ledger *ledger);

#endif
