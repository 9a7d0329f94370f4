/* Reading fish: their strokes replayed, either all of a fish or look by look. */
#include "senbetsu/store/fish.h"

#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "strokes.h"

#include <limits.h>
#include <stdlib.h>

bool fish_numbered(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                   struct err *err)
{
    int64_t first = 0, own = 0;
    struct query query = query_with(ledger, SQL_FISH_NUMBERED, bowl_id);
    query_number(&query, number);
    while (own == 0 && query_step(&query)) {
        int64_t id = row_id(&query);
        first = first == 0 ? id : first;
        own = row_flag(&query) ? id : 0;
    }
    if (!query_end(&query, err))
        return false;
    *ret_id = own != 0 ? own : first;
    return true;
}

/* The fish is looked for a second time inside the transaction: another program may have added it
 * since. */
static bool find_or_add(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                        struct err *err)
{
    if (!fish_numbered(ledger, bowl_id, number, ret_id, err))
        return false;
    if (*ret_id != 0)
        return true;
    if (!new_id(ledger, ret_id, err))
        return false;
    struct query query = query_with(ledger, SQL_FISH_ADD, *ret_id);
    query_number(&query, bowl_id);
    query_number(&query, number);
    return query_run(&query, err);
}

bool fish_begin(struct ledger *ledger, int64_t bowl_id, int number, int64_t *ret_id,
                struct err *err)
{
    int64_t id = 0;
    if (!fish_numbered(ledger, bowl_id, number, &id, err))
        return false;
    if (id == 0 && !(transaction_begin(ledger, err) &&
                     transaction_end(ledger, find_or_add(ledger, bowl_id, number, &id, err), err)))
        return false;
    *ret_id = id;
    return true;
}

/* A fish and, where it has any, one of its strokes: what REPLAY_COLUMNS begin with. */
struct stroke_of_fish {
    int64_t fish, bowl_id;
    int bowl, number;
    enum verdict stands;
    bool changed;
    int64_t stroke;
    int look; /* 0 = no stroke yet */
    int64_t at_ms;
};

static void read_stroke(struct query *query, struct stroke_of_fish *ret)
{
    ret->fish = row_id(query);
    ret->bowl_id = row_id(query);
    ret->bowl = row_int(query, 1, NUMBER_MOST);
    ret->number = row_int(query, 1, NUMBER_MOST);
    ret->stands = (enum verdict)row_word(query, verdict_terms, VERDICT_COUNT);
    ret->changed = row_flag(query);
    ret->stroke = row_id_or_none(query);
    ret->look = row_int_or(query, 1, INT_MAX - 1, 0);
    ret->at_ms = row_instant_or(query, 0);
}

/* Strokes that are left out of a sum. */
struct without {
    const int64_t *strokes;
    size_t count;
};

static bool is_among(int64_t stroke, const struct without *without)
{
    for (size_t i = 0; i < without->count; i++)
        if (without->strokes[i] == stroke)
            return true;
    return false;
}

/* Sums the rows of the query up to fish, one after another, and ends it. */
static bool replay(struct query *query, const struct standard *standard,
                   const struct without *without, fish_visitor *visit, void *context,
                   struct err *err)
{
    struct fish fish = {.id = 0};
    bool fine = true;
    while (fine && query_step(query)) {
        struct stroke_of_fish stroke;
        read_stroke(query, &stroke);
        if (fish.id != stroke.fish) {
            if (fish.id != 0)
                visit(context, &fish);
            fish_init(&fish, stroke.fish, stroke.bowl_id, stroke.bowl, stroke.number);
            fish.stands = stroke.stands;
            fish.changed = stroke.changed;
        }
        if (stroke.look != 0 && !is_among(stroke.stroke, without))
            fine = stroke_row_apply(query, standard, stroke.look, stroke.at_ms, &fish, err);
    }
    if (!query_end(query, fine ? err : NULL) || !fine)
        return false;
    if (fish.id != 0)
        visit(context, &fish);
    return true;
}

