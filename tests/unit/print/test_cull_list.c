#include "cull_sample.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/print/cautions.h"
#include "senbetsu/print/cull_list.h"
#include "support/source.h"
#include "support/test.h"

static bool any_says(const char *part)
{
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        if (strstr(*caution, part) != NULL)
            return true;
    return false;
}

static void say_what_must_be_said(void **state)
{
    (void)state;
    static const char *const parts[] = {
        "Stop",
        "move no fish",
        "fish health authority",
        "KHV",
        "local law",
        "vet",
        "learned",
        "unconscious",
        "second",
        "cold or ice",
        "in the air",
        "freezer",
        "flushing",
        "not death",
        "30 minutes at least",
        "better 60",
        "no heart",
        "local rule",
        "drains",
        "no food and no feed",
        "Never release",
        "unlawful",
        "gloves",
        "dry floor",
        "low-voltage",
        "RCD",
        "not alone",
        "Healthy ponds first",
        "disinfect",
    };
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (!any_says(parts[i]))
            fail_msg("no caution says \"%s\"", parts[i]);
}

/* The only numbers are minutes. */
static void give_no_dose(void **state)
{
    (void)state;
    static const char *const units[] = {"mg", "ml", "mL", "g/", "%", "drop", "gram", "per litre"};
    for (const char *const *caution = cautions; *caution != NULL; caution++) {
        for (const char *at = *caution; *at != '\0'; at++)
            assert_in_range(*at, ' ', '~');
        for (size_t i = 0; i < sizeof units / sizeof *units; i++)
            assert_null(strstr(*caution, units[i]));
    }
}

