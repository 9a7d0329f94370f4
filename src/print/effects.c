#include "senbetsu/print/effects.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/stats/glmm/predictions.h"

#include <math.h>
#include <stdio.h>
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

static void csv_row(const char *kind, const char *level, const struct parent_level *effect,
                    struct text *out)
{
    if (effect->state == PARENT_UNSEEN)
        return;
    bool finite = effect->state == PARENT_ESTIMATED;
    csv_add(out, kind, true);
    csv_add(out, level, false);
    csv_add_real(out, finite, effect->estimate);
    csv_add_real(out, finite, effect->se);
    csv_end_row(out);
}

static void csv_levels(const struct effects_table *table, int kind,
                       const struct parent_level *levels, struct text *out)
{
    for (int i = 0; levels != NULL && i < table->names[kind].count; i++)
        csv_row(kinds[kind].kind, table->names[kind].list[i], &levels[i], out);
}

static void csv_number(const char *kind, const char *level, double number, struct text *out)
{
    csv_add(out, kind, true);
    csv_add(out, level, false);
    csv_add_real(out, true, number);
    csv_add_real(out, false, 0);
    csv_end_row(out);
}

void effects_csv(const struct effects_table *table, struct text *out)
{
    const struct parent_effects *effects = parent_model_effects(table->model);
    text_add(out, "kind,level,estimate,se\n");
    csv_levels(table, KIND_SEASON, effects->seasons, out);
    csv_levels(table, KIND_VARIETY, effects->varieties, out);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (effects->fit[term] == PARENT_FITTED)
            csv_levels(table, term, effects->levels[term], out);
    for (int term = 0; term < PARENT_TERMS; term++)
        if (effects->fit[term] == PARENT_FITTED)
            csv_number("sd", kinds[term].kind, effects->sd[term], out);
    csv_number("loglik", "", effects->loglik, out);
}

void fit_notes_add(const struct fit_notes *notes, struct page *page)
{
    static const char lead[] = "  ! ";
    char sentence[200];
    snprintf(sentence, sizeof sentence,
             "%zu of %zu spawnings have a number that is an estimate (largest cv %.2g)%s",
             notes->estimated, notes->spawnings, notes->largest_cv,
             notes->largest_cv > LARGE_CV ? ": that is rough, and adds to the rest"
                                          : "; such errors are part of the rest");
    if (notes->estimated > 0)
        page_add(page, lead, sentence);
    snprintf(sentence, sizeof sentence, "the error of %zu of them is unknown",
             notes->errors_unknown);
    if (notes->errors_unknown > 0)
        page_add(page, lead, sentence);
    if (notes->recovered[0] == '\0')
        return;
    struct text text;
    text_init(&text);
    text_addf(&text, "left out, because more fish were kept than went in: %s", notes->recovered);
    page_add(page, lead, text.data);
    text_done(&text);
}

static void begin_part(struct page *page, const char *label)
{
    page_together(page, false);
    page_blank(page);
    page_together(page, true);
    page_rule(page, label);
}

static void add_bar(double share, bool ascii, struct text *out)
{
    int full = (int)(share * BAR_CELLS + 0.5);
    text_add(out, ascii ? "|" : "▕");
    text_add_repeated(out, ascii ? "#" : "█", full);
    text_add_repeated(out, " ", BAR_CELLS - full);
    text_add(out, ascii ? "|" : "▏");
}

/* `share` of the whole variance between spawnings. */
static void add_share(struct page *page, int term, double sd, double share)
{
    struct text line;
    text_init(&line);
    text_add(&line, "  ");
    text_add_column(&line, kinds[term].title, 18);
    text_addf(&line, "%5.0f %%  ", 100 * share);
    add_bar(share, page->setup.ascii, &line);
    if (sd == 0)
        text_add(&line, "  none was found");
    page_addf(page, "%s", line.data);
    text_done(&line);
}

static void add_left_out(struct page *page, int term, enum parent_fit fit)
{
    char lead[40];
    snprintf(lead, sizeof lead, "  %-18s", kinds[term].title);
    struct text line;
    text_init(&line);
    text_addf(&line, "left out: %s", reasons[fit]);
    page_add(page, lead, line.data);
    text_done(&line);
}

