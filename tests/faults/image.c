/* The files of a folder as bytes in memory: every run begins with the same ones. */
#include "disk.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static bool is_shared_memory(const char *name)
{
    size_t length = strlen(name);
    return length > 4 && strcmp(name + length - 4, "-shm") == 0;
}

static void read_file(struct image *image, const char *path, const char *name, size_t size)
{
    if (image->count == IMAGE_FILES)
        abort();
    struct image_file *file = &image->files[image->count++];
    snprintf(file->name, sizeof file->name, "%s", name);
    file->size = size;
    file->bytes = malloc(size + 1);
    FILE *from = fopen(path, "rb");
    if (from == NULL || fread(file->bytes, 1, size, from) != size)
        abort();
    fclose(from);
}

static void read_folder(struct image *image, const char *folder, const char *below)
{
    char path[2 * DISK_PATH], name[DISK_PATH];
    snprintf(path, sizeof path, "%s/%s", folder, below);
    DIR *open = opendir(path);
    if (open == NULL)
        abort();
    for (struct dirent *entry; (entry = readdir(open)) != NULL;) {
        struct stat about;
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        if (snprintf(name, sizeof name, "%s%s", below, entry->d_name) >= (int)sizeof name - 1)
            abort();
        snprintf(path, sizeof path, "%s/%s", folder, name);
        if (lstat(path, &about) != 0)
            abort();
        if (S_ISDIR(about.st_mode)) {
            strcat(name, "/");
            read_folder(image, folder, name);
        } else if (!is_shared_memory(name)) {
            read_file(image, path, name, (size_t)about.st_size);
        }
    }
    closedir(open);
}

void image_read(struct image *image, const char *folder)
{
    *image = (struct image){.count = 0};
    read_folder(image, folder, "");
}

static void make_folder_of(const char *path)
{
    char folder[2 * DISK_PATH];
    snprintf(folder, sizeof folder, "%.*s", (int)(strrchr(path, '/') - path), path);
    mkdir(folder, 0700); /* it may be there */
}

void image_write(const struct image *image, const char *folder)
{
    char path[2 * DISK_PATH];
    for (int i = 0; i < image->count; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, image->files[i].name);
        make_folder_of(path);
        FILE *file = fopen(path, "wb");
        if (file == NULL ||
            fwrite(image->files[i].bytes, 1, image->files[i].size, file) != image->files[i].size ||
            fclose(file) != 0)
            abort();
    }
}

void image_done(struct image *image)
{
    for (int i = 0; i < image->count; i++)
        free(image->files[i].bytes);
    image->count = 0;
}
