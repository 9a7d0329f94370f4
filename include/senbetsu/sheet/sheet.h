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
 * two stands a table of functions, so that tests run the sheet against memory, with failures
 * wherever they want them, and the sheet cannot depend on how the ledger stores a stroke. */
#ifndef SENBETSU_SHEET_SHEET_H
#define SENBETSU_SHEET_SHEET_H

#include "senbetsu/base/date.h"
#include "senbetsu/base/err.h"
#include "senbetsu/core/entry.h"
#include "senbetsu/core/fish.h"
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
    struct verdict_counts bowl;  /* of this bowl, nothing in a second look */
    char notice[NOTE_SIZE];      /* what is to be said of the round, "" = nothing */
    const int64_t *scores;       /* of all fish that could be kept, in 1/unit points, ascending: the
                                    port's, until it is called again */
    size_t score_count;
    const int64_t *closed_ms; /* likewise, when this judge's fish of today were closed */
    size_t closed_count;
};

/* What one key does to one fish: strokes of it that are taken back, the latest first, and then a
 * stroke that is added; either may be missing. */
struct sheet_change {
    struct fish *fish; /* its state after the change; the id is filled in where it was 0, and what
                          stands of it */
    const int64_t *undoes;
    size_t undo_count;
    int64_t at_ms;         /* when it is taken back */
    struct stroke *stroke; /* its id and fish are filled in; NULL = none */
};

/* What the sheet asks of the ledger: function pointers, so that the sheet can be run against memory
 * in tests and never sees a database. */
struct sheet_port {
    void *context;

    /* One transaction: the changes of one or several fish and the place. A fish without an id is
     * added to its bowl. If the ledger computes another state of a fish, another sorter has judged
     * it meanwhile, and everything is refused. When it returns true all of it is on disk; when it
     * returns false, none of it, and what was handed over means nothing any more. */
    bool (*record)(void *context, struct sheet_change *changes, size_t count,
                   const struct sheet_place *place, struct err *err);

    /* Only the place: the cursor moved and nothing was judged. */
    bool (*move)(void *context, const struct sheet_place *place, struct err *err);

    /* The fish `fish->id` summed again from everything recorded of it but the `count` strokes
     * `without`, the latest first: what an undo of them will leave. The sheet asks before it
     * records the undo, so that fish, verdict and place change together or not at all. Writes
     * nothing. `likely` (NULL = not known) is what comes out where nothing was recorded of it since
     * `fish` got its mark: then nothing needs to be summed. */
    bool (*reload)(void *context, const int64_t *without, size_t count, const struct fish *likely,
                   struct fish *fish, struct err *err);

    bool (*round)(void *context, struct sheet_round *ret, struct err *err);

    /* Which fish has the tag: one of this round before others, else the one that was given it
     * last. */
    bool (*tag_bearer)(void *context, const char *tag, struct tag_bearer *ret, struct err *err);

    /* The bowl of this round with this number, where it has a fish with this number; 0 = none. */
    bool (*find_fish)(void *context, int bowl, int number, int64_t *ret_bowl_id, struct err *err);
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
    SHEET_FIND,        /* typing a fish's number, BOWL-NUMBER or a part of its tag */
    SHEET_ASK_TAG,     /* COMMAND_YES gives the fish the tag that is asked about */
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
    COMMAND_TAG,        /* text = a tag, for the fish in front: at any time, in any mode */
    COMMAND_YES,        /* what is asked about is done */
    COMMAND_MARK,       /* digits follow that may be a reader's: what they do can be taken back */
    COMMAND_SCAN,       /* text = they are a reader's: they are taken back, and this is the tag */
    COMMAND_MISREAD,    /* number = of that many digits, which are no tag: they are taken back */
    COMMAND_REFRESH,    /* ask the port for the round again; a message stays */
    COMMAND_LEAVE,      /* leave the sheet */
};

/* The press of a key: when it came, between these two instants. A key that was there when the
 * program came to read has waited, and nobody knows for how long. */
struct press {
    uint32_t key; /* equal for equal keys; 0 = no key */
    int64_t from_ms, to_ms;
};