static void add_shares(struct page *page, const struct parent_effects *effects)
{
    double whole = 0;
    bool none = false;
    for (int term = 0; term < PARENT_TERMS; term++)
        whole += effects->sd[term] * effects->sd[term];
    begin_part(page, "Where differences between spawnings of one season come from");
    for (int term = 0; term < PARENT_TERMS; term++) {
        double sd = effects->sd[term];
        if (effects->fit[term] == PARENT_FITTED)
            add_share(page, term, sd, whole > 0 ? sd * sd / whole : 0);
        else
            add_left_out(page, term, effects->fit[term]);
        none |= effects->fit[term] == PARENT_FITTED && sd == 0;
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
    struct text line;
    text_init(&line);
    text_add(&line, "  ");
    if (utf8_width(name) > NAME_COLUMNS)
        text_addf(&line, "%s ", name);
    else
        text_add_column(&line, name, NAME_COLUMNS);
    text_addf(&line, "%8s %%   %s to %s", rate_percent(parent_share(logit), rate),
              rate_percent(interval.low, low), rate_percent(interval.high, high));
    page_addf(page, "%s", line.data);
    text_done(&line);
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

/* The level of a term, all else in the middle. */
static void add_term(struct page *page, const struct effects_table *table, int term)
{
    const struct level_names *names = &table->names[term];
    for (int i = 0; i < names->count; i++) {
        struct parent_cross cross = {
            PARENT_TYPICAL,
            PARENT_ANY_VARIETY,
            {PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT}};
        cross.level[term] = i;
        struct parent_expectation expected = parent_model_expect(table->model, &cross);
        add_rate(page, names->list[i], expected.mean, expected.variance);
    }
}

static void add_varieties(struct page *page, const struct effects_table *table,
                          const struct parent_effects *effects)
{
    if (effects->variety_groups > 1) {
        begin_part(page, "Varieties");
        page_add(page, "  ",
                 "No season links all varieties, so they cannot be compared with one another: ask "
                 "for each with --variety.");
        return;
    }
    if (effects->varieties == NULL)
        return;
    begin_part(page, "Varieties: keep rate in a typical season, 90 % interval");
    for (int i = 0; i < table->names[KIND_VARIETY].count; i++) {
        if (effects->varieties[i].state != PARENT_ESTIMATED)
            continue;
        struct parent_cross cross = {
            PARENT_TYPICAL, i, {PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT, PARENT_WITHOUT}};
        struct parent_expectation expected = parent_model_expect(table->model, &cross);
        add_rate(page, table->names[KIND_VARIETY].list[i], expected.mean, expected.variance);
    }
}

static void add_heading(struct page *page, const struct effects_table *table)
{
    char stages[STAGE_RANGE_SIZE];
    struct text line;
    text_init(&line);
    text_addf(&line, "Effects of parents: %s cull%s%s",
              stage_range(table->first, table->last, stages), table->variety[0] != '\0' ? ", " : "",
              table->variety);
    page_heading(page, line.data);
    text_clear(&line);
    text_addf(&line, "Spawnings %zu, seasons %d, dams %d, sires or groups %d, pairs %d",
              table->notes.spawnings, table->names[KIND_SEASON].count,
              table->names[PARENT_DAM].count, table->names[PARENT_SIRE].count,
              table->names[PARENT_PAIR].count);
    page_heading(page, line.data);
    text_done(&line);
}

static void add_parents(struct page *page, const struct effects_table *table,
                        const struct parent_effects *effects)
{
    static const char *const labels[] = {
        [PARENT_DAM] = "Dams with an average partner in a typical season: keep rate, 90 % interval",
        [PARENT_SIRE] =
            "Sires with an average partner in a typical season: keep rate, 90 % interval",
    };
    for (int term = PARENT_DAM; term <= PARENT_SIRE; term++) {
        if (effects->fit[term] != PARENT_FITTED)
            continue;
        begin_part(page, labels[term]);
        add_term(page, table, term);
    }
}

void effects_print(const struct effects_table *table, struct page_setup setup, struct text *out)
{
    const struct parent_effects *effects = parent_model_effects(table->model);
    struct page page;
    page_init(&page, setup);
    add_heading(&page, table);
    add_shares(&page, effects);
    begin_part(&page, "Seasons: keep rate, 90 % interval");
    add_fixed(&page, &table->names[KIND_SEASON], effects->seasons);
    add_varieties(&page, table, effects);
    add_parents(&page, table, effects);
    page_together(&page, false);
    page_blank(&page);
    fit_notes_add(&table->notes, &page);
    page_write(&page, out);
    page_done(&page);
}
