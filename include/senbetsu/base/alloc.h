/* Memory that is always there: running out is the program's one fatal path.
 *
 * No caller checks for NULL, so error paths that no test could reach do not exist. */
#ifndef SENBETSU_BASE_ALLOC_H
#define SENBETSU_BASE_ALLOC_H

#include <stddef.h>

/* What is called once before the program ends for want of memory: it gives the terminal back.
 * NULL takes the hook away again. */
void alloc_on_fatal(void (*hook)(void));

/* `count` items of `size` bytes, zeroed. Never NULL; free with free(). */
void *alloc_zeroed(size_t count, size_t size);

/* `memory` (or NULL) resized to `count` items of `size` bytes; what is added is not zeroed. */
void *alloc_resized(void *memory, size_t count, size_t size);

/* Makes room for one item more in a growing array: `*capacity` doubles when `count` has reached it.
 */
void *alloc_room(void *memory, size_t count, size_t *capacity, size_t size);

/* A copy of `text` on the heap; NULL stays NULL. */
char *alloc_text(const char *text);

#endif
