/* What sheet, tally and first look read from the ledger and write into it: their ports, the place
 * that a session comes back to, and the title above them. */
#ifndef SENBETSU_SCREENS_LEDGER_PORT_H
#define SENBETSU_SCREENS_LEDGER_PORT_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/sheet/tally_sheet.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/rounds.h"

/* What the line of a round and the pace of its judge are worked out from, as the ledger has it.
 * They are read when somebody else has written; with each key of the port's own they are brought up
 * to date, for a closing must not read a round of thousands. */
struct round_numbers {
    struct numbers {
        int64_t *numbers; /* ascending */
        size_t count, capacity;
    } scores, closed_ms;
    bool known;
    int64_t since_ms;      /* the day whose closings these are */
    int64_t seen, commits; /* of the ledger, when they were right */
};

struct ledger_port {
    struct ledger *ledger;
    const struct standard *standard; /* must outlive the port; the tally needs none */
    int64_t version;                 /* id of its version */
    int64_t round_id;
    int64_t bowl_id; /* 0 in a second look */
    int64_t judge;
    bool second_look;
    struct round_numbers numbers;
};

/* Frees what the port has kept. */
void ledger_port_done(struct ledger_port *port);

/* The functions of the ports; `port` is their context and must outlive what uses them. */
struct sheet_port ledger_port_for_sheet(struct ledger_port *port);
struct tally_port ledger_port_for_tally(struct ledger_port *port);

/* Places as the ledger keeps them. `open`: this is what the next session comes back to. */
struct place ledger_port_place(const struct ledger_port *port, const struct sheet_place *at,
                               bool open);
struct place tally_place(const struct ledger_port *port, bool scoops, bool open);

/* A place in a round without a bowl, at its tally, at the first look at its lot or at the closer
 * look at a tie: the number says which. `at`: any of these, 0 = none. */
enum { AT_SCOOPS = 1, AT_FIRST_LOOK = 2, AT_CLOSER_LOOK = 4 };
struct place round_place(int64_t judge, int64_t round_id, int at, bool open);
bool round_place_is(const struct place *place, int at);

/* The midnight before an instant, `offset_minutes` east of UTC: since when a day's pace counts. */
int64_t ledger_port_midnight(int64_t ms, int offset_minutes);

/* "26-014 · K7 × P2 · Kikusui · harvest · lot north"; `manner` may be "". */
enum { TITLE_SIZE = 8 * CODE_SIZE };
bool round_title(struct ledger *ledger, const struct round *round, const char *manner,
                 char ret_title[TITLE_SIZE], struct err *err);

#endif
