/* The replay: every cull and every event of every lot in order, each changing what its lot has by
 * the book (core/lot.h has the arithmetic). */
#include "senbetsu/report/lots.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/store/rounds.h"

#include <stdlib.h>
#include <string.h>

/* A lot while it is replayed. */
struct replayed_lot {
    const struct lot_origin *of;
    struct book_count book;
    char pond[CODE_SIZE];
    char born[11]; /* the day on which its first fish were put into it, "" = it was not so */
    int64_t born_revision; /* revision of the last event of that day which put fish into it */
    bool touched;          /* something has happened to it */
};

struct replay {
    struct lot_origin *origins;
    struct replayed_lot *lots; /* in the same order, by id */
    size_t lot_count;
    struct lot_event *events; /* in order, those taken back among them */
    size_t event_count;
};

/* A cull, or an event. On one day culls come first; but the fish of a new lot must have been put
 * into it before. */
struct step {
    const char *day;
    int64_t revision;
    const struct cull_numbers *cull; /* NULL = an event */
    struct lot_event *event;
};

/* What is replayed. */
struct path {
    struct replay *replay;
    int64_t until;  /* the round before which it ends, 0 = none */
    char today[11]; /* its day where it has none */
    struct step *steps;
    size_t count;
};

static struct replayed_lot *find(const struct replay *replay, int64_t lot_id)
{
    const struct lot_origin *of = lot_origin_find(replay->origins, replay->lot_count, lot_id);
    return of == NULL ? NULL : &replay->lots[of - replay->origins];
}

static void replay_done(struct replay *replay)
{
    lot_origins_free(replay->origins, replay->lot_count);
    free(replay->lots);
    free(replay->events);
}

/* When the first fish were put into each lot. */
static void note_births(struct replay *replay)
{
    for (size_t i = 0; i < replay->event_count; i++) {
        const struct lot_event *event = &replay->events[i];
        struct replayed_lot *lot = find(replay, event->lot_id);
        struct replayed_lot *target = find(replay, event->target_id);
        if (event->undone)
            continue;
        lot->touched = true;
        if (target == NULL)
            continue;
        if (!target->touched && !target->of->own)
            text_copy(target->born, sizeof target->born, event->day);
        if (strcmp(target->born, event->day) == 0)
            target->born_revision = replay->events[i].revision;
        target->touched = true;
    }
}

static int compare_culls(const void *left, const void *right)
{
    const struct cull_numbers *a = ((const struct step *)left)->cull;
    const struct cull_numbers *b = ((const struct step *)right)->cull;
    if (a->lot_id != b->lot_id)
        return a->lot_id < b->lot_id ? -1 : 1;
    if (a->stage != b->stage)
        return a->stage < b->stage ? -1 : 1;
    return (a->id > b->id) - (a->id < b->id);
}

static bool took_place(const struct cull_numbers *cull)
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
        const struct replayed_lot *lot = find(path->replay, step->cull->lot_id);
        if (step->cull->lot_id != lot_id)
            day = lot->born;
        if (step->cull->day[0] != '\0')
            day = step->cull->day;
        if (step->cull->id == path->until && step->cull->day[0] == '\0')
            day = path->today;
        lot_id = step->cull->lot_id;
        step->day = day;
        if (lot->born[0] != '\0' && strcmp(lot->born, day) == 0)
            step->revision = lot->born_revision;
    }
}

static void add_culls(struct path *path, const struct cull_numbers *rounds, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool happened = took_place(&rounds[i]) || rounds[i].id == path->until;
        if (happened && find(path->replay, rounds[i].lot_id) != NULL)
            path->steps[path->count++] = (struct step){.cull = &rounds[i]};
    }
    if (path->count > 0)
        qsort(path->steps, path->count, sizeof *path->steps, compare_culls);
    date_culls(path);
}

static void add_events(struct path *path)
{
    struct replay *replay = path->replay;
    for (size_t i = 0; i < replay->event_count; i++)
        if (!replay->events[i].undone)
            path->steps[path->count++] = (struct step){.day = replay->events[i].day,
                                                       .revision = replay->events[i].revision,
                                                       .event = &replay->events[i]};
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
    return a->cull == NULL ? (a->event > b->event) - (a->event < b->event) : compare_culls(a, b);
}

