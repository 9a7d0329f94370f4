/* What the fuzz targets share: their oracle, a folder of their own, and the way to end.
 *
 * Each target is one file and one function, which gets any bytes at all. Whatever they are, nothing
 * crashes, leaks or is undefined (the sanitizers see to that), and what the target holds of its
 * results is true. */
#ifndef SENBETSU_TESTS_FUZZ_FUZZ_H
#define SENBETSU_TESTS_FUZZ_FUZZ_H

#include "senbetsu/base/err.h"

#include <stddef.h>
#include <stdint.h>

/* The fuzzer's own names. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length); /* NOLINT */
int LLVMFuzzerInitialize(int *count, char ***words);             /* NOLINT */

/* Ends the run where the condition does not hold: the fuzzer keeps the bytes. */
#define FUZZ_HOLDS(condition) fuzz_holds((condition), #condition, __FILE__, __LINE__)
void fuzz_holds(bool holds, const char *condition, const char *file, int line);

/* A refusal is one sentence of characters that can be shown. */
void fuzz_sentence(const struct err *err);

/* A folder in memory where there is one; it is removed with what is in it when the program ends. */
const char *fuzz_folder(void);

/* Takes bytes off the front; 0 once there are none. */
struct fuzz_bytes {
    const uint8_t *at;
    size_t left;
};
unsigned fuzz_take(struct fuzz_bytes *bytes);

#endif
