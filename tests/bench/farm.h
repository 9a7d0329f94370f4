/* Invented farms of any size, the same every time. */
#ifndef SENBETSU_TESTS_BENCH_FARM_H
#define SENBETSU_TESTS_BENCH_FARM_H

#include "bench.h"

enum { FISH_PER_BOWL = 100, FISH_PER_ROUND = 10000 };

/* Judged fish of eleven aspects, in rounds of so many, one for each of the spawnings B1, B2, … of
 * 2025; and the file they are imported from. */
struct fish_farm {
    int64_t fish, per_round;
    char ledger[4096], csv[4096];
};

/* Each is made where it is not there yet. */
struct fish_farm farm_of_fish(const struct bench *bench, int64_t fish, int64_t per_round);
/* The same before its fish are imported, in a new ledger each time. */
struct fish_farm farm_to_be(const struct bench *bench, int64_t fish, int64_t per_round);

/* A farm without fish whose B1 has a second cull that is tallied. */
struct fish_farm farm_of_tally(const struct bench *bench);

/* A file of the shell's with the same fish as bare rows of numbers: table fish. */
const char *farm_bare_rows(const struct bench *bench, const struct fish_farm *farm, char ret[4096]);

/* SELECT …: the fish of a round of such rows, weighed and ranked. */
extern const char farm_rank_sql[];

/* Seasons up to 2025 of so many spawnings each, with five culls each and no single fish, of a
 * hundred pairs; and the file of its culls. */
struct season_farm {
    char ledger[4096], rounds[4096];
};
struct season_farm farm_of_seasons(const struct bench *bench, int seasons, int spawnings);

#endif