/* What only went into a cull so far is still there, and so are the fish of a cull at work; without
 * a day nobody knows since when. */
static void take_cull(struct replay *replay, const struct cull_numbers *cull)
{
    struct book_count *book = &find(replay, cull->lot_id)->book;
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

static void take_event(struct replay *replay, struct lot_event *event)
{
    struct replayed_lot *lot = find(replay, event->lot_id);
    const struct replayed_lot *target = find(replay, event->target_id);
    event->after = lot->book.after;
    event->followed = !lot->book.undated && (target == NULL || joins(&lot->book, &target->book));
    if (event->kind == EVENT_MOVE)
        text_copy(lot->pond, sizeof lot->pond, event->pond);
    else if (event->kind == EVENT_TRANSFER)
        event->fish =
            book_transfer(&lot->book, &find(replay, event->target_id)->book, &event->fish);
    else
        book_apply(&lot->book, event->kind, &event->fish);
}

static bool is_end(const struct path *path, const struct step *step)
{
    return step->cull != NULL && step->cull->id == path->until;
}

static void go(struct path *path, const struct cull_numbers *rounds, size_t count)
{
    path->steps = alloc_zeroed(count + path->replay->event_count, sizeof *path->steps);
    note_births(path->replay);
    add_culls(path, rounds, count);
    add_events(path);
    if (path->count > 0)
        qsort(path->steps, path->count, sizeof *path->steps, compare_steps);
    for (size_t i = 0; i < path->count && !is_end(path, &path->steps[i]); i++)
        if (path->steps[i].cull != NULL)
            take_cull(path->replay, path->steps[i].cull);
        else
            take_event(path->replay, path->steps[i].event);
    free(path->steps);
}

/* Events first: lots that were added meanwhile are among the lots then. With `events_alone` nobody
 * asks for the lots, and where there are no events there is nothing to do. */
static bool replay_init(struct path *path, struct ledger *ledger, const struct cull_numbers *rounds,
                        size_t count, bool events_alone, struct err *err)
{
    struct replay *replay = path->replay;
    *replay = (struct replay){.lots = NULL};
    if (!lot_events_read(ledger, &replay->events, &replay->event_count, err))
        return false;
    if (events_alone && replay->event_count == 0)
        return true;
    if (!lot_origins_list(ledger, &replay->origins, &replay->lot_count, err)) {
        free(replay->events);
        return false;
    }
    replay->lots = alloc_zeroed(replay->lot_count, sizeof *replay->lots);
    for (size_t i = 0; i < replay->lot_count; i++) {
        replay->lots[i].of = &replay->origins[i];
        book_begin(&replay->lots[i].book, replay->origins[i].own, replay->origins[i].hatched);
    }
    go(path, rounds, count);
    return true;
}

/* All of it, or what happened before a round (0 = all); one that has not begun is of today. */
static bool replay_until(struct replay *replay, struct ledger *ledger, int64_t round_id,
                         struct err *err)
{
    struct path path = {.replay = replay, .until = round_id};
    const struct clock *clock = ledger_clock(ledger);
    struct cull_numbers *rounds;
    size_t count;
    if (!cull_numbers_list(ledger, &rounds, &count, err))
        return false;
    date_of_instant(clock_now(clock), clock->offset_minutes, path.today);
    bool done = replay_init(&path, ledger, rounds, count, false, err);
    free(rounds);
    return done;
}

static int compare_lines(const void *left, const void *right)
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

/* Ends the replay. */
static void take_lines(struct replay *replay, struct lot_line **ret, size_t *ret_count)
{
    size_t count = replay->lot_count;
    struct lot_line *lines = alloc_zeroed(count, sizeof *lines);
    for (size_t i = 0; i < count; i++) {
        lines[i].of = replay->origins[i];
        lines[i].book = replay->lots[i].book;
        text_copy(lines[i].pond, sizeof lines[i].pond, replay->lots[i].pond);
    }
    if (count > 0)
        qsort(lines, count, sizeof *lines, compare_lines);
    *ret = lines;
    *ret_count = count;
    free(replay->origins); /* the lines have their texts */
    free(replay->lots);
    free(replay->events);
}

bool lot_lines_list(struct ledger *ledger, struct lot_line **ret, size_t *ret_count,
                    struct err *err)
{
    struct replay replay;
    if (!replay_until(&replay, ledger, 0, err))
        return false;
    take_lines(&replay, ret, ret_count);
    return true;
}

bool lot_lines_among(struct ledger *ledger, const struct cull_numbers *rounds, size_t round_count,
                     struct lot_line **ret, size_t *ret_count, struct err *err)
{
    struct replay replay;
    struct path path = {.replay = &replay};
    if (!replay_init(&path, ledger, rounds, round_count, false, err))
        return false;
    take_lines(&replay, ret, ret_count);
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
    struct replay replay;
    struct round round = {.id = 0};
    if (!round_get(ledger, round_id, &round, err) || !replay_until(&replay, ledger, round_id, err))
        return false;
    const struct replayed_lot *lot = find(&replay, round.lot_id);
    *ret = lot == NULL ? (struct count){.number = NOT_COUNTED} : as_expected(&lot->book);
    replay_done(&replay);
    return true;
}

/* Which events are asked for: of one lot (0 = of all), of one day (NULL = of all). */
struct choice {
    int64_t lot_id;
    const char *day;
    bool undone;
};

static bool fits(const struct lot_event *event, const struct choice *choice)
{
    return (choice->undone || !event->undone) &&
           (choice->lot_id == 0 || event->lot_id == choice->lot_id ||
            event->target_id == choice->lot_id) &&
           (choice->day == NULL || strcmp(event->day, choice->day) == 0);
}

/* Takes over what fits of a replay and ends it. */
static void pick(struct replay *replay, const struct choice *choice, struct lot_event **ret,
                 size_t *ret_count)
{
    size_t count = 0;
    for (size_t i = 0; i < replay->event_count; i++)
        if (fits(&replay->events[i], choice))
            replay->events[count++] = replay->events[i];
    *ret = replay->events;
    *ret_count = count;
    replay->events = NULL;
    replay_done(replay);
}

static bool list(struct ledger *ledger, const struct choice *choice, struct lot_event **ret,
                 size_t *ret_count, struct err *err)
{
    struct replay replay;
    if (!replay_until(&replay, ledger, 0, err))
        return false;
    pick(&replay, choice, ret, ret_count);
    return true;
}

bool lot_events_of_lot(struct ledger *ledger, int64_t lot_id, bool undone, struct lot_event **ret,
                       size_t *ret_count, struct err *err)
{
    return list(ledger, &(struct choice){.lot_id = lot_id, .undone = undone}, ret, ret_count, err);
}

bool lot_events_of_day(struct ledger *ledger, const char *day, struct lot_event **ret,
                       size_t *ret_count, struct err *err)
{
    return list(ledger, &(struct choice){.day = day}, ret, ret_count, err);
}

bool lot_events_list(struct ledger *ledger, struct lot_event **ret, size_t *ret_count,
                     struct err *err)
{
    return list(ledger, &(struct choice){.lot_id = 0}, ret, ret_count, err);
}

bool lot_events_among(struct ledger *ledger, const struct cull_numbers *rounds, size_t round_count,
                      struct lot_event **ret, size_t *ret_count, struct err *err)
{
    static const struct choice all = {.lot_id = 0};
    struct replay replay;
    struct path path = {.replay = &replay};
    if (!replay_init(&path, ledger, rounds, round_count, true, err))
        return false;
    pick(&replay, &all, ret, ret_count);
    return true;
}

bool lot_event_follow(struct ledger *ledger, struct lot_event *event, struct err *err)
{
    struct lot_event *events;
    size_t count;
    if (!lot_events_list(ledger, &events, &count, err))
        return false;
    for (size_t i = 0; i < count; i++)
        if (events[i].id == event->id)
            *event = events[i];
    free(events);
    return true;
}

struct lot_news lot_news_of(const struct lot_event *event, const struct lot_origin *lot)
{
    return (struct lot_news){.day = event->day,
                             .spawning = lot == NULL || lot->mixed ? "" : lot->spawnings,
                             .lot = event->lot,
                             .kind = event->kind,
                             .all = event->all,
                             .fish = event->fish,
                             .target = event->target,
                             .pond = event->pond,
                             .note = event->note};
}
