#include "cull_sample.h"
#include "senbetsu/base/utf8.h"
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
        "AVMA Guidelines for the Euthanasia of Animals",
        "WOAH Aquatic Code",
        "not yet dead",
        "chilling",
        "flushing",
        "vet",
        "local law",
        "local rule",
        "drains",
        "food or feed",
        "release",
        "unlawful",
        "move nothing",
        "KHV",
        "disinfect",
        "Healthy ponds first",
        "gloves",
        "RCD",
        "low-voltage",
        "not alone",
    };
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (!any_says(parts[i]))
            fail_msg("no caution says \"%s\"", parts[i]);
}

/* A dose has a number in it: there is none. */
static void are_plain_ascii_without_numbers(void **state)
{
    (void)state;
    for (const char *const *caution = cautions; *caution != NULL; caution++)
        for (const char *at = *caution; *at != '\0'; at++) {
            assert_in_range(*at, ' ', '~');
            assert_false('0' <= *at && *at <= '9');
        }
}

static int by_number(const void *left, const void *right)
{
    return ((const struct fish_ref *)left)->row->number -
           ((const struct fish_ref *)right)->row->number;
}

static void refers_to_the_rows_in_order(void **state)
{
    (void)state;
    const struct fish_row rows[] = {sample_fish(1, 3, VERDICT_KEEP, "", ""),
                                    sample_fish(1, 1, VERDICT_KEEP, "", ""),
                                    sample_fish(1, 2, VERDICT_KEEP, "", "")};
    struct fish_ref *order = fish_sorted(rows, 3, by_number);
    assert_ptr_equal(order[0].row, &rows[1]);
    assert_ptr_equal(order[1].row, &rows[2]);
    assert_ptr_equal(order[2].row, &rows[0]);
    free(order);
}

static void gives_something_to_free_for_no_rows(void **state)
{
    (void)state;
    struct fish_ref *order = fish_sorted(NULL, 0, by_number);
    assert_non_null(order);
    free(order);
}

static void check_described(const struct fish_row *fish, const char *expected)
{
    struct text out;
    text_init(&out);
    cull_describe(&out, fish);
    assert_string_equal(out.data, expected);
    text_done(&out);
}

static void describes_a_fish_by_its_reason(void **state)
{
    (void)state;
    struct fish_row fish = sample_fish(1, 1, VERDICT_REJECT, "fault spine", "Bent spine");
    text_copy(fish.score, sizeof fish.score, "71.4");
    check_described(&fish, "Bent spine");
    text_copy(fish.tag, sizeof fish.tag, "392141000123456");
    text_copy(fish.note, sizeof fish.note, "small");
    fish.since_pass = true;
    check_described(&fish, "Bent spine; tag 392141000123456; judged after the pass; note: small");
}

