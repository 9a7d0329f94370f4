/* A file that gets its name only when it is whole and on the disk: until then it lies beside its
 * place under a name that nobody else has, so that whatever is broken off leaves no half file under
 * a final name, and two who write at once do not meet. */
#ifndef SENBETSU_BASE_NEW_FILE_H
#define SENBETSU_BASE_NEW_FILE_H

#include "senbetsu/base/err.h"

#include <stdbool.h>
#include <sys/types.h>

struct new_file {
    char *path;      /* what it is to be called */
    char *temporary; /* what it is called until then; NULL once it has its name */
    int file;        /* to write into; others may write by its name */
};

/* Makes the empty file "PATH.unfinished-XXXXXX" with exactly these rights, whatever the umask.
 * Unfinished files of a program that was killed an hour ago or earlier are taken away. End with
 * new_file_done whatever happens. */
bool new_file_begin(struct new_file *file, const char *path, mode_t mode, struct err *err);

/* Gives it the owner, the group and the rights of the file `other`, as far as this user may; rights
 * of a group that it cannot be given are left out. Where there is no such file nothing changes. */
void new_file_like(struct new_file *file, const char *other);

/* Brings it to the disk and gives it its name: a new one (ERR_EXISTS where that is taken), or with
 * `replace` in place of what has it. It is whole under that name or not there at all. */
bool new_file_place(struct new_file *file, bool replace, struct err *err);

/* Takes away what did not get its name. */
void new_file_done(struct new_file *file);

/* "The disk is full; …: PATH.", for what the system says (errno) where a file is written. Returns
 * false. */
bool new_file_fails(const char *path, int why, struct err *err);

/* "There is already a file PATH; choose another name." Returns false. */
bool new_file_taken(const char *path, struct err *err);

/* A name that was given or taken away is on the disk only when its folder is. Fails with errno. */
bool folder_sync(const char *path_in_it);

#endif
