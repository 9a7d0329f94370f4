/* The culls that come next, as CSV and on paper. */
#ifndef SENBETSU_PRINT_DUE_LIST_H
#define SENBETSU_PRINT_DUE_LIST_H

#include "senbetsu/core/count.h"
#include "senbetsu/core/usual_age.h"
#include "senbetsu/print/page.h"

struct due {
    char spawning[CODE_SIZE];
    char variety[CODE_SIZE];
    enum stage stage;
    char from[11], to[11]; /* when it is usual */
    bool late;             /* that time is over */
    int64_t fish;          /* last known; NOT_COUNTED */
    int pace;              /* own fish per hour at this stage; 0 = never measured */
    enum evidence evidence;
};

struct due_list {
    char from[11], to[11];
    struct due *dues; /* by the day on which their time begins */
    size_t count;
};

void due_list_print(const struct due_list *list, struct page_setup setup, struct text *out);

/* spawning,variety,stage,from,to,late,fish,per_hour,hours — what is not known is empty. */
void due_list_csv(const struct due_list *list, struct text *out);

#endif
