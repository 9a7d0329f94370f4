/* Out of memory is the program's one fatal path, so that no caller has to handle it: a judgement is
 * on disk before it is shown, and nothing else can be lost. The hook gives the terminal back. */
#include "senbetsu/base/alloc.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void (*fatal_hook)(void);

void alloc_on_fatal(void (*hook)(void))
{
    fatal_hook = hook;
}

static _Noreturn void out_of_memory(void)
{
    void (*hook)(void) = fatal_hook;
    fatal_hook = NULL;
    if (hook != NULL)
        hook();
    fputs("senbetsu: out of memory; everything judged so far is in the ledger.\n", stderr);
    _Exit(EXIT_FAILURE);
}

/* The product is checked here and not left to the allocator: realloc() takes only bytes. */
static size_t bytes_of(size_t count, size_t size)
{
    if (size != 0 && count > SIZE_MAX / size)
        out_of_memory();
    size_t bytes = count * size;
    return bytes == 0 ? 1 : bytes;
}

void *alloc_zeroed(size_t count, size_t size)
{
    void *memory = calloc(1, bytes_of(count, size));
    if (memory == NULL)
        out_of_memory();
    return memory;
}

void *alloc_resized(void *memory, size_t count, size_t size)
{
    void *resized = realloc(memory, bytes_of(count, size));
    if (resized == NULL)
        out_of_memory();
    return resized;
}

void *alloc_room(void *memory, size_t count, size_t *capacity, size_t size)
{
    if (count < *capacity)
        return memory;
    size_t wanted = *capacity == 0 ? 8 : *capacity;
    while (wanted <= count)
        wanted = wanted > SIZE_MAX / 2 ? SIZE_MAX : wanted * 2;
    memory = alloc_resized(memory, wanted, size);
    *capacity = wanted;
    return memory;
}

char *alloc_text(const char *text)
{
    if (text == NULL)
        return NULL;
    size_t bytes = strlen(text) + 1;
    return memcpy(alloc_resized(NULL, bytes, 1), text, bytes);
}
