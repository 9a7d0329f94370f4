#include "cull_sample.h"
#include "senbetsu/print/day.h"
#include "support/source.h"
#include "support/test.h"

enum { ROUNDS = 3 };

static struct lot_news news[] = {
    {.day = "2026-11-05",
     .spawning = "K26-1",
     .lot = "west",
     .kind = EVENT_DEAD,
     .fish = {12, METHOD_UNSAID, 0},
     .target = "",
     .pond = "",
     .note = "cold night"},
    {.day = "2026-11-05",
     .spawning = "K26-1",
     .lot = "K26-1",
     .kind = EVENT_TRANSFER,
     .fish = {300, METHOD_SCOOPED, 40000},
     .target = "west",
     .pond = "",
     .note = ""},
    {.day = "2026-11-05",
     .spawning = "",
     .lot = "barn",
     .kind = EVENT_MOVE,
     .fish = {.number = NOT_COUNTED},
     .target = "",
     .pond = "House 2",
     .note = ""},
};

static struct reject_reason reasons[] = {
    {"no reason", 12}, {"Bent spine", 55}, {"No pattern", 700}};

/* A remove round that goes on from the day before; its rejects lie in scoops. */
static void tally(struct day_round *round)
{
    round->is_tallied = true;
    round->on_day.kept = (struct count){240, METHOD_COUNTED, 0};
    round->on_day.rejected = (struct count){500, METHOD_SCOOPED, 30000};
    round->on_day.dead = (struct count){2, METHOD_COUNTED, 0};
    round->stands.kept = (struct count){390, METHOD_COUNTED, 0};
    round->stands.rejected = (struct count){767, METHOD_SCOOPED, 30000};
    round->stands.dead = (struct count){5, METHOD_COUNTED, 0};
    round->left = 338;
    round->reasons = reasons;
    round->reason_count = sizeof reasons / sizeof *reasons;
}

/* A judged round of ten fish, a pond thinned by scoops and one that was tallied; what happened to
 * lots. */
static void assert_made(bool csv, bool ascii, const char *file)
{
    struct reject_reason judged[] = {{"score", 1}, {"Bent spine", 3}};
    struct day_round rounds[ROUNDS] = {
        {.spawning = "K26-1",
         .variety = "Kikusui",
         .lot = "K26-1",
         .stage = STAGE_HARVEST,
         .looked_at = 6,
         .by_verdict = {.fish = {[VERDICT_OPEN] = 1,
                                 [VERDICT_KEEP] = 1,
                                 [VERDICT_HOLD] = 1,
                                 [VERDICT_REJECT] = 4},
                        .unseen = 3},
         .not_done = "not done: 6 of 10 judged",
         .outdated = "The pass is out of date: 1 fish judged since.",
         .judged_reasons = judged,
         .judged_reason_count = 2,
         .fates = {.fish = {[FATE_UNDECIDED] = 3, [FATE_POND_GRADE] = 1}}},
        {.spawning = "K26-1",
         .lot = "west",
         .stage = STAGE_SECOND,
         .fates = {.fish = {[FATE_KEPT_APART] = 300, [FATE_PUT_DOWN] = 1380}}},
        {.lot = "both", .variety = "Kikusui", .stage = STAGE_THIRD},
    };
    const struct day_sheet sheet = {.day = "2026-11-05",
                                    .rounds = rounds,
                                    .round_count = ROUNDS,
                                    .news = news,
                                    .news_count = sizeof news / sizeof *news};
    struct page_setup setup = page_default();
    struct text out;
    round_counts_init(&rounds[0].counts);
    round_counts_init(&rounds[1].counts);
    round_counts_init(&rounds[2].counts);
    tally(&rounds[2]);
    rounds[1].counts.in = (struct count){2400, METHOD_SCOOPED, 40000};
    rounds[1].counts.kept = (struct count){700, METHOD_COUNTED, 0};
    rounds[1].counts.rejected = 1680;
    rounds[1].counts.dead = 12;
    text_copy(rounds[1].counts.note, NOTE_SIZE, "cold night");
    rounds[1].first_look = (struct first_look){.looked_at = 20, .good = 14};
    setup.ascii = ascii;
    text_init(&out);
    if (csv)
        day_sheet_csv(&sheet, &out);
    else
        day_sheet_print(&sheet, setup, &out);
    assert_as_in_source(file, out.data);
    text_done(&out);
}

static void prints_the_day(void **state)
{
    (void)state;
    assert_made(false, false, "tests/data/print/day.txt");
}

static void prints_the_day_in_ascii(void **state)
{
    (void)state;
    assert_made(false, true, "tests/data/print/day-ascii.txt");
}

static void writes_csv(void **state)
{
    (void)state;
    assert_made(true, false, "tests/data/print/day.csv");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_the_day),
        cmocka_unit_test(prints_the_day_in_ascii),
        cmocka_unit_test(writes_csv),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
