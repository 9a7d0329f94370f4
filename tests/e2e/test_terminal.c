/* The instrument itself: a shell stands in for the program. */
#include "support/terminal.h"
#include "support/test.h"
#include <signal.h>

static struct terminal *shell(const char *script)
{
    const char *command[] = {"/bin/sh", "-c", script, NULL};
    return terminal_open(&(struct terminal_setup){.command = command, .rows = 5, .columns = 30});
}

static void test_types_and_reads(void **state)
{
    (void)state;
    struct terminal *terminal =
        shell("read x; printf '\\033[2;3Hgot <%s> \\346\\227\\245.' \"$x\"");
    terminal_type(terminal, "one two");
    terminal_key(terminal, "Enter");
    assert_true(terminal_shows(terminal, "got <one two> 日."));
    assert_int_equal(terminal_status(terminal), 0);
    terminal_close(terminal);
}

static void test_sees_how_cells_look(void **state)
{
    (void)state;
    struct terminal *terminal = shell("printf 'a\\033[1mb\\033[0m\\033[32mc\\033[0m'");
    assert_true(terminal_shows(terminal, "abc"));
    assert_false(terminal_stands_out(terminal, "abc"));
    assert_true(terminal_stands_out(terminal, "bc"));
    assert_true(terminal_coloured(terminal));
    struct text picture;
    text_init(&picture);
    terminal_picture(terminal, &picture);
    assert_non_null(strstr(picture.data, "\n.ab..."));
    assert_non_null(strstr(picture.data, "a = bold\nb = fg 2\n"));
    text_done(&picture);
    terminal_close(terminal);
}

static void test_knows_how_the_program_ended(void **state)
{
    (void)state;
    struct terminal *terminal = shell("echo up; exit 7");
    assert_int_equal(terminal_status(terminal), 7);
    assert_true(terminal_shows(terminal, "up"));
    terminal_close(terminal);

    terminal = shell("echo up; read x");
    assert_true(terminal_shows(terminal, "up"));
    terminal_signal(terminal, SIGKILL);
    assert_int_equal(terminal_status(terminal), 128 + SIGKILL);
    terminal_close(terminal);
}

static void test_cuts_the_line(void **state)
{
    (void)state;
    /* A read may fail before the shell has heard of the hang-up: it must be there to hear. */
    struct terminal *terminal = shell("trap 'exit 3' HUP; echo up; while :; do read x; done");
    assert_true(terminal_shows(terminal, "up"));
    terminal_hang_up(terminal);
    assert_int_equal(terminal_status(terminal), 3);
    terminal_close(terminal);
}

static void test_resizes(void **state)
{
    (void)state;
    struct terminal *terminal = shell("stty size; read x; stty size");
    assert_true(terminal_shows(terminal, "5 30"));
    terminal_resize(terminal, 12, 40);
    terminal_key(terminal, "Enter");
    assert_true(terminal_shows(terminal, "12 40"));
    terminal_close(terminal);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_types_and_reads),
        cmocka_unit_test(test_sees_how_cells_look),
        cmocka_unit_test(test_knows_how_the_program_ended),
        cmocka_unit_test(test_cuts_the_line),
        cmocka_unit_test(test_resizes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
