/* The entry sheet as a machine: a command goes in, the ledger is written through the port, and what
 * the screen has to show can be read from the struct. It knows no keys, no terminal and no
 * database.
 *
 * A queue of fish is worked through: either one bowl, which grows a fish at a time up to the number
 * expected in it, or a fixed queue of held fish for the second look. One fish is the current one;
 * the cursor is on one of its aspects. Nothing is changed in memory before the port has said it is
 * on disk.
 *
 * Why a port: the sheet decides what a key does, the ledger decides what is recorded. Between the
 * two stands a table of five functions, so that tests run the sheet against memory, with failures
 * wherever they want them, and the sheet cannot depend on how the ledger stores a stroke. */
#ifndef SENBETSU_SHEET_SHEET_H
#define SENBETSU_SHEET_SHEET_H

#include "senbetsu/base/date.h"
#include "senbetsu/base/err.h"
#include "senbetsu/core/entry.h"
#include "senbetsu/core/progress.h"

/* Where the cursor is: where an interrupted session continues. */
struct sheet_place {
    int64_t bowl_id;
    int number; /* of the fish in its bowl; it need not be in the ledger yet */
    char aspect[CODE_CHARACTERS + 1]; /* the selected aspect, "" = the first open one */
};

/* The round around the bowl, as the ledger has it now (other sorters may be at work in it). */
struct sheet_round {
    int places;                  /* places to fill, -1 = not set */
    struct verdict_counts tally; /* of the whole round with this bowl; expected 0 = not known */
    int64_t *scores;             /* of all fish that could be kept, in 1/unit points */
    size_t score_count;
    int64_t *closed_ms; /* when this judge's fish of today were closed, ascending */
    size_t closed_count;
};

/* Frees what it holds and leaves an empty one; it may be done twice. */
void sheet_round_done(struct sheet_round *round);

/* What the sheet asks of the ledger: function pointers, so that the sheet can be run against memory
 * in tests and never sees a database. */
struct sheet_port {
    void *context;

    /* One transaction: adds the fish to its bowl if `fish->id` is 0 (the id is filled in), the
     * stroke (its id and fish are filled in), the fish's verdict with it, and the place. `fish` is
     * its state after the stroke; if the ledger computes another state, another sorter has judged
     * it meanwhile, and the stroke is refused. When it returns true all of it is on disk; when it
     * returns false, none of it. */
    bool (*record)(void *context, struct fish *fish, struct stroke *stroke,
                   const struct cached_verdict *cached, const struct sheet_place *place,
                   struct err *err);

    /* Only the place: the cursor moved and nothing was judged. */
    bool (*move)(void *context, const struct sheet_place *place, struct err *err);

    /* The fish `fish->id` summed again from everything recorded of it but the stroke `without`:
     * what an undo of that stroke will leave. The sheet asks before it records the undo, so that
     * fish, verdict and place change together or not at all. Writes nothing (a ledger may record
     * the undo, read the fish and roll back). */
    bool (*reload)(void *context, int64_t without, struct fish *fish, struct err *err);

    /* `ret` is initialised by the call; the sheet frees it with sheet_round_done. */
    bool (*round)(void *context, struct sheet_round *ret, struct err *err);

    /* Which other fish of this round has the tag: `*ret_bowl` 0 = none. */
    bool (*tag_bearer)(void *context, const char *tag, int *ret_bowl, int *ret_number,
                       struct err *err);
};

enum sheet_mode {
    SHEET_JUDGE,       /* scores, faults, Enter = typical for all that is open */
    SHEET_PICK_FAULT,  /* keypad: the next digit names a fault */
    SHEET_PICK_ASPECT, /* keypad: the next digit names an aspect to go to */
    SHEET_MENU,        /* keypad: the next digit names anything else */
    SHEET_LENGTH,      /* typing a length in mm */
    SHEET_TAG,         /* typing or scanning a tag */
    SHEET_NOTE,        /* choosing one of the ready notes, or 0 to type one */
    SHEET_NOTE_TEXT,   /* typing a note */
    SHEET_VERDICT,     /* choosing the verdict by hand */
    SHEET_REASON,      /* choosing its reason, or 0 to type one */
    SHEET_REASON_TEXT, /* typing the reason */
    SHEET_NEXT_BOWL,   /* typing how many fish the next bowl holds; empty = as many as this one */
    SHEET_MODE_COUNT,
};

