#include "senbetsu/base/alloc.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/exchange/export.h"
#include "senbetsu/report/pass.h"

#include <stdlib.h>
#include <string.h>

/* The aspect columns: those of all rounds written, each once, in the order in which they come. */
struct aspects {
    char (*codes)[CODE_CHARACTERS + 1];
    size_t count, capacity;
};

struct round_out {
    struct round round;
    struct standard standard;
};

struct writing {
    struct ledger *ledger;
    struct round_out *rounds;
    size_t round_count;
    struct aspects aspects;
    struct text *out;
};

static bool is_wanted(const struct round *round, const struct export_filter *filter)
{
    return (filter->spawning == NULL || strcmp(filter->spawning, round->spawning) == 0) &&
           (filter->stage < 0 || filter->stage == (int)round->stage) &&
           (filter->lot == NULL || strcmp(filter->lot, round->lot) == 0);
}

static void note_aspects(struct aspects *aspects, const struct standard *standard)
{
    for (int i = 0; i < standard->aspect_count; i++) {
        const char *code = standard->aspects[i].code;
        size_t at = 0;
        while (at < aspects->count && strcmp(aspects->codes[at], code) != 0)
            at++;
        if (at < aspects->count)
            continue;
        aspects->codes =
            alloc_room(aspects->codes, aspects->count, &aspects->capacity, sizeof *aspects->codes);
        text_copy(aspects->codes[aspects->count++], sizeof *aspects->codes, code);
    }
}

static bool take_round(struct writing *writing, const struct round *round, struct err *err)
{
    struct standard_version version;
    struct round_out *out = &writing->rounds[writing->round_count];
    if (!round_standard(writing->ledger, round, NULL, &version, err))
        return false;
    *out = (struct round_out){.round = *round, .standard = version.standard};
    note_aspects(&writing->aspects, &version.standard);
    writing->round_count++;
    return true;
}

/* Rounds without a bowl have no fish, and perhaps no standard yet. */
static bool choose_rounds(struct writing *writing, const struct export_filter *filter,
                          struct err *err)
{
    struct round_summary *all;
    size_t count;
    bool done = true;
    if (!round_list(writing->ledger, filter->spawning, &all, &count, err))
        return false;
    writing->rounds = alloc_zeroed(count, sizeof *writing->rounds);
    for (size_t i = 0; done && i < count; i++)
        if (is_wanted(&all[i].round, filter) && all[i].bowls > 0)
            done = take_round(writing, &all[i].round, err);
    free(all);
    return done;
}

static void add_header(struct writing *writing)
{
    text_add(writing->out, "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults");
    for (size_t i = 0; i < writing->aspects.count; i++)
        csv_add(writing->out, writing->aspects.codes[i], false);
    csv_end_row(writing->out);
}

static void add_faults(const struct standard *standard, uint32_t seen, struct text *out)
{
    struct text faults;
    text_init(&faults);
    for (int i = 0; i < standard->fault_count; i++)
        if (seen >> i & 1)
            text_addf(&faults, "%s%s", faults.length > 0 ? ";" : "", standard->faults[i].code);
    csv_add(out, faults.data, false);
    text_done(&faults);
}

static void add_number(struct text *out, int number, bool known)
{
    if (known)
        csv_add_number(out, number, false);
    else
        csv_add(out, "", false);
}

/* `look` tells judge and day; NULL = nobody has looked yet. */
static void add_row(struct writing *writing, const struct round_out *of, const struct fish *fish,
                    const struct judgement *judgement, const struct look *look)
{
    struct text *out = writing->out;
    csv_add(out, of->round.spawning, true);
    csv_add(out, of->round.own_lot ? "" : of->round.lot, false);
    csv_add(out, stage_terms[of->round.stage].word, false);
    csv_add_number(out, fish->bowl, false);
    csv_add_number(out, fish->number, false);
    csv_add(out, look != NULL ? look->judge_name : "", false);
    csv_add(out, look != NULL ? look->day : "", false);
    add_number(out, fish->length_mm, fish->length_mm > 0);
    csv_add(out, fish->tag, false);
    add_faults(&of->standard, judgement->faults, out);
    for (size_t i = 0; i < writing->aspects.count; i++) {
        int aspect = standard_aspect(&of->standard, writing->aspects.codes[i]);
        int score = aspect >= 0 ? judgement->scores[aspect] : SCORE_NONE;
        add_number(out, score, score != SCORE_NONE);
    }
    csv_end_row(out);
}

/* Which look decides: the last one, or the one before it while the last is not complete. */
static int deciding_look(const struct fish *fish, const struct judgement *deciding)
{
    bool last = memcmp(deciding->scores, fish->judgement.scores, sizeof deciding->scores) == 0 &&
                deciding->faults == fish->judgement.faults;
    return last ? fish->look : fish->look - 1;
}

/* One fish and its looks, of which there are `count`. */
static void add_fish(struct writing *writing, const struct round_out *of, const struct fish *fish,
                     const struct look *looks, size_t count)
{
    struct judgement deciding = fish_deciding(fish, &of->standard);
    int number = deciding_look(fish, &deciding);
    const struct look *look = NULL;
    for (size_t i = 0; i < count; i++)
        if (!looks[i].checking && looks[i].look == number)
            look = &looks[i];
    add_row(writing, of, fish, &deciding, look);
    for (size_t i = 0; i < count; i++)
        if (looks[i].checking)
            add_row(writing, of, &looks[i].summed, &looks[i].summed.judgement, &looks[i]);
}

/* Fish and looks come in the same order. */
static bool add_round(struct writing *writing, const struct round_out *of, struct err *err)
{
    struct fish *fish;
    struct look *looks;
    size_t count, look_count;
    if (!fish_of_round(writing->ledger, of->round.id, &of->standard, &fish, &count, err))
        return false;
    if (!looks_of_round(writing->ledger, of->round.id, &of->standard, &looks, &look_count, err)) {
        free(fish);
        return false;
    }
    for (size_t i = 0, first = 0, end = 0; i < count; i++, first = end) {
        while (end < look_count && looks[end].fish == fish[i].id)
            end++;
        add_fish(writing, of, &fish[i], looks + first, end - first);
    }
    free(looks);
    free(fish);
    return true;
}

bool export_fish(struct ledger *ledger, const struct export_filter *filter, struct text *out,
                 struct err *err)
{
    struct writing writing = {.ledger = ledger, .out = out};
    bool done = choose_rounds(&writing, filter, err);
    if (done)
        add_header(&writing);
    for (size_t i = 0; done && i < writing.round_count; i++)
        done = add_round(&writing, &writing.rounds[i], err);
    free(writing.rounds);
    free(writing.aspects.codes);
    return done;
}
