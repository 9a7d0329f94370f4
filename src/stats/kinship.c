/* The table is filled parents first: the fish are numbered on a depth-first way up the pedigree, so
 * that every row needs only rows above it. Only the fish wanted and their ancestors are in it. */
#include "senbetsu/stats/kinship.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>

enum { NO_ROW = -1 };

/* A depth-first search up from the fish wanted; each fish is numbered after its parents. */
enum state { NOT_SEEN, ON_PATH, NUMBERED };

struct search {
    struct kinship *kinship;
    enum state *states;
    int *path; /* from a fish wanted to the ancestor just reached */
    int length;
};

/* A parent that has yet to be numbered, one that is on the path itself included. */
static int next_parent(const struct search *search, int fish)
{
    const struct pedigree_fish *of = &search->kinship->pedigree[fish];
    if (of->dam != UNKNOWN_PARENT && search->states[of->dam] != NUMBERED)
        return of->dam;
    if (of->sire != UNKNOWN_PARENT && search->states[of->sire] != NUMBERED)
        return of->sire;
    return UNKNOWN_PARENT;
}

static bool refuse_loop(const struct search *search, int met, struct err *err)
{
    const struct pedigree_fish *pedigree = search->kinship->pedigree;
    struct text loop;
    int first = search->length - 1;
    while (search->path[first] != met)
        first--;
    text_init(&loop);
    for (int i = first; i < search->length; i++) {
        int parent = i + 1 < search->length ? search->path[i + 1] : met;
        text_addf(&loop, "%s%s from %s", i > first ? ", " : "", pedigree[search->path[i]].code,
                  pedigree[parent].code);
    }
    err_set(err, ERR_INPUT,
            "A dam or sire is wrong, since %s is its own ancestor; correct one of these: %s.",
            pedigree[met].code, loop.data);
    text_done(&loop);
    return false;
}

static bool number_from(struct search *search, int fish, struct err *err)
{
    struct kinship *kinship = search->kinship;
    if (search->states[fish] == NUMBERED)
        return true;
    search->path[search->length++] = fish;
    while (search->length > 0) {
        int last = search->path[search->length - 1];
        search->states[last] = ON_PATH;
        int parent = next_parent(search, last);
        if (parent == UNKNOWN_PARENT) {
            search->length--;
            search->states[last] = NUMBERED;
            kinship->rows[last] = kinship->count;
            kinship->fish[kinship->count++] = last;
        } else if (search->states[parent] == ON_PATH) {
            return refuse_loop(search, parent, err);
        } else {
            search->path[search->length++] = parent;
        }
    }
    return true;
}

