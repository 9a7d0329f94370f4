#include "senbetsu/sheet/port.h"

#include <stdlib.h>

void sheet_round_done(struct sheet_round *round)
{
    free(round->scores);
    free(round->closed_ms);
    *round = (struct sheet_round){.places = -1};
}
