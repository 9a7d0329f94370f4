#include "private.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/rounds.h"
#include "support/small_ledger.h"
#include "support/test.h"

/* A port into the small ledger's bowl. */
static struct sheet_port open_port(struct small_ledger *small, struct ledger_port *port)
{
    *port = (struct ledger_port){.ledger = small->ledger,
                                 .standard = &small->standard.standard,
                                 .version = small->standard.id,
                                 .round_id = small->round.id,
                                 .judge = small->judge};
    return ledger_port_for_sheet(port);
}

static struct stroke stroke_of(const struct small_ledger *small, struct entry first,
                               struct entry second)
{
    return (struct stroke){.judge = small->judge,
                           .look = 1,
                           .at_ms = small->now,
                           .entry_count = second.kind == ENTRY_CLOSE ? 2 : 1,
                           .entries = {first, second}};
}

static struct sheet_place place_at(const struct small_ledger *small, int number)
{
    return (struct sheet_place){.bowl_id = small->bowl.id, .number = number, .aspect = "white"};
}

/* The stroke alone; `fish` is how it is after it. */
static bool record_one(struct sheet_port port, struct fish *fish, struct stroke *stroke,
                       const struct sheet_place *place, struct err *err)
{
    struct sheet_change change = {.fish = fish, .stroke = stroke};
    return port.record(port.context, &change, 1, place, err);
}

/* A knock-out on a fish that is not in the ledger yet. */
static int64_t reject(struct small_ledger *small, struct sheet_port port, struct fish *fish)
{
    struct stroke stroke =
        stroke_of(small, (struct entry){.kind = ENTRY_FAULT, .what = "spine", .number = 1},
                  (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_REJECT});
    struct sheet_place place = place_at(small, fish->number + 1);
    struct err err;
    fish_apply(fish, &small->standard.standard, 1, small->now, &stroke.entries[0]);
    fish_apply(fish, &small->standard.standard, 1, small->now, &stroke.entries[1]);
    assert_ok(record_one(port, fish, &stroke, &place, &err), &err);
    assert_true(fish->id > 0);
    assert_true(stroke.id > 0);
    assert_true(stroke.fish == fish->id);
    return stroke.id;
}

/* One score, recorded from the picture that `fish` is. */
static bool score(struct small_ledger *small, struct sheet_port port, struct fish *fish,
                  const struct entry *entry, struct err *err)
{
    struct stroke stroke = stroke_of(small, *entry, (struct entry){0});
    struct sheet_place place = place_at(small, fish->number);
    fish_apply(fish, &small->standard.standard, stroke.look, stroke.at_ms, entry);
    return record_one(port, fish, &stroke, &place, err);
}

static void test_a_recorded_stroke_comes_back(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish fish, again;
    struct err err;
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    reject(small, port, &fish);
    assert_ok(fish_load(small->ledger, fish.id, context.standard, &again, &err), &err);
    assert_int_equal(again.look, 1);
    assert_int_equal(again.judgement.faults, 1);
    assert_true(again.closed);
    assert_int_equal(again.sent, VERDICT_REJECT);
}

/* What an undo would leave is asked without recording one. */
static void test_a_fish_is_summed_without_a_stroke(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish fish, without;
    struct undoable *undoable;
    size_t count;
    struct err err;
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    int64_t stroke = reject(small, port, &fish);
    without = fish;
    assert_ok(port.reload(port.context, &stroke, 1, NULL, &without, &err), &err);
    assert_int_equal(without.judgement.faults, 0);
    assert_false(without.closed);
    assert_ok(fish_load(small->ledger, fish.id, context.standard, &fish, &err), &err);
    assert_int_equal(fish.judgement.faults, 1);
    assert_ok(undoable_of(small->ledger, small->round.id, small->bowl.id, &undoable, &count, &err),
              &err);
    assert_int_equal(count, 1);
    assert_true(undoable[0].stroke == stroke);
    free(undoable);
}

/* Several strokes of two fish are taken back and a tag is given in one transaction, or nothing is.
 */
