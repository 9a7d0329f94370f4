/* Hashes that are written into ledgers, so they stay what they are for all time. */
#include "senbetsu/base/hash.h"

uint64_t hash_on(uint64_t hash, const char *text)
{
    for (const unsigned char *at = (const unsigned char *)text;; at++) {
        hash = (hash ^ *at) * UINT64_C(0x100000001b3);
        if (*at == '\0')
            return hash;
    }
}

uint64_t hash_mixed(uint64_t hash)
{
    hash = (hash ^ hash >> 33) * UINT64_C(0xff51afd7ed558ccd);
    hash = (hash ^ hash >> 33) * UINT64_C(0xc4ceb9fe1a85ec53);
    return hash ^ hash >> 33;
}
