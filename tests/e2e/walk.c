#include "walk.h"

void walk_to_round(struct terminal *terminal, const char *places, const char *expected)
{
    assert_shows(terminal, "senbetsu: seasons and spawnings");
    assert_shows(terminal, "K25-1");
    press(terminal, "Down Enter");
    assert_shows(terminal, "K25-1: Kikusui");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, "6 Enter Enter Enter");
    assert_shows(terminal, "kikusui-harvest");
    press(terminal, "Enter");
    terminal_type(terminal, places);
    press(terminal, "Enter");
    terminal_type(terminal, expected);
    press(terminal, "Enter Enter Enter");
    assert_shows(terminal, "K25-1: harvest");
}

void walk_to_bowl(struct terminal *terminal, const char *fish)
{
    press(terminal, "+");
    assert_shows(terminal, "Fish in it");
    terminal_type(terminal, fish);
    press(terminal, "Enter");
    assert_shows(terminal, "Body outline");
    assert_shows(terminal, "11 of 11 open");
}

struct terminal *walk_to_first_fish(const struct farm *farm, const char *fish)
{
    struct terminal *terminal = farm_screens(farm, 24, 80, NULL);
    walk_to_round(terminal, "", "");
    walk_to_bowl(terminal, fish);
    return terminal;
}

void judge(struct terminal *terminal, const char *keys, int fish)
{
    char plate[32];
    snprintf(plate, sizeof plate, "fish %d ", fish);
    press(terminal, keys);
    assert_shows(terminal, plate);
}

void export_fish(const struct farm *farm, struct text *out)
{
    char path[160];
    snprintf(path, sizeof path, "%s/out.csv", farm->folder);
    assert_int_equal(farm_run(farm, out, "export", "fish", path, NULL), 0);
    text_clear(out);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char bytes[4096];
    for (size_t read; (read = fread(bytes, 1, sizeof bytes, file)) > 0;)
        text_add_bytes(out, bytes, read);
    fclose(file);
    remove(path);
}

void walk_to_tally(struct terminal *terminal, const char *stage, const char *manner,
                   const char *lot)
{
    assert_shows(terminal, "K25-1");
    press(terminal, "Down Enter");
    assert_shows(terminal, "K25-1: Kikusui");
    press(terminal, "+");
    assert_shows(terminal, "Which cull");
    press(terminal, stage);
    press(terminal, "Enter Enter");
    press(terminal, manner);
    press(terminal, "Enter Enter Enter");
    terminal_type(terminal, lot);
    press(terminal, "F2");
    assert_shows(terminal, "a key is a FISH");
}
