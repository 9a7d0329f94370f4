#include "senbetsu/print/season.h"
#include "support/source.h"
#include "support/test.h"

/* A spawning split for its second cull, one without rounds and a mixed lot that went in uncounted.
 * 9.5 % of 20000 weighed to 5 % is known as well as of 3201 counted: Wilson's interval of those. */
static const struct rate_row rows[] = {
    {.key = "K1",
     .spawnings = "",
     .season = 2026,
     .first = STAGE_FIRST,
     .last = STAGE_FIRST,
     .cull.in = 20000,
     .cull.kept = 1900,
     .has_rate = true,
     .rate = 0.095,
     .has_interval = true,
     .interval = {0.0853, 0.1057},
     .cull.dead = 50,
     .survival = 0.8,
     .after = STAGE_COUNT},
    {.key = "K1",
     .spawnings = "",
     .season = 2026,
     .first = STAGE_SECOND,
     .last = STAGE_SECOND,
     .cull.in = 1400,
     .cull.kept = 1450,
     .has_rate = true,
     .rate = 1450.0 / 1400,
     .cull.recovered = true,
     .cull.dead = -1,
     .survival = -1},
    {.key = "K1",
     .spawnings = "",
     .season = 2026,
     .first = STAGE_FIRST,
     .last = STAGE_SECOND,
     .cull.in = 20000,
     .cull.kept = 1450,
     .has_rate = true,
     .rate = 0.095 * 1450 / 1400,
     .cull.recovered = true,
     .cull.dead = -1,
     .survival = -1},
};

static struct book_round first[] = {
    {.summary.round.stage = STAGE_FIRST,
     .lot = "",
     .summary.counts.in = {20000, METHOD_WEIGHED, 50000},
     .summary.counts.kept = {1900, METHOD_COUNTED, 0},
     .summary.counts.rejected = 18000,
     .summary.counts.dead = 50,
     .first_look = {.looked_at = 20, .good = 3},
     .fates = {.fish = {[FATE_KEPT_APART] = 60, [FATE_PUT_DOWN] = 17940}}},
    {.summary.round.stage = STAGE_SECOND,
     .lot = "",
     .summary.counts.in = {800, METHOD_UNSAID, 0},
     .summary.counts.kept = {750, METHOD_ESTIMATED, 0},
     .summary.counts.rejected = NOT_COUNTED,
     .summary.counts.dead = NOT_COUNTED},
    {.summary.round.stage = STAGE_SECOND,
     .lot = "west",
     .summary.counts.in = {600, METHOD_COUNTED, 0},
     .summary.counts.kept = {700, METHOD_COUNTED, 0},
     .summary.counts.rejected = NOT_COUNTED,
     .summary.counts.dead = NOT_COUNTED,
     .fates = {.fish = {[FATE_PASSED_ON] = 12}}},
};

static struct book_round last[] = {
    {.summary.round.stage = STAGE_BLACK,
     .lot = "",
     .summary.counts.in = {.number = NOT_COUNTED},
     .summary.counts.kept = {70, METHOD_COUNTED, 0},
     .summary.counts.rejected = NOT_COUNTED,
     .summary.counts.dead = NOT_COUNTED},
};

static struct lot_news split[] = {{.day = "2026-07-20",
                                   .spawning = "K1",
                                   .lot = "K1",
                                   .kind = EVENT_TRANSFER,
                                   .fish = {600, METHOD_COUNTED, 0},
                                   .target = "west",
                                   .pond = "",
                                   .note = ""}};

static struct book_lot lots[] = {
    {.lot = "",
     .pond = "",
     .book = {.now = {750, METHOD_ESTIMATED, 0}, .dead = 60, .moved_out = 600},
     .transfers = split,
     .transfer_count = 1},
    {.lot = "west",
     .pond = "North 3",
     .book = {.now = {0, METHOD_COUNTED, 0}, .overdrawn = 4, .lost = 700, .found = 9}},
};

