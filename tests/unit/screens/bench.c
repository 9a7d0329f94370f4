#include "bench.h"
#include "senbetsu/base/utf8.h"
#include "support/source.h"

enum { SECOND_MS = 1000 };

static struct bench *open_bench(void **state)
{
    struct bench *bench = calloc(1, sizeof *bench);
    struct small_ledger *small = &bench->small;
    const char *folder = getenv("TMPDIR");
    snprintf(small->folder, sizeof small->folder, "%.40s/senbetsu-XXXXXX",
             folder != NULL && folder[0] != '\0' ? folder : "/tmp");
    if (mkdtemp(small->folder) == NULL)
        fail_msg("cannot make a folder");
    snprintf(small->path, sizeof small->path, "%s/ledger.db", small->folder);
    small->now = 1794135600000; /* 2026-11-08 11:00 UTC */
    small->ledger = small_ledger_open(small);
    *state = bench;
    return bench;
}

/* The first screen, as for somebody who has said who judges. */
static int begin(struct bench *bench)
{
    struct err err;
    bench->app.ledger = bench->small.ledger;
    grid_init(&bench->grid, 24, 80);
    assert_ok(app_find_judge(&bench->app, "Ines", &err), &err);
    app_open_home(&bench->app);
    return 0;
}

int bench_setup_empty(void **state)
{
    return begin(open_bench(state));
}

int bench_setup_small(void **state)
{
    struct bench *bench = open_bench(state);
    small_ledger_fill(&bench->small);
    return begin(bench);
}

/* Without its fish: their rounds are in a file of their own. */
int bench_setup_demo(void **state)
{
    struct bench *bench = open_bench(state);
    bench_import(bench, import_parents, "demo/parents.csv");
    bench_import(bench, import_spawnings, "demo/spawnings.csv");
    bench_import(bench, import_standard, "demo/quillmere-kikusui.ini");
    bench_import(bench, import_rounds, "demo/rounds.csv");
    bench_import(bench, import_lots, "demo/lots.csv");
    return begin(bench);
}

int bench_teardown(void **state)
{
    struct bench *bench = *state;
    app_pop_all(&bench->app);
    grid_done(&bench->grid);
    ledger_close(bench->small.ledger);
    small_ledger_remove(&bench->small);
    free(bench);
    return 0;
}

void bench_import_text(struct bench *bench, import_function *function, const char *text)
{
    struct import import;
    struct err err;
    assert_ok(import_text(&bench->small, function, text, &import, &err), &err);
}

void bench_import(struct bench *bench, import_function *function, const char *path)
{
    struct text text;
    source_file(path, &text);
    bench_import_text(bench, function, text.data);
    text_done(&text);
}

static void press(struct bench *bench, struct key key)
{
    app_draw(&bench->app, &bench->grid);
    app_shown(&bench->app);
    bench->small.now += SECOND_MS;
    app_key(&bench->app, key);
}

static void press_unseen(struct bench *bench, struct key key)
{
    app_draw(&bench->app, &bench->grid);
    app_key(&bench->app, key);
}

static void press_each(struct bench *bench, const char *keys,
                       void (*press_one)(struct bench *bench, struct key key))
{
    char list[512];
    char *rest = NULL;
    text_copy(list, sizeof list, keys);
    for (char *name = strtok_r(list, " ", &rest); name != NULL; name = strtok_r(NULL, " ", &rest)) {
        struct key key = key_named(name);
        if (key.kind == KEY_NONE)
            fail_msg("there is no key %s", name);
        press_one(bench, key);
    }
}

void bench_press(struct bench *bench, const char *keys)
{
    press_each(bench, keys, press);
}

void bench_type_ahead(struct bench *bench, const char *keys)
{
    press_each(bench, keys, press_unseen);
}

void bench_type(struct bench *bench, const char *text)
{
    while (*text != '\0')
        press(bench, (struct key){KEY_CHARACTER, utf8_next(&text)});
}

void bench_wait(struct bench *bench)
{
    press(bench, (struct key){KEY_NONE, 0});
}

void bench_text(struct bench *bench, struct text *ret)
{
    text_init(ret);
    app_draw(&bench->app, &bench->grid);
    grid_text(&bench->grid, ret);
}

void bench_assert(struct bench *bench, const char *part, bool shown, const char *file, int line)
{
    struct text text;
    bench_text(bench, &text);
    if ((strstr(text.data, part) != NULL) != shown) {
        print_error("\"%s\" is %s the screen:\n", part, shown ? "not on" : "on");
        fprintf(stderr, "%s\n", text.data); /* longer than cmocka prints */
        _fail(file, line);
    }
    text_done(&text);
}

static void assert_as_golden(struct bench *bench, const char *name)
{
    char path[128];
    struct text text;
    bench_text(bench, &text);
    snprintf(path, sizeof path, "tests/data/views/%s-%dx%d.txt", name, bench->grid.columns,
             bench->grid.rows);
    assert_as_in_source(path, text.data);
    text_done(&text);
}

void assert_golden(struct bench *bench, const char *name)
{
    assert_as_golden(bench, name);
}

void assert_golden_large(struct bench *bench, const char *name)
{
    struct grid small = bench->grid;
    grid_init(&bench->grid, 40, 120);
    assert_as_golden(bench, name);
    grid_done(&bench->grid);
    bench->grid = small;
}

struct fish bench_fish(struct bench *bench, size_t number)
{
    struct fish *list, fish;
    size_t count;
    struct err err;
    fish_init(&fish, 0, 0, 0, 0);
    assert_ok(fish_of_bowl(bench->small.ledger, bench->small.bowl.id,
                           &bench->small.standard.standard, &list, &count, &err),
              &err);
    if (number <= count)
        fish = list[number - 1];
    free(list);
    return fish;
}
