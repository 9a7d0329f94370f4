/* Where the screens begin, and the only place where ledger and terminal meet. */
#ifndef SENBETSU_SCREENS_START_H
#define SENBETSU_SCREENS_START_H

#include "senbetsu/store/ledger.h"

struct app_options {
    const char *judge; /* NULL or "" = whoever judged last; asked for where nobody has */
    bool mono;
    int bounce_ms; /* a key that closed a fish closes no other within so long; 0 = any may */
};

/* Runs until the user leaves or the line is cut; the terminal is given back in every case and the
 * ledger stays open. Fails with one sentence where there is no usable terminal or the ledger cannot
 * be read, or where the ledger went missing from its place; `ledger` is the caller's to close. */
bool app_run(struct ledger *ledger, const struct app_options *options, struct err *err);

#endif
