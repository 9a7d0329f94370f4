#include "senbetsu/base/alloc.h"
#include "support/test.h"

#include <sys/wait.h>
#include <unistd.h>

static void zeroed_memory_is_zero_and_never_null(void **state)
{
    (void)state;
    int *numbers = alloc_zeroed(5, sizeof *numbers);
    for (int i = 0; i < 5; i++)
        assert_int_equal(numbers[i], 0);
    free(numbers);
    void *nothing = alloc_zeroed(0, 8);
    assert_non_null(nothing);
    free(nothing);
}

static void resizing_keeps_what_was_there(void **state)
{
    (void)state;
    char *memory = alloc_resized(NULL, 4, 1);
    memcpy(memory, "koi", 4);
    memory = alloc_resized(memory, 100000, 1);
    assert_string_equal(memory, "koi");
    free(memory);
}

static void an_array_grows_by_doubling(void **state)
{
    (void)state;
    int *items = NULL;
    size_t capacity = 0, growths = 0;
    for (size_t count = 0; count < 1000; count++) {
        size_t before = capacity;
        items = alloc_room(items, count, &capacity, sizeof *items);
        growths += capacity != before;
        assert_true(capacity > count);
        items[count] = (int)count;
    }
    for (int i = 0; i < 1000; i++)
        assert_int_equal(items[i], i);
    assert_true(growths < 10);
    free(items);
}

static void room_is_made_for_a_jump_too(void **state)
{
    (void)state;
    size_t capacity = 0;
    char *memory = alloc_room(NULL, 5000, &capacity, 1);
    assert_true(capacity > 5000);
    memset(memory, 'x', 5001);
    free(memory);
}

static void text_is_copied(void **state)
{
    (void)state;
    char *copy = alloc_text("選別");
    assert_string_equal(copy, "選別");
    free(copy);
    assert_null(alloc_text(NULL));
}

static int hook_pipe[2];

static void hook(void)
{
    assert_int_equal(write(hook_pipe[1], "h", 1), 1);
}

/* In a process of its own, because running out of memory ends it. */
static void running_out_calls_the_hook_once_and_ends_the_program(void **state)
{
    (void)state;
    assert_int_equal(pipe(hook_pipe), 0);
    pid_t child = fork();
    if (child == 0) {
        if (freopen("/dev/null", "w", stderr) == NULL)
            _exit(2);
        alloc_on_fatal(hook);
        alloc_zeroed(SIZE_MAX / 2, 4);
        _exit(0);
    }
    close(hook_pipe[1]);
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    assert_int_equal(WEXITSTATUS(status), 1);
    char said[4];
    assert_int_equal(read(hook_pipe[0], said, sizeof said), 1);
    close(hook_pipe[0]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(zeroed_memory_is_zero_and_never_null),
        cmocka_unit_test(resizing_keeps_what_was_there),
        cmocka_unit_test(an_array_grows_by_doubling),
        cmocka_unit_test(room_is_made_for_a_jump_too),
        cmocka_unit_test(text_is_copied),
        cmocka_unit_test(running_out_calls_the_hook_once_and_ends_the_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
