/* The check of a ledger in a test. */
#ifndef SENBETSU_TESTS_SUPPORT_CHECK_H
#define SENBETSU_TESTS_SUPPORT_CHECK_H

#include "senbetsu/base/text.h"
#include "senbetsu/store/check.h"
#include "support/test.h"

static inline void keep_finding(void *context, const struct finding *finding)
{
    text_add(context, finding->lines);
}

/* What was found, a line each; the numbers are in `*ret`. Repairs where `repairs`. */
static inline void check_into(struct ledger *ledger, bool repairs, struct text *said,
                              struct check_result *ret)
{
    struct err err;
    struct check_listener listener = {.found = keep_finding, .context = said};
    text_clear(said);
    assert_ok((repairs ? ledger_repair : ledger_check)(ledger, &listener, ret, &err), &err);
}

/* Nothing is wrong, and nothing worth a look. */
static inline void assert_in_order(struct ledger *ledger)
{
    struct check_result result;
    struct text said;
    text_init(&said);
    check_into(ledger, false, &said, &result);
    if (said.length > 0)
        fail_msg("%s", said.data);
    text_done(&said);
}

/* So many places are wrong; one of them says so. */
static inline void assert_wrong(struct ledger *ledger, size_t count, const char *says)
{
    struct check_result result;
    struct text said;
    text_init(&said);
    check_into(ledger, false, &said, &result);
    if (result.wrong != count || strstr(said.data, says) == NULL)
        fail_msg("%zu wrong: %s", result.wrong, said.data);
    text_done(&said);
}

#endif
