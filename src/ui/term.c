/* The terminal: ncurses behind five calls, so that nothing above knows it. It knows the kinds of
 * terminals, their modes and their keys; what goes out is painted by term_paint.c. This file says
 * which byte sequences are which keys, and how a process gives the terminal back when it is
 * stopped, hung up or killed. */
#include "senbetsu/ui/term.h"
#include "term_paint.h"

/* The wide-character calls; ncurses' own switch for them asks for an older POSIX. */
#define NCURSES_WIDECHAR 1
#include <curses.h>

#include <errno.h>
#include <fcntl.h>
#include <langinfo.h>
#include <limits.h>
#include <locale.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/select.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <wchar.h>

/* Keys that arrive as sequences which a terminal's description leaves out or reads otherwise: the
 * keypad in its application mode (a digit is a digit, whatever the lock light says) and the other
 * common spellings of the cursor keys. */
enum { KEYPAD_CHARACTER = KEY_MAX + 0x100 };
static const struct {
    const char *sequence;
    int code;
} sequences[] = {
    {"\033OM", KEY_ENTER},
    {"\033Oj", KEYPAD_CHARACTER + '*'},
    {"\033Ok", KEYPAD_CHARACTER + '+'},
    {"\033Ol", KEYPAD_CHARACTER + ','},
    {"\033Om", KEYPAD_CHARACTER + '-'},
    {"\033On", KEYPAD_CHARACTER + '.'},
    {"\033Oo", KEYPAD_CHARACTER + '/'},
    {"\033Op", KEYPAD_CHARACTER + '0'},
    {"\033Oq", KEYPAD_CHARACTER + '1'},
    {"\033Or", KEYPAD_CHARACTER + '2'},
    {"\033Os", KEYPAD_CHARACTER + '3'},
    {"\033Ot", KEYPAD_CHARACTER + '4'},
    {"\033Ou", KEYPAD_CHARACTER + '5'},
    {"\033Ov", KEYPAD_CHARACTER + '6'},
    {"\033Ow", KEYPAD_CHARACTER + '7'},
    {"\033Ox", KEYPAD_CHARACTER + '8'},
    {"\033Oy", KEYPAD_CHARACTER + '9'},
    {"\033[A", KEY_UP},
    {"\033[B", KEY_DOWN},
    {"\033[C", KEY_RIGHT},
    {"\033[D", KEY_LEFT},
    {"\033OA", KEY_UP},
    {"\033OB", KEY_DOWN},
    {"\033OC", KEY_RIGHT},
    {"\033OD", KEY_LEFT},
    {"\033[H", KEY_HOME},
    {"\033OH", KEY_HOME},
    {"\033[1~", KEY_HOME},
    {"\033[7~", KEY_HOME},
    {"\033[F", KEY_END},
    {"\033OF", KEY_END},
    {"\033[4~", KEY_END},
    {"\033[8~", KEY_END},
    {"\033[3~", KEY_DC},
    {"\033[5~", KEY_PPAGE},
    {"\033[6~", KEY_NPAGE},
};

/* What ncurses' key codes are called here. */
static const struct {
    wint_t code;
    enum key_kind kind;
} key_codes[] = {
    {KEY_ENTER, KEY_RETURN},      {KEY_BACKSPACE, KEY_ERASE}, {KEY_BTAB, KEY_BACKTAB},
    {KEY_UP, KEY_ARROW_UP},       {KEY_DOWN, KEY_ARROW_DOWN}, {KEY_LEFT, KEY_ARROW_LEFT},
    {KEY_RIGHT, KEY_ARROW_RIGHT}, {KEY_HOME, KEY_FIRST},      {KEY_A1, KEY_FIRST},
    {KEY_END, KEY_LAST},          {KEY_C1, KEY_LAST},         {KEY_PPAGE, KEY_PAGE_UP},
    {KEY_A3, KEY_PAGE_UP},        {KEY_NPAGE, KEY_PAGE_DOWN}, {KEY_C3, KEY_PAGE_DOWN},
    {KEY_DC, KEY_REMOVE},         {KEY_RESIZE, KEY_RESIZED},
};

static struct {
    SCREEN *screen; /* NULL = the terminal is not ours */
    WINDOW *input;  /* keys are read through a pad: a window would be painted by every read */
    bool unicode;
    bool addressable; /* the cursor can be put anywhere; else lines are written one after another */
    struct text page; /* the one written last, where pages are written */
    sigset_t outside; /* the signals held before */
    /* How the terminal was, and what is written to leave it so, for when the program crashes. */
    struct termios line_outside;
    char farewell[128];
} term;

static volatile sig_atomic_t end_requested;
static volatile sig_atomic_t stop_requested;
static volatile sig_atomic_t continued;

