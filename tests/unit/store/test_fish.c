#include "bench.h"
#include "senbetsu/store/judges.h"

static struct fish load(struct bench *bench, int64_t id)
{
    struct fish fish;
    assert_ok(fish_load(bench->ledger, id, bench_standard(), &fish, &bench->err), &bench->err);
    return fish;
}

static void a_fish_is_found_again(void **state)
{
    struct bench *bench = *state;
    int64_t id = bench_fish(bench, 1, 7);
    assert_int_equal(bench_fish(bench, 1, 7), id);
    assert_int_not_equal(bench_fish(bench, 1, 8), id);
    assert_int_not_equal(bench_fish(bench, 2, 7), id);
}

static void what_was_recorded_adds_up(void **state)
{
    struct bench *bench = *state;
    int64_t id = bench_fish(bench, 3, 7);
    int64_t began = bench->now;
    bench_stroke(bench, id, 1, bench_score("white", 4));
    bench_stroke(bench, id, 1, bench_score("white", 5));
    bench_stroke(bench, id, 1, bench_fault("eye", 1));
    bench_stroke(bench, id, 1, (struct entry){.kind = ENTRY_LENGTH, .number = 61});
    bench_stroke(bench, id, 1, (struct entry){.kind = ENTRY_TAG, .text = "392140000000001"});
    bench_stroke(bench, id, 1, (struct entry){.kind = ENTRY_NOTE, .text = "赤い"});
    bench_stroke(
        bench, id, 1,
        (struct entry){.kind = ENTRY_VERDICT, .number = VERDICT_HOLD, .text = "look at the tail"});
    int64_t closed = bench->now;
    bench_stroke(bench, id, 1, bench_close_entry(VERDICT_HOLD));

    struct fish fish = load(bench, id);
    assert_int_equal(fish.bowl, 3);
    assert_int_equal(fish.number, 7);
    assert_int_equal(fish.judgement.scores[0], 5);
    assert_int_equal(fish.judgement.scores[1], SCORE_NONE);
    assert_int_equal(fish.judgement.faults, 2);
    assert_int_equal(fish.judgement.by_hand, VERDICT_HOLD);
    assert_int_equal(fish.length_mm, 61);
    assert_string_equal(fish.tag, "392140000000001");
    assert_string_equal(fish.note, "赤い");
    assert_string_equal(fish.hand_reason, "look at the tail");
    assert_int_equal(fish.sent, VERDICT_HOLD);
    assert_true(fish.closed);
    assert_true(fish.first_ms == began && fish.closed_ms == closed);
}

static void a_score_is_taken_away(void **state)
{
    struct bench *bench = *state;
    int64_t id = bench_fish(bench, 1, 1);
    bench_stroke(bench, id, 1, bench_score("white", 4));
    bench_stroke(bench, id, 1, bench_score("white", SCORE_NONE));
    assert_int_equal(load(bench, id).judgement.scores[0], SCORE_NONE);
}

static int64_t undo(struct bench *bench, int64_t fish, int64_t stroke)
{
    struct stroke back = {.fish = fish, .look = 1, .at_ms = bench->now, .undoes = stroke};
    assert_ok(stroke_record(bench->ledger, &back, NULL, NULL, &bench->err), &bench->err);
    return back.id;
}

static size_t count_undoable(struct bench *bench, int64_t bowl, int64_t *ret_last)
{
    struct undoable *undoable;
    size_t count;
    assert_ok(
        undoable_of(bench->ledger, bench_round(bench).id, bowl, &undoable, &count, &bench->err),
        &bench->err);
    *ret_last = count > 0 ? undoable[count - 1].stroke : 0;
    free(undoable);
    return count;
}

static void undone_strokes_do_not_count_but_stay(void **state)
{
    struct bench *bench = *state;
    int64_t last;
    int64_t bowl = bench_bowl(bench, 1).id;
    int64_t id = bench_fish(bench, 1, 1);
    int64_t first = bench_stroke(bench, id, 1, bench_score("white", 2));
    int64_t second = bench_stroke(bench, id, 1, bench_score("white", 5));
    assert_int_equal(count_undoable(bench, bowl, &last), 2);
    assert_int_equal(last, second);

    undo(bench, id, second);
    assert_int_equal(load(bench, id).judgement.scores[0], 2);
    assert_int_equal(count_undoable(bench, bowl, &last), 1);
    assert_int_equal(last, first);
    undo(bench, id, first);
    assert_int_equal(load(bench, id).judgement.scores[0], SCORE_NONE);
    assert_int_equal(load(bench, id).look, 0);
    assert_int_equal(count_undoable(bench, bowl, &last), 0);

    /* Said again, it counts again. */
    bench_stroke(bench, id, 1, bench_score("white", 5));
    assert_int_equal(load(bench, id).judgement.scores[0], 5);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM stroke"), 5);
}