static void test_a_reading_is_one_transaction(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    const struct entry body = {.kind = ENTRY_SCORE, .what = "body", .number = 3};
    struct fish first, second;
    struct err err;
    struct undoable *undoable;
    size_t count;
    fish_init(&first, 0, small->bowl.id, 1, 1);
    fish_init(&second, 0, small->bowl.id, 1, 2);
    reject(small, port, &first);
    assert_ok(score(small, port, &second, &body, &err), &err);
    assert_ok(undoable_of(small->ledger, small->round.id, small->bowl.id, &undoable, &count, &err),
              &err);
    assert_int_equal(count, 2);
    int64_t strokes[] = {undoable[0].stroke, undoable[1].stroke};
    free(undoable);
    struct stroke tag = stroke_of(
        small, (struct entry){.kind = ENTRY_TAG, .text = "392123456789012"}, (struct entry){0});
    assert_ok(port.reload(port.context, &strokes[0], 1, NULL, &first, &err), &err);
    assert_ok(port.reload(port.context, &strokes[1], 1, NULL, &second, &err), &err);
    fish_apply(&first, context.standard, 1, small->now, &tag.entries[0]);
    struct sheet_change changes[] = {
        {.fish = &first,
         .undoes = &strokes[0],
         .undo_count = 1,
         .at_ms = small->now,
         .stroke = &tag},
        {.fish = &second, .undoes = &strokes[1], .undo_count = 1, .at_ms = small->now}};
    struct sheet_place place = place_at(small, 1), nowhere = place;
    struct fish found;
    nowhere.bowl_id = 12345;
    assert_false(port.record(port.context, changes, 2, &nowhere, &err));
    assert_ok(fish_load(small->ledger, first.id, context.standard, &found, &err), &err);
    assert_int_equal(found.judgement.faults, 1);
    assert_string_equal(found.tag, "");
    assert_ok(port.record(port.context, changes, 2, &place, &err), &err);
    assert_ok(fish_load(small->ledger, first.id, context.standard, &found, &err), &err);
    assert_int_equal(found.judgement.faults, 0);
    assert_int_equal(found.stands, VERDICT_OPEN);
    assert_string_equal(found.tag, "392123456789012");
    assert_ok(fish_load(small->ledger, second.id, context.standard, &found, &err), &err);
    assert_int_equal(found.judgement.scores[0], SCORE_NONE);
}

static void test_the_place_is_kept_with_the_stroke(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish fish;
    struct place place;
    struct err err;
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    reject(small, port, &fish);
    ledger_close(small->ledger);
    small->ledger = small_ledger_open(small);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_true(place.in_sheet);
    assert_false(place.second_look);
    assert_true(place.round_id == small->round.id);
    assert_true(place.bowl_id == small->bowl.id);
    assert_int_equal(place.number, 2);
    assert_string_equal(place.aspect, "white");
}

static void test_moving_keeps_the_place_alone(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct sheet_place at = place_at(small, 4);
    struct place place;
    struct sheet_round round;
    struct err err;
    assert_ok(port.move(port.context, &at, &err), &err);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_int_equal(place.number, 4);
    assert_ok(port.round(port.context, &round, &err), &err);
    assert_int_equal(round.tally.judged, 0);
    ledger_port_done(&context);
}

static void test_the_round_is_counted(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct sheet_round round;
    struct fish fish;
    struct err err;
    const struct standard *standard = context.standard;
    struct stroke stroke = {.judge = small->judge, .look = 1, .at_ms = small->now};
    struct sheet_place place = place_at(small, 2);
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    for (int i = 0; i < standard->aspect_count; i++) {
        struct entry *entry = &stroke.entries[stroke.entry_count++];
        *entry = (struct entry){.kind = ENTRY_SCORE, .number = standard->highest};
        text_copy(entry->what, sizeof entry->what, standard->aspects[i].code);
    }
    stroke.entries[stroke.entry_count++] =
        (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_KEEP};
    for (int i = 0; i < stroke.entry_count; i++)
        fish_apply(&fish, standard, 1, small->now, &stroke.entries[i]);
    assert_ok(record_one(port, &fish, &stroke, &place, &err), &err);
    fish_init(&fish, 0, small->bowl.id, 1, 2);
    small->now += 60 * 1000;
    reject(small, port, &fish);
    assert_ok(port.round(port.context, &round, &err), &err);
    assert_int_equal(round.places, -1);
    assert_int_equal(round.tally.expected, 5);
    assert_int_equal(round.tally.judged, 2);
    assert_int_equal(round.tally.verdicts[VERDICT_KEEP], 1);
    assert_int_equal(round.tally.verdicts[VERDICT_REJECT], 1);
    assert_int_equal(round.score_count, 1);
    assert_true(round.scores[0] == 100 * score_unit(standard));
    assert_int_equal(round.closed_count, 2);
    assert_true(round.closed_ms[1] - round.closed_ms[0] == 60 * 1000);
    ledger_port_done(&context);
}