static void note(int number)
{
    if (number == SIGCONT)
        continued = 1;
    else if (number == SIGTSTP)
        stop_requested = 1;
    else
        end_requested = 1;
}

static void crash(int number);

static struct {
    void (*handler)(int number);
    struct sigaction before;
    int number;
    bool held; /* let in only while term_read waits */
} noted[] = {
    {.number = SIGHUP, .handler = note, .held = true},
    {.number = SIGTERM, .handler = note, .held = true},
    {.number = SIGINT, .handler = note, .held = true},
    {.number = SIGQUIT, .handler = note, .held = true},
    {.number = SIGTSTP, .handler = note, .held = true},
    {.number = SIGCONT, .handler = note, .held = true},
    {.number = SIGSEGV, .handler = crash},
    {.number = SIGBUS, .handler = crash},
    {.number = SIGILL, .handler = crash},
    {.number = SIGFPE, .handler = crash},
    {.number = SIGABRT, .handler = crash},
};

enum { NOTED = sizeof noted / sizeof noted[0] };

/* After one of these nothing can be trusted any more but the kernel: the terminal is put right with
 * two calls, and the signal does what it would have done. */
static void crash(int number)
{
    ssize_t written = write(STDOUT_FILENO, term.farewell, strlen(term.farewell));
    (void)written;
    tcsetattr(STDIN_FILENO, TCSANOW, &term.line_outside);
    for (int i = 0; i < NOTED; i++)
        if (noted[i].number == number)
            sigaction(number, &noted[i].before, NULL);
    raise(number);
}

/* Whoever started the program so that Ctrl-Z does nothing wants it so. */
static bool wanted(int number, const struct sigaction *before)
{
    return number != SIGTSTP || before->sa_handler != SIG_IGN;
}

/* Signals that are noted are let in only while term_read waits: none can slip by between looking at
 * its flag and falling asleep, and none stops or ends the program in the middle of a transaction.
 */
static void take_signals(void)
{
    sigset_t held;
    sigemptyset(&held);
    sigaddset(&held, SIGWINCH);
    for (int i = 0; i < NOTED; i++) {
        struct sigaction action = {.sa_handler = noted[i].handler};
        sigemptyset(&action.sa_mask);
        sigaction(noted[i].number, NULL, &noted[i].before);
        if (wanted(noted[i].number, &noted[i].before))
            sigaction(noted[i].number, &action, NULL);
        if (noted[i].held)
            sigaddset(&held, noted[i].number);
    }
    sigprocmask(SIG_BLOCK, &held, &term.outside);
}

/* What is pending is let in while it is still noted. Once a signal has asked the program to end,
 * the handlers stay: a second one must not cut its way out short. */
static void give_signals_back(void)
{
    sigprocmask(SIG_SETMASK, &term.outside, NULL);
    for (int i = 0; i < NOTED; i++)
        if (!end_requested || !noted[i].held)
            sigaction(noted[i].number, &noted[i].before, NULL);
}

static bool is_set(const char *name)
{
    const char *value = getenv(name);
    return value != NULL && value[0] != '\0';
}

static void set_keys(void)
{
    term.input = newpad(1, 1);
    keypad(term.input, TRUE);
    for (size_t i = 0; i < sizeof sequences / sizeof sequences[0]; i++)
        define_key(sequences[i].sequence, sequences[i].code);
    nodelay(term.input, TRUE);
}

/* Ctrl-S must not seem to freeze the sheet: no flow control. Whatever ncurses restores later has it
 * too. */
static void set_line(void)
{
    cbreak();
    noecho();
    nonl();
    intrflush(stdscr, FALSE);
    struct termios line;
    if (tcgetattr(STDIN_FILENO, &line) == 0) {
        line.c_iflag &= ~(tcflag_t)(IXON | IXOFF);
        tcsetattr(STDIN_FILENO, TCSANOW, &line);
    }
    def_prog_mode();
}

/* Attributes off, keypad off, the cursor visible, the screen as it was before. */
static void prepare_farewell(void)
{
    static const char *const capabilities[] = {"sgr0", "rmkx", "cnorm", "rmcup"};
    struct text out;
    text_init(&out);
    for (size_t i = 0; i < sizeof capabilities / sizeof capabilities[0]; i++)
        capability_add(capabilities[i], &out);
    text_copy(term.farewell, sizeof term.farewell, out.data);
    text_done(&out);
}

