/* The terminal itself, driven through a pseudo-terminal by way of term_probe. */
#include "support/launch.h"
#include "support/terminal.h"
#include "support/test.h"

#include <signal.h>

static const char *probe;

static struct terminal *open_probe(const char *argument, const char *const *environment)
{
    const char *command[] = {probe, argument, NULL};
    struct terminal *terminal =
        terminal_open(&(struct terminal_setup){.command = command, .environment = environment});
    assert_true(terminal_shows(terminal, "key 0: none 0."));
    assert_true(terminal_shows(terminal, "rule"));
    return terminal;
}

static void quit(struct terminal *terminal)
{
    terminal_type(terminal, "q");
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
}

static void test_reads_keys(void **state)
{
    static const struct {
        const char *bytes, *shown;
    } keys[] = {
        {"a", "character 97."},      {"\r", "return 0."},         {"\033OM", "return 0."},
        {"\177", "erase 0."},        {"\t", "tabulator 0."},      {"\033[Z", "backtab 0."},
        {"\033OA", "up 0."},         {"\033[A", "up 0."},         {"\033[B", "down 0."},
        {"\033OD", "left 0."},       {"\033[C", "right 0."},      {"\033OH", "first 0."},
        {"\033[1~", "first 0."},     {"\033[F", "last 0."},       {"\033[5~", "page up 0."},
        {"\033[6~", "page down 0."}, {"\033[3~", "remove 0."},    {"\033OP", "function 1."},
        {"\033Op", "character 48."}, {"\033Oy", "character 57."}, {"\033Oj", "character 42."},
        {"\033Ok", "character 43."}, {"\033Om", "character 45."}, {"\033On", "character 46."},
        {"\033Oo", "character 47."}, {"é", "character 233."},     {"白", "character 30333."},
        {"\033", "escape 0."},       {"5", "character 53."},
    };
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        char shown[64];
        snprintf(shown, sizeof shown, "key %zu: %s", i + 1, keys[i].shown);
        terminal_type(terminal, keys[i].bytes);
        if (!terminal_shows(terminal, shown))
            fail_msg("key %zu is not shown as \"%s\"", i + 1, keys[i].shown);
    }
    quit(terminal);
}

/* Sequences that no key table has must not come out as digits. */
static void test_swallows_unknown_sequences(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    terminal_type(terminal, "\033[57;99~\033[?12zx");
    assert_true(terminal_shows(terminal, "key 1: character 120."));
    quit(terminal);
}

/* Bytes that make a number beyond Unicode are no key. */
static void test_drops_what_is_no_character(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    terminal_type(terminal, "\xF4\x90\x80\x80\xF7\xBF\xBF\xBF"
                            "x");
    assert_true(terminal_shows(terminal, "key 1: character 120."));
    quit(terminal);
}

static void test_colours(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    assert_true(terminal_coloured(terminal));
    assert_true(terminal_stands_out(terminal, "reject"));
    assert_false(terminal_stands_out(terminal, "plain"));
    quit(terminal);
}

static void assert_monochrome(const char *argument, const char *const *environment)
{
    struct terminal *terminal = open_probe(argument, environment);
    assert_false(terminal_coloured(terminal));
    assert_true(terminal_stands_out(terminal, "cursor"));
    assert_true(terminal_stands_out(terminal, "keep"));
    assert_true(terminal_stands_out(terminal, "hold"));
    assert_true(terminal_stands_out(terminal, "reject"));
    quit(terminal);
}

static void test_monochrome(void **state)
{
    static const char *const no_color[] = {"NO_COLOR=1", NULL};
    static const char *const vt100[] = {"TERM=vt100", NULL};
    (void)state;
    assert_monochrome("mono", NULL);
    assert_monochrome(NULL, no_color);
    assert_monochrome(NULL, vt100);
}

static void test_empty_no_color_is_none(void **state)
{
    static const char *const empty[] = {"NO_COLOR=", NULL};
    (void)state;
    struct terminal *terminal = open_probe(NULL, empty);
    assert_true(terminal_coloured(terminal));
    quit(terminal);
}

