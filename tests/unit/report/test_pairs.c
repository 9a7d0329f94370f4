#include "senbetsu/report/pairs.h"
#include "support/import_bench.h"

#include <math.h>

struct farm {
    struct pedigree pedigree;
    struct spawning *spawnings;
    size_t spawning_count;
};

/* The small ledger's own spawning is of 2026, which makes 2024 the first season that counts. */
static struct farm read_farm(struct small_ledger *small)
{
    struct farm farm;
    struct err err;
    assert_ok(pedigree_read(small->ledger, &farm.pedigree, &err), &err);
    assert_ok(spawning_list(small->ledger, &farm.spawnings, &farm.spawning_count, &err), &err);
    return farm;
}

static void farm_done(struct farm *farm)
{
    pedigree_done(&farm->pedigree);
    free(farm->spawnings);
}

/* "f", "m", "fm" or "": what the fish could be set as. */
static void assert_available(const struct farm *farm, const char *code, const char *expected)
{
    struct availability available[16];
    parents_available(&farm->pedigree, farm->spawnings, farm->spawning_count, available);
    int place = pedigree_place(&farm->pedigree, code);
    assert_true(place != UNKNOWN_PARENT);
    char found[3];
    snprintf(found, sizeof found, "%s%s", available[place].as_dam ? "f" : "",
             available[place].as_sire ? "m" : "");
    if (strcmp(found, expected) != 0)
        fail_msg("%s is available as \"%s\", not as \"%s\"", code, found, expected);
}

static void test_who_is_available(void **state)
{
    struct small_ledger *small = *state;
    take_text(
        small, import_parents,
        "parent,sex,born,dam,sire\n"
        "used,f,2010,,\nlate,,,,\nlong-ago,f,,,\ngrandmother,f,,,\nyoung,m,2022,,grandfather\n"
        "grandfather,,,,\nold,m,2017,,\nof-age,m,2018,grandmother,\nnew,,,,\nsire,,,,\n",
        10, 0, 0);
    take_text(small, import_spawnings,
              "spawning,season,dam,sires,siring\n"
              "S24,2024,used,late;sire,group\nS23,2023,long-ago,sire,single\n",
              2, 0, 0);
    struct farm farm = read_farm(small);
    assert_available(&farm, "used", "f");
    assert_available(&farm, "late", "m");
    assert_available(&farm, "sire", "m");
    assert_available(&farm, "long-ago", "");
    assert_available(&farm, "grandmother", "");
    assert_available(&farm, "grandfather", "");
    assert_available(&farm, "young", "m");
    assert_available(&farm, "of-age", "m");
    assert_available(&farm, "old", "");
    assert_available(&farm, "new", "fm");
    farm_done(&farm);
}

/* A state that was given goes before what the ledger shows. */
static void test_a_state_decides_who_is_available(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents,
              "parent,sex,born,state\n"
              "sold,f,,sold\ndead,m,,dead\nresting,f,,resting\nback,f,2010,available\nnew,m,,\n",
              5, 0, 0);
    take_text(small, import_spawnings,
              "spawning,season,dam,sires\nS24,2024,sold,dead\nS25,2025,resting,new\n", 2, 0, 0);
    struct farm farm = read_farm(small);
    assert_available(&farm, "sold", "");
    assert_available(&farm, "dead", "");
    assert_available(&farm, "resting", "");
    assert_available(&farm, "back", "f");
    assert_available(&farm, "new", "m");
    farm_done(&farm);
}

static void assert_crosses(const struct farm *farm, const char *expected)
{
    struct cross *crosses;
    size_t count;
    struct text found;
    crosses_make(&farm->pedigree, farm->spawnings, farm->spawning_count, "", &crosses, &count);
    text_init(&found);
    for (size_t i = 0; i < count; i++)
        text_addf(&found, "%s+%s\n", farm->pedigree.fish[crosses[i].dam].code,
                  farm->pedigree.fish[crosses[i].sire].code);
    assert_string_equal(found.data, expected);
    text_done(&found);
    free(crosses);
}

