/* Files as the rest of the program takes them: whole, or not at all with one sentence why.
 *
 * A path, its errors and the limit of what is read are dealt with here, so that no other layer
 * needs to know errno. */
#include "senbetsu/host/file.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

static bool refuse_large(const char *path, struct err *err)
{
    return err_set(err, ERR_INPUT, "%s is larger than 256 MB, which is the limit.", path);
}

static bool read_all(FILE *file, const char *path, struct text *ret, struct err *err)
{
    struct stat found;
    if (fstat(fileno(file), &found) != 0)
        return err_set(err, ERR_SYSTEM, "%s cannot be read: %s.", path, strerror(errno));
    if (S_ISDIR(found.st_mode))
        return err_set(err, ERR_SYSTEM, "%s is a folder, not a file.", path);
    if (found.st_size > FILE_LARGEST)
        return refuse_large(path, err);
    char block[16384];
    size_t got;
    while ((got = fread(block, 1, sizeof block, file)) > 0) {
        text_add_bytes(ret, block, got);
        if (ret->length > FILE_LARGEST)
            return refuse_large(path, err);
    }
    if (ferror(file))
        return err_set(err, ERR_SYSTEM, "%s cannot be read: %s.", path, strerror(errno));
    return true;
}

bool file_read(const char *path, struct text *ret, struct err *err)
{
    text_clear(ret);
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        return err_set(err, ERR_SYSTEM, "%s cannot be opened: %s.", path, strerror(errno));
    bool done = read_all(file, path, ret, err);
    fclose(file);
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
