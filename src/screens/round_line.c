#include "senbetsu/screens/round_line.h"
#include "senbetsu/base/text.h"

#include <stdio.h>
#include <string.h>

const char *round_name(const struct round *round, char ret_text[ROUND_TEXT_SIZE])
{
    const char *lot = round->own_lot ? "" : round->lot;
    snprintf(ret_text, ROUND_TEXT_SIZE, "%s%s%s", stage_terms[round->stage].word,
             lot[0] != '\0' ? " " : "", lot);
    return ret_text;
}

const char *round_about(const struct round_summary *summary, char ret_text[ROUND_TEXT_SIZE])
{
    const struct round *round = &summary->round;
    struct text out;
    text_init(&out);
    if (round->manner != MANNER_JUDGE)
        text_add(&out, summary->stated ? "stated" : "tallied");
    else
        text_addf(&out, "%d %s", summary->bowls, summary->bowls == 1 ? "bowl" : "bowls");
    if (summary->first_day[0] != '\0')
        text_addf(&out, ", %s", summary->first_day);
    if (strcmp(summary->first_day, summary->last_day) != 0)
        text_addf(&out, " to %s", summary->last_day);
    if (round->places >= 0)
        text_addf(&out, ", %d places", round->places);
    if (round->standard[0] != '\0')
        text_addf(&out, ", by %s", round->standard);
    if (round->fate != FATE_UNDECIDED)
        text_addf(&out, ", rejects %s", fate_terms[round->fate].word);
    text_copy(ret_text, ROUND_TEXT_SIZE, out.data);
    text_done(&out);
    return ret_text;
}