static void second_looks_are_undone_by_themselves(void **state)
{
    struct bench *bench = *state;
    int64_t last;
    int64_t id = bench_fish(bench, 1, 1);
    bench_stroke(bench, id, 1, bench_score("white", 3));
    assert_int_equal(count_undoable(bench, 0, &last), 0);
    int64_t again = bench_stroke(bench, id, 2, bench_score("white", 4));
    assert_int_equal(count_undoable(bench, 0, &last), 1);
    assert_int_equal(last, again);
    struct fish fish = load(bench, id);
    assert_int_equal(fish.judgement.scores[0], 4);
    assert_int_equal(fish.earlier.scores[0], 3);
}

static void checks_are_recorded_and_never_decide(void **state)
{
    struct bench *bench = *state;
    int64_t id = bench_fish(bench, 1, 1);
    bench_stroke(bench, id, 1, bench_score("white", 4));
    struct stroke check = {
        .fish = id, .look = 1, .checking = true, .standard = bench->standard, .entry_count = 1};
    check.entries[0] = bench_score("white", 1);
    assert_ok(stroke_record(bench->ledger, &check, NULL, NULL, &bench->err), &bench->err);
    assert_int_equal(load(bench, id).judgement.scores[0], 4);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM stroke WHERE scores IS NOT NULL"), 2);
}

static void fish_come_in_order_of_bowl_and_number(void **state)
{
    static const int numbers[][2] = {{1, 1}, {1, 2}, {1, 10}, {2, 1}, {11, 1}};
    struct bench *bench = *state;
    struct fish *fish;
    size_t count;
    for (size_t i = 5; i-- > 0;)
        bench_stroke(bench, bench_fish(bench, numbers[i][0], numbers[i][1]), 1,
                     bench_score("body", (int)i + 1));
    assert_ok(fish_of_round(bench->ledger, bench_round(bench).id, bench_standard(), &fish, &count,
                            &bench->err),
              &bench->err);
    assert_int_equal(count, 5);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(fish[i].bowl, numbers[i][0]);
        assert_int_equal(fish[i].number, numbers[i][1]);
        assert_int_equal(fish[i].judgement.scores[1], (int)i + 1);
    }
    free(fish);
    assert_ok(fish_of_bowl(bench->ledger, bench_bowl(bench, 1).id, bench_standard(), &fish, &count,
                           &bench->err),
              &bench->err);
    assert_int_equal(count, 3);
    assert_int_equal(fish[2].number, 10);
    free(fish);
}

static void a_tag_is_found_where_it_is_now(void **state)
{
    struct bench *bench = *state;
    struct tag_bearer bearer;
    int64_t round = bench_round(bench).id;
    int64_t id = bench_fish(bench, 2, 9);
    struct entry tag = {.kind = ENTRY_TAG, .text = "392140000000001"};
    struct entry other = {.kind = ENTRY_TAG, .text = "392140000000002"};
    bench_stroke(bench, id, 1, tag);
    assert_ok(tag_bearer_get(bench->ledger, round, tag.text, &bearer, &bench->err), &bench->err);
    assert_true(bearer.fish == id && bearer.bowl == 2 && bearer.number == 9 && bearer.same_round);
    /* From another round it is found too, with where it was. */
    assert_ok(tag_bearer_get(bench->ledger, round + 1, tag.text, &bearer, &bench->err),
              &bench->err);
    assert_true(bearer.fish == id && !bearer.same_round);
    assert_string_equal(bearer.lot, bench_round(bench).spawning);
    assert_int_equal(bearer.stage, bench_round(bench).stage);

    int64_t retagged = bench_stroke(bench, id, 1, other);
    assert_ok(tag_bearer_get(bench->ledger, round, tag.text, &bearer, &bench->err), &bench->err);
    assert_true(bearer.fish == 0);
    undo(bench, id, retagged);
    assert_ok(tag_bearer_get(bench->ledger, round, tag.text, &bearer, &bench->err), &bench->err);
    assert_true(bearer.fish == id);
}

static int64_t white_of(struct bench *bench, int64_t fish)
{
    return load(bench, fish).judgement.scores[0];
}

