#include "support/sheet_bench.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"
#include "support/standard.h"
#include "support/test.h"

struct standard bench_standard(void)
{
    return (struct standard){
        STANDARD("bench-third", "Kikusui", STAGE_THIRD, 5000, 4000),
        ASPECTS(
            BENCH_ASPECTS, [WHITE] = FLOORED_ASPECT("white", "White ground", 4, 2, VERDICT_REJECT),
            [HEAD] = ASPECT("head", "Head", 2), [PATTERN] = ASPECT("pattern", "Pattern", 3),
            [BODY] = FLOORED_ASPECT("body", "Body", 1, 2, VERDICT_HOLD)),
        FAULTS(BENCH_FAULTS, [SPINE] = FAULT("spine", "Bent spine", EFFECT_REJECT),
               [EYE] = DEDUCTION("eye", "Colour over the eye", 1000),
               [WOUND] = FAULT("wound", "Wound", EFFECT_HOLD)),
    };
}

struct bench *bench_new(int expected)
{
    struct err err;
    struct bench *bench = alloc_zeroed(1, sizeof *bench);
    bench->standard = bench_standard();
    fake_port_init(&bench->port, &bench->standard);
    bench->port.expected = expected;
    assert_ok(fake_port_open(&bench->port, &bench->sheet, expected, false, &err), &err);
    return bench;
}

void bench_free(struct bench *bench)
{
    sheet_done(&bench->sheet);
    fake_port_done(&bench->port);
    free(bench);
}

void bench_reopen(struct bench *bench, bool second_look)
{
    struct err err;
    int expected = bench->sheet.expected;
    sheet_done(&bench->sheet);
    assert_ok(fake_port_open(&bench->port, &bench->sheet, expected, second_look, &err), &err);
}

static void run(struct bench *bench, const struct sheet_command *command)
{
    bench->port.now_ms += 1000;
    bench->commands++;
    bench->effects = sheet_do(&bench->sheet, command);
}

void bench_do(struct bench *bench, enum sheet_command_kind kind, int number)
{
    run(bench, &(struct sheet_command){.kind = kind, .number = number});
    if (bench->effects.alert)
        fail_msg("command %d %d: %s", (int)kind, number, bench->sheet.message);
}

void bench_refused(struct bench *bench, enum sheet_command_kind kind, int number, const char *part)
{
    run(bench, &(struct sheet_command){.kind = kind, .number = number});
    assert_true(bench->effects.alert);
    if (strstr(bench->sheet.message, part) == NULL)
        fail_msg("\"%s\" does not say \"%s\"", bench->sheet.message, part);
}

void bench_scan(struct bench *bench, const char *tag)
{
    run(bench, &(struct sheet_command){.kind = COMMAND_TAG, .text = tag});
}

void bench_type(struct bench *bench, const char *text)
{
    while (*text != '\0')
        bench_do(bench, COMMAND_TYPE, (int)utf8_next(&text));
    run(bench, &(struct sheet_command){.kind = COMMAND_ACCEPT});
}

void bench_judge_fish(struct bench *bench, int white)
{
    bench_do(bench, COMMAND_SCORE, white);
    bench_do(bench, COMMAND_TYPICAL, 0);
}

struct fish *bench_current(struct bench *bench)
{
    return &bench->sheet.fish[bench->sheet.current];
}

enum verdict bench_verdict(const struct bench *bench, size_t index)
{
    return sheet_decision(&bench->sheet, index).verdict;
}

static void assert_judgements_equal(const struct judgement *a, const struct judgement *b)
{
    assert_memory_equal(a->scores, b->scores, sizeof a->scores);
    assert_int_equal(a->faults, b->faults);
    assert_int_equal(a->by_hand, b->by_hand);
}

static void assert_fish_equal(const struct fish *a, const struct fish *b)
{
    assert_int_equal(a->id, b->id);
    assert_int_equal(a->bowl_id, b->bowl_id);
    assert_int_equal(a->bowl, b->bowl);
    assert_int_equal(a->number, b->number);
    assert_int_equal(a->length_mm, b->length_mm);
    assert_string_equal(a->tag, b->tag);
    assert_string_equal(a->note, b->note);
    assert_string_equal(a->hand_reason, b->hand_reason);
    assert_int_equal(a->look, b->look);
    assert_int_equal(a->closed, b->closed);
    assert_int_equal(a->sent, b->sent);
    assert_int_equal(a->first_ms, b->first_ms);
    assert_int_equal(a->closed_ms, b->closed_ms);
    assert_int_equal(a->closed_look, b->closed_look);
    assert_judgements_equal(&a->judgement, &b->judgement);
    assert_judgements_equal(&a->earlier, &b->earlier);
}

static void assert_rounds_equal(const struct sheet *a, const struct sheet *b)
{
    assert_int_equal(a->round.places, b->round.places);
    assert_int_equal(a->round.tally.expected, b->round.tally.expected);
    assert_int_equal(a->round.tally.judged, b->round.tally.judged);
    assert_memory_equal(a->round.tally.verdicts, b->round.tally.verdicts,
                        sizeof a->round.tally.verdicts);
    assert_int_equal(a->round.score_count, b->round.score_count);
    assert_int_equal(a->round.closed_count, b->round.closed_count);
    assert_int_equal(a->pace, b->pace);
    assert_int_equal(a->cut.kind, b->cut.kind);
    assert_int_equal(a->cut.score, b->cut.score);
}

void assert_sheets_equal(const struct sheet *a, const struct sheet *b)
{
    assert_int_equal(a->fish_count, b->fish_count);
    for (size_t i = 0; i < a->fish_count; i++)
        assert_fish_equal(&a->fish[i], &b->fish[i]);
    assert_int_equal(a->current, b->current);
    assert_int_equal(a->aspect, b->aspect);
    assert_int_equal(a->full, b->full);
    assert_memory_equal(a->verdicts, b->verdicts, sizeof a->verdicts);
    assert_rounds_equal(a, b);
    assert_int_equal(a->undoable_count, b->undoable_count);
    for (size_t i = 0; i < a->undoable_count; i++) {
        assert_int_equal(a->undoable[i].stroke, b->undoable[i].stroke);
        assert_int_equal(a->undoable[i].fish, b->undoable[i].fish);
    }
}

static void *copy_of(const void *memory, size_t count, size_t size)
{
    void *copy = alloc_zeroed(count + 1, size);
    if (count > 0)
        memcpy(copy, memory, count * size);
    return copy;
}

struct sheet sheet_copy(const struct sheet *sheet)
{
    struct sheet copy = *sheet;
    copy.fish = copy_of(sheet->fish, sheet->fish_count, sizeof *sheet->fish);
    copy.undoable = copy_of(sheet->undoable, sheet->undoable_count, sizeof *sheet->undoable);
    return copy;
}