bool term_enter(bool mono, struct err *err)
{
    if (term.screen != NULL)
        return true;
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))
        return err_set(err, ERR_SYSTEM,
                       "The screens need a terminal for input and output; run this in one, or give "
                       "a command (senbetsu --help lists them).");
    setlocale(LC_CTYPE, "");
    term.unicode = strcmp(nl_langinfo(CODESET), "UTF-8") == 0;
    end_requested = stop_requested = continued = 0;
    tcgetattr(STDIN_FILENO, &term.line_outside);
    take_signals();
    term.screen = newterm(NULL, stdout, stdin);
    if (term.screen == NULL) {
        give_signals_back();
        const char *name = getenv("TERM");
        return err_set(
            err, ERR_SYSTEM,
            "The terminal type \"%s\" (TERM) is not known here; set TERM to one that is, "
            "such as xterm or vt100.",
            name == NULL ? "" : name);
    }
    if (!is_set("ESCDELAY"))
        set_escdelay(25);
    set_line();
    set_keys();
    curs_set(0);
    term.addressable = painter_begin(!mono && !is_set("NO_COLOR"), term.unicode);
    prepare_farewell();
    return true;
}

void term_leave(void)
{
    if (term.screen == NULL)
        return;
    endwin();
    delwin(term.input);
    delscreen(term.screen);
    term.screen = NULL;
    text_done(&term.page);
    painter_end();
    give_signals_back();
}

void term_size(int *ret_rows, int *ret_columns)
{
    *ret_rows = LINES;
    *ret_columns = COLS;
}

/* Without a cursor that can be placed, the page is simply written again, unless nothing on it has
 * changed. On a screen of the grid's height it pushes the last one out. */
static void write_page(const struct grid *grid)
{
    struct text page;
    text_init(&page);
    for (int row = 0; row < grid->rows; row++) {
        text_add(&page, "\r\n");
        size_t end = page.length;
        for (int column = 0; column < grid->columns; column++) {
            char ascii[2];
            text_add(&page,
                     cell_shown(&grid->cells[row * grid->columns + column], term.unicode, ascii));
            if (page.data[page.length - 1] != ' ')
                end = page.length;
        }
        page.length = end;
        page.data[end] = '\0';
    }
    if (term.page.data == NULL || strcmp(page.data, term.page.data) != 0) {
        fwrite(page.data, 1, page.length, stdout);
        fflush(stdout);
    }
    text_done(&term.page);
    term.page = page;
}

/* To the terminal, which may take it bit by bit or be gone. */
static void write_out(const char *bytes, size_t count)
{
    while (count > 0) {
        ssize_t written = write(STDOUT_FILENO, bytes, count);
        struct pollfd output = {.fd = STDOUT_FILENO, .events = POLLOUT};
        if (written > 0) {
            bytes += written;
            count -= (size_t)written;
        } else if (errno == EAGAIN) {
            poll(&output, 1, -1);
        } else if (errno != EINTR) {
            return;
        }
    }
}

void term_show(const struct grid *grid)
{
    if (!term.addressable) {
        write_page(grid);
        return;
    }
    struct text out;
    text_init(&out);
    paint(grid, LINES, COLS, &out);
    write_out(out.data, out.length);
    text_done(&out);
}

/* The C library decodes four bytes and more to numbers that are beyond Unicode. */
static bool is_character(wint_t code)
{
    return code >= ' ' && code <= 0x10FFFF;
}

static struct key key_of_character(wint_t character)
{
    switch (character) {
    case '\r':
    case '\n':
        return (struct key){KEY_RETURN, 0};
    case '\b':
    case 0x7f:
        return (struct key){KEY_ERASE, 0};
    case '\t':
        return (struct key){KEY_TABULATOR, 0};
    case 0x1b:
        return (struct key){KEY_ESCAPE, 0};
    default:
        return (struct key){is_character(character) ? KEY_CHARACTER : KEY_NONE,
                            (uint32_t)character};
    }
}

static struct key key_of_code(wint_t code)
{
    if (code > KEYPAD_CHARACTER)
        return (struct key){KEY_CHARACTER, (uint32_t)(code - KEYPAD_CHARACTER)};
    if (code > KEY_F0 && code <= KEY_F(63))
        return (struct key){KEY_FUNCTION, (uint32_t)(code - KEY_F0)};
    for (size_t i = 0; i < sizeof key_codes / sizeof key_codes[0]; i++)
        if (key_codes[i].code == code)
            return (struct key){key_codes[i].kind, 0};
    return (struct key){KEY_NONE, 0};
}

/* The next character or key code, ERR if there is none now. In a locale that is not UTF-8, byte by
 * byte: one that is no character there would take those after it along. */
static int next_code(wint_t *ret_code)
{
    if (term.unicode)
        return wget_wch(term.input, ret_code);
    int code = wgetch(term.input);
    if (code == ERR)
        return ERR;
    *ret_code = code > UCHAR_MAX ? (wint_t)code : btowc(code);
    return code > UCHAR_MAX ? KEY_CODE_YES : OK;
}