/* Each stroke keeps the order of the version it was judged by, a score of ten among them. */
static void strokes_are_read_by_their_own_version(void **state)
{
    struct bench *bench = *state;
    struct standard_version version;
    struct standard turned = *bench_standard();
    enum saved saved;
    struct fish fish;
    int64_t id = bench_fish(bench, 1, 1);
    turned.highest = 10;
    turned.aspects[0] = bench_standard()->aspects[1];
    turned.aspects[1] = bench_standard()->aspects[0];
    bench_stroke(bench, id, 1, bench_score("white", 4));
    assert_ok(standard_save(bench->ledger, &turned, ORIGIN_IMPORTED, &version, &saved, &bench->err),
              &bench->err);
    assert_int_equal(white_of(bench, id), 4);
    bench->standard = version.id;
    bench_stroke(bench, id, 1, bench_score("body", 10));
    assert_ok(fish_load(bench->ledger, id, &turned, &fish, &bench->err), &bench->err);
    assert_int_equal(fish.judgement.scores[0], 10);
    assert_int_equal(fish.judgement.scores[1], 4);
}

static void codes_that_the_version_does_not_have_are_refused(void **state)
{
    struct bench *bench = *state;
    struct stroke stroke = {
        .fish = bench_fish(bench, 1, 1), .look = 1, .standard = bench->standard, .entry_count = 1};
    stroke.entries[0] = bench_score("lustre", 4);
    assert_says(stroke_record(bench->ledger, &stroke, NULL, NULL, &bench->err), &bench->err,
                "The standard has no aspect lustre.");
    stroke.entries[0] = bench_fault("tail", 1);
    assert_says(stroke_record(bench->ledger, &stroke, NULL, NULL, &bench->err), &bench->err,
                "The standard has no fault tail.");
}

static void strokes_of_unknown_fish_are_refused_whole(void **state)
{
    struct bench *bench = *state;
    struct stroke stroke = {
        .fish = 12345, .look = 1, .standard = bench->standard, .entry_count = 1};
    stroke.entries[0] = bench_score("white", 4);
    assert_says(stroke_record(bench->ledger, &stroke, NULL, NULL, &bench->err), &bench->err,
                "record that this one belongs to is missing");
    assert_int_equal(stroke.id, 0);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM stroke"), 0);
    assert_says(
        fish_load(bench->ledger, 12345, bench_standard(), &(struct fish){.id = 0}, &bench->err),
        &bench->err, "no such fish");
}

static void say(struct bench *bench, int64_t fish, int64_t judge, int look, bool checking,
                struct entry entry)
{
    struct stroke stroke = {.fish = fish,
                            .judge = judge,
                            .look = look,
                            .checking = checking,
                            .at_ms = bench->now,
                            .standard = bench->standard,
                            .entry_count = 1,
                            .entries = {entry}};
    assert_ok(stroke_record(bench->ledger, &stroke, NULL, NULL, &bench->err), &bench->err);
    bench->now += 1000;
}

struct noted_looks {
    struct look looks[8];
    size_t count;
    int fish, without; /* visited; of these never looked at */
};

static void note_looks(void *context, const struct fish *fish, const struct look *looks,
                       size_t count)
{
    struct noted_looks *noted = context;
    noted->fish++;
    noted->without += count == 0;
    for (size_t i = 0; i < count; i++) {
        assert_true(looks[i].fish == fish->id);
        assert_true(noted->count < sizeof noted->looks / sizeof *noted->looks);
        noted->looks[noted->count++] = looks[i];
    }
}

