/* The log, and playing it again up to a cut. A file goes by a number, as an inode does, so that it
 * stays itself under whatever name. */
#include "disk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum event_kind {
    WROTE,
    TRUNCATED, /* `at` = the new size */
    SYNCED,
    LOST,
    NAMED, /* `path` names the file */
    RENAMED,
    DELETED,
    FOLDER_SYNCED,
    SETTLED,
    SAID,
};

struct event {
    enum event_kind kind;
    int file;
    int64_t at;
    unsigned char *bytes;
    size_t size;
    char path[DISK_PATH], to[DISK_PATH]; /* below the folder */
};

enum { NAMES = 64, FILES = 256 };

struct name {
    char path[DISK_PATH];
    int file;
};

/* Which name leads to which file. */
struct names {
    struct name of[NAMES];
    int count;
};

static struct {
    bool watching;
    char folder[DISK_PATH];
    struct image first; /* as it lay there: file i is its i-th */
    int files;
    struct names now;
    struct event *events;
    size_t count, capacity;
} disk;

const char *const outage_names[OUTAGE_COUNT] = {"all", "none", "some", "torn 512", "torn 4096"};

/* Names. */

static int find(const struct names *names, const char *path)
{
    for (int i = 0; i < names->count; i++)
        if (strcmp(names->of[i].path, path) == 0)
            return i;
    return -1;
}

static void take_away(struct names *names, const char *path)
{
    int at = find(names, path);
    if (at >= 0)
        names->of[at] = names->of[--names->count];
}

static void give(struct names *names, const char *path, int file)
{
    take_away(names, path);
    if (names->count == NAMES)
        abort();
    struct name *name = &names->of[names->count++];
    snprintf(name->path, sizeof name->path, "%s", path);
    name->file = file;
}

static const char *below(const char *path)
{
    size_t length = strlen(disk.folder);
    return strncmp(path, disk.folder, length) == 0 && path[length] == '/' ? path + length + 1
                                                                          : NULL;
}

/* Of the folder at the top: "". */
static size_t folder_length(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash == NULL ? 0 : (size_t)(slash - path);
}

static bool lies_in(const char *path, const char *folder)
{
    return folder_length(path) == strlen(folder) && strncmp(path, folder, strlen(folder)) == 0;
}

/* The log. */

static void forget_events(void)
{
    for (size_t i = 0; i < disk.count; i++)
        free(disk.events[i].bytes);
    free(disk.events);
    disk.events = NULL;
    disk.count = disk.capacity = 0;
}

void disk_forget(void)
{
    forget_events();
    image_done(&disk.first);
    disk.watching = false;
}

void disk_watch(const struct image *image, const char *folder)
{
    disk_forget();
    disk.first = *image;
    disk.files = image->count;
    disk.now.count = 0;
    for (int i = 0; i < image->count; i++) {
        struct image_file *file = &disk.first.files[i];
        file->bytes = malloc(file->size + 1);
        memcpy(file->bytes, image->files[i].bytes, file->size);
        give(&disk.now, file->name, i);
    }
    snprintf(disk.folder, sizeof disk.folder, "%s", folder);
    disk.watching = true;
}

bool disk_has(const char *path)
{
    return disk.watching && path != NULL && below(path) != NULL;
}

int disk_file(const char *path)
{
    int at = disk_has(path) ? find(&disk.now, below(path)) : -1;
    return at < 0 ? -1 : disk.now.of[at].file;
}

static struct event *add(enum event_kind kind, int file)
{
    if (disk.count == disk.capacity) {
        disk.capacity = disk.capacity == 0 ? 256 : 2 * disk.capacity;
        disk.events = realloc(disk.events, disk.capacity * sizeof *disk.events);
        if (disk.events == NULL)
            abort();
    }
    struct event *event = &disk.events[disk.count++];
    *event = (struct event){.kind = kind, .file = file};
    return event;
}

int disk_created(const char *path)
{
    if (!disk_has(path))
        return -1;
    if (disk.files == FILES)
        abort();
    int file = disk.files++;
    snprintf(add(NAMED, file)->path, DISK_PATH, "%s", below(path));
    give(&disk.now, below(path), file);
    return file;
}

void disk_wrote(int file, int64_t at, const void *bytes, size_t size)
{
    if (file < 0 || !disk.watching)
        return;
    struct event *event = add(WROTE, file);
    event->at = at;
    event->size = size;
    event->bytes = malloc(size + 1);
    memcpy(event->bytes, bytes, size);
}