enum sheet_command_kind {
    COMMAND_SCORE,      /* number = the digit pressed, 0–9 */
    COMMAND_FINISH,     /* for all open aspects the typical score, in a second look the one that was
                           seen before; on a closed fish: the first open fish */
    COMMAND_TYPICAL,    /* the same, with the typical score in every look */
    COMMAND_FAULT,      /* number = index; seen → not seen, not seen → seen; knock-outs close */
    COMMAND_ASPECT,     /* number = index: move the cursor to it */
    COMMAND_SKIP,       /* the next open aspect, round and round */
    COMMAND_UP,         /* the aspect above */
    COMMAND_DOWN,       /* the aspect below */
    COMMAND_CLEAR,      /* clear the score of the selected aspect */
    COMMAND_UNDO,       /* undo the last stroke of the queue, whichever fish it was */
    COMMAND_EARLIER,    /* the fish before */
    COMMAND_LATER,      /* the fish after */
    COMMAND_FIRST_OPEN, /* the first fish that is not closed */
    COMMAND_ENTER_MODE, /* number = enum sheet_mode */
    COMMAND_CANCEL,     /* back to SHEET_JUDGE, nothing recorded */
    COMMAND_CHOOSE,     /* number = the digit pressed in a mode that offers choices */
    COMMAND_TYPE,       /* number = a Unicode character for the line being typed */
    COMMAND_ERASE,      /* the last character of the line */
    COMMAND_ACCEPT,     /* the line is finished */
    COMMAND_TAG,        /* text = a tag that a reader typed: at any time, in any mode */
    COMMAND_REFRESH,    /* ask the port for the round again; a message stays */
    COMMAND_LEAVE,      /* leave the sheet */
};

struct sheet_command {
    enum sheet_command_kind kind;
    int number;
    const char *text;
};

/* What the caller has to do besides painting the sheet again. */
struct sheet_effects {
    bool alert;     /* the command could not be done: message says why (bell or flash) */
    bool leave;     /* the user wants to leave */
    bool next_bowl; /* the user wants the next bowl, holding `expected` fish (0 = not known) */
    int expected;
};

/* How a sheet begins. Fish, undoables (oldest first) and strings are copied. */
struct sheet_setup {
    const struct standard *standard; /* copied too */
    int64_t judge;                   /* id */
    int64_t bowl_id;                 /* 0 with second_look */
    int bowl;
    int expected; /* in this bowl, 0 = not known */
    bool second_look;
    const struct fish *fish;
    size_t fish_count;
    const struct undoable *undoable;
    size_t undoable_count;
    struct sheet_place place; /* number 0 = at the first open fish */
    struct sheet_port port;
    struct clock clock;
};

struct sheet {
    /* Fixed for the sheet's life. */
    struct standard standard;
    int64_t judge;
    int64_t bowl_id;
    int bowl, expected;
    bool second_look;
    int look; /* of a second look: the look this queue is for, 2 or more */
    struct sheet_port port;
    struct clock clock;

    /* The queue. In a bowl that is not full there is always one fish more than was judged: the one
     * held now, not in the ledger until its first stroke (id 0). In a second look the fish that
     * wait for it stand here with the new look begun: nothing judged, what was seen before in
     * `earlier`. */
    struct fish *fish;
    size_t fish_count, fish_capacity;
    size_t current;
    int aspect;   /* the selected aspect; standard.aspect_count when nothing is open */
    bool full;    /* every fish expected is closed */
    bool resting; /* it is, and nobody has asked for the fish in front since: nothing changes it */

    /* The fish closed last, whose verdict stands in large letters; SIZE_MAX = none yet. */
    size_t last;
    struct decision last_decision;

    /* The round, fresh after every closing. */
    struct sheet_round round;
    int pace; /* fish per hour, 0 = not known yet */
    struct cut cut;
    int verdicts[VERDICT_COUNT]; /* of this queue */

    enum sheet_mode mode;
    enum verdict chosen;         /* in SHEET_REASON: the verdict the reason is for */
    char line[NOTE_SIZE];        /* what is being typed; a note begins as it stands */
    char message[ERR_TEXT_SIZE]; /* one sentence for the user, "" = none */

    struct undoable *undoable;
    size_t undoable_count, undoable_capacity;
};

/* Fails when the port does, or when no fish is given for a second look. Saves the place through the
 * port, so that a sheet interrupted at once can be continued. */
bool sheet_init(struct sheet *sheet, const struct sheet_setup *setup, struct err *err);
void sheet_done(struct sheet *sheet);

/* Does one command. A failure of the port changes nothing but the message ("Nothing was recorded.
 * The ledger is busy …") and sets effects.alert; the same holds for a command
 * that cannot be done. Only a round that cannot be read after a stroke is no failure: the stroke
 * stands, the totals stay as they were and the message says so. */
struct sheet_effects sheet_do(struct sheet *sheet, const struct sheet_command *command);

/* Where the cursor is now. */
struct sheet_place sheet_place(const struct sheet *sheet);

/* The current decision on a fish of the queue. */
struct decision sheet_decision(const struct sheet *sheet, size_t index);

/* What finishing the fish gives to an aspect without a score: the typical one, in a second look the
 * one that was seen before. */
int sheet_likely_score(const struct sheet *sheet, const struct fish *fish, int aspect);

/* The faults of the looks before that stand until this look says otherwise; they are recorded with
 * the closing. */
uint32_t sheet_carried_faults(const struct sheet *sheet, const struct fish *fish);

/* The score on the key `digit` on this sheet's scale (0 stands for 10 on a scale up to 10), or
 * SCORE_NONE. */
int sheet_score_of_digit(const struct standard *standard, int digit);

/* Is a line being typed? */
bool sheet_types_line(const struct sheet *sheet);

/* What the digits 1 to 9 stand for where a note or a reason is chosen; NULL for nothing. */
const char *sheet_ready(const struct sheet *sheet, int digit);

#endif
