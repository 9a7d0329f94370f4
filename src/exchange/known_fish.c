/* The fish that a file's rows are compared with.
 *
 * An import asks for the same fish many times, and its answer must include what earlier rows of the
 * file did. So each round is read once, and its fish are kept in a hash table with open addressing
 * and linear probing; it doubles before it is more than half full. Nothing is ever taken out of it,
 * so it needs no marks for deleted slots. Slots hold pointers, because callers keep a view while
 * the table grows. */
#include "known_fish.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/store/rounds.h"

#include <stdlib.h>

struct known_bowl {
    int64_t round;
    int number;
    int64_t id;
};

static bool is_view(const struct known_view *view, const struct known_key *key, int64_t checker)
{
    return view->key.round == key->round && view->key.bowl == key->bowl &&
           view->key.number == key->number && view->checker == checker;
}

/* Any mixing of the four numbers will do; this one multiplies by a large odd number. */
static size_t hash_of(const struct known_key *key, int64_t checker)
{
    const uint64_t numbers[] = {(uint64_t)key->round, (uint64_t)key->bowl, (uint64_t)key->number,
                                (uint64_t)checker};
    uint64_t hash = 0;
    for (int i = 0; i < 4; i++) {
        hash = (hash ^ numbers[i]) * UINT64_C(0x9E3779B97F4A7C15);
        hash ^= hash >> 32;
    }
    return (size_t)hash;
}

/* The slot where the view is, or where it would go. */
static struct known_view **slot_of(const struct known_fish *known, const struct known_key *key,
                                   int64_t checker)
{
    size_t at = hash_of(key, checker) & (known->slot_count - 1);
    while (known->slots[at] != NULL && !is_view(known->slots[at], key, checker))
        at = (at + 1) & (known->slot_count - 1);
    return &known->slots[at];
}

static void resize(struct known_fish *known, size_t slot_count)
{
    struct known_fish larger = {.slots = alloc_zeroed(slot_count, sizeof(struct known_view *)),
                                .slot_count = slot_count};
    for (size_t i = 0; i < known->slot_count; i++)
        if (known->slots[i] != NULL)
            *slot_of(&larger, &known->slots[i]->key, known->slots[i]->checker) = known->slots[i];
    free(known->slots);
    known->slots = larger.slots;
    known->slot_count = slot_count;
}

void known_fish_init(struct known_fish *known)
{
    enum { FIRST_SLOTS = 256 }; /* a power of two, as every later size is */
    *known = (struct known_fish){0};
    resize(known, FIRST_SLOTS);
}

void known_fish_done(struct known_fish *known)
{
    for (size_t i = 0; i < known->slot_count; i++)
        free(known->slots[i]);
    free(known->slots);
    free(known->bowls);
    *known = (struct known_fish){0};
}

static struct known_view *find(const struct known_fish *known, const struct known_key *key,
                               int64_t checker)
{
    return *slot_of(known, key, checker);
}

static struct known_view *add(struct known_fish *known, const struct known_key *key,
                              int64_t checker, const struct fish *fish)
{
    struct known_view *view = alloc_zeroed(1, sizeof *view);
    if (2 * ++known->view_count > known->slot_count)
        resize(known, 2 * known->slot_count);
    view->key = *key;
    view->checker = checker;
    view->fish = *fish;
    *slot_of(known, key, checker) = view;
    return view;
}

/* A check is a view of its own; any other look says who judged the fish. */
static void take_look(struct known_fish *known, int64_t round, const struct look *look)
{
    struct known_key key = {round, look->summed.bowl, look->summed.number};
    struct known_view *deciding = find(known, &key, NO_CHECKER);
    if (look->checking)
        add(known, &key, look->judge, &look->summed);
    else if (deciding != NULL)
        deciding->decider = look->judge;
}

bool known_fish_load(struct known_fish *known, struct ledger *ledger, int64_t round,
                     const struct standard *standard, struct err *err)
{
    struct fish *fish;
    struct look *looks;
    size_t count, look_count;
    if (!fish_of_round(ledger, round, standard, &fish, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        struct known_key key = {round, fish[i].bowl, fish[i].number};
        add(known, &key, NO_CHECKER, &fish[i]);
    }
    free(fish);
    if (!looks_of_round(ledger, round, standard, &looks, &look_count, err))
        return false;
    for (size_t i = 0; i < look_count; i++)
        take_look(known, round, &looks[i]);
    free(looks);
    return true;
}

static bool find_bowl(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                      const char *day, int64_t *ret_id, struct err *err)
{
    struct bowl bowl;
    for (size_t i = known->bowl_count; i-- > 0;) /* rows of a bowl mostly follow one another */
        if (known->bowls[i].round == key->round && known->bowls[i].number == key->bowl) {
            *ret_id = known->bowls[i].id;
            return true;
        }
    if (!bowl_begin(ledger, key->round, key->bowl, 0, day, &bowl, err))
        return false;
    known->bowls =
        alloc_room(known->bowls, known->bowl_count, &known->bowl_capacity, sizeof *known->bowls);
    known->bowls[known->bowl_count++] = (struct known_bowl){key->round, key->bowl, bowl.id};
    *ret_id = bowl.id;
    return true;
}

static bool begin_fish(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                       const char *day, struct known_view **ret, struct err *err)
{
    struct fish fish;
    int64_t bowl, id;
    if (!find_bowl(known, ledger, key, day, &bowl, err) ||
        !fish_begin(ledger, bowl, key->number, &id, err))
        return false;
    fish_init(&fish, id, bowl, key->bowl, key->number);
    *ret = add(known, key, NO_CHECKER, &fish);
    (*ret)->is_new = true;
    return true;
}

static struct known_view *checking_view(struct known_fish *known, struct known_view *deciding,
                                        int64_t judge)
{
    const struct fish *fish = &deciding->fish;
    struct known_view *view = find(known, &deciding->key, judge);
    struct fish unseen;
    if (view != NULL)
        return view;
    fish_init(&unseen, fish->id, fish->bowl_id, fish->bowl, fish->number);
    unseen.length_mm = fish->length_mm; /* a fish has one length and one tag, whoever looks */
    text_copy(unseen.tag, sizeof unseen.tag, fish->tag);
    view = add(known, &deciding->key, judge, &unseen);
    view->is_new = true;
    return view;
}

bool known_fish_view(struct known_fish *known, struct ledger *ledger, const struct known_key *key,
                     int64_t judge, const char *day, struct known_view **ret, struct err *err)
{
    struct known_view *view = find(known, key, NO_CHECKER);
    if (view == NULL && !begin_fish(known, ledger, key, day, &view, err))
        return false;
    bool checks = judge != 0 && view->fish.look > 0 && view->decider != judge;
    *ret = checks ? checking_view(known, view, judge) : view;
    return true;
}