void disk_truncated(int file, int64_t size)
{
    if (file >= 0 && disk.watching)
        add(TRUNCATED, file)->at = size;
}

void disk_synced(int file)
{
    if (file >= 0 && disk.watching)
        add(SYNCED, file);
}

void disk_renamed(const char *from, const char *to)
{
    int file = disk_file(from);
    if (file < 0 || !disk_has(to))
        return;
    struct event *event = add(RENAMED, file);
    snprintf(event->path, sizeof event->path, "%s", below(from));
    snprintf(event->to, sizeof event->to, "%s", below(to));
    take_away(&disk.now, below(from));
    give(&disk.now, below(to), file);
}

void disk_linked(const char *from, const char *to)
{
    int file = disk_file(from);
    if (file < 0 || !disk_has(to))
        return;
    snprintf(add(NAMED, file)->path, DISK_PATH, "%s", below(to));
    give(&disk.now, below(to), file);
}

void disk_deleted(const char *path)
{
    int file = disk_file(path);
    if (file < 0)
        return;
    snprintf(add(DELETED, file)->path, DISK_PATH, "%s", below(path));
    take_away(&disk.now, below(path));
}

void disk_folder_synced(const char *folder)
{
    char path[DISK_PATH];
    if (!disk.watching || strncmp(folder, disk.folder, strlen(disk.folder)) != 0)
        return;
    snprintf(path, sizeof path, "%s/", folder);
    const char *name = below(path);
    struct event *event = name == NULL ? NULL : add(FOLDER_SYNCED, -1);
    if (event == NULL)
        return;
    snprintf(event->path, sizeof event->path, "%s", name);
    for (size_t end = strlen(event->path); end > 0 && event->path[end - 1] == '/';)
        event->path[--end] = '\0';
}

void disk_settle(void)
{
    if (disk.watching)
        add(SETTLED, -1);
}

void disk_said(void)
{
    if (disk.watching)
        add(SAID, -1);
}

size_t disk_events(void)
{
    return disk.count;
}

int disk_said_by(size_t events)
{
    int said = 0;
    for (size_t i = 0; i < events; i++)
        said += disk.events[i].kind == SAID;
    return said;
}

/* After a cut. */

enum fate { GONE, ON_DISK, PENDING };

/* Of each of the first `count` events: has it reached the disk? */
static void find_fates(size_t count, enum fate *fates)
{
    for (size_t i = 0; i < count; i++) {
        const struct event *event = &disk.events[i];
        fates[i] = PENDING;
        for (size_t j = 0; j < i; j++) {
            const struct event *earlier = &disk.events[j];
            bool data = earlier->kind == WROTE || earlier->kind == TRUNCATED;
            if (fates[j] != PENDING)
                continue;
            if (event->kind == SETTLED)
                fates[j] = ON_DISK;
            if ((event->kind == SYNCED || event->kind == LOST) && data &&
                earlier->file == event->file)
                fates[j] = event->kind == SYNCED ? ON_DISK : GONE;
            /* A rename between two folders is in both; that of the new name counts. */
            if (event->kind == FOLDER_SYNCED &&
                (earlier->kind == NAMED || earlier->kind == RENAMED || earlier->kind == DELETED) &&
                lies_in(earlier->kind == RENAMED ? earlier->to : earlier->path, event->path))
                fates[j] = ON_DISK;
        }
    }
}

struct content {
    unsigned char *bytes;
    size_t size;
};

static void resize(struct content *content, size_t size)
{
    content->bytes = realloc(content->bytes, size + 1);
    if (content->bytes == NULL)
        abort();
    if (size > content->size)
        memset(content->bytes + content->size, 0, size - content->size);
    content->size = size;
}

static void put(struct content *content, size_t at, const unsigned char *bytes, size_t size)
{
    if (at + size > content->size)
        resize(content, at + size);
    memcpy(content->bytes + at, bytes, size);
}

static uint32_t draw(uint32_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 17;
    *seed ^= *seed << 5;
    return *seed;
}

/* Every sector of a write comes to the disk or does not. */
static void put_torn(struct content *content, const struct event *event, size_t sector,
                     uint32_t *seed)
{
    size_t from = 0, at = (size_t)event->at;
    while (from < event->size) {
        size_t size = sector - (at + from) % sector;
        if (size > event->size - from)
            size = event->size - from;
        if (draw(seed) % 2 == 0)
            put(content, at + from, event->bytes + from, size);
        from += size;
    }
}

