/* Fish and the strokes that say what is known of them. */
#ifndef SENBETSU_STORE_FISH_H
#define SENBETSU_STORE_FISH_H

#include "senbetsu/core/entry.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/core/standard.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/ledger.h"

/* The fish with this number in a bowl; 0 where there is none. */
bool fish_numbered(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                   struct err *err);

/* The same; where there is none it is added. */
bool fish_begin(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                struct err *err);

/* The bowl of a round that has this number and a fish with that one; `*ret_bowl_id` 0 = none. */
bool fish_find(struct ledger *ledger, int64_t round_id, int bowl, int number, int64_t *ret_bowl_id,
               struct err *err);

/* One transaction: the stroke (id filled in; its order among the fish's strokes is given here), the
 * fish's verdict (NULL leaves it), the place (NULL leaves it). `stroke->fish` must be set. */
bool stroke_record(struct ledger *ledger, struct stroke *stroke,
                   const struct cached_verdict *cached, const struct place *place, struct err *err);

/* Adds a fish that is not there yet together with its first stroke, whose `fish` and `id` are set.
 * Where its round has had a pass, round_count_fish is to say what stands of it. */
bool fish_record(struct ledger *ledger, int64_t bowl_id, int number, struct stroke *stroke,
                 const struct cached_verdict *cached, struct err *err);

/* A fish, a bowl's fish or a round's fish, summed from their strokes (checks left out), in order of
 * bowl and number. The caller frees `*ret` with free(). */
bool fish_load(struct ledger *ledger, int64_t id, const struct standard *standard, struct fish *ret,
               struct err *err);
bool fish_of_bowl(struct ledger *ledger, int64_t bowl_id, const struct standard *standard,
                  struct fish **ret, size_t *ret_count, struct err *err);
bool fish_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                   struct fish **ret, size_t *ret_count, struct err *err);

/* The same of one fish, but for the `count` strokes `without`: what taking them back will leave. */
bool fish_load_without(struct ledger *ledger, int64_t id, const int64_t *without, size_t count,
                       const struct standard *standard, struct fish *ret, struct err *err);

/* What the ledger says of a fish without its strokes being summed: what a key needs. */
struct fish_now {
    enum verdict stands;
    bool changed;
    int64_t score;     /* of one that could be kept, as in verdict_scores; -1 = it is not there */
    int64_t closed_ms; /* as in closings_of; 0 = it is not there */
    int64_t mark; /* as long as it stays, nothing was recorded of the fish: one more a stroke */
};
bool fish_now(struct ledger *ledger, int64_t id, int64_t unit, int64_t judge, struct fish_now *ret,
              struct err *err);

/* A round's fish in the same order, one after another: whoever wants to know little of each keeps
 * no more than that of a large round. */
typedef void fish_visitor(void *context, const struct fish *fish);
bool fish_each_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                        fish_visitor *visit, void *context, struct err *err);

/* The same from what the ledger keeps ready of each fish: without summing strokes, but only what
 * decides, by the latest version of the standard that the round is judged by. */
struct judged_fish {
    int64_t id, bowl_id;
    int bowl, number;
    enum verdict stands;
    bool changed;
    int64_t score; /* of one that its score alone decides; NOT_SCORED = the judgement does */
    struct judgement judgement;
};
enum { NOT_SCORED = -1 };
typedef void judged_visitor(void *context, const struct judged_fish *fish);
bool judged_each_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                          judged_visitor *visit, void *context, struct err *err);

/* One look of one judge at one fish: what the fish form of export writes, checks included. */
struct look {
    int64_t fish;
    int64_t judge;
    char judge_name[CODE_SIZE];
    int look;
    bool checking;
    char day[11];
    struct fish summed; /* only this look's strokes (plus length, tag, note of the fish) */
};

/* Each fish of a bowl with its looks, checks last; both are gone after the visit. */
typedef void looked_visitor(void *context, const struct fish *fish, const struct look *looks,
                            size_t count);
bool looked_each_of_bowl(struct ledger *ledger, int64_t bowl_id, const struct standard *standard,
                         looked_visitor *visit, void *context, struct err *err);

/* How many fish of a round have a look that was begun on a local day: fish, not looks. */
bool fish_looked_at(struct ledger *ledger, int64_t round_id, const char *day, int64_t *ret,
                    struct err *err);

/* The same of one fish, which has been loaded. */
bool looks_of_fish(struct ledger *ledger, const struct fish *fish, const struct standard *standard,
                   struct look **ret, size_t *ret_count, struct err *err);

/* Cached verdicts of a round for the sheet: the scores of fish that could be kept (1/unit points;
 * other units are left out), and when `judge`'s fish were closed since `since_ms`, ascending. */
bool verdict_scores(struct ledger *ledger, int64_t round_id, int64_t unit, int64_t **ret,
                    size_t *ret_count, struct err *err);
bool closings_of(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t since_ms,
                 int64_t **ret, size_t *ret_count, struct err *err);

/* When the fish of a round were closed, judge by judge: by whom, and ascending instants of each. */
struct closings {
    int64_t *judges, *instants;
    size_t count;
};
bool closings_of_round(struct ledger *ledger, int64_t round_id, struct closings *ret,
                       struct err *err);

/* One judge's instants; 0 = who gave no name. */
const int64_t *closings_by(const struct closings *closings, int64_t judge, size_t *ret_count);
void closings_done(struct closings *closings);

/* What can still be undone in a bowl, or (bowl 0) among the second looks of a round: oldest first.
 */
bool undoable_of(struct ledger *ledger, int64_t round_id, int64_t bowl_id, struct undoable **ret,
                 size_t *ret_count, struct err *err);

/* The last verdict by hand in a round that decided a tie (TIE_REASON) and was not taken back.
 * ERR_ABSENT where there is none. */
bool tie_undoable(struct ledger *ledger, int64_t round_id, struct undoable *ret, struct err *err);

/* The fish that carries a tag: one of this round before others, else the one that was given it
 * last; fish 0 = none. */
bool tag_bearer_get(struct ledger *ledger, int64_t round_id, const char *tag,
                    struct tag_bearer *ret, struct err *err);

#endif
