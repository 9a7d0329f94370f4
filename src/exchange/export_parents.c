#include "senbetsu/base/csv.h"
#include "senbetsu/exchange/export.h"
#include "senbetsu/store/parents.h"

#include <stdlib.h>

static void add_row(const struct parent *parent, struct text *out)
{
    csv_add(out, parent->code, true);
    csv_add(out, sex_terms[parent->sex].word, false);
    csv_add(out, parent->variety, false);
    if (parent->born != 0)
        csv_add_number(out, parent->born, false);
    else
        csv_add(out, "", false);
    csv_add(out, parent->dam, false);
    csv_add(out, parent->sire, false);
    csv_add(out, parent->note, false);
    csv_end_row(out);
}

bool export_parents(struct ledger *ledger, struct text *out, struct err *err)
{
    struct parent *parents;
    size_t count;
    if (!parent_list(ledger, &parents, &count, err))
        return false;
    text_add(out, "parent,sex,variety,born,dam,sire,note\n");
    for (size_t i = 0; i < count; i++)
        add_row(&parents[i], out);
    free(parents);
    return true;
}
