/* Files of the source tree that tests read: published values, and texts as they should come out. */
#ifndef SENBETSU_TESTS_SUPPORT_SOURCE_H
#define SENBETSU_TESTS_SUPPORT_SOURCE_H

#include "senbetsu/base/text.h"
#include "support/test.h"

static inline void source_path(const char *path, char *buffer, size_t size)
{
    const char *source = getenv("SENBETSU_SOURCE");
    snprintf(buffer, size, "%s/%s", source == NULL ? "." : source, path);
}

/* Initializes `ret` with the whole file at `path`. */
static inline void whole_file(const char *path, struct text *ret)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        fail_msg("cannot read %s", path);
    text_init(ret);
    char bytes[4096];
    for (size_t read; (read = fread(bytes, 1, sizeof bytes, file)) > 0;)
        text_add_bytes(ret, bytes, read);
    fclose(file);
}

/* The same with a path under the source tree. */
static inline void source_file(const char *path, struct text *ret)
{
    char whole[4096];
    source_path(path, whole, sizeof whole);
    whole_file(whole, ret);
}

/* `actual` must be what the file at `path` holds. With SENBETSU_REGENERATE=1 it is written there
 * instead, to be read over before it is committed. */
static inline void assert_as_in_source(const char *path, const char *actual)
{
    if (getenv("SENBETSU_REGENERATE") != NULL) {
        char whole[4096];
        source_path(path, whole, sizeof whole);
        FILE *file = fopen(whole, "wb");
        if (file == NULL || fputs(actual, file) < 0 || fclose(file) != 0)
            fail_msg("cannot write %s", whole);
        return;
    }
    struct text expected;
    source_file(path, &expected);
    assert_string_equal(actual, expected.data);
    text_done(&expected);
}

#endif
