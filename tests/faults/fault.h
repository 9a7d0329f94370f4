/* Which call fails, and how. Calls are those that SQLite makes of its file system (vfs.c) and those
 * that our own code makes of the operating system (calls.c); both ask here before each. A fault is
 * of one kind and strikes the n-th call that it can strike, counted from 1: trying all n is trying
 * every point of a scenario. */
#ifndef SENBETSU_TESTS_FAULTS_FAULT_H
#define SENBETSU_TESTS_FAULTS_FAULT_H

#include <stdbool.h>
#include <stddef.h>

enum call {
    /* SQLite's */
    CALL_OPEN,
    CALL_READ,
    CALL_WRITE,
    CALL_SYNC,
    CALL_TRUNCATE,
    CALL_SIZE,
    CALL_LOCK,
    CALL_MAP,      /* shared memory */
    CALL_SHM_LOCK, /* the locks of a WAL */
    CALL_DELETE,
    CALL_ACCESS,
    /* our own */
    CALL_OS_OPEN, /* what is there */
    CALL_OS_MAKE, /* a new file, also by mkstemp */
    CALL_OS_READ,
    CALL_OS_WRITE,
    CALL_OS_SYNC, /* of files and folders */
    CALL_OS_TRUNCATE,
    CALL_OS_NAME, /* rename and link */
    CALL_OS_DELETE,
    CALL_COUNT
};

enum fault_kind {
    FAULT_NONE,
    FAULT_READ,
    FAULT_SHORT_READ,
    FAULT_WRITE,
    FAULT_FULL,
    FAULT_HALF_WRITE,
    FAULT_TORN_512,
    FAULT_TORN_4096,
    FAULT_SYNC_KEPT, /* failed, but what it was for has reached the disk */
    FAULT_SYNC_LOST, /* failed, and what it was for is gone */
    FAULT_TRUNCATE,
    FAULT_SIZE,
    FAULT_LOCK,
    FAULT_SHM,
    FAULT_BUSY,
    FAULT_OPEN,
    FAULT_DELETE,
    FAULT_ACCESS,
    FAULT_OS_EIO,
    FAULT_OS_ENOSPC,
    FAULT_OS_EACCES,
    FAULT_OS_EMFILE,
    FAULT_OS_EINTR,
    FAULT_OS_HALF_WRITE,
    FAULT_KILL,    /* the process ends before the call */
    FAULT_VISITOR, /* somebody else writes to the ledger before the call, which then succeeds */
    FAULT_KIND_COUNT
};

/* What a sentence about it must be about. */
enum trouble {
    TROUBLE_NONE, /* whatever it says */
    TROUBLE_IO,
    TROUBLE_FULL,
    TROUBLE_BUSY,
    TROUBLE_PLACE, /* a file could not be opened, made, named or deleted */
};

struct strike {
    enum fault_kind kind;
    int at;       /* 0 = nowhere: only count */
    bool lasting; /* from there on, not only once */
};

const char *fault_name(enum fault_kind kind);
enum trouble fault_trouble(enum fault_kind kind);
int fault_errno(enum fault_kind kind);

/* Begins to count and to strike; the counts begin at 0. */
void fault_arm(struct strike fault);

/* Nothing strikes until fault_resume. */
void fault_pause(void);
void fault_resume(void);
void fault_disarm(void);

/* Asked before each call: what happens to it. `path` is the file it is about. */
enum fault_kind fault_strikes(enum call call, const char *path);

/* How often it struck since it was armed, and the files that it struck, the first one first; NULL
 * after the last. */
int fault_struck(void);
const char *fault_path(int index);

/* How many calls a fault of this kind could have struck since then. */
int fault_points(enum fault_kind kind);

/* Who comes by with FAULT_VISITOR. */
void fault_set_visitor(void (*visit)(void *context), void *context);

enum { KILLED = 77 }; /* the exit status of FAULT_KILL */

#endif
