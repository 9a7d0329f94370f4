/* The sheet's port over a real ledger. */
#ifndef SENBETSU_SCREENS_LEDGER_PORT_H
#define SENBETSU_SCREENS_LEDGER_PORT_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/store/rounds.h"

struct ledger_port {
    struct ledger *ledger;
    const struct standard *standard; /* must outlive the port */
    int64_t version;                 /* id of its version */
    int64_t round_id;
    int64_t judge;
    bool second_look;
};

/* The functions of the port; `port` is their context and must outlive what uses them. */
struct sheet_port ledger_port_functions(struct ledger_port *port);

/* The midnight before an instant, `offset_minutes` east of UTC: since when a day's pace counts. */
int64_t ledger_port_midnight(int64_t ms, int offset_minutes);

#endif
