/* The shares of fish that are usually kept in a cull: a hint to look twice, never a rule. */
#ifndef SENBETSU_CORE_TYPICAL_H
#define SENBETSU_CORE_TYPICAL_H

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

#endif
