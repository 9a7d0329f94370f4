/* 64 bits that stand for what they are made of. */
#ifndef SENBETSU_BASE_HASH_H
#define SENBETSU_BASE_HASH_H

#include <stdint.h>

/* FNV-1a of 64 bits, http://www.isthe.com/chongo/tech/comp/fnv/: begin with HASH_BEGINS; the end of
 * each text counts, so "a" "bc" is not "ab" "c". */
#define HASH_BEGINS UINT64_C(0xcbf29ce484222325)
uint64_t hash_on(uint64_t hash, const char *text);

/* FNV's low bits are good and its high bits are not: they are folded in (the finish of MurmurHash3,
 * https://github.com/aappleby/smhasher). */
uint64_t hash_mixed(uint64_t hash);

#endif
