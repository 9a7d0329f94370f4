/* Which station a ledger file is (docs/decisions/stations.md). A file that lies elsewhere than its
 * station was last seen (another machine, file system or inode) is a copy: it becomes a station of
 * its own before it writes a row, so that the ids of both can never collide. */
#include "senbetsu/store/station.h"

#include "audit_log.h"
#include "private.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/code.h"

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

static bool begin_station(struct ledger *ledger, const uint8_t seed[16], const char *name,
                          const struct location *here, struct err *err)
{
    uint8_t identity[16];
    int64_t number = 0;
    memcpy(identity, seed, sizeof identity);
    if (!choose_number(ledger, identity, &number, err))
        return false;

    struct query query = query_with(ledger, SQL_STATION_ADD, number);
    query_bytes(&query, identity, sizeof identity);
    query_text(&query, name == NULL ? "" : name);
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
           (settled || begin_station(ledger, setup->seed, setup->station, here, err));
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

static void read_station(struct query *query, void *ret_item)
{
    struct station *ret = ret_item;
    *ret = (struct station){.number = row_id(query)};
    row_text_cut(query, ret->name, sizeof ret->name);
    ret->born_ms = row_between(query, INT64_MIN, INT64_MAX);
    ret->here = row_flag(query);
}

bool station_list(struct ledger *ledger, struct station **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_begin(ledger, SQL_STATION_LIST);
    return query_rows(&query, read_station, sizeof **ret, ret, ret_count, err);
}

static bool find_here(struct ledger *ledger, struct station *ret, struct err *err)
{
    struct query query = query_begin(ledger, SQL_STATION_HERE);
    return query_row(&query, read_station, ret, "This ledger has no station.", err);
}

static bool rename_here(struct ledger *ledger, const char *name, int64_t judge, struct err *err)
{
    struct station here = {.number = 0};
    if (!find_here(ledger, &here, err))
        return false;
    if (strcmp(here.name, name) == 0)
        return true;
    struct change about = {"station", here.number, judge, ""};
    struct query query = query_with(ledger, SQL_STATION_RENAME, here.number);
    query_text(&query, name);
    return query_run(&query, err) && audit_log_add(ledger, &about, "name", here.name, name, err);
}

bool station_rename(struct ledger *ledger, const char *name, int64_t judge, struct err *err)
{
    return code_check(name, "The station's name", err) && transaction_begin(ledger, err) &&
           transaction_end(ledger, rename_here(ledger, name, judge, err), err);
}

bool station_begin(struct ledger *ledger, const uint8_t seed[16], const char *name, struct err *err)
{
    struct location here = {.inode = 0};
    return code_check(name, "The station's name", err) && locate(ledger->path, &here, err) &&
           transaction_begin(ledger, err) &&
           transaction_end(ledger, begin_station(ledger, seed, name, &here, err), err);
}
