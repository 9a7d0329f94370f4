/* Placing a file. The temporary name is made exclusively and at random (mkstemp), so no link that
 * somebody laid there is followed and nobody else's file is written into. The final name is given
 * by link(), which, unlike rename(), never takes a name from another file.
 *
 * Who is killed leaves an unfinished file. It is told by its name, belongs to nobody after an hour
 * without a write, and goes when the next file is written in that folder; the age is taken from the
 * disk's own clock, the instants of the new file and of the old. */
#include "senbetsu/base/new_file.h"

#include "senbetsu/base/alloc.h"
#include "senbetsu/base/beside.h"
#include "senbetsu/base/text.h"

#include <ctype.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

bool new_file_fails(const char *path, int why, struct err *err)
{
    static const struct {
        int why;
        const char *says;
    } causes[] = {
        {ENOSPC, "The disk is full; free some space on it or use another one"},
        {EDQUOT, "Your share of the disk is full; free some space on it or use another one"},
        {EROFS, "The disk is read-only; use another one"},
        {EIO, "The disk reports an error; use another one"},
        {EACCES, "You may not write there; choose another folder"},
        {EPERM, "You may not write there; choose another folder"},
        {ENOENT, "Its folder is not there; make it first or choose another"},
        {ENOTDIR, "What should be its folder is none; choose another"},
        {ENAMETOOLONG, "The name is too long; choose a shorter one"},
        {EFBIG, "The disk takes no file of this size; use another one"},
    };
    for (size_t i = 0; i < sizeof causes / sizeof *causes; i++)
        if (causes[i].why == why)
            return err_set(err, err_class(why), "%s: %s.", causes[i].says, path);
    return err_set(err, ERR_SYSTEM, "%s; choose another place: %s.", strerror(why), path);
}

static char *folder_of(const char *path)
{
    char *folder = alloc_text(path);
    char *slash = strrchr(folder, '/');
    if (slash == NULL) {
        free(folder);
        return alloc_text(".");
    }
    slash[slash == folder ? 1 : 0] = '\0';
    return folder;
}

bool folder_sync(const char *path_in_it)
{
    char *folder = folder_of(path_in_it);
    int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    free(folder);
    if (file < 0)
        return false;
    /* Some file systems have nothing to bring to the disk for a folder, and say so. */
    bool synced = fsync(file) == 0 || errno == EINVAL;
    int why = errno;
    close(file);
    errno = why;
    return synced;
}

enum { RANDOM_LETTERS = 6, LEFT_AFTER_SECONDS = 60 * 60 };

/* "….unfinished-Xk3f9A", and what SQLite puts beside such a file. */
static bool is_unfinished(const char *name, const char *mark)
{
    static const char *const ends[] = {"", "-journal", "-wal", "-shm"};
    const char *found = strstr(name, mark);
    if (found == NULL)
        return false;
    found += strlen(mark);
    for (int i = 0; i < RANDOM_LETTERS; i++)
        if (!isalnum((unsigned char)*found++))
            return false;
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
        if (strcmp(found, ends[i]) == 0)
            return true;
    return false;
}

