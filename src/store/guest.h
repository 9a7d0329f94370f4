/* Another station's ledger, to be read. */
#ifndef STORE_GUEST_H
#define STORE_GUEST_H

#include "copy.h"

struct guest {
    struct copy copy;
    sqlite3 *db;      /* of the file itself, while it is copied */
    const char *path; /* of that */
    struct ledger *ledger;
    int version; /* the file's layout */
};

/* Copies the ledger at `path` beside `host`, under a name that nobody has, and brings the copy to
 * the layout of these steps; the file itself is only read. End with guest_done whatever happens. */
bool guest_open(struct guest *guest, struct ledger *host, const char *path,
                const struct migration *steps, int count, struct err *err);
void guest_done(struct guest *guest);

#endif
