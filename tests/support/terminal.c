/* forkpty, and VTERM's function pointers, are beyond POSIX. */
#define _DEFAULT_SOURCE
#include "support/terminal.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/utf8.h"
#include "support/launch.h"
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include <vterm.h>

/* Long enough for any machine: only a test that fails waits to the end of it. */
enum { PATIENCE_MS = 60 * 1000, CHECKED_FACTOR = 10 };

struct terminal {
    pid_t pid;
    int master; /* -1 once the line is cut */
    int status; /* of waitpid, valid once `ended` */
    bool ended;
    int rows, columns;
    VTerm *vterm;
    VTermScreen *screen;
    struct text output;
    int64_t bytes; /* that the program has written */
};

static const struct {
    const char *name, *bytes;
} named_keys[] = {
    {"Enter", "\r"},       {"Escape", "\033"},      {"Tab", "\t"},      {"BackTab", "\033[Z"},
    {"Backspace", "\177"}, {"Delete", "\033[3~"},   {"Up", "\033OA"},   {"Down", "\033OB"},
    {"Right", "\033OC"},   {"Left", "\033OD"},      {"Home", "\033OH"}, {"End", "\033OF"},
    {"PageUp", "\033[5~"}, {"PageDown", "\033[6~"}, {"Space", " "},     {"F1", "\033OP"},
    {"F2", "\033OQ"},
};

static _Noreturn void give_up(const char *what)
{
    perror(what);
    exit(99);
}

static int64_t now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static int64_t patience(void)
{
    return *launch_under() == '\0' ? PATIENCE_MS : (int64_t)PATIENCE_MS * CHECKED_FACTOR;
}

struct terminal *terminal_open(const struct terminal_setup *setup)
{
    struct terminal *terminal = alloc_zeroed(1, sizeof *terminal);
    terminal->rows = setup->rows > 0 ? setup->rows : 24;
    terminal->columns = setup->columns > 0 ? setup->columns : 80;
    terminal->vterm = vterm_new(terminal->rows, terminal->columns);
    vterm_set_utf8(terminal->vterm, 1);
    terminal->screen = vterm_obtain_screen(terminal->vterm);
    vterm_screen_enable_altscreen(terminal->screen, 1);
    vterm_screen_reset(terminal->screen, 1);
    text_init(&terminal->output);
    struct winsize size = {.ws_row = (unsigned short)terminal->rows,
                           .ws_col = (unsigned short)terminal->columns};
    terminal->pid = forkpty(&terminal->master, NULL, NULL, &size);
    if (terminal->pid < 0)
        give_up("forkpty");
    if (terminal->pid == 0)
        launch(setup->command, setup->environment);
    /* Else a program started later would hold this line open after it is cut here. */
    fcntl(terminal->master, F_SETFD, FD_CLOEXEC);
    return terminal;
}

static void cut_line(struct terminal *terminal)
{
    if (terminal->master >= 0)
        close(terminal->master);
    terminal->master = -1;
}

/* Takes in what the program writes; false once it has nothing more to say or `ms` have passed. */
static bool take_in(struct terminal *terminal, int ms)
{
    struct pollfd wait = {.fd = terminal->master, .events = POLLIN};
    if (terminal->master < 0 || poll(&wait, 1, ms) <= 0)
        return false;
    char bytes[65536];
    ssize_t length = read(terminal->master, bytes, sizeof bytes);
    if (length <= 0)
        return length < 0 && errno == EINTR;
    vterm_input_write(terminal->vterm, bytes, (size_t)length);
    text_add_bytes(&terminal->output, bytes, (size_t)length);
    terminal->bytes += length;
    return true;
}

pid_t terminal_process(const struct terminal *terminal)
{
    return terminal->pid;
}

int64_t terminal_bytes(const struct terminal *terminal)
{
    return terminal->bytes;
}

void terminal_close(struct terminal *terminal)
{
    if (terminal == NULL)
        return;
    if (!terminal->ended) {
        kill(terminal->pid, SIGKILL);
        waitpid(terminal->pid, &terminal->status, 0);
    }
    cut_line(terminal);
    vterm_free(terminal->vterm);
    text_done(&terminal->output);
    free(terminal);
}

void terminal_type(struct terminal *terminal, const char *bytes)
{
    size_t length = strlen(bytes);
    if (terminal->master >= 0 && write(terminal->master, bytes, length) != (ssize_t)length)
        perror("typing");
}

