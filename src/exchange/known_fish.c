/* The fish that a file's rows are compared with, each read from the ledger when a row speaks of it.
 *
 * Earlier rows of the file are in the ledger by then. Of them nothing is kept but the line and who
 * decided, so that a file of a million fish needs little memory, and one of a few fish does not
 * read the rest of their round. */
#include "known_fish.h"
#include "senbetsu/store/rounds.h"

#include <limits.h>
#include <stdlib.h>

void known_fish_init(struct known_fish *known)
{
    *known = (struct known_fish){.round = 0};
    mentions_init(&known->mentions);
}

void known_fish_done(struct known_fish *known)
{
    mentions_done(&known->mentions);
}

/* Rows of a bowl mostly follow one another. */
static bool find_bowl(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                      const char *day, int64_t *ret_id, struct err *err)
{
    struct bowl bowl;
    if (known->bowl_id == 0 || known->round != key->round || known->bowl != key->bowl) {
        if (!bowl_begin(ledger, key->round, key->bowl, 0, day, &bowl, err))
            return false;
        known->bowl_id = bowl.id;
        known->round = key->round;
        known->bowl = key->bowl;
        known->highest = bowl.begun ? 0 : INT_MAX;
    }
    *ret_id = known->bowl_id;
    return true;
}

/* The last look that is no check says who judged the fish. */
static int64_t decider_of(const struct known_fish *known, int64_t fish, const struct look *looks,
                          size_t count)
{
    const struct mention *mention = mention_find(&known->mentions, fish, NO_CHECKER);
    int64_t decider = 0;
    for (size_t i = 0; i < count; i++)
        if (!looks[i].checking)
            decider = looks[i].judge;
    return mention != NULL ? mention->judge : decider;
}

/* Makes a judge's check of the deciding view. */
static void turn_to_check(struct known_view *view, int64_t judge, const struct look *looks,
                          size_t count)
{
    struct fish fish = view->fish;
    view->checker = judge;
    view->is_new = true;
    fish_init(&view->fish, fish.id, fish.bowl_id, fish.bowl, fish.number);
    view->fish.length_mm = fish.length_mm; /* a fish has one length and one tag, whoever looks */
    text_copy(view->fish.tag, sizeof view->fish.tag, fish.tag);
    for (size_t i = 0; i < count; i++)
        if (looks[i].checking && looks[i].judge == judge) {
            view->fish = looks[i].summed;
            view->is_new = false;
        }
}

static bool load(const struct known_fish *known, struct ledger *ledger, int64_t id,
                 const struct standard *standard, int64_t judge, struct known_view *view,
                 struct err *err)
{
    struct look *looks;
    size_t count;
    if (!fish_load(ledger, id, standard, &view->fish, err) ||
        !looks_of_fish(ledger, &view->fish, standard, &looks, &count, err))
        return false;
    view->decider = decider_of(known, id, looks, count);
    if (judge != 0 && view->fish.look > 0 && view->decider != judge)
        turn_to_check(view, judge, looks, count);
    free(looks);
    return true;
}

/* What a bowl that was just begun has are this file's fish, mostly in their order. */
static bool find_fish(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                      int64_t *ret_id, struct err *err)
{
    if (key->number <= known->highest)
        return fish_numbered(ledger, known->bowl_id, key->number, ret_id, err);
    known->highest = key->number;
    return true;
}

bool known_fish_view(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                     const struct standard *standard, int64_t judge, const char *day,
                     struct known_view *ret, struct err *err)
{
    struct known_view view = {.checker = NO_CHECKER};
    int64_t bowl, id = 0;
    if (!find_bowl(known, ledger, key, day, &bowl, err) || !find_fish(known, ledger, key, &id, err))
        return false;
    view.is_new = id == 0;
    if (view.is_new)
        fish_init(&view.fish, id, bowl, key->bowl, key->number);
    else if (!load(known, ledger, id, standard, judge, &view, err))
        return false;
    const struct mention *mention = mention_find(&known->mentions, id, view.checker);
    view.line = mention != NULL ? mention->line : 0;
    *ret = view;
    return true;
}

void known_fish_take(struct known_fish *known, const struct known_view *view)
{
    mention_add(&known->mentions, (struct mention){.of = view->fish.id,
                                                   .by = view->checker,
                                                   .judge = view->decider,
                                                   .line = view->line});
}
