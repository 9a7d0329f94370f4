/* The tally as text. tests/data/views holds what each state must look like. */
#include "senbetsu/screens/tally_view.h"
#include "support/fake_tally.h"
#include "support/test.h"
#include "support/views.h"

static int page;

static void draw(struct grid *grid, const struct tally_sheet *sheet)
{
    const struct letters letters = letters_assign(&sheet->standard);
    tally_view_draw(grid, sheet, &letters, page);
}

static void press(struct fake_tally *fake, enum tally_command_kind kind, int number, int times)
{
    for (int i = 0; i < times; i++)
        fake_tally_do(fake, kind, number);
}

static void measure(struct fake_tally *fake, const char *line)
{
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE, 1);
    for (; *line != '\0'; line++)
        press(fake, TALLY_DO_TYPE, *line, 1);
    press(fake, TALLY_DO_ACCEPT, 0, 1);
}

static void test_fresh(void **state)
{
    struct fake_tally *fake = *state;
    assert_screens("tally-fresh", draw, &fake->sheet);
}

/* 43 picked one by one out of 2400 weighed fish, and scoops of the rest put away. */
static void test_middle(void **state)
{
    struct fake_tally *fake = *state;
    fake->lot = (struct count){2400, METHOD_WEIGHED, 40000};
    press(fake, TALLY_DO_REFRESH, 0, 1);
    press(fake, TALLY_DO_KEEP, 0, 43);
    press(fake, TALLY_DO_REJECT, 0, 12);
    press(fake, TALLY_DO_DEAD, 0, 3);
    measure(fake, "48+52+50");
    press(fake, TALLY_DO_REJECT, -1, 9);
    press(fake, TALLY_DO_REJECT, 1, 1);
    assert_screens("tally-middle", draw, &fake->sheet);
}

/* The rest of a weighed lot has that lot's error. */
static void test_the_rest_of_the_lot(void **state)
{
    struct fake_tally *fake = *state;
    fake->lot = (struct count){2400, METHOD_WEIGHED, 40000};
    press(fake, TALLY_DO_REFRESH, 0, 1);
    press(fake, TALLY_DO_KEEP, 0, 43);
    assert_screens("tally-rest", draw, &fake->sheet);
}

/* Nobody stated the number of the lot. */
static void test_the_number_by_the_book(void **state)
{
    struct fake_tally *fake = *state;
    fake->by_book = (struct count){1940, METHOD_ESTIMATED, 0};
    fake_tally_reopen(fake);
    press(fake, TALLY_DO_KEEP, 0, 7);
    press(fake, TALLY_DO_REJECT, 0, 12);
    assert_screens("tally-book", draw, &fake->sheet);
}

static void test_largest_numbers(void **state)
{
    struct fake_tally *fake = *state;
    fake->sheet.manner = MANNER_REMOVE;
    measure(fake, "50000");
    press(fake, TALLY_DO_KEEP, 0, 3);
    press(fake, TALLY_DO_REJECT, 2, 25);
    assert_screens("tally-large", draw, &fake->sheet);
}

static void test_modes(void **state)
{
    struct fake_tally *fake = *state;
    press(fake, TALLY_DO_KEEP, 0, 2);
    press(fake, TALLY_DO_ENTER_MODE, TALLY_MENU, 1);
    assert_screens("tally-menu", draw, &fake->sheet);
    press(fake, TALLY_DO_ENTER_MODE, TALLY_SIZE, 1);
    press(fake, TALLY_DO_TYPE, '4', 1);
    press(fake, TALLY_DO_TYPE, '8', 1);
    press(fake, TALLY_DO_TYPE, '+', 1);
    assert_screens("tally-size", draw, &fake->sheet);
}

/* As many reasons as a standard may have: all are shown, and the further ones have their digits. */
static void test_every_reason(void **state)
{
    struct fake_tally *fake = *state;
    struct standard *standard = &fake->sheet.standard;
    standard->fault_count = STANDARD_FAULTS;
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        snprintf(standard->faults[i].code, sizeof standard->faults[i].code, "fault%d", i + 1);
        snprintf(standard->faults[i].label, sizeof standard->faults[i].label, "Fault %d (ketten)",
                 i + 1);
    }
    press(fake, TALLY_DO_REJECT, STANDARD_FAULTS - 1, 4);
    assert_screens("tally-reasons", draw, &fake->sheet);
    press(fake, TALLY_DO_ENTER_MODE, TALLY_FURTHER, 1);
    page = 1;
    assert_screens("tally-further", draw, &fake->sheet);
    page = 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_fake_tally(test_fresh),
        on_fake_tally(test_middle),
        on_fake_tally(test_the_rest_of_the_lot),
        on_fake_tally(test_the_number_by_the_book),
        on_fake_tally(test_largest_numbers),
        on_fake_tally(test_modes),
        on_fake_tally(test_every_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
