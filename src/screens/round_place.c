#include "senbetsu/screens/round_place.h"

struct place round_place(int64_t judge, int64_t round_id, int at, bool open)
{
    return (struct place){.judge = judge, .round_id = round_id, .number = at, .in_sheet = open};
}

bool round_place_is(const struct place *place, int at)
{
    return place->bowl_id == 0 && !place->second_look && (place->number & at) != 0;
}
