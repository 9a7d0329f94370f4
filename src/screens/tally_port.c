#include "senbetsu/screens/tally_port.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/round_place.h"
#include "senbetsu/store/round_counts.h"

struct place tally_ledger_place(const struct tally_ledger *port, bool scoops, bool open)
{
    return round_place(port->judge, port->round_id, scoops ? AT_SCOOPS : 0, open);
}

static bool record(void *context, const struct tally_mark *mark, bool scoops, struct err *err)
{
    struct tally_ledger *port = context;
    struct place place = tally_ledger_place(port, scoops, true);
    return tally_record(port->ledger, port->round_id, port->judge, mark, &place, err);
}

static bool undo(void *context, bool scoops, struct tally_mark *ret, struct err *err)
{
    struct tally_ledger *port = context;
    struct place place = tally_ledger_place(port, scoops, true);
    return tally_undo(port->ledger, port->round_id, port->judge, &place, ret, err);
}

static bool measure(void *context, struct scoop *scoop, bool scoops, struct err *err)
{
    struct tally_ledger *port = context;
    struct place place = tally_ledger_place(port, scoops, true);
    return scoop_save(port->ledger, port->round_id, port->judge, scoop, &place, err);
}

static bool move(void *context, bool scoops, struct err *err)
{
    struct tally_ledger *port = context;
    struct place place = tally_ledger_place(port, scoops, true);
    return place_save(port->ledger, &place, err);
}

/* No key of the judge's own is nothing that went wrong. */
static bool read_last(const struct tally_ledger *port, struct tally_now *now, struct err *err)
{
    now->any_last = tally_last(port->ledger, port->round_id, port->judge, &now->last, err);
    return now->any_last || err->code == ERR_ABSENT;
}

static bool read(void *context, struct tally_now *ret, struct err *err)
{
    struct tally_ledger *port = context;
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

struct tally_port tally_ledger_functions(struct tally_ledger *port)
{
    return (struct tally_port){.context = port,
                               .record = record,
                               .undo = undo,
                               .measure = measure,
                               .move = move,
                               .read = read};
}
