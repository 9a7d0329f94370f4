/* A program that shows every style and says which key came last: what test_term drives. */
#include "senbetsu/ui/term.h"
#include <stdio.h>
#include <string.h>

static const char *const styles[STYLE_COUNT] = {
    [STYLE_PLAIN] = "plain", [STYLE_QUIET] = "quiet",   [STYLE_STRONG] = "strong",
    [STYLE_TITLE] = "title", [STYLE_CURSOR] = "cursor", [STYLE_KEEP] = "keep",
    [STYLE_HOLD] = "hold",   [STYLE_REJECT] = "reject", [STYLE_ALERT] = "alert",
    [STYLE_KEY] = "key",     [STYLE_RULE] = "rule",
};

static const char *const keys[] = {
    [KEY_NONE] = "none",       [KEY_CHARACTER] = "character", [KEY_RETURN] = "return",
    [KEY_ERASE] = "erase",     [KEY_ESCAPE] = "escape",       [KEY_TABULATOR] = "tabulator",
    [KEY_BACKTAB] = "backtab", [KEY_ARROW_UP] = "up",         [KEY_ARROW_DOWN] = "down",
    [KEY_ARROW_LEFT] = "left", [KEY_ARROW_RIGHT] = "right",   [KEY_FIRST] = "first",
    [KEY_LAST] = "last",       [KEY_PAGE_UP] = "page up",     [KEY_PAGE_DOWN] = "page down",
    [KEY_REMOVE] = "remove",   [KEY_FUNCTION] = "function",   [KEY_RESIZED] = "resized",
    [KEY_HANGUP] = "hangup",
};

/* `count` keys so far, so that two equal ones in a row can be told apart. */
static void show(struct key key, int count)
{
    struct grid grid;
    int rows, columns;
    term_size(&rows, &columns);
    grid_init(&grid, rows, columns);
    grid_putf(&grid, 0, 0, -1, STYLE_PLAIN, "size %d x %d", rows, columns);
    grid_putf(&grid, 1, 0, -1, STYLE_PLAIN, "key %d: %s %u.", count, keys[key.kind], key.code);
    grid_put(&grid, 2, 0, -1, STYLE_PLAIN, "白地é█·×|");
    for (int i = 0; i < STYLE_COUNT; i++)
        grid_put(&grid, 4 + i, 0, -1, (enum style)i, styles[i]);
    /* The second time nothing has changed, and nothing may be sent. */
    term_show(&grid);
    term_show(&grid);
    grid_done(&grid);
}

int main(int count, char **arguments)
{
    struct err err;
    bool mono = count > 1 && strcmp(arguments[1], "mono") == 0;
    int timeout_ms = count > 1 && strcmp(arguments[1], "wait") == 0 ? 20 : -1;
    if (!term_enter(mono, &err)) {
        fprintf(stderr, "%s\n", err.text);
        return 1;
    }
    struct key key = {KEY_NONE, 0};
    for (int typed = 0; key.kind != KEY_HANGUP && key.code != 'q'; typed++) {
        show(key, typed);
        /* After three it waits, so that a slow reader of its screen still finds the third there. */
        key = term_read(typed < 3 ? timeout_ms : -1);
    }
    term_leave();
    term_leave();
    printf("left after %s\n", keys[key.kind]);
    return 0;
}
