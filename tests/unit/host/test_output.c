#include "senbetsu/host/file.h"
#include "senbetsu/host/output.h"
#include "support/test.h"

#include <sys/stat.h>
#include <unistd.h>

/* Everything happens in a folder of its own, which is also the only one with an lp in it. */
static char folder[64] = "/tmp/senbetsu-XXXXXX";

static const char *path_of(const char *name)
{
    static char path[128];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static int setup(void **state)
{
    (void)state;
    return mkdtemp(folder) == NULL || setenv("PATH", folder, 1) != 0;
}

static int teardown(void **state)
{
    (void)state;
    static const char *const names[] = {"list", "lp", "printed", "link", "ledger", "ledger-wal"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        unlink(path_of(names[i]));
    return rmdir(folder); /* fails where an unfinished file was left */
}

static struct text text_of(const char *string)
{
    struct text text;
    text_init(&text);
    text_add(&text, string);
    return text;
}

static void assert_file(const char *name, const char *expected)
{
    struct text read;
    struct err err;
    text_init(&read);
    assert_ok(file_read(path_of(name), &read, &err), &err);
    assert_string_equal(read.data, expected);
    text_done(&read);
}

static void make_lp(const char *script)
{
    struct text text = text_of(script);
    struct err err;
    assert_ok(output_file(path_of("lp"), NULL, true, &text, &err), &err);
    assert_int_equal(chmod(path_of("lp"), 0755), 0);
    text_done(&text);
}

static void test_a_file_is_replaced_only_when_asked(void **state)
{
    (void)state;
    struct text first = text_of("a long first list\n"), second = text_of("short\n");
    struct stat found;
    struct err err;
    assert_ok(output_file(path_of("list"), NULL, false, &first, &err), &err);
    assert_int_equal(chmod(path_of("list"), 0640), 0);
    assert_says(output_file(path_of("list"), NULL, false, &second, &err), &err,
                "list; choose another name.");
    assert_int_equal(err.code, ERR_EXISTS);
    assert_file("list", "a long first list\n");
    assert_ok(output_file(path_of("list"), NULL, true, &second, &err), &err);
    assert_file("list", "short\n");
    assert_int_equal(stat(path_of("list"), &found), 0);
    assert_int_equal(found.st_mode & 0777, 0640); /* who may read it stays as it was */
    text_done(&first);
    text_done(&second);
}

static void make_link(int (*make)(const char *to, const char *link), const char *name)
{
    char to[128];
    snprintf(to, sizeof to, "%s", path_of(name));
    unlink(path_of("link"));
    assert_int_equal(make(to, path_of("link")), 0);
}

/* What a symbolic link leads to is written, and the link stays one. */
static void test_a_link_is_followed(void **state)
{
    (void)state;
    struct text text = text_of("through a link\n");
    struct stat found;
    struct err err;
    make_link(symlink, "list");
    assert_says(output_file(path_of("link"), NULL, false, &text, &err), &err, "There is already");
    assert_ok(output_file(path_of("link"), NULL, true, &text, &err), &err);
    assert_file("list", "through a link\n");
    assert_int_equal(lstat(path_of("link"), &found), 0);
    assert_true(S_ISLNK(found.st_mode));
    unlink(path_of("list"));
    assert_says(output_file(path_of("link"), NULL, false, &text, &err), &err, "There is already");
    text_done(&text);
}

static void assert_kept(const char *name, const char *open)
{
    struct text text = text_of("a list\n");
    struct err err;
    for (int replace = 0; replace < 2; replace++)
        assert_says(output_file(path_of(name), open, replace, &text, &err), &err,
                    "belongs to a ledger, which nothing replaces; choose another name.");
    text_done(&text);
}

/* By its first bytes, however it is named, and what belongs to it even where it is not there. */
static void test_a_ledger_is_never_replaced(void **state)
{
    (void)state;
    struct text ledger = text_of("SQLite format 3");
    struct err err;
    text_add_bytes(&ledger, "\0 and so on", 12);
    unlink(path_of("list"));
    assert_ok(output_file(path_of("list"), NULL, false, &ledger, &err), &err);
    assert_kept("list", NULL);
    assert_kept("list-wal", NULL);
    assert_kept("list-shm", NULL);
    assert_kept("list-journal", NULL);
    assert_kept("list-acknowledged", NULL);
    assert_kept("list.before-v2", NULL);
    assert_kept("list.before-restore-20260614-084105", NULL);
    assert_kept("list.unfinished-Xk3f9A", NULL);
    make_link(symlink, "list");
    assert_kept("link", NULL);
    make_link(link, "list");
    assert_kept("link", NULL);
    assert_file("list", "SQLite format 3");
    unlink(path_of("list"));
    text_done(&ledger);
}

/* Whatever stands in it: an open ledger may be empty so far. */
static void test_the_open_ledger_is_never_replaced(void **state)
{
    (void)state;
    struct text nothing = text_of("");
    struct err err;
    char open[128];
    snprintf(open, sizeof open, "%s", path_of("ledger"));
    assert_ok(output_file(open, NULL, false, &nothing, &err), &err);
    assert_ok(output_file(path_of("ledger-wal"), NULL, false, &nothing, &err), &err);
    assert_kept("ledger", open);
    assert_kept("ledger-wal", open);
    assert_kept("ledger-journal", open);
    make_link(link, "ledger");
    assert_kept("link", open);
    make_link(link, "ledger-wal");
    assert_kept("link", open);
    text_done(&nothing);
}

static void test_what_cannot_be_written_is_said(void **state)
{
    (void)state;
    struct text text = text_of("x");
    struct err err;
    assert_says(output_file(path_of("none/list"), NULL, false, &text, &err), &err,
                "Its folder is not there; make it first or choose another: ");
    assert_says(output_file(folder, NULL, true, &text, &err), &err,
                "is a folder; name a file in it.");
    assert_ok(output_file("/dev/null", NULL, false, &text, &err), &err);
    assert_says(output_file("/dev/full", NULL, false, &text, &err), &err,
                "The disk is full; free some space on it or use another one: /dev/full.");
    text_done(&text);
}

static void test_a_printer_gets_the_text(void **state)
{
    (void)state;
    struct text text = text_of("the list\n");
    struct err err;
    assert_says(output_printer(NULL, &text, &err), &err, "There is no lp command on this machine");
    make_lp("#!/bin/sh\n{ echo \"$@\"; while read -r line; do echo \"$line\"; done; } "
            "> \"${0%/*}/printed\"\n");
    assert_ok(output_printer("pond; house", &text, &err), &err);
    assert_file("printed", "-d pond; house\nthe list\n"); /* one word: no shell has seen it */
    assert_ok(output_printer("", &text, &err), &err);
    assert_file("printed", "\nthe list\n");
    make_lp("#!/bin/sh\necho no paper >&2\nexit 1\n");
    assert_says(output_printer(NULL, &text, &err), &err, "lp rejected the print job");
    text_done(&text);
}

/* An lp that goes away while it is fed must not end the program. */
static void test_a_printer_that_does_not_listen(void **state)
{
    (void)state;
    struct text text = text_of("");
    struct err err;
    text_add_repeated(&text, "a line that nobody reads\n", 100000);
    make_lp("#!/bin/sh\nexit 0\n");
    assert_says(output_printer(NULL, &text, &err), &err, "lp rejected the print job");
    text_done(&text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_file_is_replaced_only_when_asked),
        cmocka_unit_test(test_a_link_is_followed),
        cmocka_unit_test(test_a_ledger_is_never_replaced),
        cmocka_unit_test(test_the_open_ledger_is_never_replaced),
        cmocka_unit_test(test_what_cannot_be_written_is_said),
        cmocka_unit_test(test_a_printer_gets_the_text),
        cmocka_unit_test(test_a_printer_that_does_not_listen),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