static bool number_fish(struct kinship *kinship, int count, const int *wanted, int wanted_count,
                        struct err *err)
{
    struct search search = {.kinship = kinship,
                            .states = alloc_zeroed((size_t)count, sizeof *search.states),
                            .path = alloc_zeroed((size_t)count, sizeof *search.path)};
    bool fine = true;
    kinship->fish = alloc_zeroed((size_t)count, sizeof *kinship->fish);
    kinship->rows = alloc_zeroed((size_t)count, sizeof *kinship->rows);
    for (int i = 0; i < count; i++)
        kinship->rows[i] = NO_ROW;
    for (int i = 0; fine && i < (wanted == NULL ? count : wanted_count); i++)
        fine = number_from(&search, wanted == NULL ? i : wanted[i], err);
    free(search.states);
    free(search.path);
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

static void climb(const struct kinship *kinship, double *lines, int row, double step)
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
        climb(kinship, lines, row, step);
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

const struct kinship_name_row kinship_names[KIN_COUNT] = {
    [KIN_SAME] = {"one and the same fish", 1.0 / 2},
    [KIN_PARENT] = {"parent and offspring", 1.0 / 4},
    [KIN_FULL_SIBS] = {"full sibs", 1.0 / 4},
    [KIN_HALF_SIBS] = {"half sibs", 1.0 / 8},
    [KIN_GRANDPARENT] = {"grandparent and grandchild", 1.0 / 8},
    [KIN_UNCLE] = {"a fish and the offspring of its full sib", 1.0 / 8},
    [KIN_DOUBLE_COUSINS] = {"double first cousins", 1.0 / 8},
    [KIN_GREAT_GRANDPARENT] = {"great-grandparent and great-grandchild", 1.0 / 16},
    [KIN_HALF_UNCLE] = {"a fish and the offspring of its half sib", 1.0 / 16},
    [KIN_COUSINS] = {"first cousins", 1.0 / 16},
    [KIN_HALF_COUSINS] = {"half first cousins", 1.0 / 32},
    [KIN_DISTANT] = {"more distantly related", 0},
    [KIN_NONE] = {"not related as far as the pedigree goes", 0},
};

enum sibship { NO_SIBS, HALF_SIBS, FULL_SIBS };

static enum sibship sibship(const struct pedigree_fish *pedigree, int a, int b)
{
    if (a == UNKNOWN_PARENT || b == UNKNOWN_PARENT || a == b)
        return NO_SIBS;
    const struct pedigree_fish *x = &pedigree[a];
    const struct pedigree_fish *y = &pedigree[b];
    int shared = (x->dam != UNKNOWN_PARENT && x->dam == y->dam) +
                 (x->sire != UNKNOWN_PARENT && x->sire == y->sire);
    return shared == 2 ? FULL_SIBS : shared == 1 ? HALF_SIBS : NO_SIBS;
}

static bool is_ancestor(const struct pedigree_fish *pedigree, int old, int young, int generations)
{
    if (young == UNKNOWN_PARENT)
        return false;
    if (generations == 0)
        return old == young;
    return is_ancestor(pedigree, old, pedigree[young].dam, generations - 1) ||
           is_ancestor(pedigree, old, pedigree[young].sire, generations - 1);
}

static bool in_line(const struct pedigree_fish *pedigree, int a, int b, int generations)
{
    return is_ancestor(pedigree, a, b, generations) || is_ancestor(pedigree, b, a, generations);
}

static enum sibship nearer(enum sibship a, enum sibship b)
{
    return a > b ? a : b;
}

/* The nearest between `fish` and a parent of `young`. */
static enum sibship with_parent(const struct pedigree_fish *pedigree, int fish, int young)
{
    if (young == UNKNOWN_PARENT)
        return NO_SIBS;
    return nearer(sibship(pedigree, fish, pedigree[young].dam),
                  sibship(pedigree, fish, pedigree[young].sire));
}

static enum sibship uncle(const struct pedigree_fish *pedigree, int a, int b)
{
    return nearer(with_parent(pedigree, a, b), with_parent(pedigree, b, a));
}

static enum sibship cousins(const struct pedigree_fish *pedigree, int a, int b)
{
    return nearer(with_parent(pedigree, pedigree[a].dam, b),
                  with_parent(pedigree, pedigree[a].sire, b));
}

/* Both parents of one are full sibs of a parent of the other, each of another one. */
static bool double_cousins(const struct pedigree_fish *pedigree, int a, int b)
{
    const struct pedigree_fish *x = &pedigree[a];
    const struct pedigree_fish *y = &pedigree[b];
    return (sibship(pedigree, x->dam, y->dam) == FULL_SIBS &&
            sibship(pedigree, x->sire, y->sire) == FULL_SIBS) ||
           (sibship(pedigree, x->dam, y->sire) == FULL_SIBS &&
            sibship(pedigree, x->sire, y->dam) == FULL_SIBS);
}

static bool holds(const struct kinship *kinship, enum kinship_name kinship_name, int a, int b)
{
    const struct pedigree_fish *pedigree = kinship->pedigree;
    switch (kinship_name) {
    case KIN_SAME:
        return a == b;
    case KIN_PARENT:
        return in_line(pedigree, a, b, 1);
    case KIN_FULL_SIBS:
        return sibship(pedigree, a, b) == FULL_SIBS;
    case KIN_HALF_SIBS:
        return sibship(pedigree, a, b) == HALF_SIBS;
    case KIN_GRANDPARENT:
        return in_line(pedigree, a, b, 2);
    case KIN_UNCLE:
        return uncle(pedigree, a, b) == FULL_SIBS;
    case KIN_DOUBLE_COUSINS:
        return double_cousins(pedigree, a, b);
    case KIN_GREAT_GRANDPARENT:
        return in_line(pedigree, a, b, 3);
    case KIN_HALF_UNCLE:
        return uncle(pedigree, a, b) == HALF_SIBS;
    case KIN_COUSINS:
        return cousins(pedigree, a, b) == FULL_SIBS;
    case KIN_HALF_COUSINS:
        return cousins(pedigree, a, b) == HALF_SIBS;
    case KIN_DISTANT:
        return kinship_between(kinship, a, b) > 0;
    case KIN_NONE:
    case KIN_COUNT:
        break;
    }
    return true;
}

enum kinship_name kinship_name_of(const struct kinship *kinship, int a, int b)
{
    enum kinship_name kinship_name = KIN_SAME;
    while (!holds(kinship, kinship_name, a, b))
        kinship_name++;
    return kinship_name;
}

double effective_number(const double *amounts, int count)
{
    double sum = 0;
    double squares = 0;
    for (int i = 0; i < count; i++) {
        sum += amounts[i];
        squares += amounts[i] * amounts[i];
    }
    return squares > 0 ? sum * sum / squares : 0;
}

double effective_parents(double dams, double sires)
{
    return dams > 0 && sires > 0 ? 4 * dams * sires / (dams + sires) : 0;
}

double inbreeding_per_generation(double effective)
{
    return 1 / (2 * effective);
}
