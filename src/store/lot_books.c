#include "senbetsu/store/lot_books.h"

#include "lot_replay.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/rounds.h"

#include <stdlib.h>
#include <string.h>

static int compare(const void *left, const void *right)
{
    const struct lot_line *a = left;
    const struct lot_line *b = right;
    if (a->of.season != b->of.season)
        return a->of.season == 0   ? -1
               : b->of.season == 0 ? 1
                                   : (a->of.season < b->of.season) - (a->of.season > b->of.season);
    int order = strcmp(a->of.spawnings, b->of.spawnings);
    if (order == 0)
        order = b->of.own - a->of.own;
    return order != 0 ? order : strcmp(a->of.lot, b->of.lot);
}

static struct lot_line *lines_of(struct lot_origin *lot_origins, size_t count,
                                 struct lot_walk *walk)
{
    struct lot_line *lines = alloc_zeroed(count, sizeof *lines);
    for (size_t i = 0; i < count; i++) {
        const struct walked_lot *lot = lot_walk_find(walk, lot_origins[i].lot_id);
        lines[i].of = lot_origins[i];
        lines[i].book = lot->book;
        text_copy(lines[i].pond, sizeof lines[i].pond, lot->pond);
    }
    if (count > 0)
        qsort(lines, count, sizeof *lines, compare);
    return lines;
}

bool lot_lines_list(struct ledger *ledger, struct lot_line **ret, size_t *ret_count,
                    struct err *err)
{
    struct lot_walk walk;
    struct lot_origin *lot_origins;
    size_t count;
    if (!lot_origins_list(ledger, &lot_origins, &count, err))
        return false;
    if (!lot_walk_init(&walk, ledger, err)) {
        lot_origins_free(lot_origins, count);
        return false;
    }
    *ret = lines_of(lot_origins, count, &walk);
    *ret_count = count;
    free(lot_origins); /* the lines have their texts */
    lot_walk_done(&walk);
    return true;
}

void lot_lines_free(struct lot_line *lines, size_t count)
{
    for (size_t i = 0; i < count; i++)
        lot_origin_done(&lines[i].of);
    free(lines);
}

/* What may stand for the number of fish that went into a cull. */
static struct count as_expected(const struct book_count *book)
{
    struct count number = book->now;
    if (book->overdrawn > 0 || book->base == BOOK_FRY)
        number = (struct count){.number = NOT_COUNTED};
    else if (book->base == BOOK_CULL && number.number != NOT_COUNTED)
        number = (struct count){number.number, METHOD_ESTIMATED, 0};
    return number;
}

bool lot_book_before(struct ledger *ledger, int64_t round_id, struct count *ret, struct err *err)
{
    struct lot_walk walk;
    struct round round = {.id = 0};
    if (!round_get(ledger, round_id, &round, err) || !lot_walk_until(&walk, ledger, round_id, err))
        return false;
    const struct walked_lot *lot = lot_walk_find(&walk, round.lot_id);
    *ret = lot == NULL ? (struct count){.number = NOT_COUNTED} : as_expected(&lot->book);
    lot_walk_done(&walk);
    return true;
}
