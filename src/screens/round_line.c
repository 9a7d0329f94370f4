#include "senbetsu/screens/round_line.h"

#include "senbetsu/base/text.h"

#include <stdio.h>
#include <string.h>

const char *round_line_name(const struct round_line *line, char ret_text[ROUND_TEXT_SIZE])
{
    snprintf(ret_text, ROUND_TEXT_SIZE, "%s%s%s", stage_terms[line->stage].word,
             line->lot[0] != '\0' ? " " : "", line->lot);
    return ret_text;
}

static void add_days(struct text *out, const struct round_line *line)
{
    if (line->first_day[0] == '\0')
        return;
    text_addf(out, ", %s", line->first_day);
    if (strcmp(line->first_day, line->last_day) != 0)
        text_addf(out, " to %s", line->last_day);
}

const char *round_line_about(const struct round_line *line, char ret_text[ROUND_TEXT_SIZE])
{
    struct text out;
    text_init(&out);
    if (line->tallied)
        text_add(&out, line->stated ? "stated" : "tallied");
    else
        text_addf(&out, "%d %s", line->bowls, line->bowls == 1 ? "bowl" : "bowls");
    add_days(&out, line);
    if (line->places >= 0)
        text_addf(&out, ", %d places", line->places);
    if (line->standard[0] != '\0')
        text_addf(&out, ", by %s", line->standard);
    if (line->fate != FATE_UNDECIDED)
        text_addf(&out, ", rejects %s", fate_terms[line->fate].word);
    text_copy(ret_text, ROUND_TEXT_SIZE, out.data);
    text_done(&out);
    return ret_text;
}
