/* One use of one statement of the registry: begin, bind in order, step, read in order, end. Errors
 * are kept until the end reports them, so the calls between need no checks; a statement is prepared
 * once and reset at the end of each use, so that no read lock outlives it. Most queries are one of
 * four kinds and end with the call of that kind: query_run, query_single, query_row, query_rows. */
#ifndef STORE_QUERY_H
#define STORE_QUERY_H

#include "private.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/column.h"
#include "senbetsu/core/terms.h"

struct query {
    struct ledger *ledger;
    sqlite3_stmt *statement;
    int bound;   /* parameters bound so far */
    int column;  /* next column to read */
    int code;    /* SQLite's, of the latest step or of what failed first; or QUERY_DAMAGED */
    int damaged; /* the column that then holds what cannot be */
};

/* No code of SQLite's is negative. */
enum { QUERY_DAMAGED = -1 };

struct query query_begin(struct ledger *ledger, enum sql sql);
/* The same with the first parameter bound: most often the id of what is looked up or written. */
struct query query_with(struct ledger *ledger, enum sql sql, int64_t number);

/* Texts are not copied: they must live until the query ends. */
void query_number(struct query *query, int64_t number);
void query_number_or_null(struct query *query, int64_t number, int64_t absent);
void query_text(struct query *query, const char *text);         /* NULL stays NULL */
void query_text_or_null(struct query *query, const char *text); /* "" becomes NULL */
void query_bytes(struct query *query, const void *bytes, size_t size);

/* Binds the columns of another query's row as they are, the first to the first parameter, as many
 * as there are parameters. */
void query_row_of(struct query *query, const struct query *row);

/* True while there is a row. */
bool query_step(struct query *query);

/* The row's next column. Nothing is taken on trust: whoever reads says what may stand there, and
 * where something else does (another program wrote to the file, or the disk lost something) the
 * query gives no more rows and query_end fails with ERR_DAMAGE, naming the column. What the reader
 * returns then is harmless: within the bounds, "" or the first word. */
int64_t row_between(struct query *query, int64_t lowest, int64_t highest);
int64_t row_between_or(struct query *query, int64_t lowest, int64_t highest,
                       int64_t absent);        /* what NULL reads as */
bool row_is_number(const struct query *query); /* is the next one, which is not read yet? */
int row_int(struct query *query, int lowest, int highest);
int row_int_or(struct query *query, int lowest, int highest, int absent);
bool row_flag(struct query *query);          /* 0 or 1 */
int64_t row_id(struct query *query);         /* above 0 */
int64_t row_id_or_none(struct query *query); /* the same; NULL = 0 */
int64_t row_instant(struct query *query);    /* of a day that date_valid takes */
int64_t row_instant_or(struct query *query, int64_t absent);

/* Texts are UTF-8 without a zero byte. NULL reads as "". */
void row_text(struct query *query, char *buffer, size_t size);     /* it fits */
void row_text_cut(struct query *query, char *buffer, size_t size); /* for show: cut where not */
void row_code(struct query *query, char *buffer, size_t size);     /* it fits and is not empty */
void row_day(struct query *query, char ret_day[DATE_SIZE]);        /* "" or a valid date */
const char *row_text_in_place(struct query *query);                /* gone with the next step */
const char *row_text_or_null(struct query *query);                 /* the same */
const char *row_text_within(struct query *query, size_t size);     /* the same; it fits */

/* A number of fish, NULL = NOT_COUNTED; the same with its method and its error. */
int64_t row_fish(struct query *query);
void row_count(struct query *query, struct count *ret);

/* The word's index. NULL = 0 where the first word is the empty one, and damage elsewhere. */
int row_word(struct query *query, const struct term *terms, int count);

/* What the columns read so far say together must hold. */
void row_require(struct query *query, bool holds);

/* Adds `format` with the row's next columns in place of each '%'. */
void row_sentence(struct query *query, const char *format, struct text *out);

/* Sets the statement free. False where anything went wrong. */
bool query_end(struct query *query, struct err *err);

/* For statements that give no row: steps and ends. */
bool query_run(struct query *query, struct err *err);

/* For one number (a count, an id), 0 or more and such that one more can be counted. `*ret_number`
 * keeps its value where there is no row or NULL. */
bool query_single(struct query *query, int64_t *ret_number, struct err *err);

/* Reads a row's columns, in order, into an item of some type. */
typedef void row_reader(struct query *query, void *ret_item);

/* For at most one row. Where there is none `ret_item` is left as it is; `absent` is then the
 * sentence to fail with (ERR_ABSENT), or NULL where that is no failure. */
bool query_row(struct query *query, row_reader *read, void *ret_item, const char *absent,
               struct err *err);

/* For a list: all rows as items of `size` bytes, in `*ret_items` (a pointer to that type), which
 * the caller frees with free(). */
bool query_rows(struct query *query, row_reader *read, size_t size, void *ret_items,
                size_t *ret_count, struct err *err);

/* Ends a query that filled a list by its own rules: hands `items` over to `*ret_items` (a pointer
 * to some item type) with their count, or frees them. */
bool query_list(struct query *query, void *items, size_t count, void *ret_items, size_t *ret_count,
                struct err *err);

/* Fails with ERR_DAMAGE: "The ledger is damaged (…)", what to do, and its path. Returns false. */
bool ledger_damaged(const struct ledger *ledger, struct err *err, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* query_rows for one column of numbers: ids, instants, or whatever is within bounds. */
bool query_ids(struct query *query, int64_t **ret, size_t *ret_count, struct err *err);
bool query_instants(struct query *query, int64_t **ret, size_t *ret_count, struct err *err);
bool query_numbers(struct query *query, int64_t lowest, int64_t highest, int64_t **ret,
                   size_t *ret_count, struct err *err);

/* A record by its table of columns (core/column.h), in one go. Statements name the columns as
 *   {parent}         to read them:   parent.code, parent.sex, …
 *   {parent names}   to write them:  code, sex, …
 *   {parent values}  what is bound:  ?, ?, …
 * A dam or sire is read and bound as a code and kept as an id. Sires are rows of their own table:
 * they are read, not bound. Texts are not copied. */
void query_record(struct query *query, const struct column *columns, int count, const void *record);
void row_record(struct query *query, const struct column *columns, int count, void *record);

/* Writes a statement of the registry out for SQLite, with those columns. The caller frees it. */
char *record_sql(const char *text);

void queries_done(struct ledger *ledger);

#endif