static void check_described(const struct fish_row *fish, const char *expected)
{
    struct text out;
    text_init(&out);
    cull_describe(&out, fish);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void describes_a_fish_in_hand(void **state)
{
    (void)state;
    struct fish_row fish = sample_fish(1, 1, VERDICT_REJECT, "fault spine", "Bent spine");
    check_described(&fish, "");
    text_copy(fish.tag, sizeof fish.tag, "392141000123456");
    text_copy(fish.note, sizeof fish.note, "small");
    fish.since_pass = true;
    check_described(&fish, "tag 392141000123456; judged after the pass; note: small");
}

static void check_name(const struct cull_round *round, const char *expected)
{
    struct text out;
    text_init(&out);
    cull_name_text(&out, round);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void names_a_round_by_what_is_known(void **state)
{
    (void)state;
    struct cull_round round = sample_round(NULL, 0, NULL, 0);
    check_name(&round, "K26-1, Kikusui, harvest");
    text_copy(round.lot, sizeof round.lot, "upper pond");
    check_name(&round, "K26-1, Kikusui, lot upper pond, harvest");
    round.lot[0] = round.variety[0] = '\0';
    check_name(&round, "K26-1, harvest");
}

static struct fish_row at(int bowl, int number)
{
    return sample_fish(bowl, number, VERDICT_KEEP, "score", "score");
}

static void check_walk(const struct cull_round *round, const char *expected)
{
    struct text walked;
    text_init(&walked);
    struct bowl_iterator iterator = {0};
    for (struct bowl_fish bowl; bowl_iterator_next(round, &iterator, &bowl);)
        text_addf(&walked, "%d:%zu/%d ", bowl.number, bowl.count, bowl.expected);
    assert_string_equal(walked.data, expected);
    text_done(&walked);
}

static void walks_bowls_with_and_without_fish(void **state)
{
    (void)state;
    struct bowl bowls[] = {
        {.number = 1, .expected = 20}, {.number = 3, .expected = 5}, {.number = 7, .expected = 0}};
    struct fish_row fish[] = {at(1, 1), at(1, 2), at(2, 1), at(7, 4), at(9, 1)};
    struct cull_round round = sample_round(bowls, 3, fish, 5);
    check_walk(&round, "1:2/20 2:1/0 3:0/5 7:1/0 9:1/0 ");
    round = sample_round(bowls, 3, NULL, 0);
    check_walk(&round, "1:0/20 3:0/5 7:0/0 ");
    round = sample_round(NULL, 0, fish, 5);
    check_walk(&round, "1:2/0 2:1/0 7:1/0 9:1/0 ");
    round = sample_round(NULL, 0, NULL, 0);
    check_walk(&round, "");
}

static void check_unseen(int expected, const int *numbers, size_t count, const char *text, int fish)
{
    struct fish_row rows[8];
    for (size_t i = 0; i < count; i++)
        rows[i] = at(1, numbers[i]);
    struct bowl_fish bowl = {.number = 1, .expected = expected, .fish = rows, .count = count};
    struct text unseen;
    struct cull_count counts = {0};
    text_init(&unseen);
    cull_unseen_text(&bowl, &unseen);
    cull_count_add(&counts, &bowl);
    assert_string_equal(unseen.data, text);
    assert_int_equal(counts.unseen, fish);
    text_done(&unseen);
}

static void names_the_numbers_nobody_looked_at(void **state)
{
    (void)state;
    check_unseen(20, (const int[]){1, 2, 3}, 3, "4–20", 17);
    check_unseen(6, (const int[]){2, 4, 5}, 3, "1, 3, 6", 3);
    check_unseen(9, (const int[]){4, 8}, 2, "1–3, 5–7, 9", 7);
    check_unseen(3, NULL, 0, "1–3", 3);
    check_unseen(3, (const int[]){1, 2, 3}, 3, "", 0);
}

static void expects_nothing_where_no_number_is_known(void **state)
{
    (void)state;
    check_unseen(0, (const int[]){4, 9}, 2, "", 0);
    check_unseen(0, NULL, 0, "", 0);
}

static void takes_fish_beyond_the_expected_ones(void **state)
{
    (void)state;
    check_unseen(3, (const int[]){1, 7, 9}, 3, "2–3", 2);
    check_unseen(3, (const int[]){7, 9}, 2, "1–3", 3);
    check_unseen(3, (const int[]){2, 3, 4}, 3, "1", 1);
}

/* What the round's form says outweighs its bowls where it is more, and is no less than they hold.
 */
static void counts_fish_that_are_in_no_bowl_yet(void **state)
{
    (void)state;
    struct bowl bowls[] = {{.number = 1, .expected = 5}};
    struct fish_row fish[] = {{.bowl = 1, .number = 1, .verdict = VERDICT_KEEP},
                              {.bowl = 1, .number = 2, .verdict = VERDICT_OPEN}};
    struct cull_round round = {
        .bowls = bowls, .bowl_count = 1, .fish = fish, .fish_count = 2, .expected = 12};
    struct cull_count count = cull_count_round(&round);
    assert_int_equal(count.unseen, 10);
    assert_int_equal(cull_not_judged(&count), 11);
    round.expected = 4;
    count = cull_count_round(&round);
    assert_int_equal(cull_not_judged(&count), 4);
}

static void counts_each_fish_once(void **state)
{
    (void)state;
    struct bowl bowls[] = {{.number = 1, .expected = 6}, {.number = 2, .expected = 2}};
    struct fish_row fish[] = {
        at(1, 1),
        sample_fish(1, 2, VERDICT_REJECT, "fault spine", "Bent spine"),
        sample_fish(1, 3, VERDICT_HOLD, "places", "no place left"),
        sample_fish(1, 5, VERDICT_OPEN, "unscored white", "White ground not judged"),
        sample_fish(3, 1, VERDICT_REJECT, "score", "score"),
    };
    fish[4].since_pass = true;
    struct cull_round round = sample_round(bowls, 2, fish, 5);
    struct cull_count count = cull_count_round(&round);
    struct text text;
    text_init(&text);
    cull_count_text(&count, &text);
    assert_string_equal(text.data, "take out 2, look again 1, keep 1, not judged 5: 9 in all");
    text_done(&text);
}

static struct fish_row sent(int number, enum verdict basin, enum verdict verdict)
{
    struct fish_row fish = sample_fish(1, number, verdict, "fault spine", "Bent spine");
    fish.sent = basin;
    return fish;
}

/* `parts` must follow one another on the list of the round. */
static void check_follow(const struct cull_round *round, const char *const *parts)
{
    struct cull_round rounds[] = {*round};
    struct cull_list list = {.title = "K26-1, harvest", .rounds = rounds, .round_count = 1};
    struct text out;
    text_init(&out);
    cull_list_print(&list, (struct page_setup){.columns = 200}, &out);
    const char *at = out.data;
    for (; *parts != NULL; parts++) {
        const char *found = strstr(at, *parts);
        if (found == NULL)
            fail_msg("\"%s\" does not follow in:\n%s", *parts, out.data);
        else
            at = found + strlen(*parts);
    }
    text_done(&out);
}

/* One number, two fish: whoever reads the list must not take out the first he sees. */
static void warns_of_two_fish_of_one_number(void **state)
{
    (void)state;
    struct fish_row fish[] = {sample_fish(1, 14, VERDICT_KEEP, "score", "score"),
                              sample_fish(1, 15, VERDICT_REJECT, "score", "score"),
                              sample_fish(1, 15, VERDICT_HOLD, "score", "score")};
    struct cull_round round = sample_round(NULL, 0, fish, 3);
    round.waiting = WAITING_CELL;
    check_follow(&round, (const char *const[]){"take out 1 of 3", "TWO FISH of this number", ": 15",
                                               "second look: 15", NULL});
}

static void check_basins(struct fish_row *fish, size_t count, enum fate fate,
                         const char *const *parts)
{
    struct cull_round round = sample_round(NULL, 0, fish, count);
    round.waiting = WAITING_BASIN;
    round.fate = fate;
    check_follow(&round, parts);
}

/* What changes sides first, a keep out of the rejects before all; then the count; then the rejects,
 * which have been read about before. */
static void picks_counts_and_then_empties(void **state)
{
    (void)state;
    struct fish_row fish[] = {
        sent(1, VERDICT_KEEP, VERDICT_REJECT),   sent(2, VERDICT_HOLD, VERDICT_KEEP),
        sent(3, VERDICT_REJECT, VERDICT_KEEP),   sent(4, VERDICT_OPEN, VERDICT_HOLD),
        sent(5, VERDICT_REJECT, VERDICT_OPEN),   sent(6, VERDICT_KEEP, VERDICT_KEEP),
        sent(7, VERDICT_REJECT, VERDICT_REJECT), sent(8, VERDICT_OPEN, VERDICT_OPEN),
    };
    static const char *const parts[] = {
        "Still gills are not death",
        "Reject basin (3 fish): pick the best 1, put it to the kept; pick 1 to be judged again.",
        "[   ] Hold basin (1 fish): pick the best 1, put it to the kept.",
        "[   ] Keep basin (2 fish): pick the worst 1, put it to the rejects; 1 stays.",
        "[   ] Bowl 1: put 1 to the held; 1 not judged yet, stays in it.",
        "[   ] Count: reject 2 ______   hold 1 ______   keep 3 ______",
        "Stop",
        "[   ] Reject basin: 2 fish, all out once it is decided where to.",
        "Guidance",
        NULL,
    };
    check_basins(fish, 8, FATE_UNDECIDED, parts);
}

static void a_basin_to_empty_is_one_line(void **state)
{
    (void)state;
    struct fish_row fish[31 + 9];
    for (int i = 0; i < 40; i++)
        fish[i] = sent(i + 1, i < 31 ? VERDICT_REJECT : VERDICT_HOLD,
                       i < 31 ? VERDICT_REJECT : VERDICT_HOLD);
    static const char *const parts[] = {
        "       Hold basin (9 fish): 9 stay for the second look.\n [   ] Count",
        "[   ] Reject basin: 31 fish, all out: pond-grade 31.", NULL};
    check_basins(fish, 40, FATE_POND_GRADE, parts);
}

/* No other fish is named: its number does not find it. */
static void finds_by_tag_what_lies_wrong(void **state)
{
    (void)state;
    struct fish_row fish[] = {sent(3, VERDICT_REJECT, VERDICT_KEEP),
                              sent(4, VERDICT_REJECT, VERDICT_HOLD),
                              sent(5, VERDICT_REJECT, VERDICT_REJECT)};
    text_copy(fish[0].tag, sizeof fish[0].tag, "392141000123456");
    text_copy(fish[0].note, sizeof fish[0].note, "red lips");
    text_copy(fish[2].tag, sizeof fish[2].tag, "392141000000001");
    static const char *const parts[] = {
        "Reject basin (3 fish): find 1 by tag, as below; pick the best 1, put it to the held.\n    "
        "     [   ] tag 392141000123456; note: red lips; to the kept\n",
        NULL};
    check_basins(fish, 3, FATE_POND_GRADE, parts);
}

static void nothing_to_take_out_is_said(void **state)
{
    (void)state;
    struct fish_row fish = sent(1, VERDICT_KEEP, VERDICT_KEEP);
    static const char *const parts[] = {"Keep basin (1 fish): 1 stays.", "Nothing to take out.",
                                        NULL};
    check_basins(&fish, 1, FATE_POND_GRADE, parts);
}

static struct fish_row tied(int number, enum verdict basin)
{
    struct fish_row fish = sample_fish(1, number, VERDICT_HOLD, "places", "no place left");
    fish.sent = basin;
    fish.rank = 2;
    return fish;
}

/* At the basins somebody has to pick, and the list says how many; on the screen the fish come up.
 */
static void a_tie_is_said_with_what_to_do(void **state)
{
    (void)state;
    struct fish_row fish[] = {sent(1, VERDICT_KEEP, VERDICT_KEEP), tied(2, VERDICT_KEEP),
                              tied(3, VERDICT_HOLD), tied(4, VERDICT_HOLD), tied(5, VERDICT_HOLD)};
    struct cull_round round = sample_round(NULL, 0, fish, 5);
    static const char *const cells[] = {"! 4 fish tie at 50.0 for 3 places. A closer look",
                                        "print a new list", "Read before", NULL};
    static const char *const basin[] = {
        "! 4 fish tie at 50.0 for 3 places. They are picked below",
        "Hold basin (3 fish): pick the best 2, put them to the kept; 1 stays for the second look.",
        "Keep basin (2 fish): 2 stay.", "hold 1 ______   keep 4 ______", NULL};
    round.places = 4;
    text_copy(round.left_open, sizeof round.left_open, "4 fish tie at 50.0 for 3 places");
    check_follow(&round, cells);
    round.waiting = WAITING_BASIN;
    check_follow(&round, basin);
}

/* A list that is not the last says so before anything is done. */
static void says_what_it_rests_on(void **state)
{
    (void)state;
    struct bowl bowl = {.number = 1, .expected = 3};
    struct fish_row fish[] = {sent(1, VERDICT_KEEP, VERDICT_KEEP),
                              sent(2, VERDICT_KEEP, VERDICT_KEEP)};
    struct cull_round round = sample_round(&bowl, 1, fish, 2);
    static const char *const unfinished[] = {
        "Pond: North 3\n",
        "Judged: 2026-11-04 to 2026-11-05 by Aoki, Ines\n! not done: 2 of 3 judged\n",
        "Standard: kikusui-harvest version 1: keep from 65, hold from 55; 20 places\n",
        "Pass: 2026-11-05 16:20\n! The pass is out of date: 1 fish judged since. Pass again",
        "! 29 fish tie at 50.0 for 10 places. A closer look decides that",
        "Read before",
        NULL};
    text_copy(round.not_done, sizeof round.not_done, "not done: 2 of 3 judged");
    text_copy(round.left_open, sizeof round.left_open, "29 fish tie at 50.0 for 10 places");
    text_copy(round.outdated, sizeof round.outdated, "1 fish judged since");
    check_follow(&round, unfinished);
    static const char *const bare[] = {"Judged: on no day yet\n", "hold from 55\n",
                                       "Pass: none yet; ", NULL};
    round = sample_round(NULL, 0, fish, 2);
    round.first_day[0] = round.last_day[0] = round.judges[0] = round.passed[0] = '\0';
    round.places = -1;
    check_follow(&round, bare);
}

#define CSV_HEAD                                                                                   \
    "bowl,fish,verdict,reason,fate,spawning,lot,stage,length_mm,tag,note,score,from,to,station\n"

enum { FISH = 60 };

/* Three bowls of twenty, of which the last was left in the middle. */
static struct bowl three_bowls[] = {
    {.number = 1, .expected = 20}, {.number = 2, .expected = 20}, {.number = 3, .expected = 20}};

static size_t evening(struct fish_row fish[FISH])
{
    size_t count = 0;
    for (int bowl = 1; bowl <= 3; bowl++)
        for (int number = 1; number <= (bowl == 3 ? 12 : 20); number++) {
            int turn = (bowl * 7 + number * 5) % 12;
            fish[count] = sample_fish(bowl, number, VERDICT_KEEP, "score", "score");
            if (turn < 4)
                fish[count] =
                    sample_fish(bowl, number, VERDICT_REJECT, "fault spine", "Bent spine");
            else if (turn < 6)
                fish[count] = sample_fish(bowl, number, VERDICT_REJECT, "score", "score");
            else if (turn == 6)
                fish[count] = sample_fish(bowl, number, VERDICT_HOLD, "places", "no place left");
            snprintf(fish[count].score, sizeof fish[count].score, "%d.%d", 90 - turn * 5,
                     turn % 10);
            count++;
        }
    fish[11] = sample_fish(1, 12, VERDICT_OPEN, "unscored white", "White ground not judged");
    text_copy(fish[4].tag, sizeof fish[4].tag, "392141000123456");
    fish[6].since_pass = true;
    text_copy(fish[30].note, sizeof fish[30].note, "small, torn left pectoral fin");
    return count;
}

static void print_to(const struct cull_list *list, bool ascii, const char *path)
{
    struct page_setup setup = page_default();
    setup.ascii = ascii;
    struct text out;
    text_init(&out);
    cull_list_print(list, setup, &out);
    assert_as_in_source(path, out.data);
    text_done(&out);
}

static struct cull_list list_of(struct cull_round *rounds, size_t count)
{
    return (struct cull_list){.title = "K26-1, harvest",
                              .printed = "2026-11-05 17:40",
                              .rounds = rounds,
                              .round_count = count};
}

/* The last bowl is not done, and a fish was judged after the pass. */
static struct cull_round evening_round(struct fish_row fish[FISH])
{
    struct cull_round round = sample_round(three_bowls, 3, fish, evening(fish));
    text_copy(round.not_done, sizeof round.not_done, "not done: 51 of 60 judged");
    text_copy(round.outdated, sizeof round.outdated, "1 fish judged since");
    return round;
}

static void prints_cells_bowl_by_bowl(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round round = evening_round(fish);
    struct cull_list list = list_of(&round, 1);
    print_to(&list, false, "tests/data/print/cells.txt");
}

static void prints_basins_step_by_step(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round round = evening_round(fish);
    round.waiting = WAITING_BASIN;
    round.fate = FATE_POND_GRADE;
    /* Four tie for two places, one of them in the keep basin. */
    round.places = 22;
    text_copy(round.left_open, sizeof round.left_open, "4 fish tie at 60.6 for 2 places");
    for (size_t i = 0; i < round.fish_count; i++)
        fish[i].rank = strcmp(fish[i].reason, "places") == 0 ? 21 : 0;
    fish[18].sent = VERDICT_KEEP;
    fish[1].sent = VERDICT_HOLD;
    fish[9].sent = VERDICT_REJECT;
    fish[22].sent = VERDICT_REJECT;
    fish[22].length_mm = 163;
    fish[25].sent = VERDICT_KEEP;
    fish[41].sent = VERDICT_OPEN;
    struct cull_list list = list_of(&round, 1);
    print_to(&list, false, "tests/data/print/basins.txt");
    print_to(&list, true, "tests/data/print/basins-ascii.txt");
}

static void prints_several_rounds_and_their_sum(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round rounds[2] = {evening_round(fish)};
    struct bowl unseen_bowl = {.number = 1, .expected = 7};
    rounds[1] = sample_round(&unseen_bowl, 1, NULL, 0);
    text_copy(rounds[1].spawning, sizeof rounds[1].spawning, "春の菊水");
    text_copy(rounds[1].lot, sizeof rounds[1].lot, "upper pond");
    rounds[1].passed[0] = rounds[1].first_day[0] = rounds[1].last_day[0] = '\0';
    rounds[1].judges[0] = rounds[1].pond[0] = '\0';
    rounds[0].fates.fish[FATE_KEPT_APART] = 6;
    rounds[0].fates.fish[FATE_PUT_DOWN] = 15;
    rounds[1].fate = FATE_PUT_DOWN;
    rounds[1].fates.fish[FATE_PASSED_ON] = 2;
    struct cull_list list = list_of(rounds, 2);
    text_copy(list.title, sizeof list.title, "2026-11-05");
    print_to(&list, false, "tests/data/print/two-rounds.txt");
}

static void prints_a_list_of_nothing(void **state)
{
    (void)state;
    struct cull_list list = list_of(NULL, 0);
    struct text out;
    text_init(&out);
    cull_list_print(&list, page_default(), &out);
    assert_non_null(strstr(out.data, "No round belongs on this list."));
    text_clear(&out);
    cull_list_csv(&list, &out);
    assert_string_equal(out.data, CSV_HEAD);
    text_done(&out);
}

static void writes_csv_bowl_by_bowl_worst_first(void **state)
{
    (void)state;
    struct bowl bowls[] = {{.number = 1, .expected = 6}, {.number = 2, .expected = 0}};
    struct fish_row fish[] = {
        sample_fish(1, 1, VERDICT_HOLD, "places", "no place left"),
        sample_fish(1, 2, VERDICT_OPEN, "unscored white", "White ground not judged"),
        sample_fish(1, 3, VERDICT_KEEP, "score", "score"),
        sample_fish(1, 5, VERDICT_REJECT, "by hand: \"dam's line\", see note (Aoki)", "by hand"),
        sample_fish(2, 1, VERDICT_REJECT, "fault spine", "Bent spine"),
    };
    fish[0].length_mm = 163;
    fish[4].sent = VERDICT_KEEP;
    text_copy(fish[0].score, sizeof fish[0].score, "61.5");
    text_copy(fish[4].tag, sizeof fish[4].tag, "392141000123456");
    text_copy(fish[4].note, sizeof fish[4].note, "small, thin");
    struct cull_round round = sample_round(bowls, 2, fish, 5);
    round.fate = FATE_PASSED_ON;
    struct cull_list list = list_of(&round, 1);
    struct text out;
    text_init(&out);
    cull_list_csv(&list, &out);
    assert_string_equal(out.data,
                        CSV_HEAD "1,5,reject,\"by hand: \"\"dam's line\"\", see note (Aoki)\","
                                 "passed-on,K26-1,K26-1,harvest,,,,,cell,passed-on,\n"
                                 "1,1,hold,places,,K26-1,K26-1,harvest,163,,,61.5,cell,cell,\n"
                                 "1,2,open,unscored white,,K26-1,K26-1,harvest,,,,,bowl,bowl,\n"
                                 "1,4,open,,,K26-1,K26-1,harvest,,,,,bowl,bowl,\n"
                                 "1,6,open,,,K26-1,K26-1,harvest,,,,,bowl,bowl,\n"
                                 "2,1,reject,fault spine,passed-on,K26-1,K26-1,harvest,,"
                                 "392141000123456,\"small, thin\",,cell,passed-on,\n");
    round.waiting = WAITING_BASIN;
    round.fate = FATE_UNDECIDED;
    text_clear(&out);
    cull_list_csv(&list, &out);
    assert_non_null(strstr(out.data, "61.5,hold,hold,\n"));
    assert_non_null(strstr(out.data, "\"small, thin\",,keep,undecided,\n"));
    text_done(&out);
}

/* Lists of every kind, from a seed: nothing may be dropped, doubled or too wide. */
enum { BOWLS = 5, NUMBERS = 40 };

static unsigned long long seed;

static int chance(int outcomes)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (int)((seed >> 33) % (unsigned)outcomes);
}

static struct fish_row any_fish(int bowl, int number)
{
    static const char *const labels[] = {"Bent spine", "score", "",
                                         "長い理由の長い理由の長い理由の",
                                         "a reason of some forty characters, no less"};
    struct fish_row fish = sample_fish(bowl, number, (enum verdict)chance(VERDICT_COUNT),
                                       chance(2) ? "score" : "places", labels[chance(5)]);
    if (chance(2))
        text_copy(fish.score, sizeof fish.score, "61.5");
    if (chance(6) == 0)
        text_copy(fish.tag, sizeof fish.tag,
                  "３９２１４１０００１２３４５６３９２１４１０００１２３４５６");
    if (chance(6) == 0)
        text_copy(fish.note, sizeof fish.note,
                  "a torn fin – × – 体形 and so on to the end of the line");
    if (chance(3) == 0)
        fish.sent = (enum verdict)chance(VERDICT_COUNT);
    fish.since_pass = chance(8) == 0;
    fish.length_mm = chance(3) == 0 ? 140 : 0;
    return fish;
}

static size_t any_round(struct bowl bowls[BOWLS], struct fish_row *fish)
{
    size_t count = 0;
    for (int bowl = 1; bowl <= BOWLS; bowl++) {
        int size = chance(NUMBERS);
        bowls[bowl - 1] =
            (struct bowl){.number = bowl, .expected = chance(2) ? chance(NUMBERS) : 0};
        for (int number = 1; number <= size; number++)
            if (chance(10) > 0)
                fish[count++] = any_fish(bowl, number);
    }
    return count;
}

/* How often each fish of a bowl is named in boxes, and how often after the words for each verdict.
 */
struct reading {
    int boxes[BOWLS + 1][NUMBERS + 1];
    int named[BOWLS + 1][NUMBERS + 1];
    int bowl;
};

static void read_boxes(struct reading *reading, const char *line)
{
    int number;
    for (int used = 0;; line += used, used = 0) {
        if (sscanf(line, " %d [ ]%n", &number, &used) != 1 || used == 0)
            return;
        reading->boxes[reading->bowl][number]++;
    }
}

/* "3, 5–7, 9" */
static void read_numbers(struct reading *reading, const char *list)
{
    int first, last, used;
    for (; sscanf(list, "%d%n", &first, &used) == 1; list += strspn(list, ", ")) {
        list += used;
        last = first;
        if (sscanf(list, "–%d%n", &last, &used) == 1)
            list += used;
        for (int number = first; number <= last; number++)
            reading->named[reading->bowl][number]++;
    }
}

static void read_line(struct reading *reading, const char *line)
{
    static const char *const words[] = {
        "stay for the second look: ", "not judged yet, stay: ", "never looked at, stay: "};
    if (strncmp(line, "Bowl ", 5) == 0)
        reading->bowl = atoi(line + 5);
    read_boxes(reading, line);
    for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
        const char *found = strstr(line, words[i]);
        if (found != NULL)
            read_numbers(reading, found + strlen(words[i]));
    }
}

