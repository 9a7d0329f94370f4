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
    unlink(path_of("list"));
    unlink(path_of("lp"));
    unlink(path_of("printed"));
    return rmdir(folder);
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
    assert_ok(output_file(path_of("lp"), &text, &err), &err);
    assert_int_equal(chmod(path_of("lp"), 0755), 0);
    text_done(&text);
}

static void test_a_file_is_replaced_whole(void **state)
{
    (void)state;
    struct text first = text_of("a long first list\n"), second = text_of("short\n");
    struct stat found;
    struct err err;
    assert_ok(output_file(path_of("list"), &first, &err), &err);
    assert_int_equal(chmod(path_of("list"), 0640), 0);
    assert_ok(output_file(path_of("list"), &second, &err), &err);
    assert_file("list", "short\n");
    assert_int_equal(stat(path_of("list"), &found), 0);
    assert_int_equal(found.st_mode & 0777, 0640); /* who may read it stays as it was */
    text_done(&first);
    text_done(&second);
}

static void test_what_cannot_be_written_is_said(void **state)
{
    (void)state;
    struct text text = text_of("x");
    struct err err;
    assert_says(output_file(path_of("none/list"), &text, &err), &err,
                "none/list cannot be written");
    assert_says(output_file(folder, &text, &err), &err, "cannot be written");
    assert_ok(output_file("/dev/null", &text, &err), &err);
    assert_says(output_file("/dev/full", &text, &err), &err, "cannot be written");
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
        cmocka_unit_test(test_a_file_is_replaced_whole),
        cmocka_unit_test(test_what_cannot_be_written_is_said),
        cmocka_unit_test(test_a_printer_gets_the_text),
        cmocka_unit_test(test_a_printer_that_does_not_listen),
    };
    return cmocka_run_group_tests(tests, setup, teardown);
}
