/* A ledger in memory for the tally's port, and a tally on it: a pick round by a standard with three
 * faults. It fails when it is told to. */
#ifndef SENBETSU_TESTS_SUPPORT_FAKE_TALLY_H
#define SENBETSU_TESTS_SUPPORT_FAKE_TALLY_H

#include "senbetsu/sheet/tally_sheet.h"

enum { FAKE_FAULTS = 3, FAKE_STROKES = 30000, FAKE_SCOOPS = 3000, FAKE_TALLY_SECONDS = 4 };

struct fake_stroke {
    struct tally_mark mark;
    int64_t at_ms;
    bool others; /* another judge's */
    bool undone;
};

struct fake_tally {
    struct standard standard;
    struct fake_stroke strokes[FAKE_STROKES];
    size_t stroke_count;
    struct scoop scoop; /* measured last */
    int64_t scoop_count;
    struct count lot;
    struct count by_book; /* taken when the tally is opened */
    bool scoops;          /* the place */
    bool stale;           /* the last reading failed: the sheet may show earlier numbers */
    int64_t now_ms;
    int calls;
    int fail_at; /* the call, counted from 1, that fails; 0 = none */
    struct tally_sheet sheet;
};

/* For cmocka's set-up and tear-down: `*state` is the fake with its tally open. */
int fake_tally_set_up(void **state);
int fake_tally_tear_down(void **state);

#define on_fake_tally(test)                                                                        \
    cmocka_unit_test_setup_teardown(test, fake_tally_set_up, fake_tally_tear_down)

/* One command, FAKE_TALLY_SECONDS after the one before. */
struct tally_effects fake_tally_do(struct fake_tally *fake, enum tally_command_kind kind,
                                   int number);

void fake_tally_by_another(struct fake_tally *fake, enum tally_kind kind);

/* Another tally on the same ledger; the fake's own closed and opened again. */
bool fake_tally_open(struct fake_tally *fake, struct tally_sheet *sheet, struct err *err);
void fake_tally_reopen(struct fake_tally *fake);

/* What the ledger holds, added up stroke by stroke. */
struct tally_totals fake_tally_totals(const struct fake_tally *fake);

#endif
