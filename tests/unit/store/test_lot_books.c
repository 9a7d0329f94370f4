#include "senbetsu/store/lot_books.h"

#include "bench.h"

static void add_spawning(struct bench *bench, const char *code, int season, int64_t hatched)
{
    struct spawning spawning = {.season = season, .eggs = UNKNOWN_COUNT, .hatched = hatched};
    enum saved saved;
    snprintf(spawning.code, sizeof spawning.code, "%s", code);
    assert_ok(spawning_save(bench->ledger, &spawning, 0, "", &saved, &bench->err), &bench->err);
}

static void begin(struct bench *bench, const char *spawnings, const char *lot)
{
    struct round round;
    bool is_new;
    assert_ok(round_begin_as(bench->ledger, spawnings, lot, STAGE_FIRST, MANNER_PICK, &round,
                             &is_new, &bench->err),
              &bench->err);
}

static void lots_stand_in_order(void **state)
{
    static const char *const order[] = {"over", "A9", "K1", "east", "west", "B1"};
    struct bench *bench = *state;
    struct lot_line *lines;
    size_t count;
    add_spawning(bench, "B1", 2025, 40000);
    add_spawning(bench, "A9", 2026, UNKNOWN_COUNT);
    begin(bench, "K1", "west");
    begin(bench, "K1", "east");
    begin(bench, "K1;B1", "over");
    assert_ok(lot_lines_list(bench->ledger, &lines, &count, &bench->err), &bench->err);
    assert_int_equal(count, 6);
    for (size_t i = 0; i < count; i++)
        assert_string_equal(lines[i].of.lot, order[i]);
    assert_string_equal(lines[0].of.spawnings, "B1;K1");
    assert_int_equal(lines[5].book.now.number, 40000);
    assert_int_equal(lines[5].book.base, BOOK_FRY);
    assert_int_equal(lines[3].book.base, BOOK_NOTHING);
    lot_lines_free(lines, count);
}

int main(void)
{
    const struct CMUnitTest tests[] = {on_stocked_bench(lots_stand_in_order)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
