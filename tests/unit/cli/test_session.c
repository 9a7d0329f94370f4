#include "private.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/sheet/sheet.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/standards.h"
#include "support/test.h"

#include <unistd.h>

static char folder[64];

static int setup(void **state)
{
    (void)state;
    snprintf(folder, sizeof folder, "/tmp/senbetsu-XXXXXX");
    if (mkdtemp(folder) == NULL)
        return -1;
    setenv("SENBETSU_LEDGER", "", 1);
    setenv("SENBETSU_JUDGE", "", 1);
    setenv("SENBETSU_BOUNCE", "", 1);
    setenv("XDG_DATA_HOME", folder, 1);
    return 0;
}

static int teardown(void **state)
{
    (void)state;
    char path[128];
    snprintf(path, sizeof path, "%s/senbetsu/ledger.db", folder);
    unlink(path);
    snprintf(path, sizeof path, "%s/senbetsu/ledger.db-acknowledged", folder);
    unlink(path);
    snprintf(path, sizeof path, "%s/senbetsu", folder);
    rmdir(path);
    return rmdir(folder);
}

static void assert_path(const struct options *options, const char *expected)
{
    struct text path;
    struct err err;
    text_init(&path);
    assert_ok(session_ledger_path(options, &path, &err), &err);
    assert_string_equal(path.data, expected);
    text_done(&path);
}

static void test_where_the_ledger_is(void **state)
{
    (void)state;
    struct options options = {0};
    struct text path;
    struct err err;
    setenv("XDG_DATA_HOME", "/data", 1);
    setenv("HOME", "/home/ines", 1);
    assert_path(&options, "/data/senbetsu/ledger.db");
    setenv("XDG_DATA_HOME", "", 1);
    assert_path(&options, "/home/ines/.local/share/senbetsu/ledger.db");
    setenv("SENBETSU_LEDGER", "mine.db", 1);
    assert_path(&options, "mine.db");
    options.values[OPTION_LEDGER] = "named.db";
    assert_path(&options, "named.db");
    options.values[OPTION_LEDGER] = NULL;
    setenv("SENBETSU_LEDGER", "", 1);
    setenv("HOME", "", 1);
    text_init(&path);
    assert_says(session_ledger_path(&options, &path, &err), &err, "--ledger FILE");
    text_done(&path);
}

static void test_a_new_ledger_has_folders_and_standards(void **state)
{
    (void)state;
    struct options options = {0};
    struct session session;
    struct standard_version *standards;
    size_t count;
    struct err err;
    session_init(&session, &options);
    assert_false(session_open(&session, LEDGER_OPEN, &err)); /* only reading makes none */
    assert_ok(session_open(&session, LEDGER_CREATE, &err), &err);
    assert_ok(standard_list(session.ledger, &standards, &count, &err), &err);
    assert_int_equal(count, starting_standard_count);
    assert_int_equal(standards[0].origin, ORIGIN_SHIPPED);
    free(standards);
    session_done(&session);

    session_init(&session, &options); /* a second time they are not saved again */
    assert_ok(session_open(&session, LEDGER_CREATE, &err), &err);
    assert_ok(standard_list(session.ledger, &standards, &count, &err), &err);
    assert_int_equal(count, starting_standard_count);
    assert_int_equal(standards[0].version, 1);
    free(standards);
    session_done(&session);
}

/* A command that fails takes a new ledger away again, and never one that was there. */
static void test_only_a_new_ledger_is_discarded(void **state)
{
    (void)state;
    struct options options = {0};
    struct session session;
    struct err err;
    char path[128];
    snprintf(path, sizeof path, "%s/senbetsu/ledger.db", folder);
    session_init(&session, &options);
    session_discard_new(&session); /* nothing is open */
    assert_ok(session_open(&session, LEDGER_CREATE, &err), &err);
    assert_int_equal(access(path, F_OK), 0);
    session_discard_new(&session);
    assert_null(session.ledger);
    assert_int_not_equal(access(path, F_OK), 0);
    assert_ok(session_open(&session, LEDGER_CREATE, &err), &err);
    session_done(&session);

    session_init(&session, &options);
    assert_ok(session_open(&session, LEDGER_CREATE, &err), &err);
    session_discard_new(&session);
    assert_non_null(session.ledger);
    session_done(&session);
    assert_int_equal(access(path, F_OK), 0);
}

/* Named on the command line, in the environment, or whoever wrote last. */
static void test_who_is_at_work(void **state)
{
    (void)state;
    struct options options = {0};
    struct session session;
    struct judge *judges;
    size_t count;
    int64_t judge = 7;
    struct err err;
    session_init(&session, &options);
    assert_ok(session_open(&session, LEDGER_CREATE, &err), &err);
    assert_ok(session_judge(&session, &judge, &err), &err);
    assert_int_equal(judge, 0);
    setenv("SENBETSU_JUDGE", "Ines", 1);
    assert_ok(session_judge(&session, &judge, &err), &err);
    options.values[OPTION_JUDGE] = "Tomo";
    assert_ok(session_judge(&session, &judge, &err), &err);
    assert_ok(judge_list(session.ledger, &judges, &count, &err), &err);
    assert_int_equal(count, 2);
    free(judges);
    options.values[OPTION_JUDGE] = NULL;
    setenv("SENBETSU_JUDGE", "a;b", 1);
    assert_says(session_judge(&session, &judge, &err), &err, "$SENBETSU_JUDGE");
    session_done(&session);
}

static void test_how_long_a_key_is_held_back(void **state)
{
    (void)state;
    struct options options = {0};
    int ms;
    struct err err;
    assert_ok(session_bounce(&options, &ms, &err), &err);
    assert_int_equal(ms, BOUNCE_MS);
    setenv("SENBETSU_BOUNCE", "0", 1);
    assert_ok(session_bounce(&options, &ms, &err), &err);
    assert_int_equal(ms, 0);
    options.values[OPTION_BOUNCE] = "250";
    assert_ok(session_bounce(&options, &ms, &err), &err);
    assert_int_equal(ms, 250);
    options.values[OPTION_BOUNCE] = NULL;
    setenv("SENBETSU_BOUNCE", "1001", 1);
    assert_says(session_bounce(&options, &ms, &err), &err, "$SENBETSU_BOUNCE");
    assert_int_equal(ms, 250);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_where_the_ledger_is, setup, teardown),
        cmocka_unit_test_setup_teardown(test_a_new_ledger_has_folders_and_standards, setup,
                                        teardown),
        cmocka_unit_test_setup_teardown(test_only_a_new_ledger_is_discarded, setup, teardown),
        cmocka_unit_test_setup_teardown(test_who_is_at_work, setup, teardown),
        cmocka_unit_test_setup_teardown(test_how_long_a_key_is_held_back, setup, teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
