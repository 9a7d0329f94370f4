#include "senbetsu/print/cull_rows.h"

#include <string.h>

enum { ROWS_TOGETHER = 5, FEWEST_WITH_TITLE = 2 };

static void add_part(struct text *out, const char *before, const char *part)
{
    if (*part != '\0')
        text_addf(out, "%s%s%s", out->length > 0 ? "; " : "", before, part);
}

void cull_describe(struct text *out, const struct fish_row *fish)
{
    bool by_score = strcmp(fish->reason, "score") == 0 && *fish->score != '\0';
    add_part(out, "", by_score ? "" : fish->reason_label);
    if (by_score || strcmp(fish->reason, "places") == 0)
        add_part(out, "score ", fish->score);
    add_part(out, "tag ", fish->tag);
    add_part(out, "", fish->since_pass ? "judged after the pass" : "");
    add_part(out, "note: ", fish->note);
}

void cull_add_row(struct page *page, const struct fish_row *fish)
{
    struct text lead, why;
    text_init(&lead);
    text_init(&why);
    text_addf(&lead, "%6d   " CULL_BOX "   ", fish->number);
    cull_describe(&why, fish);
    page_add(page, lead.data, why.data);
    text_done(&lead);
    text_done(&why);
}

void cull_begin_row(struct page *page, int row)
{
    if (row == FEWEST_WITH_TITLE)
        page_together(page, false);
    if (row > 0 && row % ROWS_TOGETHER == 0)
        page_blank(page);
}

void cull_name_text(struct text *out, const struct cull_round *round)
{
    text_add(out, *round->spawning != '\0' ? round->spawning : "mixed");
    if (*round->variety != '\0')
        text_addf(out, ", %s", round->variety);
    if (*round->lot != '\0' && strcmp(round->lot, round->spawning) != 0)
        text_addf(out, ", lot %s", round->lot);
    text_addf(out, ", %s", stage_terms[round->stage].word);
}

void cull_set_subhead(struct page *page, const struct cull_round *round, int bowl,
                      const char *title)
{
    struct text subhead;
    text_init(&subhead);
    cull_name_text(&subhead, round);
    if (bowl > 0)
        text_addf(&subhead, ", bowl %d", bowl);
    if (*title != '\0')
        text_addf(&subhead, ", %s", title);
    text_add(&subhead, " (continued)");
    page_subhead(page, subhead.data);
    text_done(&subhead);
}

void cull_add_signature(struct page *page, const char *work)
{
    page_blank(page);
    page_addf(page, "%s  by ______________  date __________  time _______", work);
}
