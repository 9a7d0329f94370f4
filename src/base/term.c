/* Words of closed lists. A list has a handful of words, in the order in which people should read
 * them, so a plain search is fast enough and the table needs no second, sorted order. The empty
 * word stands for "not said": it can be looked up, but no error sentence offers it. */
#include "senbetsu/base/term.h"
#include "senbetsu/base/text.h"

#include <string.h>

int term_find(const struct term *terms, int count, const char *word)
{
    for (int i = 0; i < count; i++)
        if (strcmp(terms[i].word, word) == 0)
            return i;
    return -1;
}

const char *term_list(const struct term *terms, int count, char *buffer, size_t size)
{
    struct text list;
    text_init(&list);
    int last = count - 1;
    while (last > 0 && terms[last].word[0] == '\0')
        last--;
    for (int i = 0; i <= last; i++) {
        if (terms[i].word[0] == '\0')
            continue;
        if (list.length > 0)
            text_add(&list, i == last ? " or " : ", ");
        text_add(&list, terms[i].word);
    }
    text_copy(buffer, size, list.data);
    text_done(&list);
    return buffer;
}
