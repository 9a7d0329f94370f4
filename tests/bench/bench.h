/* What a row of the bench has at hand: where it works, a farm of the size it asks for, and the
 * table that it writes into. */
#ifndef SENBETSU_TESTS_BENCH_BENCH_H
#define SENBETSU_TESTS_BENCH_BENCH_H

#include "measure.h"
#include <stddef.h>

enum { BENCH_WORDS = 24 };

struct bench {
    const char *program, *folder;
    int64_t most_fish; /* rows that grow stop there */
    int minutes;       /* rows that type at a pace go on so long */
    int lines, missed;
};

/* A row: its name on the command line, and what measures it. */
struct bench_row {
    const char *name;
    const char *what;
    void (*measure)(struct bench *bench);
};

/* One table of rows for each source. They end with a row without a name. */
extern const struct bench_row key_rows[], import_rows[], pass_rows[], screen_rows[], pair_rows[];

/* Writes a line of the table: what was measured, of how many (0 = of no size in particular), the
 * figure, and the most it should be. `most` is 0 where nothing is promised. A figure that is more
 * than a fifth above it makes the whole run fail. */
void bench_line(struct bench *bench, const char *what, int64_t size, double figure,
                const char *unit, double most);

/* The same for a ratio to a reference, which is named. */
void bench_ratio(struct bench *bench, const char *what, int64_t size, double ratio,
                 const char *reference, double most);

/* A line that explains those above: printf. */
void bench_remark(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Figures over sizes as bars whose length is a logarithm, so that what grows with the size is seen
 * beside what does not. */
void bench_growth(const char *what, const char *unit, const int64_t *sizes, const double *figures,
                  size_t count);

/* FOLDER/NAME into `ret`. */
const char *bench_path(const struct bench *bench, const char *name, char ret[4096]);

/* Runs the program on a ledger; the words end with NULL. */
struct cost bench_run(const struct bench *bench, const char *ledger, const char *const *words);

/* The words of such a command, for compare_commands; they stay as long as `ret` and what they point
 * to. */
void bench_words(const struct bench *bench, const char *ledger, const char *const *words,
                 const char *ret[BENCH_WORDS]);

#endif