void terminal_key(struct terminal *terminal, const char *name)
{
    for (size_t i = 0; i < sizeof named_keys / sizeof *named_keys; i++) {
        if (strcmp(named_keys[i].name, name) == 0)
            name = named_keys[i].bytes;
    }
    terminal_type(terminal, name);
}

/* UTF-8 of a cell; "" for the right half of a wide character. */
static void cell_glyph(const VTermScreenCell *cell, struct text *out)
{
    if (cell->chars[0] == 0) {
        text_add(out, " ");
        return;
    }
    for (int i = 0; i < VTERM_MAX_CHARS_PER_CELL && cell->chars[i] != 0; i++) {
        if (cell->chars[i] == UINT32_MAX)
            return;
        char bytes[5];
        utf8_encode(cell->chars[i], bytes);
        text_add(out, bytes);
    }
}

static VTermScreenCell cell_at(const struct terminal *terminal, int row, int column)
{
    VTermScreenCell cell = {0};
    vterm_screen_get_cell(terminal->screen, (VTermPos){.row = row, .col = column}, &cell);
    return cell;
}

static void trim_line(struct text *out, size_t start)
{
    while (out->length > start && out->data[out->length - 1] == ' ')
        out->data[--out->length] = '\0';
}

static void add_line(const struct terminal *terminal, int row, struct text *out)
{
    size_t start = out->length;
    for (int column = 0; column < terminal->columns; column++) {
        VTermScreenCell cell = cell_at(terminal, row, column);
        cell_glyph(&cell, out);
    }
    trim_line(out, start);
    text_add(out, "\n");
}

void terminal_text(struct terminal *terminal, struct text *out)
{
    for (int row = 0; row < terminal->rows; row++)
        add_line(terminal, row, out);
}

static void add_colour(struct text *out, const char *what, const VTermColor *colour, bool standard)
{
    if (standard)
        return;
    if (VTERM_COLOR_IS_INDEXED(colour))
        text_addf(out, " %s %d", what, colour->indexed.idx);
    else
        text_addf(out, " %s %d/%d/%d", what, colour->rgb.red, colour->rgb.green, colour->rgb.blue);
}

/* "bold fg 2": how a cell looks, "" where it is plain. A blank looks as its ground does. */
static void add_look(const VTermScreenCell *cell, struct text *out)
{
    bool blank = (cell->chars[0] == 0 || cell->chars[0] == ' ') && !cell->attrs.reverse &&
                 !cell->attrs.underline && VTERM_COLOR_IS_DEFAULT_BG(&cell->bg);
    if (blank)
        return;
    if (cell->attrs.bold)
        text_add(out, " bold");
    if (cell->attrs.underline)
        text_add(out, " underline");
    if (cell->attrs.reverse)
        text_add(out, " reverse");
    add_colour(out, "fg", &cell->fg, VTERM_COLOR_IS_DEFAULT_FG(&cell->fg));
    add_colour(out, "bg", &cell->bg, VTERM_COLOR_IS_DEFAULT_BG(&cell->bg));
}

enum { LOOKS = 26 };

struct legend {
    struct text looks[LOOKS];
    int count;
};

static char legend_letter(struct legend *legend, const VTermScreenCell *cell)
{
    struct text look;
    text_init(&look);
    add_look(cell, &look);
    int i = 0;
    while (i < legend->count && strcmp(legend->looks[i].data, look.data) != 0)
        i++;
    bool plain = look.length == 0;
    if (plain || i == LOOKS || i < legend->count)
        text_done(&look);
    else
        legend->looks[legend->count++] = look;
    return plain ? '.' : i == LOOKS ? '?' : (char)('a' + i);
}

void terminal_picture(struct terminal *terminal, struct text *out)
{
    terminal_text(terminal, out);
    text_add(out, "\n");
    struct legend legend = {.count = 0};
    for (int row = 0; row < terminal->rows; row++) {
        for (int column = 0; column < terminal->columns; column++) {
            VTermScreenCell cell = cell_at(terminal, row, column);
            text_addf(out, "%c", legend_letter(&legend, &cell));
        }
        text_add(out, "\n");
    }
    text_add(out, "\n");
    for (int i = 0; i < legend.count; i++) {
        text_addf(out, "%c =%s\n", 'a' + i, legend.looks[i].data);
        text_done(&legend.looks[i]);
    }
}

