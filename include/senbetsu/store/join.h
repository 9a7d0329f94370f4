/* Joining: another station's ledger is added to this one, and what both changed differently is
 * decided (docs/decisions/stations.md). */
#ifndef SENBETSU_STORE_JOIN_H
#define SENBETSU_STORE_JOIN_H

#include "senbetsu/core/code.h"
#include "senbetsu/store/station.h"

enum { DIFFERENCE_TEXT_SIZE = 256 };

/* What a join brings, in the order in which it is shown. */
enum joined {
    JOINED_VARIETIES,
    JOINED_PARENTS,
    JOINED_SPAWNINGS,
    JOINED_LOTS,
    JOINED_EVENTS, /* of lots */
    JOINED_ROUNDS,
    JOINED_COUNTS, /* numbers stated of rounds */
    JOINED_BOWLS,
    JOINED_FISH,
    JOINED_STROKES, /* at the sheet, the tally and the first look */
    JOINED_PASSES,
    JOINED_STANDARDS, /* versions */
    JOINED_JUDGES,
    JOINED_CHANGES, /* of records that are in both ledgers */
    JOINED_KINDS
};

/* "parent" and "parents". */
extern const char *const joined_words[JOINED_KINDS][2];

/* Whose rows they are. */
struct joined_station {
    int64_t number;
    char name[STATION_NAME_SIZE]; /* "" = it has none */
    int64_t rows;
    int64_t first_ms, last_ms; /* when the first and the last of them were recorded; 0 = not said */
};

/* One station's say about a field. */
struct statement_of {
    int64_t entry;                    /* of the audit log */
    char value[DIFFERENCE_TEXT_SIZE]; /* "" = nothing */
    char judge[CODE_SIZE];            /* "" = not said */
    char station[STATION_NAME_SIZE];
    int64_t at_ms;
    bool stands;
};

/* What two stations or more changed differently, none knowing of the other. The latest stands until
 * somebody decides, or changes the field otherwise. */
struct difference {
    char title[DIFFERENCE_TEXT_SIZE]; /* of the record: "parent K1" */
    char field[CODE_SIZE];
    int count;
    struct statement_of said[8]; /* the latest first */
};

struct join {
    int layout; /* the other ledger's, where it is older than this program's; it was brought up in a
                   copy; else 0 */
    int64_t added[JOINED_KINDS];
    int64_t rows; /* added in all; 0 = everything was here already */
    struct joined_station *stations;
    size_t station_count;
    int64_t
        ahead_ms; /* how far the other's latest entry is ahead of this station's clock; else 0 */
    struct difference *differences; /* to be decided, as difference_list gives them afterwards */
    size_t difference_count;
    char **clashes; /* as clash_list gives them afterwards */
    size_t clash_count;
    char before[DIFFERENCE_TEXT_SIZE * 4]; /* the copy from before the join; "" = none was made */
};

/* Adds what the ledger at `path` has and this one has not, and works out anew what stands, in one
 * transaction. The other file is read, not changed; of this one a copy is made first, and kept
 * where anything came. Everybody who joins the same ledgers comes to the same, in whatever order
 * and however often. `preview` does all of it, says what came of it, and takes it back; no copy is
 * made.
 *
 * Fails, and changes nothing, where the other is no sound ledger, is made by a newer program, is
 * this very file, or has another row of the same id: then the same station went on in two places.
 */
bool ledger_join(struct ledger *ledger, const char *path, bool preview, struct join *ret,
                 struct err *err);
void join_done(struct join *join);

bool difference_list(struct ledger *ledger, struct difference **ret, size_t *ret_count,
                     struct err *err);

/* Lets what an entry said stand, from now on and in every ledger that this one is joined with. */
bool difference_decide(struct ledger *ledger, int64_t entry, int64_t judge, const char *why,
                       struct err *err);

/* What a join had to tell apart or could not leave as it was recorded, each one whole sentence that
 * says what to do: two parents of one name, a record that is retired and still needed, …. The
 * caller frees each and the list. */
bool clash_list(struct ledger *ledger, char ***ret, size_t *ret_count, struct err *err);
void clashes_free(char **clashes, size_t count);

#endif
