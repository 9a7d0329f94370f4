/* Fish come from a file as long as the evening was. The reference for reading it is the SQLite
 * shell's .import of the same file into one table without an index, which checks nothing. */
#include "bench.h"
#include "farm.h"

#include <stdio.h>
#include <unistd.h>

enum { FEWEST = 10000, SIZES = 3 };

struct importing {
    const struct bench *bench;
    struct fish_farm farm;
    char plain[4096];
};

static void make_room(void *context, bool ours)
{
    struct importing *importing = context;
    if (ours)
        farm_to_be(importing->bench, importing->farm.fish, importing->farm.per_round);
    else
        unlink(importing->plain);
}

static struct compared compare_import(const struct bench *bench, int64_t fish, int turns)
{
    struct importing importing = {.bench = bench, .farm = farm_to_be(bench, fish, FISH_PER_ROUND)};
    char load[4200];
    bench_path(bench, "plain.db", importing.plain);
    snprintf(load, sizeof load, ".import --csv %s fish", importing.farm.csv);
    const char *words[BENCH_WORDS];
    bench_words(bench, importing.farm.ledger,
                (const char *[]){"import", "fish", importing.farm.csv, NULL}, words);
    const char *shell[] = {"sqlite3", importing.plain, load, NULL};
    return compare_commands(words, shell, turns, make_room, &importing);
}

static void measure_import(struct bench *bench)
{
    int64_t sizes[SIZES];
    double each[SIZES];
    size_t count = 0;
    for (int64_t fish = FEWEST; fish <= bench->most_fish && count < SIZES; fish *= 10) {
        struct compared compared = compare_import(bench, fish, fish > 100000 ? 1 : 5);
        bench_ratio(bench, "import of fish, processor time", fish, compared.cpu, "shell's .import",
                    3);
        bench_line(bench, "import of fish, memory", fish, (double)compared.ours.peak_kb / 1024,
                   "MB", 64);
        sizes[count] = fish;
        each[count++] = (double)compared.ours.cpu_us / (double)fish;
    }
    bench_growth("import", "us a fish", sizes, each, count);
}

static void measure_size(struct bench *bench)
{
    for (int64_t fish = FEWEST; fish <= bench->most_fish; fish *= 10) {
        struct fish_farm farm = farm_of_fish(bench, fish, FISH_PER_ROUND);
        bench_ratio(bench, "ledger, bytes", fish,
                    (double)size_of_file(farm.ledger) / (double)size_of_file(farm.csv), "the CSV",
                    2);
    }
}

struct copying {
    char ours[4096], shell[4096];
};

/* No copy replaces another. */
static void take_copy_away(void *context, bool ours)
{
    struct copying *copying = context;
    unlink(ours ? copying->ours : copying->shell);
}

static void measure_backup(struct bench *bench, int64_t fish, const char *ledger)
{
    struct copying copying;
    char copy[4200];
    const char *words[BENCH_WORDS];
    bench_path(bench, "copy.db", copying.ours);
    bench_path(bench, "shell-copy.db", copying.shell);
    snprintf(copy, sizeof copy, ".backup %s", copying.shell);
    bench_words(bench, ledger, (const char *[]){"backup", copying.ours, NULL}, words);
    const char *shell[] = {"sqlite3", "-readonly", ledger, copy, NULL};
    struct compared compared = compare_commands(words, shell, 3, take_copy_away, &copying);
    bench_ratio(bench, "backup", fish, compared.cpu, "shell", 1.5);
    take_copy_away(&copying, true);
    take_copy_away(&copying, false);
}

/* The shell's dump writes more bytes than the file of fish has, its quick_check looks at less than
 * the command does, its .backup checks nothing. */
static void measure_whole(struct bench *bench)
{
    for (int64_t fish = FEWEST; fish <= bench->most_fish; fish *= 10) {
        struct fish_farm farm = farm_of_fish(bench, fish, FISH_PER_ROUND);
        const struct {
            const char *what;
            const char *const ours[3];
            const char *sql;
        } those[] = {{"export fish", {"export", "fish", NULL}, ".dump"},
                     {"check", {"check", NULL}, "PRAGMA quick_check"}};
        for (size_t i = 0; i < sizeof those / sizeof *those; i++) {
            const char *words[BENCH_WORDS];
            bench_words(bench, farm.ledger, those[i].ours, words);
            const char *shell[] = {"sqlite3", "-readonly", farm.ledger, those[i].sql, NULL};
            struct compared compared = compare_commands(words, shell, 3, NULL, NULL);
            bench_ratio(bench, those[i].what, fish, compared.cpu, "shell", 1.5);
        }
        measure_backup(bench, fish, farm.ledger);
    }
}

const struct bench_row import_rows[] = {
    {"import", "fish of eleven aspects from a file", measure_import},
    {"size", "the ledger beside the file it was imported from", measure_size},
    {"whole", "what looks at every fish of the ledger", measure_whole},
    {NULL, NULL, NULL},
};