bool terminal_has(struct terminal *terminal, const char *part)
{
    struct text text;
    text_init(&text);
    terminal_text(terminal, &text);
    bool found = strstr(text.data, part) != NULL;
    text_done(&text);
    return found;
}

/* Waits until the screen shows `part` or, with `wanted` false, no longer does. */
static bool wait_for(struct terminal *terminal, const char *part, bool wanted)
{
    int64_t end = now_ms() + patience();
    while (terminal_has(terminal, part) != wanted) {
        int64_t left = end - now_ms();
        if (left <= 0 || !take_in(terminal, (int)left))
            return terminal_has(terminal, part) == wanted;
    }
    return true;
}

bool terminal_shows(struct terminal *terminal, const char *part)
{
    return wait_for(terminal, part, true);
}

bool terminal_hides(struct terminal *terminal, const char *part)
{
    return wait_for(terminal, part, false);
}

bool terminal_is(struct terminal *terminal,
                 void (*picture)(struct terminal *terminal, struct text *out), const char *text)
{
    int64_t end = now_ms() + patience() / 4;
    for (;;) {
        struct text now;
        text_init(&now);
        picture(terminal, &now);
        bool same = strcmp(now.data, text) == 0;
        text_done(&now);
        int64_t left = end - now_ms();
        if (same || left <= 0 || !take_in(terminal, (int)left))
            return same;
    }
}

bool terminal_answers(struct terminal *terminal)
{
    return take_in(terminal, (int)patience());
}

void terminal_settle(struct terminal *terminal, int ms)
{
    while (take_in(terminal, ms))
        ;
}

int terminal_status(struct terminal *terminal)
{
    int64_t end = now_ms() + patience();
    while (!terminal->ended && now_ms() < end) {
        /* The program may still have to write its last screen; its end closes the line. */
        if (!take_in(terminal, 10) && terminal->master < 0)
            poll(NULL, 0, 1);
        terminal->ended = waitpid(terminal->pid, &terminal->status, WNOHANG) == terminal->pid;
    }
    if (!terminal->ended)
        return -1;
    while (take_in(terminal, 0))
        ;
    return WIFSIGNALED(terminal->status) ? 128 + WTERMSIG(terminal->status)
                                         : WEXITSTATUS(terminal->status);
}

void terminal_resize(struct terminal *terminal, int rows, int columns)
{
    terminal->rows = rows;
    terminal->columns = columns;
    vterm_set_size(terminal->vterm, rows, columns);
    struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)columns};
    ioctl(terminal->master, TIOCSWINSZ, &size);
}

void terminal_hang_up(struct terminal *terminal)
{
    cut_line(terminal);
}

void terminal_signal(struct terminal *terminal, int signal)
{
    kill(terminal->pid, signal);
}

/* Finds `part` cell by cell, since a line's bytes say nothing of its columns. */
static bool find(const struct terminal *terminal, const char *part, int *ret_row, int *ret_column)
{
    for (int row = 0; row < terminal->rows; row++) {
        for (int column = 0; column < terminal->columns; column++) {
            struct text rest;
            text_init(&rest);
            for (int i = column; i < terminal->columns && rest.length < strlen(part); i++) {
                VTermScreenCell cell = cell_at(terminal, row, i);
                cell_glyph(&cell, &rest);
            }
            bool found = strncmp(rest.data, part, strlen(part)) == 0;
            text_done(&rest);
            if (found) {
                *ret_row = row;
                *ret_column = column;
                return true;
            }
        }
    }
    return false;
}

bool terminal_stands_out(struct terminal *terminal, const char *part)
{
    int row, column;
    if (!find(terminal, part, &row, &column))
        return false;
    VTermScreenCell cell = cell_at(terminal, row, column);
    return cell.attrs.bold || cell.attrs.reverse || cell.attrs.underline;
}

bool terminal_coloured(struct terminal *terminal)
{
    for (int row = 0; row < terminal->rows; row++) {
        for (int column = 0; column < terminal->columns; column++) {
            VTermScreenCell cell = cell_at(terminal, row, column);
            if (!VTERM_COLOR_IS_DEFAULT_FG(&cell.fg) || !VTERM_COLOR_IS_DEFAULT_BG(&cell.bg))
                return true;
        }
    }
    return false;
}

const struct text *terminal_output(const struct terminal *terminal)
{
    return &terminal->output;
}
