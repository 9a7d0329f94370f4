/* Choosing a cross by its dam and its sire. Only crosses that the table of pairs has can be chosen,
 * so the sires that are offered follow the dam; a group of males is no cross. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/screens/screens.h"

#include <stdlib.h>
#include <string.h>

enum { DAM, SIRE, FIELD_COUNT };

struct cross_choice {
    const struct pairs_table *table;
    const struct pair_row **ret_row;
    struct term *dams, *sires;
    int dam_count, sire_count;
    const char *sires_of; /* the dam whose sires are offered */
};

static const struct field_spec specs[FIELD_COUNT] = {
    [DAM] = {.label = "Dam"},
    [SIRE] = {.label = "Sire"},
};

static int compare_terms(const void *left, const void *right)
{
    const struct term *a = left, *b = right;
    return strcmp(a->word, b->word);
}

/* A cross has one sire. */
static bool is_cross(const struct pair_row *row)
{
    return strchr(row->sires, ';') == NULL;
}

static void add_once(struct term *terms, int *count, const char *word)
{
    if (term_find(terms, *count, word) < 0)
        terms[(*count)++] = (struct term){word, ""};
}

static void list_dams(struct cross_choice *choice)
{
    for (size_t i = 0; i < choice->table->count; i++)
        if (is_cross(&choice->table->rows[i]))
            add_once(choice->dams, &choice->dam_count, choice->table->rows[i].dam);
    qsort(choice->dams, (size_t)choice->dam_count, sizeof *choice->dams, compare_terms);
}

/* Those that have a row with the chosen dam; a sire that was chosen stays where he can. */
static void offer_sires(struct app *app, struct form *form, void *context)
{
    struct cross_choice *choice = context;
    const char *dam = choice->dams[form->fields[DAM].choice].word, *sire = "";
    if (dam == choice->sires_of)
        return;
    if (choice->sire_count > 0)
        sire = choice->sires[form->fields[SIRE].choice].word;
    choice->sires_of = dam;
    choice->sire_count = 0;
    for (size_t i = 0; i < choice->table->count; i++)
        if (is_cross(&choice->table->rows[i]) && strcmp(choice->table->rows[i].dam, dam) == 0)
            add_once(choice->sires, &choice->sire_count, choice->table->rows[i].sires);
    qsort(choice->sires, (size_t)choice->sire_count, sizeof *choice->sires, compare_terms);
    int place = term_find(choice->sires, choice->sire_count, sire);
    form_offer(form, SIRE, choice->sires, choice->sire_count, place < 0 ? 0 : place);
}

static bool accept(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    struct cross_choice *choice = context;
    const char *dam = choice->dams[form->fields[DAM].choice].word;
    const char *sire = choice->sires[form->fields[SIRE].choice].word;
    for (size_t i = 0; i < choice->table->count; i++) {
        const struct pair_row *row = &choice->table->rows[i];
        if (strcmp(row->dam, dam) == 0 && strcmp(row->sires, sire) == 0)
            *choice->ret_row = row;
    }
    app_pop(app);
    return true;
}

static void done(void *context)
{
    struct cross_choice *choice = context;
    free(choice->dams);
    free(choice->sires);
    free(choice);
}

void app_ask_cross(struct app *app, const struct pairs_table *table, const char *dam,
                   const struct pair_row **ret_row)
{
    static const struct form_task task = {.accept = accept, .adjust = offer_sires, .done = done};
    struct cross_choice *choice = alloc_zeroed(1, sizeof *choice);
    struct form form;
    *choice = (struct cross_choice){.table = table, .ret_row = ret_row};
    choice->dams = alloc_zeroed(table->count + 1, sizeof *choice->dams);
    choice->sires = alloc_zeroed(table->count + 1, sizeof *choice->sires);
    list_dams(choice);
    if (choice->dam_count == 0) {
        app_say(app, "There are no parents to cross yet.");
        done(choice);
        return;
    }
    form_init(&form, "What if these two spawned?", specs, FIELD_COUNT);
    int place = term_find(choice->dams, choice->dam_count, dam);
    form_offer(&form, DAM, choice->dams, choice->dam_count, place < 0 ? 0 : place);
    offer_sires(app, &form, choice);
    app_push_form(app, &form, &task, choice);
}
