/* What happens to the files of one folder while it is watched, and what a power cut would leave of
 * them.
 *
 * A write reaches the disk for certain only when its file is synced, a name (created, renamed,
 * deleted) only when its folder is. Until then any of it may be there after a cut and any other
 * part not, in whatever order it was said: no file system is as careless as that in all of this at
 * once, and a ledger that outlives it outlives them all. Paths are those the program uses, below
 * the watched folder. */
#ifndef SENBETSU_TESTS_FAULTS_DISK_H
#define SENBETSU_TESTS_FAULTS_DISK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { DISK_PATH = 160 };

/* Files that lie in a folder, by name ("ledger.db", "stick/copy.db"). */
enum { IMAGE_FILES = 32 };
struct image {
    struct image_file {
        char name[DISK_PATH];
        unsigned char *bytes;
        size_t size;
    } files[IMAGE_FILES];
    int count;
};

/* Reads all files of a folder and of the folders in it, but for shared memory, which no restart
 * outlives. Nobody may have one of them open: closing a file gives up the locks on it. */
void image_read(struct image *image, const char *folder);
void image_write(const struct image *image, const char *folder);
void image_done(struct image *image);

/* Begins the log: the image lies in `folder` and is on the disk. */
void disk_watch(const struct image *image, const char *folder);
void disk_forget(void);

/* Is this path in the watched folder? */
bool disk_has(const char *path);

/* The file that a path names now, -1 = none. */
int disk_file(const char *path);

/* What was done, after it was. */
int disk_created(const char *path);
void disk_wrote(int file, int64_t at, const void *bytes, size_t size);
void disk_truncated(int file, int64_t size);
void disk_synced(int file);
void disk_renamed(const char *from, const char *to);
void disk_linked(const char *from, const char *to);
void disk_deleted(const char *path);
void disk_folder_synced(const char *folder); /* with or without a slash at its end */

/* A sync failed and what it was for is gone: what was written since the one before never reaches
 * the disk. Gives the file as it is then; the caller frees `*ret` and puts it there. */
void disk_lost(int file, unsigned char **ret, size_t *ret_size);

/* All that was done so far reaches the disk. */
void disk_settle(void);

/* The program has told somebody that one more step is done. */
void disk_said(void);

/* How many things happened so far, and how many steps had been told by the first `events`. */
size_t disk_events(void);
int disk_said_by(size_t events);

/* What of all that was not synced is there after a cut. Torn writes are so by sectors. */
enum outage {
    OUTAGE_ALL,
    OUTAGE_NONE,
    OUTAGE_SOME,
    OUTAGE_TORN_512,
    OUTAGE_TORN_4096,
    OUTAGE_COUNT
};
extern const char *const outage_names[OUTAGE_COUNT];

/* The files after a cut that came when so much had happened, written into another folder. */
void disk_after_cut(size_t events, enum outage cut, uint32_t seed, const char *folder);

#endif
