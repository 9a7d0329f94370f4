#include "senbetsu/report/families.h"
#include "senbetsu/store/fish.h"
#include "support/import_bench.h"
#include "support/test.h"

static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents, "parent\nD1\nD2\nP1\nP2\n", 4, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\n"
              "B2,2025,Kikusui,D1,P1,single\nA1,2026,Kikusui,D1,P1,single\n"
              "A2,2026,Kikusui,D2,P2;P1,group\nA3,2026,Kikusui,D2,,\n",
              4, 0, 0);
    take_text(*state, import_rounds,
              "spawning,lot,stage,in,in_how,in_cv,kept,kept_how\n"
              "A1,,first,1000,scooped,0.05,200,counted\nA1,,second,120,counted,,60,counted\n"
              "A1,west,second,80,counted,,20,counted\nA1;A2,both,harvest,90,counted,,40,counted\n"
              "A2,,first,500,counted,,,\nA2,,second,0,counted,,0,counted\n",
              6, 0, 0);
    return result;
}

static const struct family *find(const struct families *families, const char *spawning)
{
    for (size_t i = 0; i < families->count; i++)
        if (strcmp(families->list[i].spawning, spawning) == 0)
            return &families->list[i];
    return NULL;
}

static const char *pair_of(const struct families *families, const char *spawning)
{
    return families->pairs.list[find(families, spawning)->pair].text;
}

static struct families make(struct small_ledger *small)
{
    struct families families;
    struct err err;
    assert_ok(families_make(small->ledger, NULL, &families, &err), &err);
    return families;
}

static void stand_by_season_with_their_pairs(void **state)
{
    struct families families = make(*state);
    assert_int_equal(families.count, 5);
    assert_string_equal(families.list[0].spawning, "B2");
    assert_int_equal(families.list[0].season, 2025);
    assert_string_equal(families.list[1].spawning, "A1");
    assert_int_equal(families.list[1].pair, families.list[0].pair);
    assert_string_equal(pair_of(&families, "A1"), "D1+P1");
    assert_string_equal(pair_of(&families, "A2"), "D2+P1;P2");
    assert_int_equal(find(&families, "A3")->pair, NO_KEY);
    assert_int_equal(find(&families, "K1")->pair, NO_KEY);
    families_done(&families);
}

/* Of all lots of a spawning, but not of those mixed of several. */
static void add_up_their_culls(void **state)
{
    struct families families = make(*state);
    const struct family *family = find(&families, "A1");
    assert_int_equal(family->stages, 1U << STAGE_FIRST | 1U << STAGE_SECOND);
    assert_int_equal(family->culls[STAGE_FIRST].in, 1000);
    assert_int_equal(family->culls[STAGE_FIRST].kept, 200);
    assert_true(family->culls[STAGE_FIRST].estimated);
    assert_false(family->culls[STAGE_FIRST].error_unknown);
    assert_true(family->culls[STAGE_FIRST].in_cv == 0.05 &&
                family->culls[STAGE_FIRST].kept_cv == 0);
    assert_string_equal(family->lot->dam, "D1");
    assert_int_equal(family->culls[STAGE_SECOND].in, 200);
    assert_int_equal(family->culls[STAGE_SECOND].kept, 80);
    assert_false(family->culls[STAGE_SECOND].estimated);
    families_done(&families);
}

static void go_through_what_was_counted(void **state)
{
    struct families families = make(*state);
    const struct family *family = find(&families, "A1");
    assert_true(family_went_through(family, STAGE_FIRST, STAGE_FIRST));
    assert_true(family_went_through(family, STAGE_FIRST, STAGE_SECOND));
    assert_false(family_went_through(family, STAGE_FIRST, STAGE_HARVEST));
    assert_false(family_went_through(family, STAGE_BLACK, STAGE_SECOND));
    assert_false(family_went_through(find(&families, "A2"), STAGE_FIRST, STAGE_FIRST));
    assert_false(family_went_through(find(&families, "A2"), STAGE_SECOND, STAGE_SECOND));
    families_done(&families);
}

/* One of the 20 fish that the bowl was said to hold is judged. */
static void are_at_work_until_all_fish_are_judged(void **state)
{
    struct small_ledger *small = *state;
    struct round round;
    struct bowl bowl;
    bool is_new;
    struct err err;
    struct cached_verdict cached = {.verdict = VERDICT_REJECT};
    struct stroke stroke = {.look = 1, .at_ms = INT64_C(1787000000000), .entry_count = 1};
    stroke.entries[0] = (struct entry){.kind = ENTRY_CLOSE, .number = VERDICT_REJECT};
    assert_ok(
        round_begin_as(small->ledger, "A1", "", STAGE_THIRD, MANNER_JUDGE, &round, &is_new, &err),
        &err);
    assert_ok(bowl_begin(small->ledger, round.id, 1, 20, "2026-08-18", &bowl, &err), &err);
    assert_ok(fish_begin(small->ledger, bowl.id, 1, &stroke.fish, &err), &err);
    assert_ok(stroke_record(small->ledger, &stroke, &cached, NULL, &err), &err);
    struct families families = make(small);
    const struct family *family = find(&families, "A1");
    assert_int_equal(family->culls[STAGE_THIRD].in, 1);
    assert_true(cull_at_work(&family->culls[STAGE_THIRD]));
    assert_false(cull_at_work(&family->culls[STAGE_FIRST]) ||
                 cull_at_work(&family->culls[STAGE_SECOND]));
    families_done(&families);
}

