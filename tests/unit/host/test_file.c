#include "senbetsu/host/file.h"
#include "support/test.h"

#include <unistd.h>

static void test_all_bytes_are_read(void **state)
{
    (void)state;
    char path[] = "/tmp/senbetsu-XXXXXX";
    int file = mkstemp(path);
    char block[1000];
    struct text read;
    struct err err;
    memset(block, 0, sizeof block);
    for (int i = 0; i < 40; i++)
        assert_int_equal(write(file, block, sizeof block), sizeof block);
    close(file);
    text_init(&read);
    text_add(&read, "before");
    assert_ok(file_read(path, &read, &err), &err);
    assert_int_equal(read.length, 40 * sizeof block);
    assert_int_equal(read.data[0], '\0');
    text_done(&read);
    unlink(path);
}

static void test_what_cannot_be_read_is_said(void **state)
{
    (void)state;
    struct text read;
    struct err err;
    text_init(&read);
    assert_says(file_read("/nowhere/f.csv", &read, &err), &err, "/nowhere/f.csv cannot be opened");
    assert_says(file_read("/tmp", &read, &err), &err, "/tmp is a folder, not a file.");
    assert_says(file_read("/dev/zero", &read, &err), &err, "/dev/zero is larger than 256 MB");
    text_done(&read);
}

static void test_the_name_is_the_last_part(void **state)
{
    (void)state;
    assert_string_equal(file_name("/a/b.csv"), "b.csv");
    assert_string_equal(file_name("b.csv"), "b.csv");
}

static void folders_are_made_above_a_path(void **state)
{
    (void)state;
    char folder[] = "/tmp/senbetsu-XXXXXX", path[128], long_path[160];
    struct err err;
    assert_non_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/senbetsu", folder);
    snprintf(long_path, sizeof long_path, "%s//ledger.db", path);
    assert_int_not_equal(access(path, F_OK), 0);
    assert_ok(file_make_folders(long_path, &err), &err);
    assert_int_equal(access(path, F_OK), 0);
    assert_int_not_equal(access(long_path, F_OK), 0);
    assert_ok(file_make_folders("ledger.db", &err), &err);
    assert_says(file_make_folders("/dev/null/x/ledger.db", &err), &err,
                "The folder /dev/null/x cannot be created");
    assert_int_equal(rmdir(path), 0);
    assert_int_equal(rmdir(folder), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_all_bytes_are_read),
        cmocka_unit_test(test_what_cannot_be_read_is_said),
        cmocka_unit_test(test_the_name_is_the_last_part),
        cmocka_unit_test(folders_are_made_above_a_path),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
