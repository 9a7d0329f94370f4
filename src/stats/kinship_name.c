#include "senbetsu/stats/kinship_name.h"

const struct kinship_name_row relations[RELATION_COUNT] = {
    [RELATION_SAME] = {"one and the same fish", 1.0 / 2},
    [RELATION_PARENT] = {"parent and offspring", 1.0 / 4},
    [RELATION_FULL_SIBS] = {"full sibs", 1.0 / 4},
    [RELATION_HALF_SIBS] = {"half sibs", 1.0 / 8},
    [RELATION_GRANDPARENT] = {"grandparent and grandchild", 1.0 / 8},
    [RELATION_UNCLE] = {"a fish and the offspring of its full sib", 1.0 / 8},
    [RELATION_DOUBLE_COUSINS] = {"double first cousins", 1.0 / 8},
    [RELATION_GREAT_GRANDPARENT] = {"great-grandparent and great-grandchild", 1.0 / 16},
    [RELATION_HALF_UNCLE] = {"a fish and the offspring of its half sib", 1.0 / 16},
    [RELATION_COUSINS] = {"first cousins", 1.0 / 16},
    [RELATION_HALF_COUSINS] = {"half first cousins", 1.0 / 32},
    [RELATION_DISTANT] = {"related further off", 0},
    [RELATION_NONE] = {"not related as far as the pedigree goes", 0},
};

enum sibship { NO_SIBS, HALF_SIBS, FULL_SIBS };

static enum sibship sibship(const struct pedigree_fish *pedigree, int a, int b)
{
    if (a == UNKNOWN_PARENT || b == UNKNOWN_PARENT || a == b)
        return NO_SIBS;
    const struct pedigree_fish *x = &pedigree[a];
    const struct pedigree_fish *y = &pedigree[b];
    int covariance = (x->dam != UNKNOWN_PARENT && x->dam == y->dam) +
                     (x->sire != UNKNOWN_PARENT && x->sire == y->sire);
    return covariance == 2 ? FULL_SIBS : covariance == 1 ? HALF_SIBS : NO_SIBS;
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
    case RELATION_SAME:
        return a == b;
    case RELATION_PARENT:
        return in_line(pedigree, a, b, 1);
    case RELATION_FULL_SIBS:
        return sibship(pedigree, a, b) == FULL_SIBS;
    case RELATION_HALF_SIBS:
        return sibship(pedigree, a, b) == HALF_SIBS;
    case RELATION_GRANDPARENT:
        return in_line(pedigree, a, b, 2);
    case RELATION_UNCLE:
        return uncle(pedigree, a, b) == FULL_SIBS;
    case RELATION_DOUBLE_COUSINS:
        return double_cousins(pedigree, a, b);
    case RELATION_GREAT_GRANDPARENT:
        return in_line(pedigree, a, b, 3);
    case RELATION_HALF_UNCLE:
        return uncle(pedigree, a, b) == HALF_SIBS;
    case RELATION_COUSINS:
        return cousins(pedigree, a, b) == FULL_SIBS;
    case RELATION_HALF_COUSINS:
        return cousins(pedigree, a, b) == HALF_SIBS;
    case RELATION_DISTANT:
        return kinship_between(kinship, a, b) > 0;
    case RELATION_NONE:
    case RELATION_COUNT:
        break;
    }
    return true;
}

enum kinship_name kinship_name_of(const struct kinship *kinship, int a, int b)
{
    enum kinship_name kinship_name = RELATION_SAME;
    while (!holds(kinship, kinship_name, a, b))
        kinship_name++;
    return kinship_name;
}
