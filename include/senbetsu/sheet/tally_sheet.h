/* The tally of a pick or remove round as a machine: a command goes in, the ledger is written
 * through the port, and what the screen has to show can be read from the struct. Like the entry
 * sheet it knows no keys, no terminal and no database, and changes nothing in memory before the
 * port has said it is on disk.
 *
 * Its port is separate from the entry sheet's: a tally has no fish to read again and no verdicts to
 * store with them. */
#ifndef SENBETSU_SHEET_TALLY_SHEET_H
#define SENBETSU_SHEET_TALLY_SHEET_H

#include "senbetsu/base/date.h"
#include "senbetsu/base/err.h"
#include "senbetsu/core/tally.h"

/* What the ledger knows of the round. */
struct tally_now {
    struct tally_line *lines;         /* everything tallied in it, whoever did it */
    size_t line_count, line_capacity; /* the capacity is the tally's own */
    struct count lot;                 /* the fish that went into the round */
    struct scoop scoop;               /* this judge's, measured last; id 0 = none was */
    struct tally_pace pace;           /* of this judge today */
    bool any_last;                    /* `last` is this judge's key that undo takes back next */
    struct tally_mark last;
};

void tally_now_done(struct tally_now *now);

/* `scoops`: whether a key counts a scoop; it is written with every change, and is what a
 * broken-off session comes back to. */
struct tally_port {
    void *context;

    /* One transaction each: when it returns true all of it is on disk, else none of it. */
    bool (*record)(void *context, const struct tally_mark *mark, bool scoops, struct err *err);
    /* Takes back this judge's last key and says which it was; ERR_ABSENT where there is none. */
    bool (*undo)(void *context, bool scoops, struct tally_mark *ret, struct err *err);
    /* A measured scoop; its id is filled in. */
    bool (*measure)(void *context, struct scoop *scoop, bool scoops, struct err *err);
    bool (*move)(void *context, bool scoops, struct err *err);

    /* `ret` is initialised by the call; the tally frees it with tally_now_done. */
    bool (*read)(void *context, struct tally_now *ret, struct err *err);
};

enum tally_mode {
    TALLY_COUNTING,
    TALLY_FURTHER, /* keypad: the next digit names a reason beyond the ninth */
    TALLY_MENU,    /* keypad: the next digit names anything else */
    TALLY_SIZE,    /* typing the fish counted in each of some scoops */
    TALLY_MODE_COUNT,
};

enum tally_command_kind {
    TALLY_DO_KEEP,   /* one fish or scoop kept */
    TALLY_DO_REJECT, /* number = index of the fault, -1 = without a reason */
    TALLY_DO_DEAD,
    TALLY_DO_UNIT, /* fish instead of scoops, or the other way round */
    TALLY_DO_UNDO,
    TALLY_DO_ENTER_MODE, /* number = enum tally_mode */
    TALLY_DO_CANCEL,     /* back to TALLY_COUNTING */
    TALLY_DO_TYPE,       /* number = a character of the line */
    TALLY_DO_ERASE,      /* the last character of the line */
    TALLY_DO_ACCEPT,     /* the line is finished */
    TALLY_DO_REFRESH,    /* ask the port for the round again; a message stays */
    TALLY_DO_LEAVE,
};

struct tally_command {
    enum tally_command_kind kind;
    int number;
};

struct tally_effects {
    bool alert;            /* the command could not be done: message says why */
    enum err_code refused; /* it was the port that failed, and with what; else ERR_NONE */
    bool leave;
};

enum { TALLY_NOTICE_SIZE = 128 };

struct tally_setup {
    enum manner manner;
    const struct standard *standard; /* its faults are the reasons; NULL = none speaks for it */
    bool scoops;
    struct count by_book;           /* fish in the lot by the book, NOT_COUNTED = not known */
    char notice[TALLY_NOTICE_SIZE]; /* a sentence that stands until the first key, "" = none */
    struct tally_port port;
    struct clock clock;
};

enum { TALLY_LINE_SIZE = 128 };

struct tally_sheet {
    enum manner manner;
    struct standard standard;
    struct tally_port port;
    struct clock clock;

    struct tally_now now;
    struct tally_totals tallied; /* key by key */
    struct tally_totals totals;  /* settled by the manner and the lot's number */
    int64_t left;                /* fish still to come, -1 = not known */
    struct count by_book;        /* stands for the lot's number on the screen where nobody stated
                                    one: nothing is settled by it */

    bool scoops;

    enum tally_mode mode;
    char line[TALLY_LINE_SIZE];
    char message[ERR_TEXT_SIZE]; /* one sentence for the user, "" = none */
    enum err_code refused;       /* what the port failed with in the command that is being done */
};

/* The number of the lot as it was stated, else by the book; NOT_COUNTED. */
const struct count *tally_sheet_lot(const struct tally_sheet *sheet);

/* Fails when the port does. Tells the port the place. */
bool tally_sheet_init(struct tally_sheet *sheet, const struct tally_setup *setup, struct err *err);
void tally_sheet_done(struct tally_sheet *sheet);

/* Does one command. A failure of the port changes nothing but the message and sets effects.alert;
 * the same holds for a command that cannot be done. Only a round that cannot be read after an undo
 * is no failure of it: the numbers stay as they were and the message says so. */
struct tally_effects tally_sheet_do(struct tally_sheet *sheet, const struct tally_command *command);

/* The samples of a line such as "48 52+50". Returns how many there are, 0 where the line is no such
 * list. Numbers are separated by blanks, '+', ',' or ';'. */
int tally_samples(const char *line, int64_t ret_samples[SCOOP_SAMPLES]);

#endif
