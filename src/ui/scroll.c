#include "senbetsu/ui/scroll.h"

void scroll_to(struct scroll *scroll, int item)
{
    if (item >= scroll->count)
        item = scroll->count - 1;
    scroll->current = item < 0 ? 0 : item;
}

void scroll_count(struct scroll *scroll, int count)
{
    scroll->count = count;
    scroll_to(scroll, scroll->current);
}

/* Where a move leads, or -1 if the action is no move. */
static int target(const struct scroll *scroll, int action)
{
    int page = scroll->page > 1 ? scroll->page : 1;
    int up = scroll->current, down = scroll->count - 1 - scroll->current;
    switch (action) {
    case LIST_UP:
        return up > 0 ? scroll->current - 1 : 0;
    case LIST_DOWN:
        return scroll->current + (down > 0);
    case LIST_PAGE_UP:
        return up > page ? scroll->current - page : 0;
    case LIST_PAGE_DOWN:
        return scroll->current + (down > page ? page : down);
    case LIST_FIRST:
        return 0;
    case LIST_LAST:
        return scroll->count - 1;
    default:
        return -1;
    }
}

int scroll_key(struct scroll *scroll, enum context context, struct key key)
{
    const struct binding *binding = binding_find(context, key);
    if (binding == NULL)
        return LIST_NOTHING;
    if (binding->action < LIST_UP || binding->action > LIST_LAST)
        return binding->action;
    scroll_to(scroll, target(scroll, binding->action));
    return LIST_NOTHING;
}

int rows_next(struct rows *rows)
{
    int row = rows->next++ - rows->skipped;
    return row >= 0 && row < rows->visible ? rows->top + row : -1;
}

/* Lets every item draw out of sight, to see where the one in front begins and ends. */
static void measure(const struct scroll *scroll, struct grid *grid, draw_item draw,
                    const void *model, int *ret_first, int *ret_last, int *ret_all)
{
    struct rows rows = {0};
    *ret_first = *ret_last = 0;
    for (int i = 0; i < scroll->count; i++) {
        if (i == scroll->current)
            *ret_first = rows.next;
        draw(grid, &rows, model, i, false);
        if (i == scroll->current)
            *ret_last = rows.next - 1;
    }
    *ret_all = rows.next;
}

void scroll_draw(struct scroll *scroll, struct grid *grid, struct body body, draw_item draw,
                 const void *model)
{
    int first, last, all;
    measure(scroll, grid, draw, model, &first, &last, &all);
    if (last >= scroll->top + body.rows)
        scroll->top = last - body.rows + 1;
    if (scroll->top > all - body.rows)
        scroll->top = all > body.rows ? all - body.rows : 0;
    if (first < scroll->top)
        scroll->top = first;
    scroll->page = all > 0 ? body.rows * scroll->count / all : 1;
    struct rows rows = {.top = body.top, .visible = body.rows, .skipped = scroll->top};
    for (int i = 0; i < scroll->count; i++)
        draw(grid, &rows, model, i, i == scroll->current);
}
