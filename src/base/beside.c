/* The names beside a ledger. They are in the lowest layer because two that do not know each other
 * go by them: the store makes these files, and what writes lists and exports keeps off them. */
#include "senbetsu/base/beside.h"

#include <string.h>

static const struct {
    const char *mark;
    bool more; /* something follows */
} marks[BESIDE_KINDS] = {
    [BESIDE_WAL] = {"-wal", false},
    [BESIDE_SHM] = {"-shm", false},
    [BESIDE_JOURNAL] = {"-journal", false},
    [BESIDE_ACKNOWLEDGED] = {"-acknowledged", false},
    [BESIDE_BEFORE_VERSION] = {".before-v", true},
    [BESIDE_BEFORE_RESTORE] = {".before-restore-", true},
    [BESIDE_BEFORE_JOIN] = {".before-join-", true},
    [BESIDE_RESCUED] = {".rescued-", true},
    [BESIDE_RESTORING] = {".restoring-", true},
    [BESIDE_COPIES] = {".copies", true},
    [BESIDE_UNFINISHED] = {".unfinished-", true},
};

void beside_add(struct text *out, const char *path, enum beside kind)
{
    text_addf(out, "%s%s", path, marks[kind].mark);
}

static bool has_mark(const char *rest, enum beside kind)
{
    size_t length = strlen(marks[kind].mark);
    return strncmp(rest, marks[kind].mark, length) == 0 &&
           (marks[kind].more || rest[length] == '\0');
}

bool beside_split(const char *path, size_t *ret_length, enum beside *ret_kind)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash == NULL ? path : slash + 1;
    for (const char *rest = *name == '\0' ? name : name + 1; *rest != '\0'; rest++)
        for (int kind = 0; kind < BESIDE_KINDS; kind++)
            if (has_mark(rest, (enum beside)kind)) {
                *ret_length = (size_t)(rest - path);
                *ret_kind = (enum beside)kind;
                return true;
            }
    return false;
}
