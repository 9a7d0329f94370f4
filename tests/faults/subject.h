/* A small invented farm whose ledger is made to suffer: its folder, its records, and what of it is
 * open. */
#ifndef SENBETSU_TESTS_FAULTS_SUBJECT_H
#define SENBETSU_TESTS_FAULTS_SUBJECT_H

#include "disk.h"
#include "private.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/standards.h"

struct subject {
    char folder[64]; /* with a folder "stick" in it, where copies go */
    char path[96], copy[96];
    int64_t now;
    struct ledger *ledger; /* NULL = closed */
    int refusals;          /* so often was a step refused */
    struct standard_version standard;
    struct round judged, tallied; /* one fish by fish, one to pick from */
    struct bowl bowl;
    int64_t judge;

    /* What a scenario has open besides. */
    struct ledger_port port;
    struct sheet sheet;
    struct tally_sheet tally;
    bool has_sheet, has_tally;
};

/* What a run begins with. */
enum ground {
    GROUND_NONE,  /* a folder without a ledger */
    GROUND_CLEAN, /* a stocked ledger that was closed */
    GROUND_HOT,   /* the same with a session that was killed: its WAL is there */
    GROUND_OLDER, /* a closed one with the older kind of journal, of a disk that shares no memory */
    GROUND_COUNT
};

/* Makes the grounds once, in memory; base = where folders may be made. */
void grounds_make(const char *base);
void grounds_done(void);

/* An empty folder with this ground in it; nothing is open. */
void subject_begin(struct subject *subject, const char *folder, enum ground ground);

/* Closes what is open. */
void subject_end(struct subject *subject);

/* Opens the ledger (by the steps of this program, or with so many later ones added), and looks up
 * its records. */
bool subject_open(struct subject *subject, int later_steps, struct err *err);
bool subject_find_records(struct subject *subject, struct err *err);

/* The clock at a step: a step that is tried again is at the same instant. */
void subject_set_clock(struct subject *subject, int step);

const struct image *ground_image(enum ground ground);

/* Takes a folder away with all that is in it. */
void folder_clear(const char *folder);
void folder_make(const char *folder);

#endif
