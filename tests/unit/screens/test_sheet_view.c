/* The sheet's screen as text, whole and part by part. tests/data/screens holds what each state must
 * look like, without the footer (test_key_tables.c); read the files over after
 * SENBETSU_REGENERATE=1. */
#include "scene.h"
#include "senbetsu/screens/progress.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/big.h"
#include "sheet_view.h"
#include "support/test.h"

static struct scene *bowl(void)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, 60);
}

static struct sheet_view view_of(const struct scene *scene)
{
    return (struct sheet_view){.sheet = &scene->sheet,
                               .letters = &scene->letters,
                               .title = scene->title,
                               .judge = scene->judge,
                               .keys = &sheet_keys};
}

/* The whole screen. */

static void look(const struct scene *scene, int rows, int columns, int page, const char *name)
{
    struct grid grid;
    char whole[128];
    struct sheet_view view = view_of(scene);
    view.page = page;
    grid_init(&grid, rows, columns);
    sheet_view_draw(&grid, &view);
    grid.rows -= (FRAME_FOOT_ROWS - 1);
    snprintf(whole, sizeof whole, "sheet-%s-%dx%d", name, columns, rows);
    assert_screen(&grid, whole);
    grid_done(&grid);
}

static struct scene *middle_of_bowl(void)
{
    struct scene *scene = bowl();
    scene_judge(scene, "krrhkrlrrkhrkrrh");
    return scene;
}

static void test_fresh_bowl(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    look(scene, 24, 80, 0, "fresh");
    scene_free(scene);
}

static void test_middle_of_bowl(void **state)
{
    (void)state;
    struct scene *scene = middle_of_bowl();
    for (int i = 0; i < 4; i++)
        scene_do(scene, COMMAND_SCORE, i + 1);
    scene_do(scene, COMMAND_FAULT, 6);
    look(scene, 24, 80, 0, "middle");
    look(scene, 40, 120, 0, "middle");
    scene_free(scene);
}

static void type(struct scene *scene, const char *text)
{
    for (; *text != '\0'; text++)
        scene_do(scene, COMMAND_TYPE, *text);
    scene_do(scene, COMMAND_ACCEPT, 0);
}

static void test_earlier_fish(void **state)
{
    (void)state;
    struct scene *scene = middle_of_bowl();
    scene_do(scene, COMMAND_EARLIER, 0);
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_LENGTH);
    type(scene, "132");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_TAG);
    type(scene, "392141000123456");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_NOTE);
    scene_do(scene, COMMAND_CHOOSE, 4);
    scene_do(scene, COMMAND_ASPECT, 4);
    look(scene, 24, 80, 0, "earlier");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_VERDICT);
    scene_do(scene, COMMAND_CHOOSE, 1);
    look(scene, 24, 80, 0, "reason");
    scene_do(scene, COMMAND_CHOOSE, 2);
    scene_do(scene, COMMAND_EARLIER, 0);
    scene_do(scene, COMMAND_LATER, 0);
    look(scene, 24, 80, 0, "by-hand");
    scene_free(scene);
}

static void test_the_screen_in_other_modes(void **state)
{
    static const struct {
        enum sheet_mode mode;
        const char *name;
    } modes[] = {
        {SHEET_PICK_FAULT, "pick-fault"},
        {SHEET_PICK_ASPECT, "pick-aspect"},
        {SHEET_MENU, "menu"},
        {SHEET_LENGTH, "length"},
        {SHEET_NOTE, "note"},
        {SHEET_VERDICT, "verdict"},
        {SHEET_NEXT_BOWL, "next-bowl"},
    };
    (void)state;
    struct scene *scene = middle_of_bowl();
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        scene_do(scene, COMMAND_ENTER_MODE, (int)modes[i].mode);
        if (modes[i].mode == SHEET_LENGTH)
            scene_do(scene, COMMAND_TYPE, '7');
        look(scene, 24, 80, 0, modes[i].name);
    }
    scene_free(scene);
}

