/* What narrows a report is asked in one place, so that each of them means the same by it. */
#include "senbetsu/report/selection.h"

#include <string.h>

static bool takes(const struct selection *selection, const char *variety, int season,
                  const char *spawnings)
{
    return selection == NULL ||
           ((selection->variety[0] == '\0' || strcmp(selection->variety, variety) == 0) &&
            (selection->season == 0 || selection->season == season) &&
            (selection->spawning[0] == '\0' || strcmp(selection->spawning, spawnings) == 0));
}

bool selection_takes(const struct selection *selection, const struct lot_origin *lot)
{
    return takes(selection, lot->variety, lot->season, lot->spawnings);
}

bool selection_takes_spawning(const struct selection *selection, const struct spawning *spawning)
{
    return takes(selection, spawning->variety, spawning->season, spawning->code);
}
