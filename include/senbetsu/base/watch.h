/* Whoever waits for long work: it is told how far that is, and can give it up. */
#ifndef SENBETSU_BASE_WATCH_H
#define SENBETSU_BASE_WATCH_H

#include <stdbool.h>
#include <stdint.h>

struct watch {
    /* What is being done, and how much of it; `of` 0 = nobody knows how much, but it takes long.
     * False = it is given up. NULL = nobody watches. */
    bool (*tell)(void *context, const char *what, int64_t done, int64_t of);
    void *context;
};

/* False = give up. `watch` may be NULL. */
bool watch_tell(const struct watch *watch, const char *what, int64_t done, int64_t of);

#endif