static void take_leftover(DIR *folder, const char *name, time_t now)
{
    struct stat about;
    if (fstatat(dirfd(folder), name, &about, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(about.st_mode) &&
        about.st_uid == geteuid() && now - about.st_mtime > LEFT_AFTER_SECONDS)
        unlinkat(dirfd(folder), name, 0);
}

/* `file` has just been made in that folder. */
static void tidy(const struct new_file *file)
{
    struct stat fresh;
    struct text mark;
    char *path = folder_of(file->temporary);
    DIR *folder = opendir(path);
    text_init(&mark);
    beside_add(&mark, "", BESIDE_UNFINISHED);
    if (folder != NULL && fstat(file->file, &fresh) == 0)
        for (struct dirent *entry; (entry = readdir(folder)) != NULL;)
            if (is_unfinished(entry->d_name, mark.data))
                take_leftover(folder, entry->d_name, fresh.st_mtime);
    if (folder != NULL)
        closedir(folder);
    text_done(&mark);
    free(path);
}

bool new_file_begin(struct new_file *file, const char *path, mode_t mode, struct err *err)
{
    struct text name;
    text_init(&name);
    beside_add(&name, path, BESIDE_UNFINISHED);
    text_add_repeated(&name, "X", RANDOM_LETTERS);
    int made = mkstemp(name.data);
    int why = errno;
    *file = (struct new_file){.path = alloc_text(path), .file = made};
    if (made >= 0) {
        file->temporary = alloc_text(name.data);
        fcntl(made, F_SETFD, FD_CLOEXEC);
        /* A disk that knows no rights refuses them. */
        fchmod(made, mode);
        tidy(file);
    }
    text_done(&name);
    return made >= 0 || new_file_fails(path, why, err);
}

void new_file_like(struct new_file *file, const char *other)
{
    struct stat as;
    struct stat is;
    if (stat(other, &as) != 0)
        return;
    if (fchown(file->file, as.st_uid, as.st_gid) != 0)
        (void)!fchown(file->file, (uid_t)-1, as.st_gid);
    bool same_group = fstat(file->file, &is) == 0 && is.st_gid == as.st_gid;
    /* Its owner goes on writing it. */
    fchmod(file->file, 0600 | (as.st_mode & (same_group ? 0777 : 0707)));
}

/* Still the file that was made, and not one that somebody has put there since? */
static bool is_ours(const struct new_file *file)
{
    struct stat made;
    struct stat found;
    if (fstat(file->file, &made) != 0 || lstat(file->temporary, &found) != 0)
        return false;
    errno = EEXIST;
    return made.st_dev == found.st_dev && made.st_ino == found.st_ino;
}

/* Where the disk has no hard links (most memory sticks) only whoever takes the same name in the
 * same instant is not noticed: an empty file that held the name would outlive a kill. */
static bool give_new_name(const struct new_file *file)
{
    struct stat about;
    if (link(file->temporary, file->path) == 0) {
        unlink(file->temporary);
        return true;
    }
    if (errno != EPERM && errno != EOPNOTSUPP && errno != ENOSYS)
        return false;
    errno = EEXIST;
    return lstat(file->path, &about) != 0 && rename(file->temporary, file->path) == 0;
}

bool new_file_taken(const char *path, struct err *err)
{
    return err_set(err, ERR_EXISTS, "There is already a file %s; choose another name.", path);
}

bool new_file_place(struct new_file *file, bool replace, struct err *err)
{
    if (!is_ours(file) || fsync(file->file) != 0)
        return new_file_fails(file->path, errno, err);
    if (replace ? rename(file->temporary, file->path) != 0 : !give_new_name(file))
        return errno == EEXIST ? new_file_taken(file->path, err)
                               : new_file_fails(file->path, errno, err);
    free(file->temporary);
    file->temporary = NULL;
    if (folder_sync(file->path))
        return true;
    /* It might be gone after a power cut: better gone now than counted on. */
    int why = errno;
    if (!replace)
        unlink(file->path);
    return new_file_fails(file->path, why, err);
}

void new_file_done(struct new_file *file)
{
    static const enum beside company[] = {BESIDE_JOURNAL, BESIDE_WAL, BESIDE_SHM};
    struct text name;
    text_init(&name);
    for (size_t i = 0; file->temporary != NULL && i < sizeof company / sizeof *company; i++) {
        text_clear(&name);
        beside_add(&name, file->temporary, company[i]);
        unlink(name.data);
    }
    text_done(&name);
    if (file->temporary != NULL)
        unlink(file->temporary);
    if (file->file >= 0)
        close(file->file);
    free(file->temporary);
    free(file->path);
    *file = (struct new_file){.file = -1};
}