/* The parents of D2, P2 and P3 were set long ago. */
static void test_dams_meet_sires(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents,
              "parent,sex,dam,sire\nD2,f,D1,P1\nP2,m,D1,P1\nP3,m,D1,\nD1,f,,\nP1,m,,\nD4,f,,\n", 6,
              0, 0);
    struct farm farm = read_farm(small);
    assert_crosses(&farm, "D2+P2\nD2+P3\nD4+P2\nD4+P3\n");
    farm_done(&farm);
}

static void test_fish_of_unknown_sex_are_crossed_once(void **state)
{
    struct small_ledger *small = *state;
    take_text(small, import_parents, "parent,sex\nD,f\nP,m\nX,\nY,\n", 4, 0, 0);
    struct farm farm = read_farm(small);
    assert_crosses(&farm, "D+P\nD+X\nD+Y\nX+P\nX+Y\nY+P\n");
    farm_done(&farm);
}

static void test_without_parents_there_is_no_cross(void **state)
{
    struct farm farm = read_farm(*state);
    assert_crosses(&farm, "");
    farm_done(&farm);
}

#define on_ledger(test)                                                                            \
    cmocka_unit_test_setup_teardown(test, small_ledger_setup, small_ledger_teardown)

/* D2 is D1's and P1's daughter; X may be either and is of no variety yet; Z is of another one, but
 * has been set for Kikusui. */
static int setup(void **state)
{
    int result = small_ledger_setup(state);
    take_text(*state, import_parents,
              "parent,sex,variety,dam,sire\nD1,f,Kikusui,,\nD2,f,Kikusui,D1,P1\n"
              "P1,m,Kikusui,,\nP2,m,Kikusui,,\nX,,,,\nZ,m,Ogon,,\nR,f,Kohaku,,\n",
              7, 0, 0);
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\n"
              "A1,2024,Kikusui,D1,P1,single\nA2,2025,Kikusui,D1,P1,single\n"
              "A3,2025,Kikusui,D1,P1,single\nA4,2025,Kikusui,D2,P1;P2,pooled\n"
              "A5,2026,Kikusui,D2,P1;P2,group\nA6,2026,Kikusui,D2,Z,single\n"
              "A7,2026,Kikusui,,P1,single\n",
              7, 0, 0);
    take_text(*state, import_rounds,
              "spawning,lot,stage,in,in_how,kept,kept_how\n"
              "A1,,first,1000,counted,200,counted\nA2,,first,900,counted,160,counted\n"
              "A3,,first,800,counted,200,counted\nA4,,first,1200,counted,300,counted\n"
              "A5,,first,1100,counted,310,counted\nA7,,first,700,counted,100,counted\n"
              "A1,,harvest,150,counted,30,counted\nA2,,harvest,160,counted,32,counted\n",
              8, 0, 0);
    return result;
}

static void make(struct small_ledger *small, const char *variety, int64_t fry,
                 struct pairs_table *ret)
{
    struct err err;
    struct selection of = {.season = 0};
    text_copy(of.variety, sizeof of.variety, variety == NULL ? "" : variety);
    assert_ok(pairs_make(small->ledger, STAGE_FIRST, &of, fry, NULL, ret, &err), &err);
}

/* Counts what it is told, and gives up after so many. */
struct watcher {
    int told, most;
    int64_t done, of;
};

static bool note_work(void *context, const char *what, int64_t done, int64_t of)
{
    struct watcher *watcher = context;
    assert_non_null(what);
    assert_true(of == 0 || (done > watcher->done && done <= of));
    watcher->done = done;
    watcher->of = of;
    return ++watcher->told < watcher->most;
}

static void it_tells_how_far_it_is(void **state)
{
    struct small_ledger *small = *state;
    struct watcher watcher = {.most = 1000000};
    const struct watch watch = {note_work, &watcher};
    struct pairs_table made;
    struct err err;
    assert_ok(pairs_make(small->ledger, STAGE_FIRST, NULL, 0, &watch, &made, &err), &err);
    assert_true(watcher.told > 0);
    assert_int_equal(watcher.done, watcher.of);
    pairs_done(&made);
    watcher = (struct watcher){.most = 3};
    assert_false(pairs_make(small->ledger, STAGE_FIRST, NULL, 0, &watch, &made, &err));
    assert_int_equal(err.code, ERR_ABSENT);
    assert_int_equal(watcher.told, 3);
}

