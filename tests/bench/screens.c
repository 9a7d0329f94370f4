/* The screens at a pseudo-terminal. The reference for what is seen first is the SQLite shell
 * opening the same file and asking one thing. */
#include "bench.h"
#include "farm.h"
#include "support/terminal.h"

enum { TURNS = 11, FEWEST = 1000 };

static int64_t first_screen(const struct bench *bench, const char *ledger, const char *part)
{
    const char *command[] = {bench->program, "--ledger", ledger, "--judge", "Bench", NULL};
    int64_t begin = now_us();
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    if (!terminal_shows(terminal, part))
        give_up("the screens never showed", part);
    int64_t took = now_us() - begin;
    terminal_close(terminal);
    return took;
}

static void compare_first_screen(struct bench *bench, const char *ledger, const char *part,
                                 const char *what, int64_t size)
{
    /* Read only: a shell that is the last to close a ledger after a kill would write into it. */
    const char *shell[] = {"sqlite3", "-readonly", ledger, "SELECT count(*) FROM spawning", NULL};
    int64_t ours[TURNS], theirs[TURNS];
    for (int i = 0; i < TURNS; i++) {
        ours[i] = first_screen(bench, ledger, part);
        theirs[i] = timed(shell);
    }
    bench_ratio(bench, what, size, (double)median(ours, TURNS) / (double)median(theirs, TURNS),
                "shell and one query", 3);
}

static void measure_first_screen(struct bench *bench)
{
    struct season_farm seasons = farm_of_seasons(bench, 20, 50);
    compare_first_screen(bench, seasons.ledger, "R2025-1", "first screen, spawnings", 1000);
    for (int64_t fish = FEWEST; fish <= bench->most_fish; fish *= 10)
        compare_first_screen(bench, farm_of_fish(bench, fish, FISH_PER_ROUND).ledger, "B1",
                             "first screen, fish", fish);
}

/* What each key has the program write. Whatever stands between two keys has come after so long. */
static void measure_bytes(struct bench *bench)
{
    enum { QUIET_MS = 300, MOST = 300 };
    static const struct {
        const char *key, *what, *shows; /* until it shows that the next key may come */
    } steps[] = {
        {"Enter", NULL, "B1: Kohaku"},
        {"Enter", NULL, "bowl 1"},
        {"Enter", NULL, "weight"},
        {"w", "a letter", ""},
        {"3", "a digit", ""},
        {"-", "undo", ""},
        {"Enter", "Enter, the first verdict", ""},
        {"Enter", "Enter, another verdict", ""},
        {"Enter", "Enter, the same verdict", ""},
        {"q", NULL, "whole round"},
        {"q", NULL, "begin a round"},
        {"+", NULL, "Begin a round"},
        {"2", NULL, ""}, /* the first cull, of the whole spawning, … */
        {"Enter", NULL, ""},
        {"Enter", NULL, ""},
        {"1", NULL, ""}, /* … what is kept is picked */
        {"F2", NULL, "a key is a FISH"},
        {"+", NULL, ""},
        {"+", "a tally", ""},
        {"1", "a tally of another kind", ""},
        {"-", "undo of a tally", ""},
    };
    char ledger[4096];
    /* Nobody has judged there: the screens begin with the first one. */
    text_copy(ledger, sizeof ledger, farm_of_fish(bench, FEWEST, FEWEST / 2).ledger);
    const char *command[] = {bench->program, "--ledger", ledger, "--judge", "Bench", NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    if (!terminal_shows(terminal, "B1"))
        give_up("the screens never showed", "B1");
    for (size_t i = 0; i < sizeof steps / sizeof *steps; i++) {
        terminal_settle(terminal, QUIET_MS);
        int64_t before = terminal_bytes(terminal);
        terminal_key(terminal, steps[i].key);
        if (!terminal_shows(terminal, steps[i].shows))
            give_up("the screens never showed", steps[i].shows);
        terminal_settle(terminal, QUIET_MS);
        if (steps[i].what != NULL)
            bench_line(bench, steps[i].what, 0, (double)(terminal_bytes(terminal) - before),
                       "bytes", MOST);
    }
    terminal_close(terminal);
}

const struct bench_row screen_rows[] = {
    {"bytes", "what a key at the sheet has the terminal carry", measure_bytes},
    {"first-screen", "from the start until the first screen is whole", measure_first_screen},
    {NULL, NULL, NULL},
};
