#include "senbetsu/report/pair_text.h"
#include "senbetsu/base/text.h"

#include <string.h>

static const char *known(const char *code)
{
    return code[0] != '\0' ? code : "?";
}

const char *pair_text(const struct spawning *spawning, char *buffer, size_t size)
{
    struct text out;
    text_init(&out);
    if (spawning->dam[0] != '\0' || spawning->sires[0] != '\0')
        text_addf(&out, "%s × %s", known(spawning->dam), known(spawning->sires));
    if (strchr(spawning->sires, ';') != NULL)
        text_addf(&out, " (%s)", siring_terms[spawning->siring].word);
    text_copy(buffer, size, out.data);
    text_done(&out);
    return buffer;
}

const char *round_whose(const struct round *round)
{
    return round->spawning[0] != '\0' ? round->spawning : "mixed";
}