static void test_a_tag_names_its_bearer(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish fish;
    struct err err;
    struct stroke stroke = stroke_of(
        small, (struct entry){.kind = ENTRY_TAG, .text = "392123456789012"}, (struct entry){0});
    struct sheet_place place = place_at(small, 3);
    struct tag_bearer bearer;
    int64_t bowl_id;
    assert_ok(port.tag_bearer(port.context, "392123456789012", &bearer, &err), &err);
    assert_true(bearer.fish == 0);
    fish_init(&fish, 0, small->bowl.id, 1, 3);
    fish_apply(&fish, context.standard, 1, small->now, &stroke.entries[0]);
    assert_ok(record_one(port, &fish, &stroke, &place, &err), &err);
    assert_ok(port.tag_bearer(port.context, "392123456789012", &bearer, &err), &err);
    assert_int_equal(bearer.bowl, 1);
    assert_int_equal(bearer.number, 3);
    assert_true(bearer.fish == fish.id && bearer.same_round && bearer.same_spawning);
    assert_ok(port.find_fish(port.context, 1, 3, &bowl_id, &err), &err);
    assert_true(bowl_id == small->bowl.id);
    assert_ok(port.find_fish(port.context, 1, 4, &bowl_id, &err), &err);
    assert_true(bowl_id == 0);
}

/* A stroke that the ledger refuses leaves no fish behind and nothing changed in the sheet's hands.
 */
static void test_a_failure_leaves_nothing(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish fish, *fishes;
    struct stroke stroke = stroke_of(
        small, (struct entry){.kind = ENTRY_SCORE, .what = "body", .number = 3}, (struct entry){0});
    struct sheet_place place = place_at(small, 1);
    struct err err;
    size_t count;
    place.bowl_id = 12345; /* there is no such bowl */
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    assert_false(record_one(port, &fish, &stroke, &place, &err));
    assert_ok(fish_of_bowl(small->ledger, small->bowl.id, context.standard, &fishes, &count, &err),
              &err);
    assert_int_equal(count, 0);
    free(fishes);
}

/* Two programs have the same bowl open, and both hold its first fish. */
static void test_a_fish_of_somebody_else_is_not_judged_blindly(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish mine, theirs;
    struct stroke stroke = stroke_of(
        small, (struct entry){.kind = ENTRY_SCORE, .what = "body", .number = 3}, (struct entry){0});
    struct sheet_place place = place_at(small, 1);
    struct err err;
    fish_init(&theirs, 0, small->bowl.id, 1, 1);
    mine = theirs;
    reject(small, port, &theirs);
    assert_says(record_one(port, &mine, &stroke, &place, &err), &err,
                "Somebody else has judged fish 1");
    assert_ok(fish_load(small->ledger, theirs.id, context.standard, &theirs, &err), &err);
    assert_int_equal(theirs.judgement.scores[0], SCORE_NONE);
}

/* Both have a fish in front that is in the ledger, and only one of them knows of the newest score.
 */