/* After an escape: did it begin an unknown sequence? Then the whole sequence is dropped, for its
 * digits must not become scores. */
static bool skip_sequence(void)
{
    wint_t character;
    if (next_code(&character) != OK)
        return false;
    if (character != 'O' && character != '[') {
        unget_wch((wchar_t)character);
        return false;
    }
    bool parameters = character == '[';
    do {
        if (next_code(&character) != OK)
            break;
    } while (parameters && (character < '@' || character > '~'));
    return true;
}

/* The next key that has already arrived. */
static bool key_waiting(struct key *ret_key)
{
    struct key key;
    do {
        wint_t character;
        int result = next_code(&character);
        if (result == ERR)
            return false;
        key = result == KEY_CODE_YES ? key_of_code(character) : key_of_character(character);
        if (key.kind == KEY_ESCAPE && skip_sequence())
            key.kind = KEY_NONE;
    } while (key.kind == KEY_NONE);
    *ret_key = key;
    return true;
}

static bool line_is_cut(void)
{
    struct pollfd input = {.fd = STDIN_FILENO, .events = POLLIN};
    return poll(&input, 1, 0) > 0 && (input.revents & (POLLHUP | POLLERR | POLLNVAL)) != 0;
}

/* Sleeps until there is input, a signal, or `timeout_ms` are over (< 0 = never). False = over. */
static bool wait_for_input(int timeout_ms)
{
    struct timespec time = {timeout_ms / 1000, timeout_ms % 1000 * 1000000L};
    fd_set inputs;
    FD_ZERO(&inputs);
    FD_SET(STDIN_FILENO, &inputs);
    int ready = pselect(STDIN_FILENO + 1, &inputs, NULL, NULL, timeout_ms < 0 ? NULL : &time,
                        &term.outside);
    return ready != 0;
}

/* A program that was not in front has not heard of another size: ncurses is told to look. What it
 * says of it is no news to whoever is told that the program came back. */
static void look_at_size(void)
{
    sigset_t let_in, held;
    wint_t code;
    sigemptyset(&let_in);
    sigaddset(&let_in, SIGWINCH);
    raise(SIGWINCH);
    sigprocmask(SIG_UNBLOCK, &let_in, &held);
    sigprocmask(SIG_SETMASK, &held, NULL);
    int result = next_code(&code);
    if (result == OK)
        unget_wch((wchar_t)code);
    else if (result == KEY_CODE_YES && code != KEY_RESIZE)
        ungetch((int)code);
}

/* After the program was stopped and continued: a shell has used the terminal since, so its modes
 * and the whole screen are set up again. From the background this stops the program once more, as
 * it should. */
static void come_back(void)
{
    continued = 0;
    reset_prog_mode();
    painter_forget();
    text_done(&term.page);
    look_at_size();
    doupdate(); /* nothing to draw, but ncurses takes the terminal back */
}

/* Ctrl-Z, or somebody else's SIGTSTP: the terminal is given back and the program stops, here where
 * it waits and holds nothing. Returns when it is continued; at once where no shell could do that.
 */
static void stop(void)
{
    struct sigaction noting, stopping = {.sa_handler = SIG_DFL};
    sigset_t let_in, held;
    stop_requested = 0;
    endwin();
    sigemptyset(&stopping.sa_mask);
    sigemptyset(&let_in);
    sigaddset(&let_in, SIGTSTP);
    sigaddset(&let_in, SIGCONT);
    sigaction(SIGTSTP, &stopping, &noting);
    raise(SIGTSTP);
    sigprocmask(SIG_UNBLOCK, &let_in, &held);
    sigprocmask(SIG_SETMASK, &held, NULL);
    sigaction(SIGTSTP, &noting, NULL);
}

static int64_t now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

struct key term_read(int timeout_ms)
{
    int64_t until = now_ms() + timeout_ms;
    for (;;) {
        struct key key;
        if (end_requested)
            return (struct key){KEY_HANGUP, 0};
        if (stop_requested || continued) {
            if (stop_requested)
                stop();
            come_back();
            return (struct key){KEY_RESIZED, 0};
        }
        if (key_waiting(&key)) {
            if (key.kind == KEY_RESIZED) /* what stood there may have been cut */
                painter_forget();
            return key;
        }
        if (line_is_cut()) {
            end_requested = 1;
            continue;
        }
        int64_t left = timeout_ms < 0 ? -1 : until - now_ms();
        if (timeout_ms >= 0 && left <= 0)
            return (struct key){KEY_NONE, 0};
        if (!wait_for_input((int)left))
            return (struct key){KEY_NONE, 0};
    }
}

void term_alert(void)
{
    if (term.screen != NULL)
        beep();
}