static void test_largest_standard(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 400);
    for (int i = 0; i < 216; i++)
        scene_judge(scene, i % 3 == 0 ? "k" : "r");
    for (int i = 0; i < 12; i++)
        scene_do(scene, COMMAND_SCORE, i % 10);
    scene_do(scene, COMMAND_FAULT, 23);
    scene_do(scene, COMMAND_FAULT, 5);
    look(scene, 24, 80, 0, "largest");
    scene_do(scene, COMMAND_ENTER_MODE, SHEET_PICK_FAULT);
    look(scene, 24, 80, 2, "largest-pick");
    scene_do(scene, COMMAND_CANCEL, 0);
    look(scene, 30, 200, 0, "largest");
    scene_free(scene);
}

static void test_wide_characters(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    for (int i = 0; i < standard.aspect_count; i++)
        strcpy(standard.aspects[i].label, i % 2 == 0 ? "白地の白さと全体の清潔さ" : "体形");
    for (int i = 0; i < standard.fault_count; i++)
        strcpy(standard.faults[i].label, i % 2 == 0 ? "背骨の曲がりと尾筒の歪み" : "目欠");
    struct scene *scene = scene_new(&standard, 12);
    strcpy(scene->title, "令和八年-十四 · 紅白七 × 白金二 · 菊水 · harvest · lot north");
    scene->judge = "鈴木愛子";
    scene_judge(scene, "kr");
    look(scene, 24, 80, 0, "wide");
    scene_free(scene);
}

static void test_second_look(void **state)
{
    (void)state;
    struct scene *scene = middle_of_bowl();
    scene_judge(scene, "hh");
    scene_second_look(scene);
    scene_judge(scene, "kr");
    scene_do(scene, COMMAND_SCORE, 5);
    scene_do(scene, COMMAND_SCORE, 1);
    look(scene, 24, 80, 0, "second-look");
    scene_free(scene);
}

static void test_full_bowl_without_places(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 12);
    scene->port.places = -1;
    scene_judge(scene, "krrhkrrrrkhr");
    look(scene, 24, 80, 0, "full");
    scene_free(scene);
}

/* The question. */

static void draw_question(struct grid *grid, struct area area, const struct sheet *sheet)
{
    question_draw(grid, area.row, sheet);
}

static void assert_question(const struct scene *scene, const char *expected)
{
    assert_part(scene, draw_question, 1, 80, expected);
}

static void test_asks_for_the_selected_aspect(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_question(scene,
                    "▸ B O D Y   O U T L I N E   1  2 (3) 4  5   weight 18  under 2: reject\n");
    scene_do(scene, COMMAND_DOWN, 0);
    assert_question(scene, "▸ T A I L   T U B E   1  2 (3) 4  5   weight 8\n");
    scene_do(scene, COMMAND_SCORE, 5);
    scene_do(scene, COMMAND_UP, 0);
    assert_question(scene, "▸ T A I L   T U B E   1  2  3  4 [5]  weight 8\n");
    scene_free(scene);
}

static void test_a_fish_that_is_done(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "h");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_question(scene,
                    "▸ Done. Enter: next open fish; capital letter or /: an aspect to correct\n");
    scene_do(scene, COMMAND_ASPECT, 1);
    assert_question(scene, "▸ Done. To correct: T A I L   T U B E   1  2 [3] 4  5   weight 8\n");
    scene_free(scene);
}

static void test_the_question_of_other_modes(void **state)
{
    static const struct {
        enum sheet_mode mode;
        const char *expected;
    } modes[] = {
        {SHEET_PICK_FAULT, "▸ Fault, by the number beside it\n"},
        {SHEET_PICK_ASPECT, "▸ Aspect, by the number beside it\n"},
        {SHEET_MENU, "▸ What do you want to do?\n"},
        {SHEET_LENGTH, "▸ Length in mm: _\n"},
        {SHEET_TAG, "▸ Tag: _\n"},
        {SHEET_NOTE, "▸ Which note?\n"},
        {SHEET_NOTE_TEXT, "▸ Note: _\n"},
        {SHEET_VERDICT, "▸ Which verdict by hand?\n"},
        {SHEET_REASON, "▸ HOLD by hand, because:\n"},
        {SHEET_REASON_TEXT, "▸ HOLD by hand, because: _\n"},
        {SHEET_NEXT_BOWL, "▸ Fish in the next bowl (Enter: 60 again): _\n"},
    };
    (void)state;
    struct scene *scene = bowl();
    scene->sheet.chosen = VERDICT_HOLD;
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        scene->sheet.mode = modes[i].mode;
        assert_question(scene, modes[i].expected);
    }
    scene->sheet.expected = 0;
    assert_question(scene, "▸ Fish in the next bowl (Enter: not known): _\n");
    scene_free(scene);
}