struct fish_list {
    struct fish *fish;
    size_t count, capacity;
};

static void append(void *context, const struct fish *fish)
{
    struct fish_list *list = context;
    list->fish = alloc_room(list->fish, list->count, &list->capacity, sizeof *list->fish);
    list->fish[list->count++] = *fish;
}

static const struct without nothing;

static bool load(struct ledger *ledger, enum sql sql, int64_t id, const struct standard *standard,
                 const struct without *without, struct fish **ret, size_t *ret_count,
                 struct err *err)
{
    struct fish_list list = {.count = 0};
    struct query query = query_with(ledger, sql, id);
    if (!replay(&query, standard, without, append, &list, err)) {
        free(list.fish);
        return false;
    }
    *ret = list.fish;
    *ret_count = list.count;
    return true;
}

#define NO_SUCH_FISH "There is no such fish in the ledger."

bool fish_load_without(struct ledger *ledger, int64_t id, const int64_t *without, size_t count,
                       const struct standard *standard, struct fish *ret, struct err *err)
{
    struct fish *fish;
    size_t found;
    const struct without strokes = {without, count};
    if (!load(ledger, SQL_FISH_OF_ID, id, standard, &strokes, &fish, &found, err))
        return false;
    if (found == 1)
        *ret = fish[0];
    free(fish);
    return found == 1 || err_set(err, ERR_ABSENT, NO_SUCH_FISH);
}

bool fish_load(struct ledger *ledger, int64_t id, const struct standard *standard, struct fish *ret,
               struct err *err)
{
    return fish_load_without(ledger, id, NULL, 0, standard, ret, err);
}

static void read_now(struct query *query, void *ret_item)
{
    struct fish_now *ret = ret_item;
    ret->stands = (enum verdict)row_word(query, verdict_terms, VERDICT_COUNT);
    ret->changed = row_flag(query);
    ret->score = row_between_or(query, 0, SCORE_MOST, -1);
    ret->closed_ms = row_instant_or(query, 0);
    ret->mark = row_between(query, 0, INT64_MAX);
}

bool fish_now(struct ledger *ledger, int64_t id, int64_t unit, int64_t judge, struct fish_now *ret,
              struct err *err)
{
    struct query query = query_with(ledger, SQL_FISH_NOW, id);
    query_number(&query, unit);
    query_number_or_null(&query, judge, 0);
    return query_row(&query, read_now, ret, NO_SUCH_FISH, err);
}

bool fish_of_bowl(struct ledger *ledger, int64_t bowl_id, const struct standard *standard,
                  struct fish **ret, size_t *ret_count, struct err *err)
{
    return load(ledger, SQL_FISH_OF_BOWL, bowl_id, standard, &nothing, ret, ret_count, err);
}

bool fish_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                   struct fish **ret, size_t *ret_count, struct err *err)
{
    return load(ledger, SQL_FISH_OF_ROUND, round_id, standard, &nothing, ret, ret_count, err);
}

bool fish_each_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                        fish_visitor *visit, void *context, struct err *err)
{
    struct query query = query_with(ledger, SQL_FISH_OF_ROUND, round_id);
    return replay(&query, standard, &nothing, visit, context, err);
}

/* A score stands for the judgement it was made of. */
static void read_deciding(struct query *query, const struct standard *standard,
                          struct judged_fish *ret)
{
    ret->score = NOT_SCORED;
    if (row_is_number(query))
        ret->score = row_between(query, 0, SCORE_MOST);
    else
        row_require(query, judgement_parse(standard, row_text_in_place(query), &ret->judgement));
}

