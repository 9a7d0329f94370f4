/* A ledger in memory for the sheet's port: it keeps the strokes, adds fish up from them as the real
 * one does, and fails when it is told to. */
#ifndef SENBETSU_TESTS_SUPPORT_FAKE_PORT_H
#define SENBETSU_TESTS_SUPPORT_FAKE_PORT_H

#include "senbetsu/sheet/sheet.h"

enum { FAKE_BOWL_ID = 700, FAKE_OTHER_BOWL_ID = 800, FAKE_BOWL = 3, FAKE_JUDGE = 9 };

struct fake_port {
    const struct standard *standard;
    struct fish *fish; /* as they were added: nothing judged */
    size_t fish_count, fish_capacity;
    struct cached_verdict *verdicts; /* as the sheet handed them over */
    struct stroke *strokes;          /* the id of a stroke is its index + 1 */
    size_t stroke_count, stroke_capacity;
    int64_t *scores, *closed_ms; /* of the round, as they were asked for last */
    struct sheet_place place;
    int64_t now_ms;

    int places, expected; /* of the round */

    int bounce_ms;   /* of the sheets it opens */
    bool unnumbered; /* second looks are at a basin */

    /* A fish of another bowl and its tag. */
    char other_tag[CODE_SIZE];
    struct tag_bearer other;

    int calls;
    int fail_at; /* the call, counted from 1, that fails; 0 = none */
};

void fake_port_init(struct fake_port *port, const struct standard *standard);
void fake_port_done(struct fake_port *port);

struct sheet_port fake_port_functions(struct fake_port *port);

/* A fish as its strokes add up, leaving out the stroke `without` (0 = none). */
struct fish fake_port_fish(const struct fake_port *port, int64_t id, int64_t without);

/* A sheet on everything the port has: one bowl of `expected` fish, or the second look at the fish
 * that are held or being looked at again. */
bool fake_port_open(struct fake_port *port, struct sheet *sheet, int expected, bool second_look,
                    struct err *err);

/* The last stroke recorded. */
const struct stroke *fake_port_last(const struct fake_port *port);

#endif
