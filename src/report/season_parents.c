#include "senbetsu/report/season_parents.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/code.h"
#include "senbetsu/stats/effective.h"

#include <stdlib.h>
#include <string.h>

/* The dams or the sires of a season, each once, and the fish credited to each. */
struct credits {
    char (*codes)[CODE_SIZE];
    double *fish;
    size_t count, code_capacity, fish_capacity;
};

static void credit(struct credits *credits, const char *code, double fish)
{
    size_t at = 0;
    while (at < credits->count && strcmp(credits->codes[at], code) != 0)
        at++;
    if (at == credits->count) {
        credits->codes =
            alloc_room(credits->codes, at, &credits->code_capacity, sizeof *credits->codes);
        credits->fish =
            alloc_room(credits->fish, at, &credits->fish_capacity, sizeof *credits->fish);
        text_copy(credits->codes[at], CODE_SIZE, code);
        credits->fish[at] = 0;
        credits->count++;
    }
    credits->fish[at] += fish;
}

static int count_codes(const char *list)
{
    int count = 1;
    for (; *list != '\0'; list++)
        count += *list == ';';
    return count;
}

static void credit_spawning(const struct parentage *spawning, struct credits *dams,
                            struct credits *sires)
{
    double fish = spawning->kept == NOT_COUNTED ? 0 : (double)spawning->kept;
    double share = fish / count_codes(spawning->sires);
    const char *left = spawning->sires;
    char sire[CODE_SIZE];
    credit(dams, spawning->dam, fish);
    while (code_next(&left, sire))
        credit(sires, sire, share);
}

static double number_by_fish(const struct credits *credits)
{
    return effective_number(credits->fish, (int)credits->count);
}

static void credits_done(struct credits *credits)
{
    free(credits->codes);
    free(credits->fish);
}

struct season_parents season_parents_sum(const struct parentage *spawnings, size_t count)
{
    struct season_parents parents = {0};
    struct credits dams = {0};
    struct credits sires = {0};
    bool counted = true;
    for (size_t i = 0; i < count; i++) {
        if (spawnings[i].dam[0] == '\0' || spawnings[i].sires[0] == '\0') {
            parents.left_out++;
            continue;
        }
        credit_spawning(&spawnings[i], &dams, &sires);
        counted = counted && spawnings[i].kept != NOT_COUNTED;
    }
    parents.dams = dams.count;
    parents.sires = sires.count;
    parents.effective = effective_parents((double)dams.count, (double)sires.count);
    if (counted)
        parents.effective_by_fish =
            effective_parents(number_by_fish(&dams), number_by_fish(&sires));
    credits_done(&dams);
    credits_done(&sires);
    return parents;
}