/* Sees that each page is a page, and plain where that was wanted. */
static void check_pages(char *printed, struct page_setup setup)
{
    int page = 0, pages = 0, total = 0, lines = 0;
    for (char *line = printed, *end; *line != '\0'; line = end + 1, lines++) {
        end = strchr(line, '\n');
        *end = '\0';
        bool begins = *line == '\f';
        line += begins;
        if (utf8_width(line) > setup.columns)
            fail_msg("wider than %d columns: %s", setup.columns, line);
        for (const char *at = line; setup.ascii && *at != '\0'; at++)
            assert_in_range(*at, ' ', '~');
        if (begins || line == printed) {
            lines = 0;
            assert_true(strncmp(line, "Cull list: K26-1, harvest", 25) == 0);
            assert_true(setup.lines == 0 ||
                        sscanf(strstr(line, " page "), " page %d of %d", &page, &total) == 2);
            assert_int_equal(page, setup.lines == 0 ? 0 : ++pages);
        }
        assert_true(setup.lines == 0 || lines < setup.lines);
    }
    assert_true(setup.lines == 0 || total == pages);
}

/* In cells each reject has a box, and each other fish that is not kept stands in a list, once. */
static void check_cells(const struct cull_round *round, char *printed)
{
    int boxes[BOWLS + 1][NUMBERS + 1] = {0}, named[BOWLS + 1][NUMBERS + 1] = {0};
    struct reading reading = {0};
    for (size_t i = 0; i < round->bowl_count; i++)
        for (int number = 1; number <= round->bowls[i].expected; number++)
            named[round->bowls[i].number][number] = 1;
    for (size_t i = 0; i < round->fish_count; i++) {
        const struct fish_row *fish = &round->fish[i];
        boxes[fish->bowl][fish->number] = fish->verdict == VERDICT_REJECT;
        named[fish->bowl][fish->number] =
            fish->verdict == VERDICT_HOLD || fish->verdict == VERDICT_OPEN;
    }
    for (char *line = strtok(printed, "\n"); line != NULL; line = strtok(NULL, "\n"))
        read_line(&reading, line);
    assert_memory_equal(reading.boxes, boxes, sizeof boxes);
    assert_memory_equal(reading.named, named, sizeof named);
}