/* What is kept so far is no end of a way. */
static void a_cull_at_work_ends_no_way(void **state)
{
    (void)state;
    struct family family = {.stages = 1U << STAGE_FIRST | 1U << STAGE_SECOND};
    family.culls[STAGE_FIRST] = (struct cull){.in = 100, .kept = 40};
    family.culls[STAGE_SECOND] = (struct cull){.in = 10, .kept = 4};
    assert_true(family_went_through(&family, STAGE_FIRST, STAGE_SECOND));
    family.culls[STAGE_SECOND].so_far = true;
    assert_false(family_went_through(&family, STAGE_FIRST, STAGE_SECOND));
    assert_true(family_went_through(&family, STAGE_SECOND, STAGE_SECOND));
}

#define on_farm(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

static struct rate_key keys[] = {{.text = (char[]){"KD1+KS1"}},
                                 {.text = (char[]){"KD1+KS1;KS2"}},
                                 {.text = (char[]){"KD2+KS1"}},
                                 {.text = (char[]){"RD 7+RS1"}}};
static const struct rate_keys pairs = {.list = keys, .count = sizeof keys / sizeof *keys};

static void assert_found(const char *text, int expected)
{
    struct err err;
    int found = -7;
    assert_ok(pair_find(&pairs, text, &found, &err), &err);
    assert_int_equal(found, expected);
}

static void assert_refused(const char *text, enum err_code code, const char *sentence)
{
    struct err err;
    int found = -7;
    assert_says(pair_find(&pairs, text, &found, &err), &err, sentence);
    assert_int_equal(err.code, code);
    assert_int_equal(found, -7);
}

static void finds_pairs(void **state)
{
    (void)state;
    assert_found("KD1+KS1", 0);
    assert_found("KD2+KS1", 2);
    assert_found("RD 7+RS1", 3);
}

static void takes_males_in_any_order(void **state)
{
    (void)state;
    assert_found("KD1+KS1;KS2", 1);
    assert_found("KD1+KS2;KS1", 1);
}

static void names_the_nearest(void **state)
{
    (void)state;
    assert_refused(
        "KD1+KS9", ERR_ABSENT,
        "No spawning in the ledger is of KD1+KS9; the nearest: KD1+KS1, KD2+KS1 and KD1+KS1;KS2.");
    assert_refused("KS1+KD1", ERR_ABSENT, "nearest: KD1+KS1, ");
    assert_refused("KD2+KS2;KS1", ERR_ABSENT, "is of KD2+KS1;KS2; the nearest: KD1+KS1;KS2, ");
    assert_refused("kd1+ks1", ERR_ABSENT, "nearest: KD1+KS1, ");
}

static void refuses_what_is_no_pair(void **state)
{
    (void)state;
    static const char *const wrong[] = {"",    "KD1",   "+",     "KD1+", "+KS1", ";KD1+KS1",
                                        "A;B", "A;B+C", "A+B+C", "A+B;", "A+;B", "A+B;;C"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
        assert_refused(wrong[i], ERR_USAGE, "is not a pair: write DAM+SIRE");
}

static void says_so_where_there_are_no_pairs(void **state)
{
    (void)state;
    struct err err;
    int found;
    assert_says(pair_find(&(struct rate_keys){.count = 0}, "KD1+KS1", &found, &err), &err,
                "No spawning in the ledger has both a dam and a sire.");
}

static void assert_pair(const char *dam, const char *sires, enum siring siring,
                        const char *expected)
{
    struct spawning spawning = {.siring = siring};
    char text[NOTE_SIZE];
    snprintf(spawning.dam, sizeof spawning.dam, "%s", dam);
    snprintf(spawning.sires, sizeof spawning.sires, "%s", sires);
    assert_string_equal(pair_text(&spawning, text, sizeof text), expected);
}

static void test_pairs(void **state)
{
    (void)state;
    assert_pair("K7", "P2", SIRING_SINGLE, "K7 × P2");
    assert_pair("K7", "P2;P3", SIRING_POOLED, "K7 × P2;P3 (pooled)");
    assert_pair("", "P2", SIRING_SINGLE, "? × P2");
    assert_pair("K7", "", SIRING_GROUP, "K7 × ?");
    assert_pair("", "", SIRING_SINGLE, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {on_farm(stand_by_season_with_their_pairs),
                                       on_farm(add_up_their_culls),
                                       on_farm(go_through_what_was_counted),
                                       on_farm(are_at_work_until_all_fish_are_judged),
                                       cmocka_unit_test(a_cull_at_work_ends_no_way),

                                       cmocka_unit_test(finds_pairs),
                                       cmocka_unit_test(takes_males_in_any_order),
                                       cmocka_unit_test(names_the_nearest),
                                       cmocka_unit_test(refuses_what_is_no_pair),
                                       cmocka_unit_test(says_so_where_there_are_no_pairs),

                                       cmocka_unit_test(test_pairs)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
