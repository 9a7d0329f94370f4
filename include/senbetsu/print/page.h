/* Paper: text of a fixed width, broken into pages that repeat their heading. */
#ifndef SENBETSU_PRINT_PAGE_H
#define SENBETSU_PRINT_PAGE_H

#include "senbetsu/base/text.h"
#include <stdbool.h>

struct page_setup {
    int columns; /* 80 */
    int lines;   /* of a page: 60; 0 = endless, for a screen */
    bool ascii;  /* plain ASCII only: whatever has no ASCII form becomes '?' */
};

struct page_setup page_default(void);

/* Lines go in one after another; pages come out, separated by a form feed, each with the heading
 * and "page 2 of 3" (known at the end). */
struct page {
    struct page_setup setup;
    struct text heading; /* lines repeated on every page */
    struct text subhead; /* lines repeated under it while a table goes on, "" = none */
    struct text *lines;
    size_t line_count, line_capacity;
    /* … further fields are page.c's own … */
};

void page_init(struct page *page, struct page_setup setup);
void page_done(struct page *page);

#endif
