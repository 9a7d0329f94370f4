/* What two parents are to one another and what that means for their young, before they are set.
 *
 * The name of the relation comes first, since a breeder thinks in it; figures and the ancestors
 * that make them follow. The page gives no verdict: it shows what inbreeding did where somebody
 * measured it, and leaves the decision to the reader. Formulas: stats/kinship.h. */
#include "senbetsu/print/kin.h"
#include "senbetsu/stats/kinship.h"

#include <stdio.h>
#include <stdlib.h>

/* What has been measured in fish; for ornamental carp nothing has been published. */
static const struct {
    const char *source, *found;
} effects[] = {
    {"carp", "one generation of sib mating (25 %): growth 10 to 20 % less (a course on carp "
             "breeding, India)"},
    {"rainbow trout", "at 25 %: crippled fry 37.6 % more, survival of fry 14.6 % less, growth in a "
                      "year 23.2 % less; at 37.5 %: 191.5 % more, 29.7 % less, 33.5 % less "
                      "(Kincaid 1976)"},
    {"rainbow trout", "with each 10 %: weight at a year 2.3 % less, at spawning 3.9 % (males) and "
                      "5.8 % (females) less, eggs 6.1 % fewer (lines kept in California)"},
};

static const char *code_of(const struct kin *kin, int fish)
{
    return kin->kinship->pedigree[fish].code;
}

static void add_relation(const struct kin *kin, struct page *page)
{
    enum kinship_name name = kinship_name_of(kin->kinship, kin->a, kin->b);
    const struct kinship_name_row *row = &kinship_names[name];
    page_addf(page, "%s and %s are %s.", code_of(kin, kin->a), code_of(kin, kin->b), row->words);
    if (name != KIN_SAME && name != KIN_DISTANT &&
        kinship_between(kin->kinship, kin->a, kin->b) > row->kinship)
        page_addf(page, "They are more closely related than that: ancestors are inbred, or connect "
                        "them in other ways too.");
}

static void add_sexes(const struct kin *kin, struct page *page)
{
    if (kin->sex_a == SEX_UNKNOWN && kin->sex_b == SEX_UNKNOWN)
        page_addf(page, "Their sex is not recorded.");
    else if (kin->sex_a == SEX_UNKNOWN || kin->sex_b == SEX_UNKNOWN)
        page_addf(page, "The sex of %s is not recorded.",
                  code_of(kin, kin->sex_a == SEX_UNKNOWN ? kin->a : kin->b));
    else if (kin->sex_a == kin->sex_b && kin->a != kin->b)
        page_addf(page, "Both are %s, so they are no pair; the figures are shown all the same.",
                  kin->sex_a == SEX_FEMALE ? "female" : "male");
}

static void add_above(const struct kin *kin, int fish, int above, const char *before,
                      struct text *line)
{
    if (above > 0)
        text_addf(line, "%s %d generation%s above %s", before, above, above == 1 ? "" : "s",
                  code_of(kin, fish));
}

static void add_ancestors(const struct kin *kin, struct page *page)
{
    struct common_ancestor *ancestors;
    size_t count;
    common_ancestors(kin->kinship, kin->a, kin->b, &ancestors, &count);
    page_blank(page);
    page_addf(page, "What their common ancestors contribute, by the nearest generations:");
    for (size_t i = 0; i < count; i++) {
        const struct common_ancestor *ancestor = &ancestors[i];
        double inbreeding = kinship_inbreeding(kin->kinship, ancestor->fish);
        char lead[32];
        text_add(&page->line, code_of(kin, ancestor->fish));
        add_above(kin, kin->a, ancestor->above_a, ",", &page->line);
        add_above(kin, kin->b, ancestor->above_b, ancestor->above_a > 0 ? " and" : ",",
                  &page->line);
        text_addf(&page->line, ", by %.0f path%s", ancestor->paths, ancestor->paths > 1 ? "s" : "");
        if (inbreeding > 0)
            text_addf(&page->line, ", itself inbred %.4g %%", 100 * inbreeding);
        snprintf(lead, sizeof lead, "  %9.4g %%  ", 100 * ancestor->part);
        page_line(page, lead);
    }
    free(ancestors);
    page_blank(page);
    page_addf(page, "Effects of inbreeding in other fish, for your own judgement:");
    for (size_t i = 0; i < sizeof effects / sizeof *effects; i++) {
        char lead[32];
        snprintf(lead, sizeof lead, "  %-13s  ", effects[i].source);
        page_add(page, lead, effects[i].found);
    }
}

void kin_print(const struct kin *kin, struct page_setup setup, struct text *out)
{
    double kinship = kinship_between(kin->kinship, kin->a, kin->b);
    struct page page;
    page_start(&page, setup, "Kinship of %s and %s", code_of(kin, kin->a), code_of(kin, kin->b));
    add_relation(kin, &page);
    add_sexes(kin, &page);
    page_blank(&page);
    page_addf(&page, "  kinship: %.6g", kinship);
    page_addf(&page, "  inbreeding of their offspring: %.4g %%", 100 * kinship);
    for (int i = 0; i < (kin->a != kin->b ? 2 : 1); i++) {
        int fish = i == 0 ? kin->a : kin->b;
        page_addf(&page, "  inbreeding of %s itself: %.4g %%", code_of(kin, fish),
                  100 * kinship_inbreeding(kin->kinship, fish));
    }
    if (kin->a != kin->b && kinship > 0)
        add_ancestors(kin, &page);
    page_blank(&page);
    page_addf(&page, "A dam or sire that is not recorded counts as related to nobody.");
    page_finish(&page, out);
}

void kin_csv(const struct kin *kin, struct text *out)
{
    double kinship = kinship_between(kin->kinship, kin->a, kin->b);
    text_addf(out, "kinship,offspring_inbreeding\n%.10g,%.10g\n", kinship, kinship);
}