static bool survives(enum fate fate, enum outage outage, uint32_t *seed)
{
    if (fate != PENDING)
        return fate == ON_DISK;
    return outage == OUTAGE_ALL || (outage != OUTAGE_NONE && draw(seed) % 2 == 0);
}

static void replay(size_t count, enum outage outage, uint32_t seed, const enum fate *fates,
                   struct names *names, struct content *contents)
{
    for (size_t i = 0; i < count; i++) {
        const struct event *event = &disk.events[i];
        if (event->kind == WROTE && fates[i] == PENDING && outage >= OUTAGE_TORN_512) {
            put_torn(&contents[event->file], event, outage == OUTAGE_TORN_512 ? 512 : 4096, &seed);
            continue;
        }
        if (!survives(fates[i], outage, &seed))
            continue;
        if (event->kind == WROTE)
            put(&contents[event->file], (size_t)event->at, event->bytes, event->size);
        else if (event->kind == TRUNCATED)
            resize(&contents[event->file], (size_t)event->at);
        else if (event->kind == NAMED)
            give(names, event->path, event->file);
        else if (event->kind == DELETED || event->kind == RENAMED)
            take_away(names, event->path);
        if (event->kind == RENAMED)
            give(names, event->to, event->file);
    }
}

static void begin_contents(struct names *names, struct content contents[FILES])
{
    names->count = 0;
    memset(contents, 0, FILES * sizeof *contents);
    for (int i = 0; i < disk.first.count; i++) {
        put(&contents[i], 0, disk.first.files[i].bytes, disk.first.files[i].size);
        give(names, disk.first.files[i].name, i);
    }
}

static void content_done(struct content contents[FILES])
{
    for (int i = 0; i < FILES; i++)
        free(contents[i].bytes);
}

static bool is_shared_memory(const char *path)
{
    size_t length = strlen(path);
    return length > 4 && strcmp(path + length - 4, "-shm") == 0;
}

/* Several names of one file are links to it. */
static void link_again(const struct names *names, int at, const char *folder)
{
    char first[2 * DISK_PATH], again[2 * DISK_PATH];
    int same = 0;
    while (names->of[same].file != names->of[at].file)
        same++;
    snprintf(first, sizeof first, "%s/%s", folder, names->of[same].path);
    snprintf(again, sizeof again, "%s/%s", folder, names->of[at].path);
    if (same < at && (unlink(again) != 0 || link(first, again) != 0))
        abort();
}

void disk_after_cut(size_t events, enum outage outage, uint32_t seed, const char *folder)
{
    static struct content contents[FILES];
    static struct names names;
    struct image image = {.count = 0};
    enum fate *fates = calloc(events + 1, sizeof *fates);
    find_fates(events, fates);
    begin_contents(&names, contents);
    replay(events, outage, seed | 1, fates, &names, contents);
    for (int i = names.count - 1; i >= 0; i--)
        if (is_shared_memory(names.of[i].path))
            names.of[i] = names.of[--names.count];
    for (int i = 0; i < names.count; i++) {
        const struct content *content = &contents[names.of[i].file];
        if (image.count == IMAGE_FILES)
            abort();
        struct image_file *file = &image.files[image.count++];
        memcpy(file->name, names.of[i].path, DISK_PATH);
        file->bytes = content->bytes;
        file->size = content->size;
    }
    image_write(&image, folder);
    for (int i = 0; i < names.count; i++)
        link_again(&names, i, folder);
    content_done(contents);
    free(fates);
}

void disk_lost(int file, unsigned char **ret, size_t *ret_size)
{
    static struct content contents[FILES];
    static struct names names;
    if (file < 0 || !disk.watching) {
        *ret = NULL;
        *ret_size = 0;
        return;
    }
    add(LOST, file);
    enum fate *fates = calloc(disk.count, sizeof *fates);
    find_fates(disk.count, fates);
    begin_contents(&names, contents);
    replay(disk.count, OUTAGE_ALL, 1, fates, &names, contents);
    put(&contents[file], 0, (const unsigned char *)"", 0);
    *ret = contents[file].bytes;
    *ret_size = contents[file].size;
    contents[file].bytes = NULL;
    content_done(contents);
    free(fates);
}
