/* Putting right what was entered wrongly: names, bowls, and which bowl a fish is in. Strokes,
 * events and statements are not touched: they are put right by others of their kind. */
#include "senbetsu/store/corrections.h"

#include "audit_log.h"
#include "retired.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Judges. */

static bool set_judge(struct ledger *ledger, int64_t wrong, int64_t right, int64_t judge,
                      struct err *err)
{
    struct change about = {"judge", wrong, judge, ""};
    char name[CODE_SIZE] = "";
    struct query query = query_with(ledger, SQL_JUDGE_CALLED, right);
    if (query_step(&query))
        row_text(&query, name, sizeof name);
    if (!query_end(&query, err))
        return false;
    if (name[0] == '\0' || wrong == right)
        return err_set(err, ERR_INPUT, "Choose another judge, one that is not retired.");
    query = query_with(ledger, SQL_JUDGE_IS, wrong);
    int64_t at_ms;
    if (!retiring_instant(ledger, &at_ms, err))
        return false;
    query_number(&query, at_ms);
    query_number(&query, right);
    return query_run(&query, err) &&
           audit_log_add_at(ledger, &about, "same_as", "", name, at_ms, err);
}

bool judge_is(struct ledger *ledger, int64_t wrong, int64_t right, int64_t judge, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, set_judge(ledger, wrong, right, judge, err), err);
}

/* Bowls. */