static void test_a_known_fish_changed_elsewhere_is_not_judged_blindly(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    const struct entry body = {.kind = ENTRY_SCORE, .what = "body", .number = 3};
    const struct entry white = {.kind = ENTRY_SCORE, .what = "white", .number = 4};
    struct fish mine, theirs;
    struct err err;
    fish_init(&theirs, 0, small->bowl.id, 1, 1);
    assert_ok(score(small, port, &theirs, &body, &err), &err);
    mine = theirs;
    assert_ok(score(small, port, &theirs, &white, &err), &err);
    assert_says(score(small, port, &mine, &body, &err), &err, "Somebody else has judged fish 1");
    assert_ok(fish_load(small->ledger, theirs.id, context.standard, &mine, &err), &err);
    assert_ok(score(small, port, &mine, &body, &err), &err);
}

/* The empty second look that an undo leaves stands on the sheet, and not in the ledger. */
static void test_a_second_look_can_be_taken_back(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    const struct entry body = {.kind = ENTRY_SCORE, .what = "body", .number = 3};
    struct stroke again = stroke_of(small, body, (struct entry){0});
    struct sheet_place place = place_at(small, 1);
    struct fish fish;
    struct err err;
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    assert_ok(score(small, port, &fish, &body, &err), &err);
    again.look = 2;
    fish_apply(&fish, context.standard, again.look, again.at_ms, &body);
    assert_ok(record_one(port, &fish, &again, &place, &err), &err);

    struct sheet_change undo = {
        .fish = &fish, .undoes = &again.id, .undo_count = 1, .at_ms = small->now};
    assert_ok(port.reload(port.context, &again.id, 1, NULL, &fish, &err), &err);
    assert_int_equal(fish.look, 1);
    fish_begin_look(&fish, 2, fish.first_ms);
    assert_ok(port.record(port.context, &undo, 1, &place, &err), &err);
}

/* What SQLite does for a key, in steps of its machine. */
static int64_t steps_taken(struct small_ledger *small)
{
    int64_t steps = 0;
    for (sqlite3_stmt *statement = NULL;
         (statement = sqlite3_next_stmt(small->ledger->db, statement)) != NULL;)
        steps += sqlite3_stmt_status(statement, SQLITE_STMTSTATUS_VM_STEP, 1);
    return steps;
}

static int64_t score_over_and_over(struct small_ledger *small, struct sheet_port port,
                                   struct fish *fish, int times)
{
    struct err err;
    for (int i = 0; i < times; i++) {
        const struct entry body = {.kind = ENTRY_SCORE, .what = "body", .number = 2 + i % 2};
        steps_taken(small);
        assert_ok(score(small, port, fish, &body, &err), &err);
    }
    return steps_taken(small);
}

static void test_a_key_costs_the_same_however_often_a_fish_was_judged(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct fish fish, likely, undone;
    struct err err;
    fish_init(&fish, 0, small->bowl.id, 1, 1);
    int64_t few = score_over_and_over(small, port, &fish, 10);
    likely = fish;
    assert_int_equal(score_over_and_over(small, port, &fish, 500), few);
    likely = undone = fish;
    const int64_t none = 1;
    steps_taken(small);
    assert_ok(port.reload(port.context, &none, 1, &likely, &undone, &err), &err);
    assert_true(steps_taken(small) < few);
    assert_true(undone.mark == fish.mark);
}

/* What was likely is not what somebody else has left. */
static void test_an_undo_sees_what_others_did(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    const struct entry body = {.kind = ENTRY_SCORE, .what = "body", .number = 3};
    const struct entry white = {.kind = ENTRY_SCORE, .what = "white", .number = 4};
    struct fish mine, theirs, likely;
    struct stroke stroke;
    struct err err;
    fish_init(&mine, 0, small->bowl.id, 1, 1);
    assert_ok(score(small, port, &mine, &body, &err), &err);
    theirs = likely = mine;
    stroke = stroke_of(small, body, (struct entry){0});
    struct sheet_place place = place_at(small, 1);
    assert_ok(record_one(port, &mine, &stroke, &place, &err), &err);
    theirs.mark = 0;
    assert_ok(score(small, port, &theirs, &white, &err), &err);
    assert_ok(port.reload(port.context, &stroke.id, 1, &likely, &mine, &err), &err);
    assert_int_equal(mine.judgement.scores[1], 4);
    assert_true(mine.mark == theirs.mark);
}