bool judged_each_of_round(struct ledger *ledger, int64_t round_id, const struct standard *standard,
                          judged_visitor *visit, void *context, struct err *err)
{
    struct judged_fish fish = {.id = 0};
    struct query query = query_with(ledger, SQL_JUDGED_OF_ROUND, round_id);
    query_number(&query, score_unit(standard));
    while (query_step(&query)) {
        fish.id = row_id(&query);
        fish.bowl_id = row_id(&query);
        fish.bowl = row_int(&query, 1, NUMBER_MOST);
        fish.number = row_int(&query, 1, NUMBER_MOST);
        fish.stands = (enum verdict)row_word(&query, verdict_terms, VERDICT_COUNT);
        fish.changed = row_flag(&query);
        read_deciding(&query, standard, &fish);
        visit(context, &fish);
    }
    return query_end(&query, err);
}

bool fish_find(struct ledger *ledger, int64_t round_id, int bowl, int number, int64_t *ret_bowl_id,
               struct err *err)
{
    int64_t id = 0;
    struct query query = query_with(ledger, SQL_FISH_FIND, round_id);
    query_number(&query, bowl);
    query_number(&query, number);
    if (!query_single(&query, &id, err))
        return false;
    *ret_bowl_id = id;
    return true;
}

/* The tag that counts is the last one the fish was given and that was not undone (statements.def).
 */
bool tag_bearer_get(struct ledger *ledger, int64_t round_id, const char *tag,
                    struct tag_bearer *ret, struct err *err)
{
    struct tag_bearer bearer = {0};
    struct query query = query_with(ledger, SQL_TAG_BEARER, round_id);
    query_text(&query, tag);
    if (query_step(&query)) {
        bearer.fish = row_id(&query);
        bearer.bowl = row_int(&query, 1, NUMBER_MOST);
        bearer.number = row_int(&query, 1, NUMBER_MOST);
        bearer.same_round = row_flag(&query);
        bearer.same_spawning = row_flag(&query);
        row_code(&query, bearer.lot, sizeof bearer.lot);
        bearer.stage = (enum stage)row_word(&query, stage_terms, STAGE_COUNT);
    }
    if (!query_end(&query, err))
        return false;
    *ret = bearer;
    return true;
}

/* A stroke of a look: what LOOKS begins with. */
struct look_stroke {
    bool checking;
    int64_t judge;
    char judge_name[CODE_SIZE];
    struct stroke_of_fish of;
};

/* Sums looks fish by fish. A fish ends where the next one's first stroke has been read, so one
 * stroke is always read ahead. Looks are large: their memory is used again for every fish. */
struct look_reader {
    struct ledger *ledger;
    const struct standard *standard;
    struct query query;
    struct look_stroke ahead;
    bool more; /* `ahead` holds a stroke */
    struct look *looks;
    size_t count, capacity;
};

static void read_ahead(struct look_reader *reader)
{
    struct query *query = &reader->query;
    struct look_stroke *ahead = &reader->ahead;
    reader->more = query_step(query);
    if (!reader->more)
        return;
    ahead->checking = row_flag(query);
    ahead->judge = row_id_or_none(query);
    row_text(query, ahead->judge_name, sizeof ahead->judge_name);
    read_stroke(query, &ahead->of);
}

static struct look_reader begin_looks(struct ledger *ledger, enum sql sql, int64_t id,
                                      const struct standard *standard)
{
    struct look_reader reader = {
        .ledger = ledger, .standard = standard, .query = query_with(ledger, sql, id)};
    read_ahead(&reader);
    return reader;
}

/* Strokes of one look add up whoever made them; a check is one judge's own. */
static bool belongs(const struct look *look, const struct look_stroke *stroke)
{
    return look->look == stroke->of.look && look->checking == stroke->checking &&
           (!stroke->checking || look->judge == stroke->judge);
}

static void begin_look(struct look_reader *reader)
{
    const struct stroke_of_fish *of = &reader->ahead.of;
    reader->looks =
        alloc_room(reader->looks, reader->count, &reader->capacity, sizeof *reader->looks);
    struct look *look = &reader->looks[reader->count++];
    look->fish = of->fish;
    look->look = of->look;
    look->checking = reader->ahead.checking;
    date_of_instant(of->at_ms, reader->ledger->clock.offset_minutes, look->day);
    fish_init(&look->summed, of->fish, of->bowl_id, of->bowl, of->number);
}

