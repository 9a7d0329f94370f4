/* Working out anew whatever is derived, each after what it is derived from: closings and the latest
 * pass before what stands of a fish, that before bowls are counted, and those before rounds. */
#include "derived.h"

#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"
#include "strokes.h"

#include <stdlib.h>

static bool run(struct ledger *ledger, enum sql sql, struct err *err)
{
    struct query query = query_begin(ledger, sql);
    return query_run(&query, err);
}

static bool rebuild_verdicts(struct ledger *ledger, struct err *err)
{
    struct round *rounds;
    size_t count;
    bool fine = true;
    if (!round_list(ledger, NULL, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++) {
        struct standard_version version;
        if (rounds[i].standard[0] != '\0')
            fine = standard_named(ledger, rounds[i].standard, &version, err) &&
                   verdicts_rebuild(ledger, rounds[i].id, &version.standard, NULL, err);
    }
    free(rounds);
    return fine;
}

void derived_wait(struct ledger *ledger)
{
    sqlite3_db_config(ledger->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
    sqlite3_db_config(ledger->db, SQLITE_DBCONFIG_ENABLE_FKEY, 0, NULL);
}

void derived_follow(struct ledger *ledger)
{
    sqlite3_db_config(ledger->db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 1, NULL);
    sqlite3_db_config(ledger->db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
}

bool round_count_fish(struct ledger *ledger, int64_t round_id, struct err *err)
{
    int64_t passed = 0;
    struct query query = query_with(ledger, SQL_ROUND_PASSED, round_id);
    if (!query_single(&query, &passed, err) || (passed && !round_stands(ledger, round_id, err)))
        return false;
    struct query bowls = query_with(ledger, SQL_BOWLS_COUNT, round_id);
    if (!query_run(&bowls, err))
        return false;
    struct query round = query_with(ledger, SQL_ROUND_COUNT, round_id);
    return query_run(&round, err);
}

bool derived_rebuild(struct ledger *ledger, struct err *err)
{
    return run(ledger, SQL_INSTANTS_REBUILD, err) && run(ledger, SQL_LATEST_PASS_REBUILD, err) &&
           rebuild_verdicts(ledger, err) && run(ledger, SQL_STANDING_REBUILD, err) &&
           run(ledger, SQL_BOWLS_RECOUNT, err) && run(ledger, SQL_ROUNDS_RECOUNT, err);
}
