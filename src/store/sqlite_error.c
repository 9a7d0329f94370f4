#include "sqlite_error.h"

#include <sqlite3.h>
#include <stddef.h>

struct sentence {
    int code; /* an extended code, or a primary one that stands for all its kind */
    enum err_code kind;
    const char *format; /* takes the path */
};

/* Extended codes come before the primary code they belong to. */
static const struct sentence sentences[] = {
    {SQLITE_BUSY, ERR_BUSY, "Another program is using the ledger %s; try again in a moment."},
    {SQLITE_LOCKED, ERR_BUSY, "Another program is using the ledger %s; try again in a moment."},
    {SQLITE_NOTADB, ERR_LEDGER, "%s is not a ledger."},
    {SQLITE_CORRUPT, ERR_LEDGER,
     "The ledger %s is damaged; put your latest backup in its place with the command restore."},
    {SQLITE_READONLY, ERR_LEDGER, "The ledger %s is read-only; allow writing to it first."},
    {SQLITE_PERM, ERR_LEDGER, "You may not use the ledger %s; ask for permission."},
    {SQLITE_AUTH, ERR_LEDGER, "You may not use the ledger %s; ask for permission."},
    {SQLITE_CANTOPEN, ERR_SYSTEM, "The ledger %s cannot be opened."},
    {SQLITE_FULL, ERR_SYSTEM,
     "The disk with the ledger %s is full; nothing was lost, free some space and try again."},
    {SQLITE_IOERR, ERR_SYSTEM,
     "The disk with the ledger %s reports a read or write error; check the disk."},
    {SQLITE_NOMEM, ERR_SYSTEM, "There is not enough memory for the ledger %s."},
    {SQLITE_TOOBIG, ERR_INPUT, "A text is too long for the ledger %s."},
    {SQLITE_CONSTRAINT_UNIQUE, ERR_LEDGER, "The ledger %s already has such a record."},
    {SQLITE_CONSTRAINT_PRIMARYKEY, ERR_LEDGER, "The ledger %s already has such a record."},
    {SQLITE_CONSTRAINT_FOREIGNKEY, ERR_LEDGER,
     "The ledger %s lacks the record that this one belongs to."},
    {SQLITE_CONSTRAINT_TRIGGER, ERR_LEDGER,
     "Other records of the ledger %s still need this one; it cannot be deleted."},
};

static const struct sentence *sentence_for(int code)
{
    for (size_t i = 0; i < sizeof sentences / sizeof *sentences; i++)
        if (sentences[i].code == code || sentences[i].code == (code & 0xff))
            return &sentences[i];
    return NULL;
}

bool sqlite_error(const char *path, int code, const char *detail, struct err *err)
{
    const struct sentence *sentence = sentence_for(code);
    if (sentence == NULL)
        return err_set(err, ERR_LEDGER, "The ledger %s rejects this: %s.", path, detail);

    char text[ERR_TEXT_SIZE];
    sqlite3_snprintf(sizeof text, text, sentence->format, path);
    return err_set(err, sentence->kind, "%s", text);
}
