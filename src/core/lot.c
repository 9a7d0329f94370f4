#include "senbetsu/core/lot.h"

const struct term lot_event_terms[EVENT_KIND_COUNT] = {
    [EVENT_COUNT] = {"count", "the lot was counted"},
    [EVENT_DEAD] = {"dead", "found dead"},
    [EVENT_LOST] = {"lost", "missing: a heron, a torn net"},
    [EVENT_FOUND] = {"found", "turned up again"},
    [EVENT_MOVE] = {"move", "into another pond"},
    [EVENT_TRANSFER] = {"transfer", "into another lot"},
};

static const struct count unknown = {.number = NOT_COUNTED};
static const struct count none = {0, METHOD_COUNTED, 0};

static void rest_on(struct book_count *book, enum book_base base, const struct count *number)
{
    book->base = number->number == NOT_COUNTED ? BOOK_UNKNOWN : base;
    book->now = *number;
    book->overdrawn = 0;
}

void book_begin(struct book_count *book, bool own, int64_t hatched)
{
    struct count fry = {hatched, METHOD_ESTIMATED, 0};
    *book = (struct book_count){.now = unknown, .base = BOOK_NOTHING, .after = STAGE_COUNT};
    if (own)
        rest_on(book, BOOK_FRY, hatched == NOT_COUNTED ? &unknown : &fry);
}

void book_cull(struct book_count *book, enum stage stage, const struct count *kept, bool dated)
{
    rest_on(book, BOOK_CULL, kept);
    book->after = stage;
    book->undated = !dated;
}

/* Is there a number that fish can be added to or taken from? */
static bool goes_on(struct book_count *book)
{
    if (book->undated || book->base == BOOK_NOTHING)
        rest_on(book, BOOK_UNKNOWN, &unknown);
    return book->now.number != NOT_COUNTED;
}

/* What is missing is made up for before there are fish again. */
static void change(struct book_count *book, const struct count *fish, int64_t sign)
{
    if (!goes_on(book))
        return;
    int64_t number = book->now.number - book->overdrawn + sign * fish->number;
    book->overdrawn = number < 0 ? -number : 0;
    book->now = count_together(&book->now, fish, number < 0 ? 0 : number);
}

void book_apply(struct book_count *book, enum lot_event_kind kind, const struct count *fish)
{
    struct count seen = *fish;
    if (seen.method == METHOD_UNSAID)
        seen.method = METHOD_COUNTED;
    switch (kind) {
    case EVENT_COUNT:
        rest_on(book, BOOK_COUNT, fish);
        book->undated = false;
        break;
    case EVENT_DEAD:
        book->dead += fish->number;
        change(book, &seen, -1);
        break;
    case EVENT_LOST:
        book->lost += fish->number;
        change(book, &seen, -1);
        break;
    case EVENT_FOUND:
        book->found += fish->number;
        change(book, &seen, 1);
        break;
    case EVENT_MOVE:
    case EVENT_TRANSFER:
    case EVENT_KIND_COUNT:
        break;
    }
}

/* How many all fish of an overdrawn lot are cannot be told: there are some, and its number is
 * wrong.
 */
static struct count take_out(struct book_count *from, const struct count *fish)
{
    struct count went = *fish;
    if (went.number == NOT_COUNTED) {
        went = goes_on(from) && from->overdrawn == 0 ? from->now : unknown;
        rest_on(from, BOOK_MOVED, &none);
        from->undated = false;
    } else
        change(from, fish, -1);
    if (went.number != NOT_COUNTED)
        from->moved_out += went.number;
    return went;
}

static void put_in(struct book_count *into, const struct count *fish)
{
    if (fish->number == NOT_COUNTED) {
        rest_on(into, BOOK_UNKNOWN, &unknown);
        return;
    }
    if (into->base == BOOK_NOTHING)
        rest_on(into, BOOK_MOVED, &none);
    into->moved_in += fish->number;
    change(into, fish, 1);
}

struct count book_transfer(struct book_count *from, struct book_count *into,
                           const struct count *fish)
{
    struct count went = take_out(from, fish);
    if (into->after == STAGE_COUNT)
        into->after = from->after;
    put_in(into, &went);
    return went;
}
