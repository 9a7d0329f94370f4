#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/fish.h"

#include <string.h>

static struct place place_of(const struct ledger_port *port, const struct sheet_place *at)
{
    struct place place = {.judge = port->judge,
                          .round_id = port->round_id,
                          .bowl_id = at->bowl_id,
                          .number = at->number,
                          .second_look = port->second_look,
                          .in_sheet = true};
    text_copy(place.aspect, sizeof place.aspect, at->aspect);
    return place;
}

static bool say_judged_meanwhile(const struct fish *fish, struct err *err)
{
    return err_set(err, ERR_INPUT,
                   "Somebody else has judged fish %d of this bowl meanwhile; leave the sheet and "
                   "open the bowl again.",
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

/* One that both know must come out of the ledger, with the new stroke, as the sheet has it. */
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

static bool record_in_transaction(struct ledger_port *port, const struct fish *fish,
                                  struct stroke *stroke, const struct standing *standing,
                                  const struct sheet_place *at, struct err *err)
{
    struct place place = place_of(port, at);
    stroke->fish = fish->id;
    stroke->standard = port->version;
    if (fish->id == 0 && !begin_fish(port, fish, &stroke->fish, err))
        return false;
    return stroke_record(port->ledger, stroke, standing, &place, err) &&
           (fish->id == 0 || check_picture(port, fish, err));
}

static bool record(void *context, struct fish *fish, struct stroke *stroke,
                   const struct standing *standing, const struct sheet_place *at, struct err *err)
{
    struct ledger_port *port = context;
    struct stroke written = *stroke;
    if (!ledger_begin(port->ledger, err))
        return false;
    if (!record_in_transaction(port, fish, &written, standing, at, err) ||
        !ledger_commit(port->ledger, err)) {
        ledger_rollback(port->ledger);
        return false;
    }
    *stroke = written;
    fish->id = written.fish;
    return true;
}

static bool move(void *context, const struct sheet_place *at, struct err *err)
{
    struct ledger_port *port = context;
    struct place place = place_of(port, at);
    return place_save(port->ledger, &place, err);
}

/* The undo is tried, the fish is read, and the ledger is left as it was. */
static bool reload(void *context, int64_t without, struct fish *fish, struct err *err)
{
    struct ledger_port *port = context;
    struct stroke undo = {.fish = fish->id,
                          .judge = port->judge,
                          .look = 1,
                          .at_ms = clock_now(ledger_clock(port->ledger)),
                          .undoes = without};
    bool read = ledger_begin(port->ledger, err) &&
                stroke_record(port->ledger, &undo, NULL, NULL, err) &&
                fish_load(port->ledger, fish->id, port->standard, fish, err);
    ledger_rollback(port->ledger);
    return read;
}

int64_t ledger_port_midnight(int64_t ms, int offset_minutes)
{
    const int64_t day = INT64_C(24) * 60 * 60 * 1000, offset = (int64_t)offset_minutes * 60 * 1000;
    int64_t into = (ms + offset) % day;
    return ms - (into < 0 ? into + day : into);
}

static bool read_tally(struct ledger_port *port, struct sheet_round *ret, struct err *err)
{
    struct round_summary summary;
    if (!round_summary_get(port->ledger, port->round_id, &summary, err))
        return false;
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
        standing_scores(port->ledger, port->round_id, score_unit(port->standard), &round.scores,
                        &round.score_count, err) &&
        closings_of(port->ledger, port->round_id, port->judge, since, &round.closed_ms,
                    &round.closed_count, err)) {
        *ret = round;
        return true;
    }
    sheet_round_done(&round);
    return false;
}

static bool bearer(void *context, const char *tag, int *ret_bowl, int *ret_number, struct err *err)
{
    struct ledger_port *port = context;
    return tag_bearer(port->ledger, port->round_id, tag, ret_bowl, ret_number, err);
}

struct sheet_port ledger_port_functions(struct ledger_port *port)
{
    return (struct sheet_port){.context = port,
                               .record = record,
                               .move = move,
                               .reload = reload,
                               .round = read_round,
                               .tag_bearer = bearer};
}
