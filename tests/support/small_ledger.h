/* A ledger of its own for a test: one spawning, one standard, one round, one bowl of five. */
#ifndef SENBETSU_TESTS_SUPPORT_SMALL_LEDGER_H
#define SENBETSU_TESTS_SUPPORT_SMALL_LEDGER_H

#include "senbetsu/store/judges.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"
#include "senbetsu/store/varieties.h"
#include "support/test.h"
#include <unistd.h>

struct small_ledger {
    char folder[64], path[96];
    int64_t now; /* the ledger's clock */
    struct ledger *ledger;
    struct standard_version standard;
    struct round round;
    struct bowl bowl;
    int64_t judge;
};

static const char small_standard[] = "[standard]\n"
                                     "name = plain-first\n"
                                     "variety = Plain\n"
                                     "stage = first\n"
                                     "scale = 1-5\n"
                                     "typical = 3\n"
                                     "keep_at = 65\n"
                                     "hold_at = 55\n"
                                     "[aspect body]\n"
                                     "label = Body line\n"
                                     "weight = 2\n"
                                     "[aspect white]\n"
                                     "label = White ground\n"
                                     "weight = 1\n"
                                     "[fault spine]\n"
                                     "label = Bent spine\n"
                                     "effect = reject\n"
                                     "[fault eye]\n"
                                     "label = Colour over the eye\n"
                                     "effect = hold\n";

static inline struct ledger *small_ledger_open(struct small_ledger *small)
{
    struct ledger *ledger = NULL;
    struct err err;
    bool made;
    struct ledger_setup setup = {.path = small->path,
                                 .create = true,
                                 .clock = clock_fixed(&small->now),
                                 .station = "pond house",
                                 .seed = {1, 2, 3}};
    assert_ok(ledger_open(&setup, &ledger, &made, &err), &err);
    return ledger;
}

static inline void small_ledger_fill(struct small_ledger *small)
{
    struct err err;
    enum saved saved;
    struct standard standard;
    struct variety plain = {.name = "Plain"};
    struct spawning spawning = {.code = "K1",
                                .season = 2026,
                                .date = "2026-06-14",
                                .variety = "Plain",
                                .eggs = NOT_COUNTED,
                                .hatched = NOT_COUNTED};
    assert_ok(standard_parse(small_standard, sizeof small_standard - 1, "plain", &standard, &err),
              &err);
    assert_ok(
        standard_save(small->ledger, &standard, ORIGIN_IMPORTED, &small->standard, &saved, &err),
        &err);
    assert_ok(variety_save(small->ledger, &plain, 0, "", &saved, &err), &err);
    assert_ok(spawning_save(small->ledger, &spawning, 0, "", &saved, &err), &err);
    assert_ok(round_begin(small->ledger, "K1", "", STAGE_FIRST, &small->round, &err), &err);
    assert_ok(bowl_begin(small->ledger, small->round.id, 1, 5, "2026-07-18", &small->bowl, &err),
              &err);
    assert_ok(judge_named(small->ledger, "Ines", &small->judge, &err), &err);
}

/* cmocka's set-up and tear-down: `*state` is the small ledger. */
static inline int small_ledger_setup(void **state)
{
    struct small_ledger *small = calloc(1, sizeof *small);
    const char *folder = getenv("TMPDIR");
    snprintf(small->folder, sizeof small->folder, "%.40s/senbetsu-XXXXXX",
             folder != NULL && folder[0] != '\0' ? folder : "/tmp");
    if (mkdtemp(small->folder) == NULL)
        return -1;
    snprintf(small->path, sizeof small->path, "%s/ledger.db", small->folder);
    small->now = 1784376000000; /* 2026-07-18 12:00 UTC */
    small->ledger = small_ledger_open(small);
    small_ledger_fill(small);
    *state = small;
    return 0;
}

/* The file, what lies beside it, and their folder. */
static inline void small_ledger_remove(const struct small_ledger *small)
{
    char acknowledged[sizeof small->path + 16];
    snprintf(acknowledged, sizeof acknowledged, "%s-acknowledged", small->path);
    unlink(acknowledged);
    unlink(small->path);
    rmdir(small->folder);
}

static inline int small_ledger_teardown(void **state)
{
    struct small_ledger *small = *state;
    ledger_close(small->ledger);
    small_ledger_remove(small);
    free(small);
    return 0;
}

#endif
