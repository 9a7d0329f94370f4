#include "senbetsu/ui/label.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include <string.h>

const char *label_fit(const char *label, int columns, char ret_text[LABEL_SIZE])
{
    text_copy(ret_text, LABEL_SIZE, label);
    size_t length = strlen(ret_text);
    char *gloss = strrchr(ret_text, '(');
    if (utf8_width(ret_text) <= columns || gloss == NULL || gloss == ret_text ||
        ret_text[length - 1] != ')')
        return ret_text;
    while (gloss > ret_text && gloss[-1] == ' ')
        gloss--;
    *gloss = '\0';
    return ret_text;
}