struct sheet_command {
    enum sheet_command_kind kind;
    int number;
    const char *text;
    struct press press;
};

/* What the caller has to do besides painting the sheet again. */
struct sheet_effects {
    bool alert;            /* the command could not be done: message says why (bell or flash) */
    enum err_code refused; /* it was the port that failed, and with what; else ERR_NONE */
    bool go;               /* the user wants the fish at `to`, in another bowl of the round */
    struct sheet_place to;
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
    bool unnumbered; /* a second look at a basin: which of its fish comes up is not known */
    const struct fish *fish;
    size_t fish_count;
    const struct undoable *undoable;
    size_t undoable_count;
    struct sheet_place place; /* number 0 = at the first open fish */
    int bounce_ms; /* a key that closed a fish closes no other within so long; 0 = any may */
    struct sheet_port port;
    struct clock clock;
};

struct sheet {
    /* Fixed for the sheet's life. */
    struct standard standard;
    int64_t judge;
    int64_t bowl_id;
    int bowl, expected;
    bool second_look, unnumbered;
    int look; /* of a second look: the look this queue is for, 2 or more */
    struct sheet_port port;
    struct clock clock;
    int bounce_ms;

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

    /* The fish closed last, whose verdict stands large; SIZE_MAX = none yet. */
    size_t last;
    struct decision last_decision;
    struct cut last_cut; /* the line it was closed against */

    /* The round, fresh after every closing. */
    struct sheet_round round;
    int pace; /* fish per hour, 0 = not known yet */
    struct cut cut;
    int verdicts[VERDICT_COUNT]; /* of this queue */

    enum sheet_mode mode;
    enum verdict chosen;  /* in SHEET_REASON: the verdict the reason is for */
    char line[NOTE_SIZE]; /* what is being typed; a note begins as it stands; a tag in question */
    char question[ERR_TEXT_SIZE]; /* in SHEET_ASK_TAG */
    char message[ERR_TEXT_SIZE];  /* one sentence for the user, "" = none */
    enum err_code refused;        /* what the port failed with in the command that is being done */

    struct undoable *undoable;
    size_t undoable_count, undoable_capacity;

    /* The fish as it was before the last stroke, for most undos are of that; its mark is the one
     * with the stroke, which is 0 where this is not known. */
    struct fish before;
    int64_t before_stroke;

    /* Keys that bounce or repeat (sheet_record.c). */
    struct press press;     /* of the command that is being done */
    struct press closing;   /* the last press of the key that closed the last fish */
    int64_t closing_stroke; /* and its stroke */
    bool may_repeat;        /* it came as soon after the one before as a key held down repeats */
    int held_back;          /* presses of it held back since */

    /* How it was before the digits that may turn out to be a reader's. */
    struct sheet_mark {
        bool set;
        size_t undoable_count;
        size_t current;
        int aspect;
        enum sheet_mode mode;
        enum verdict chosen;
        char line[NOTE_SIZE];
        size_t last;
        struct decision last_decision;
        struct cut last_cut;
        bool resting;
    } mark;
};

/* How long a closing key is held back after it closed a fish, unless somebody wants it otherwise. A
 * worn contact bounces for less than 50 ms, and a key that repeats does so every 25 to 40 ms; a
 * quick hand needs 200 ms from key to key, and 125 in a burst. */
enum { BOUNCE_MS = 100, BOUNCE_MOST_MS = 1000 };

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

/* What stands of a fish of the queue, and why: REASON_PLACES where its score would keep it. */
struct decision sheet_decision(const struct sheet *sheet, size_t index);

/* The number of a fish of the queue as people know it: in its bowl; of a basin, where it has none,
 * how many have come up with it. Its name: "fish 3", "fish 3 of bowl 2", "fish 3 of the basin". */
int sheet_fish_number(const struct sheet *sheet, size_t index);
const char *sheet_fish_name(const struct sheet *sheet, size_t index, char ret_name[64]);

/* Is what was seen of a fish before shown and kept: in a second look, where the fish is known? */
bool sheet_knows_earlier(const struct sheet *sheet);

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
