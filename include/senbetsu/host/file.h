/* Reading a whole file, and making the folders above one. */
#ifndef SENBETSU_HOST_FILE_H
#define SENBETSU_HOST_FILE_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>

/* A larger one is refused: 256 MB, a million fish with every column filled in. */
enum { FILE_LARGEST = 256 * 1024 * 1024 };

/* `ret` has been initialised; it is emptied first. */
bool file_read(const char *path, struct text *ret, struct err *err);

/* The part after the last slash: what error sentences call the file. */
const char *file_name(const char *path);

/* Makes every folder above a path that is not there yet. */
bool file_make_folders(const char *path, struct err *err);

#endif