/* In basins the count at the end is what stands. */
static void check_counted(const struct cull_round *round, const char *printed)
{
    struct cull_count count = cull_count_round(round);
    struct text line;
    text_init(&line);
    text_addf(&line, "Count: reject %d ______   hold %d ______   keep %d ______",
              count.fish[VERDICT_REJECT], count.fish[VERDICT_HOLD], count.fish[VERDICT_KEEP]);
    if (strstr(printed, line.data) == NULL)
        fail_msg("\"%s\" is not in:\n%s", line.data, strstr(printed, "The work"));
    text_done(&line);
}

static void lists_every_fish_that_is_not_kept_exactly_once(void **state)
{
    (void)state;
    static struct fish_row fish[BOWLS * NUMBERS];
    struct bowl bowls[BOWLS];
    for (seed = 1; seed < 200; seed++) {
        unsigned long long start = seed;
        struct cull_round round = sample_round(bowls, BOWLS, fish, any_round(bowls, fish));
        round.waiting = (enum waiting)chance(WAITING_COUNT);
        struct cull_list list = list_of(&round, 1);
        struct page_setup setup = {80, chance(4) == 0 ? 0 : 30 + chance(40), chance(2)};
        struct text out;
        text_init(&out);
        cull_list_print(&list, setup, &out);
        check_pages(out.data, setup);
        text_clear(&out);
        cull_list_print(&list, (struct page_setup){4000, 0, false}, &out); /* no line is broken */
        if (round.waiting == WAITING_BASIN)
            check_counted(&round, out.data);
        else
            check_cells(&round, out.data);
        text_done(&out);
        seed = start;
    }
}

