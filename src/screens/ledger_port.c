/* Where the sheet and the tally meet the ledger. Each function of a port is one transaction, and
 * with every change the place is written, so that a session that is broken off at any moment comes
 * back to exactly what is on disk. */
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/families.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/store/round_counts.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/tallies.h"

#include <stdio.h>
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

/* One that both know must come out of the ledger, with the change, as the sheet has it; the ledger
 * knows what stands of it. */
static bool check_picture(struct ledger_port *port, struct fish *fish, struct err *err)
{
    struct fish found;
    if (!fish_load(port->ledger, fish->id, port->standard, &found, err))
        return false;
    fish->stands = found.stands;
    fish->changed = found.changed;
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

static bool record_change(struct ledger_port *port, const struct sheet_change *change,
                          struct err *err)
{
    struct fish *fish = change->fish;
    struct cached_verdict cached = fish_cached_verdict(fish, port->standard);
    if (fish->id == 0 && !begin_fish(port, fish, &fish->id, err))
        return false;
    for (size_t i = 0; i < change->undo_count; i++)
        if (!undo_stroke(port, fish, change->undoes[i], change->at_ms, &cached, err))
            return false;
    if (change->stroke != NULL) {
        change->stroke->fish = fish->id;
        change->stroke->standard = port->version;
        if (!stroke_record(port->ledger, change->stroke, &cached, NULL, err))
            return false;
    }
    return check_picture(port, fish, err);
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
        return true;
    transaction_rollback(port->ledger);
    return false;
}

static bool move(void *context, const struct sheet_place *at, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = ledger_port_place(port, at, true);
    return place_save(port->ledger, &place, err);
}

/* The undo is tried, the fish is read, and the ledger is left as it was. */
static bool reload(void *context, const int64_t *without, size_t count, struct fish *fish,
                   struct err *err)
{
    struct ledger_port *port = context;
    int64_t now_ms = clock_now(ledger_clock(port->ledger));
    bool fine = transaction_begin(port->ledger, err);
    for (size_t i = 0; fine && i < count; i++)
        fine = undo_stroke(port, fish, without[i], now_ms, NULL, err);
    fine = fine && fish_load(port->ledger, fish->id, port->standard, fish, err);
    transaction_rollback(port->ledger);
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
    if (read_tally(port, &round, err) &&
        verdict_scores(port->ledger, port->round_id, score_unit(port->standard), &round.scores,
                       &round.score_count, err) &&
        closings_of(port->ledger, port->round_id, port->judge, since, &round.closed_ms,
                    &round.closed_count, err)) {
        *ret = round;
        return true;
    }
    sheet_round_done(&round);
    return false;
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
