/* What was acknowledged is on the disk, whatever happens to the program. */
#include "bench.h"
#include "support/check.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

/* Judges fish after fish and says so, one byte a stroke, until it is killed. */
static void judge_until_killed(struct bench *bench, int acknowledge)
{
    bench->ledger = NULL;
    bench_open(bench);
    int64_t bowl = bench_bowl(bench, 1).id;
    for (int number = 1; number <= 9999; number++) {
        int64_t fish;
        if (!fish_begin(bench->ledger, bowl, number, &fish, &bench->err))
            _exit(1);
        bench_stroke(bench, fish, 1, bench_score("white", 1 + number % 5));
        if (write(acknowledge, ".", 1) != 1)
            _exit(1);
    }
    _exit(0);
}

static int kill_after(struct bench *bench, int strokes)
{
    int ends[2];
    char byte;
    int acknowledged = 0;
    assert_int_equal(pipe(ends), 0);
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        close(ends[0]);
        judge_until_killed(bench, ends[1]);
    }
    close(ends[1]);
    while (acknowledged < strokes && read(ends[0], &byte, 1) == 1)
        acknowledged++;
    kill(child, SIGKILL);
    while (read(ends[0], &byte, 1) == 1)
        acknowledged++;
    close(ends[0]);
    int status;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFSIGNALED(status));
    return acknowledged;
}

static void expect_all_there(struct bench *bench, int acknowledged)
{
    struct fish *fish;
    size_t count;
    bench_open(bench);
    assert_ok(fish_of_bowl(bench->ledger, bench_bowl(bench, 1).id, bench_standard(), &fish, &count,
                           &bench->err),
              &bench->err);
    assert_true((int)count >= acknowledged);
    for (int i = 0; i < acknowledged; i++) {
        assert_int_equal(fish[i].number, i + 1);
        assert_int_equal(fish[i].judgement.scores[0], 1 + fish[i].number % 5);
    }
    free(fish);
    assert_in_order(bench->ledger);
    bench_close(bench);
}

static void every_acknowledged_stroke_outlives_the_program(void **state)
{
    static const int strokes[] = {1, 7, 40};
    struct bench *bench = *state;
    bench_close(bench);
    for (size_t i = 0; i < sizeof strokes / sizeof *strokes; i++) {
        int acknowledged = kill_after(bench, strokes[i]);
        assert_true(acknowledged >= strokes[i]);
        expect_all_there(bench, acknowledged);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        on_stocked_bench(every_acknowledged_stroke_outlives_the_program),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
