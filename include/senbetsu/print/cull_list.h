/* The evening's list for the person who goes back to the bowls. */
#ifndef SENBETSU_PRINT_CULL_LIST_H
#define SENBETSU_PRINT_CULL_LIST_H

#include "senbetsu/print/fish_row.h"
#include "senbetsu/print/page.h"

/* A bowl of a round; fish that were expected and never judged are named as such. */
struct cull_bowl {
    int number;
    int expected; /* 0 = not known */
};

struct cull_round {
    char spawning[CODE_SIZE];
    char variety[CODE_SIZE];
    char lot[CODE_SIZE];
    enum stage stage;
    enum waiting waiting;
    enum fate fate;
    char basis[256]; /* what decided: "pass of 2026-11-05 16:20, kikusui-harvest version 1, 20
                        places" */
    const struct cull_bowl *bowls; /* by number */
    size_t bowl_count;
    const struct fish_row *fish; /* by bowl and number, keeps included */
    size_t fish_count;
};

struct cull_list {
    char title[128]; /* "2026-11-05", or "K26-1, harvest" */
    char printed[32];
    const struct cull_round *rounds;
    size_t round_count;
};

/* Per round and bowl: the numbers to take out, then those to look at again, then those not judged,
 * each with its reason and a tick box; counts per bowl and in all; the fate of each group; a place
 * for who did it and when; the cautions. */
void cull_list_print(const struct cull_list *list, struct page_setup setup, struct text *out);

/* bowl,fish,verdict,reason,fate,spawning,lot,stage — rejects, holds and open fish, no keeps. */
void cull_list_csv(const struct cull_list *list, struct text *out);

#endif
