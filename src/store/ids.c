/* Ids (docs/decisions/stations.md). What is born at a bowl gets the number of its station and a
 * serial, so that no two stations ever give one id to two things. What the office enters is the
 * same thing wherever it is entered: its id comes from what it is, so that two stations that each
 * enter the parent K1 make one row of it, and a join finds nothing to match. */
#include "query.h"
#include "senbetsu/base/hash.h"

#include <stdio.h>

static const uint64_t office_ids = UINT64_C(1) << 62;

/* The number that the station gave last is read and written once a transaction, for an import takes
 * thousands. */
bool new_id(struct ledger *ledger, int64_t *ret_id, struct err *err)
{
    struct query query;
    if (ledger->last_id == 0) {
        query = query_begin(ledger, SQL_LAST_ID);
        if (!query_single(&query, &ledger->last_id, err))
            return false;
        if (ledger->last_id == 0)
            return ledger_damaged(ledger, err, "it does not say which station it is");
    }
    *ret_id = ++ledger->last_id;
    return true;
}

/* The `probe`th id of this content, from 2^62 to 2^63 - 1: above those of all stations. */
static int64_t id_of(const char *kind, const char *what, int probe)
{
    char probed[12];
    snprintf(probed, sizeof probed, "%d", probe);
    uint64_t hash = hash_mixed(hash_on(hash_on(hash_on(HASH_BEGINS, kind), what), probed));
    return (int64_t)((hash & (office_ids - 1)) | office_ids);
}

/* Taken is the id of a record that began as the same and was retired or named otherwise since. */
bool office_id(struct ledger *ledger, const char *kind, const char *what, int64_t *ret_id,
               struct err *err)
{
    int64_t id = 0, taken = 1;
    for (int probe = 0; taken; probe++) {
        id = id_of(kind, what, probe);
        struct query query = query_with(ledger, SQL_ID_TAKEN, id);
        if (!query_single(&query, &taken, err))
            return false;
    }
    *ret_id = id;
    return true;
}
