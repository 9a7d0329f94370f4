#include "senbetsu/ui/reader_view.h"
#include "senbetsu/base/alloc.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Stands in `lines` where a page ends. */
static const char page_end[] = "";

static void add_line(struct reader_view *view, size_t *capacity, const char *line)
{
    view->lines = alloc_room(view->lines, view->line_count, capacity, sizeof *view->lines);
    view->lines[view->line_count++] = line;
}

void reader_done(struct reader_view *view)
{
    free(view->text);
    free(view->lines);
    view->text = NULL;
    view->lines = NULL;
    view->line_count = 0;
}

void reader_set(struct reader_view *view, const char *pages)
{
    size_t capacity = 0;
    reader_done(view);
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
    scroll_count(&view->scroll, (int)view->line_count);
}

/* Moving past the last screenful would show nothing. */
static void keep_full(struct reader_view *view)
{
    int most = view->scroll.count - view->scroll.page;
    if (view->scroll.current > most)
        scroll_to(&view->scroll, most);
}

int reader_key(struct reader_view *view, struct key key)
{
    int action = scroll_key(&view->scroll, CONTEXT_READER, key);
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

void reader_draw(struct grid *grid, struct reader_view *view)
{
    char beside[64];
    struct frame frame = {.title = view->title,
                          .beside = beside,
                          .message = view->message,
                          .alert = view->alert,
                          .context = CONTEXT_READER};
    size_t at = (size_t)view->scroll.current;
    snprintf(beside, sizeof beside, "line %zu of %zu%s", view->line_count > 0 ? at + 1 : 0,
             view->line_count, view->ascii ? ", ASCII" : "");
    struct body body = frame_draw(grid, &frame);
    view->scroll.page = body.rows;
    keep_full(view);
    at = (size_t)view->scroll.current;
    for (size_t i = 0; i < (size_t)body.rows && at + i < view->line_count; i++)
        draw_reader_line(grid, body.top + (int)i, view->lines[at + i]);
}
