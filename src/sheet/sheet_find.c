/* Finding a fish on the sheet: by its number, by bowl and number, or by its tag. Enter says that it
 * is whole. A number that no other fish's begins with could do without, but whether it can depends
 * on the bowl, and what a hand types after it by habit would score the fish. A tag that is typed
 * has a * before it. */
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "sheet_commands.h"
#include "sheet_record.h"

#include <string.h>

/* The fish of the queue with this number, in a bowl or (0) the next from the one in front on;
 * fish_count where there is none. */
static size_t numbered(const struct sheet *sheet, int bowl, int number)
{
    for (size_t i = 0; i < sheet->fish_count; i++) {
        size_t index = (sheet->current + 1 + i) % sheet->fish_count;
        if (sheet_fish_number(sheet, index) == number &&
            (bowl == 0 || sheet->fish[index].bowl == bowl))
            return index;
    }
    return sheet->fish_count;
}

static bool bring_to_front(struct sheet *sheet, size_t index)
{
    if (!sheet_move_to_fish(sheet, index))
        return false;
    sheet->resting = false;
    return sheet_back_to_judging(sheet);
}

static bool find_in_other_bowl(struct sheet *sheet, int bowl, int number,
                               struct sheet_effects *effects)
{
    struct err err;
    int64_t bowl_id;
    if (!sheet->port.find_fish(sheet->port.context, bowl, number, &bowl_id, &err))
        return sheet_port_failed(sheet, &err);
    if (bowl_id == 0)
        return sheet_say(sheet, "There is no fish %d in bowl %d.", number, bowl);
    effects->go = true;
    effects->to = (struct sheet_place){.bowl_id = bowl_id, .number = number};
    return sheet_back_to_judging(sheet);
}

/* Whole tags first; else the next fish from the one in front on whose tag has the text in it. */
bool sheet_find_tag(struct sheet *sheet, const char *text, struct sheet_effects *effects)
{
    struct tag_bearer bearer;
    for (size_t i = 0; i < sheet->fish_count; i++) {
        size_t index = (sheet->current + 1 + i) % sheet->fish_count;
        if (strstr(sheet->fish[index].tag, text) != NULL)
            return bring_to_front(sheet, index);
    }
    if (!sheet_find_bearer(sheet, text, &bearer))
        return false;
    if (bearer.fish != 0 && bearer.same_round)
        return find_in_other_bowl(sheet, bearer.bowl, bearer.number, effects);
    return sheet_say(sheet, "No fish here has the number or tag %s.", text);
}

bool sheet_accept_find(struct sheet *sheet, const char *line, struct sheet_effects *effects)
{
    int64_t bowl = 0, number = 0;
    char first[NOTE_SIZE];
    text_copy(first, sizeof first, line);
    first[strcspn(first, "-")] = '\0';
    const char *dash = strchr(line, '-');
    if (line[0] == '\0')
        return sheet_back_to_judging(sheet);
    if (dash == NULL ? number_whole(line, 1, NUMBER_MOST, &number)
                     : number_whole(first, 1, NUMBER_MOST, &bowl) &&
                           number_whole(dash + 1, 1, NUMBER_MOST, &number)) {
        size_t index = numbered(sheet, (int)bowl, (int)number);
        if (index < sheet->fish_count)
            return bring_to_front(sheet, index);
        if (bowl != 0)
            return find_in_other_bowl(sheet, (int)bowl, (int)number, effects);
    }
    return sheet_find_tag(sheet, line[0] == '*' ? line + 1 : line, effects);
}
