#include "bench.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/parents.h"

static bool save(struct bench *bench, struct parent parent, enum saved *ret_saved)
{
    return parent_save(bench->ledger, &parent, 0, "told so", ret_saved, &bench->err);
}

static struct parent get(struct bench *bench, const char *code)
{
    struct parent parent;
    assert_ok(parent_get(bench->ledger, code, &parent, &bench->err), &bench->err);
    return parent;
}

static void a_parent_is_read_as_it_was_saved(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    struct parent parent = {.code = "親-1",
                            .sex = SEX_FEMALE,
                            .variety = "Kikusui",
                            .born = 2021,
                            .dam = "D1",
                            .sire = "S1",
                            .note = "wide shoulders"};
    assert_ok(save(bench, parent, &saved), &bench->err);
    assert_int_equal(saved, SAVED_NEW);
    struct parent read = get(bench, "親-1");
    assert_true(read.id > 0);
    assert_int_equal(read.sex, SEX_FEMALE);
    assert_int_equal(read.born, 2021);
    assert_string_equal(read.variety, "Kikusui");
    assert_string_equal(read.dam, "D1");
    assert_string_equal(read.sire, "S1");
    assert_string_equal(read.note, "wide shoulders");
    assert_ok(save(bench, parent, &saved), &bench->err);
    assert_int_equal(saved, SAVED_SAME);
    assert_int_equal(
        bench_ask(bench,
                  "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'parent'"),
        0);
}

static void what_is_not_said_overwrites_nothing(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    assert_ok(save(bench, (struct parent){.code = "P", .born = 2020, .note = "old"}, &saved),
              &bench->err);
    assert_ok(save(bench, (struct parent){.code = "P", .sex = SEX_MALE}, &saved), &bench->err);
    assert_int_equal(saved, SAVED_CHANGED);
    assert_int_equal(get(bench, "P").born, 2020);
    assert_int_equal(get(bench, "P").sex, SEX_MALE);
    assert_string_equal(get(bench, "P").note, "old");
}

static void a_change_leaves_its_history(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    int64_t judge;
    struct parent changed = {.code = "D1", .born = 2019, .note = "bought"};
    assert_ok(judge_named(bench->ledger, "Aki", &judge, &bench->err), &bench->err);
    assert_ok(parent_save(bench->ledger, &changed, judge, "papers found", &saved, &bench->err),
              &bench->err);
    changed.born = 2018;
    assert_ok(parent_save(bench->ledger, &changed, judge, "papers read", &saved, &bench->err),
              &bench->err);
    assert_int_equal(
        bench_ask(bench,
                  "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'parent'"),
        3);
    assert_int_equal(bench_ask(bench,
                               "SELECT count(*) FROM audit_log AS a JOIN parent AS p "
                               "ON p.id = a.record JOIN judge AS j ON j.id = a.judge "
                               "WHERE p.code = 'D1' AND field = 'born' AND old_value = '2019' "
                               "AND new_value = '2018' AND why = 'papers read' AND "
                               "j.name = 'Aki' AND at_ms > 0"),
                     1);
}

static void what_cannot_be_is_refused(void **state)
{
    static const struct {
        struct parent parent;
        const char *says;
    } refused[] = {
        {{.code = ""}, "code is empty"},
        {{.code = "A;B"}, "are not allowed"},
        {{.code = "X", .dam = "nobody"}, "There is no parent nobody"},
        {{.code = "X", .dam = "S1"}, "S1 is male and cannot be a dam"},
        {{.code = "X", .sire = "D1"}, "D1 is female and cannot be a sire"},
        {{.code = "D1", .sex = SEX_MALE}, "D1 is the dam of K1 and cannot be male"},
        {{.code = "S1", .sex = SEX_FEMALE}, "S1 is the sire of K1 and cannot be female"},
        {{.code = "S2", .sire = "S2"}, "S2 cannot be its own ancestor"},
    };
    struct bench *bench = *state;
    enum saved saved;
    for (size_t i = 0; i < sizeof refused / sizeof *refused; i++)
        assert_says(save(bench, refused[i].parent, &saved), &bench->err, refused[i].says);
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM parent"), 3);
    assert_int_equal(
        bench_ask(bench,
                  "SELECT count(*) FROM audit_log WHERE old_value IS NOT NULL AND kind = 'parent'"),
        0);
}