static void each_look_and_each_check_is_summed_by_itself(void **state)
{
    enum { FIRST, SECOND, CHECK_OF_AKI, CHECK_OF_MIKA, LOOKS };
    struct bench *bench = *state;
    struct noted_looks noted = {.fish = 0};
    const struct look *looks = noted.looks;
    int64_t aki;
    int64_t mika = 0;
    int64_t fish = bench_fish(bench, 1, 1);
    assert_ok(judge_named(bench->ledger, "Aki", &aki, &bench->err) &&
                  judge_named(bench->ledger, "Mika", &mika, &bench->err),
              &bench->err);
    say(bench, fish, aki, 1, false, bench_score("white", 2));
    say(bench, fish, mika, 1, false, bench_score("body", 3)); /* takes over */
    say(bench, fish, mika, 1, true, bench_score("white", 5));
    say(bench, fish, mika, 1, true, (struct entry){.kind = ENTRY_LENGTH, .number = 70});
    say(bench, fish, aki, 1, true, bench_score("white", 1));
    bench->now += INT64_C(86400000);
    say(bench, fish, aki, 2, false, bench_score("white", 4));
    say(bench, fish, aki, 2, false, (struct entry){.kind = ENTRY_LENGTH, .number = 64});
    bench_fish(bench, 1, 2); /* never looked at */

    assert_ok(looked_each_of_bowl(bench->ledger, load(bench, fish).bowl_id, bench_standard(),
                                  note_looks, &noted, &bench->err),
              &bench->err);
    assert_int_equal(noted.fish, 2);
    assert_int_equal(noted.without, 1);
    assert_int_equal(noted.count, LOOKS);
    assert_int_equal(looks[FIRST].look, 1);
    assert_string_equal(looks[FIRST].judge_name, "Mika");
    assert_string_equal(looks[FIRST].day, "2026-07-26");
    assert_int_equal(looks[FIRST].summed.judgement.scores[0], 2);
    assert_int_equal(looks[FIRST].summed.judgement.scores[1], 3);
    assert_int_equal(looks[FIRST].summed.length_mm, 64); /* the fish's */

    assert_int_equal(looks[SECOND].look, 2);
    assert_string_equal(looks[SECOND].day, "2026-07-27");
    assert_int_equal(looks[SECOND].summed.judgement.scores[0], 4);
    assert_int_equal(looks[SECOND].summed.judgement.scores[1], SCORE_NONE);

    assert_true(looks[CHECK_OF_AKI].checking && looks[CHECK_OF_MIKA].checking);
    assert_string_equal(looks[CHECK_OF_AKI].judge_name, "Aki");
    assert_int_equal(looks[CHECK_OF_AKI].summed.judgement.scores[0], 1);
    assert_int_equal(looks[CHECK_OF_AKI].summed.length_mm, 64);
    assert_int_equal(looks[CHECK_OF_MIKA].summed.judgement.scores[0], 5);
    assert_int_equal(looks[CHECK_OF_MIKA].summed.length_mm, 70); /* its own */
}

static void note_judged(void *context, const struct judged_fish *fish)
{
    struct judged_fish *noted = context;
    noted[fish->number] = *fish;
}

/* What the ledger keeps ready of a fish is what its strokes come to. */
static void what_decides_is_kept_ready(void **state)
{
    struct bench *bench = *state;
    struct judged_fish noted[4] = {{.id = 0}};
    int64_t first = bench_fish(bench, 1, 1), second = bench_fish(bench, 1, 2);
    int64_t third = bench_fish(bench, 1, 3);
    bench_stroke(bench, first, 1, bench_score("white", 4));
    bench_stroke(bench, first, 1, bench_score("body", 3));
    bench_stroke(bench, first, 1, bench_fault("spine", 1));
    bench_stroke(bench, first, 1,
                 (struct entry){.kind = ENTRY_VERDICT, .number = VERDICT_KEEP, .text = "tie"});
    for (int i = 0; i < bench_standard()->aspect_count; i++)
        bench_stroke(bench, third, 1, bench_score(bench_standard()->aspects[i].code, 4));
    assert_ok(judged_each_of_round(bench->ledger, bench_round(bench).id, bench_standard(),
                                   note_judged, noted, &bench->err),
              &bench->err);
    struct fish fish = load(bench, first);
    struct judgement deciding = fish_deciding(&fish, bench_standard());
    assert_true(noted[1].id == first);
    assert_int_equal(noted[1].bowl, 1);
    assert_int_equal(noted[1].stands, VERDICT_KEEP);
    assert_memory_equal(noted[1].judgement.scores, deciding.scores, sizeof deciding.scores);
    assert_true(noted[1].judgement.faults == deciding.faults);
    assert_int_equal(noted[1].judgement.by_hand, VERDICT_KEEP);
    assert_true(noted[2].id == second);
    assert_int_equal(noted[2].judgement.scores[0], SCORE_NONE);
    assert_int_equal(noted[2].score, NOT_SCORED);
    fish = load(bench, third);
    deciding = fish_deciding(&fish, bench_standard());
    assert_true(noted[3].score == judgement_decide(bench_standard(), &deciding).score);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_fish_is_found_again),
        on_stocked_bench(what_was_recorded_adds_up),
        on_stocked_bench(a_score_is_taken_away),
        on_stocked_bench(undone_strokes_do_not_count_but_stay),
        on_stocked_bench(second_looks_are_undone_by_themselves),
        on_stocked_bench(checks_are_recorded_and_never_decide),
        on_stocked_bench(fish_come_in_order_of_bowl_and_number),
        on_stocked_bench(a_tag_is_found_where_it_is_now),
        on_stocked_bench(strokes_are_read_by_their_own_version),
        on_stocked_bench(codes_that_the_version_does_not_have_are_refused),
        on_stocked_bench(strokes_of_unknown_fish_are_refused_whole),
        on_stocked_bench(each_look_and_each_check_is_summed_by_itself),
        on_stocked_bench(what_decides_is_kept_ready),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
