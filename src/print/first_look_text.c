#include "senbetsu/print/first_look_text.h"
#include "senbetsu/base/number.h"
#include "senbetsu/stats/proportion.h"

#include <inttypes.h>
#include <stdio.h>

const char *first_look_interval_text(const struct first_look *look,
                                     char ret_text[INTERVAL_TEXT_SIZE])
{
    ret_text[0] = '\0';
    if (look->looked_at == 0)
        return ret_text;
    struct interval interval = wilson_interval(look->good, look->looked_at, 0.95);
    snprintf(ret_text, INTERVAL_TEXT_SIZE, "%.1f to %.1f %%", 100 * interval.low,
             100 * interval.high);
    return ret_text;
}

const char *first_look_text(const struct first_look *look, char ret_text[FIRST_LOOK_TEXT_SIZE])
{
    char percent[NUMBER_SIZE], interval[INTERVAL_TEXT_SIZE];
    ret_text[0] = '\0';
    if (look->looked_at == 0)
        return ret_text;
    number_to_tenth(100 * look->good, look->looked_at, percent);
    snprintf(ret_text, FIRST_LOOK_TEXT_SIZE, "%" PRId64 " of %" PRId64 " good, %s %% (%s)",
             look->good, look->looked_at, percent, first_look_interval_text(look, interval));
    return ret_text;
}
