#include "fuzz.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* The undefined-behaviour sanitizer only reports unless it is told to stop. */
const char *__ubsan_default_options(void); /* NOLINT */
const char *__ubsan_default_options(void)  /* NOLINT */
{
    return "halt_on_error=1:abort_on_error=1:print_stacktrace=1";
}

void fuzz_holds(bool holds, const char *condition, const char *file, int line)
{
    if (holds)
        return;
    fprintf(stderr, "%s:%d: %s does not hold\n", file, line, condition);
    abort();
}

void fuzz_sentence(const struct err *err)
{
    FUZZ_HOLDS(err->code != ERR_NONE && err->text[0] != '\0');
    for (const char *cursor = err->text; *cursor != '\0';) {
        uint32_t code = utf8_next(&cursor);
        FUZZ_HOLDS(utf8_shown(code) == code);
    }
}

static char folder[64];

static void remove_folder(void)
{
    DIR *stream = opendir(folder);
    struct dirent *entry;
    char path[512];
    while (stream != NULL && (entry = readdir(stream)) != NULL) {
        snprintf(path, sizeof path, "%s/%.300s", folder, entry->d_name);
        unlink(path);
    }
    if (stream != NULL)
        closedir(stream);
    rmdir(folder);
}

const char *fuzz_folder(void)
{
    struct stat found;
    if (folder[0] != '\0')
        return folder;
    snprintf(folder, sizeof folder, "%s/senbetsu-XXXXXX",
             stat("/dev/shm", &found) == 0 ? "/dev/shm" : "/tmp");
    FUZZ_HOLDS(mkdtemp(folder) != NULL);
    atexit(remove_folder);
    return folder;
}

unsigned fuzz_take(struct fuzz_bytes *bytes)
{
    if (bytes->left == 0)
        return 0;
    bytes->left--;
    return *bytes->at++;
}
