/* Paper: text of a fixed width, broken into pages that repeat their heading.
 *
 * Whatever is printed is built here, entry by entry, and the page alone knows about width, page
 * breaks and ASCII. An entry may hang from a lead ("Basis: "), be one of a part that stands on one
 * page, or be put together piece by piece in `line`. All texts are formats as printf has them,
 * unless they come as a single string. */
#ifndef SENBETSU_PRINT_PAGE_H
#define SENBETSU_PRINT_PAGE_H

#include "senbetsu/base/text.h"
#include <stdbool.h>

struct page_setup {
    int columns; /* 80; at least 40 */
    int lines;   /* of a page: 60; 0 = endless, for a screen */
    bool ascii;  /* plain ASCII only: whatever has no ASCII form becomes '?' */
};

struct page_setup page_default(void);

#define PAGE_FORMAT(at, first) __attribute__((format(printf, at, first), nonnull(at)))

/* Entries go in one after another and are laid out by page_write, when it is known how many pages
 * there are. All fields but `line` and what is read of `setup` are page.c's own. */
struct page {
    struct page_setup setup;
    struct text line; /* gathers an entry that is made of several pieces, for page_line */
    struct text heading;
    struct page_entry *entries;
    size_t entry_count, entry_capacity;
    char **subheads;
    size_t subhead_count, subhead_capacity;
    bool blank_before;  /* the next entry stands off from the one before */
    bool together;      /* entries belong to the one before … */
    size_t together_at; /* … but for the first, which is this one */
};

void page_init(struct page *page, struct page_setup setup);
void page_done(struct page *page);

/* page_init, and the first line of the heading. */
void page_start(struct page *page, struct page_setup setup, const char *title, ...)
    PAGE_FORMAT(3, 4);

/* page_write and page_done. */
void page_finish(struct page *page, struct text *out);

/* One more line of the heading that every page begins with. The first has "page 2 of 3" at its
 * right; a rule follows the last. */
void page_heading(struct page *page, const char *format, ...) PAGE_FORMAT(2, 3);

/* From the next entry on: a page that begins between two entries of the same subhead says so under
 * its heading. "" = nothing to say. */
void page_subhead(struct page *page, const char *subhead);

/* One entry: `lead`, then `text`. What is wider than the page goes on in the next line, indented by
 * the width of `lead`, broken at a space where there is one. Nothing is ever cut off, and an entry
 * is not broken over two pages. Control characters count as spaces. `lead` is at most half as wide
 * as the page. */
void page_add(struct page *page, const char *lead, const char *text);

/* The same with a format, with a lead or without. */
void page_item(struct page *page, const char *lead, const char *format, ...) PAGE_FORMAT(3, 4);
#define page_addf(page, ...) page_item(page, "", __VA_ARGS__)

/* The same with what has been gathered in `page->line`, which is empty afterwards. No entry where
 * nothing was gathered. */
void page_line(struct page *page, const char *lead);

/* An entry that is a line across the page, with `label` ("" = none) near its left end. */
void page_rule(struct page *page, const char *label);

/* A blank line before the next entry: never two, none at the top of a page. */
void page_blank(struct page *page);

/* Begins a part of its own: its title stands on one page with what follows, until page_together
 * ends that, and is the subhead from then on. */
void page_part(struct page *page, const char *format, ...) PAGE_FORMAT(2, 3);

/* The same with a rule for a title, and no subhead. */
void page_section(struct page *page, const char *label, ...) PAGE_FORMAT(2, 3);

/* Entries added between `true` and `false` stand on one page if one page can hold them: a title
 * with its first rows. `true` twice only carries on. */
void page_together(struct page *page, bool together);

/* Adds all pages to `out`, with a form feed between them. */
void page_write(const struct page *page, struct text *out);

#endif
