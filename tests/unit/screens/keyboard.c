/* Writes are counted by SQLite's hooks: a commit is one write. Another program that holds the
 * ledger is a second connection, which takes it when the write before the n-th is done. */
#include "keyboard.h"
#include "loop.h"
#include "private.h"
#include "support/failing_disk.h"

#include <errno.h>

const char *const trouble_said[TROUBLE_COUNT] = {
    [TROUBLE_BUSY] = "Another program is using the ledger",
    [TROUBLE_FULL] = "The disk is full; free some space and try again",
    [TROUBLE_IO] = "It is not certain whether this was recorded, for the disk failed",
};

enum { TYPED_MOST = 256 };

static struct {
    struct bench *bench;
    struct typed {
        int64_t at_ms;
        struct key key;
    } typed[TYPED_MOST];
    size_t count, next;
    int64_t end_ms;
    int sleep_ms;
} keyboard;

static struct {
    enum trouble kind;
    int n, stall_ms; /* the n-th write; 0 = none */
    bool slow_only;
    int writes;
    bool struck, over;
    struct ledger *other;
} trouble;

static void add(struct bench *bench, int after_ms, struct key key)
{
    struct typed *typed = keyboard.typed;
    int64_t last_ms = keyboard.count > 0 ? typed[keyboard.count - 1].at_ms : bench->small.now;
    if (keyboard.count == TYPED_MOST || key.kind == KEY_NONE)
        fail_msg("no such key, or too many");
    typed[keyboard.count++] = (struct typed){last_ms + after_ms, key};
}

void keyboard_key(struct bench *bench, int after_ms, const char *name)
{
    add(bench, after_ms, key_named(name));
}

void keyboard_text(struct bench *bench, int after_ms, const char *text)
{
    for (; *text != '\0'; text++)
        add(bench, after_ms,
            *text == '\r' ? (struct key){KEY_RETURN, 0}
                          : (struct key){KEY_CHARACTER, (uint32_t)(unsigned char)*text});
}

void keyboard_sleep(struct bench *bench, int ms)
{
    (void)bench;
    keyboard.sleep_ms = ms;
}

static void size(int *ret_rows, int *ret_columns)
{
    *ret_rows = keyboard.bench->grid.rows;
    *ret_columns = keyboard.bench->grid.columns;
}

static void mend(void)
{
    trouble.over = true;
    disk_fails_with(0);
    if (trouble.other != NULL)
        transaction_rollback(trouble.other);
}

static void show(const struct grid *grid)
{
    (void)grid;
    if (trouble.struck && !trouble.slow_only)
        mend();
}

static struct key read_key(int timeout_ms)
{
    int64_t *now_ms = &keyboard.bench->small.now;
    const struct typed *next = &keyboard.typed[keyboard.next];
    if (keyboard.next < keyboard.count && next->at_ms <= *now_ms + timeout_ms) {
        if (next->at_ms > *now_ms)
            *now_ms = next->at_ms;
        *now_ms += keyboard.sleep_ms;
        keyboard.sleep_ms = 0;
        keyboard.next++;
        return next->key;
    }
    if (timeout_ms > 0 && *now_ms >= keyboard.end_ms)
        return (struct key){KEY_HANGUP, 0};
    *now_ms += timeout_ms;
    return (struct key){KEY_NONE, 0};
}

void keyboard_run(struct bench *bench, int rest_ms)
{
    static const struct loop_terminal terminal = {size, show, read_key};
    keyboard.bench = bench;
    keyboard.end_ms =
        (keyboard.count > 0 ? keyboard.typed[keyboard.count - 1].at_ms : bench->small.now) +
        rest_ms;
    app_loop(&bench->app, &terminal);
    assert_int_equal(keyboard.next, keyboard.count);
    keyboard.count = keyboard.next = 0;
    bench->app.pressed = (struct pressed){0};
}

/* What comes before the n-th write: for another program that holds the ledger, the write before. */
static void strike(void)
{
    trouble.struck = true;
    if (trouble.kind != TROUBLE_BUSY && !trouble.slow_only)
        disk_fails_with(trouble.kind == TROUBLE_FULL ? ENOSPC : EIO);
}

static int on_commit(void *context)
{
    struct bench *bench = context;
    if (++trouble.writes == trouble.n && !trouble.over) {
        strike();
        bench->small.now += trouble.stall_ms;
    }
    return 0;
}

static void hold(void)
{
    struct err err;
    assert_ok(transaction_begin(trouble.other, &err), &err);
}

static int after_commit(void *context, sqlite3 *db, const char *name, int pages)
{
    (void)context, (void)db, (void)name, (void)pages;
    if (trouble.kind == TROUBLE_BUSY && trouble.writes == trouble.n - 1 && !trouble.over)
        hold();
    return SQLITE_OK;
}

/* Whoever waits for the other one asks here how long: not at all, but the clock goes on. */
static int on_busy(void *context, int tries)
{
    struct bench *bench = context;
    (void)tries;
    if (!trouble.struck)
        bench->small.now += trouble.stall_ms;
    trouble.struck = true;
    return 0;
}

void trouble_begin(struct bench *bench, enum trouble kind, int n, int stall_ms)
{
    sqlite3 *db = bench->small.ledger->db;
    memset(&trouble, 0, sizeof trouble);
    trouble.kind = kind;
    trouble.n = n;
    trouble.stall_ms = stall_ms;
    sqlite3_commit_hook(db, on_commit, bench);
    if (kind != TROUBLE_BUSY)
        return;
    trouble.other = small_ledger_open(&bench->small);
    sqlite3_wal_hook(db, after_commit, bench);
    sqlite3_busy_handler(db, on_busy, bench);
    if (n == 1)
        hold();
}

void trouble_slow(struct bench *bench, int n, int stall_ms)
{
    trouble_begin(bench, TROUBLE_FULL, n, stall_ms);
    trouble.slow_only = true;
}

int trouble_writes(void)
{
    return trouble.writes;
}

bool trouble_end(struct bench *bench)
{
    sqlite3 *db = bench->small.ledger->db;
    mend();
    sqlite3_commit_hook(db, NULL, NULL);
    sqlite3_wal_hook(db, NULL, NULL);
    ledger_close(trouble.other);
    trouble.other = NULL;
    return trouble.struck;
}
