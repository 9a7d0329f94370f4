#include "support/fake_tally.h"
#include "senbetsu/base/alloc.h"
#include "support/test.h"

static bool fails(struct fake_tally *fake, struct err *err)
{
    fake->calls++;
    if (fake->calls != fake->fail_at)
        return false;
    err_set(err, ERR_BUSY, "Another program is using the ledger.");
    return true;
}

static void add(struct fake_tally *fake, const struct tally_mark *mark, bool others)
{
    assert_true(fake->stroke_count < FAKE_STROKES);
    fake->strokes[fake->stroke_count++] =
        (struct fake_stroke){.mark = *mark, .at_ms = fake->now_ms, .others = others};
}

static bool record(void *context, const struct tally_mark *mark, bool scoops, struct err *err)
{
    struct fake_tally *fake = context;
    if (fails(fake, err))
        return false;
    add(fake, mark, false);
    fake->scoops = scoops;
    return true;
}

/* The key that is taken back next, or NULL. */
static struct fake_stroke *last_own(struct fake_tally *fake)
{
    for (size_t i = fake->stroke_count; i-- > 0;)
        if (!fake->strokes[i].others && !fake->strokes[i].undone)
            return &fake->strokes[i];
    return NULL;
}

static bool undo(void *context, bool scoops, struct tally_mark *ret, struct err *err)
{
    struct fake_tally *fake = context;
    struct fake_stroke *last = last_own(fake);
    if (fails(fake, err))
        return false;
    fake->scoops = scoops;
    if (last == NULL)
        return err_set(err, ERR_ABSENT, "You have no key left to undo.");
    last->undone = true;
    *ret = last->mark;
    return true;
}

static bool measure(void *context, struct scoop *scoop, bool scoops, struct err *err)
{
    struct fake_tally *fake = context;
    if (fails(fake, err))
        return false;
    scoop->id = ++fake->scoop_count;
    fake->scoop = *scoop;
    fake->scoops = scoops;
    return true;
}

static bool move(void *context, bool scoops, struct err *err)
{
    struct fake_tally *fake = context;
    if (fails(fake, err))
        return false;
    fake->scoops = scoops;
    return true;
}

/* A line for each sort of stroke that counts. */
static size_t list(const struct fake_tally *fake, struct tally_line *ret)
{
    size_t count = 0;
    for (size_t i = 0; i < fake->stroke_count; i++) {
        if (fake->strokes[i].undone)
            continue;
        int found = tally_line_find(ret, count, &fake->strokes[i].mark);
        if (found >= 0)
            ret[found].times++;
        else
            ret[count++] = (struct tally_line){fake->strokes[i].mark, 1};
    }
    return count;
}

static bool read(void *context, struct tally_now *ret, struct err *err)
{
    struct fake_tally *fake = context;
    fake->stale = true;
    if (fails(fake, err))
        return false;
    fake->stale = false;
    *ret = (struct tally_now){.lot = fake->lot, .scoop = fake->scoop};
    const struct fake_stroke *last = last_own(fake);
    ret->any_last = last != NULL;
    if (last != NULL)
        ret->last = last->mark;
    ret->lines = alloc_zeroed(fake->stroke_count + 1, sizeof *ret->lines);
    ret->line_count = list(fake, ret->lines);
    for (size_t i = 0; i < fake->stroke_count; i++)
        if (!fake->strokes[i].undone && !fake->strokes[i].others)
            tally_pace_add(&ret->pace, fake->strokes[i].at_ms,
                           tally_mark_fish(&fake->strokes[i].mark));
    return true;
}

bool fake_tally_open(struct fake_tally *fake, struct tally_sheet *sheet, struct err *err)
{
    const struct tally_setup setup = {
        .by_book = fake->by_book,
        .manner = MANNER_PICK,
        .standard = &fake->standard,
        .scoops = fake->scoops,
        .port = {.context = fake,
                 .record = record,
                 .undo = undo,
                 .measure = measure,
                 .move = move,
                 .read = read},
        .clock = clock_fixed(&fake->now_ms),
    };
    return tally_sheet_init(sheet, &setup, err);
}

void fake_tally_reopen(struct fake_tally *fake)
{
    struct err err;
    tally_sheet_done(&fake->sheet);
    assert_ok(fake_tally_open(fake, &fake->sheet, &err), &err);
}

int fake_tally_set_up(void **state)
{
    struct fake_tally *fake = alloc_zeroed(1, sizeof *fake);
    struct err err;
    fake->standard = (struct standard){.fault_count = FAKE_FAULTS,
                                       .faults = {{.code = "spine", .label = "Bent spine (magari)"},
                                                  {.code = "jaw", .label = "Twisted jaw"},
                                                  {.code = "grey", .label = "Wild carp grey"}}};
    fake->lot.number = NOT_COUNTED;
    fake->by_book.number = NOT_COUNTED;
    fake->now_ms = 1771144860000;
    *state = fake;
    assert_ok(fake_tally_open(fake, &fake->sheet, &err), &err);
    return 0;
}

int fake_tally_tear_down(void **state)
{
    struct fake_tally *fake = *state;
    tally_sheet_done(&fake->sheet);
    free(fake);
    return 0;
}

struct tally_effects fake_tally_do(struct fake_tally *fake, enum tally_command_kind kind,
                                   int number)
{
    fake->now_ms += (int64_t)FAKE_TALLY_SECONDS * 1000;
    return tally_sheet_do(&fake->sheet, &(struct tally_command){kind, number});
}

void fake_tally_by_another(struct fake_tally *fake, enum tally_kind kind)
{
    const struct tally_mark mark = {.kind = kind};
    add(fake, &mark, true);
}

struct tally_totals fake_tally_totals(const struct fake_tally *fake)
{
    struct tally_line *lines = alloc_zeroed(fake->stroke_count + 1, sizeof *lines);
    size_t count = list(fake, lines);
    struct tally_totals totals = tally_totals_of(lines, count);
    free(lines);
    return totals;
}
