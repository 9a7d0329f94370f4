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

static bool is_among(int64_t stroke, const int64_t *strokes, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strokes[i] == stroke)
            return true;
    return false;
}

/* What stands of it: no passes are made here. */
static enum verdict standing(const struct fake_port *port, const struct fish *fish)
{
    struct cached_verdict cached = fish_cached_verdict(fish, port->standard);
    return cached.no_place ? VERDICT_HOLD : cached.verdict;
}

static struct fish fish_without(const struct fake_port *port, int64_t id, const int64_t *without,
                                size_t count)
{
    struct fish fish = port->fish[id - 1];
    for (size_t i = 0; i < port->stroke_count; i++) {
        const struct stroke *stroke = &port->strokes[i];
        if (stroke->fish != id || is_among(stroke->id, without, count) ||
            is_undone(port, stroke->id))
            continue;
        for (int entry = 0; entry < stroke->entry_count; entry++)
            fish_apply(&fish, port->standard, stroke->look, stroke->at_ms, &stroke->entries[entry]);
    }
    fish.stands = standing(port, &fish);
    return fish;
}

struct fish fake_port_fish(const struct fake_port *port, int64_t id, int64_t without)
{
    return fish_without(port, id, &without, 1);
}

static void add_fish(struct fake_port *port, struct fish *fish)
{
    port->verdicts = alloc_resized(port->verdicts, port->fish_count + 1, sizeof *port->verdicts);
    port->fish = alloc_room(port->fish, port->fish_count, &port->fish_capacity, sizeof *fish);
    fish->id = (int64_t)port->fish_count + 1;
    fish_init(&port->fish[port->fish_count++], fish->id, fish->bowl_id, fish->bowl, fish->number);
}

static void add_stroke(struct fake_port *port, struct stroke *stroke)
{
    port->strokes =
        alloc_room(port->strokes, port->stroke_count, &port->stroke_capacity, sizeof *stroke);
    stroke->id = (int64_t)port->stroke_count + 1;
    port->strokes[port->stroke_count++] = *stroke;
}

static void record_change(struct fake_port *port, const struct sheet_change *change)
{
    struct fish *fish = change->fish;
    if (fish->id == 0)
        add_fish(port, fish);
    for (size_t i = 0; i < change->undo_count; i++)
        add_stroke(port, &(struct stroke){.fish = fish->id,
                                          .judge = FAKE_JUDGE,
                                          .look = fish->look == 0 ? 1 : fish->look,
                                          .at_ms = change->at_ms,
                                          .undoes = change->undoes[i]});
    if (change->stroke != NULL) {
        change->stroke->fish = fish->id;
        add_stroke(port, change->stroke);
    }
    port->verdicts[fish->id - 1] = fish_cached_verdict(fish, port->standard);
    fish->stands = standing(port, fish);
}

static bool record(void *context, struct sheet_change *changes, size_t count,
                   const struct sheet_place *place, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    for (size_t i = 0; i < count; i++)
        record_change(port, &changes[i]);
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

static bool reload(void *context, const int64_t *without, size_t count, const struct fish *likely,
                   struct fish *fish, struct err *err)
{
    (void)likely;
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    *fish = fish_without(port, fish->id, without, count);
    return true;
}

static int ascending(const void *a, const void *b)
{
    int64_t score_a = *(const int64_t *)a, score_b = *(const int64_t *)b;
    return (score_a > score_b) - (score_a < score_b);
}

static bool round_now(void *context, struct sheet_round *ret, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    *ret = (struct sheet_round){.places = port->places, .tally.expected = port->expected};
    free(port->scores);
    free(port->closed_ms);
    port->scores = alloc_zeroed(port->fish_count + 1, sizeof *port->scores);
    port->closed_ms = alloc_zeroed(port->fish_count + 1, sizeof *port->closed_ms);
    ret->scores = port->scores;
    ret->closed_ms = port->closed_ms;
    for (size_t i = 0; i < port->fish_count; i++) {
        const struct cached_verdict *cached = &port->verdicts[i];
        struct fish fish = fake_port_fish(port, (int64_t)i + 1, 0);
        verdict_counts_add(&ret->tally, cached->no_place ? VERDICT_HOLD : cached->verdict);
        ret->bowl = ret->tally;
        if (cached->could_be_kept)
            port->scores[ret->score_count++] = cached->score;
        if (fish.closed)
            port->closed_ms[ret->closed_count++] = fish.closed_ms;
    }
    qsort(port->scores, ret->score_count, sizeof *port->scores, ascending);
    return true;
}

static bool tag_bearer(void *context, const char *tag, struct tag_bearer *ret, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    *ret = strcmp(tag, port->other_tag) == 0 ? port->other : (struct tag_bearer){0};
    return true;
}

static bool find_fish(void *context, int bowl, int number, int64_t *ret_bowl_id, struct err *err)
{
    struct fake_port *port = context;
    if (fails(port, err))
        return false;
    bool found = bowl == port->other.bowl && number == port->other.number;
    *ret_bowl_id = found ? FAKE_OTHER_BOWL_ID : 0;
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
    free(port->scores);
    free(port->closed_ms);
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
        .find_fish = find_fish,
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
        .unnumbered = second_look && port->unnumbered,
        .fish = fish,
        .fish_count = list_fish(port, second_look, fish),
        .undoable = undoable,
        .undoable_count = list_undoable(port, second_look, undoable),
        .place = port->place,
        .bounce_ms = port->bounce_ms,
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