static void assert_numbers_as_read_anew(struct small_ledger *small, struct sheet_port port)
{
    struct ledger_port other;
    struct sheet_port anew = open_port(small, &other);
    struct sheet_round kept, read;
    struct err err;
    assert_ok(port.round(port.context, &kept, &err), &err);
    assert_ok(anew.round(anew.context, &read, &err), &err);
    assert_int_equal(kept.score_count, read.score_count);
    assert_int_equal(kept.closed_count, read.closed_count);
    for (size_t i = 0; i < read.score_count; i++)
        assert_true(kept.scores[i] == read.scores[i]);
    for (size_t i = 0; i < read.closed_count; i++)
        assert_true(kept.closed_ms[i] == read.closed_ms[i]);
    ledger_port_done(&other);
}

/* Scores both aspects, closes. */
static int64_t close_one(struct small_ledger *small, struct sheet_port port, struct fish *fish,
                         int body, int white)
{
    struct stroke stroke = {.judge = small->judge,
                            .look = 1,
                            .at_ms = small->now += 1000,
                            .entry_count = 3,
                            .entries = {{.kind = ENTRY_SCORE, .what = "body", .number = body},
                                        {.kind = ENTRY_SCORE, .what = "white", .number = white},
                                        {.kind = ENTRY_CLOSE, .number = VERDICT_KEEP}}};
    struct sheet_place place = place_at(small, fish->number);
    struct err err;
    for (int i = 0; i < stroke.entry_count; i++)
        fish_apply(fish, &small->standard.standard, 1, small->now, &stroke.entries[i]);
    assert_ok(record_one(port, fish, &stroke, &place, &err), &err);
    return stroke.id;
}

static void test_the_numbers_of_the_round_follow_each_key(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct sheet_place place = place_at(small, 1);
    struct sheet_round round;
    struct fish fish;
    struct err err;
    int64_t few = 0;
    assert_numbers_as_read_anew(small, port);
    for (int i = 1; i <= 40; i++) {
        fish_init(&fish, 0, small->bowl.id, 1, i);
        int64_t stroke = close_one(small, port, &fish, 3 + i % 3, 1 + i % 5);
        if (i % 3 == 0)
            close_one(small, port, &fish, 5, 1 + i % 4);
        if (i % 4 == 0) {
            struct sheet_change undo = {
                .fish = &fish, .undoes = &stroke, .undo_count = 1, .at_ms = small->now};
            assert_ok(port.reload(port.context, &stroke, 1, NULL, &fish, &err), &err);
            assert_ok(port.record(port.context, &undo, 1, &place, &err), &err);
        }
        steps_taken(small);
        assert_ok(port.round(port.context, &round, &err), &err);
        int64_t steps = steps_taken(small);
        if (i == 10)
            few = steps;
        if (i > 10)
            assert_int_equal(steps, few);
        assert_numbers_as_read_anew(small, port);
    }
    /* A transaction of somebody else's. */
    assert_ok(fish_load(small->ledger, fish.id, context.standard, &fish, &err), &err);
    struct ledger_port other;
    close_one(small, open_port(small, &other), &fish, 1, 1);
    assert_numbers_as_read_anew(small, port);
    ledger_port_done(&context);
}

static void add_bowls(struct small_ledger *small, int first, int last)
{
    struct bowl bowl;
    struct err err;
    assert_ok(transaction_begin(small->ledger, &err), &err);
    for (int number = first; number <= last; number++)
        assert_ok(bowl_begin(small->ledger, small->round.id, number, 7, "2026-07-26", &bowl, &err),
                  &err);
    assert_ok(transaction_commit(small->ledger, &err), &err);
    char *failed = NULL;
    sqlite3_exec(small->ledger->db,
                 "UPDATE bowl SET first_ms = 1000 + number, last_ms = 1000 + number"
                 " WHERE first_ms IS NULL AND number > 1",
                 NULL, NULL, &failed);
    assert_null(failed);
}

