/* A season typed in at the screens, cull by cull: three spawnings of a black-ground variety from
 * the black fry to the harvest. One lot is split, one half of it is put together with another
 * spawning's lot, fish die, and of one lot more are kept than went in. What `rates` makes of it by
 * lot, spawning, pair and season is as a hand adds it up.
 *
 * A scoop of which two were counted, a and b fish, holds (a + b) / 2 and is known to (b - a) /
 * (b + a) of that; the error of a number is given in fish.
 *
 *                   hatched   black in      kept    first in      kept   second   third  harvest
 *   B25-1, D1+P1     48,000     45,000    12,000      10,203     1,200   1,100
 *                              (1,800)     (480)       (510)      (60)   → 240
 *     100 of the 240 go into the west pond, 140 stay; 6 and 3 die:
 *           stayed                                                               130      40
 *                                                                               → 42    → 43
 *           west                                                                  95
 *                                                                               → 34
 *   B25-2, D2+P2     40,000     36,000     8,000       6,800       800     750   170
 *                              (1,800)     (400)       (680)      (80)   → 180  → 60
 *   both: the 34 of west and the 60 of B25-2 are 94:                                      92
 *                                                                                       → 42
 *   B25-3, D1+P1     30,000     24,000     6,000       5,000       600
 *                                (600)     (150)       (250)      (30)
 */
#include "senbetsu/base/date.h"
#include "support/farm.h"
#include <inttypes.h>
#include <math.h>

#define PICK "1"
#define REMOVE "2"
#define BLACK "1"
#define FIRST "2"
#define SECOND "3"
#define THIRD "4"
#define HARVEST "6"

/* What hands type at one cull. */
struct cull {
    const char *day, *spawning, *lot, *stage, *manner;
    const char *in;     /* "" = what is tallied */
    const char *scoops; /* two that were counted; "" = fish are tallied one by one */
    int kept, rejected; /* keys; in a pick round the fish kept may be all that is tallied, in a
                         * remove round those that go */
    int dead;
    const char *tallied; /* what the screen then says */
};

static const char parents[] = "parent,sex\nD1,f\nD2,f\nP1,m\nP2,m\n";
static const char spawnings[] = "spawning,season,date,variety,dam,sires,siring,hatched\n"
                                "B25-1,2025,2025-05-20,Showa,D1,P1,single,48000\n"
                                "B25-2,2025,2025-05-22,Showa,D2,P2,single,40000\n"
                                "B25-3,2025,2025-06-01,Showa,D1,P1,single,30000\n";

/* The table above, typed. 24 scoops of 480 and 520 fish are 12,000 ± 4 %. */
static const struct cull to_the_second[] = {
    {"2025-05-30", "B25-1", "", BLACK, PICK, "", "480+520", 24, 66, 0, "45000"},
    {"2025-06-01", "B25-2", "", BLACK, PICK, "", "380+420", 20, 70, 0, "36000"},
    {"2025-06-11", "B25-3", "", BLACK, PICK, "", "390+410", 15, 45, 0, "24000"},
    {"2025-07-01", "B25-1", "", FIRST, PICK, "", "95+105", 12, 90, 3, "10203"},
    {"2025-07-03", "B25-2", "", FIRST, PICK, "", "90+110", 8, 60, 0, "6800"},
    {"2025-07-12", "B25-3", "", FIRST, PICK, "", "190+210", 3, 22, 0, "5000"},
    {"2025-08-01", "B25-1", "", SECOND, PICK, "1100", "", 240, 0, 0, "240"},
    {"2025-08-03", "B25-2", "", SECOND, PICK, "750", "", 180, 0, 4, "184"},
};
static const struct cull thirds[] = {
    {"2025-08-28", "B25-1", "", THIRD, REMOVE, "130", "", 0, 88, 0, "88"},
    {"2025-08-28", "B25-1", "west", THIRD, REMOVE, "95", "", 0, 61, 0, "61"},
    {"2025-08-30", "B25-2", "", THIRD, REMOVE, "170", "", 0, 110, 0, "110"},
};
static const struct cull of_the_rest = {"2025-10-05", "B25-1", "", HARVEST, REMOVE, "40",
                                        "",           43,      1,  0,       "44"};
