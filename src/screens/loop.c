/* The loop that carries keys from the terminal to the stack of screens and cells back. It knows of
 * the terminal three functions and of time the ledger's clock, so tests run it on keys that come
 * whenever they say, while the disk is as slow as they want it.
 *
 * Two things depend on when a key was pressed and not on when it was read: a hand that typed while
 * the disk was slow is no tag reader, and a key that was typed before a refusal was painted must
 * not count (app_hold_keys). So each key comes with the two instants between which it was pressed,
 * and the screens hear when they are painted and nothing waits that came before. */
#include "loop.h"
#include "senbetsu/store/daily.h"

static void fit_grid(const struct loop_terminal *terminal, struct grid *grid)
{
    int rows, columns;
    terminal->size(&rows, &columns);
    grid_done(grid);
    grid_init(grid, rows, columns);
}

/* Keys that have come and wait for their turn. They are read as soon as the program can, for the
 * time of a press is what tells a hand from a tag reader and a second press from a bounce. A key
 * that was there already came after the line had last been seen empty. */
struct line {
    const struct loop_terminal *terminal;
    const struct clock *clock;
    struct {
        struct key key;
        struct pressed pressed;
    } keys[64];
    int count, next;
    int64_t empty_ms; /* when the line was last seen empty */
};

static void add_key(struct line *line, struct key key, int64_t from_ms, int64_t to_ms)
{
    line->keys[line->count].key = key;
    line->keys[line->count++].pressed = (struct pressed){from_ms, to_ms};
}

static void read_waiting(struct line *line)
{
    const int most = (int)(sizeof line->keys / sizeof line->keys[0]);
    struct key key;
    line->count = line->next = 0;
    while (line->count < most && (key = line->terminal->read(0)).kind != KEY_NONE) {
        add_key(line, key, line->empty_ms, clock_now(line->clock));
        if (key.kind == KEY_HANGUP)
            return;
    }
    if (line->count < most)
        line->empty_ms = clock_now(line->clock);
}

/* The copy of the day is made while nobody types. Returns how long to wait for the next step. */
static int copy_meanwhile(struct app *app)
{
    enum { SHORT_MS = 20 };
    struct err err;
    enum daily_step step = daily_step(app->daily, &err);
    if (step == DAILY_FAILED)
        app_fail(app, &err);
    if (step == DAILY_FAILED || step == DAILY_DONE) {
        daily_free(app->daily);
        app->daily = NULL;
    }
    return step == DAILY_WAITS ? SHORT_MS : 0;
}

/* The wait is cut into short ones, so that a program that did not run for a while (it was stopped,
 * the machine was out of memory) notices: then the key came since the line was last seen empty,
 * like those behind it. */
static void wait_for_key(struct app *app, struct line *line)
{
    enum {
        TICK_MS = 250,
        LATE_MS = 50,
        REST_MS = 1000 /* whoever typed nothing may be thinking */
    };
    struct key key = {KEY_NONE, 0};
    int64_t most_ms = app_wait_ms(app), left_ms = most_ms, now_ms = line->empty_ms;
    bool copies = false;
    while (key.kind == KEY_NONE && left_ms > 0) {
        int tick_ms = left_ms < TICK_MS ? (int)left_ms : TICK_MS;
        line->empty_ms = now_ms;
        copies = app->daily != NULL && most_ms - left_ms >= REST_MS;
        key = line->terminal->read(copies ? copy_meanwhile(app) : tick_ms);
        now_ms = clock_now(line->clock);
        int64_t gone_ms = now_ms > line->empty_ms ? now_ms - line->empty_ms : 1;
        left_ms -= copies ? gone_ms : tick_ms;
    }
    bool ran = now_ms - line->empty_ms <= TICK_MS + LATE_MS && key.kind != KEY_RESIZED && !copies;
    if (ran)
        line->empty_ms = now_ms;
    add_key(line, key, line->empty_ms, now_ms);
}

/* A sign of work that takes long. */
struct work {
    const struct loop_terminal *terminal;
    const struct clock *clock;
    int64_t began_ms, told_ms;
    bool resized; /* meanwhile */
};

static void draw_work(struct grid *grid, const char *what, int64_t done, int64_t of)
{
    int column = 1 + grid_put(grid, 2, 1, -1, STYLE_STRONG, what);
    if (of > 0)
        grid_putf(grid, 2, column, -1, STYLE_STRONG, ": %d %%", (int)(done * 100 / of));
    grid_put(grid, 0, 1, -1, STYLE_TITLE, "This takes a while");
    grid_put(grid, grid->rows - 2, 0, -1, STYLE_KEY, "q");
    grid_put(grid, grid->rows - 2, 2, -1, STYLE_PLAIN, "leave");
}

/* Told of work within a key or a drawing. What is typed meanwhile is for no screen; only the key
 * that leaves every one leaves this, too. */
static bool show_work(void *context, const char *what, int64_t done, int64_t of)
{
    enum { SOON_MS = 250 };
    struct work *work = context;
    struct grid grid = {0};
    int64_t now_ms = clock_now(work->clock);
    bool early = now_ms - work->began_ms < SOON_MS || now_ms - work->told_ms < SOON_MS;
    if (early && of > 0)
        return true;
    work->told_ms = now_ms;
    fit_grid(work->terminal, &grid);
    draw_work(&grid, what, done, of);
    work->terminal->show(&grid);
    grid_done(&grid);
    struct key key = work->terminal->read(0);
    work->resized |= key.kind == KEY_RESIZED;
    bool leaves = key.kind == KEY_HANGUP || key.kind == KEY_ESCAPE ||
                  (key.kind == KEY_CHARACTER && (key.code == 'q' || key.code == '0'));
    return !leaves;
}

/* Until the last screen is left, or the line is cut: then every screen goes without a key having
 * been pressed, and the ledger holds the place as it was. Every key meets the screen as it was
 * drawn for it, but only what is left after all that have come is shown. */
static void run(struct app *app, const struct loop_terminal *terminal, struct grid *grid,
                struct work *work)
{
    const struct clock *clock = ledger_clock(app->ledger);
    struct line line = {.terminal = terminal, .clock = clock, .empty_ms = clock_now(clock)};
    while (app->screen_count > 0) {
        bool small = !app_fits(app, grid);
        work->began_ms = clock_now(clock);
        app_draw(app, grid);
        if (work->resized) {
            work->resized = false;
            fit_grid(terminal, grid);
            continue;
        }
        if (line.next == line.count) {
            terminal->show(grid);
            read_waiting(&line);
        }
        if (line.next == line.count) {
            app_shown(app);
            wait_for_key(app, &line);
        }
        struct key key = line.keys[line.next].key;
        app->pressed = line.keys[line.next++].pressed;
        if (key.kind == KEY_HANGUP)
            return;
        if (key.kind == KEY_RESIZED) { /* or the program was stopped meanwhile */
            fit_grid(terminal, grid);
            app->stale = true;
        } else if (key.kind == KEY_NONE || !small) { /* nobody judges what cannot be seen */
            work->began_ms = clock_now(clock);
            app_key(app, key);
        }
        ledger_check_place(app->ledger, NULL); /* keeps a copy where it was deleted */
    }
}

void app_loop(struct app *app, const struct loop_terminal *terminal)
{
    struct grid grid = {0};
    struct work work = {.terminal = terminal, .clock = ledger_clock(app->ledger)};
    fit_grid(terminal, &grid);
    app->watch = (struct watch){show_work, &work};
    run(app, terminal, &grid, &work);
    app->watch = (struct watch){NULL, NULL};
    grid_done(&grid);
}