static const struct pair_row *find(const struct pairs_table *made, const char *dam,
                                   const char *sires)
{
    for (size_t i = 0; i < made->count; i++)
        if (strcmp(made->rows[i].dam, dam) == 0 && strcmp(made->rows[i].sires, sires) == 0)
            return &made->rows[i];
    return NULL;
}

static void set_pairs_have_their_counts(void **state)
{
    struct pairs_table made;
    make(*state, NULL, 0, &made);
    const struct pair_row *pair = find(&made, "D1", "P1"), *group = find(&made, "D2", "P1;P2");
    assert_string_equal(pair->siring, "single");
    assert_int_equal(pair->seasons, 2);
    assert_int_equal(pair->spawnings, 3);
    assert_int_equal(pair->cull.in, 2700);
    assert_int_equal(pair->cull.kept, 560);
    assert_true(fabs(pair->rate - 560.0 / 2700) < 1e-12);
    assert_true(pair->has_interval && pair->interval.low < pair->rate);
    assert_int_equal(pair->of_dam, 3);
    assert_int_equal(pair->of_sires, 4);
    assert_true(pair->has_prediction && !pair->untried);
    assert_string_equal(group->siring, "pooled;group");
    assert_int_equal(group->spawnings, 2);
    assert_false(group->has_inbreeding);
    const struct pair_row *waiting = find(&made, "D2", "Z");
    assert_int_equal(waiting->spawnings, 0);
    assert_true(!waiting->untried && !waiting->has_rate && waiting->has_prediction);
    pairs_done(&made);
}

/* Expected of a pair: the seasons' mean and what dam, sire and pair add to it. */
static void expected_is_what_effects_say(void **state)
{
    struct pairs_table made;
    make(*state, NULL, 0, &made);
    const struct parent_effects *effects = parent_model_effects(made.fit.model);
    const struct level_names *names = made.fit.names;
    double logit = 0;
    for (int i = 0; i < names[KIND_SEASON].count; i++)
        logit += effects->seasons[i].estimate / names[KIND_SEASON].count;
    logit += effects->levels[PARENT_DAM][level_find(&names[PARENT_DAM], "D1")].estimate;
    logit += effects->levels[PARENT_SIRE][level_find(&names[PARENT_SIRE], "P1")].estimate;
    logit += effects->levels[PARENT_PAIR][level_find(&names[PARENT_PAIR], "D1+P1")].estimate;
    assert_true(fabs(find(&made, "D1", "P1")->prediction.expected - parent_share(logit)) < 1e-9);
    pairs_done(&made);
}

static void untried_crosses_are_of_one_variety(void **state)
{
    struct pairs_table made;
    make(*state, NULL, 0, &made);
    const struct pair_row *back = find(&made, "D2", "P1");
    assert_true(back->untried && back->spawnings == 0 && back->siring[0] == '\0');
    assert_true(fabs(back->inbreeding - 0.25) < 1e-12);
    assert_non_null(find(&made, "D1", "P2"));
    assert_non_null(find(&made, "D1", "Z"));
    assert_null(find(&made, "X", "P1"));
    assert_null(find(&made, "R", "Z"));
    assert_int_equal(made.count, 7);
    for (size_t i = 0; i < made.count; i++)
        assert_string_equal(made.rows[i].variety, "Kikusui");
    pairs_done(&made);
    make(*state, "Kohaku", 0, &made);
    assert_int_equal(made.count, 0);
    assert_true(made.no_model[0] != '\0');
    pairs_done(&made);
}

static void assert_inbred(const struct pairs_table *made, const char *dam, const char *sire,
                          double inbreeding)
{
    const struct pair_row *row = find(made, dam, sire);
    assert_true(row->has_inbreeding);
    assert_true(fabs(row->inbreeding - inbreeding) < 1e-12);
}

