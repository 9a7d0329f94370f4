/* When a cull is usually due: a hint for planning, never a rule. */
#ifndef SENBETSU_CORE_USUAL_AGE_H
#define SENBETSU_CORE_USUAL_AGE_H

#include "senbetsu/core/typical.h"

/* From spawning to hatching in water of about 20 degrees; common practice. */
enum { DAYS_TO_HATCH = 5 };

struct usual_age {
    int first_day, last_day; /* after hatching */
    enum evidence evidence;
};

/* NULL for a cull that has no usual age: a fourth is made where it is wanted, and black fry are
 * chosen of black-ground varieties only. */
const struct usual_age *usual_age(const char *variety, enum stage stage);

#endif
