#include "senbetsu/print/rates.h"
#include "support/source.h"
#include "support/test.h"

/* A small farm's spawning. Shares and intervals of the third and the harvest cull: 623 of 1930 and
 * 280 of 500 by Wilson's formula. */
static size_t sample(struct rate_row rows[4])
{
    const struct rate_row sample[] = {
        {.key = "K26-1",
         .spawnings = "",
         .season = 2026,
         .first = STAGE_THIRD,
         .last = STAGE_THIRD,
         .cull.in = 1930,
         .cull.kept = 623,
         .has_rate = true,
         .rate = 623.0 / 1930,
         .has_interval = true,
         .interval = {0.3022995, 0.3439672},
         .cull.dead = 12,
         .survival = 0.955,
         .after = STAGE_SECOND,
         .typical = typical_keep("Kujaku", STAGE_THIRD)},
        {.key = "K26-1",
         .spawnings = "",
         .season = 2026,
         .first = STAGE_HARVEST,
         .last = STAGE_HARVEST,
         .cull.in = 500,
         .cull.kept = 280,
         .has_rate = true,
         .rate = 0.56,
         .has_interval = true,
         .interval = {0.5162, 0.6029},
         .cull.error_unknown = true,
         .cull.dead = -1,
         .survival = -1,
         .typical = typical_keep("Kohaku", STAGE_HARVEST)},
        {.key = "K26-1",
         .spawnings = "",
         .season = 2026,
         .first = STAGE_THIRD,
         .last = STAGE_HARVEST,
         .cull.in = 1930,
         .cull.kept = 280,
         .has_rate = true,
         .rate = 0.1807772,
         .has_interval = true,
         .interval = {0.162, 0.201},
         .cull.error_unknown = true,
         .uneven = true,
         .cull.dead = -1,
         .survival = -1},
        {.key = "K26-2",
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
    };
    memcpy(rows, sample, sizeof sample);
    return sizeof sample / sizeof *sample;
}

static void assert_printed(enum rates_by by, size_t count, bool ascii, const char *file)
{
    struct rate_row rows[4];
    struct page_setup setup = page_default();
    struct text out;
    text_init(&out);
    sample(rows);
    setup.ascii = ascii;
    rates_print(by, rows, count, setup, &out);
    assert_as_in_source(file, out.data);
    text_done(&out);
}

static void prints_rates_with_bars(void **state)
{
    (void)state;
    assert_printed(BY_SPAWNING, 4, false, "tests/data/print/rates.txt");
}

static void prints_rates_in_ascii(void **state)
{
    (void)state;
    assert_printed(BY_SPAWNING, 4, true, "tests/data/print/rates-ascii.txt");
}

static void says_so_where_there_is_no_rate(void **state)
{
    (void)state;
    assert_printed(BY_PAIR, 0, false, "tests/data/print/rates-none.txt");
}

static void writes_csv(void **state)
{
    (void)state;
    struct rate_row rows[4];
    struct text out;
    text_init(&out);
    rates_csv(BY_SPAWNING, rows, sample(rows), &out);
    assert_string_equal(
        out.data,
        "by,key,season,stage,in,kept,rate,low,high,flag,spawning,dead,survival,typical,judged,"
        "of\n"
        "spawning,K26-1,2026,third,1930,623,0.3227979275,0.3022995,0.3439672,,,12,0.955,,,\n"
        "spawning,K26-1,2026,harvest,500,280,0.56,0.5162,0.6029,error-unknown,,,,outside,,\n"
        "spawning,K26-1,2026,third-harvest,1930,280,0.1807772,0.162,0.201,error-unknown;uneven,,,,"
        ",,\n"
        "spawning,K26-2,2026,second,1400,1450,1.0357142857,,,recovered,,,,,,\n");
    text_done(&out);
}

/* Seven digits that count, however small a share is. */
static void writes_small_shares_in_full(void **state)
{
    (void)state;
    static const struct {
        double rate;
        const char *written;
    } shares[] = {
        {0, ",0,"},           {1, ",1,"},         {10, ",10,"},
        {0.5, ",0.5,"},       {12.25, ",12.25,"}, {200.0 / 420000, ",0.0004761904762,"},
        {1e-9, ",1e-09,"},    {0.001, ",0.001,"}, {2.0 / 3, ",0.6666666667,"},
        {0.0625, ",0.0625,"}, {0.1, ",0.1,"},     {0.99999999999, ",1,"},
    };
    for (size_t i = 0; i < sizeof shares / sizeof *shares; i++) {
        struct rate_row row = {
            .key = "K1", .spawnings = "", .has_rate = true, .rate = shares[i].rate, .survival = -1};
        struct text out;
        text_init(&out);
        rates_csv(BY_SPAWNING, &row, 1, &out);
        if (strstr(out.data, shares[i].written) == NULL)
            fail_msg("%s is not in %s", shares[i].written, out.data);
        text_done(&out);
    }
}

/* What cannot be computed is empty: a cull that no fish went into. */
static void leaves_out_what_cannot_be_computed(void **state)
{
    (void)state;
    struct rate_row row = {.key = "west", .spawnings = "K1", .cull.dead = 0, .survival = -1};
    struct text out;
    text_init(&out);
    rates_csv(BY_LOT, &row, 1, &out);
    assert_string_equal(strchr(out.data, '\n') + 1, "lot,west,,black,0,0,,,,,K1,0,,,,\n");
    text_clear(&out);
    rates_print(BY_LOT, &row, 1, page_default(), &out);
    assert_non_null(strstr(out.data, "west of K1\n"));
    text_done(&out);
}

/* 0 of 4 may be up to 49 %: no reason to doubt the usual 25 to 40; none of 100 is. */
static void warns_where_the_whole_interval_is_outside(void **state)
{
    (void)state;
    struct rate_row row = {.cull.in = 4,
                           .has_rate = true,
                           .has_interval = true,
                           .interval = {0, 0.49},
                           .typical = typical_keep("Kohaku", STAGE_THIRD)};
    assert_false(rate_row_untypical(&row));
    row.interval.high = 0.037;
    assert_true(rate_row_untypical(&row));
    row.interval = (struct interval){0.401, 0.6};
    assert_true(rate_row_untypical(&row));
}

static void tells_a_cull_at_work(void **state)
{
    (void)state;
    struct rate_row row = {.key = "K1",
                           .spawnings = "",
                           .cull.in = 4,
                           .cull.done = 4,
                           .cull.whole = 100,
                           .cull.not_done = true,
                           .cull.outdated = true,
                           .cull.dead = -1,
                           .survival = -1,
                           .typical = typical_keep("Kohaku", STAGE_THIRD)};
    struct text out;
    text_init(&out);
    rates_csv(BY_SPAWNING, &row, 1, &out);
    assert_non_null(strstr(out.data, ",4,0,,,,at-work;pass-outdated,,,,,4,100\n"));
    text_clear(&out);
    rates_print(BY_SPAWNING, &row, 1, page_default(), &out);
    assert_non_null(strstr(
        out.data, "    ! not done: 4 of 100 judged; no rate before the rest is\n"
                  "    ! a pass is out of date: the numbers may change with the next one\n"));
    assert_null(strstr(out.data, "outside"));
    text_done(&out);
}

/* Groups of every length, so that pages end at all places of a group. */
static void no_key_stands_on_a_page_without_its_rates(void **state)
{
    (void)state;
    enum { ROWS = 300 };
    static struct rate_row rows[ROWS];
    static char keys[ROWS][16];
    struct rate_row some[4];
    sample(some);
    for (int i = 0, key = 0, left = 0; i < ROWS; i++, left--) {
        if (left == 0)
            left = ++key % 7 + 1;
        rows[i] = some[1];
        snprintf(keys[i], sizeof keys[i], "K26-%d", key);
        rows[i].key = keys[i];
    }
    struct text out;
    text_init(&out);
    rates_print(BY_SPAWNING, rows, ROWS, page_default(), &out);
    bool was_key = false;
    for (const char *line = out.data; *line != '\0'; line = strchr(line, '\n') + 1) {
        bool is_key = strncmp(line, "K26-", 4) == 0;
        if (is_key && was_key)
            fail_msg("a key without rates stands before: %.20s", line);
        was_key = is_key;
    }
    text_done(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prints_rates_with_bars),
        cmocka_unit_test(prints_rates_in_ascii),
        cmocka_unit_test(says_so_where_there_is_no_rate),
        cmocka_unit_test(no_key_stands_on_a_page_without_its_rates),
        cmocka_unit_test(warns_where_the_whole_interval_is_outside),
        cmocka_unit_test(tells_a_cull_at_work),
        cmocka_unit_test(writes_csv),
        cmocka_unit_test(writes_small_shares_in_full),
        cmocka_unit_test(leaves_out_what_cannot_be_computed),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
