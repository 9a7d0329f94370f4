#include "support/test.h"

#include "cull_sample.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/print/cull_list.h"
#include "support/source.h"

enum { FISH = 60 };

/* Three bowls of twenty, of which the last was left in the middle. */
static const struct cull_bowl three_bowls[] = {{1, 20}, {2, 20}, {3, 20}};

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

static struct cull_list list_of(const struct cull_round *rounds, size_t count)
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
    const struct cull_bowl unseen_bowl = {1, 7};
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
    const struct cull_bowl bowls[] = {{1, 6}, {2, 0}};
    const struct fish_row fish[] = {
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

static size_t any_round(struct cull_bowl bowls[BOWLS], struct fish_row *fish)
{
    size_t count = 0;
    for (int bowl = 1; bowl <= BOWLS; bowl++) {
        int size = chance(NUMBERS);
        bowls[bowl - 1] = (struct cull_bowl){bowl, chance(2) ? chance(NUMBERS) : 0};
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
    struct cull_bowl bowls[BOWLS];
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
