/* A file system of SQLite's beneath all others: the plain one, with every call counted, made to
 * fail where fault.h says so, and written into the log of disk.h. Nothing is really synced: what a
 * sync would have kept, the log knows. */
#ifndef SENBETSU_TESTS_FAULTS_VFS_H
#define SENBETSU_TESTS_FAULTS_VFS_H

#include <stdbool.h>

/* Makes it the default; before anything is opened. */
void vfs_register(void);

/* Can files that are opened from now on share memory, as a WAL needs it? */
void vfs_share_memory(bool can);

#endif