static void nobody_becomes_its_own_ancestor(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    assert_ok(save(bench, (struct parent){.code = "G1", .dam = "D1", .sire = "S2"}, &saved),
              &bench->err);
    assert_ok(save(bench, (struct parent){.code = "G2", .sire = "G1"}, &saved), &bench->err);
    assert_says(save(bench, (struct parent){.code = "S2", .sire = "G2"}, &saved), &bench->err,
                "S2 cannot be its own ancestor, through its sire G2");
    /* A fish may well be an ancestor twice over. */
    assert_ok(save(bench, (struct parent){.code = "G3", .dam = "D1", .sire = "G2"}, &saved),
              &bench->err);
}

static bool change(struct bench *bench, struct parent parent)
{
    enum saved saved;
    return parent_change(bench->ledger, &parent, 0, "put right", &saved, &bench->err);
}

static void a_parent_is_put_right(void **state)
{
    struct bench *bench = *state;
    enum saved saved;
    assert_ok(save(bench, (struct parent){.code = "X", .born = 2020, .dam = "D1"}, &saved),
              &bench->err);
    assert_ok(save(bench, (struct parent){.code = "Y", .dam = "X"}, &saved), &bench->err);
    struct parent parent = get(bench, "X");
    text_copy(parent.code, sizeof parent.code, "Z");
    parent.born = 0;
    parent.dam[0] = '\0';
    parent.state = BROOD_SOLD;
    text_copy(parent.since, sizeof parent.since, "2026-07-01");
    assert_ok(change(bench, parent), &bench->err);
    assert_false(parent_get(bench->ledger, "X", &parent, &bench->err));
    parent = get(bench, "Z");
    assert_int_equal(parent.born, 0);
    assert_string_equal(parent.dam, "");
    assert_int_equal(parent.state, BROOD_SOLD);
    assert_string_equal(parent.since, "2026-07-01");
    assert_string_equal(get(bench, "Y").dam, "Z");
    assert_int_equal(bench_ask(bench, "SELECT count(*) FROM audit_log WHERE why = 'put right'"), 5);
    text_copy(parent.code, sizeof parent.code, "D1");
    assert_says(change(bench, parent), &bench->err, "There is another parent D1");
    text_copy(parent.code, sizeof parent.code, "Z");
    text_copy(parent.dam, sizeof parent.dam, "Y");
    assert_says(change(bench, parent), &bench->err, "Z cannot be its own ancestor");
    assert_says(change(bench, (struct parent){.id = 1, .code = "W"}), &bench->err,
                "not in the ledger");
}

static void parents_are_listed_by_code(void **state)
{
    struct bench *bench = *state;
    struct parent *parents;
    size_t count;
    assert_ok(parent_list(bench->ledger, &parents, &count, &bench->err), &bench->err);
    assert_int_equal(count, 3);
    assert_string_equal(parents[0].code, "D1");
    assert_string_equal(parents[2].code, "S2");
    free(parents);
    assert_false(parent_get(bench->ledger, "none", &(struct parent){.id = 0}, &bench->err));
    assert_int_equal(bench->err.code, ERR_ABSENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(a_parent_is_read_as_it_was_saved),
        on_stocked_bench(what_is_not_said_overwrites_nothing),
        on_stocked_bench(a_change_leaves_its_history),
        on_stocked_bench(what_cannot_be_is_refused),
        on_stocked_bench(nobody_becomes_its_own_ancestor),
        on_stocked_bench(a_parent_is_put_right),
        on_stocked_bench(parents_are_listed_by_code),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
