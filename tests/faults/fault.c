#include "fault.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define ON(call) (1u << (call))

enum {
    OS_CALLS = ON(CALL_OS_OPEN) | ON(CALL_OS_MAKE) | ON(CALL_OS_READ) | ON(CALL_OS_WRITE) |
               ON(CALL_OS_SYNC) | ON(CALL_OS_TRUNCATE) | ON(CALL_OS_NAME) | ON(CALL_OS_DELETE),
    ALL_CALLS = (1u << CALL_COUNT) - 1,
    MAKING = ON(CALL_OS_MAKE) | ON(CALL_OS_WRITE) | ON(CALL_OS_NAME),
};

static const struct {
    const char *name;
    unsigned calls; /* that it can strike */
    enum trouble trouble;
    int number; /* errno */
} kinds[FAULT_KIND_COUNT] = {
    [FAULT_NONE] = {"none", 0, TROUBLE_NONE, 0},
    [FAULT_READ] = {"read error", ON(CALL_READ), TROUBLE_IO, 0},
    [FAULT_SHORT_READ] = {"short read", ON(CALL_READ), TROUBLE_IO, 0},
    [FAULT_WRITE] = {"write error", ON(CALL_WRITE), TROUBLE_IO, 0},
    [FAULT_FULL] = {"disk full", ON(CALL_WRITE), TROUBLE_FULL, 0},
    [FAULT_HALF_WRITE] = {"half a write", ON(CALL_WRITE), TROUBLE_IO, 0},
    [FAULT_TORN_512] = {"torn 512", ON(CALL_WRITE), TROUBLE_IO, 0},
    [FAULT_TORN_4096] = {"torn 4096", ON(CALL_WRITE), TROUBLE_IO, 0},
    [FAULT_SYNC_KEPT] = {"sync fails, kept", ON(CALL_SYNC), TROUBLE_IO, 0},
    [FAULT_SYNC_LOST] = {"sync fails, lost", ON(CALL_SYNC), TROUBLE_IO, 0},
    [FAULT_TRUNCATE] = {"truncate error", ON(CALL_TRUNCATE), TROUBLE_IO, 0},
    [FAULT_SIZE] = {"size error", ON(CALL_SIZE), TROUBLE_IO, 0},
    [FAULT_LOCK] = {"lock error", ON(CALL_LOCK), TROUBLE_IO, 0},
    [FAULT_SHM] = {"shm error", ON(CALL_MAP) | ON(CALL_SHM_LOCK), TROUBLE_IO, 0},
    [FAULT_BUSY] = {"busy", ON(CALL_LOCK) | ON(CALL_SHM_LOCK), TROUBLE_BUSY, 0},
    [FAULT_OPEN] = {"open error", ON(CALL_OPEN), TROUBLE_PLACE, 0},
    [FAULT_DELETE] = {"delete error", ON(CALL_DELETE), TROUBLE_IO, 0},
    [FAULT_ACCESS] = {"access error", ON(CALL_ACCESS), TROUBLE_IO, 0},
    [FAULT_OS_EIO] = {"EIO", OS_CALLS, TROUBLE_IO, EIO},
    [FAULT_OS_ENOSPC] = {"ENOSPC", MAKING | ON(CALL_OS_SYNC), TROUBLE_FULL, ENOSPC},
    [FAULT_OS_EACCES] = {"EACCES",
                         ON(CALL_OS_OPEN) | ON(CALL_OS_MAKE) | ON(CALL_OS_NAME) |
                             ON(CALL_OS_DELETE),
                         TROUBLE_PLACE, EACCES},
    [FAULT_OS_EMFILE] = {"EMFILE", ON(CALL_OS_OPEN) | ON(CALL_OS_MAKE), TROUBLE_PLACE, EMFILE},
    [FAULT_OS_EINTR] = {"EINTR", ON(CALL_OS_READ) | ON(CALL_OS_WRITE) | ON(CALL_OS_SYNC),
                        TROUBLE_NONE, EINTR},
    [FAULT_OS_HALF_WRITE] = {"half a write(2)", ON(CALL_OS_WRITE), TROUBLE_FULL, 0},
    [FAULT_KILL] = {"kill", ALL_CALLS, TROUBLE_NONE, 0},
    [FAULT_VISITOR] = {"visitor", ON(CALL_READ) | ON(CALL_LOCK) | ON(CALL_SHM_LOCK), TROUBLE_NONE,
                       0},
};

enum { PATHS = 8 };
static struct {
    bool on;
    struct strike fault;
    int counts[CALL_COUNT];
    int seen, struck;
    char paths[PATHS][512];
    int path_count;
    void (*visit)(void *context);
    void *context;
} armed;

const char *fault_name(enum fault_kind kind)
{
    return kinds[kind].name;
}

enum trouble fault_trouble(enum fault_kind kind)
{
    return kinds[kind].trouble;
}

int fault_errno(enum fault_kind kind)
{
    return kinds[kind].number;
}

void fault_arm(struct strike fault)
{
    armed.on = true;
    armed.fault = fault;
    for (int call = 0; call < CALL_COUNT; call++)
        armed.counts[call] = 0;
    armed.seen = armed.struck = 0;
    armed.path_count = 0;
}

void fault_pause(void)
{
    armed.on = false;
}

void fault_resume(void)
{
    armed.on = true;
}

void fault_disarm(void)
{
    armed.on = false;
}

static void visit(void)
{
    armed.on = false;
    armed.visit(armed.context);
    armed.on = true;
}

static void note_path(const char *path)
{
    for (int i = 0; i < armed.path_count; i++)
        if (strcmp(armed.paths[i], path) == 0)
            return;
    if (armed.path_count < PATHS)
        snprintf(armed.paths[armed.path_count++], sizeof armed.paths[0], "%s", path);
}

enum fault_kind fault_strikes(enum call call, const char *path)
{
    const struct strike *fault = &armed.fault;
    if (!armed.on)
        return FAULT_NONE;
    armed.counts[call]++;
    if ((kinds[fault->kind].calls & ON(call)) == 0)
        return FAULT_NONE;
    armed.seen++;
    if (fault->at == 0 || armed.seen < fault->at || (armed.seen > fault->at && !fault->lasting))
        return FAULT_NONE;
    armed.struck++;
    note_path(path == NULL ? "" : path);
    if (fault->kind == FAULT_KILL)
        _exit(KILLED);
    if (fault->kind == FAULT_VISITOR)
        visit();
    return fault->kind;
}

int fault_struck(void)
{
    return armed.struck;
}

const char *fault_path(int index)
{
    return index < armed.path_count ? armed.paths[index] : NULL;
}

int fault_points(enum fault_kind kind)
{
    int points = 0;
    for (int call = 0; call < CALL_COUNT; call++)
        if ((kinds[kind].calls & ON(call)) != 0)
            points += armed.counts[call];
    return points;
}

void fault_set_visitor(void (*visit_with)(void *context), void *context)
{
    armed.visit = visit_with;
    armed.context = context;
}
