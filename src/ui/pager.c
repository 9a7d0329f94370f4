/* Pages as lines. The text is kept whole and cut in place, so that a long list costs one copy.
 *
 * What is shown is the printed page itself and not another view of it, so that nobody is surprised
 * by the paper. */
#include "senbetsu/ui/pager.h"
#include "senbetsu/base/alloc.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Stands in `lines` where a page ends. */
static const char page_end[] = "";

static void add_line(struct pager *pager, size_t *capacity, const char *line)
{
    pager->lines = alloc_room(pager->lines, pager->line_count, capacity, sizeof *pager->lines);
    pager->lines[pager->line_count++] = line;
}

void pager_done(struct pager *pager)
{
    free(pager->text);
    free(pager->lines);
    pager->text = NULL;
    pager->lines = NULL;
    pager->line_count = 0;
}

void pager_set(struct pager *pager, const char *pages)
{
    size_t capacity = 0;
    pager_done(pager);
    pager->text = alloc_text(pages);
    for (char *line = pager->text; *line != '\0';) {
        if (*line == '\f') {
            add_line(pager, &capacity, page_end);
            line++;
            continue;
        }
        size_t length = strcspn(line, "\n");
        bool last = line[length] == '\0';
        line[length] = '\0';
        add_line(pager, &capacity, line);
        line += length + !last;
    }
    list_count(&pager->list, (int)pager->line_count);
}

/* The line at the top: moving past the last screenful would show nothing. */
static int top_line(const struct pager *pager)
{
    int last = pager->list.count - pager->list.page;
    int top = pager->list.current < last ? pager->list.current : last;
    return top > 0 ? top : 0;
}

void pager_place(const struct pager *pager, char ret_text[PAGER_PLACE_SIZE])
{
    size_t line = pager->line_count > 0 ? (size_t)top_line(pager) + 1 : 0;
    snprintf(ret_text, PAGER_PLACE_SIZE, "line %zu of %zu", line, pager->line_count);
}

static void draw_line(struct grid *grid, struct rows *rows, const void *model, int item,
                      bool selected)
{
    const struct pager *pager = model;
    grid_put(grid, rows_next(rows), 0, -1, selected ? STYLE_CURSOR : STYLE_PLAIN,
             pager->lines[item]);
}

/* A line that was found stands out, for near the end it cannot come to the top. */
void pager_draw(struct pager *pager, struct grid *grid, struct body body)
{
    const struct list_find *find = &pager->list.find;
    pager->list.page = body.rows;
    list_find_draw(&pager->list, grid, draw_line, pager);
    list_to(&pager->list, top_line(pager));
    int found = find->on && find->text[0] != '\0' && !find->absent ? find->at : -1;
    struct rows rows = {.top = body.top, .visible = body.rows};
    for (int i = 0; i < body.rows && pager->list.current + i < pager->list.count; i++) {
        int item = pager->list.current + i;
        if (pager->lines[item] == page_end)
            grid_rule(grid, rows_next(&rows), 0, grid->columns);
        else
            draw_line(grid, &rows, pager, item, item == found);
    }
}
