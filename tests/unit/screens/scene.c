#include "scene.h"
#include "senbetsu/base/alloc.h"
#include "support/source.h"

enum { MORNING_MS = (8 * 60 + 31) * 60 * 1000, FISH_MS = 10 * 1000 };

struct standard scene_standard(void)
{
    return (struct standard){
        .name = "metallic-harvest",
        .varieties = "Kikusui",
        .stage = STAGE_HARVEST,
        .lowest = 1,
        .highest = 5,
        .typical = 3,
        .keep_at = 6000,
        .hold_at = 5000,
        .aspect_count = 11,
        .aspects =
            {
                {"body", "Body outline (taikei)", 18, 2, VERDICT_REJECT, 0},
                {"tail", "Tail tube (ozutsu)", 8, NO_FLOOR, VERDICT_REJECT, 0},
                {"shape", "Head shape", 8, NO_FLOOR, VERDICT_REJECT, 0},
                {"pectorals", "Pectoral fins", 6, NO_FLOOR, VERDICT_REJECT, 0},
                {"white", "White ground (shiroji)", 14, 2, VERDICT_HOLD, 0},
                {"lustre", "Metallic lustre (hikari)", 13, 2, VERDICT_REJECT, 0},
                {"red", "Red, even tone (hi)", 8, NO_FLOOR, VERDICT_REJECT, 0},
                {"head", "Head pattern", 8, NO_FLOOR, VERDICT_REJECT, 0},
                {"steps", "Steps or patches (dan)", 9, NO_FLOOR, VERDICT_REJECT, 0},
                {"stop", "White before tail (odome)", 3, NO_FLOOR, VERDICT_REJECT, 0},
                {"edge", "Edge of patches (kiwa)", 5, NO_FLOOR, VERDICT_REJECT, 0},
            },
        .fault_count = 10,
        .faults =
            {
                {"spine", "Bent spine (magari)", EFFECT_REJECT, 0, 's'},
                {"jaw", "Twisted jaw (kuchi-magari)", EFFECT_REJECT, 0, 'j'},
                {"gill", "Short gill cover (mekure)", EFFECT_REJECT, 0, 'o'},
                {"missing", "Eye or fin missing (kake)", EFFECT_REJECT, 0, 'e'},
                {"stray", "Stray scales (muda-uroko)", EFFECT_REJECT, 0, 'd'},
                {"window", "White hole in red (mado)", EFFECT_DEDUCT, 1000, 'w'},
                {"eyes", "Colour over an eye", EFFECT_DEDUCT, 600, 'y'},
                {"nose", "Nose line red (hanatsuki)", EFFECT_DEDUCT, 550, 'f'},
                {"fins", "Colour in a fin", EFFECT_DEDUCT, 500, 'c'},
                {"wound", "Wound or sore (kizu)", EFFECT_HOLD, 0, 'x'},
            },
    };
}

struct standard scene_largest_standard(void)
{
    static const enum fault_effect effects[] = {EFFECT_REJECT, EFFECT_HOLD, EFFECT_DEDUCT};
    struct standard standard = {
        .name = "largest",
        .varieties = "Kikusui",
        .stage = STAGE_HOUSE,
        .lowest = 1,
        .highest = 10,
        .typical = 5,
        .keep_at = 6000,
        .hold_at = 4000,
        .aspect_count = STANDARD_ASPECTS,
        .fault_count = STANDARD_FAULTS,
    };
    for (int i = 0; i < STANDARD_ASPECTS; i++) {
        struct aspect *aspect = &standard.aspects[i];
        *aspect = (struct aspect){.weight = 100, .floor = 10, .below_floor = VERDICT_HOLD};
        snprintf(aspect->code, sizeof aspect->code, "aspect-%d", i + 1);
        snprintf(aspect->label, sizeof aspect->label, "Aspect number %d of a very long standard",
                 i + 1);
    }
    for (int i = 0; i < STANDARD_FAULTS; i++) {
        struct fault *fault = &standard.faults[i];
        *fault = (struct fault){.effect = effects[i % 3], .deduction = i % 3 == 2 ? 1025 : 0};
        snprintf(fault->code, sizeof fault->code, "fault-%d", i + 1);
        snprintf(fault->label, sizeof fault->label, "%d of the many faults there are", i + 1);
    }
    return standard;
}

struct scene *scene_new(const struct standard *standard, int expected)
{
    struct err err;
    struct scene *scene = alloc_zeroed(1, sizeof *scene);
    scene->standard = *standard;
    snprintf(scene->title, sizeof scene->title, "26-014 · K7 × P2 · Kikusui · %s · lot north",
             stage_terms[standard->stage].word);
    scene->judge = "Aiko";
    scene->letters = letters_assign(standard);
    fake_port_init(&scene->port, &scene->standard);
    scene->port.now_ms = MORNING_MS;
    scene->port.expected = 4 * expected;
    scene->port.places = 200;
    assert_ok(fake_port_open(&scene->port, &scene->sheet, expected, false, &err), &err);
    return scene;
}

void scene_free(struct scene *scene)
{
    sheet_done(&scene->sheet);
    fake_port_done(&scene->port);
    free(scene);
}

void scene_second_look(struct scene *scene)
{
    struct err err;
    int expected = scene->sheet.expected;
    sheet_done(&scene->sheet);
    scene->port.place = (struct sheet_place){0};
    assert_ok(fake_port_open(&scene->port, &scene->sheet, expected, true, &err), &err);
}

void scene_do(struct scene *scene, enum sheet_command_kind kind, int number)
{
    sheet_do(&scene->sheet, &(struct sheet_command){.kind = kind, .number = number});
}

static void score_all(struct scene *scene, int score)
{
    for (int i = 0; i < scene->standard.aspect_count; i++)
        scene_do(scene, COMMAND_SCORE, score);
}

void scene_judge(struct scene *scene, const char *fish)
{
    for (; *fish != '\0'; fish++) {
        scene->port.now_ms += FISH_MS;
        if (*fish == 'r')
            scene_do(scene, COMMAND_FAULT, 0);
        else if (*fish == 'h')
            scene_do(scene, COMMAND_TYPICAL, 0);
        else
            score_all(scene, *fish == 'k' ? 4 : 1);
    }
}

void assert_part(const struct scene *scene, draw_part draw, int rows, int columns,
                 const char *expected)
{
    struct grid grid;
    struct text text;
    grid_init(&grid, rows, columns);
    text_init(&text);
    draw(&grid, (struct area){0, 0, rows, columns}, &scene->sheet);
    grid_text(&grid, &text);
    assert_string_equal(text.data, expected);
    text_done(&text);
    grid_done(&grid);
}

void assert_screen(const struct grid *grid, const char *name)
{
    char path[256];
    struct text text;
    text_init(&text);
    grid_text(grid, &text);
    snprintf(path, sizeof path, "tests/data/screens/%s.txt", name);
    assert_as_in_source(path, text.data);
    text_done(&text);
}
