#include "senbetsu/print/fates_text.h"

#include <inttypes.h>

static void add(struct text *out, size_t start, const char *before, int64_t fish, const char *after)
{
    if (fish == 0)
        return;
    text_add(out, out->length > start ? ", " : "");
    text_addf(out, "%s%s%" PRId64 "%s", before, *before != '\0' ? " " : "", fish, after);
}

void fates_text(const struct fates *fates, struct text *out)
{
    size_t start = out->length;
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        add(out, start, fate_terms[fate].word, fates->fish[fate], "");
    add(out, start, "not decided", fates->fish[FATE_UNDECIDED], "");
    add(out, start, "", fates->over, " more than were rejected");
}
