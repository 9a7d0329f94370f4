#include "support/fake_port.h"
#include "senbetsu/base/alloc.h"

#include <stdlib.h>
#include <string.h>

static bool fails(struct fake_port *port, struct err *err)
{
    port->calls++;
    if (port->calls != port->fail_at)
        return false;
    err_set(err, ERR_BUSY, "Another program is using the ledger.");
    return true;
}

static bool is_undone(const struct fake_port *port, int64_t stroke)
{
    for (size_t i = 0; i < port->stroke_count; i++)
        if (port->strokes[i].undoes == stroke)
            return true;
    return false;
}

struct fish fake_port_fish(const struct fake_port *port, int64_t id, int64_t without)
{
    struct fish fish = port->fish[id - 1];
    for (size_t i = 0; i < port->stroke_count; i++) {
        const struct stroke *stroke = &port->strokes[i];
        if (stroke->fish != id || stroke->id == without || is_undone(port, stroke->id))
            continue;
        for (int entry = 0; entry < stroke->entry_count; entry++)
            fish_apply(&fish, port->standard, stroke->look, stroke->at_ms, &stroke->entries[entry]);
    }
    return fish;
}

static void add_fish(struct fake_port *port, struct fish *fish)
{
    port->verdicts = alloc_resized(port->verdicts, port->fish_count + 1, sizeof *port->verdicts);
    port->fish = alloc_room(port->fish, port->fish_count, &port->fish_capacity, sizeof *fish);
    fish->id = (int64_t)port->fish_count + 1;
    fish_init(&port->fish[port->fish_count++], fish->id, fish->bowl_id, fish->bowl, fish->number);
}

static bool record(void *context, struct fish *fish, struct stroke *stroke,
                   const struct cached_verdict *cached, const struct sheet_place *place,
                   struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    if (fish->id == 0)
        add_fish(port, fish);
    port->strokes =
        alloc_room(port->strokes, port->stroke_count, &port->stroke_capacity, sizeof *stroke);
    stroke->fish = fish->id;
    stroke->id = (int64_t)port->stroke_count + 1;
    port->strokes[port->stroke_count++] = *stroke;
    port->verdicts[fish->id - 1] = *cached;
    port->place = *place;
    return true;
}

static bool move(void *context, const struct sheet_place *place, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    port->place = *place;
    return true;
}

static bool reload(void *context, int64_t without, struct fish *fish, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    *fish = fake_port_fish(port, fish->id, without);
    return true;
}

static bool round_now(void *context, struct sheet_round *ret, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    *ret = (struct sheet_round){.places = port->places, .tally.expected = port->expected};
    ret->scores = alloc_zeroed(port->fish_count + 1, sizeof *ret->scores);
    ret->closed_ms = alloc_zeroed(port->fish_count + 1, sizeof *ret->closed_ms);
    for (size_t i = 0; i < port->fish_count; i++) {
        const struct cached_verdict *cached = &port->verdicts[i];
        struct fish fish = fake_port_fish(port, (int64_t)i + 1, 0);
        verdict_counts_add(&ret->tally, cached->verdict);
        if (cached->could_be_kept)
            ret->scores[ret->score_count++] = cached->score;
        if (fish.closed)
            ret->closed_ms[ret->closed_count++] = fish.closed_ms;
    }
    return true;
}

static bool tag_bearer(void *context, const char *tag, int *ret_bowl, int *ret_number,
                       struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    bool found = strcmp(tag, port->other_tag) == 0;
    *ret_bowl = found ? port->other_bowl : 0;
    *ret_number = found ? port->other_number : 0;
    return true;
}

void fake_port_init(struct fake_port *port, const struct standard *standard)
{
    *port = (struct fake_port){.standard = standard, .places = -1, .now_ms = 1000};
}

void fake_port_done(struct fake_port *port)
{
    free(port->fish);
    free(port->verdicts);
    free(port->strokes);
    *port = (struct fake_port){0};
}

struct sheet_port fake_port_functions(struct fake_port *port)
{
    return (struct sheet_port){
        .context = port,
        .record = record,
        .move = move,
        .reload = reload,
        .round = round_now,
        .tag_bearer = tag_bearer,
    };
}

static bool is_held(const struct fake_port *port, const struct fish *fish)
{
    struct judgement deciding = fish_deciding(fish, port->standard);
    return fish->look > 1 || judgement_decide(port->standard, &deciding).verdict == VERDICT_HOLD;
}

static size_t list_fish(const struct fake_port *port, bool held_only, struct fish *ret)
{
    size_t count = 0;
    for (size_t i = 0; i < port->fish_count; i++) {
        struct fish fish = fake_port_fish(port, (int64_t)i + 1, 0);
        if (!held_only || is_held(port, &fish))
            ret[count++] = fish;
    }
    return count;
}

static size_t list_undoable(const struct fake_port *port, bool second_look, struct undoable *ret)
{
    size_t count = 0;
    for (size_t i = 0; i < port->stroke_count; i++) {
        const struct stroke *stroke = &port->strokes[i];
        if (stroke->undoes == 0 && !is_undone(port, stroke->id) &&
            (!second_look || stroke->look > 1))
            ret[count++] = (struct undoable){stroke->id, stroke->fish};
    }
    return count;
}

bool fake_port_open(struct fake_port *port, struct sheet *sheet, int expected, bool second_look,
                    struct err *err)
{
    struct fish *fish = alloc_zeroed(port->fish_count + 1, sizeof *fish);
    struct undoable *undoable = alloc_zeroed(port->stroke_count + 1, sizeof *undoable);
    struct sheet_setup setup = {
        .standard = port->standard,
        .judge = FAKE_JUDGE,
        .bowl_id = second_look ? 0 : FAKE_BOWL_ID,
        .bowl = second_look ? 0 : FAKE_BOWL,
        .expected = expected,
        .second_look = second_look,
        .fish = fish,
        .fish_count = list_fish(port, second_look, fish),
        .undoable = undoable,
        .undoable_count = list_undoable(port, second_look, undoable),
        .place = port->place,
        .port = fake_port_functions(port),
        .clock = clock_fixed(&port->now_ms),
    };
    bool opened = sheet_init(sheet, &setup, err);
    free(fish);
    free(undoable);
    return opened;
}

const struct stroke *fake_port_last(const struct fake_port *port)
{
    return port->stroke_count == 0 ? NULL : &port->strokes[port->stroke_count - 1];
}