/* A page ends with what a hand has done, not with what it is to do on the next. */
static void never_leaves_a_title_at_the_end_of_a_page(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round round = sample_round(three_bowls, 3, fish, evening(fish));
    struct cull_list list = list_of(&round, 1);
    for (int lines = 24; lines < 70; lines++) {
        struct text out;
        text_init(&out);
        cull_list_print(&list, (struct page_setup){80, lines, true}, &out);
        for (const char *end = out.data; (end = strstr(end, "\n\f")) != NULL; end++) {
            const char *line = end;
            while (line[-1] != '\n')
                line--;
            if (strncmp(line, "--", 2) == 0 || strncmp(line, "Bowl ", 5) == 0)
                fail_msg("a page of %d lines ends in: %.*s", lines, (int)(end - line), line);
        }
        text_done(&out);
    }
}

/* Paper is handed out by the sheet. */
static void sixty_fish_are_one_page(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    for (int waiting = 0; waiting < WAITING_COUNT; waiting++) {
        struct cull_round round = sample_round(three_bowls, 3, fish, evening(fish));
        round.waiting = (enum waiting)waiting;
        struct cull_list list = list_of(&round, 1);
        struct text out;
        text_init(&out);
        cull_list_print(&list, page_default(), &out);
        assert_non_null(strstr(out.data, "page 1 of 1\n"));
        text_done(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(say_what_must_be_said),
        cmocka_unit_test(give_no_dose),

        cmocka_unit_test(describes_a_fish_in_hand),
        cmocka_unit_test(names_a_round_by_what_is_known),

        cmocka_unit_test(walks_bowls_with_and_without_fish),
        cmocka_unit_test(names_the_numbers_nobody_looked_at),
        cmocka_unit_test(expects_nothing_where_no_number_is_known),
        cmocka_unit_test(takes_fish_beyond_the_expected_ones),
        cmocka_unit_test(counts_fish_that_are_in_no_bowl_yet),
        cmocka_unit_test(counts_each_fish_once),

        cmocka_unit_test(picks_counts_and_then_empties),
        cmocka_unit_test(a_basin_to_empty_is_one_line),
        cmocka_unit_test(finds_by_tag_what_lies_wrong),
        cmocka_unit_test(nothing_to_take_out_is_said),
        cmocka_unit_test(a_tie_is_said_with_what_to_do),
        cmocka_unit_test(says_what_it_rests_on),

        cmocka_unit_test(prints_cells_bowl_by_bowl),
        cmocka_unit_test(prints_basins_step_by_step),
        cmocka_unit_test(prints_several_rounds_and_their_sum),
        cmocka_unit_test(prints_a_list_of_nothing),
        cmocka_unit_test(writes_csv_bowl_by_bowl_worst_first),
        cmocka_unit_test(lists_every_fish_that_is_not_kept_exactly_once),
        cmocka_unit_test(never_leaves_a_title_at_the_end_of_a_page),
        cmocka_unit_test(sixty_fish_are_one_page),
        cmocka_unit_test(warns_of_two_fish_of_one_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
