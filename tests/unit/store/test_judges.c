#include "bench.h"
#include "senbetsu/store/judges.h"

static void a_judge_is_found_by_name(void **state)
{
    struct bench *bench = *state;
    int64_t aki;
    int64_t again;
    int64_t other;
    assert_ok(judge_named(bench->ledger, "Aki", &aki, &bench->err), &bench->err);
    assert_ok(judge_named(bench->ledger, "Aki", &again, &bench->err), &bench->err);
    assert_ok(judge_named(bench->ledger, "亜紀", &other, &bench->err), &bench->err);
    assert_true(aki > 0 && again == aki && other != aki);
}

static void a_judge_who_is_not_named_is_nobody(void **state)
{
    struct bench *bench = *state;
    int64_t id = 5;
    assert_ok(judge_named(bench->ledger, "", &id, &bench->err), &bench->err);
    assert_int_equal(id, 0);
    assert_says(judge_named(bench->ledger, " Aki", &id, &bench->err), &bench->err, "space");
}

static void judges_are_listed_by_name(void **state)
{
    struct bench *bench = *state;
    struct judge *judges;
    size_t count;
    int64_t id;
    assert_ok(judge_named(bench->ledger, "Mika", &id, &bench->err) &&
                  judge_named(bench->ledger, "Aki", &id, &bench->err),
              &bench->err);
    assert_ok(judge_list(bench->ledger, &judges, &count, &bench->err), &bench->err);
    assert_int_equal(count, 2);
    assert_string_equal(judges[0].name, "Aki");
    assert_int_equal(judges[0].id, id);
    assert_string_equal(judges[1].name, "Mika");
    free(judges);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_judge_is_found_by_name),
        on_stocked_bench(a_judge_who_is_not_named_is_nobody),
        on_stocked_bench(judges_are_listed_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
