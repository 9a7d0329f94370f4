/* Every command that reads says what the ledger was at one moment, whenever somebody else writes.
 */
#include "private.h"
#include "senbetsu/cli/commands.h"
#include "support/meddler.h"
#include "support/source.h"
#include "support/test.h"

#include <fcntl.h>
#include <unistd.h>

static char folder[64], ledger[96], output[96];

/* What the command says on standard output, or why it did not. */
static void run(const char *const *words, struct text *ret)
{
    const char *line[12] = {"--ledger", ledger};
    int count = 2;
    struct err err;
    while (words[count - 2] != NULL && count < 11)
        line[count] = words[count - 2], count++;
    int kept = dup(STDOUT_FILENO);
    int file = open(output, O_RDWR | O_CREAT | O_TRUNC, 0600);
    dup2(file, STDOUT_FILENO);
    bool done = commands_run(count, line, &err);
    dup2(kept, STDOUT_FILENO);
    close(kept);
    close(file);
    text_done(ret);
    whole_file(output, ret);
    if (!done)
        text_add(ret, err.text);
}

static void import(const char *kind, const char *name)
{
    char demo[32], path[512];
    struct text said;
    text_init(&said);
    snprintf(demo, sizeof demo, "demo/%s", name);
    source_path(demo, path, sizeof path);
    run((const char *const[]){"import", kind, path, NULL}, &said);
    if (strstr(said.data, "read, ") == NULL)
        fail_msg("%s", said.data);
    text_done(&said);
}

static int setup(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/senbetsu-XXXXXX");
    if (mkdtemp(folder) == NULL)
        return -1;
    snprintf(ledger, sizeof ledger, "%s/ledger.db", folder);
    snprintf(output, sizeof output, "%s/output", folder);
    import("parents", "parents.csv");
    import("spawnings", "spawnings.csv");
    import("rounds", "rounds.csv");
    import("lots", "lots.csv");
    meddler_watch();
    return 0;
}

static int teardown(void **state)
{
    (void)state;
    meddler_stop();
    char acknowledged[128];
    snprintf(acknowledged, sizeof acknowledged, "%s-acknowledged", ledger);
    unlink(acknowledged);
    unlink(ledger);
    unlink(output);
    return rmdir(folder);
}

/* He writes after the first statement, after the second, and so on in growing steps until the
 * command is done before he would. */
static void try_every_moment(const char *const *words)
{
    struct text quiet[2], said;
    int inconsistent = 0, at = 1;
    text_init(&said);
    for (int i = 0; i < 2; i++) {
        text_init(&quiet[i]);
        run(words, &quiet[i]);
        meddler_write(ledger);
    }
    for (bool wrote = true; wrote; at += 1 + at / 4) {
        meddler_await(ledger, at);
        run(words, &said);
        wrote = meddler_wrote();
        if (strcmp(said.data, quiet[0].data) != 0 && strcmp(said.data, quiet[1].data) != 0 &&
            inconsistent++ == 0)
            print_error("%s, written into after %d statements, says:\n%s\n", words[0], at,
                        said.data);
    }
    assert_in_range(at, 20, 1000); /* he did come between */
    assert_int_equal(inconsistent, 0);
    for (int i = 0; i < 2; i++)
        text_done(&quiet[i]);
    text_done(&said);
}

static void test_a_report_is_of_one_moment(void **state)
{
    (void)state;
    static const char *const reports[][6] = {
        {"season", "--season", "2025"},
        {"rates", "--by", "pair"},
        {"due", "--date", "2025-07-11"},
        {"effects"},
        {"export", "rounds"},
    };
    for (size_t i = 0; i < sizeof reports / sizeof *reports; i++)
        try_every_moment(reports[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_a_report_is_of_one_moment, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