/* Of a long line the end is shown: that is where the typing happens. */
static void test_long_lines_show_their_end(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene->sheet.mode = SHEET_NOTE_TEXT;
    for (int i = 0; i < 50; i++)
        strcat(scene->sheet.line, "白");
    strcat(scene->sheet.line, "end");
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 80);
    text_init(&text);
    question_draw(&grid, 0, &scene->sheet);
    grid_text(&grid, &text);
    assert_non_null(strstr(text.data, "▸ Note: 白"));
    assert_non_null(strstr(text.data, "白end_\n"));
    text_done(&text);
    grid_done(&grid);
    scene_free(scene);
}

/* The whole row is where the cursor is. */
static void test_the_row_stands_out(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    struct grid grid;
    grid_init(&grid, 1, 80);
    question_draw(&grid, 0, &scene->sheet);
    for (int i = 0; i < 80; i++)
        assert_int_equal(grid.cells[i].style, STYLE_CURSOR);
    grid_done(&grid);
    scene_free(scene);
}

/* The side panel. */

static void assert_panel(const struct scene *scene, const char *expected)
{
    assert_part(scene, side_panel_draw, PANEL_ROWS, PANEL_COLUMNS, expected);
}

static void test_panel_counts_bowl_and_round(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "krhrr");
    assert_panel(scene, "bowl       5 of 60\nK 1 H 1 R 3\n\n"
                        "round     5 of 240\nK 1 H 1 R 3\n\n"
                        "360 fish an hour\nplaces    1 of 200\nkeep all that pass\n");
    scene_free(scene);
}

static void test_panel_without_places_and_numbers(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 0);
    scene->port.places = -1;
    scene_judge(scene, "r");
    assert_panel(scene, "bowl             1\nK 0 H 0 R 1\n\n"
                        "round            1\nK 0 H 0 R 1\n\n"
                        "pace not known\n\n\n");
    scene_free(scene);
}

static void assert_cut(struct scene *scene, struct cut cut, const char *expected)
{
    char whole[512];
    snprintf(whole, sizeof whole,
             "bowl       0 of 60\nK 0 H 0 R 0\n\nround     0 of 240\nK 0 H 0 R 0\n\n"
             "pace not known\nplaces    0 of 200\n%s\n",
             expected);
    scene->sheet.cut = cut;
    assert_panel(scene, whole);
}

static void test_panel_tells_the_cut_line(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    int64_t unit = score_unit(&scene->standard);
    assert_cut(scene, (struct cut){.kind = CUT_UNKNOWN}, "no cut line yet");
    assert_cut(scene, (struct cut){.kind = CUT_ALL}, "keep all that pass");
    assert_cut(scene, (struct cut){.kind = CUT_EARLY}, "too early to keep");
    assert_cut(scene, (struct cut){.kind = CUT_NONE}, "keep no more");
    assert_cut(scene, (struct cut){.kind = CUT_OVER, .score = 100 * unit}, "keep over 100.0");
    assert_cut(scene, (struct cut){.kind = CUT_OVER, .score = 200 * unit / 3}, "keep over 66.7");
    scene_free(scene);
}

static void test_panel_says_more_where_there_is_room(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "krk");
    assert_part(scene, side_panel_draw, 14, 24,
                "bowl             3 of 60\nK 2  H 0  R 1\nR·······················\n\n"
                "round           3 of 240\nK 2  H 0  R 1\n························\n\n"
                "pace not known\nplaces          2 of 200\nkeep all that pass\n\n\n\n");
    scene_free(scene);
}

