/* Fish that can be followed from cull to cull: what each cull kept, and how many of them were still
 * there at the next one. */
#ifndef REPORT_COHORT_H
#define REPORT_COHORT_H

#include "senbetsu/report/rounds.h"
#include "senbetsu/stats/rate.h"
#include "senbetsu/store/lot_events.h"
#include "senbetsu/store/lot_origins.h"
#include "senbetsu/store/round_counts.h"

/* All rounds of one stage that are counted together. */
struct rate_cell {
    int rounds;       /* of which both numbers are known */
    enum stage after; /* the stage before; STAGE_COUNT = those that hatched */
    struct cull cull;
    int64_t before, alive; /* fish that the stage before kept, and those of them that were there;
                              before 0 = it cannot be told */
};

/* What happened between a cull and the next one. */
struct rate_gap {
    int64_t kept; /* what its rounds kept, NOT_COUNTED = one of them does not say */
    int64_t came; /* fish put in from other units, less those put into them */
    int64_t dead;
    bool culled;    /* by a round of the unit itself */
    bool in_unsaid; /* one of its rounds does not say what went in in all */
    bool unclear;   /* nobody knows how many came */
};

/* A lot, or all lots of a spawning. */
struct rate_unit {
    unsigned stages;    /* bits of the stages in `cells` */
    unsigned inherited; /* of those that its fish went through in other units */
    bool mixed;
    bool scattered; /* fish came or went on elsewhere, and nobody said how many */
    int64_t hatched;
    struct rate_cell cells[STAGE_COUNT];
    struct rate_gap gaps[STAGE_COUNT + 1]; /* after each stage; the last one is before any */
};

struct rate_units {
    struct rate_unit *list; /* as many as lots */
    int *of;                /* the unit of each lot */
};

/* `together`: the lots of a spawning are one unit where no transfer says which fish went where; the
 * fish of a transfer are followed in any case. Lots by lot_id, events in order. */
void rate_units_init(struct rate_units *units, bool together, const struct lot_origin *lots,
                     size_t lot_count, const struct cull_numbers *rounds, size_t round_count,
                     const struct lot_event *events, size_t event_count);
void rate_units_done(struct rate_units *units);

/* Adds the rounds of one cell to another's; what is alive only where it is after the same stage. */
void rate_cell_add(struct rate_cell *sum, const struct rate_cell *cell);

#endif
