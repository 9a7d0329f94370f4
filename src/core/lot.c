/* The events of lots and the arithmetic of their book counts.
 *
 * A book count is an inference, so it carries what it rests on (hatched fry, a cull, a count) and
 * its error, and becomes unknown as soon as an event cannot be placed before or after a cull.
 * Removing more fish than there are does not fail: the grower's event is a fact, and the number
 * before it was wrong. The lot is then overdrawn by the difference until it is counted again. */
#include "senbetsu/core/lot.h"

const struct term lot_event_terms[EVENT_KIND_COUNT] = {
    [EVENT_COUNT] = {"count", "the lot was counted"},
    [EVENT_DEAD] = {"dead", "found dead"},
    [EVENT_LOST] = {"lost", "missing: a heron, a torn net"},
    [EVENT_FOUND] = {"found", "turned up again"},
    [EVENT_MOVE] = {"move", "into another pond"},
    [EVENT_TRANSFER] = {"transfer", "into another lot"},
};

#define AT(member) COLUMN_AT(struct lot_statement, member)

const struct column lot_statement_columns[LOT_COLUMN_COUNT] = {
    [LOT_COLUMN_SPAWNING] = {"spawning", .kind = COLUMN_CODES, .required = true, AT(spawnings)},
    [LOT_COLUMN_CODE] = {"lot", .kind = COLUMN_CODE, AT(lot)},
    [LOT_COLUMN_DATE] = {"date", .kind = COLUMN_DAY, .required = true, AT(event.day)},
    [LOT_COLUMN_EVENT] = {"event", COLUMN_WORDS(lot_event_terms), .required = true,
                          .unknown = EVENT_KIND_COUNT, AT(event.kind)},
    [LOT_COLUMN_NUMBER] = {"number", COLUMN_FISH, AT(event.fish.number)},
    {"how", COLUMN_WORDS(method_terms), AT(event.fish.method)},
    {"cv", .kind = COLUMN_CV, AT(event.fish.cv)},
    [LOT_COLUMN_INTO_SPAWNING] = {"into_spawning", .kind = COLUMN_CODES, AT(into_spawnings)},
    [LOT_COLUMN_INTO_CODE] = {"into_lot", .kind = COLUMN_CODE, AT(into_lot)},
    [LOT_COLUMN_POND] = {"pond", .kind = COLUMN_CODE, AT(event.pond)},
    [LOT_COLUMN_NOTE] = {"note", .kind = COLUMN_NOTE, AT(event.note)},
};

void lot_event_init(struct lot_event *event)
{
    *event = (struct lot_event){.fish.number = NOT_COUNTED, .after = STAGE_COUNT};
}

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

/* Is the number known, so that fish can be added to it or taken from it? */
static bool has_number(struct book_count *book)
{
    if (book->undated || book->base == BOOK_NOTHING)
        rest_on(book, BOOK_UNKNOWN, &unknown);
    return book->now.number != NOT_COUNTED;
}

/* An overdrawn lot must first make up for what is missing. */
static void change(struct book_count *book, const struct count *fish, int64_t sign)
{
    if (!has_number(book))
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

/* "All fish" of an overdrawn lot is an unknown number: its book count is wrong. */
static struct count take_out(struct book_count *from, const struct count *fish)
{
    struct count went = *fish;
    if (went.number == NOT_COUNTED) {
        went = has_number(from) && from->overdrawn == 0 ? from->now : unknown;
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
