#include "senbetsu/ui/pager.h"
#include "senbetsu/base/alloc.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Stands in `lines` where a page ends. */
static const char page_end[] = "";

static void add_line(struct pager *view, size_t *capacity, const char *line)
{
    view->lines = alloc_room(view->lines, view->line_count, capacity, sizeof *view->lines);
    view->lines[view->line_count++] = line;
}

void pager_done(struct pager *view)
{
    free(view->text);
    free(view->lines);
    view->text = NULL;
    view->lines = NULL;
    view->line_count = 0;
}

void pager_set(struct pager *view, const char *pages)
{
    size_t capacity = 0;
    pager_done(view);
    view->text = alloc_text(pages);
    for (char *line = view->text; *line != '\0';) {
        if (*line == '\f') {
            add_line(view, &capacity, page_end);
            line++;
            continue;
        }
        size_t length = strcspn(line, "\n");
        bool last = line[length] == '\0';
        line[length] = '\0';
        add_line(view, &capacity, line);
        line += length + !last;
    }
    list_count(&view->list, (int)view->line_count);
}

/* Moving past the last screenful would show nothing. */
static void keep_full(struct pager *view)
{
    int most = view->list.count - view->list.page;
    if (view->list.current > most)
        list_to(&view->list, most);
}

int pager_key(struct pager *view, struct key key)
{
    int action = list_key(&view->list, CONTEXT_PAGER, key);
    keep_full(view);
    return action;
}

static void draw_reader_line(struct grid *grid, int row, const char *line)
{
    if (line == page_end)
        grid_rule(grid, row, 0, grid->columns);
    else
        grid_put(grid, row, 0, -1, STYLE_PLAIN, line);
}

void pager_draw(struct grid *grid, struct pager *view)
{
    char beside[64];
    struct frame frame = {.title = view->title,
                          .beside = beside,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_PAGER};
    size_t at = (size_t)view->list.current;
    snprintf(beside, sizeof beside, "line %zu of %zu%s", view->line_count > 0 ? at + 1 : 0,
             view->line_count, view->ascii ? ", ASCII" : "");
    struct body body = frame_draw(grid, &frame);
    view->list.page = body.rows;
    keep_full(view);
    at = (size_t)view->list.current;
    for (size_t i = 0; i < (size_t)body.rows && at + i < view->line_count; i++)
        draw_reader_line(grid, body.top + (int)i, view->lines[at + i]);
}