static struct book_entry entries[] = {
    {.title = (char[]){"K1, Kikusui, 2026-05-20"},
     .lot_origin = (char[]){"D1 × P1"},
     .note = "spawned at night",
     .eggs = 50000,
     .hatched = 25000,
     .rows = rows,
     .row_count = 3,
     .rounds = first,
     .round_count = 3,
     .lots = lots,
     .lot_count = 2},
    {.title = (char[]){"K2, Kikusui"},
     .lot_origin = (char[]){""},
     .note = "",
     .eggs = 30000,
     .hatched = NOT_COUNTED},
    {.title = (char[]){"both, Kikusui"},
     .lot_origin = (char[]){"mixed from K1;K2; credited to none of them"},
     .note = "",
     .eggs = NOT_COUNTED,
     .hatched = NOT_COUNTED,
     .rounds = last,
     .round_count = 1},
};

static const struct season_book book = {
    .season = 2026,
    .entries = entries,
    .entry_count = 3,
    .spawning_entries = 2,
    .season_rows = rows,
    .season_row_count = 1,
    .parents = {.dams = 2, .sires = 3, .left_out = 1, .effective = 4.8, .effective_by_fish = 2.5}};

static void assert_printed(const struct season_book *printed, struct page_setup setup,
                           const char *file)
{
    struct text out;
    text_init(&out);
    season_book_print(printed, setup, &out);
    assert_as_in_source(file, out.data);
    text_done(&out);
}

static void prints_every_spawning(void **state)
{
    (void)state;
    assert_printed(&book, page_default(), "tests/data/print/season.txt");
}

static void prints_in_ascii_over_several_pages(void **state)
{
    (void)state;
    struct page_setup setup = {.columns = 80, .lines = 12, .ascii = true};
    assert_printed(&book, setup, "tests/data/print/season-ascii.txt");
}

static void says_that_nothing_has_been_counted(void **state)
{
    (void)state;
    const struct season_book young = {.season = 2027,
                                      .entries = &entries[1],
                                      .entry_count = 1,
                                      .spawning_entries = 1,
                                      .parents = {.dams = 1, .sires = 1, .effective = 2}};
    assert_printed(&young, page_default(), "tests/data/print/season-young.txt");
}

static void writes_the_rows_of_rates(void **state)
{
    (void)state;
    struct text out;
    text_init(&out);
    season_book_csv(&book, &out);
    assert_string_equal(
        out.data,
        "by,key,season,stage,in,kept,rate,low,high,flag,spawning,dead,survival,typical,judged,of\n"
        "spawning,K1,2026,first,20000,1900,0.095,0.0853,0.1057,,,50,0.8,,,\n"
        "spawning,K1,2026,second,1400,1450,1.0357142857,,,recovered,,,,,,\n"
        "spawning,K1,2026,first-second,20000,1450,0.0983928571,,,recovered,,,,,,\n"
        "season,K1,2026,first,20000,1900,0.095,0.0853,0.1057,,,50,0.8,,,\n");
    text_done(&out);
}

static void warns_where_more_hatched_than_there_were_eggs(void **state)
{
    (void)state;
    struct book_entry doubtful = {.title = (char[]){"K9, Kikusui"},
                                  .lot_origin = (char[]){""},
                                  .note = "",
                                  .eggs = 20000,
                                  .hatched = 30000};
    const struct season_book one = {.season = 2026, .entries = &doubtful, .entry_count = 1};
    struct text out;
    text_init(&out);
    season_book_print(&one, page_default(), &out);
    assert_non_null(strstr(out.data, "20000 eggs, 30000 hatched (150.0 %)\n    ! more hatched"));
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_every_spawning),
        cmocka_unit_test(prints_in_ascii_over_several_pages),
        cmocka_unit_test(says_that_nothing_has_been_counted),
        cmocka_unit_test(writes_the_rows_of_rates),
        cmocka_unit_test(warns_where_more_hatched_than_there_were_eggs),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
