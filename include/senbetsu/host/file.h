/* Reading a whole file. */
#ifndef SENBETSU_HOST_FILE_H
#define SENBETSU_HOST_FILE_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include <stdbool.h>

/* No file of ours is larger: 64 MB. */
enum { FILE_LARGEST = 64 * 1024 * 1024 };

/* `ret` has been initialised; it is emptied first. */
bool file_read(const char *path, struct text *ret, struct err *err);

/* The part after the last slash: what error sentences call the file. */
const char *file_name(const char *path);

#endif
