/* Checksums of a ledger's pages (docs/decisions/pages.md). */
#ifndef STORE_PAGES_H
#define STORE_PAGES_H

enum {
    PAGE_SIZE = 4096,  /* of every ledger */
    PAGE_RESERVED = 8, /* of it: the checksum, which SQLite leaves room for at a page's end */
};

/* Puts a VFS over the one that is SQLite's default and makes it the default. Gives a code of
 * SQLite's; a second call does nothing. */
int pages_register(void);

/* An opcode of sqlite3_file_control: every page that is read from now on must have its checksum.
 * Without it only a file whose header reserves room for them is looked at. */
enum { PAGES_SEAL = 0x3e50ab1f };

/* Another: gives the code (an int) with which the disk refused a read since this was asked last,
 * SQLITE_OK where it did not. SQLite's own checks tell of such a page as they do of a damaged one.
 */
enum { PAGES_REFUSED = PAGES_SEAL + 1 };

#endif
