#include "replay.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/fish.h"

#include <stdlib.h>

/* Who and how, beside the fold's own columns. */
struct teller {
    bool checking;
    int64_t judge;
    char name[CODE_SIZE];
};

static void read_teller(struct query *query, struct teller *ret)
{
    ret->checking = row_number(query);
    ret->judge = row_number(query);
    row_text(query, ret->name, sizeof ret->name);
}

/* A look that several judges worked on is one look; a check is one judge's own. */
static bool same_look(const struct look *look, const struct told *told, const struct teller *teller)
{
    return look->fish == told->fish && look->look == told->look &&
           look->checking == teller->checking && (!look->checking || look->judge == teller->judge);
}

static struct look begin_look(const struct ledger *ledger, const struct told *told,
                              const struct teller *teller)
{
    struct look look = {.fish = told->fish, .look = told->look, .checking = teller->checking};
    date_of_instant(told->at_ms, ledger->clock.offset_minutes, look.day);
    fish_init(&look.summed, told->fish, told->bowl_id, told->bowl, told->number);
    return look;
}

/* The look carries the name of the judge who did the last of it. */
static void add_to_look(struct look *look, const struct standard *standard, const struct told *told,
                        const struct teller *teller)
{
    look->judge = teller->judge;
    text_copy(look->judge_name, sizeof look->judge_name, teller->name);
    fish_apply(&look->summed, standard, told->look, told->at_ms, &told->entry);
}

static bool sum_looks(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                      struct look **ret, size_t *ret_count, struct err *err)
{
    struct look *looks = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct told told;
    struct teller teller;
    struct query query;
    query_begin(&query, ledger, SQL_LOOKS_OF_ROUND);
    query_number(&query, round_id);
    while (query_step(&query)) {
        told_read(&query, &told);
        read_teller(&query, &teller);
        if (count == 0 || !same_look(&looks[count - 1], &told, &teller)) {
            looks = alloc_room(looks, count, &capacity, sizeof *looks);
            looks[count++] = begin_look(ledger, &told, &teller);
        }
        add_to_look(&looks[count - 1], standard, &told, &teller);
    }
    return query_list(&query, looks, count, ret, ret_count, err);
}

/* Length, tag and note are the fish's; only a check that measured for itself has its own. */
static void take_from_fish(struct look *look, const struct fish *fish)
{
    struct fish *summed = &look->summed;
    if (!look->checking || summed->length_mm == 0)
        summed->length_mm = fish->length_mm;
    if (!look->checking || *summed->tag == '\0')
        text_copy(summed->tag, sizeof summed->tag, fish->tag);
    if (!look->checking || *summed->note == '\0')
        text_copy(summed->note, sizeof summed->note, fish->note);
}

bool looks_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                    struct look **ret, size_t *ret_count, struct err *err)
{
    struct fish *fish;
    struct look *looks;
    size_t fish_count;
    size_t look_count;
    if (!fish_of_round(ledger, round_id, standard, &fish, &fish_count, err))
        return false;
    if (!sum_looks(ledger, round_id, standard, &looks, &look_count, err)) {
        free(fish);
        return false;
    }
    /* Both lists are in order of bowl and fish. */
    for (size_t i = 0, at = 0; i < look_count; i++) {
        while (at < fish_count && fish[at].id != looks[i].fish)
            at++;
        if (at < fish_count)
            take_from_fish(&looks[i], &fish[at]);
    }
    free(fish);
    *ret = looks;
    *ret_count = look_count;
    return true;
}
