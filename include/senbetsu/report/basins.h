/* What is left to do in the basins of a round.
 *
 * A fish in a basin has no number any more. So where fish must change sides nobody can say which:
 * so many are picked out by eye, the best or the worst of them. Only a tag finds a certain fish.
 *
 * What lies in a basin is what was put there when it was judged, and what a closer look (report/
 * closer_look.h) has carried from basin to basin since: nobody else says what he moved. */
#ifndef SENBETSU_REPORT_BASINS_H
#define SENBETSU_REPORT_BASINS_H

#include "senbetsu/report/cull_list.h"

/* A basin is named by the verdict with which fish were put into it; VERDICT_OPEN = fish that are
 * judged and in no basin yet. */
struct basin {
    int fish;               /* that lie in it, those that a closer look has picked among them */
    int out[VERDICT_COUNT]; /* to be picked out by eye and put where the verdict says;
                               VERDICT_OPEN = to be judged again */
    int by_tag;             /* with a tag, to be found by it and put elsewhere */
};

struct basins {
    struct basin of[VERDICT_COUNT];
    int after[VERDICT_COUNT]; /* fish in each when all that is done: as many as the round has of
                                 this verdict, those that a closer look picked among the kept */
};

/* The places that a tie leaves open are filled: tied fish that lie in the keep basin stay there as
 * far as there are places, then the best of the hold basin come. */
struct basins basins_of(const struct cull_round *round);

/* Fish that are picked out of it by eye. */
int basin_picked(const struct basin *basin);

/* Does the fish lie in another basin than its verdict's, or in none though it has a verdict? */
bool basin_is_wrong(const struct fish_row *fish);

#endif
