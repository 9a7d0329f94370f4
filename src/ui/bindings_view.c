/* What is drawn and written from the table of keys. */
#include "senbetsu/base/utf8.h"
#include "senbetsu/ui/bindings.h"
#include <stdbool.h>
#include <string.h>

enum { FOOTER_GAP = 2, NAMES_SIZE = 64, HELP_NAMES = 18 };

void footer_draw(struct grid *grid, int row, int rows, enum context context)
{
    int column = 0, line = 0;
    for (int i = 0; i < binding_count; i++) {
        const struct binding *binding = &bindings[i];
        if (binding->context != context || binding->label == NULL)
            continue;
        int width = utf8_width(binding->name) + 1 + utf8_width(binding->label);
        if (column > 0 && column + width > grid->columns) {
            line++;
            column = 0;
        }
        if (line >= rows)
            return;
        column += grid_put(grid, row + line, column, -1, STYLE_KEY, binding->name) + 1;
        column += grid_put(grid, row + line, column, -1, STYLE_PLAIN, binding->label) + FOOTER_GAP;
    }
}

/* The first row of a group (one help line and its keys) at or after `index`; binding_count at the
 * end. */
static int group_from(int index, enum context context)
{
    while (index < binding_count &&
           (bindings[index].context != context || bindings[index].help == NULL))
        index++;
    return index;
}

/* "-, u": all names of a group. */
static void group_names(int index, char ret_names[NAMES_SIZE])
{
    enum context context = bindings[index].context;
    text_copy(ret_names, NAMES_SIZE, bindings[index].name);
    for (int i = index + 1; i < binding_count; i++) {
        const struct binding *row = &bindings[i];
        if (row->context != context || row->help != NULL)
            break;
        size_t used = strlen(ret_names);
        if (row->name == NULL || used + strlen(row->name) + 3 > NAMES_SIZE)
            continue;
        text_copy(ret_names + used, NAMES_SIZE - used, ", ");
        text_copy(ret_names + used + 2, NAMES_SIZE - used - 2, row->name);
    }
}

static int draw_group(struct grid *grid, int row, int index)
{
    char names[NAMES_SIZE];
    group_names(index, names);
    grid_put(grid, row, 2, HELP_NAMES - 1, STYLE_KEY, names);
    grid_put(grid, row, 2 + HELP_NAMES, -1, STYLE_PLAIN, bindings[index].help);
    return row + 1;
}

void help_draw(struct grid *grid, enum context context)
{
    grid_clear(grid);
    grid_putf(grid, 0, 0, -1, STYLE_TITLE, "Keys: %s", context_title(context));
    int row = 1;
    for (int i = group_from(0, context); i < binding_count; i = group_from(i + 1, context))
        row = draw_group(grid, row, i);
    grid_put(grid, grid->rows - 1, 0, -1, STYLE_QUIET, "any key: back");
}

void bindings_markdown(struct text *out)
{
    for (int context = 0; context < CONTEXT_COUNT; context++) {
        text_addf(out, "%s### %s\n\n| key | what it does |\n|---|---|\n", context == 0 ? "" : "\n",
                  context_title((enum context)context));
        for (int i = group_from(0, (enum context)context); i < binding_count;
             i = group_from(i + 1, (enum context)context)) {
            char names[NAMES_SIZE];
            group_names(i, names);
            text_addf(out, "| `%s` | %s |\n", names, bindings[i].help);
        }
    }
}