/* The look carries the name of the judge who did the last of it. */
static bool add_stroke(struct look_reader *reader, struct err *err)
{
    const struct look_stroke *stroke = &reader->ahead;
    if (reader->count == 0 || !belongs(&reader->looks[reader->count - 1], stroke))
        begin_look(reader);
    struct look *look = &reader->looks[reader->count - 1];
    look->judge = stroke->judge;
    text_copy(look->judge_name, sizeof look->judge_name, stroke->judge_name);
    if (!stroke_row_apply(&reader->query, reader->standard, stroke->of.look, stroke->of.at_ms,
                          &look->summed, err))
        return false;
    read_ahead(reader);
    return true;
}

/* Length, tag and note are the fish's; only a check that measured for itself has its own. */
static void take_from_fish(struct look *look, const struct fish *fish)
{
    struct fish *summed = &look->summed;
    if (!look->checking || summed->length_mm == 0)
        summed->length_mm = fish->length_mm;
    if (!look->checking || *summed->tag == '\0')
        text_copy(summed->tag, sizeof summed->tag, fish->tag);
    if (!look->checking || *summed->note == '\0')
        text_copy(summed->note, sizeof summed->note, fish->note);
}

/* The looks of a fish, whose strokes come next if it has any. */
static bool read_looks(struct look_reader *reader, const struct fish *fish, struct err *err)
{
    reader->count = 0;
    while (reader->more && reader->ahead.of.fish == fish->id)
        if (!add_stroke(reader, err))
            return false;
    for (size_t i = 0; i < reader->count; i++)
        take_from_fish(&reader->looks[i], fish);
    return true;
}

bool looks_of_fish(struct ledger *ledger, const struct fish *fish, const struct standard *standard,
                   struct look **ret, size_t *ret_count, struct err *err)
{
    struct look_reader reader = begin_looks(ledger, SQL_LOOKS_OF_FISH, fish->id, standard);
    if (read_looks(&reader, fish, err))
        return query_list(&reader.query, reader.looks, reader.count, ret, ret_count, err);
    query_end(&reader.query, NULL);
    free(reader.looks);
    return false;
}

/* Hears of each fish of a bowl and asks for its looks. */
struct looked_at {
    struct look_reader reader;
    looked_visitor *visit;
    void *context;
    struct err *err;
    bool fine;
};

static void visit_looked(void *context, const struct fish *fish)
{
    struct looked_at *at = context;
    at->fine = at->fine && read_looks(&at->reader, fish, at->err);
    if (at->fine)
        at->visit(at->context, fish, at->reader.looks, at->reader.count);
}

bool looked_each_of_bowl(struct ledger *ledger, int64_t bowl_id, const struct standard *standard,
                         looked_visitor *visit, void *context, struct err *err)
{
    struct query query = query_with(ledger, SQL_FISH_OF_BOWL, bowl_id);
    struct looked_at at = {.reader = begin_looks(ledger, SQL_LOOKS_OF_BOWL, bowl_id, standard),
                           .visit = visit,
                           .context = context,
                           .err = err,
                           .fine = true};
    bool done = replay(&query, standard, &nothing, visit_looked, &at, err) && at.fine;
    bool ended = query_end(&at.reader.query, done ? err : NULL);
    free(at.reader.looks);
    return done && ended;
}

bool fish_looked_at(struct ledger *ledger, int64_t round_id, const char *day, int64_t *ret,
                    struct err *err)
{
    int64_t begin = date_begins(day, ledger->clock.offset_minutes);
    struct query query = query_with(ledger, SQL_LOOKED_AT, round_id);
    query_number(&query, begin);
    query_number(&query, begin + DAY_MS);
    return query_single(&query, ret, err);
}