/* The steps of closing a new fish, of taking that back, and of the round read after each. */
static void close_and_undo(struct small_ledger *small, int number, int64_t ret_steps[2])
{
    struct ledger_port context;
    struct sheet_port port = open_port(small, &context);
    struct sheet_place place = place_at(small, number);
    struct sheet_round round;
    struct fish fish;
    struct err err;
    fish_init(&fish, 0, small->bowl.id, 1, number);
    assert_ok(port.round(port.context, &round, &err), &err);
    steps_taken(small);
    int64_t stroke = close_one(small, port, &fish, 4, 4);
    assert_ok(port.round(port.context, &round, &err), &err);
    ret_steps[0] = steps_taken(small);
    struct sheet_change undo = {
        .fish = &fish, .undoes = &stroke, .undo_count = 1, .at_ms = small->now};
    assert_ok(port.reload(port.context, &stroke, 1, NULL, &fish, &err), &err);
    assert_ok(port.record(port.context, &undo, 1, &place, &err), &err);
    assert_ok(port.round(port.context, &round, &err), &err);
    ret_steps[1] = steps_taken(small);
    ledger_port_done(&context);
}

/* 5 = the steps of a bowl that a sum over bowls would take, and fewer. */
static void test_closing_and_undo_cost_the_same_however_many_bowls(void **state)
{
    struct small_ledger *small = *state;
    int64_t few[2], many[2];
    add_bowls(small, 2, 10);
    close_and_undo(small, 1, few);
    add_bowls(small, 11, 500);
    close_and_undo(small, 2, many);
    for (int i = 0; i < 2; i++)
        assert_in_range(many[i], 1, few[i] + 490 / 5);
}

static void test_a_day_begins_at_local_midnight(void **state)
{
    (void)state;
    const int64_t noon = 1784376000000, hour = 60 * 60 * 1000;
    assert_true(ledger_port_midnight(noon, 0) == noon - 12 * hour);
    assert_true(ledger_port_midnight(noon, 9 * 60) == noon - 21 * hour);
    assert_true(ledger_port_midnight(noon, -5 * 60) == noon - 7 * hour);
    assert_true(ledger_port_midnight(-hour, 0) == -24 * hour);
}

#define with_ledger(test)                                                                          \
    cmocka_unit_test_setup_teardown(test, small_ledger_setup, small_ledger_teardown)

static struct tally_port open_tally_port(struct small_ledger *small, struct ledger_port *port)
{
    *port = (struct ledger_port){
        .ledger = small->ledger, .round_id = small->round.id, .judge = small->judge};
    return ledger_port_for_tally(port);
}

static struct tally_now read_now(struct tally_port port)
{
    struct tally_now now;
    struct err err;
    assert_ok(port.read(port.context, &now, &err), &err);
    return now;
}

static void test_keys_come_back_with_the_place(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct tally_port port = open_tally_port(small, &context);
    const int64_t samples[] = {48, 52};
    struct tally_mark mark = {.kind = TALLY_REJECT, .reason = "spine"};
    struct place place;
    struct err err;
    assert_true(scoop_measure(samples, 2, &mark.scoop));
    assert_ok(port.measure(port.context, &mark.scoop, true, &err), &err);
    assert_ok(port.record(port.context, &mark, true, &err), &err);
    struct tally_now now = read_now(port);
    assert_int_equal(now.line_count, 1);
    assert_string_equal(now.lines[0].mark.reason, "spine");
    assert_int_equal(tally_mark_fish(&now.lines[0].mark), 50);
    assert_int_equal(now.scoop.id, mark.scoop.id);
    assert_true(now.any_last);
    assert_string_equal(now.last.reason, "spine");
    assert_int_equal(now.last.scoop.id, mark.scoop.id);
    tally_now_done(&now);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_true(place.in_sheet);
    assert_int_equal(place.round_id, small->round.id);
    assert_int_equal(place.bowl_id, 0);
    assert_true(round_place_is(&place, AT_SCOOPS));
}

