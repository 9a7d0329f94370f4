/* A standard's INI form: whatever is read is written and read again to the same standard. */
#include "fuzz.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/standard.h"

#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
    static struct standard first, second;
    struct text in, once, twice;
    struct err err = {0};
    text_init(&in);
    text_init(&once);
    text_init(&twice);
    text_add_bytes(&in, (const char *)bytes, length);
    if (!standard_parse(in.data, in.length, "any.ini", &first, &err)) {
        fuzz_sentence(&err);
        FUZZ_HOLDS(strncmp(err.text, "any.ini, line ", 14) == 0);
    } else {
        standard_write(&first, &once);
        FUZZ_HOLDS(standard_parse(once.data, once.length, "again.ini", &second, &err));
        standard_write(&second, &twice);
        FUZZ_HOLDS(strcmp(once.data, twice.data) == 0);
    }
    text_done(&in);
    text_done(&once);
    text_done(&twice);
    return 0;
}
