/* Standards and their versions. A version never changes. */
#ifndef SENBETSU_STORE_STANDARDS_H
#define SENBETSU_STORE_STANDARDS_H

#include "senbetsu/core/standard.h"
#include "senbetsu/store/ledger.h"

/* Where a version came from. A shipped one gives way to any of the breeder's own that serves the
 * same variety and stage. */
enum origin { ORIGIN_SHIPPED, ORIGIN_IMPORTED, ORIGIN_PASS_SCREEN };

struct standard_version {
    int64_t id;
    int version; /* 1, 2, … of this name */
    enum origin origin;
    struct standard standard;
};

/* A new version where the content differs from the latest of this name (SAVED_SAME otherwise). */
bool standard_save(struct ledger *ledger, const struct standard *standard, enum origin origin,
                   struct standard_version *ret, enum saved *ret_saved, struct err *err);

/* The latest version of a name, or a certain version by id. ERR_ABSENT. */
bool standard_named(struct ledger *ledger, const char *name, struct standard_version *ret,
                    struct err *err);
bool standard_version_get(struct ledger *ledger, int64_t id, struct standard_version *ret,
                          struct err *err);

/* The standard for a variety and stage: the breeder's own before shipped ones, among several the
 * one saved last. ERR_ABSENT names variety and stage. */
bool standard_for(struct ledger *ledger, const char *variety, enum stage stage,
                  struct standard_version *ret, struct err *err);

/* Latest versions, by name. */
bool standard_list(struct ledger *ledger, struct standard_version **ret, size_t *ret_count,
                   struct err *err);

#endif