static void test_plain_locale(void **state)
{
    static const char *const plain[] = {"LC_ALL=C", NULL};
    (void)state;
    struct terminal *utf8 = open_probe(NULL, NULL);
    assert_true(terminal_shows(utf8, "白地é█·×|"));
    quit(utf8);
    struct terminal *terminal = open_probe(NULL, plain);
    assert_true(terminal_shows(terminal, "?????#.x|"));
    terminal_type(terminal, "\351\n");
    assert_true(terminal_shows(terminal, "return 0."));
    quit(terminal);
}

/* Where the cursor cannot be placed, whole pages follow each other. */
static void test_dumb_terminal(void **state)
{
    static const char *const dumb[] = {"TERM=dumb", NULL};
    (void)state;
    struct terminal *terminal = open_probe(NULL, dumb);
    terminal_type(terminal, "5");
    assert_true(terminal_shows(terminal, "key 1: character 53."));
    assert_true(terminal_shows(terminal, "size 24 x 80"));
    assert_null(strchr(terminal_output(terminal)->data, '\033'));
    quit(terminal);
}

static int times(const char *part, const char *text)
{
    int found = 0;
    for (; (text = strstr(text, part)) != NULL; text++)
        found++;
    return found;
}

/* The probe shows everything twice. */
static void test_sends_only_what_changed(void **state)
{
    static const char *const dumb[] = {"TERM=dumb", NULL};
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    assert_int_equal(times("size 24 x 80", terminal_output(terminal)->data), 1);
    quit(terminal);
    terminal = open_probe(NULL, dumb);
    terminal_type(terminal, "5");
    assert_true(terminal_shows(terminal, "key 1: character 53."));
    assert_int_equal(times("size 24 x 80", terminal_output(terminal)->data), 2);
    quit(terminal);
}

static void test_resize(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    terminal_resize(terminal, 40, 120);
    assert_true(terminal_shows(terminal, "key 1: resized 0."));
    assert_true(terminal_shows(terminal, "size 40 x 120"));
    quit(terminal);
}

static void test_times_out(void **state)
{
    (void)state;
    const char *command[] = {probe, "wait", NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    assert_true(terminal_shows(terminal, "key 3: none 0."));
    quit(terminal);
}

static void test_ends_when_told(void **state)
{
    static const int signals[] = {SIGTERM, SIGHUP, SIGINT};
    (void)state;
    for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++) {
        struct terminal *terminal = open_probe(NULL, NULL);
        terminal_signal(terminal, signals[i]);
        assert_int_equal(terminal_status(terminal), 0);
        assert_non_null(strstr(terminal_output(terminal)->data, "left after hangup"));
        terminal_close(terminal);
    }
}

static void test_ends_when_the_line_is_cut(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    terminal_hang_up(terminal);
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
}

static void test_comes_back_from_a_stop(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    terminal_signal(terminal, SIGSTOP);
    terminal_signal(terminal, SIGCONT);
    assert_true(terminal_shows(terminal, "key 1: resized 0."));
    quit(terminal);
}

/* A shell with job control that runs the probe, and then the script. */
static struct terminal *open_in_shell(const char *script)
{
    char whole[512];
    snprintf(whole, sizeof whole, "%s; %s", probe, script);
    const char *command[] = {"/bin/sh", "-mc", whole, NULL};
    struct terminal *terminal = terminal_open(&(struct terminal_setup){.command = command});
    assert_true(terminal_shows(terminal, "key 0: none 0."));
    return terminal;
}

/* Ctrl-Z gives the terminal back as it was, lines and echo and all; afterwards all is as before,
 * and a size that changed meanwhile is known. */
