/* Lays out pages for paper: wraps entries, keeps together what belongs together, repeats headings.
 *
 * Entries are wrapped as they come in and broken into pages only at the end, because "page 2 of 3"
 * stands on the first page too. The width of a character is that of a terminal, which is what
 * printers in a fixed pitch agree on as well. */
#include "senbetsu/print/page.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { LABEL_ROOM = 20 }; /* for "page 123 of 123" and a gap before it */

struct page_entry {
    char *text; /* lines, '\n' between them */
    int height;
    const char *subhead;
    bool blank_before;
    bool with_previous;
};

struct page_setup page_default(void)
{
    return (struct page_setup){.columns = 80, .lines = 60};
}

void page_init(struct page *page, struct page_setup setup)
{
    *page = (struct page){.setup = setup};
    text_init(&page->line);
    text_init(&page->heading);
    page_subhead(page, "");
}

void page_done(struct page *page)
{
    for (size_t i = 0; i < page->entry_count; i++)
        free(page->entries[i].text);
    for (size_t i = 0; i < page->subhead_count; i++)
        free(page->subheads[i]);
    free(page->entries);
    free(page->subheads);
    text_done(&page->heading);
    text_done(&page->line);
}

/* Initializes `ret` with what will stand on paper for `string`. */
static void shown(struct page_setup setup, const char *string, struct text *ret)
{
    text_init(ret);
    text_add_shown(ret, string);
    if (!setup.ascii)
        return;
    struct text ascii;
    text_init(&ascii);
    text_add_ascii(&ascii, ret->data);
    text_done(ret);
    *ret = ascii;
}

/* Bytes of `text` for a line of `room` columns; at least one character, so that lines end. */
static size_t line_bytes(const char *text, int room)
{
    size_t fit = utf8_fit(text, room);
    if (text[fit] == '\0')
        return fit;
    for (size_t at = fit; at > 0; at--)
        if (text[at] == ' ')
            return at;
    if (fit > 0)
        return fit;
    const char *next = text;
    utf8_next(&next);
    return (size_t)(next - text);
}

static void end_line(struct text *out)
{
    while (out->length > 0 && out->data[out->length - 1] == ' ')
        out->data[--out->length] = '\0';
}

static void wrap(struct text *out, int columns, const char *lead, const char *text)
{
    int indent = utf8_width(lead);
    text_add(out, lead);
    for (;;) {
        size_t bytes = line_bytes(text, columns - indent);
        text_add_bytes(out, text, bytes);
        text += bytes + strspn(text + bytes, " ");
        end_line(out);
        if (*text == '\0')
            return;
        text_add(out, "\n");
        text_add_repeated(out, " ", indent);
    }
}

/* Adds `lead` and `string` to `out` as they will stand on paper. */
static void lay(struct page_setup setup, int columns, const char *lead, const char *string,
                struct text *out)
{
    struct text shown_lead, shown_string;
    shown(setup, lead, &shown_lead);
    shown(setup, string, &shown_string);
    wrap(out, columns, shown_lead.data, shown_string.data);
    text_done(&shown_lead);
    text_done(&shown_string);
}

static int lines_in(const char *text)
{
    int lines = 1;
    for (; *text != '\0'; text++)
        lines += *text == '\n';
    return lines;
}

/* A text of its own, for free(). */
__attribute__((format(printf, 1, 0))) static char *formatted(const char *format, va_list arguments)
{
    struct text text;
    text_init(&text);
    text_addv(&text, format, arguments);
    return text.data;
}

static void add_heading(struct page *page, const char *line)
{
    bool first = page->heading.length == 0;
    if (!first)
        text_add(&page->heading, "\n");
    lay(page->setup, page->setup.columns - (first ? LABEL_ROOM : 0), "", line, &page->heading);
}

void page_heading(struct page *page, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *line = formatted(format, arguments);
    va_end(arguments);
    add_heading(page, line);
    free(line);
}

void page_start(struct page *page, struct page_setup setup, const char *title, ...)
{
    va_list arguments;
    va_start(arguments, title);
    char *line = formatted(title, arguments);
    va_end(arguments);
    page_init(page, setup);
    add_heading(page, line);
    free(line);
}

void page_subhead(struct page *page, const char *subhead)
{
    struct text laid;
    text_init(&laid);
    lay(page->setup, page->setup.columns, "", subhead, &laid);
    page->subheads = alloc_room(page->subheads, page->subhead_count, &page->subhead_capacity,
                                sizeof *page->subheads);
    page->subheads[page->subhead_count++] = laid.data;
}

void page_add(struct page *page, const char *lead, const char *text)
{
    struct text laid;
    text_init(&laid);
    lay(page->setup, page->setup.columns, lead, text, &laid);
    page->entries =
        alloc_room(page->entries, page->entry_count, &page->entry_capacity, sizeof *page->entries);
    page->entries[page->entry_count] = (struct page_entry){
        .text = laid.data,
        .height = lines_in(laid.data),
        .subhead = page->subheads[page->subhead_count - 1],
        .blank_before = page->blank_before,
        .with_previous = page->together && page->entry_count > page->together_at,
    };
    page->entry_count++;
    page->blank_before = false;
}

