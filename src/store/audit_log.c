#include "audit_log.h"

#include "query.h"
#include "senbetsu/base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

_Static_assert((int)SIRES_SIZE >= (int)NOTE_SIZE, "a field holds the longest text there is");

struct field field_text(const char *name, const char *value)
{
    struct field field = {.name = name};
    text_copy(field.value, sizeof field.value, value);
    return field;
}

struct field field_number(const char *name, int64_t number, int64_t absent)
{
    struct field field = {.name = name};
    if (number != absent)
        snprintf(field.value, sizeof field.value, "%" PRId64, number);
    return field;
}

bool fields_equal(const struct field *was, const struct field *becomes, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(was[i].value, becomes[i].value) != 0)
            return false;
    return true;
}

static bool amend(struct ledger *ledger, const struct change *change, const struct field *was,
                  const struct field *becomes, struct err *err)
{
    int64_t id;
    struct query query;
    if (!new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_AMENDMENT_ADD);
    query_number(&query, id);
    query_text(&query, change->kind);
    query_number(&query, change->record);
    query_text(&query, was->name);
    query_text(&query, was->value);
    query_text(&query, becomes->value);
    query_number(&query, clock_now(&ledger->clock));
    query_number_or_null(&query, change->judge, 0);
    query_text(&query, change->why == NULL ? "" : change->why);
    return query_run(&query, err);
}

bool amendments_record(struct ledger *ledger, const struct change *change, const struct field *was,
                       const struct field *becomes, size_t count, struct err *err)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(was[i].value, becomes[i].value) != 0 &&
            !amend(ledger, change, &was[i], &becomes[i], err))
            return false;
    return true;
}