/* The verdict banner. */

/* The caption, and the style in which the whole banner stands. */
static void assert_banner(const struct scene *scene, const char *caption, enum style style)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, 1 + BIG_ROWS, BANNER_COLUMNS);
    text_init(&text);
    verdict_banner_draw(&grid, (struct area){0, 0, grid.rows, grid.columns}, &scene->sheet);
    grid_text(&grid, &text);
    *strchr(text.data, '\n') = '\0';
    assert_string_equal(text.data, caption);
    for (int i = 0; i < grid.rows * grid.columns; i++)
        assert_int_equal(grid.cells[i].style, style);
    text_done(&text);
    grid_done(&grid);
}

static void test_banner_is_empty_before_the_first_verdict(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_banner(scene, "", STYLE_PLAIN);
    scene_free(scene);
}

static void test_banner_says_which_fish_and_why(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "k");
    assert_banner(scene, " fish 1 KEEP  75.0 points", STYLE_KEEP);
    scene_judge(scene, "h");
    assert_banner(scene, " fish 2 HOLD  50.0 points", STYLE_HOLD);
    scene_judge(scene, "r");
    assert_banner(scene, " fish 3 REJECT  Bent spine (magari)", STYLE_REJECT);
    scene_judge(scene, "l");
    assert_banner(scene, " fish 4 REJECT  0.0, Body outline (taikei…", STYLE_REJECT);
    scene_free(scene);
}

/* The number of the fish is part of the banner as large as the letter of its verdict. */
static void test_banner_carries_the_number(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "r");
    scene->sheet.fish[0].number = 14;
    assert_part(scene, verdict_banner_draw, 1 + BIG_ROWS, BANNER_COLUMNS,
                " fish 14 REJECT  Bent spine (magari)\n"
                "  ▄█  █  █   █▀▀▄\n"
                "   █  █▄▄█   █▀█\n"
                "  ▄█▄    █   █  █\n");
    scene_free(scene);
}

/* Its score would keep it; the line it was closed against stands there. */
static void test_banner_says_why_there_is_no_place(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    int64_t unit = score_unit(&scene->standard);
    scene->sheet.cut = (struct cut){.kind = CUT_NONE};
    scene_judge(scene, "k");
    assert_banner(scene, " fish 1 HOLD  75.0, places full", STYLE_HOLD);
    scene->sheet.cut = (struct cut){.kind = CUT_OVER, .score = 80 * unit};
    scene_judge(scene, "k");
    assert_banner(scene, " fish 2 HOLD  75.0, not over the line 80.0", STYLE_HOLD);
    scene->sheet.cut = (struct cut){.kind = CUT_EARLY};
    scene_judge(scene, "k");
    assert_banner(scene, " fish 3 HOLD  75.0, too early to keep", STYLE_HOLD);
    scene_free(scene);
}

static void test_banner_of_a_second_look_names_the_bowl(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "rh");
    scene_second_look(scene);
    scene_judge(scene, "k");
    assert_banner(scene, " fish 2 of bowl 3 KEEP  75.0 points", STYLE_KEEP);
    scene_free(scene);
}

static void add_whole(const struct scene *scene, struct text *out)
{
    struct grid grid;
    struct sheet_view view = view_of(scene);
    grid_init(&grid, 24, 80);
    sheet_view_draw(&grid, &view);
    grid_text(&grid, out);
    grid_done(&grid);
}

/* Which fish of which bowl came up is not known, so no number of one is shown. */
static void test_a_basin_counts_its_own_fish(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    struct text whole, other;
    text_init(&whole);
    text_init(&other);
    scene_judge(scene, "rh");
    scene_second_look(scene);
    scene->sheet.unnumbered = true;
    scene_judge(scene, "k");
    assert_banner(scene, " fish 1 of the basin KEEP  75.0 points", STYLE_KEEP);
    add_whole(scene, &whole);
    assert_non_null(strstr(whole.data, "correct fish 1"));
    scene->sheet.fish[0].number = 7;
    add_whole(scene, &other);
    assert_string_equal(other.data, whole.data);
    text_done(&whole);
    text_done(&other);
    scene_free(scene);
}