static const struct cull of_both = {"2025-10-06", "B25-2", "", HARVEST, REMOVE, "92",
                                    "",           0,       50, 0,       "50"};

static void import_text(const struct farm *farm, const char *kind, const char *content)
{
    char path[160];
    struct text said;
    text_init(&said);
    farm_file(farm, "in.csv", content, path, sizeof path);
    if (farm_import(farm, &said, kind, path) != 0)
        fail_msg("import %s: %s", kind, said.data);
    text_done(&said);
}

/* Whatever comes while the notice is still being painted is thrown away, and so is what follows it
 * within a quarter of a second. So the key, which does nothing on the first screen, is pressed,
 * with pauses, until the notice has gone. */
static void turn_notice(struct terminal *terminal)
{
    do {
        press(terminal, "Home");
        terminal_settle(terminal, 300);
    } while (terminal_has(terminal, "any key: go on"));
}

/* A spawning's rounds, at noon of a day: the program is real, its clock is not. */
static struct terminal *open_spawning(const struct farm *farm, const char *day, const char *code)
{
    static char latest[DATE_SIZE] = "";
    char line[64];
    struct terminal *terminal =
        farm_screens_at(farm, (date_begins(day, 0) + DAY_MS / 2) / 1000, false);
    if (strcmp(day, latest) < 0) { /* the program minds a clock that went back */
        assert_shows(terminal, "any key: go on");
        turn_notice(terminal);
    } else {
        text_copy(latest, sizeof latest, day);
    }
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    press(terminal, "End Up Up Up Up"); /* a spawning is added there */
    for (char last = '4'; last > code[strlen(code) - 1]; last--)
        press(terminal, "Up");
    press(terminal, "Enter");
    snprintf(line, sizeof line, "%s: Showa", code);
    assert_shows(terminal, line);
    return terminal;
}