static bool number_is_free(struct ledger *ledger, const struct bowl *bowl, struct err *err)
{
    struct bowl *bowls;
    size_t count;
    bool taken = false;
    if (!bowl_list(ledger, bowl->round_id, &bowls, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        taken = taken || (bowls[i].number == bowl->number && bowls[i].id != bowl->id);
    free(bowls);
    return !taken || err_set(err, ERR_INPUT,
                             "Bowl %d is there already: renumber that one first, or merge the two.",
                             bowl->number);
}

static int fish_in(const struct bowl *bowl)
{
    return bowl->tally.judged + bowl->tally.verdicts[VERDICT_OPEN];
}

static bool check_bowl(struct ledger *ledger, const struct bowl *bowl, const struct bowl *known,
                       struct err *err)
{
    int fish = fish_in(known);
    if (!date_valid(bowl->day))
        return err_set(err, ERR_INPUT, "\"%s\" is not a date such as 2026-06-14.", bowl->day);
    if (bowl->expected != 0 && bowl->expected < fish)
        return err_set(err, ERR_INPUT, "Bowl %d cannot hold %d fish: %d have been looked at.",
                       bowl->number, bowl->expected, fish);
    return number_is_free(ledger, bowl, err);
}

static bool log_number(struct ledger *ledger, const struct change *about, const char *field,
                       int was, int becomes, struct err *err)
{
    char from[NUMBER_SIZE] = "", to[NUMBER_SIZE] = "";
    if (was != 0)
        snprintf(from, sizeof from, "%d", was);
    if (becomes != 0)
        snprintf(to, sizeof to, "%d", becomes);
    return was == becomes || audit_log_add(ledger, about, field, from, to, err);
}

static bool change_bowl(struct ledger *ledger, const struct bowl *bowl, int64_t judge,
                        const char *why, struct err *err)
{
    struct bowl known = {.id = 0};
    struct change about = {"bowl", bowl->id, judge, why};
    if (!bowl_get(ledger, bowl->id, &known, err) || !check_bowl(ledger, bowl, &known, err))
        return false;
    struct query query = query_with(ledger, SQL_BOWL_CHANGE, bowl->id);
    query_number(&query, bowl->number);
    query_number_or_null(&query, bowl->expected, 0);
    query_text(&query, bowl->day);
    return query_run(&query, err) &&
           log_number(ledger, &about, "number", known.number, bowl->number, err) &&
           log_number(ledger, &about, "expected", known.expected, bowl->expected, err) &&
           (strcmp(known.day, bowl->day) == 0 ||
            audit_log_add(ledger, &about, "day", known.day, bowl->day, err));
}

bool bowl_change(struct ledger *ledger, const struct bowl *bowl, int64_t judge, const char *why,
                 struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, change_bowl(ledger, bowl, judge, why, err), err);
}

/* Fish. */

bool fish_numbers(struct ledger *ledger, int64_t bowl, int64_t **ret, size_t *ret_count,
                  struct err *err)
{
    struct query query = query_with(ledger, SQL_FISH_NUMBERS, bowl);
    return query_numbers(&query, 1, NUMBER_MOST, ret, ret_count, err);
}

/* `*ret_id` 0 = there is none. */
static bool find_fish(struct ledger *ledger, int64_t bowl, int number, int64_t *ret_id,
                      struct err *err)
{
    *ret_id = 0;
    struct query query = query_with(ledger, SQL_FISH_NUMBERED, bowl);
    query_number(&query, number);
    return query_single(&query, ret_id, err);
}

/* The number that a fish gets in a bowl. */
static bool number_there(struct ledger *ledger, int64_t bowl, int number, int *ret, struct err *err)
{
    int64_t taken, last = 0;
    if (!find_fish(ledger, bowl, number, &taken, err))
        return false;
    struct query query = query_with(ledger, SQL_FISH_LAST, bowl);
    if (!query_single(&query, &last, err))
        return false;
    *ret = taken == 0 ? number : (int)last + 1;
    return true;
}

/* Where fish go from and to, and who says so. */
struct move {
    struct bowl from, into;
    int64_t judge;
    const char *why;
    struct text fish; /* "7, 8 (13 there)" so far */
};

static bool move_one(struct ledger *ledger, struct move *move, int number, int *ret_number,
                     struct err *err)
{
    int64_t id;
    char was[64], becomes[64];
    if (!find_fish(ledger, move->from.id, number, &id, err))
        return false;
    if (id == 0)
        return err_set(err, ERR_INPUT, "There is no fish %d in bowl %d.", number,
                       move->from.number);
    if (!number_there(ledger, move->into.id, number, ret_number, err))
        return false;
    struct change about = {"fish", id, move->judge, move->why};
    snprintf(was, sizeof was, "bowl %d, fish %d", move->from.number, number);
    snprintf(becomes, sizeof becomes, "bowl %d, fish %d", move->into.number, *ret_number);
    text_addf(&move->fish, "%s%d", move->fish.length > 0 ? ", " : "", number);
    if (number != *ret_number)
        text_addf(&move->fish, " (%d there)", *ret_number);
    struct query query = query_with(ledger, SQL_FISH_MOVE, id);
    query_number(&query, move->into.id);
    query_number(&query, *ret_number);
    /* Bowl and number are one field to people and two to the ledger: neither is ever changed alone.
     */
    return query_run(&query, err) && audit_log_add(ledger, &about, "bowl", was, becomes, err) &&
           audit_log_add(ledger, &about, "number", was, becomes, err);
}

/* Both bowls tell it. */
static bool log_move(struct ledger *ledger, const struct move *move, struct err *err)
{
    struct change from = {"bowl", move->from.id, move->judge, move->why};
    struct change into = {"bowl", move->into.id, move->judge, move->why};
    struct text text;
    text_init(&text);
    text_addf(&text, "moved into bowl %d", move->into.number);
    bool fine = audit_log_add(ledger, &from, "fish", move->fish.data, text.data, err);
    text_clear(&text);
    text_addf(&text, "%s from bowl %d", move->fish.data, move->from.number);
    fine = fine && audit_log_add(ledger, &into, "fish", "", text.data, err);
    text_done(&text);
    return fine;
}

static bool move_all(struct ledger *ledger, struct move *move, const int *numbers, size_t count,
                     int *ret_last, struct err *err)
{
    if (move->from.round_id != move->into.round_id || move->from.id == move->into.id)
        return err_set(err, ERR_INPUT, "Choose another bowl of the same round.");
    for (size_t i = 0; i < count; i++)
        if (!move_one(ledger, move, numbers[i], ret_last, err))
            return false;
    return count == 0 || log_move(ledger, move, err);
}

/* Where a bowl was counted the fish that move are counted with it. An emptied bowl is one that was
 * not counted, for nothing is expected in it. */
static bool count_moved(struct ledger *ledger, const struct move *move, int64_t id, int more,
                        struct err *err)
{
    struct bowl bowl;
    if (!bowl_get(ledger, id, &bowl, err))
        return false;
    if (bowl.expected == 0)
        return true;
    int fish = fish_in(&bowl), expected = bowl.expected + more;
    bowl.expected = expected > fish ? expected : fish;
    return change_bowl(ledger, &bowl, move->judge, move->why, err);
}

static bool move_and_count(struct ledger *ledger, struct move *move, const int *numbers,
                           size_t count, int *ret_last, struct err *err)
{
    return move_all(ledger, move, numbers, count, ret_last, err) &&
           count_moved(ledger, move, move->from.id, -(int)count, err) &&
           count_moved(ledger, move, move->into.id, (int)count, err);
}

static bool begin_move(struct ledger *ledger, int64_t from, int64_t into, struct move *ret,
                       struct err *err)
{
    return bowl_get(ledger, from, &ret->from, err) && bowl_get(ledger, into, &ret->into, err);
}

bool fish_move(struct ledger *ledger, int64_t from, const int *numbers, size_t count, int64_t into,
               int64_t judge, const char *why, int *ret_last, struct err *err)
{
    struct move move = {.judge = judge, .why = why};
    int last = 0;
    text_init(&move.fish);
    bool fine = transaction_begin(ledger, err) &&
                transaction_end(ledger,
                                begin_move(ledger, from, into, &move, err) &&
                                    move_and_count(ledger, &move, numbers, count, &last, err),
                                err);
    text_done(&move.fish);
    if (fine)
        *ret_last = last;
    return fine;
}

/* As many fish are expected in both together, where that is known of both. */
static bool empty_into(struct ledger *ledger, struct move *move, struct err *err)
{
    int64_t *found;
    size_t count;
    int last;
    struct bowl into = move->into;
    if (!fish_numbers(ledger, move->from.id, &found, &count, err))
        return false;
    int *numbers = alloc_zeroed(count + 1, sizeof *numbers);
    for (size_t i = 0; i < count; i++)
        numbers[i] = (int)found[i];
    bool fine = move_all(ledger, move, numbers, count, &last, err);
    free(numbers);
    free(found);
    into.expected =
        into.expected != 0 && move->from.expected != 0 ? into.expected + move->from.expected : 0;
    return fine && change_bowl(ledger, &into, move->judge, move->why, err) &&
           record_retire(ledger, RECORD_BOWL, move->from.id, move->judge, move->why, err);
}

bool bowl_merge(struct ledger *ledger, int64_t from, int64_t into, int64_t judge, const char *why,
                struct err *err)
{
    struct move move = {.judge = judge, .why = why};
    text_init(&move.fish);
    bool fine = transaction_begin(ledger, err) &&
                transaction_end(ledger,
                                begin_move(ledger, from, into, &move, err) &&
                                    empty_into(ledger, &move, err),
                                err);
    text_done(&move.fish);
    return fine;
}
