/* Tags: one fish each, within a round. */
#include "private.h"

#include <string.h>

static void leave_tag_mode(struct sheet *sheet)
{
    if (sheet->mode == SHEET_TAG)
        mode_set(sheet, SHEET_JUDGE, "");
}

/* A tag that is known names its fish: that is the one in the hand now. */
static bool go_to_bearer(struct sheet *sheet, size_t bearer, const char *tag)
{
    char name[64];
    bool is_front = bearer == sheet->current;
    if (!is_front && !tray_move_to_fish(sheet, bearer))
        return false;
    sheet_fish_name(sheet, tray_front(sheet), name);
    sheet_say(sheet, is_front ? "Tag %s is on this fish already: %s." : "Tag %s is on %s.", tag,
              name);
    if (is_front)
        leave_tag_mode(sheet);
    else
        mode_set(sheet, SHEET_JUDGE, "");
    return true;
}

static bool has_transponder_form(const char *tag)
{
    return strlen(tag) == TAG_DIGITS && strspn(tag, "0123456789") == TAG_DIGITS;
}

static bool record_tag(struct sheet *sheet, const char *tag)
{
    struct stroke stroke;
    stroke_begin(sheet, &stroke);
    stroke_add(&stroke, ENTRY_TAG, "", 0, tag);
    if (!stroke_commit(sheet, &stroke))
        return false;
    leave_tag_mode(sheet);
    if (tag[0] == '\0')
        sheet_say(sheet, "The tag is taken away; - brings it back.");
    if (has_transponder_form(tag) && !tag_is_transponder(tag))
        sheet_say(sheet, "Tag %s is recorded, but no animal transponder has that number.", tag);
    return true;
}

bool sheet_take_tag(struct sheet *sheet, const char *tag)
{
    struct err err;
    if (tag[0] == '\0' && tray_front(sheet)->tag[0] == '\0') {
        leave_tag_mode(sheet);
        return true;
    }
    if (tag[0] == '\0')
        return record_tag(sheet, "");
    if (!code_check(tag, "The tag", &err))
        return sheet_say(sheet, "%s", err.text);
    size_t bearer = tray_find_tag(sheet, tag);
    if (bearer < sheet->fish_count)
        return go_to_bearer(sheet, bearer, tag);
    int bowl = 0, number = 0;
    if (!sheet->port.tag_bearer(sheet->port.context, tag, &bowl, &number, &err))
        return sheet_port_failed(sheet, &err);
    if (bowl != 0)
        return sheet_say(sheet, "Tag %s is on fish %d of bowl %d; nothing was recorded.", tag,
                         number, bowl);
    return record_tag(sheet, tag);
}