static void tells_the_score_where_it_decided(void **state)
{
    (void)state;
    struct fish_row fish = sample_fish(1, 1, VERDICT_REJECT, "score", "score");
    check_described(&fish, "score");
    text_copy(fish.score, sizeof fish.score, "41.3");
    check_described(&fish, "score 41.3");
    fish = sample_fish(1, 1, VERDICT_HOLD, "places", "no place left");
    text_copy(fish.score, sizeof fish.score, "71.4");
    check_described(&fish, "no place left; score 71.4");
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

static void sets_rows_in_fives(void **state)
{
    (void)state;
    struct page page;
    struct text out;
    page_init(&page, (struct page_setup){.columns = 40});
    text_init(&out);
    for (int row = 0; row < 7; row++) {
        cull_begin_row(&page, row);
        page_addf(&page, "%d", row + 1);
    }
    page_write(&page, &out);
    assert_non_null(strstr(out.data, "1\n2\n3\n4\n5\n\n6\n7\n"));
    text_done(&out);
    page_done(&page);
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
    assert_int_equal(count.since, 1);
    text_done(&text);
}

static struct fish_row sent(int number, enum verdict basin, enum verdict verdict)
{
    struct fish_row fish = sample_fish(1, number, verdict, "fault spine", "Bent spine");
    fish.sent = basin;
    return fish;
}

static void a_fish_in_a_cell_is_always_in_place(void **state)
{
    (void)state;
    struct cull_round round = sample_round(NULL, 0, NULL, 0);
    struct fish_row fish = sent(1, VERDICT_KEEP, VERDICT_REJECT);
    assert_true(cull_in_place(&round, &fish, VERDICT_REJECT));
    assert_false(cull_in_place(&round, &fish, VERDICT_KEEP));
}

static void a_fish_in_a_basin_is_in_place_in_its_own(void **state)
{
    (void)state;
    struct cull_round round = sample_round(NULL, 0, NULL, 0);
    round.waiting = WAITING_BASIN;
    for (int basin = 0; basin < VERDICT_COUNT; basin++)
        for (int verdict = 0; verdict < VERDICT_COUNT; verdict++) {
            struct fish_row fish = sent(1, (enum verdict)basin, (enum verdict)verdict);
            assert_int_equal(cull_in_place(&round, &fish, (enum verdict)verdict), basin == verdict);
        }
}

/* `parts` must follow one another in what the moves of these fish look like. */
static void check_moves(struct fish_row *fish, size_t count, const char *const *parts)
{
    struct cull_round round = sample_round(NULL, 0, fish, count);
    round.waiting = WAITING_BASIN;
    struct cull_count counts = cull_count_round(&round);
    struct page page;
    struct text out;
    page_init(&page, (struct page_setup){.columns = 80});
    text_init(&out);
    cull_basin_moves(&page, &round, &counts);
    page_write(&page, &out);
    const char *at = out.data;
    for (; *parts != NULL; parts++) {
        const char *found = strstr(at, *parts);
        if (found == NULL)
            fail_msg("\"%s\" does not follow in:\n%s", *parts, out.data);
        else
            at = found + strlen(*parts);
    }
    text_done(&out);
    page_done(&page);
}

static void searches_the_rejects_first(void **state)
{
    (void)state;
    struct fish_row fish[] = {
        sent(1, VERDICT_KEEP, VERDICT_REJECT), sent(2, VERDICT_HOLD, VERDICT_KEEP),
        sent(3, VERDICT_REJECT, VERDICT_KEEP), sent(4, VERDICT_OPEN, VERDICT_HOLD),
        sent(5, VERDICT_REJECT, VERDICT_OPEN), sent(6, VERDICT_KEEP, VERDICT_KEEP),
    };
    static const char *const parts[] = {
        "MOVE FIRST: 5",
        "Out of the REJECT basin: 2\n",
        "bowl  1, fish    3   [   ]   into KEEP",
        "bowl  1, fish    5   [   ]   to be judged",
        "Out of the HOLD basin: 1\n",
        "fish    2   [   ]   into KEEP",
        "Out of the KEEP basin: 1\n",
        "fish    1   [   ]   into REJECT",
        "In no basin yet: 1\n",
        "fish    4   [   ]   into HOLD",
        "THEN COUNT",
        NULL,
    };
    check_moves(fish, 6, parts);
}

static void says_what_helps_to_find_a_fish(void **state)
{
    (void)state;
    struct fish_row fish = sent(3, VERDICT_REJECT, VERDICT_KEEP);
    fish.length_mm = 163;
    text_copy(fish.tag, sizeof fish.tag, "392141000123456");
    text_copy(fish.note, sizeof fish.note, "red lips");
    static const char *const parts[] = {"tag 392141000123456", "red lips", "163 mm", NULL};
    check_moves(&fish, 1, parts);
}

/* It stands above them all; a row adds what it does not say. */
static void a_reason_is_told_once(void **state)
{
    (void)state;
    struct fish_row fish[] = {sent(1, VERDICT_REJECT, VERDICT_REJECT),
                              sent(2, VERDICT_REJECT, VERDICT_REJECT)};
    text_copy(fish[1].tag, sizeof fish[1].tag, "392141000123456");
    struct cull_round round = sample_round(NULL, 0, fish, 2);
    round.waiting = WAITING_BASIN;
    struct bowl_fish bowl = {.number = 1, .fish = fish, .count = 2};
    struct page page;
    struct text out;
    page_init(&page, (struct page_setup){.columns = 80});
    text_init(&out);
    cull_basin_boxes(&page, &round, &bowl, VERDICT_REJECT);
    page_write(&page, &out);
    assert_non_null(strstr(out.data, "Bent spine: 2 fish\n"));
    assert_non_null(strstr(out.data, "     2   [   ]   tag 392141000123456\n"));
    text_done(&out);
    page_done(&page);
}

static void counts_what_the_basins_hold_after_the_moves(void **state)
{
    (void)state;
    struct fish_row fish[] = {
        sent(1, VERDICT_REJECT, VERDICT_REJECT), sent(2, VERDICT_KEEP, VERDICT_REJECT),
        sent(3, VERDICT_HOLD, VERDICT_HOLD),     sent(4, VERDICT_OPEN, VERDICT_OPEN),
        sent(5, VERDICT_KEEP, VERDICT_KEEP),
    };
    static const char *const parts[] = {"REJECT       2  ", "HOLD         1  ", "KEEP         1  ",
                                        NULL};
    check_moves(fish, 5, parts);
}

static void says_when_there_is_nothing_to_move(void **state)
{
    (void)state;
    struct fish_row fish = sent(1, VERDICT_REJECT, VERDICT_REJECT);
    static const char *const parts[] = {"nothing to move", "COUNT: the basins", "REJECT       1 ",
                                        NULL};
    check_moves(&fish, 1, parts);
}

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

static void prints_cells_bowl_by_bowl(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round round = sample_round(three_bowls, 3, fish, evening(fish));
    struct cull_list list = list_of(&round, 1);
    print_to(&list, false, "tests/data/print/cells.txt");
}

static void prints_basins_moves_first(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round round = sample_round(three_bowls, 3, fish, evening(fish));
    round.waiting = WAITING_BASIN;
    round.fate = FATE_POND_GRADE;
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
    struct cull_round rounds[2] = {sample_round(three_bowls, 3, fish, evening(fish))};
    struct bowl unseen_bowl = {.number = 1, .expected = 7};
    rounds[1] = sample_round(&unseen_bowl, 1, NULL, 0);
    text_copy(rounds[1].spawning, sizeof rounds[1].spawning, "春の菊水");
    text_copy(rounds[1].lot, sizeof rounds[1].lot, "upper pond");
    text_copy(rounds[1].basis, sizeof rounds[1].basis, "the verdicts as they stand, no pass");
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
    assert_string_equal(out.data, "bowl,fish,verdict,reason,fate,spawning,lot,stage\n");
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
    struct cull_round round = sample_round(bowls, 2, fish, 5);
    round.fate = FATE_PASSED_ON;
    struct cull_list list = list_of(&round, 1);
    struct text out;
    text_init(&out);
    cull_list_csv(&list, &out);
    assert_string_equal(out.data,
                        "bowl,fish,verdict,reason,fate,spawning,lot,stage\n"
                        "1,5,reject,\"by hand: \"\"dam's line\"\", see note (Aoki)\",passed-on,"
                        "K26-1,K26-1,harvest\n"
                        "1,1,hold,places,,K26-1,K26-1,harvest\n"
                        "1,2,open,unscored white,,K26-1,K26-1,harvest\n"
                        "1,4,open,,,K26-1,K26-1,harvest\n"
                        "1,6,open,,,K26-1,K26-1,harvest\n"
                        "2,1,reject,fault spine,passed-on,K26-1,K26-1,harvest\n");
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

/* How often each fish has a box on the list, and what the ranges name. */
struct reading {
    int boxes[BOWLS + 1][NUMBERS + 1];
    int unseen;
    int bowl;
};

static void read_boxes(struct reading *reading, const char *line)
{
    int bowl = reading->bowl;
    int number;
    if (sscanf(line, "bowl %d, fish %d [", &bowl, &number) == 2) {
        reading->boxes[bowl][number]++;
        return;
    }
    for (int used = 0;; line += used, used = 0) {
        if (sscanf(line, " %d [ ]%n", &number, &used) != 1 || used == 0)
            return;
        reading->boxes[bowl][number]++;
    }
}

static void read_line(struct reading *reading, const char *line, struct page_setup setup)
{
    const char *rule = setup.ascii ? "-- Bowl " : "── Bowl ";
    const char *unseen = strstr(line, "never looked at");
    if (utf8_width(line) > setup.columns)
        fail_msg("wider than %d columns: %s", setup.columns, line);
    for (const char *at = line; setup.ascii && *at != '\0'; at++)
        assert_in_range(*at, ' ', '~');
    if (strncmp(line, rule, strlen(rule)) == 0)
        reading->bowl = atoi(line + strlen(rule));
    read_boxes(reading, line);
    const char *open = strrchr(line, '(');
    if (unseen != NULL && open != NULL)
        reading->unseen += atoi(open + 1);
}

/* Reads all pages, and sees that each is a page. */
static void read_list(char *printed, struct page_setup setup, struct reading *reading)
{
    int page = 0, pages = 0, total = 0, lines = 0;
    *reading = (struct reading){0};
    for (char *line = printed, *end; *line != '\0'; line = end + 1, lines++) {
        end = strchr(line, '\n');
        *end = '\0';
        bool begins = *line == '\f';
        line += begins;
        const char *label = strstr(line, " page ");
        if (begins || line == printed) {
            lines = 0;
            assert_true(strncmp(line, "Cull list: K26-1, harvest", 25) == 0);
            assert_true(setup.lines == 0 || sscanf(label, " page %d of %d", &page, &total) == 2);
            assert_int_equal(page, setup.lines == 0 ? 0 : ++pages);
        }
        assert_true(setup.lines == 0 || lines < setup.lines);
        read_line(reading, line, setup);
    }
    assert_true(setup.lines == 0 || total == pages);
}

static void check_reading(const struct reading *reading, const struct cull_round *round)
{
    int expected[BOWLS + 1][NUMBERS + 1] = {0};
    int unseen = 0;
    for (size_t i = 0; i < round->fish_count; i++) {
        const struct fish_row *fish = &round->fish[i];
        bool to_move = round->waiting == WAITING_BASIN && fish->sent != fish->verdict;
        expected[fish->bowl][fish->number] = 1 + (fish->verdict != VERDICT_KEEP || to_move);
    }
    for (size_t i = 0; i < round->bowl_count; i++)
        for (int number = 1; number <= round->bowls[i].expected; number++)
            unseen += expected[round->bowls[i].number][number] == 0;
    for (int bowl = 1; bowl <= BOWLS; bowl++)
        for (int number = 1; number <= NUMBERS; number++)
            if (reading->boxes[bowl][number] != (expected[bowl][number] == 2))
                fail_msg("bowl %d, fish %d is there %d times", bowl, number,
                         reading->boxes[bowl][number]);
    assert_int_equal(reading->unseen, unseen);
}

/* The sum over the bowls' own counts is the round's. */
static void check_counts(const char *printed)
{
    int all[5], sum[5] = {0}, one[5];
    static const char form[] = "take out %d, look again %d, keep %d, not judged %d: %d in all";
    const char *at = strstr(printed, "In all: ") + 8;
    assert_int_equal(sscanf(at, form, &all[0], &all[1], &all[2], &all[3], &all[4]), 5);
    while ((at = strstr(at, "\ntake out ")) != NULL) {
        at++;
        assert_int_equal(sscanf(at, form, &one[0], &one[1], &one[2], &one[3], &one[4]), 5);
        for (int i = 0; i < 5; i++)
            sum[i] += one[i];
        assert_int_equal(one[0] + one[1] + one[2] + one[3], one[4]);
    }
    assert_memory_equal(sum, all, sizeof all);
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
        struct reading reading;
        struct text out;
        text_init(&out);
        cull_list_print(&list, setup, &out);
        check_counts(out.data);
        read_list(out.data, setup, &reading);
        check_reading(&reading, &round);
        text_done(&out);
        seed = start;
    }
}

static void never_leaves_a_title_at_the_end_of_a_page(void **state)
{
    (void)state;
    struct fish_row fish[FISH];
    struct cull_round round = sample_round(three_bowls, 3, fish, evening(fish));
    struct cull_list list = list_of(&round, 1);
    for (int lines = 20; lines < 70; lines++) {
        struct text out;
        text_init(&out);
        cull_list_print(&list, (struct page_setup){80, lines, true}, &out);
        for (const char *end = out.data; (end = strstr(end, "\n\f")) != NULL; end++) {
            const char *line = end;
            while (line[-1] != '\n')
                line--;
            bool row = *line == ' ';
            bool signature = strncmp(line, "Bowl ", 5) == 0;
            if (!row && !signature)
                fail_msg("a page of %d lines ends in: %.*s", lines, (int)(end - line), line);
        }
        text_done(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(say_what_must_be_said),
        cmocka_unit_test(are_plain_ascii_without_numbers),

        cmocka_unit_test(refers_to_the_rows_in_order),
        cmocka_unit_test(gives_something_to_free_for_no_rows),

        cmocka_unit_test(describes_a_fish_by_its_reason),
        cmocka_unit_test(tells_the_score_where_it_decided),
        cmocka_unit_test(names_a_round_by_what_is_known),
        cmocka_unit_test(sets_rows_in_fives),

        cmocka_unit_test(walks_bowls_with_and_without_fish),
        cmocka_unit_test(names_the_numbers_nobody_looked_at),
        cmocka_unit_test(expects_nothing_where_no_number_is_known),
        cmocka_unit_test(takes_fish_beyond_the_expected_ones),
        cmocka_unit_test(counts_fish_that_are_in_no_bowl_yet),
        cmocka_unit_test(counts_each_fish_once),

        cmocka_unit_test(a_fish_in_a_cell_is_always_in_place),
        cmocka_unit_test(a_fish_in_a_basin_is_in_place_in_its_own),
        cmocka_unit_test(searches_the_rejects_first),
        cmocka_unit_test(says_what_helps_to_find_a_fish),
        cmocka_unit_test(a_reason_is_told_once),
        cmocka_unit_test(counts_what_the_basins_hold_after_the_moves),
        cmocka_unit_test(says_when_there_is_nothing_to_move),

        cmocka_unit_test(prints_cells_bowl_by_bowl),
        cmocka_unit_test(prints_basins_moves_first),
        cmocka_unit_test(prints_several_rounds_and_their_sum),
        cmocka_unit_test(prints_a_list_of_nothing),
        cmocka_unit_test(writes_csv_bowl_by_bowl_worst_first),
        cmocka_unit_test(lists_every_fish_that_is_not_kept_exactly_once),
        cmocka_unit_test(never_leaves_a_title_at_the_end_of_a_page),

    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
