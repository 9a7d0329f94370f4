#include "senbetsu/print/due.h"
#include "support/source.h"
#include "support/test.h"

static struct due dues[] = {
    {.spawnings = "K1",
     .lot = "K1",
     .variety = "Kikusui",
     .stage = STAGE_FIRST,
     .from = "2026-06-22",
     .to = "2026-07-09",
     .late = true,
     .fish = 25000,
     .fry = true,
     .pace = 2000,
     .evidence = EVIDENCE_DERIVED},
    {.spawnings = "S1",
     .lot = "S1",
     .stage = STAGE_HOUSE,
     .from = "2026-07-20",
     .to = "2026-09-18",
     .fish = NOT_COUNTED,
     .evidence = EVIDENCE_WEAK},
    {.spawnings = "S2",
     .lot = "west",
     .pond = "North 3",
     .stage = STAGE_THIRD,
     .from = "2026-07-22",
     .to = "2026-08-11",
     .fish = 90,
     .pace = 720,
     .evidence = EVIDENCE_DERIVED},
    {.spawnings = "K2;K3",
     .lot = "both",
     .variety = "Kikusui",
     .mixed = true,
     .stage = STAGE_HARVEST,
     .from = "2026-07-24",
     .to = "2026-09-02",
     .fish = 640,
     .evidence = EVIDENCE_DERIVED},
};

static void assert_made(size_t count, bool csv, bool ascii, const char *file)
{
    const struct due_list list = {
        .from = "2026-07-10", .to = "2026-07-24", .dues = dues, .count = count};
    struct page_setup setup = page_default();
    struct text out;
    setup.ascii = ascii;
    text_init(&out);
    if (csv)
        due_list_csv(&list, &out);
    else
        due_list_print(&list, setup, &out);
    assert_as_in_source(file, out.data);
    text_done(&out);
}

static void prints_what_is_due(void **state)
{
    (void)state;
    assert_made(4, false, false, "tests/data/print/due.txt");
    assert_made(4, false, true, "tests/data/print/due-ascii.txt");
    assert_made(4, true, false, "tests/data/print/due.csv");
}

static void says_that_nothing_is_due(void **state)
{
    (void)state;
    assert_made(0, false, false, "tests/data/print/due-none.txt");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_what_is_due),
        cmocka_unit_test(says_that_nothing_is_due),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
