#include "senbetsu/ui/list.h"

void list_to(struct list *list, int item)
{
    if (item >= list->count)
        item = list->count - 1;
    list->current = item < 0 ? 0 : item;
}

void list_count(struct list *list, int count)
{
    list->count = count;
    list_to(list, list->current);
}

/* Where a move leads, or -1 if the action is no move. */
static int target(const struct list *list, int action)
{
    int page = list->page > 1 ? list->page : 1;
    int up = list->current, down = list->count - 1 - list->current;
    switch (action) {
    case LIST_UP:
        return up > 0 ? list->current - 1 : 0;
    case LIST_DOWN:
        return list->current + (down > 0);
    case LIST_PAGE_UP:
        return up > page ? list->current - page : 0;
    case LIST_PAGE_DOWN:
        return list->current + (down > page ? page : down);
    case LIST_FIRST:
        return 0;
    case LIST_LAST:
        return list->count - 1;
    default:
        return -1;
    }
}

int list_key(struct list *list, enum context context, struct key key)
{
    const struct binding *binding = binding_find(context, key);
    if (binding == NULL)
        return LIST_NOTHING;
    if (binding->action < LIST_UP || binding->action > LIST_LAST)
        return binding->action;
    list_to(list, target(list, binding->action));
    return LIST_NOTHING;
}

int rows_next(struct rows *rows)
{
    int row = rows->next++ - rows->skipped;
    return row >= 0 && row < rows->visible ? rows->top + row : -1;
}

/* Lets every item draw out of sight, to see where the one in front begins and ends. */
static void measure(const struct list *list, struct grid *grid, draw_item draw, const void *model,
                    int *ret_first, int *ret_last, int *ret_all)
{
    struct rows rows = {0};
    *ret_first = *ret_last = 0;
    for (int i = 0; i < list->count; i++) {
        if (i == list->current)
            *ret_first = rows.next;
        draw(grid, &rows, model, i, false);
        if (i == list->current)
            *ret_last = rows.next - 1;
    }
    *ret_all = rows.next;
}

void list_draw(struct list *list, struct grid *grid, struct body body, draw_item draw,
               const void *model)
{
    int first, last, all;
    measure(list, grid, draw, model, &first, &last, &all);
    if (last >= list->top + body.rows)
        list->top = last - body.rows + 1;
    if (list->top > all - body.rows)
        list->top = all > body.rows ? all - body.rows : 0;
    if (first < list->top)
        list->top = first;
    list->page = all > 0 ? body.rows * list->count / all : 1;
    struct rows rows = {.top = body.top, .visible = body.rows, .skipped = list->top};
    for (int i = 0; i < list->count; i++)
        draw(grid, &rows, model, i, i == list->current);
}
