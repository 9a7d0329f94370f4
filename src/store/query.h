/* One use of one statement of the registry: begin, bind in order, step, read in order, end. Errors
 * are kept until query_end or query_run reports them, so the calls between need no checks. */
#ifndef STORE_QUERY_H
#define STORE_QUERY_H

#include "private.h"
#include "senbetsu/core/terms.h"

struct query {
    struct ledger *ledger;
    sqlite3_stmt *statement;
    int bound;  /* parameters bound so far */
    int column; /* next column to read */
    int code;   /* SQLite's, of the latest step or of what failed first */
};

void query_begin(struct query *query, struct ledger *ledger, enum sql sql);

/* Texts are not copied: they must live until the query ends. */
void query_number(struct query *query, int64_t number);
void query_number_or_null(struct query *query, int64_t number, int64_t absent);
void query_text(struct query *query, const char *text);         /* NULL stays NULL */
void query_text_or_null(struct query *query, const char *text); /* "" becomes NULL */
void query_bytes(struct query *query, const void *bytes, size_t size);

/* True while there is a row. */
bool query_step(struct query *query);

int64_t row_number(struct query *query);
int64_t row_number_or(struct query *query, int64_t absent);    /* what NULL reads as */
void row_text(struct query *query, char *buffer, size_t size); /* NULL reads as "" */
const char *row_text_in_place(struct query *query);            /* gone with the next step */
const char *row_text_or_null(struct query *query);             /* the same */
int row_word(struct query *query, const struct term *terms, int count); /* its index; NULL = 0 */

/* Sets the statement free, so that no read lock outlives it. False where anything went wrong. */
bool query_end(struct query *query, struct err *err);

/* For statements that give no row: steps and ends. */
bool query_run(struct query *query, struct err *err);

/* For one number (a count, an id): `*ret_number` keeps its value where there is no row or NULL. */
bool query_single(struct query *query, int64_t *ret_number, struct err *err);

/* Ends a query that filled a list: hands `items` over to `*ret_items` (a pointer to some item type)
 * with their count, or frees them. */
bool query_list(struct query *query, void *items, size_t count, void *ret_items, size_t *ret_count,
                struct err *err);

/* The numbers in one column, and the query's end. The caller frees them with free(). */
bool query_numbers(struct query *query, int64_t **ret, size_t *ret_count, struct err *err);

void queries_done(struct ledger *ledger);

#endif