/* The current fish. */

static void draw_fish(struct grid *grid, struct area area, const struct sheet *sheet)
{
    current_fish_draw(grid, area, sheet, 1);
}

static void test_number_and_state(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_part(scene, draw_fish, 1 + BIG_ROWS, 36, "NOW 11 of 11 open\n ▄█\n  █\n ▄█▄\n");
    scene_judge(scene, "h");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_part(scene, draw_fish, 1 + BIG_ROWS, 36, "NOW HOLD 50.0\n ▄█\n  █\n ▄█▄\n");
    scene_free(scene);
}

static void test_fish_of_a_second_look(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "hr");
    scene_second_look(scene);
    assert_part(scene, draw_fish, 1 + BIG_ROWS, 36, "NOW bowl 3, 11 open\n ▄█\n  █\n ▄█▄\n");
    scene_free(scene);
}

/* A number too long for large letters is still there. */
static void test_long_numbers(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene->sheet.fish[0].number = 12345678;
    assert_part(scene, draw_fish, 1 + BIG_ROWS, 36, "NOW 11 of 11 open\n\n12345678\n\n");
    scene_free(scene);
}

static void test_recent_fish_nearest_first(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    assert_part(scene, recent_fish_draw, 2, 40, "\n\n");
    scene_judge(scene, "krhl");
    assert_part(scene, recent_fish_draw, 5, 40,
                "    4 R Body outline (taikei) under 2\n    3 H 50.0\n"
                "    2 R Bent spine (magari)\n    1 K 75.0\n\n");
    assert_part(scene, recent_fish_draw, 2, 24, "    4 R Body outline (…\n    3 H 50.0\n");
    scene_free(scene);
}

static void test_recent_fish_are_before_the_current_one(void **state)
{
    (void)state;
    struct scene *scene = bowl();
    scene_judge(scene, "kh");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_part(scene, recent_fish_draw, 2, 40, "    1 K 75.0\n\n");
    scene_free(scene);
}

/* The progress strip. */

static struct scene *bowl_of(int expected)
{
    struct standard standard = scene_standard();
    return scene_new(&standard, expected);
}

static void test_strip_shows_the_whole_bowl(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(12);
    scene_judge(scene, "krhlk");
    assert_part(scene, progress_strip_draw, 2, 30, "KRHRK ····· ··\n      ▲  10\n");
    scene_do(scene, COMMAND_EARLIER, 0);
    assert_part(scene, progress_strip_draw, 2, 30, "KRHRK ····· ··\n    ▲    10\n");
    scene_free(scene);
}

static void test_strip_grows_where_no_number_is_known(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(0);
    assert_part(scene, progress_strip_draw, 2, 30, "·\n▲\n");
    scene_judge(scene, "kr");
    assert_part(scene, progress_strip_draw, 2, 30, "KR·\n  ▲\n");
    scene_free(scene);
}

/* A bowl that just fits is not cut. */
static void test_strip_scrolls_around_the_fish(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(30);
    assert_part(scene, progress_strip_draw, 2, 35,
                "····· ····· ····· ····· ····· ·····\n▲        10          20          30\n");
    assert_part(scene, progress_strip_draw, 2, 34,
                "      ····· ····· ·····        15▸\n      ▲        10\n");
    scene_judge(scene, "rrrrrrrrrrrrrrr");
    assert_part(scene, progress_strip_draw, 2, 34,
                "◂10   RRRRR ····· ·····         5▸\n"
                "            ▲  20\n");
    scene_judge(scene, "rrrrrrrrrrrrrr");
    assert_part(scene, progress_strip_draw, 2, 34,
                "◂15   RRRRR RRRRR RRRR·\n"
                "         20           ▲\n");
    scene_free(scene);
}

