#include "senbetsu/stats/kinship.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>

enum { NO_ROW = -1 };

/* A walk from the fish wanted up to the last ancestors, each fish numbered after its parents. */
enum state { NOT_SEEN, ON_THE_WAY, NUMBERED };

struct walk {
    struct kinship *kinship;
    enum state *states;
    int *way; /* from a fish wanted to the ancestor just reached */
    int length;
};

/* A parent that has yet to be numbered, one that is on the way itself included. */
static int next_parent(const struct walk *walk, int fish)
{
    const struct pedigree_fish *of = &walk->kinship->pedigree[fish];
    if (of->dam != UNKNOWN_PARENT && walk->states[of->dam] != NUMBERED)
        return of->dam;
    if (of->sire != UNKNOWN_PARENT && walk->states[of->sire] != NUMBERED)
        return of->sire;
    return UNKNOWN_PARENT;
}

static void go_up(struct walk *walk, int fish)
{
    walk->states[fish] = ON_THE_WAY;
    walk->way[walk->length++] = fish;
}

static void number_last(struct walk *walk)
{
    struct kinship *kinship = walk->kinship;
    int fish = walk->way[--walk->length];
    walk->states[fish] = NUMBERED;
    kinship->rows[fish] = kinship->count;
    kinship->fish[kinship->count++] = fish;
}

static bool refuse_loop(const struct walk *walk, int met, struct err *err)
{
    const struct pedigree_fish *pedigree = walk->kinship->pedigree;
    struct text loop;
    int first = walk->length - 1;
    while (walk->way[first] != met)
        first--;
    text_init(&loop);
    for (int i = first; i < walk->length; i++) {
        int parent = i + 1 < walk->length ? walk->way[i + 1] : met;
        text_addf(&loop, "%s%s from %s", i > first ? ", " : "", pedigree[walk->way[i]].code,
                  pedigree[parent].code);
    }
    err_set(err, ERR_INPUT, "A dam or sire must be wrong, for %s is its own ancestor: %s.",
            pedigree[met].code, loop.data);
    text_done(&loop);
    return false;
}

static bool walk_from(struct walk *walk, int fish, struct err *err)
{
    if (walk->states[fish] == NUMBERED)
        return true;
    go_up(walk, fish);
    while (walk->length > 0) {
        int parent = next_parent(walk, walk->way[walk->length - 1]);
        if (parent == UNKNOWN_PARENT)
            number_last(walk);
        else if (walk->states[parent] == ON_THE_WAY)
            return refuse_loop(walk, parent, err);
        else
            go_up(walk, parent);
    }
    return true;
}

static bool number_fish(struct kinship *kinship, int count, const int *wanted, int wanted_count,
                        struct err *err)
{
    struct walk walk = {.kinship = kinship,
                        .states = alloc_zeroed((size_t)count, sizeof *walk.states),
                        .way = alloc_zeroed((size_t)count, sizeof *walk.way)};
    bool fine = true;
    kinship->fish = alloc_zeroed((size_t)count, sizeof *kinship->fish);
    kinship->rows = alloc_zeroed((size_t)count, sizeof *kinship->rows);
    for (int i = 0; i < count; i++)
        kinship->rows[i] = NO_ROW;
    for (int i = 0; fine && i < (wanted == NULL ? count : wanted_count); i++)
        fine = walk_from(&walk, wanted == NULL ? i : wanted[i], err);
    free(walk.states);
    free(walk.way);
    return fine;
}

static double *new_triangle(int count)
{
    return alloc_zeroed((size_t)count * (size_t)(count + 1) / 2, sizeof(double));
}

static double *cell(double *triangle, int x, int y)
{
    size_t row = (size_t)(x > y ? x : y);
    size_t column = (size_t)(x > y ? y : x);
    return &triangle[row * (row + 1) / 2 + column];
}

static double value(const struct kinship *kinship, int x, int y)
{
    return x == NO_ROW || y == NO_ROW ? 0 : *cell(kinship->table, x, y);
}

static int row_of(const struct kinship *kinship, int fish)
{
    return fish == UNKNOWN_PARENT ? NO_ROW : kinship->rows[fish];
}

static void find_parents(const struct kinship *kinship, int row, int ret_rows[2])
{
    const struct pedigree_fish *fish = &kinship->pedigree[kinship->fish[row]];
    ret_rows[0] = row_of(kinship, fish->dam);
    ret_rows[1] = row_of(kinship, fish->sire);
}

/* A fish is as near to an earlier one as its parents are on average. */
static void fill_row(const struct kinship *kinship, int row)
{
    int parents[2];
    find_parents(kinship, row, parents);
    for (int earlier = 0; earlier < row; earlier++)
        *cell(kinship->table, row, earlier) =
            (value(kinship, parents[0], earlier) + value(kinship, parents[1], earlier)) / 2;
    *cell(kinship->table, row, row) = (1 + value(kinship, parents[0], parents[1])) / 2;
}

