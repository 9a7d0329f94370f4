#include "lot_replay.h"

#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/spawnings.h"

#include <stdlib.h>
#include <string.h>

/* A cull, or an event. On one day culls come first; but the fish of a new lot must have been put
 * into it before. */
struct step {
    const char *day;
    int64_t revision;
    const struct round_figures *cull; /* NULL = an event */
    struct lot_event *event;
};

/* What is walked through. */
struct path {
    struct lot_walk *walk;
    int64_t until;     /* the round before which it ends, 0 = none */
    char today[11];    /* its day where it has none */
    bool events_alone; /* nobody asks for the lots */
    struct step *steps;
    size_t count;
};

struct walked_lot *lot_walk_find(struct lot_walk *walk, int64_t lot_id)
{
    size_t low = 0;
    for (size_t high = walk->lot_count; low < high;) {
        size_t middle = low + (high - low) / 2;
        if (walk->lots[middle].id < lot_id)
            low = middle + 1;
        else
            high = middle;
    }
    return low < walk->lot_count && walk->lots[low].id == lot_id ? &walk->lots[low] : NULL;
}

static bool read_lots(struct lot_walk *walk, struct ledger *ledger, struct err *err)
{
    struct walked_lot *lots = NULL;
    size_t count = 0, capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_LOTS);
    while (query_step(&query)) {
        lots = alloc_room(lots, count, &capacity, sizeof *lots);
        struct walked_lot *lot = &lots[count++];
        *lot = (struct walked_lot){.id = row_number(&query)};
        lot->own = row_number(&query);
        book_begin(&lot->book, lot->own, row_number_or(&query, NOT_COUNTED));
    }
    return query_list(&query, lots, count, &walk->lots, &walk->lot_count, err);
}

static void read_event(struct query *query, struct lot_event *ret)
{
    lot_event_init(ret);
    ret->id = row_number(query);
    ret->lot_id = row_number(query);
    row_text(query, ret->lot, sizeof ret->lot);
    ret->target_id = row_number(query);
    row_text(query, ret->target, sizeof ret->target);
    row_text(query, ret->day, sizeof ret->day);
    ret->kind = (enum lot_event_kind)row_word(query, lot_event_terms, EVENT_KIND_COUNT);
    ret->fish.number = row_number_or(query, NOT_COUNTED);
    ret->fish.method = (enum method)row_word(query, method_terms, METHOD_COUNT);
    ret->fish.cv = (int)row_number(query);
    ret->all = ret->kind == EVENT_TRANSFER && ret->fish.number == NOT_COUNTED;
    row_text(query, ret->pond, sizeof ret->pond);
    row_text(query, ret->note, sizeof ret->note);
    ret->undone = row_number(query);
    ret->revision = row_number(query);
}

static bool read_events(struct lot_walk *walk, struct ledger *ledger, struct err *err)
{
    struct lot_event *events = NULL;
    size_t count = 0, capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_LOT_EVENTS);
    while (query_step(&query)) {
        events = alloc_room(events, count, &capacity, sizeof *events);
        read_event(&query, &events[count++]);
    }
    return query_list(&query, events, count, &walk->events, &walk->event_count, err);
}

/* When the first fish were put into each lot. */
static void note_births(struct lot_walk *walk)
{
    for (size_t i = 0; i < walk->event_count; i++) {
        const struct lot_event *event = &walk->events[i];
        struct walked_lot *lot = lot_walk_find(walk, event->lot_id);
        struct walked_lot *target = lot_walk_find(walk, event->target_id);
        if (event->undone)
            continue;
        lot->touched = true;
        if (target == NULL)
            continue;
        if (!target->touched && !target->own)
            text_copy(target->born, sizeof target->born, event->day);
        if (strcmp(target->born, event->day) == 0)
            target->born_revision = walk->events[i].revision;
        target->touched = true;
    }
}

static int compare_culls(const void *left, const void *right)
{
    const struct round_figures *a = ((const struct step *)left)->cull;
    const struct round_figures *b = ((const struct step *)right)->cull;
    if (a->lot_id != b->lot_id)
        return a->lot_id < b->lot_id ? -1 : 1;
    return a->stage < b->stage ? -1 : a->stage > b->stage;
}

static bool took_place(const struct round_figures *cull)
{
    return cull->kept.number != NOT_COUNTED || cull->in.number != NOT_COUNTED ||
           cull->day[0] != '\0';
}

/* A cull without a day is put after the one before it, the first one after the fish were put in. */
static void date_culls(struct path *path)
{
    const char *day = "";
    int64_t lot_id = 0;
    for (size_t i = 0; i < path->count; i++) {
        struct step *step = &path->steps[i];
        const struct walked_lot *lot = lot_walk_find(path->walk, step->cull->lot_id);
        if (step->cull->lot_id != lot_id)
            day = lot->born;
        if (step->cull->day[0] != '\0')
            day = step->cull->day;
        if (step->cull->round_id == path->until && step->cull->day[0] == '\0')
            day = path->today;
        lot_id = step->cull->lot_id;
        step->day = day;
        if (lot->born[0] != '\0' && strcmp(lot->born, day) == 0)
            step->revision = lot->born_revision;
    }
}