static void test_strip_of_a_second_look_has_no_numbers(void **state)
{
    (void)state;
    struct scene *scene = bowl_of(60);
    scene_judge(scene, "hhhhhhhhhhhh");
    scene_second_look(scene);
    assert_part(scene, progress_strip_draw, 2, 30, "····· ····· ··\n▲\n");
    scene_free(scene);
}

/* The lists. */

static void assert_scale(int lowest, int highest, int typical, int score, const char *expected)
{
    struct standard standard = {.lowest = lowest, .highest = highest, .typical = typical};
    struct grid grid;
    struct text text;
    grid_init(&grid, 1, 40);
    text_init(&text);
    int used = scale_draw(&grid, 0, 0, STYLE_PLAIN, &standard, score, standard.typical);
    assert_int_equal(used, scale_columns(&standard));
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

static void test_marks_score_and_typical(void **state)
{
    (void)state;
    assert_scale(1, 5, 3, SCORE_NONE, " 1  2 (3) 4  5\n");
    assert_scale(1, 5, 3, 4, " 1  2  3 [4] 5\n");
    assert_scale(1, 5, 3, 3, " 1  2 [3] 4  5\n");
    assert_scale(0, 9, 0, SCORE_NONE, "(0) 1  2  3  4  5  6  7  8  9\n");
    assert_scale(1, 10, 5, 10, " 1  2  3  4  5  6  7  8  9 [10]\n");
}

typedef void (*draw_list)(struct grid *grid, struct area area, const struct sheet_view *view);

static struct text list_drawn(const struct scene *scene, draw_list draw, int rows, int columns,
                              int page)
{
    struct grid grid;
    struct text text;
    struct sheet_view view = view_of(scene);
    view.page = page;
    grid_init(&grid, rows, columns);
    text_init(&text);
    draw(&grid, (struct area){0, 0, rows, columns}, &view);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

static void assert_list(const struct scene *scene, draw_list draw, int rows, int columns,
                        const char *part)
{
    struct text text = list_drawn(scene, draw, rows, columns, 0);
    if (strstr(text.data, part) == NULL)
        fail_msg("\"%s\" is not in\n%s", part, text.data);
    text_done(&text);
}

/* However few rows there are, the selected aspect is in sight. */
static void test_the_selected_aspect_is_always_in_sight(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    for (int aspect = 0; aspect < STANDARD_ASPECTS; aspect++) {
        char selected[64];
        scene->sheet.aspect = aspect;
        snprintf(selected, sizeof selected, "▸ %c Aspect number %d of",
                 scene->letters.aspects[aspect], aspect + 1);
        for (int rows = 5; rows <= STANDARD_ASPECTS; rows++)
            assert_list(scene, aspects_draw, rows, 60, selected);
    }
    scene_free(scene);
}

static void test_tells_how_many_are_out_of_sight(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene->sheet.aspect = 12;
    assert_list(scene, aspects_draw, 11, 40, "  ↑ 8 more");
    assert_list(scene, aspects_draw, 11, 40, "  ↓ 7 more");
    scene_free(scene);
}

static void test_scores_and_floors(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene_do(scene, COMMAND_SCORE, 1);
    scene_do(scene, COMMAND_SCORE, 5);
    assert_list(scene, aspects_draw, 11, 35, "  B Body outline       1! min 2 ×18\n");
    assert_list(scene, aspects_draw, 11, 35, "  T Tail tube          5         ×8\n");
    assert_list(scene, aspects_draw, 11, 35, "▸ H Head shape         ·         ×8\n");
    assert_list(scene, aspects_draw, 11, 60, "[1] 2  3  4  5");
    assert_list(scene, aspects_draw, 11, 24, "  B Body outline      1!\n");
    scene_free(scene);
}

/* All of them, with letters and effects, also where there are more than rows. */
static void test_every_fault_is_shown(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    assert_int_equal(fault_columns(&standard, 26), 1);
    assert_int_equal(fault_columns(&standard, 11), 3);
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        char start[16];
        snprintf(start, sizeof start, "%c %d ", scene->letters.faults[i], i + 1);
        if (scene->letters.faults[i] != '\0')
            assert_list(scene, faults_draw, 11, 60, start);
    }
    scene_free(scene);
}

static void test_faults_seen(void **state)
{
    (void)state;
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene_do(scene, COMMAND_FAULT, 7);
    assert_list(scene, faults_draw, 10, 24, " s Bent spine (magari) R\n");
    assert_list(scene, faults_draw, 10, 24, "✓f Nose line red    -5.5\n");
    assert_list(scene, faults_draw, 10, 40, "reject\n");
    assert_list(scene, faults_draw, 10, 40, "hold\n");
    scene_free(scene);
}

/* While rows are picked by number every page names its twelve, and the letters step back. */
static void test_numbers_while_picking(void **state)
{
    (void)state;
    struct standard standard = scene_largest_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene->sheet.mode = SHEET_PICK_FAULT;
    struct text first = list_drawn(scene, faults_draw, 26, 40, 0);
    assert_non_null(strstr(first.data, " 1 1 of"));
    assert_non_null(strstr(first.data, " + 12 of"));
    assert_non_null(strstr(first.data, "   13 of"));
    struct text third = list_drawn(scene, faults_draw, 26, 40, 2);
    assert_non_null(strstr(third.data, "   24 of"));
    assert_non_null(strstr(third.data, " 2 26 of"));
    text_done(&first);
    text_done(&third);
    scene->sheet.mode = SHEET_PICK_ASPECT;
    assert_list(scene, aspects_draw, 24, 60, "  0 Aspect number 10");
    assert_list(scene, faults_draw, 26, 40, " o 1 of");
    scene_free(scene);
}

/* Choices by number. */

static struct text choices_drawn(const struct scene *scene)
{
    struct grid grid;
    struct text text;
    struct sheet_view view = view_of(scene);
    grid_init(&grid, 11, 60);
    text_init(&text);
    choices_draw(&grid, (struct area){0, 0, 11, 60}, &view);
    grid_text(&grid, &text);
    grid_done(&grid);
    return text;
}

static void assert_offered(const struct scene *scene, int digit, const char *words)
{
    char line[128];
    snprintf(line, sizeof line, "  %d   %s\n", digit, words);
    struct text text = choices_drawn(scene);
    if (strstr(text.data, line) == NULL)
        fail_msg("\"%d %s\" is not in\n%s", digit, words, text.data);
    text_done(&text);
}

static struct scene *in_mode(enum sheet_mode mode)
{
    struct standard standard = scene_standard();
    struct scene *scene = scene_new(&standard, 60);
    scene->sheet.mode = mode;
    return scene;
}

static void test_only_where_there_are_choices(void **state)
{
    (void)state;
    for (int mode = 0; mode < SHEET_MODE_COUNT; mode++) {
        bool choice = mode == SHEET_MENU || mode == SHEET_NOTE || mode == SHEET_VERDICT ||
                      mode == SHEET_REASON;
        assert_int_equal(choices_offered((enum sheet_mode)mode), choice);
    }
}

static void assert_in_text(void *context, const struct key_row *row)
{
    assert_non_null(strstr(((const struct text *)context)->data, row->help));
}

/* Every row of the table that the menu's keys come from, to its last letter. */
static void test_the_menu_is_its_table(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_MENU);
    struct text text = choices_drawn(scene);
    keys_each(&sheet_menu_keys, assert_in_text, &text);
    text_done(&text);
    scene_free(scene);
}

