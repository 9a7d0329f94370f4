/* Words of the ledger that a line to type in is likely to want: parents, varieties, ponds, lots. A
 * word that is taken is written as it was the first time; another can be typed all the same. Where
 * the ledger cannot be read the line does without, and what is done with the form will say why. */
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/parents.h"
#include "senbetsu/store/varieties.h"

#include <stdlib.h>
#include <string.h>

static void suggest_parents(struct app *app, struct form *form, int field, enum sex sex)
{
    struct parent *parents;
    size_t count;
    struct err err;
    if (!parent_list(app->ledger, &parents, &count, &err))
        return;
    for (size_t i = 0; i < count; i++)
        if (parents[i].sex == sex || parents[i].sex == SEX_UNKNOWN)
            form_suggest(form, field, parents[i].code);
    free(parents);
}

static void suggest_varieties(struct app *app, struct form *form, int field)
{
    struct variety *varieties;
    size_t count;
    struct err err;
    if (!variety_list(app->ledger, &varieties, &count, &err))
        return;
    for (size_t i = 0; i < count; i++)
        form_suggest(form, field, varieties[i].name);
    free(varieties);
}

void app_suggest_for(struct app *app, struct form *form, int field, enum column_kind kind)
{
    if (kind == COLUMN_DAM)
        suggest_parents(app, form, field, SEX_FEMALE);
    else if (kind == COLUMN_SIRE || kind == COLUMN_SIRES)
        suggest_parents(app, form, field, SEX_MALE);
    else if (kind == COLUMN_VARIETY)
        suggest_varieties(app, form, field);
}

void app_suggest_ponds(struct app *app, struct form *form, int field)
{
    struct lot_line *lines;
    size_t count;
    struct err err;
    if (!lot_lines_list(app->ledger, &lines, &count, &err))
        return;
    for (size_t i = 0; i < count; i++)
        form_suggest(form, field, lines[i].pond);
    lot_lines_free(lines, count);
}

void app_suggest_lots(struct app *app, struct form *form, int field, const char *spawnings)
{
    struct lot_origin *lots;
    size_t count;
    struct err err;
    if (!lot_origins_list(app->ledger, &lots, &count, &err))
        return;
    for (size_t i = 0; i < count; i++)
        if (strcmp(lots[i].spawnings, spawnings) == 0)
            form_suggest(form, field, lots[i].lot);
    lot_origins_free(lots, count);
}
