/* Where the sheet and the tally meet the ledger. Each function of a port is one transaction, and
 * with every change the place is written, so that a session that is broken off at any moment comes
 * back to exactly what is on disk. */
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/tallies.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Places. */

struct place round_place(int64_t judge, int64_t round_id, int at, bool open)
{
    return (struct place){.judge = judge, .round_id = round_id, .number = at, .in_sheet = open};
}

bool round_place_is(const struct place *place, int at)
{
    return place->bowl_id == 0 && !place->second_look && (place->number & at) != 0;
}

struct place ledger_port_place(const struct ledger_port *port, const struct sheet_place *at,
                               bool open)
{
    struct place place = {.judge = port->judge,
                          .round_id = port->round_id,
                          .bowl_id = at->bowl_id,
                          .number = at->number,
                          .second_look = port->second_look,
                          .in_sheet = open};
    text_copy(place.aspect, sizeof place.aspect, at->aspect);
    return place;
}

int64_t ledger_port_midnight(int64_t ms, int offset_minutes)
{
    const int64_t day = INT64_C(24) * 60 * 60 * 1000, offset = (int64_t)offset_minutes * 60 * 1000;
    int64_t into = (ms + offset) % day;
    return ms - (into < 0 ? into + day : into);
}

bool round_title(struct ledger *ledger, const struct round *round, const char *manner,
                 char ret_title[TITLE_SIZE], struct err *err)
{
    struct spawning spawning;
    char pair[4 * CODE_SIZE] = "", lot[CODE_SIZE + 8] = "";
    if (round->spawning[0] != '\0') { /* a mixed lot has no pair of its own to name */
        if (!spawning_get(ledger, round->spawning, &spawning, err))
            return false;
        pair_text(&spawning, pair, sizeof pair);
    }
    if (!round->own_lot)
        snprintf(lot, sizeof lot, "lot %s", round->lot);
    struct text title;
    text_init(&title);
    text_join(&title, " · ", round->spawning);
    text_join(&title, " · ", pair);
    text_join(&title, " · ", round->variety);
    text_join(&title, " · ", stage_terms[round->stage].word);
    text_join(&title, " · ", manner);
    text_join(&title, " · ", lot);
    text_copy(ret_title, TITLE_SIZE, title.data);
    text_done(&title);
    return true;
}

/* The numbers of a round. */

