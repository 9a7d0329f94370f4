/* What is usual in the trade: the shares of fish kept in a cull, and the age at which it is due.
 * Hints to look twice and to plan by, never rules. */
#ifndef SENBETSU_CORE_USUAL_H
#define SENBETSU_CORE_USUAL_H

#include "senbetsu/core/terms.h"

enum evidence {
    EVIDENCE_DERIVED, /* worked out from what several keepers have published of their culls */
    EVIDENCE_WEAK,    /* worked out from very little */
    EVIDENCE_COUNT
};

/* The word for people: "derived from published accounts", … */
extern const struct term evidence_terms[EVIDENCE_COUNT];

struct typical {
    const char *group; /* of varieties: "metallic" */
    enum stage stage;
    int lowest, highest; /* per cent of the fish that go in */
    enum evidence evidence;
};

/* What is usual for a variety at a stage; a variety named Doitsu is held against its scaled form.
 * NULL where nothing is known. Letter case does not matter. Equal groups give the same pointer. */
const struct typical *typical_keep(const char *variety, enum stage stage);

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
