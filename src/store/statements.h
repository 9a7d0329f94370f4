/* The names of all SQL statements of the program, from their registry. */
#ifndef STORE_STATEMENTS_H
#define STORE_STATEMENTS_H

enum sql {
#define STATEMENT(name, text) name,
#include "statements.def"
#undef STATEMENT
    SQL_COUNT
};

extern const char *const sql_texts[SQL_COUNT];

#endif
