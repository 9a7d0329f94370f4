/* Rounds of an invented farm for the tests of lists. */
#ifndef SENBETSU_TESTS_CULL_SAMPLE_H
#define SENBETSU_TESTS_CULL_SAMPLE_H

#include "senbetsu/print/cull_list.h"

#include <stdio.h>

static inline struct fish_row sample_fish(int bowl, int number, enum verdict verdict,
                                          const char *reason, const char *label)
{
    struct fish_row fish = {.bowl = bowl, .number = number, .verdict = verdict, .sent = verdict};
    text_copy(fish.reason, sizeof fish.reason, reason);
    text_copy(fish.reason_label, sizeof fish.reason_label, label);
    return fish;
}

static inline struct cull_round sample_round(struct bowl *bowls, size_t bowl_count,
                                             struct fish_row *fish, size_t fish_count)
{
    struct cull_round round = {
        .spawning = "K26-1",
        .variety = "Kikusui",
        .lot = "K26-1",
        .stage = STAGE_HARVEST,
        .waiting = WAITING_CELL,
        .pond = "North 3",
        .first_day = "2026-11-04",
        .last_day = "2026-11-05",
        .judges = "Aoki, Ines",
        .standard = "kikusui-harvest version 1: keep from 65, hold from 55",
        .places = 20,
        .passed = "2026-11-05 16:20",
        .bowls = bowls,
        .bowl_count = bowl_count,
        .fish = fish,
        .fish_count = fish_count,
    };
    for (size_t i = 0; i < fish_count; i++)
        if (fish[i].since_pass)
            snprintf(round.outdated, sizeof round.outdated, "1 fish judged since");
    return round;
}

#endif