static void test_stops_and_goes_on(void **state)
{
    (void)state;
    struct terminal *terminal =
        open_in_shell("echo; stty -a | grep -o ' icanon\\| -icanon'; read x; fg; echo ended");
    terminal_type(terminal, "\032");
    assert_true(terminal_shows(terminal, "icanon"));
    assert_null(strstr(terminal_output(terminal)->data, "-icanon"));
    assert_non_null(strstr(terminal_output(terminal)->data, "\033[?1049l"));
    terminal_resize(terminal, 30, 90);
    terminal_type(terminal, "\r");
    assert_true(terminal_shows(terminal, "key 1: resized 0."));
    assert_true(terminal_shows(terminal, "size 30 x 90"));
    terminal_type(terminal, "5");
    assert_true(terminal_shows(terminal, "key 2: character 53."));
    terminal_type(terminal, "q");
    assert_true(terminal_shows(terminal, "ended"));
    terminal_close(terminal);
}

/* The quit key ends it as everything else does that tells it to. */
static void test_ends_at_the_quit_key(void **state)
{
    (void)state;
    struct terminal *terminal = open_probe(NULL, NULL);
    terminal_type(terminal, "\034");
    assert_int_equal(terminal_status(terminal), 0);
    assert_non_null(strstr(terminal_output(terminal)->data, "left after hangup"));
    terminal_close(terminal);
}

/* Whatever it dies of, the terminal is usable. */
static void test_a_crash_leaves_no_mess(void **state)
{
    static const int signals[] = {SIGSEGV, SIGBUS, SIGABRT, SIGFPE};
    /* A sanitiser would have its say first and end the probe in its own way. */
    static const char *const unguarded[] = {
        "ASAN_OPTIONS=handle_segv=0:handle_sigbus=0:handle_abort=0:handle_sigfpe=0",
        "UBSAN_OPTIONS=handle_segv=0:handle_sigbus=0:handle_abort=0:handle_sigfpe=0", NULL};
    (void)state;
    for (size_t i = 0; i < sizeof signals / sizeof signals[0]; i++) {
        struct terminal *terminal = open_probe(NULL, unguarded);
        terminal_signal(terminal, signals[i]);
        assert_int_equal(terminal_status(terminal), 128 + signals[i]);
        const char *out = terminal_output(terminal)->data;
        assert_non_null(strstr(out, "\033[?1049l"));
        assert_non_null(strstr(out, "\033[?25h"));
        terminal_close(terminal);
    }
}

static void test_refuses(void **state)
{
    static const char *const unknown[] = {"TERM=no-such-terminal", NULL};
    const char *command[] = {probe, NULL};
    (void)state;
    struct text said;
    text_init(&said);
    assert_int_equal(launch_and_read(command, NULL, &said), 1);
    assert_non_null(strstr(said.data, "need a terminal for input and output"));
    text_done(&said);
    struct terminal *terminal =
        terminal_open(&(struct terminal_setup){.command = command, .environment = unknown});
    assert_true(terminal_shows(terminal, "\"no-such-terminal\" (TERM) is not known"));
    assert_int_equal(terminal_status(terminal), 1);
    terminal_close(terminal);
}

int main(int count, char **arguments)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reads_keys),
        cmocka_unit_test(test_swallows_unknown_sequences),
        cmocka_unit_test(test_drops_what_is_no_character),
        cmocka_unit_test(test_colours),
        cmocka_unit_test(test_monochrome),
        cmocka_unit_test(test_empty_no_color_is_none),
        cmocka_unit_test(test_plain_locale),
        cmocka_unit_test(test_dumb_terminal),
        cmocka_unit_test(test_sends_only_what_changed),
        cmocka_unit_test(test_resize),
        cmocka_unit_test(test_times_out),
        cmocka_unit_test(test_ends_when_told),
        cmocka_unit_test(test_ends_when_the_line_is_cut),
        cmocka_unit_test(test_comes_back_from_a_stop),
        cmocka_unit_test(test_stops_and_goes_on),
        cmocka_unit_test(test_ends_at_the_quit_key),
        cmocka_unit_test(test_a_crash_leaves_no_mess),
        cmocka_unit_test(test_refuses),
    };
    if (count < 2)
        return 2;
    probe = arguments[1];
    return cmocka_run_group_tests(tests, NULL, NULL);
}
