/* A small invented farm in a ledger of its own, in a folder of its own. */
#ifndef SENBETSU_TESTS_STORE_BENCH_H
#define SENBETSU_TESTS_STORE_BENCH_H

#include "senbetsu/store/fish.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"
#include "support/test.h"

struct bench {
    char folder[64];
    char path[96];
    int64_t now;      /* what the clock says */
    int64_t standard; /* id of the version of bench_standard() */
    struct ledger *ledger;
    struct err err;
};

/* For cmocka's set-up and tear-down: `*state` is the bench, empty, or with an open ledger that is
 * stocked. */
int bench_set_up(void **state);
int bench_set_up_stocked(void **state);
int bench_tear_down(void **state);

#define on_empty_bench(test) cmocka_unit_test_setup_teardown(test, bench_set_up, bench_tear_down)
#define on_stocked_bench(test)                                                                     \
    cmocka_unit_test_setup_teardown(test, bench_set_up_stocked, bench_tear_down)

/* A new, empty folder; no ledger yet. */
void bench_init(struct bench *bench);
void bench_done(struct bench *bench); /* closes the ledger and takes the folder away */

/* "FOLDER/name", in a buffer that the next call but three overwrites. */
const char *bench_file(const struct bench *bench, const char *name);

/* The set-up of the ledger at `path`; every seed gives another station. */
struct ledger_setup bench_setup(struct bench *bench, const char *path, int seed);

/* Opens the farm's ledger, making it where there is none. */
void bench_open(struct bench *bench);
void bench_close(struct bench *bench);

/* Dam D1, sires S1 and S2, spawning K1 of 2026 (Kikusui), and a standard for its second stage. */
void bench_stock(struct bench *bench);
const struct standard *bench_standard(void);

/* The round K1/second and its bowl of this number. */
struct round bench_round(struct bench *bench);
struct bowl bench_bowl(struct bench *bench, int number);

/* The fish of this number in that bowl. */
int64_t bench_fish(struct bench *bench, int bowl, int number);

/* One stroke of one entry on a fish of a bowl, with the verdict it leads to. Returns its id. */
int64_t bench_stroke(struct bench *bench, int64_t fish, int look, struct entry entry);
struct entry bench_score(const char *aspect, int score);
struct entry bench_fault(const char *fault, int seen);
struct entry bench_close_entry(enum verdict verdict);

/* The one number that a statement gives, through a connection of its own. */
int64_t bench_ask(const struct bench *bench, const char *sql);
void bench_do(const struct bench *bench, const char *sql);

/* Bytes of a file; the caller frees them. */
char *bench_bytes(const char *path, size_t *ret_size);
void bench_write(const char *path, const void *bytes, size_t size);
bool bench_exists(const char *path);

/* Closes three fish of the first bowl of a stocked ledger. */
void bench_judge_some(struct bench *bench);

/* Opens the ledger at `path`, which must be there. */
void bench_open_copy(struct bench *bench, const char *path, struct ledger **ret);

/* How many fish the stocked round has in that ledger. */
size_t bench_count_fish(struct bench *bench, struct ledger *ledger);

#endif
