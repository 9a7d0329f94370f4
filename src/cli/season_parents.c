#include "senbetsu/cli/season_parents.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/stats/effective.h"

#include <stdlib.h>
#include <string.h>

/* The dams or the sires of a season, each once, and the fish credited to each. */
struct credits {
    struct name {
        const char *code;
        size_t length;
    } * names;
    double *fish;
    size_t count, name_capacity, fish_capacity;
};

static void credit(struct credits *credits, struct name name, double fish)
{
    size_t at = 0;
    while (at < credits->count && (credits->names[at].length != name.length ||
                                   memcmp(credits->names[at].code, name.code, name.length) != 0))
        at++;
    if (at == credits->count) {
        credits->names =
            alloc_room(credits->names, at, &credits->name_capacity, sizeof *credits->names);
        credits->fish =
            alloc_room(credits->fish, at, &credits->fish_capacity, sizeof *credits->fish);
        credits->names[at] = name;
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
    credit(dams, (struct name){spawning->dam, strlen(spawning->dam)}, fish);
    for (const char *at = spawning->sires; *at != '\0';) {
        size_t length = strcspn(at, ";");
        credit(sires, (struct name){at, length}, share);
        at += length + (at[length] == ';');
    }
}

static double number_by_fish(const struct credits *credits)
{
    return effective_number(credits->fish, (int)credits->count);
}

static void credits_done(struct credits *credits)
{
    free(credits->names);
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