void page_item(struct page *page, const char *lead, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *text = formatted(format, arguments);
    va_end(arguments);
    page_add(page, lead, text);
    free(text);
}

void page_line(struct page *page, const char *lead)
{
    if (page->line.length > 0)
        page_add(page, lead, page->line.data);
    text_clear(&page->line);
}

void page_rule(struct page *page, const char *label)
{
    struct text label_shown, rule;
    shown(page->setup, label, &label_shown);
    text_init(&rule);
    if (*label != '\0')
        text_addf(&rule, "── %s ", label_shown.data);
    text_add_repeated(&rule, "─", page->setup.columns - utf8_width(rule.data));
    page_add(page, "", rule.data);
    text_done(&rule);
    text_done(&label_shown);
}

void page_blank(struct page *page)
{
    page->blank_before = true;
}

void page_together(struct page *page, bool together)
{
    if (!page->together)
        page->together_at = page->entry_count;
    page->together = together;
}

static void begin_part(struct page *page)
{
    page_subhead(page, "");
    page_together(page, false);
    page_blank(page);
    page_together(page, true);
}

void page_part(struct page *page, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *title = formatted(format, arguments);
    va_end(arguments);
    begin_part(page);
    page_add(page, "", title);
    page_subhead(page, title);
    free(title);
}

void page_section(struct page *page, const char *label, ...)
{
    va_list arguments;
    va_start(arguments, label);
    char *text = formatted(label, arguments);
    va_end(arguments);
    begin_part(page);
    page_rule(page, text);
    free(text);
}

/* Does a page that begins with entry `first` carry on what the page before began? */
static bool continues(const struct page *page, size_t first)
{
    const struct page_entry *entries = page->entries;
    return first > 0 && first < page->entry_count && *entries[first].subhead != '\0' &&
           entries[first - 1].subhead == entries[first].subhead;
}

static size_t group_end(const struct page *page, size_t first)
{
    size_t end = first + 1;
    while (end < page->entry_count && page->entries[end].with_previous)
        end++;
    return end;
}

static int height(const struct page *page, size_t from, size_t end, size_t top)
{
    int lines = 0;
    for (size_t i = from; i < end; i++)
        lines += page->entries[i].height + (page->entries[i].blank_before && i != top);
    return lines;
}

/* The end of what fits into `room` lines, taken group by group or entry by entry. */
static size_t fit(const struct page *page, size_t first, int room, bool by_group)
{
    size_t end = first;
    while (end < page->entry_count) {
        size_t next = by_group ? group_end(page, end) : end + 1;
        room -= height(page, end, next, first);
        if (room < 0)
            break;
        end = next;
    }
    return end;
}

/* The entry after the last of a page that begins with entry `first`. */
static size_t page_end(const struct page *page, size_t first)
{
    if (page->setup.lines == 0)
        return page->entry_count;
    int room = page->setup.lines - lines_in(page->heading.data) - 1;
    if (continues(page, first))
        room -= lines_in(page->entries[first].subhead);
    size_t end = fit(page, first, room, true);
    if (end == first)
        end = fit(page, first, room, false);
    return end == first && first < page->entry_count ? first + 1 : end;
}

static int count_pages(const struct page *page)
{
    int pages = 1;
    for (size_t at = page_end(page, 0); at < page->entry_count; at = page_end(page, at))
        pages++;
    return pages;
}

static void write_heading(const struct page *page, int number, int pages, struct text *out)
{
    const char *heading = page->heading.data;
    size_t first_line = strcspn(heading, "\n");
    text_add_bytes(out, heading, first_line);
    if (page->setup.lines > 0) {
        struct text label;
        text_init(&label);
        text_addf(&label, "page %d of %d", number, pages);
        int used = utf8_width(heading) - utf8_width(heading + first_line);
        text_add_repeated(out, " ", page->setup.columns - used - (int)label.length);
        text_add(out, label.data);
        text_done(&label);
    }
    text_add(out, heading + first_line);
    text_add(out, "\n");
    text_add_repeated(out, page->setup.ascii ? "-" : "─", page->setup.columns);
    text_add(out, "\n");
}

static void write_entries(const struct page *page, size_t first, size_t end, struct text *out)
{
    if (continues(page, first))
        text_addf(out, "%s\n", page->entries[first].subhead);
    for (size_t i = first; i < end; i++) {
        if (page->entries[i].blank_before && i != first)
            text_add(out, "\n");
        text_addf(out, "%s\n", page->entries[i].text);
    }
}

void page_write(const struct page *page, struct text *out)
{
    int pages = count_pages(page);
    size_t first = 0;
    for (int number = 1; number <= pages; number++) {
        size_t end = page_end(page, first);
        if (number > 1)
            text_add(out, "\f");
        write_heading(page, number, pages, out);
        write_entries(page, first, end, out);
        first = end;
    }
}

void page_finish(struct page *page, struct text *out)
{
    page_write(page, out);
    page_done(page);
}
