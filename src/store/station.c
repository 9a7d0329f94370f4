/* Which station a ledger file is (docs/decisions/stations.md). A file that lies elsewhere than its
 * station was last seen (another machine, file system or inode) is a copy: it becomes a station of
 * its own before it writes a row, so that the ids of both can never collide. */
#include "private.h"

#include "query.h"
#include "senbetsu/base/text.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Where a ledger file lies. A copy differs in at least one of these. */
struct location {
    char host[64];
    int64_t device;
    int64_t inode;
};

static bool locate(const char *path, struct location *ret, struct err *err)
{
    struct stat about;
    char host[256] = "";
    if (stat(path, &about) != 0 || gethostname(host, sizeof host - 1) != 0)
        return err_set(err, ERR_SYSTEM, "The ledger %s cannot be reached: %s.", path,
                       strerror(errno));
    text_copy(ret->host, sizeof ret->host, host);
    ret->device = (int64_t)about.st_dev;
    ret->inode = (int64_t)about.st_ino;
    return true;
}

static bool is_at(struct ledger *ledger, const struct location *here, bool *ret, struct err *err)
{
    struct location seen = {0};
    struct query query = query_begin(ledger, SQL_STATION_NOW);
    bool found = query_step(&query);
    if (found) {
        row_between(&query, 1, INT32_MAX);
        row_text(&query, seen.host, sizeof seen.host);
        seen.device = row_between(&query, INT64_MIN, INT64_MAX);
        seen.inode = row_between(&query, INT64_MIN, INT64_MAX);
    }
    if (!query_end(&query, err))
        return false;
    *ret = found && strcmp(seen.host, here->host) == 0 && seen.device == here->device &&
           seen.inode == here->inode;
    return true;
}

enum { STATION_HIGHEST = (1 << 30) - 1 };

/* Thirty bits of the identity, over all of it. */
static int64_t number_of(const uint8_t identity[16])
{
    uint32_t number = 0;
    for (int i = 0; i < 16; i++)
        number ^= (uint32_t)identity[i] << 8 * (i % 4);
    return number & STATION_HIGHEST;
}

static bool is_taken(struct ledger *ledger, int64_t number, bool *ret, struct err *err)
{
    int64_t taken = 0;
    struct query query = query_with(ledger, SQL_STATION_TAKEN, number);
    if (!query_single(&query, &taken, err))
        return false;
    *ret = number == 0 || taken;
    return true;
}

/* Moves the seed on until its number is none that this ledger knows. */
static bool choose_number(struct ledger *ledger, uint8_t identity[16], int64_t *ret,
                          struct err *err)
{
    bool taken = true;
    while (taken) {
        *ret = number_of(identity);
        if (!is_taken(ledger, *ret, &taken, err))
            return false;
        if (taken && ++identity[0] == 0)
            identity[1]++;
    }
    return true;
}

static bool begin_station(struct ledger *ledger, const struct ledger_setup *setup,
                          const struct location *here, struct err *err)
{
    uint8_t identity[16];
    int64_t number = 0;
    memcpy(identity, setup->seed, sizeof identity);
    if (!choose_number(ledger, identity, &number, err))
        return false;

    struct query query = query_with(ledger, SQL_STATION_ADD, number);
    query_bytes(&query, identity, sizeof identity);
    query_text(&query, setup->station == NULL ? "" : setup->station);
    query_text(&query, here->host);
    query_number(&query, here->device);
    query_number(&query, here->inode);
    query_number(&query, clock_now(&ledger->clock));
    if (!query_run(&query, err))
        return false;
    query = query_with(ledger, SQL_STATION_CHOOSE, number);
    return query_run(&query, err);
}

static bool settle(struct ledger *ledger, const struct ledger_setup *setup,
                   const struct location *here, struct err *err)
{
    bool settled; /* by another program meanwhile? */
    return is_at(ledger, here, &settled, err) &&
           (settled || begin_station(ledger, setup, here, err));
}

bool station_settle(struct ledger *ledger, const struct ledger_setup *setup, struct err *err)
{
    struct location here = {.inode = 0};
    bool settled;
    if (!locate(ledger->path, &here, err) || !is_at(ledger, &here, &settled, err))
        return false;
    if (settled)
        return true;
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, settle(ledger, setup, &here, err), err);
}
