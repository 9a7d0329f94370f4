/* What the parent model found, for a breeder: where differences come from, then what each season,
 * variety, dam and sire stands for, as keep rates.
 *
 * The model works on the logit scale; a breeder thinks in fish of a hundred, so the page turns each
 * estimate into the keep rate of an otherwise average cross, with its 90 % interval. The CSV keeps
 * the logits and standard errors, for whoever computes on. A term that is not in the model says why
 * not, because "nothing found" and "cannot be told" are easily confused. */
#include "senbetsu/print/effects.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/stats/glmm/predictions.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BAR_CELLS = 20, NAME_COLUMNS = 26 };

/* An error that large hides the differences that are looked for. */
static const double LARGE_CV = 0.1;

static const struct {
    const char *kind;  /* in CSV */
    const char *title; /* of what it does, in the table */
} kinds[KIND_COUNT] = {
    [PARENT_DAM] = {"dam", "dams"},
    [PARENT_SIRE] = {"sire", "sires"},
    [PARENT_PAIR] = {"pair", "their combination"},
    [PARENT_SPAWNING] = {"spawning", "the rest"},
    [KIND_SEASON] = {"season", "seasons"},
    [KIND_VARIETY] = {"variety", "varieties"},
};

/* Why a term is not in the model. */
static const char *const reasons[] = {
    [PARENT_FITTED] = "",
    [PARENT_NOT_ASKED] = "not asked for",
    [PARENT_ONE_LEVEL] = "there is only one",
    [PARENT_SINGLE_FISH] = "only single fish were culled",
    [PARENT_SAME_AS_FIXED] = "it cannot be separated from seasons and varieties",
    [PARENT_SAME_AS_DAM] = "each dam was in one pair only, so it counts with the dam",
    [PARENT_SAME_AS_SIRE] = "each sire was in one pair only, so it counts with the sire",
    [PARENT_SAME_AS_PAIR] = "each dam had one sire and each sire one dam; see their combination",
    [PARENT_SAME_AS_SPAWNING] = "each had one spawning only, so it counts with the rest",
};

static void csv_row(const char *kind, const char *level, bool has_estimate, double estimate,
                    bool has_se, double se, struct text *out)
{
    csv_add(out, kind, true);
    csv_add(out, level, false);
    csv_add_real(out, has_estimate, estimate);
    csv_add_real(out, has_se, se);
    csv_end_row(out);
}

static void csv_levels(const struct parents_fit *fit, int kind, const struct parent_level *levels,
                       struct text *out)
{
    for (int i = 0; levels != NULL && i < fit->names[kind].count; i++) {
        bool finite = levels[i].state == PARENT_ESTIMATED;
        if (levels[i].state != PARENT_UNSEEN)
            csv_row(kinds[kind].kind, fit->names[kind].list[i], finite, levels[i].estimate, finite,
                    levels[i].se, out);
    }
}

void effects_csv(const struct parents_fit *fit, struct text *out)
{
    const struct parent_effects *effects = parent_model_effects(fit->model);
    text_add(out, "kind,level,estimate,se\n");
    csv_levels(fit, KIND_SEASON, effects->seasons, out);
    csv_levels(fit, KIND_VARIETY, effects->varieties, out);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (effects->fit[term] == PARENT_FITTED)
            csv_levels(fit, term, effects->levels[term], out);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (effects->fit[term] == PARENT_FITTED)
            csv_row("sd", kinds[term].kind, true, effects->sd[term], false, 0, out);
    csv_row("loglik", "", true, effects->loglik, false, 0, out);
}

void fit_notes_add(const struct fit_notes *notes, struct page *page)
{
    static const char lead[] = "  ! ";
    if (notes->estimated > 0)
        page_item(page, lead,
                  "%zu of %zu spawnings have a number that is an estimate (largest cv %.2g)%s",
                  notes->estimated, notes->spawnings, notes->largest_cv,
                  notes->largest_cv > LARGE_CV ? ": that is rough, and adds to the rest"
                                               : "; such errors are part of the rest");
    if (notes->errors_unknown > 0)
        page_item(page, lead, "the error of %zu of them is unknown", notes->errors_unknown);
    if (notes->recovered[0] != '\0')
        page_item(page, lead, "left out, because more fish were kept than went in: %s",
                  notes->recovered);
}

/* The terms' shares of the whole variance between spawnings. */
static void add_shares(struct page *page, const struct parent_effects *effects)
{
    bool ascii = page->setup.ascii, none = false;
    double whole = 0;
    for (int term = 0; term < PARENT_TERMS; term++)
        whole += effects->sd[term] * effects->sd[term];
    page_section(page, "Where differences between spawnings of one season come from");
    for (int term = 0; term < PARENT_TERMS; term++) {
        double variance = effects->sd[term] * effects->sd[term];
        double share = whole > 0 ? variance / whole : 0;
        int full = (int)(share * BAR_CELLS + 0.5);
        char lead[40];
        snprintf(lead, sizeof lead, "  %-18s", kinds[term].title);
        if (effects->fit[term] != PARENT_FITTED) {
            page_item(page, lead, "left out: %s", reasons[effects->fit[term]]);
            continue;
        }
        text_addf(&page->line, "%5.0f %%  %s", 100 * share, ascii ? "|" : "▕");
        text_add_repeated(&page->line, ascii ? "#" : "█", full);
        text_add_repeated(&page->line, " ", BAR_CELLS - full);
        text_addf(&page->line, "%s%s", ascii ? "|" : "▏",
                  effects->sd[term] == 0 ? "  none was found" : "");
        page_line(page, lead);
        none |= effects->sd[term] == 0;
    }
    page_add(page, "  ",
             "The rest belongs to single spawnings: luck, ponds, how strict the day was.");
    if (none)
        page_add(page, "  ",
                 "Where none was found there may still be a difference, too small to see in so few "
                 "spawnings. That is a normal answer.");
}

