/* A key at the bowls, from the moment it is pressed until the screen answers, its record on disk by
 * then. The reference is a bare write of one page followed by fdatasync, in the same folder and in
 * turns with the keys. */
#include "bench.h"
#include "farm.h"
#include "support/terminal.h"

#include <fcntl.h>
#include <unistd.h>

enum { KEYS = 300, QUIET_MS = 200 };

static int64_t one_key(struct terminal *terminal, const char *key)
{
    int64_t begin = now_us();
    terminal_type(terminal, key);
    if (!terminal_answers(terminal))
        give_up("the screens", "did not answer a key");
    int64_t took = now_us() - begin;
    terminal_settle(terminal, 2);
    return took;
}

/* The sheet of B1's first bowl, with the first fish in front. */
static struct terminal *open_sheet(const struct bench *bench, const char *ledger)
{
    const char *command[] = {bench->program, "--ledger", ledger, "--judge", "Bench", NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    static const char *const steps[][2] = {
        {"B1", "Enter"}, {"B1: Kohaku", "Enter"}, {"bowl 1", "Enter"}};
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        if (!terminal_shows(terminal, steps[i][0]))
            give_up("the screens never showed", steps[i][0]);
        terminal_key(terminal, steps[i][1]);
    }
    terminal_settle(terminal, QUIET_MS);
    return terminal;
}

/* A fault is set and taken away again. */
static void measure_letter(struct bench *bench)
{
    struct fish_farm farm = farm_of_fish(bench, 1000, FISH_PER_ROUND);
    char path[4096];
    int file = open(bench_path(bench, "pages", path), O_CREAT | O_WRONLY | O_TRUNC, 0600);
    struct terminal *terminal = open_sheet(bench, farm.ledger);
    int64_t keys[KEYS], writes[KEYS];
    for (int i = 0; i < KEYS; i++) {
        writes[i] = synced_write(file);
        keys[i] = one_key(terminal, "w");
    }
    terminal_close(terminal);
    close(file);
    bench_ratio(bench, "a letter until the screen, median", 0,
                (double)median(keys, KEYS) / (double)median(writes, KEYS), "a synced write", 1.3);
    bench_ratio(bench, "a letter until the screen, 99 %", 0,
                (double)quantile(keys, KEYS, 0.99) / (double)quantile(writes, KEYS, 0.99),
                "a synced write", 1.6);
}

/* A fault of a judged fish is set or taken away, which closes it again, and that is taken back: in
 * rounds that grow. */
static void measure_closing(struct bench *bench)
{
    enum { SIZES = 3, TURNS = KEYS / 2 };
    static const int64_t sizes[SIZES] = {1000, 10000, 100000};
    double closings[SIZES], undos[SIZES];
    char path[4096];
    size_t count = 0;
    int file = open(bench_path(bench, "pages", path), O_CREAT | O_WRONLY | O_TRUNC, 0600);
    for (; count < SIZES && sizes[count] <= bench->most_fish; count++) {
        struct fish_farm farm = farm_of_fish(bench, sizes[count], sizes[count]);
        struct terminal *terminal = open_sheet(bench, farm.ledger);
        int64_t closing[TURNS], undo[TURNS], writes[TURNS];
        for (int i = 0; i < TURNS; i++) {
            writes[i] = synced_write(file);
            closing[i] = one_key(terminal, "w");
            undo[i] = one_key(terminal, "-");
        }
        terminal_close(terminal);
        double write = (double)median(writes, TURNS);
        closings[count] = (double)median(closing, TURNS) / write;
        undos[count] = (double)median(undo, TURNS) / write;
        bench_ratio(bench, "a closing key until the screen, median", sizes[count], closings[count],
                    "a synced write", 1.5);
        bench_ratio(bench, "an undo until the screen, median", sizes[count], undos[count],
                    "a synced write", 1.5);
    }
    close(file);
    bench_growth("a closing key", "synced writes", sizes, closings, count);
    bench_growth("an undo", "synced writes", sizes, undos, count);
}

const struct bench_row key_rows[] = {
    {"letter", "a letter at the sheet", measure_letter},
    {"closing", "a key that closes a fish, and an undo, in rounds that grow", measure_closing},
    {NULL, NULL, NULL},
};
