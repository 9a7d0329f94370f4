/* What things cost, as ratios that mean the same on any machine:
 * bench PROGRAM FOLDER [--fish MOST] [--minutes MOST] [ROW …]
 *
 * FOLDER is on the disk to measure; what is made there is taken away at the end. Without ROW all
 * rows are measured; --fish says how far those that grow go (else 100,000 fish), --minutes how long
 * those that type at a pace go on (else 1). A ratio is the program's time by that of a reference,
 * both measured in turns in the same run; docs/performance.md says what each reference is, and why.
 * Exit status 1 where a figure misses what it should be by more than a fifth. */
/* nftw belongs to the X/Open part of POSIX. */
#define _XOPEN_SOURCE 700
#include "bench.h"

#include <ftw.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct bench_row *const tables[] = {key_rows, import_rows, pass_rows, screen_rows,
                                                 pair_rows};
enum { TABLES = sizeof tables / sizeof *tables };

const char *bench_path(const struct bench *bench, const char *name, char ret[4096])
{
    snprintf(ret, 4096, "%s/%s", bench->folder, name);
    return ret;
}

void bench_words(const struct bench *bench, const char *ledger, const char *const *words,
                 const char *ret[BENCH_WORDS])
{
    size_t count = 0;
    ret[count++] = bench->program;
    ret[count++] = "--ledger";
    ret[count++] = ledger;
    for (; *words != NULL && count + 1 < BENCH_WORDS; words++)
        ret[count++] = *words;
    ret[count] = NULL;
}

struct cost bench_run(const struct bench *bench, const char *ledger, const char *const *words)
{
    const char *command[BENCH_WORDS];
    bench_words(bench, ledger, words, command);
    return cost_of(command);
}

static void print_size(int64_t size)
{
    if (size > 0)
        printf(" %8lld", (long long)size);
    else
        printf(" %8s", "");
}

void bench_line(struct bench *bench, const char *what, int64_t size, double figure,
                const char *unit, double most)
{
    bool missed = most > 0 && figure > 1.2 * most;
    bench->lines++;
    bench->missed += missed;
    printf("%-38s", what);
    print_size(size);
    printf(" %9.3g %-22s", figure, unit);
    if (most > 0)
        printf(" to be at most %g: %s", most,
               missed          ? "MISSED"
               : figure > most ? "nearly"
                               : "reached");
    putchar('\n');
    fflush(stdout);
}

void bench_ratio(struct bench *bench, const char *what, int64_t size, double ratio,
                 const char *reference, double most)
{
    char unit[128];
    snprintf(unit, sizeof unit, "times %s", reference);
    bench_line(bench, what, size, ratio, unit, most);
}

void bench_remark(const char *format, ...)
{
    va_list values;
    va_start(values, format);
    printf("    ");
    vprintf(format, values);
    putchar('\n');
    va_end(values);
}

enum { BAR = 40, BAR_PER_TENFOLD = 8 };

void bench_growth(const char *what, const char *unit, const int64_t *sizes, const double *figures,
                  size_t count)
{
    double least = HUGE_VAL;
    for (size_t i = 0; i < count; i++)
        least = fmin(least, figures[i]);
    printf("    %s, %s (%d characters = ten times as much)\n", what, unit, BAR_PER_TENFOLD);
    for (size_t i = 0; i < count; i++) {
        int length = 1 + (int)lround(BAR_PER_TENFOLD * log10(figures[i] / least));
        printf("    %8lld %.*s %.3g\n", (long long)sizes[i], length < BAR ? length : BAR,
               "########################################", figures[i]);
    }
}

static void measure(struct bench *bench, const struct bench_row *row)
{
    printf("%s: %s\n", row->name, row->what);
    fflush(stdout);
    row->measure(bench);
}

/* Every row where `name` is NULL. */
static bool measure_named(struct bench *bench, const char *name)
{
    bool known = false;
    for (int i = 0; i < TABLES; i++)
        for (const struct bench_row *row = tables[i]; row->name != NULL; row++)
            if (name == NULL || strcmp(name, row->name) == 0) {
                measure(bench, row);
                known = true;
            }
    return known;
}

static int remove_one(const char *path, const struct stat *about, int kind, struct FTW *walk)
{
    (void)about, (void)kind, (void)walk;
    return remove(path);
}

static void list_rows(void)
{
    for (int i = 0; i < TABLES; i++)
        for (const struct bench_row *row = tables[i]; row->name != NULL; row++)
            fprintf(stderr, "  %-18s %s\n", row->name, row->what);
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fprintf(stderr,
                "usage: bench PROGRAM FOLDER [--fish MOST] [--minutes MOST] [ROW …], rows being\n");
        list_rows();
        return 2;
    }
    char folder[4096];
    snprintf(folder, sizeof folder, "%s/bench-XXXXXX", argv[2]);
    if (mkdtemp(folder) == NULL)
        give_up(folder, "cannot be made");
    struct bench bench = {.program = argv[1], .folder = folder, .most_fish = 100000, .minutes = 1};
    int at = 3;
    for (; argc > at + 1 && argv[at][0] == '-'; at += 2)
        if (strcmp(argv[at], "--fish") == 0)
            bench.most_fish = atoll(argv[at + 1]);
        else if (strcmp(argv[at], "--minutes") == 0)
            bench.minutes = atoi(argv[at + 1]);
    if (at == argc)
        measure_named(&bench, NULL);
    for (; at < argc; at++)
        if (!measure_named(&bench, argv[at])) {
            fprintf(stderr, "There is no row %s; there are\n", argv[at]);
            list_rows();
            return 2;
        }
    nftw(folder, remove_one, 16, FTW_DEPTH | FTW_PHYS);
    printf("%d figures, %d missed by more than a fifth\n", bench.lines, bench.missed);
    return bench.missed == 0 ? 0 : 1;
}