bool kinship_make(const struct pedigree_fish *pedigree, int count, const int *wanted,
                  int wanted_count, struct kinship *ret, struct err *err)
{
    struct kinship kinship = {.pedigree = pedigree};
    bool fine = number_fish(&kinship, count, wanted, wanted_count, err);
    if (fine && kinship.count > KINSHIP_MOST)
        fine = err_set(err, ERR_INPUT,
                       "Kinship is worked out for at most %d fish at once, and these are %d with "
                       "their ancestors.",
                       KINSHIP_MOST, kinship.count);
    if (!fine) {
        kinship_done(&kinship);
        return false;
    }
    kinship.table = new_triangle(kinship.count);
    for (int row = 0; row < kinship.count; row++)
        fill_row(&kinship, row);
    *ret = kinship;
    return true;
}

void kinship_done(struct kinship *kinship)
{
    free(kinship->fish);
    free(kinship->rows);
    free(kinship->table);
}

double kinship_between(const struct kinship *kinship, int a, int b)
{
    return value(kinship, kinship->rows[a], kinship->rows[b]);
}

double kinship_inbreeding(const struct kinship *kinship, int fish)
{
    return 2 * kinship_between(kinship, fish, fish) - 1;
}

static void go_on(const struct kinship *kinship, double *lines, int row, double step)
{
    int parents[2];
    find_parents(kinship, row, parents);
    for (int other = 0; other < row; other++) {
        double weight = step * *cell(lines, row, other);
        for (int i = 0; weight > 0 && i < 2; i++)
            if (parents[i] != NO_ROW)
                *cell(lines, parents[i], other) += weight;
    }
}

/* The table's rule the other way about: two lines start at `a` and `b`, and the one that stands
 * later in the table goes up to both parents, its weight times `step` each, until they meet. Going
 * up from the later one, no two lines pass through the same fish without meeting there. Gives the
 * weight that meets in each row. */
static double *meet(const struct kinship *kinship, int a, int b, double step)
{
    double *met = alloc_zeroed((size_t)kinship->count, sizeof *met);
    double *lines = new_triangle(kinship->count);
    *cell(lines, kinship->rows[a], kinship->rows[b]) = 1;
    for (int row = kinship->count - 1; row >= 0; row--) {
        go_on(kinship, lines, row, step);
        met[row] = *cell(lines, row, row);
    }
    free(lines);
    return met;
}

/* Of each row: fewest generations from `fish` up to it; -1 = it is no ancestor. */
static int *generations_above(const struct kinship *kinship, int fish)
{
    int *above = alloc_zeroed((size_t)kinship->count, sizeof *above);
    for (int row = 0; row < kinship->count; row++)
        above[row] = kinship->fish[row] == fish ? 0 : -1;
    for (int row = kinship->count - 1; row >= 0; row--) {
        int parents[2];
        find_parents(kinship, row, parents);
        for (int i = 0; i < 2; i++)
            if (above[row] >= 0 && parents[i] != NO_ROW &&
                (above[parents[i]] < 0 || above[parents[i]] > above[row] + 1))
                above[parents[i]] = above[row] + 1;
    }
    return above;
}

static int compare_ancestors(const void *left, const void *right)
{
    const struct common_ancestor *a = left;
    const struct common_ancestor *b = right;
    return a->part != b->part ? (a->part < b->part) - (a->part > b->part)
                              : (a->fish > b->fish) - (a->fish < b->fish);
}

void common_ancestors(const struct kinship *kinship, int a, int b, struct common_ancestor **ret,
                      size_t *ret_count)
{
    double *weights = meet(kinship, a, b, 0.5);
    double *paths = meet(kinship, a, b, 1);
    int *above_a = generations_above(kinship, a);
    int *above_b = generations_above(kinship, b);
    struct common_ancestor *ancestors = alloc_zeroed((size_t)kinship->count, sizeof *ancestors);
    size_t count = 0;
    for (int row = 0; row < kinship->count; row++)
        if (weights[row] > 0)
            ancestors[count++] =
                (struct common_ancestor){.fish = kinship->fish[row],
                                         .above_a = above_a[row],
                                         .above_b = above_b[row],
                                         .paths = paths[row],
                                         .part = weights[row] * value(kinship, row, row)};
    qsort(ancestors, count, sizeof *ancestors, compare_ancestors);
    free(weights);
    free(paths);
    free(above_a);
    free(above_b);
    *ret = ancestors;
    *ret_count = count;
}