/* Where a number stands among them, or would. */
static size_t place_among(const struct numbers *list, int64_t number)
{
    size_t low = 0, high = list->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (list->numbers[middle] < number)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

static void take_out(struct numbers *list, int64_t number)
{
    size_t at = place_among(list, number);
    if (at == list->count || list->numbers[at] != number)
        return;
    list->count--;
    memmove(list->numbers + at, list->numbers + at + 1, (list->count - at) * sizeof *list->numbers);
}

static void put_in(struct numbers *list, int64_t number)
{
    size_t at = place_among(list, number);
    list->numbers = alloc_room(list->numbers, list->count, &list->capacity, sizeof *list->numbers);
    memmove(list->numbers + at + 1, list->numbers + at, (list->count - at) * sizeof *list->numbers);
    list->numbers[at] = number;
    list->count++;
}

static void replace(struct numbers *list, int64_t before, int64_t after, int64_t absent)
{
    if (before == after)
        return;
    if (before != absent)
        take_out(list, before);
    if (after != absent)
        put_in(list, after);
}

void ledger_port_done(struct ledger_port *port)
{
    free(port->numbers.scores.numbers);
    free(port->numbers.closed_ms.numbers);
    port->numbers = (struct round_numbers){.known = false};
}

static bool read_numbers(struct ledger_port *port, int64_t since_ms, struct err *err)
{
    struct round_numbers *numbers = &port->numbers;
    struct numbers *scores = &numbers->scores, *closed_ms = &numbers->closed_ms;
    int64_t seen = numbers->seen;
    ledger_port_done(port);
    numbers->seen = seen;
    numbers->since_ms = since_ms;
    numbers->commits = ledger_commits(port->ledger);
    numbers->known = verdict_scores(port->ledger, port->round_id, score_unit(port->standard),
                                    &scores->numbers, &scores->count, err) &&
                     closings_of(port->ledger, port->round_id, port->judge, since_ms,
                                 &closed_ms->numbers, &closed_ms->count, err);
    scores->capacity = scores->count;
    closed_ms->capacity = closed_ms->count;
    return numbers->known;
}

static bool bring_numbers_up(struct ledger_port *port, int64_t since_ms, struct err *err)
{
    struct round_numbers *numbers = &port->numbers;
    bool changed;
    if (!ledger_changed_elsewhere(port->ledger, &numbers->seen, &changed, err))
        return false;
    return (numbers->known && !changed && numbers->since_ms == since_ms &&
            numbers->commits == ledger_commits(port->ledger)) ||
           read_numbers(port, since_ms, err);
}

/* After a transaction of the port's own: `done` says that it was committed. Returns that. */
static bool follow(struct ledger_port *port, bool done)
{
    struct round_numbers *numbers = &port->numbers;
    numbers->known = numbers->known && done;
    if (numbers->commits + 1 == ledger_commits(port->ledger))
        numbers->commits++;
    return done;
}

/* The sheet. */

static bool say_judged_meanwhile(const struct fish *fish, struct err *err)
{
    return err_set(
        err, ERR_INPUT,
        "Somebody else has judged fish %d of this bowl; leave the sheet and open the bowl again.",
        fish->number);
}

/* A fish that is new to the sheet must be new to the ledger, or the sheet's picture of it would be
 * half of the truth: somebody else may have the same bowl open. */
static bool begin_fish(struct ledger_port *port, const struct fish *fish, int64_t *ret_id,
                       struct err *err)
{
    struct fish found;
    if (!fish_begin(port->ledger, fish->bowl_id, fish->number, ret_id, err) ||
        !fish_load(port->ledger, *ret_id, port->standard, &found, err))
        return false;
    return found.look == 0 || say_judged_meanwhile(fish, err);
}

/* One that both know must come out of the ledger, with the change, as the sheet has it. */
static bool check_picture(struct ledger_port *port, const struct fish *fish, struct err *err)
{
    struct fish found;
    if (!fish_load(port->ledger, fish->id, port->standard, &found, err))
        return false;
    if (found.look < fish->look) /* a second look that has only begun is on the sheet alone */
        fish_begin_look(&found, fish->look, found.first_ms);
    const struct judgement *ours = &fish->judgement, *theirs = &found.judgement;
    return (found.look == fish->look && ours->faults == theirs->faults &&
            ours->by_hand == theirs->by_hand &&
            memcmp(ours->scores, theirs->scores, sizeof ours->scores) == 0) ||
           say_judged_meanwhile(fish, err);
}

static bool undo_stroke(struct ledger_port *port, const struct fish *fish, int64_t stroke,
                        int64_t at_ms, const struct cached_verdict *cached, struct err *err)
{
    struct stroke undo = {.fish = fish->id,
                          .judge = port->judge,
                          .look = fish->look == 0 ? 1 : fish->look,
                          .at_ms = at_ms,
                          .undoes = stroke};
    return stroke_record(port->ledger, &undo, cached, NULL, err);
}

static bool read_fish_now(struct ledger_port *port, int64_t fish, struct fish_now *ret,
                          struct err *err)
{
    return fish_now(port->ledger, fish, score_unit(port->standard), port->judge, ret, err);
}

static bool write_change(struct ledger_port *port, const struct sheet_change *change,
                         struct err *err)
{
    struct fish *fish = change->fish;
    struct cached_verdict cached = fish_cached_verdict(fish, port->standard);
    for (size_t i = 0; i < change->undo_count; i++)
        if (!undo_stroke(port, fish, change->undoes[i], change->at_ms, &cached, err))
            return false;
    if (change->stroke != NULL) {
        change->stroke->fish = fish->id;
        change->stroke->standard = port->version;
        if (!stroke_record(port->ledger, change->stroke, &cached, NULL, err))
            return false;
    }
    return true;
}

/* A fish of which nothing was recorded since the sheet's picture was found right is right again: to
 * sum its strokes with each key would take the longer the more there are. */
static bool record_change(struct ledger_port *port, const struct sheet_change *change,
                          struct err *err)
{
    struct fish *fish = change->fish;
    struct fish_now before, after;
    bool is_new = fish->id == 0;
    if ((is_new && !begin_fish(port, fish, &fish->id, err)) ||
        !read_fish_now(port, fish->id, &before, err))
        return false;
    bool known = is_new || (fish->mark != 0 && fish->mark == before.mark);
    if (!write_change(port, change, err) || (!known && !check_picture(port, fish, err)) ||
        !read_fish_now(port, fish->id, &after, err))
        return false;
    fish->stands = after.stands;
    fish->changed = after.changed;
    fish->mark = after.mark;
    if (port->numbers.known) {
        replace(&port->numbers.scores, before.score, after.score, -1);
        replace(&port->numbers.closed_ms, before.closed_ms, after.closed_ms, 0);
    }
    return true;
}

static bool record_in_transaction(struct ledger_port *port, const struct sheet_change *changes,
                                  size_t count, const struct sheet_place *at, struct err *err)
{
    struct place place = ledger_port_place(port, at, true);
    for (size_t i = 0; i < count; i++)
        if (!record_change(port, &changes[i], err))
            return false;
    return place_save(port->ledger, &place, err);
}

/* The sheet's fish are copies that it takes over only if this succeeds. */
static bool record(void *context, struct sheet_change *changes, size_t count,
                   const struct sheet_place *at, struct err *err)
{
    struct ledger_port *port = context;
    if (!transaction_begin(port->ledger, err))
        return false;
    if (record_in_transaction(port, changes, count, at, err) &&
        transaction_commit(port->ledger, err))
        return follow(port, true);
    transaction_rollback(port->ledger);
    return follow(port, false);
}

static bool move(void *context, const struct sheet_place *at, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = ledger_port_place(port, at, true);
    return follow(port, place_save(port->ledger, &place, err));
}

static bool reload(void *context, const int64_t *without, size_t count, const struct fish *likely,
                   struct fish *fish, struct err *err)
{
    struct ledger_port *port = context;
    struct fish_now now;
    ledger_read_begin(port->ledger);
    bool fine = read_fish_now(port, fish->id, &now, err);
    if (fine && likely != NULL && fish->mark != 0 && fish->mark == now.mark)
        *fish = *likely;
    else
        fine = fine &&
               fish_load_without(port->ledger, fish->id, without, count, port->standard, fish, err);
    ledger_read_end(port->ledger);
    if (fine)
        fish->mark = now.mark;
    return fine;
}

static bool read_tally(struct ledger_port *port, struct sheet_round *ret, struct err *err)
{
    struct round_summary summary;
    struct bowl bowl = {.id = 0};
    char sentence[ROUND_SENTENCE_SIZE];
    if (!round_summary_get(port->ledger, port->round_id, &summary, err) ||
        (port->bowl_id != 0 && !bowl_get(port->ledger, port->bowl_id, &bowl, err)))
        return false;
    ret->bowl = bowl.tally;
    text_copy(ret->notice, sizeof ret->notice, round_pass_sentence(&summary, sentence));
    ret->places = summary.round.places;
    ret->tally = summary.tally;
    return true;
}

static bool read_round(void *context, struct sheet_round *ret, struct err *err)
{
    struct ledger_port *port = context;
    const struct clock *clock = ledger_clock(port->ledger);
    int64_t since = ledger_port_midnight(clock_now(clock), clock->offset_minutes);
    struct sheet_round round = {0};
    ledger_read_begin(port->ledger);
    bool fine = read_tally(port, &round, err) && bring_numbers_up(port, since, err);
    ledger_read_end(port->ledger);
    if (!fine)
        return false;
    round.scores = port->numbers.scores.numbers;
    round.score_count = port->numbers.scores.count;
    round.closed_ms = port->numbers.closed_ms.numbers;
    round.closed_count = port->numbers.closed_ms.count;
    *ret = round;
    return true;
}

static bool bearer(void *context, const char *tag, struct tag_bearer *ret, struct err *err)
{
    struct ledger_port *port = context;
    return tag_bearer_get(port->ledger, port->round_id, tag, ret, err);
}

static bool find_fish(void *context, int bowl, int number, int64_t *ret_bowl_id, struct err *err)
{
    struct ledger_port *port = context;
    return fish_find(port->ledger, port->round_id, bowl, number, ret_bowl_id, err);
}

struct sheet_port ledger_port_for_sheet(struct ledger_port *port)
{
    return (struct sheet_port){.context = port,
                               .record = record,
                               .move = move,
                               .reload = reload,
                               .round = read_round,
                               .tag_bearer = bearer,
                               .find_fish = find_fish};
}

/* The tally. */

struct place tally_place(const struct ledger_port *port, bool scoops, bool open)
{
    return round_place(port->judge, port->round_id, scoops ? AT_SCOOPS : 0, open);
}

static bool tally_key(void *context, const struct tally_mark *mark, bool scoops, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = tally_place(port, scoops, true);
    return tally_record(port->ledger, port->round_id, port->judge, mark, &place, err);
}

static bool undo_key(void *context, bool scoops, struct tally_mark *ret, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = tally_place(port, scoops, true);
    return tally_undo(port->ledger, port->round_id, port->judge, &place, ret, err);
}

static bool measure(void *context, struct scoop *scoop, bool scoops, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = tally_place(port, scoops, true);
    return scoop_save(port->ledger, port->round_id, port->judge, scoop, &place, err);
}

static bool tally_move(void *context, bool scoops, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = tally_place(port, scoops, true);
    return place_save(port->ledger, &place, err);
}

/* No key of the judge's own is nothing that went wrong. */
static bool read_last(const struct ledger_port *port, struct tally_now *now, struct err *err)
{
    now->any_last = tally_last(port->ledger, port->round_id, port->judge, &now->last, err);
    return now->any_last || err->code == ERR_ABSENT;
}

static bool read_tally_now(void *context, struct tally_now *ret, struct err *err)
{
    struct ledger_port *port = context;
    const struct clock *clock = ledger_clock(port->ledger);
    int64_t since = ledger_port_midnight(clock_now(clock), clock->offset_minutes);
    struct tally_now now = {.lines = NULL};
    if (tally_lot(port->ledger, port->round_id, &now.lot, err) &&
        scoop_latest(port->ledger, port->round_id, port->judge, &now.scoop, err) &&
        read_last(port, &now, err) &&
        tally_pace_of(port->ledger, port->round_id, port->judge, since, &now.pace, err) &&
        tally_lines(port->ledger, port->round_id, &now.lines, &now.line_count, err)) {
        *ret = now;
        return true;
    }
    return false;
}

struct tally_port ledger_port_for_tally(struct ledger_port *port)
{
    return (struct tally_port){.context = port,
                               .record = tally_key,
                               .undo = undo_key,
                               .measure = measure,
                               .move = tally_move,
                               .read = read_tally_now};
}
