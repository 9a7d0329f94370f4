/* What should be known of a ledger before anything is recorded in it. Opening finds it out, but it
 * is nothing that opening fails for: so it waits here as sentences until somebody can say them, the
 * screens on a page of its own, the commands beside what they print. */
#include "private.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

void ledger_notice(struct ledger *ledger, const char *format, ...)
{
    char sentence[ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    ledger->notices = alloc_room(ledger->notices, ledger->notice_count, &ledger->notice_capacity,
                                 sizeof *ledger->notices);
    ledger->notices[ledger->notice_count++] = alloc_text(sentence);
}

size_t ledger_notices(const struct ledger *ledger, char *const **ret)
{
    *ret = ledger->notices;
    return ledger->notice_count;
}

void notices_done(struct ledger *ledger)
{
    for (size_t i = 0; i < ledger->notice_count; i++)
        free(ledger->notices[i]);
    free(ledger->notices);
}
