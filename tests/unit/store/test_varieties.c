#include "bench.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/retired.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/varieties.h"

static struct variety get(struct bench *bench, const char *text)
{
    struct variety variety = {.id = 0};
    assert_ok(variety_get(bench->ledger, text, &variety, &bench->err), &bench->err);
    return variety;
}

static enum saved add(struct bench *bench, const struct variety *variety)
{
    enum saved saved;
    assert_ok(variety_save(bench->ledger, variety, 0, "seen", &saved, &bench->err), &bench->err);
    return saved;
}

static void a_new_ledger_knows_the_varieties_of_the_trade(void **state)
{
    struct bench *bench = *state;
    struct variety *varieties;
    size_t count;
    assert_ok(variety_list(bench->ledger, &varieties, &count, &bench->err), &bench->err);
    assert_true(count >= 40);
    for (size_t i = 0; i < count; i++) {
        char spelling[CODE_SIZE];
        assert_ptr_equal(variety_find(varieties, count, varieties[i].name), &varieties[i]);
        assert_ptr_equal(variety_find(varieties, count, varieties[i].japanese), &varieties[i]);
        for (const char *list = varieties[i].spellings; code_next(&list, spelling);)
            assert_ptr_equal(variety_find(varieties, count, spelling), &varieties[i]);
        assert_true(i == 0 || strcmp(varieties[i - 1].name, varieties[i].name) < 0);
    }
    free(varieties);
    assert_string_equal(get(bench, "紅白").name, "Kohaku");
    assert_string_equal(get(bench, "Taishō Sanke").name, "Sanke");
}

static void an_unknown_one_is_named_with_the_nearest(void **state)
{
    struct bench *bench = *state;
    struct variety variety;
    assert_says(variety_get(bench->ledger, "Kohako", &variety, &bench->err), &bench->err,
                "There is no variety \"Kohako\"; the nearest is Kohaku 紅白.");
    assert_int_equal(bench->err.code, ERR_ABSENT);
}

static void records_keep_the_name_of_the_list(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct parent parent = {.code = "P", .variety = "kikusui"};
    assert_ok(parent_save(bench->ledger, &parent, 0, "", &saved, &bench->err), &bench->err);
    assert_ok(parent_get(bench->ledger, "P", &parent, &bench->err), &bench->err);
    assert_string_equal(parent.variety, "Kikusui");
    text_copy(parent.variety, sizeof parent.variety, "Kikusiu");
    assert_says(parent_save(bench->ledger, &parent, 0, "", &saved, &bench->err), &bench->err,
                "the nearest is Kikusui");
}

static void a_variety_is_added_and_put_right(void **state)
{
    struct bench *bench = *state;
    struct variety variety = {.name = "Aka Sora", .spellings = "Red Sky"};
    assert_int_equal(add(bench, &variety), SAVED_NEW);
    assert_int_equal(add(bench, &variety), SAVED_SAME);
    assert_true(get(bench, "red sky").id > UINT32_MAX);
    assert_int_equal(add(bench, &(struct variety){.name = "red sky", .japanese = "赤空"}),
                     SAVED_CHANGED);
    assert_string_equal(get(bench, "赤空").name, "Aka Sora");
    assert_string_equal(get(bench, "赤空").spellings, "Red Sky");
    assert_int_equal(
        bench_ask(
            bench,
            "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'variety'"),
        1);
}

static void no_name_is_that_of_two(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct variety variety = {.name = "Aka Sora", .japanese = "紅白"};
    assert_says(variety_save(bench->ledger, &variety, 0, "", &saved, &bench->err), &bench->err,
                "紅白 is a name of the variety Kohaku already");
    variety = get(bench, "Kikusui");
    text_copy(variety.spellings, sizeof variety.spellings, "Water;showa");
    assert_says(variety_change(bench->ledger, &variety, 0, "", &saved, &bench->err), &bench->err,
                "showa is a name of the variety Showa already");
    assert_int_equal(
        bench_ask(
            bench,
            "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'variety'"),
        0);
}

static void a_new_name_is_everywhere(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct spawning spawning;
    struct standard_version version;
    struct variety variety = get(bench, "Kikusui");
    text_copy(variety.name, sizeof variety.name, "Chrysanthemum");
    assert_ok(variety_change(bench->ledger, &variety, 0, "as we say", &saved, &bench->err),
              &bench->err);
    assert_int_equal(saved, SAVED_CHANGED);
    assert_ok(spawning_get(bench->ledger, "K1", &spawning, &bench->err), &bench->err);
    assert_string_equal(spawning.variety, "Chrysanthemum");
    assert_string_equal(get(bench, "kikusui").name, "Chrysanthemum");
    assert_ok(standard_for(bench->ledger, "Chrysanthemum", STAGE_SECOND, &version, &bench->err),
              &bench->err);
    assert_string_equal(version.standard.varieties, "Chrysanthemum");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM audit_log WHERE field = 'variety'"
                                      " AND old_value = 'Kikusui' AND why = 'as we say'"),
                     1);
}

static void the_name_of_a_retired_one_is_not_given_to_another(void **state)
{
    struct bench *bench = *state;
    struct variety sky = {.name = "Aka Sora"}, bekko = get(bench, "Bekko");
    enum saved saved;
    add(bench, &sky);
    assert_ok(
        record_retire(bench->ledger, RECORD_VARIETY, get(bench, "Aka Sora").id, 0, "", &bench->err),
        &bench->err);
    snprintf(bekko.name, sizeof bekko.name, "Aka Sora");
    assert_says(variety_change(bench->ledger, &bekko, 0, "", &saved, &bench->err), &bench->err,
                "is a variety that is retired");
}

static void a_variety_of_none_can_be_retired(void **state)
{
    struct bench *bench = *state;
    struct variety variety, sky = {.name = "Aka Sora"};
    int64_t kikusui = get(bench, "Kikusui").id;
    add(bench, &sky);
    int64_t id = get(bench, "Aka Sora").id;
    assert_ok(record_retire(bench->ledger, RECORD_VARIETY, id, 0, "a slip", &bench->err),
              &bench->err);
    assert_false(variety_get(bench->ledger, "Aka Sora", &variety, &bench->err));
    assert_says(record_retire(bench->ledger, RECORD_VARIETY, kikusui, 0, "", &bench->err),
                &bench->err, "Kikusui is the variety of spawning K1");
    add(bench, &sky);
    assert_int_equal(get(bench, "Aka Sora").id, id);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_new_ledger_knows_the_varieties_of_the_trade),
        on_stocked_bench(an_unknown_one_is_named_with_the_nearest),
        on_stocked_bench(records_keep_the_name_of_the_list),
        on_stocked_bench(a_variety_is_added_and_put_right),
        on_stocked_bench(no_name_is_that_of_two),
        on_stocked_bench(a_new_name_is_everywhere),
        on_stocked_bench(the_name_of_a_retired_one_is_not_given_to_another),
        on_stocked_bench(a_variety_of_none_can_be_retired),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
