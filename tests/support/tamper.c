/* Runs SQL on a ledger behind the program's back, with the checksums of its pages kept right:
 * tamper LEDGER SQL. What it makes is a sound file that says something it should not. */
#include "pages.h"

#include <sqlite3.h>
#include <stdio.h>

int main(int count, char **words)
{
    sqlite3 *db = NULL;
    char *message = NULL;
    if (count != 3 || pages_register() != SQLITE_OK || sqlite3_open(words[1], &db) != SQLITE_OK ||
        sqlite3_exec(db, words[2], NULL, NULL, &message) != SQLITE_OK) {
        fprintf(stderr, "tamper: %s\n", message != NULL ? message : "LEDGER SQL");
        sqlite3_free(message);
        sqlite3_close(db);
        return 1;
    }
    return sqlite3_close(db) == SQLITE_OK ? 0 : 1;
}
