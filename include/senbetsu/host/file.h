/* Reading a file, whole or block by block, and making the folders above one. */
#ifndef SENBETSU_HOST_FILE_H
#define SENBETSU_HOST_FILE_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

/* A larger one is refused: 256 MB, a million fish with every column filled in. */
enum { FILE_LARGEST = 256 * 1024 * 1024 };

/* `ret` has been initialised; it is emptied first. */
bool file_read(const char *path, struct text *ret, struct err *err);

/* Block by block. */
struct file_reader {
    const char *path; /* the caller's */
    FILE *file;
    int64_t size; /* 0 = it cannot be known, as of a pipe */
    int64_t read; /* of it, so far */
};
bool file_open(const char *path, struct file_reader *ret, struct err *err);

/* Appends the next block; nothing at the end. `reader` is a struct file_reader. */
bool file_more(void *reader, struct text *bytes, struct err *err);

/* Appends all that is left. */
bool file_rest(struct file_reader *reader, struct text *bytes, struct err *err);
void file_close(struct file_reader *reader);

/* The part after the last slash: what error sentences call the file. */
const char *file_name(const char *path);

/* Makes every folder above a path that is not there yet. */
bool file_make_folders(const char *path, struct err *err);

#endif
