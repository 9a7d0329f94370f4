/* The tally's port over a real ledger. */
#ifndef SENBETSU_SCREENS_TALLY_PORT_H
#define SENBETSU_SCREENS_TALLY_PORT_H

#include "senbetsu/sheet/tally_sheet.h"
#include "senbetsu/store/tallies.h"

struct tally_ledger {
    struct ledger *ledger;
    int64_t round_id;
    int64_t judge;
};

/* The functions of the port; `port` is their context and must outlive what uses them. */
struct tally_port tally_ledger_functions(struct tally_ledger *port);

/* Where the hand is, as the ledger keeps it. */
struct place tally_ledger_place(const struct tally_ledger *port, bool scoops, bool open);

#endif