static void leave(struct terminal *terminal)
{
    press(terminal, "q");
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    press(terminal, "q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
}

/* Presses one key so many times. */
static void press_times(struct terminal *terminal, char key, int times)
{
    char keys[512];
    assert_true(times < (int)sizeof keys);
    memset(keys, key, (size_t)times);
    keys[times] = '\0';
    terminal_type(terminal, keys);
}

static void measure(struct terminal *terminal, const char *scoops)
{
    press(terminal, "*");
    assert_shows(terminal, "fish in each scoop:");
    terminal_type(terminal, scoops);
    press(terminal, "Enter");
    assert_shows(terminal, "a key is a SCOOP");
}

/* At the tally, and back to the rounds. */
static void tally(struct terminal *terminal, const struct cull *cull)
{
    char line[64];
    assert_shows(terminal, "a key is a FISH");
    if (cull->scoops[0] != '\0')
        measure(terminal, cull->scoops);
    press_times(terminal, '+', cull->kept);
    press_times(terminal, '1', cull->rejected);
    if (cull->scoops[0] != '\0')
        press(terminal, "*");
    press_times(terminal, 'm', cull->dead);
    snprintf(line, sizeof line, "tallied    %s", cull->tallied);
    assert_shows(terminal, line);
    press(terminal, "q");
    assert_shows(terminal, "begin a round");
}

/* From the rounds of a spawning or a lot through the form to the tally, and back to them. */
static void type_round(struct terminal *terminal, const struct cull *cull)
{
    press(terminal, "+");
    assert_shows(terminal, "Begin a round");
    press(terminal, cull->stage);
    press(terminal, "Enter");
    terminal_type(terminal, cull->lot);
    press(terminal, "Enter");
    press(terminal, cull->manner);
    press(terminal, "Enter Enter Enter");
    terminal_type(terminal, cull->in);
    press(terminal, "F2");
    tally(terminal, cull);
}

static void type_cull(const struct farm *farm, const struct cull *cull)
{
    struct terminal *terminal = open_spawning(farm, cull->day, cull->spawning);
    type_round(terminal, cull);
    leave(terminal);
}

static void type_culls(const struct farm *farm, const struct cull *culls, size_t count)
{
    for (size_t i = 0; i < count; i++)
        type_cull(farm, &culls[i]);
}
#define TYPE_CULLS(farm, culls) type_culls((farm), (culls), sizeof(culls) / sizeof *(culls))

/* From a spawning's rounds to its lots, the line `down` of which is put in front. */
static struct terminal *open_lots(const struct farm *farm, const char *day, const char *code,
                                  int down)
{
    char title[64];
    struct terminal *terminal = open_spawning(farm, day, code);
    press(terminal, "/");
    snprintf(title, sizeof title, "%s: lots", code);
    assert_shows(terminal, title);
    for (; down > 0; down--)
        press(terminal, "Down");
    return terminal;
}

static void leave_lots(struct terminal *terminal)
{
    press(terminal, "q");
    assert_shows(terminal, "begin a round");
    leave(terminal);
}

/* 100 of the 240 fish of B25-1 go into the west pond. */
static void split(const struct farm *farm)
{
    struct terminal *terminal = open_lots(farm, "2025-08-02", "B25-1", 0);
    press(terminal, "5");
    assert_shows(terminal, "By the book: 240 counted");
    terminal_type(terminal, "100");
    press(terminal, "Enter Enter Enter Delete");
    terminal_type(terminal, "west");
    press(terminal, "F2");
    assert_shows(terminal, "Recorded; - undoes it");
    assert_shows(terminal, "140 counted");
    leave_lots(terminal);
}

/* Fish found dead (d) or found again (f): the lot then has so many. */
static void type_fish(const struct farm *farm, const char *day, int down, const char *key,
                      const char *fish, const char *left)
{
    struct terminal *terminal = open_lots(farm, day, "B25-1", down);
    press(terminal, key);
    assert_shows(terminal, "By the book:");
    terminal_type(terminal, fish);
    press(terminal, "F2");
    assert_shows(terminal, "Recorded; - undoes it");
    assert_shows(terminal, left);
    leave_lots(terminal);
}

/* B25-2 and west become a mixed lot. */
static void put_together(const struct farm *farm)
{
    struct terminal *terminal = open_lots(farm, "2025-09-05", "B25-2", 0);
    press(terminal, "6");
    assert_shows(terminal, "Merge with");
    press(terminal, "2");
    assert_shows(terminal, "[west of B25-1]");
    press(terminal, "Enter Delete");
    terminal_type(terminal, "both");
    press(terminal, "F2");
    assert_shows(terminal, "The lots are merged");
    assert_shows(terminal, "94");
    leave_lots(terminal);
}

static void cull_the_mixed_lot(const struct farm *farm)
{
    struct terminal *terminal = open_lots(farm, of_both.day, of_both.spawning, 1);
    assert_shows(terminal, "> both, mixed");
    press(terminal, "Enter");
    assert_shows(terminal, "both: Showa  mixed from B25-1;B25-2");
    type_round(terminal, &of_both);
    press(terminal, "q");
    assert_shows(terminal, "B25-2: lots");
    leave_lots(terminal);
}

static void type_season(const struct farm *farm)
{
    import_text(farm, "parents", parents);
    import_text(farm, "spawnings", spawnings);
    TYPE_CULLS(farm, to_the_second);
    split(farm);
    type_fish(farm, "2025-08-10", 0, "d", "6", "134 counted");
    type_fish(farm, "2025-08-12", 1, "d", "3", "97 counted");
    TYPE_CULLS(farm, thirds);
    put_together(farm);
    type_fish(farm, "2025-09-20", 0, "f", "3", "45");
    type_cull(farm, &of_the_rest);
    cull_the_mixed_lot(farm);
}

/* What a hand makes of it: fish added up, and the errors of scooped numbers, in fish, as squares.
 * `there` of the `before` that the cull before had kept (or that had hatched) were there; the fish
 * found dead are those of the cull and of the lot since the cull before. Rows of one key follow
 * each other. */
#define NO_NUMBER (-1)
#define SQUARE(fish) ((double)(fish) * (fish))
struct row {
    const char *by, *key, *stage;
    double in, kept, in_error2, kept_error2, common_error2, there, before;
    int dead;
    const char *flag, *typical;
};
static const struct row by_hand[] = {
    {"lot", "B25-1", "black", 45000, 12000, SQUARE(1800), SQUARE(480), 1800 * 480, 45000, 48000, 0,
     "", ""},
    {"lot", "B25-1", "first", 10203, 1200, SQUARE(510), SQUARE(60), 510 * 60, 10203, 12000, 3, "",
     ""},
    {"lot", "B25-1", "second", 1100, 240, 0, 0, 0, 1100, 1200, 0, "", ""},
    {"lot", "B25-1", "third", 130, 42, 0, 0, 0, 130, 240 - 100, 6, "", ""},
    {"lot", "B25-1", "harvest", 40, 43, 0, 0, 0, 40, 42, 0, "recovered", "outside"},
    {"lot", "B25-2", "black", 36000, 8000, SQUARE(1800), SQUARE(400), 1800 * 400, 36000, 40000, 0,
     "", ""},
    {"lot", "B25-2", "first", 6800, 800, SQUARE(680), SQUARE(80), 680 * 80, 6800, 8000, 0, "", ""},
    {"lot", "B25-2", "second", 750, 180, 0, 0, 0, 750, 800, 4, "", ""},
    {"lot", "B25-2", "third", 170, 60, 0, 0, 0, 170, 180, 0, "", ""},
    {"lot", "B25-3", "black", 24000, 6000, SQUARE(600), SQUARE(150), 600 * 150, 24000, 30000, 0, "",
     ""},
    {"lot", "B25-3", "first", 5000, 600, SQUARE(250), SQUARE(30), 250 * 30, 5000, 6000, 0, "", ""},
    {"lot", "both", "harvest", 92, 42, 0, 0, 0, 92, 34 + 60, 0, "", ""},
    {"lot", "west", "third", 95, 34, 0, 0, 0, 95, 100, 3, "", ""},

    /* West counts for B25-1; both counts for no spawning and no pair. */
    {"spawning", "B25-1", "black", 45000, 12000, SQUARE(1800), SQUARE(480), 1800 * 480, 45000,
     48000, 0, "", ""},
    {"spawning", "B25-1", "first", 10203, 1200, SQUARE(510), SQUARE(60), 510 * 60, 10203, 12000, 3,
     "", ""},
    {"spawning", "B25-1", "second", 1100, 240, 0, 0, 0, 1100, 1200, 0, "", ""},
    {"spawning", "B25-1", "third", 225, 76, 0, 0, 0, 225, 240, 9, "", ""},
    {"spawning", "B25-1", "harvest", 40, 43, 0, 0, 0, 40, 42, 0, "recovered", "outside"},
    {"spawning", "B25-2", "black", 36000, 8000, SQUARE(1800), SQUARE(400), 1800 * 400, 36000, 40000,
     0, "", ""},
    {"spawning", "B25-2", "first", 6800, 800, SQUARE(680), SQUARE(80), 680 * 80, 6800, 8000, 0, "",
     ""},
    {"spawning", "B25-2", "second", 750, 180, 0, 0, 0, 750, 800, 4, "", ""},
    {"spawning", "B25-2", "third", 170, 60, 0, 0, 0, 170, 180, 0, "", ""},
    {"spawning", "B25-3", "black", 24000, 6000, SQUARE(600), SQUARE(150), 600 * 150, 24000, 30000,
     0, "", ""},
    {"spawning", "B25-3", "first", 5000, 600, SQUARE(250), SQUARE(30), 250 * 30, 5000, 6000, 0, "",
     ""},

    /* B25-1 and B25-3 together. */
    {"pair", "D1+P1", "black", 69000, 18000, SQUARE(1800) + SQUARE(600), SQUARE(480) + SQUARE(150),
     1800 * 480 + 600 * 150, 69000, 78000, 0, "", ""},
    {"pair", "D1+P1", "first", 15203, 1800, SQUARE(510) + SQUARE(250), SQUARE(60) + SQUARE(30),
     510 * 60 + 250 * 30, 15203, 18000, 3, "", ""},
    {"pair", "D1+P1", "second", 1100, 240, 0, 0, 0, 1100, 1200, 0, "", ""},
    {"pair", "D1+P1", "third", 225, 76, 0, 0, 0, 225, 240, 9, "", ""},
    {"pair", "D1+P1", "harvest", 40, 43, 0, 0, 0, 40, 42, 0, "recovered", "outside"},
    {"pair", "D2+P2", "black", 36000, 8000, SQUARE(1800), SQUARE(400), 1800 * 400, 36000, 40000, 0,
     "", ""},
    {"pair", "D2+P2", "first", 6800, 800, SQUARE(680), SQUARE(80), 680 * 80, 6800, 8000, 0, "", ""},
    {"pair", "D2+P2", "second", 750, 180, 0, 0, 0, 750, 800, 4, "", ""},
    {"pair", "D2+P2", "third", 170, 60, 0, 0, 0, 170, 180, 0, "", ""},

    /* All lots; at the harvest 40 + 92 went in and 43 + 42 were kept. */
    {"season", "2025", "black", 105000, 26000, SQUARE(1800) + SQUARE(1800) + SQUARE(600),
     SQUARE(480) + SQUARE(400) + SQUARE(150), 1800 * 480 + 1800 * 400 + 600 * 150, 105000, 118000,
     0, "", ""},
    {"season", "2025", "first", 22003, 2600, SQUARE(510) + SQUARE(680) + SQUARE(250),
     SQUARE(60) + SQUARE(80) + SQUARE(30), 510 * 60 + 680 * 80 + 250 * 30, 22003, 26000, 3, "", ""},
    {"season", "2025", "second", 1850, 420, 0, 0, 0, 1850, 2000, 4, "", ""},
    {"season", "2025", "third", 395, 136, 0, 0, 0, 395, 420, 9, "", ""},
    {"season", "2025", "harvest", 132, 85, 0, 0, 0, 132, 136, 0, "recovered", "outside"},
};
enum { ROWS = sizeof by_hand / sizeof *by_hand };

/* One cull, or several in a chain, as far as they have been worked out. */
struct outcome {
    double in, kept, rate, survival, sampling2, estimates2;
    bool recovered, above; /* above = a cull kept more than went in */
};

static struct outcome outcome_of(const struct row *row)
{
    double rate = row->kept / row->in;
    return (struct outcome){
        .in = row->in,
        .kept = row->kept,
        .rate = rate,
        .survival = row->there / row->before,
        .sampling2 = (1 - rate) / (rate * row->in),
        .estimates2 = row->in_error2 / SQUARE(row->in) + row->kept_error2 / SQUARE(row->kept) -
                      2 * row->common_error2 / (row->in * row->kept),
        .recovered = row->flag[0] != '\0',
        .above = row->kept > row->in,
    };
}

/* Relative variances add up; here no cull takes over just the number that the one before kept. */
static struct outcome chained(struct outcome first, struct outcome next)
{
    return (struct outcome){
        .in = first.in,
        .kept = next.kept,
        .rate = first.rate * next.rate,
        .survival = first.survival * next.survival,
        .sampling2 = first.sampling2 + next.sampling2,
        .estimates2 = first.estimates2 + next.estimates2,
        .recovered = first.recovered || next.recovered,
        .above = first.above || next.above,
    };
}

/* Wilson's ends are where (rate - x)² = z² x (1 - x) / n: the roots of a quadratic. The estimates'
 * part is added as squares on the logarithmic scale. */
static void ends_of(const struct outcome *outcome, double *ret_low, double *ret_high)
{
    const double z = 1.959963984540054;
    double p = outcome->rate, n = (1 - p) / (p * outcome->sampling2), q = z * z / n;
    double half = (2 * p + q) / 2, root = sqrt(half * half - (1 + q) * p * p);
    double low = (half - root) / (1 + q), high = (half + root) / (1 + q);
    double wider2 = z * z * outcome->estimates2;
    *ret_low = p * exp(-sqrt(SQUARE(log(p / low)) + wider2));
    *ret_high = p * exp(sqrt(SQUARE(log(high / p)) + wider2));
}

enum { IN, KEPT, RATE, LOW, HIGH, FLAG, SPAWNING, DEAD, SURVIVAL, TYPICAL, COLUMNS };

/* Finds the line of a key and stage and parts it into its columns after these. */
static void find_row(const char *csv, const struct row *row, const char *stage,
                     char ret[COLUMNS][64])
{
    char begin[96];
    snprintf(begin, sizeof begin, "\n%s,%s,2025,%s,", row->by, row->key, stage);
    const char *at = strstr(csv, begin);
    if (at == NULL)
        fail_msg("no row %s in %s", begin + 1, csv);
    at += strlen(begin);
    for (int i = 0; i < COLUMNS; i++) {
        size_t length = strcspn(at, ",\n");
        assert_true(length < 64);
        memcpy(ret[i], at, length);
        ret[i][length] = '\0';
        at += length + (at[length] == ',');
    }
}

static void assert_number(const char *begin, const char *text, double number)
{
    if (text[0] == '\0' || fabs(strtod(text, NULL) / number - 1) > 1e-6)
        fail_msg("%s is \"%s\" and not %.9g", begin, text, number);
}

static void check_figures(const struct row *row, const char *stage, const struct outcome *outcome,
                          char cells[COLUMNS][64])
{
    char name[96];
    double low, high;
    snprintf(name, sizeof name, "%s %s %s", row->by, row->key, stage);
    assert_number(name, cells[IN], outcome->in);
    assert_number(name, cells[KEPT], outcome->kept);
    assert_number(name, cells[RATE], outcome->rate);
    assert_number(name, cells[SURVIVAL], outcome->survival);
    assert_string_equal(cells[FLAG], outcome->recovered ? "recovered" : "");
    if (outcome->above) {
        assert_string_equal(cells[LOW], "");
        assert_string_equal(cells[HIGH], "");
        return;
    }
    ends_of(outcome, &low, &high);
    assert_number(name, cells[LOW], low);
    assert_number(name, cells[HIGH], high);
}

static void check_row(const char *csv, const struct row *row)
{
    char cells[COLUMNS][64], dead[16];
    struct outcome outcome = outcome_of(row);
    find_row(csv, row, row->stage, cells);
    check_figures(row, row->stage, &outcome, cells);
    snprintf(dead, sizeof dead, "%d", row->dead);
    assert_string_equal(cells[DEAD], dead);
    assert_string_equal(cells[TYPICAL], row->typical);
}

/* All culls of a key after the black fry, from row `first` to row `last`. */
static void check_chain(const char *csv, int first, int last)
{
    char stages[32], cells[COLUMNS][64];
    struct outcome outcome = outcome_of(&by_hand[first]);
    outcome.survival = 1; /* a chain begins with the fish that went into its first cull */
    for (int i = first + 1; i <= last; i++)
        outcome = chained(outcome, outcome_of(&by_hand[i]));
    snprintf(stages, sizeof stages, "%s-%s", by_hand[first].stage, by_hand[last].stage);
    find_row(csv, &by_hand[first], stages, cells);
    check_figures(&by_hand[first], stages, &outcome, cells);
}

static bool same_key(const struct row *a, const struct row *b)
{
    return strcmp(a->by, b->by) == 0 && strcmp(a->key, b->key) == 0;
}

static int line_count(const char *text)
{
    int lines = 0;
    for (; *text != '\0'; text++)
        lines += *text == '\n';
    return lines;
}

/* The rows of the hand, their chains, and no others. */
static void check_rates(const struct farm *farm, const char *by)
{
    struct text csv;
    int expected = 1, first = -1; /* the first line has the names of the columns */
    text_init(&csv);
    assert_int_equal(farm_run(farm, &csv, "rates", "--by", by, "--csv", NULL), 0);
    for (int i = 0; i < ROWS; i++) {
        if (strcmp(by_hand[i].by, by) != 0)
            continue;
        check_row(csv.data, &by_hand[i]);
        expected++;
        if (strcmp(by_hand[i].stage, "black") == 0)
            continue;
        if (first < 0 || !same_key(&by_hand[first], &by_hand[i]))
            first = i;
        if (first < i && (i + 1 == ROWS || !same_key(&by_hand[i], &by_hand[i + 1]))) {
            check_chain(csv.data, first, i);
            expected++;
        }
    }
    assert_int_equal(line_count(csv.data), expected);
    text_done(&csv);
}

/* The same numbers on the screen of the season. */
static void check_screen(const struct farm *farm)
{
    struct terminal *terminal = farm_screens(farm, 40, 80, NULL);
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    press(terminal, "5");
    assert_shows(terminal, "Season 2025: from the eggs to the fish kept");
    assert_shows(terminal, "third            93.8     225      76   33.8     27.9 to 40.2");
    assert_shows(terminal, "harvest          95.2      40      43  107.5");
    assert_shows(terminal, "first            85.0    6800     800   11.8     11.0 to 12.6");
    press(terminal, "End");
    assert_shows(terminal, "both, Showa  mixed from B25-1;B25-2");
    assert_shows(terminal, "harvest          97.9      92      42   45.7     35.9 to 55.8");
    assert_shows(terminal, "> All together");
    assert_shows(terminal, "harvest          97.1     132      85   64.4     55.9 to 72.0");
    terminal_close(terminal);
}

/* What is due the winter after: lots that were put together are none any more, the lot that was
 * culled no further than the first cull still has all it had then. */
static void check_due(const struct farm *farm)
{
    static const char *const lots[] = {
        "B25-1,B25-1,Showa,house,2026-02-19,2026-04-20,,43,",
        "B25-1;B25-2,both,Showa,house,2026-02-19,2026-04-20,,42,",
        "B25-3,B25-3,Showa,house,2026-03-03,2026-05-02,,600,",
    };
    struct text due;
    text_init(&due);
    assert_int_equal(farm_run(farm, &due, "due", "--date", "2026-03-01", "--csv", NULL), 0);
    assert_int_equal(line_count(due.data), 1 + 3);
    for (int i = 0; i < 3; i++)
        if (strstr(due.data, lots[i]) == NULL)
            fail_msg("not %s in %s", lots[i], due.data);
    text_done(&due);
}

static void test_a_season_adds_up(void **state)
{
    type_season(*state);
    check_rates(*state, "lot");
    check_rates(*state, "spawning");
    check_rates(*state, "pair");
    check_rates(*state, "season");
    check_screen(*state);
    check_due(*state);
    assert_int_equal(farm_run(*state, NULL, "check", NULL), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_season_adds_up, farm_setup_empty, farm_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
