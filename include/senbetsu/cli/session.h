/* One run of the program: what was asked for, the ledger once it is needed, and what there is to
 * say in the end. */
#ifndef SENBETSU_CLI_SESSION_H
#define SENBETSU_CLI_SESSION_H

#include "senbetsu/base/text.h"
#include "senbetsu/cli/options.h"
#include "senbetsu/print/page.h"
#include "senbetsu/store/ledger.h"
#include "senbetsu/store/rounds.h"

struct session {
    const struct options *options;
    struct ledger *ledger; /* NULL until session_open */
    bool made;             /* session_open has made its file */
    struct text out;       /* goes to standard output when the command has succeeded */
};

void session_init(struct session *session, const struct options *options);
void session_done(struct session *session);

/* The ledger's file: --ledger, else $SENBETSU_LEDGER, else $XDG_DATA_HOME/senbetsu/ledger.db, else
 * ~/.local/share/senbetsu/ledger.db. */
bool session_ledger_path(const struct options *options, struct text *ret_path, struct err *err);

/* Makes every folder above a path that is not there yet. */
bool session_make_folders(const char *path, struct err *err);

/* Opens the ledger. With `create`, one that is not there yet is made, with the folders above it and
 * the starting standards in it. */
bool session_open(struct session *session, bool create, struct err *err);

/* Opens a ledger that is there, for a command that writes nothing into it. */
bool session_open_to_read(struct session *session, struct err *err);

/* Takes a ledger that session_open has made away again; one that was there before stays open. A
 * command that fails leaves nothing behind. */
void session_discard_new(struct session *session);

/* Who is at work: --judge, else $SENBETSU_JUDGE, else whoever wrote last; 0 = not said. A name not
 * seen before is added to the ledger, so this belongs into a command that writes. */
bool session_judge(struct session *session, int64_t *ret_judge, struct err *err);

/* The name given by --judge or $SENBETSU_JUDGE, NULL where there is none. */
const char *session_judge_name(const struct options *options);

/* The round that --spawning, --stage and --lot name. */
bool session_round(const struct session *session, struct round *ret, struct err *err);

/* 80 columns, --ascii, and endless where a person reads it on a terminal. */
struct page_setup session_page(const struct session *session);

#endif
