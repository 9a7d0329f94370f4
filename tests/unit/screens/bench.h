/* The screens without a terminal: a ledger in a folder of its own, the stack, and a grid; keys go
 * in, cells come out. */
#ifndef SENBETSU_TESTS_UNIT_SCREENS_BENCH_H
#define SENBETSU_TESTS_UNIT_SCREENS_BENCH_H

#include "senbetsu/screens/screens.h"
#include "support/import_bench.h"

struct bench {
    struct small_ledger small;
    struct app app;
    struct grid grid; /* 80 × 24 */
};

/* cmocka's set-up and tear-down: `*state` is the bench, the judge is Ines. An empty ledger; the
 * small ledger's one round; the demonstration ledger without
 * the fish that were judged one by one. */
int bench_setup_empty(void **state);
int bench_setup_small(void **state);
int bench_setup_demo(void **state);
int bench_teardown(void **state);

/* Reads a file of the demonstration, or a text, into the ledger. */
void bench_import(struct bench *bench, import_function *function, const char *path);
void bench_import_text(struct bench *bench, import_function *function, const char *text);

/* Presses keys by name, separated by blanks, with a second between them: "+ K 7 Enter". */
void bench_press(struct bench *bench, const char *keys);

/* The same at once and before the screen was painted, as a hand does that does not look up. */
void bench_type_ahead(struct bench *bench, const char *keys);

/* Types every character. */
void bench_type(struct bench *bench, const char *text);

/* Nothing is pressed for a while. */
void bench_wait(struct bench *bench);

/* What stands on the screen now. */
void bench_text(struct bench *bench, struct text *ret);
#define assert_shows(bench, part) bench_assert((bench), (part), true, __FILE__, __LINE__)
#define assert_hides(bench, part) bench_assert((bench), (part), false, __FILE__, __LINE__)
void bench_assert(struct bench *bench, const char *part, bool shown, const char *file, int line);

/* An app on which a screen of this table says something, for drawing it by itself. */
static inline struct app view_app(struct screen_kind *kind, const struct key_table *keys,
                                  const char *said)
{
    struct app app = {.screens = {{kind, NULL}}, .screen_count = 1};
    *kind = (struct screen_kind){.keys = keys};
    text_copy(app.message, sizeof app.message, said);
    return app;
}

/* The screen must be as tests/data/views/NAME-80x24.txt has it; the large one is 120 × 40. */
void assert_golden(struct bench *bench, const char *name);
void assert_golden_large(struct bench *bench, const char *name);

/* A fish of the bowl as the ledger has it; empty where it is not in it. */
struct fish bench_fish(struct bench *bench, size_t number);

#endif
