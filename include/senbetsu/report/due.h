/* The culls that come next, and how many fish an hour they usually take: docs/rates.md. */
#ifndef SENBETSU_REPORT_DUE_H
#define SENBETSU_REPORT_DUE_H

#include "senbetsu/base/text.h"
#include "senbetsu/core/count.h"
#include "senbetsu/core/usual.h"
#include "senbetsu/report/selection.h"
#include "senbetsu/store/ledger.h"

struct due {
    char spawnings[NOTE_SIZE]; /* whose fish they are: a code, or several separated by ';' */
    char lot[CODE_SIZE];
    char variety[CODE_SIZE]; /* "" = unknown, or several */
    char pond[CODE_SIZE];    /* where the lot is, "" = nobody said */
    bool mixed;
    enum stage stage;
    char from[11], to[11]; /* when it is usual */
    bool late;             /* that time is over */
    int64_t fish;          /* of the lot by the book; NOT_COUNTED */
    bool fry;              /* these are the fry that hatched: nobody has counted since */
    int pace;              /* own fish per hour at this stage; 0 = never measured */
    enum evidence evidence;
};

struct due_list {
    char from[11], to[11];
    struct due *dues; /* by the day on which their time begins */
    size_t count;
};

/* Of each lot that has fish by the book and a spawning whose date is known (of several the oldest)
 * the first cull after its last one, where its usual time begins within `days` days after `day`. A
 * cull stays late for as long as its usual time lasts; then the next one is looked at. Lots whose
 * fish went into a mixed lot without a word are gone once that has been through a later cull. `of`
 * NULL = all spawnings. Free `ret->dues` with free(). */
bool due_list_make(struct ledger *ledger, const char *day, int days, const struct selection *of,
                   struct due_list *ret, struct err *err);

#endif
