#include "senbetsu/base/beside.h"
#include "support/test.h"

static void assert_beside(const char *path, size_t length, enum beside kind)
{
    size_t found = 0;
    enum beside is = BESIDE_KINDS;
    if (!beside_split(path, &found, &is))
        fail_msg("%s is not taken for a file beside a ledger", path);
    assert_int_equal(found, length);
    assert_int_equal(is, kind);
}

static void every_name_is_known_again(void **state)
{
    (void)state;
    for (int kind = 0; kind < BESIDE_KINDS; kind++) {
        struct text name;
        text_init(&name);
        beside_add(&name, "/koi/ledger.db", (enum beside)kind);
        assert_beside(name.data, strlen("/koi/ledger.db"), (enum beside)kind);
        text_done(&name);
    }
    assert_beside("koi.db.before-v12", 6, BESIDE_BEFORE_VERSION);
    assert_beside("koi.db.unfinished-Xk3f9A-journal", 6, BESIDE_UNFINISHED);
}

static void other_names_are_nobodys(void **state)
{
    (void)state;
    static const char *const names[] = {"/koi-wal/ledger.db", "ledger.db",       "-wal",
                                        "koi-walk",           "koi.db-journals", ""};
    size_t length;
    enum beside kind;
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (beside_split(names[i], &length, &kind))
            fail_msg("\"%s\" is taken for a file beside a ledger", names[i]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_name_is_known_again),
        cmocka_unit_test(other_names_are_nobodys),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
