/* The culls that come next, as CSV and on paper. */
#ifndef SENBETSU_PRINT_DUE_LIST_H
#define SENBETSU_PRINT_DUE_LIST_H

#include "senbetsu/core/count.h"
#include "senbetsu/core/usual.h"
#include "senbetsu/print/page.h"

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

void due_list_print(const struct due_list *list, struct page_setup setup, struct text *out);

/* spawning,lot,variety,stage,from,to,late,fish,per_hour,hours,pond — what is not known is empty. */
void due_list_csv(const struct due_list *list, struct text *out);

#endif