/* H is D1's son and half sib of D2, B her full brother; G was set in a group only. */
static void kin_are_told_whether_set_or_not(void **state)
{
    struct pairs_table made;
    take_text(*state, import_parents,
              "parent,sex,variety,dam,sire\nB,m,Kikusui,D1,P1\nH,m,Kikusui,D1,\nG,m,Ogon,,\n", 3, 0,
              0);
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\n"
              "A8,2026,Kikusui,D2,B,single\nA9,2026,Kikusui,D1,G;P2,group\n",
              2, 0, 0);
    make(*state, NULL, 0, &made);
    assert_inbred(&made, "D1", "P1", 0);
    assert_inbred(&made, "D2", "B", 0.25);
    assert_inbred(&made, "D2", "H", 0.125);
    assert_inbred(&made, "D1", "H", 0.25);
    assert_inbred(&made, "D1", "P2", 0);
    assert_inbred(&made, "D2", "G", 0);
    assert_true(find(&made, "D2", "H")->untried && !find(&made, "D2", "B")->untried);
    assert_false(find(&made, "D1", "G;P2")->has_inbreeding);
    pairs_done(&made);
}

/* 62 of the 360 that the first cull kept were left after the harvest; other varieties count for
 * themselves. */
static void later_culls_go_as_they_went(void **state)
{
    struct pairs_table made;
    take_text(*state, import_spawnings,
              "spawning,season,variety,dam,sires,siring\nB1,2025,Kohaku,R,P2,single\n", 1, 0, 0);
    take_text(*state, import_rounds,
              "spawning,lot,stage,in,in_how,kept,kept_how\n"
              "B1,,first,900,counted,100,counted\nB1,,harvest,90,counted,45,counted\n",
              2, 0, 0);
    make(*state, NULL, 5000, &made);
    assert_int_equal(made.fry, 5000);
    assert_true(fabs(find(&made, "D1", "P1")->later - 62.0 / 360) < 1e-12);
    assert_true(fabs(find(&made, "R", "P2")->later - 45.0 / 100) < 1e-12);
    pairs_done(&made);
}

static void the_best_come_first(void **state)
{
    struct pairs_table made;
    make(*state, NULL, 0, &made);
    for (size_t i = 1; i < made.count; i++)
        assert_true(made.rows[i - 1].prediction.expected >= made.rows[i].prediction.expected);
    pairs_done(&made);
}

/* D1 keeps what her young were, but is proposed to nobody, and takes no other's chance. */
static void who_is_out_is_history(void **state)
{
    struct pairs_table before, after;
    make(*state, NULL, 0, &before);
    take_text(*state, import_parents, "parent,state,since\nD1,sold,2026-10-01\n", 0, 1, 0);
    make(*state, NULL, 0, &after);
    const struct pair_row *was = find(&before, "D1", "P1"), *is = find(&after, "D1", "P1");
    assert_true(was->available && was->out == NULL && was->prediction.best > 0);
    assert_true(!is->available && is->out != NULL);
    assert_string_equal(is->out->code, "D1");
    assert_int_equal(is->cull.kept, was->cull.kept);
    assert_true(is->prediction.expected == was->prediction.expected);
    assert_true(is->prediction.best == 0);
    assert_null(find(&after, "D1", "P2"));
    assert_non_null(find(&after, "D2", "P1"));
    assert_true(find(&after, "D2", "P1")->prediction.best >
                find(&before, "D2", "P1")->prediction.best);
    pairs_done(&before);
    pairs_done(&after);
}

#define on_ledger_of_pairs(test) cmocka_unit_test_setup_teardown(test, setup, small_ledger_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_ledger(test_who_is_available),
        on_ledger(test_a_state_decides_who_is_available),
        on_ledger(test_dams_meet_sires),
        on_ledger(test_fish_of_unknown_sex_are_crossed_once),
        on_ledger(test_without_parents_there_is_no_cross),

        on_ledger_of_pairs(set_pairs_have_their_counts),
        on_ledger_of_pairs(expected_is_what_effects_say),
        on_ledger_of_pairs(untried_crosses_are_of_one_variety),
        on_ledger_of_pairs(kin_are_told_whether_set_or_not),
        on_ledger_of_pairs(later_culls_go_as_they_went),
        on_ledger_of_pairs(the_best_come_first),
        on_ledger_of_pairs(who_is_out_is_history),
        on_ledger_of_pairs(it_tells_how_far_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