static void add_rate(struct page *page, const char *name, double logit, double variance)
{
    char rate[RATE_TEXT_SIZE], low[RATE_TEXT_SIZE], high[RATE_TEXT_SIZE];
    struct interval interval = parent_share_interval(logit, variance);
    text_add(&page->line, "  ");
    if (utf8_width(name) > NAME_COLUMNS)
        text_addf(&page->line, "%s ", name);
    else
        text_add_column(&page->line, name, NAME_COLUMNS);
    text_addf(&page->line, "%8s %%   %s to %s", rate_percent(parent_share(logit), rate),
              rate_percent(interval.low, low), rate_percent(interval.high, high));
    page_line(page, "");
}

/* Of a cross of which no more is known than its variety, PARENT_ANY_VARIETY = the average. */
static struct parent_cross cross_of_variety(int variety)
{
    return (struct parent_cross){
        PARENT_TYPICAL, variety, {PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT}};
}

/* Every dam, or every sire, with nothing known of the other. */
static void add_parent_rates(struct page *page, const struct parents_fit *fit, int term)
{
    const struct level_names *names = &fit->names[term];
    size_t count = (size_t)names->count;
    struct parent_cross *crosses = alloc_zeroed(count, sizeof *crosses);
    struct parent_expectation *expected = alloc_zeroed(count, sizeof *expected);
    for (int i = 0; i < names->count; i++) {
        crosses[i] = cross_of_variety(PARENT_ANY_VARIETY);
        crosses[i].level[term] = i;
    }
    parent_model_expect_each(fit->model, crosses, names->count, expected);
    for (int i = 0; i < names->count; i++)
        add_rate(page, names->list[i], expected[i].mean, expected[i].variance);
    free(crosses);
    free(expected);
}

static void add_fixed(struct page *page, const struct level_names *names,
                      const struct parent_level *levels)
{
    static const char *const words[] = {
        [PARENT_NONE_KEPT] = "no fish was kept: it says nothing about parents",
        [PARENT_ALL_KEPT] = "all fish were kept: it says nothing about parents",
    };
    for (int i = 0; i < names->count; i++)
        if (levels[i].state == PARENT_ESTIMATED)
            add_rate(page, names->list[i], levels[i].estimate, levels[i].se * levels[i].se);
        else if (levels[i].state != PARENT_UNSEEN)
            page_addf(page, "  %s: %s", names->list[i], words[levels[i].state]);
}

static void add_varieties(struct page *page, const struct parents_fit *fit,
                          const struct parent_level *varieties)
{
    page_section(page, "Varieties: keep rate in a typical season, 90 %% interval");
    for (int i = 0; i < fit->names[KIND_VARIETY].count; i++)
        if (varieties[i].state == PARENT_ESTIMATED) {
            struct parent_cross cross = cross_of_variety(i);
            struct parent_expectation expected = parent_model_expect(fit->model, &cross);
            add_rate(page, fit->names[KIND_VARIETY].list[i], expected.mean, expected.variance);
        }
}

void effects_print(const struct parents_fit *fit, struct page_setup setup, struct text *out)
{
    const struct parent_effects *effects = parent_model_effects(fit->model);
    const struct level_names *names = fit->names;
    char stages[STAGE_RANGE_SIZE];
    struct page page;
    page_start(&page, setup, "Effects of parents: %s cull%s%s",
               stage_range(fit->first, fit->last, stages), fit->variety[0] != '\0' ? ", " : "",
               fit->variety);
    page_heading(&page, "Spawnings %zu, seasons %d, dams %d, sires or groups %d, pairs %d",
                 fit->notes.spawnings, names[KIND_SEASON].count, names[PARENT_DAM].count,
                 names[PARENT_SIRE].count, names[PARENT_PAIR].count);
    add_shares(&page, effects);
    page_section(&page, "Seasons: keep rate, 90 %% interval");
    add_fixed(&page, &names[KIND_SEASON], effects->seasons);
    if (effects->variety_groups > 1) {
        page_section(&page, "Varieties");
        page_add(&page, "  ",
                 "No season links all varieties, so they cannot be compared with one another: ask "
                 "for each with --variety.");
    } else if (effects->varieties != NULL)
        add_varieties(&page, fit, effects->varieties);
    for (int term = PARENT_DAM; term <= PARENT_SIRE; term++) {
        if (effects->fit[term] != PARENT_FITTED)
            continue;
        page_section(&page,
                     "%s with an average partner in a typical season: keep rate, 90 %% interval",
                     term == PARENT_DAM ? "Dams" : "Sires");
        add_parent_rates(&page, fit, term);
    }
    page_together(&page, false);
    page_blank(&page);
    fit_notes_add(&fit->notes, &page);
    page_finish(&page, out);
}
