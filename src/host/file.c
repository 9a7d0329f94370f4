/* Files as the rest of the program takes them: whole or block by block, or one sentence why not.
 *
 * A path, its errors and the limit of what is read are dealt with here, so that no other layer
 * needs to know errno. */
#include "senbetsu/host/file.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

static bool refuse_large(const char *path, struct err *err)
{
    return err_set(err, ERR_INPUT, "%s is larger than 256 MB, which is the limit.", path);
}

static bool refuse_unread(const char *path, struct err *err)
{
    return err_set(err, ERR_SYSTEM, "%s cannot be read: %s.", path, strerror(errno));
}

static bool check_kind(struct file_reader *reader, struct err *err)
{
    struct stat found;
    if (fstat(fileno(reader->file), &found) != 0)
        return refuse_unread(reader->path, err);
    if (S_ISDIR(found.st_mode))
        return err_set(err, ERR_SYSTEM, "%s is a folder, not a file.", reader->path);
    if (found.st_size > FILE_LARGEST)
        return refuse_large(reader->path, err);
    reader->size = found.st_size;
    return true;
}

bool file_open(const char *path, struct file_reader *ret, struct err *err)
{
    struct file_reader reader = {.path = path, .file = fopen(path, "rb")};
    if (reader.file == NULL)
        return err_set(err, ERR_SYSTEM, "%s cannot be opened: %s.", path, strerror(errno));
    if (!check_kind(&reader, err)) {
        fclose(reader.file);
        return false;
    }
    *ret = reader;
    return true;
}

bool file_more(void *context, struct text *bytes, struct err *err)
{
    struct file_reader *reader = context;
    char block[16384];
    size_t got = fread(block, 1, sizeof block, reader->file);
    text_add_bytes(bytes, block, got);
    reader->read += (int64_t)got;
    if (reader->read > FILE_LARGEST)
        return refuse_large(reader->path, err);
    return !ferror(reader->file) || refuse_unread(reader->path, err);
}

void file_close(struct file_reader *reader)
{
    fclose(reader->file);
}

bool file_rest(struct file_reader *reader, struct text *bytes, struct err *err)
{
    size_t before;
    bool fine;
    do {
        before = bytes->length;
        fine = file_more(reader, bytes, err);
    } while (fine && bytes->length > before);
    return fine;
}

bool file_read(const char *path, struct text *ret, struct err *err)
{
    struct file_reader reader = {.path = path};
    text_clear(ret);
    if (!file_open(path, &reader, err))
        return false;
    bool done = file_rest(&reader, ret, err);
    file_close(&reader);
    return done;
}

const char *file_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash != NULL ? slash + 1 : path;
}

bool file_make_folders(const char *path, struct err *err)
{
    struct text folder;
    bool made = true;
    text_init(&folder);
    for (const char *end = strchr(path, '/'); made && end != NULL; end = strchr(end + 1, '/')) {
        struct stat found;
        text_clear(&folder);
        text_add_bytes(&folder, path, (size_t)(end - path));
        made = folder.length == 0 || stat(folder.data, &found) == 0 ||
               mkdir(folder.data, 0777) == 0 || errno == EEXIST ||
               err_set(err, ERR_SYSTEM, "The folder %s cannot be created: %s.", folder.data,
                       strerror(errno));
    }
    text_done(&folder);
    return made;
}