static void test_ready_notes(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_NOTE);
    for (int digit = 1; digit <= 9; digit++)
        if (sheet_ready(&scene->sheet, digit) != NULL)
            assert_offered(scene, digit, sheet_ready(&scene->sheet, digit));
    assert_offered(scene, 0, "type it");
    scene_free(scene);
}

static void test_ready_reasons(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_REASON);
    for (int verdict = VERDICT_KEEP; verdict < VERDICT_COUNT; verdict++) {
        scene->sheet.chosen = (enum verdict)verdict;
        for (int digit = 1; digit <= 9; digit++)
            if (sheet_ready(&scene->sheet, digit) != NULL)
                assert_offered(scene, digit, sheet_ready(&scene->sheet, digit));
    }
    scene_free(scene);
}

/* The digits do what the screen says they do. */
static void test_verdicts_by_hand(void **state)
{
    (void)state;
    for (int digit = 1; digit <= 3; digit++) {
        struct scene *scene = in_mode(SHEET_VERDICT);
        scene_do(scene, COMMAND_CHOOSE, digit);
        enum verdict chosen = scene->sheet.chosen;
        scene->sheet.mode = SHEET_VERDICT;
        assert_offered(scene, digit, verdict_terms[chosen].word);
        scene_free(scene);
    }
}

