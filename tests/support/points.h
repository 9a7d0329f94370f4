/* Of the points that a test goes through, such as each call that may fail or each page that may be
 * wrong, every one is tried in gcc's build. A sanitised one, whose processes take many times as
 * long to start and to fork, tries one in so many (tests/meson.build): wrong addresses are of the
 * code that runs after a fault, and that is the same at nearly all points. */
#ifndef SENBETSU_TESTS_SUPPORT_POINTS_H
#define SENBETSU_TESTS_SUPPORT_POINTS_H

#include <stdlib.h>

static inline int one_point_in(void)
{
    const char *number = getenv("SENBETSU_ONE_POINT_IN");
    int one_in = number != NULL ? atoi(number) : 1;
    return one_in > 0 ? one_in : 1;
}

#endif
