/* Writes the columns of a record into a statement. The registry's texts stay static; only the lists
 * of columns, which would stand in each statement of a record four times, come from its table. */
#include "record_sql.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/parent.h"
#include "senbetsu/core/spawning.h"

#include <string.h>

static const struct table {
    const char *name;
    const struct column *columns;
    int count;
} tables[] = {
    {"parent", parent_columns, PARENT_COLUMN_COUNT},
    {"spawning", spawning_columns, SPAWNING_COLUMN_COUNT},
};

static const char *sql_name(const struct column *column)
{
    return column->sql != NULL ? column->sql : column->name;
}

static bool is_parent(const struct column *column)
{
    return column->kind == COLUMN_DAM || column->kind == COLUMN_SIRE;
}

static void add_read(const struct table *table, const struct column *column, struct text *out)
{
    if (is_parent(column))
        text_addf(out, "(SELECT p.code FROM parent AS p WHERE p.id = %s.%s)", table->name,
                  sql_name(column));
    else if (column->kind == COLUMN_SIRES)
        text_addf(out,
                  "(SELECT group_concat(code, ';') FROM"
                  " (SELECT p.code FROM %s_sire AS ss JOIN parent AS p ON p.id = ss.sire"
                  " WHERE ss.%s = %s.id ORDER BY p.code))",
                  table->name, table->name, table->name);
    else
        text_addf(out, "%s.%s", table->name, sql_name(column));
}

/* `what` is the text between the braces. */
static void add_list(const struct table *table, const char *what, struct text *out)
{
    bool names = strstr(what, " names}") != NULL, values = strstr(what, " values}") != NULL;
    const char *separator = "";
    for (int i = 0; i < table->count; i++) {
        const struct column *column = &table->columns[i];
        if ((names || values) && column->kind == COLUMN_SIRES)
            continue;
        text_add(out, separator);
        separator = ", ";
        if (names)
            text_add(out, sql_name(column));
        else if (values)
            text_add(out, is_parent(column) ? "(SELECT id FROM parent WHERE code = ?)" : "?");
        else
            add_read(table, column, out);
    }
}

char *record_sql(const char *text)
{
    struct text out;
    text_init(&out);
    while (*text != '\0') {
        size_t plain = strcspn(text, "{");
        text_add_bytes(&out, text, plain);
        text += plain;
        if (*text == '\0')
            break;
        const char *what = text + 1;
        text = strchr(what, '}') + 1;
        char list[32];
        text_copy(list, (size_t)(text - what) + 1, what);
        for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
            if (strncmp(list, tables[i].name, strcspn(list, " }")) == 0)
                add_list(&tables[i], list, &out);
    }
    return out.data;
}
