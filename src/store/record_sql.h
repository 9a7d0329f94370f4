/* The lists of a record's columns in SQL. */
#ifndef STORE_RECORD_SQL_H
#define STORE_RECORD_SQL_H

/* Writes a statement of the registry out for SQLite. It may name the columns of a record, in the
 * order of its table:
 *   {parent}         to read them:   parent.code, parent.sex, …
 *   {parent names}   to write them:  code, sex, …
 *   {parent values}  what is bound:  ?, ?, …
 * A dam or sire is read and bound as a code and kept as an id. Sires are rows of their own table:
 * they are read, not bound. The caller frees the text with free(). */
char *record_sql(const char *text);

#endif