static void add_culls(struct path *path, const struct round_figures *figures, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool happened = took_place(&figures[i]) || figures[i].round_id == path->until;
        if (happened && lot_walk_find(path->walk, figures[i].lot_id) != NULL)
            path->steps[path->count++] = (struct step){.cull = &figures[i]};
    }
    if (path->count > 0)
        qsort(path->steps, path->count, sizeof *path->steps, compare_culls);
    date_culls(path);
}

static void add_events(struct path *path)
{
    struct lot_walk *walk = path->walk;
    for (size_t i = 0; i < walk->event_count; i++)
        if (!walk->events[i].undone)
            path->steps[path->count++] = (struct step){.day = walk->events[i].day,
                                                       .revision = walk->events[i].revision,
                                                       .event = &walk->events[i]};
}

static int compare_steps(const void *left, const void *right)
{
    const struct step *a = left;
    const struct step *b = right;
    int days = strcmp(a->day, b->day);
    if (days != 0)
        return days;
    if (a->revision != b->revision)
        return a->revision < b->revision ? -1 : 1;
    if ((a->cull == NULL) != (b->cull == NULL))
        return a->cull == NULL ? -1 : 1;
    return a->cull == NULL ? (a->event > b->event) - (a->event < b->event)
                           : (a->cull > b->cull) - (a->cull < b->cull);
}

/* What only went into a cull so far is still there, and so are the fish of a cull at work; without
 * a day nobody knows since when. */
static void take_cull(struct lot_walk *walk, const struct round_figures *cull)
{
    struct book_count *book = &lot_walk_find(walk, cull->lot_id)->book;
    bool dated = cull->day[0] != '\0';
    if (cull->whole > 0 && cull->in_so_far)
        return;
    if (cull->whole == 0 && (cull->kept.number != NOT_COUNTED || cull->in.number == NOT_COUNTED))
        book_cull(book, cull->stage, &cull->kept, dated);
    else
        book_apply(book, EVENT_COUNT, &cull->in);
    book->undated = !dated;
}

/* Had fish that come into a lot been through the same cull as those that are there? */
static bool joins(const struct book_count *from, const struct book_count *into)
{
    return into->base == BOOK_NOTHING || (!into->undated && into->after == from->after);
}

static void take_event(struct lot_walk *walk, struct lot_event *event)
{
    struct walked_lot *lot = lot_walk_find(walk, event->lot_id);
    const struct walked_lot *target = lot_walk_find(walk, event->target_id);
    event->after = lot->book.after;
    event->followed = !lot->book.undated && (target == NULL || joins(&lot->book, &target->book));
    if (event->kind == EVENT_MOVE)
        text_copy(lot->pond, sizeof lot->pond, event->pond);
    else if (event->kind == EVENT_TRANSFER)
        event->fish =
            book_transfer(&lot->book, &lot_walk_find(walk, event->target_id)->book, &event->fish);
    else
        book_apply(&lot->book, event->kind, &event->fish);
}

static bool is_end(const struct path *path, const struct step *step)
{
    return step->cull != NULL && step->cull->round_id == path->until;
}

static void go(struct path *path, const struct round_figures *figures, size_t count)
{
    path->steps = alloc_zeroed(count + path->walk->event_count, sizeof *path->steps);
    note_births(path->walk);
    add_culls(path, figures, count);
    add_events(path);
    if (path->count > 0)
        qsort(path->steps, path->count, sizeof *path->steps, compare_steps);
    for (size_t i = 0; i < path->count && !is_end(path, &path->steps[i]); i++)
        if (path->steps[i].cull != NULL)
            take_cull(path->walk, path->steps[i].cull);
        else
            take_event(path->walk, path->steps[i].event);
    free(path->steps);
}

static bool walk_along(struct path *path, struct ledger *ledger,
                       const struct round_figures *figures, size_t count, struct err *err)
{
    struct lot_walk *walk = path->walk;
    *walk = (struct lot_walk){.lots = NULL};
    if (!read_events(walk, ledger, err))
        return false;
    if (path->events_alone && walk->event_count == 0)
        return true;
    /* The lots last: what was added meanwhile is among them. */
    if (!read_lots(walk, ledger, err)) {
        lot_walk_done(walk);
        return false;
    }
    go(path, figures, count);
    return true;
}

bool lot_walk_along(struct lot_walk *walk, struct ledger *ledger,
                    const struct round_figures *figures, size_t count, struct err *err)
{
    struct path path = {.walk = walk, .events_alone = true};
    return walk_along(&path, ledger, figures, count, err);
}

bool lot_walk_until(struct lot_walk *walk, struct ledger *ledger, int64_t round_id, struct err *err)
{
    struct path path = {.walk = walk, .until = round_id};
    struct round_figures *figures;
    size_t count;
    if (!round_figures_list(ledger, &figures, &count, err))
        return false;
    date_of_instant(clock_now(&ledger->clock), ledger->clock.offset_minutes, path.today);
    bool walked = walk_along(&path, ledger, figures, count, err);
    free(figures);
    return walked;
}

bool lot_walk_init(struct lot_walk *walk, struct ledger *ledger, struct err *err)
{
    return lot_walk_until(walk, ledger, 0, err);
}

void lot_walk_done(struct lot_walk *walk)
{
    free(walk->lots);
    free(walk->events);
}
