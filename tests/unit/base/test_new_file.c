#include "senbetsu/base/new_file.h"
#include "support/test.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[64];

static const char *path_of(const char *name)
{
    static char paths[4][400];
    static int next;
    char *path = paths[next++ % 4];
    snprintf(path, sizeof paths[0], "%s/%s", folder, name);
    return path;
}

static int set_up(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/new-file-XXXXXX");
    return mkdtemp(folder) == NULL;
}

/* Each file of the folder is shown to `see`. Returns how many there were. */
static int each_file(void (*see)(const char *path))
{
    int count = 0;
    DIR *listing = opendir(folder);
    assert_non_null(listing);
    for (struct dirent *entry; (entry = readdir(listing)) != NULL;)
        if (entry->d_name[0] != '.') {
            count++;
            if (see != NULL)
                see(path_of(entry->d_name));
        }
    closedir(listing);
    return count;
}

static void take_away(const char *path)
{
    unlink(path);
}

static int tear_down(void **state)
{
    (void)state;
    each_file(take_away);
    return rmdir(folder);
}

static void begin(struct new_file *file, const char *name)
{
    struct err err;
    assert_ok(new_file_begin(file, path_of(name), 0600, &err), &err);
    assert_int_equal(write(file->file, name, strlen(name)), strlen(name));
}

static void assert_holds(const char *name, const char *content)
{
    char read_back[32] = "";
    int file = open(path_of(name), O_RDONLY);
    assert_true(file >= 0);
    assert_true(read(file, read_back, sizeof read_back - 1) >= 0);
    close(file);
    assert_string_equal(read_back, content);
}

static void a_file_gets_its_name_when_it_is_whole(void **state)
{
    (void)state;
    struct new_file file;
    struct stat about;
    struct err err;
    mode_t mask = umask(0777);
    begin(&file, "copy");
    umask(mask);
    assert_int_equal(access(path_of("copy"), F_OK), -1);
    assert_int_equal(stat(file.temporary, &about), 0);
    assert_int_equal(about.st_mode & 0777, 0600);
    assert_ok(new_file_place(&file, false, &err), &err);
    new_file_done(&file);
    assert_holds("copy", "copy");
    assert_int_equal(each_file(NULL), 1);
}

static void no_name_is_taken_from_another_file(void **state)
{
    (void)state;
    struct new_file first;
    struct new_file second;
    struct err err;
    begin(&first, "copy"); /* two at once */
    begin(&second, "copy");
    assert_ok(new_file_place(&first, false, &err), &err);
    assert_false(new_file_place(&second, false, &err));
    assert_int_equal(err.code, ERR_EXISTS);
    assert_ok(new_file_place(&second, true, &err), &err); /* unless that is asked for */
    new_file_done(&first);
    new_file_done(&second);
    assert_holds("copy", "copy");
    assert_int_equal(each_file(NULL), 1);
}

static void no_link_is_followed(void **state)
{
    (void)state;
    struct new_file file;
    struct err err;
    begin(&file, "copy");
    assert_int_equal(symlink("/tmp/elsewhere", path_of("copy")), 0);
    assert_false(new_file_place(&file, false, &err));
    assert_int_equal(err.code, ERR_EXISTS);
    /* Nor is what somebody laid in the temporary file's place since. */
    assert_int_equal(unlink(file.temporary), 0);
    assert_int_equal(symlink("/tmp/elsewhere", file.temporary), 0);
    assert_false(new_file_place(&file, true, &err));
    new_file_done(&file);
    assert_int_equal(each_file(NULL), 1);
}

static void what_is_given_up_leaves_nothing(void **state)
{
    (void)state;
    struct new_file file;
    char name[450];
    begin(&file, "copy");
    snprintf(name, sizeof name, "%s-journal", file.temporary);
    close(open(name, O_WRONLY | O_CREAT, 0600));
    new_file_done(&file);
    assert_int_equal(each_file(NULL), 0);
}

static void age(const char *path)
{
    struct timespec times[2];
    struct stat about;
    assert_int_equal(stat(path, &about), 0);
    times[0] = times[1] = about.st_mtim;
    times[1].tv_sec -= 60 * 60 + 60;
    assert_int_equal(utimensat(AT_FDCWD, path, times, 0), 0);
}

static void make(const char *name)
{
    int file = open(path_of(name), O_WRONLY | O_CREAT | O_EXCL, 0600);
    assert_true(file >= 0);
    close(file);
}

static void what_was_broken_off_goes_after_an_hour(void **state)
{
    (void)state;
    struct new_file file;
    make("a.unfinished-Xk3f9A");
    make("a.unfinished-Xk3f9A-journal");
    make("my.unfinished-stories"); /* not ours: more follows than we ever write */
    make("list.unfinished");
    each_file(age);
    make("b.unfinished-yY0000"); /* somebody may be writing it */
    begin(&file, "copy");
    new_file_done(&file);
    assert_int_equal(access(path_of("b.unfinished-yY0000"), F_OK), 0);
    assert_int_equal(access(path_of("my.unfinished-stories"), F_OK), 0);
    assert_int_equal(access(path_of("list.unfinished"), F_OK), 0);
    assert_int_equal(each_file(NULL), 3);
}

static void rights_are_those_of_another(void **state)
{
    (void)state;
    struct new_file file;
    struct stat about;
    make("ledger");
    assert_int_equal(chmod(path_of("ledger"), 0660), 0);
    begin(&file, "copy");
    new_file_like(&file, path_of("ledger"));
    assert_int_equal(fstat(file.file, &about), 0);
    assert_int_equal(about.st_mode & 0777, 0660);
    new_file_like(&file, path_of("nobody"));
    assert_int_equal(fstat(file.file, &about), 0);
    assert_int_equal(about.st_mode & 0777, 0660);
    new_file_done(&file);
}

static void the_cause_comes_first(void **state)
{
    (void)state;
    struct new_file file;
    struct err err;
    assert_says(new_file_begin(&file, "/nowhere/copy", 0600, &err), &err,
                "Its folder is not there; make it first or choose another: /nowhere/copy.");
    new_file_done(&file);
    assert_false(new_file_fails("/stick/copy", ENOSPC, &err));
    assert_string_equal(err.text,
                        "The disk is full; free some space on it or use another one: /stick/copy.");
}

#define in_a_folder(test) cmocka_unit_test_setup_teardown(test, set_up, tear_down)

int main(void)
{
    const struct CMUnitTest tests[] = {
        in_a_folder(a_file_gets_its_name_when_it_is_whole),
        in_a_folder(no_name_is_taken_from_another_file),
        in_a_folder(no_link_is_followed),
        in_a_folder(what_is_given_up_leaves_nothing),
        in_a_folder(what_was_broken_off_goes_after_an_hour),
        in_a_folder(rights_are_those_of_another),
        in_a_folder(the_cause_comes_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
