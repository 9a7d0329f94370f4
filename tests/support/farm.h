/* A farm for one end-to-end test: a folder and a ledger of its own, and the real program in it. */
#ifndef SENBETSU_TESTS_SUPPORT_FARM_H
#define SENBETSU_TESTS_SUPPORT_FARM_H

#include "support/terminal.h"
#include "support/test.h"

struct farm {
    char folder[64];
    char ledger[96];
};

/* cmocka's set-up and tear-down: `*state` is the farm, with the demonstration's parents and
 * spawnings in its ledger and the judge not yet said. */
int farm_setup(void **state);
int farm_setup_empty(void **state);   /* no ledger yet */
int farm_setup_seasons(void **state); /* with the rounds of its seasons as well */
int farm_teardown(void **state);

/* Runs the program on the farm's ledger; the arguments end with NULL. What it writes is added to
 * `out` (NULL = let go). Returns its exit status. */
int farm_run(const struct farm *farm, struct text *out, ...);

/* Runs the command import; where the test sets the clock, at the beginning of 2025. */
int farm_import(const struct farm *farm, struct text *out, const char *kind, const char *path);

/* Writes a file into the farm's folder and gives its path. */
const char *farm_file(const struct farm *farm, const char *name, const char *content,
                      char *ret_path, size_t size);

/* Opens the screens. The judge is "Ines". `environment` may be NULL. */
struct terminal *farm_screens(const struct farm *farm, int rows, int columns,
                              const char *const *environment);

/* The same on 24 × 80 with a clock that begins at this second, and then stands or goes on; only for
 * tests that the build gives $SENBETSU_SET_CLOCK. */
struct terminal *farm_screens_at(const struct farm *farm, int64_t second, bool stands);

/* Presses keys by name, separated by spaces. */
void press(struct terminal *terminal, const char *keys);

/* Fails and prints the screen where it never shows the text, or never loses it. */
#define assert_shows(terminal, part)                                                               \
    farm_assert((terminal), terminal_shows((terminal), (part)), "never showed", (part), __FILE__,  \
                __LINE__)
#define assert_hides(terminal, part)                                                               \
    farm_assert((terminal), terminal_hides((terminal), (part)), "kept on showing", (part),         \
                __FILE__, __LINE__)
void farm_assert(struct terminal *terminal, bool good, const char *what, const char *part,
                 const char *file, int line);

/* The screen must be as the file under tests/data/terminal has it; with
 * SENBETSU_REGENERATE=1 the file is written. Days, times and the pace are masked, since they depend
 * on the clock. */
#define assert_screen(terminal, name) farm_assert_screen((terminal), (name), __FILE__, __LINE__)
void farm_assert_screen(struct terminal *terminal, const char *name, const char *file, int line);

/* The program has written a file: it must hold this. */
void farm_assert_file(const char *path, const char *expected);

#endif