static void test_undo_and_move_write_the_place(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct tally_port port = open_tally_port(small, &context);
    const struct tally_mark mark = {.kind = TALLY_KEEP};
    struct tally_mark undone;
    struct place place;
    struct err err;
    assert_ok(port.record(port.context, &mark, true, &err), &err);
    assert_ok(port.undo(port.context, false, &undone, &err), &err);
    assert_int_equal(undone.kind, TALLY_KEEP);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_false(round_place_is(&place, AT_SCOOPS));
    struct tally_now now = read_now(port);
    assert_int_equal(now.line_count, 0);
    assert_false(now.any_last);
    tally_now_done(&now);
    assert_ok(port.move(port.context, true, &err), &err);
    assert_ok(place_get(small->ledger, small->judge, &place, &err), &err);
    assert_true(round_place_is(&place, AT_SCOOPS));
    assert_says(port.undo(port.context, true, &undone, &err), &err, "no key left");
}

/* Yesterday's keys count among the numbers and not in today's pace. */
static void test_pace_is_of_today(void **state)
{
    struct small_ledger *small = *state;
    struct ledger_port context;
    struct tally_port port = open_tally_port(small, &context);
    const struct tally_mark mark = {.kind = TALLY_KEEP};
    struct err err;
    for (int i = 0; i < 32; i++) {
        small->now += 2000;
        assert_ok(port.record(port.context, &mark, false, &err), &err);
    }
    struct tally_now now = read_now(port);
    assert_int_equal(tally_pace_per_hour(&now.pace), 1800);
    tally_now_done(&now);
    small->now += DAY_MS;
    now = read_now(port);
    assert_int_equal(tally_pace_per_hour(&now.pace), 0);
    assert_int_equal(now.lines[0].times, 32);
    tally_now_done(&now);
}

static void test_a_place_at_the_tally_comes_back(void **state)
{
    (void)state;
    struct place place = round_place(7, 9, AT_SCOOPS | AT_FIRST_LOOK, true);
    assert_int_equal(place.judge, 7);
    assert_int_equal(place.round_id, 9);
    assert_true(place.in_sheet);
    assert_true(round_place_is(&place, AT_SCOOPS));
    assert_true(round_place_is(&place, AT_FIRST_LOOK));
    place = round_place(7, 9, 0, false);
    assert_false(round_place_is(&place, AT_SCOOPS));
    assert_false(round_place_is(&place, AT_FIRST_LOOK));
}

/* A fish's number is none of it. */
static void test_a_place_in_a_bowl_is_another(void **state)
{
    (void)state;
    const struct place fish = {.round_id = 9, .bowl_id = 4, .number = 3};
    const struct place held = {.round_id = 9, .number = 3, .second_look = true};
    assert_false(round_place_is(&fish, AT_SCOOPS | AT_FIRST_LOOK));
    assert_false(round_place_is(&held, AT_SCOOPS | AT_FIRST_LOOK));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        with_ledger(test_a_recorded_stroke_comes_back),
        with_ledger(test_a_fish_is_summed_without_a_stroke),
        with_ledger(test_a_reading_is_one_transaction),
        with_ledger(test_the_place_is_kept_with_the_stroke),
        with_ledger(test_moving_keeps_the_place_alone),
        with_ledger(test_the_round_is_counted),
        with_ledger(test_a_tag_names_its_bearer),
        with_ledger(test_a_failure_leaves_nothing),
        with_ledger(test_a_fish_of_somebody_else_is_not_judged_blindly),
        with_ledger(test_a_known_fish_changed_elsewhere_is_not_judged_blindly),
        with_ledger(test_a_second_look_can_be_taken_back),
        with_ledger(test_a_key_costs_the_same_however_often_a_fish_was_judged),
        with_ledger(test_an_undo_sees_what_others_did),
        with_ledger(test_the_numbers_of_the_round_follow_each_key),
        with_ledger(test_closing_and_undo_cost_the_same_however_many_bowls),
        cmocka_unit_test(test_a_day_begins_at_local_midnight),
        with_ledger(test_keys_come_back_with_the_place),
        with_ledger(test_undo_and_move_write_the_place),
        with_ledger(test_pace_is_of_today),
        cmocka_unit_test(test_a_place_at_the_tally_comes_back),
        cmocka_unit_test(test_a_place_in_a_bowl_is_another),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