static void test_a_verdict_by_hand_can_be_removed(void **state)
{
    (void)state;
    struct scene *scene = in_mode(SHEET_VERDICT);
    struct text without = choices_drawn(scene);
    assert_null(strstr(without.data, "remove the verdict"));
    scene->sheet.fish[0].judgement.by_hand = VERDICT_KEEP;
    assert_offered(scene, 0, "remove the verdict by hand");
    text_done(&without);
    scene_free(scene);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fresh_bowl),
        cmocka_unit_test(test_middle_of_bowl),
        cmocka_unit_test(test_earlier_fish),
        cmocka_unit_test(test_the_screen_in_other_modes),
        cmocka_unit_test(test_largest_standard),
        cmocka_unit_test(test_wide_characters),
        cmocka_unit_test(test_second_look),
        cmocka_unit_test(test_full_bowl_without_places),
        cmocka_unit_test(test_asks_for_the_selected_aspect),
        cmocka_unit_test(test_a_fish_that_is_done),
        cmocka_unit_test(test_the_question_of_other_modes),
        cmocka_unit_test(test_long_lines_show_their_end),
        cmocka_unit_test(test_the_row_stands_out),
        cmocka_unit_test(test_panel_counts_bowl_and_round),
        cmocka_unit_test(test_panel_without_places_and_numbers),
        cmocka_unit_test(test_panel_tells_the_cut_line),
        cmocka_unit_test(test_panel_says_more_where_there_is_room),
        cmocka_unit_test(test_banner_is_empty_before_the_first_verdict),
        cmocka_unit_test(test_banner_says_which_fish_and_why),
        cmocka_unit_test(test_banner_carries_the_number),
        cmocka_unit_test(test_banner_says_why_there_is_no_place),
        cmocka_unit_test(test_banner_of_a_second_look_names_the_bowl),
        cmocka_unit_test(test_a_basin_counts_its_own_fish),
        cmocka_unit_test(test_number_and_state),
        cmocka_unit_test(test_fish_of_a_second_look),
        cmocka_unit_test(test_long_numbers),
        cmocka_unit_test(test_recent_fish_nearest_first),
        cmocka_unit_test(test_recent_fish_are_before_the_current_one),
        cmocka_unit_test(test_strip_shows_the_whole_bowl),
        cmocka_unit_test(test_strip_grows_where_no_number_is_known),
        cmocka_unit_test(test_strip_scrolls_around_the_fish),
        cmocka_unit_test(test_strip_of_a_second_look_has_no_numbers),
        cmocka_unit_test(test_marks_score_and_typical),
        cmocka_unit_test(test_the_selected_aspect_is_always_in_sight),
        cmocka_unit_test(test_tells_how_many_are_out_of_sight),
        cmocka_unit_test(test_scores_and_floors),
        cmocka_unit_test(test_every_fault_is_shown),
        cmocka_unit_test(test_faults_seen),
        cmocka_unit_test(test_numbers_while_picking),
        cmocka_unit_test(test_only_where_there_are_choices),
        cmocka_unit_test(test_the_menu_is_its_table),
        cmocka_unit_test(test_ready_notes),
        cmocka_unit_test(test_ready_reasons),
        cmocka_unit_test(test_verdicts_by_hand),
        cmocka_unit_test(test_a_verdict_by_hand_can_be_removed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
