/* Tags on the sheet: what a reader sent or somebody typed, whose it is already, and what is asked
 * about it. A tag is how a fish is known for years, so one that two fish seem to have is never
 * recorded without a question; the same fish seen again at a later stage is no question. */
#include "senbetsu/base/text.h"
#include "sheet_commands.h"
#include "sheet_record.h"

#include <stdio.h>
#include <string.h>

/* A tag reader may send one in any mode; a line that is being typed then stays, unless it is the
 * tag's own. */
static bool leave_tag_mode(struct sheet *sheet)
{
    return (sheet->mode != SHEET_TAG && sheet->mode != SHEET_ASK_TAG) ||
           sheet_back_to_judging(sheet);
}

/* A tag that is known here names its fish, which becomes the current one. */
static bool go_to_bearer(struct sheet *sheet, size_t bearer, const char *tag)
{
    char name[64];
    bool is_current = bearer == sheet->current;
    if (!is_current && !sheet_move_to_fish(sheet, bearer))
        return false;
    sheet->resting = false;
    sheet_say(sheet, is_current ? "Tag %s is already on this fish: %s." : "Tag %s is on %s.", tag,
              sheet_fish_name(sheet, sheet->current, name));
    return is_current ? leave_tag_mode(sheet) : sheet_back_to_judging(sheet);
}

/* "fish 3 of bowl 2", "fish 3 of bowl 2, K25-1 second". */
static void bearer_text(const struct tag_bearer *bearer, char ret_text[ERR_TEXT_SIZE])
{
    int used =
        snprintf(ret_text, ERR_TEXT_SIZE, "fish %d of bowl %d", bearer->number, bearer->bowl);
    if (!bearer->same_round)
        snprintf(ret_text + used, ERR_TEXT_SIZE - (size_t)used, ", %s %s", bearer->lot,
                 stage_terms[bearer->stage].word);
}

static void tell_recorded(struct sheet *sheet, const char *tag, const struct tag_bearer *bearer)
{
    char text[ERR_TEXT_SIZE];
    bool fifteen_digits = strlen(tag) == TAG_DIGITS && strspn(tag, "0123456789") == TAG_DIGITS;
    bearer_text(bearer, text);
    if (tag[0] == '\0')
        sheet_say(sheet, "The tag is removed; - brings it back.");
    else if (bearer->fish != 0)
        sheet_say(sheet, "Tag %s was %s.", tag, text);
    else if (fifteen_digits && !tag_is_transponder(tag))
        sheet_say(sheet, "Tag %s is recorded, but no animal transponder has that number.", tag);
}

/* A fish of the same round loses the tag that this one gets: it cannot be in two bowls. */
static bool record_tag(struct sheet *sheet, const char *tag, const struct tag_bearer *bearer)
{
    bool moves = bearer->fish != 0 && bearer->same_round;
    if (!(moves ? sheet_move_tag(sheet, tag, bearer->fish)
                : sheet_record(sheet, ENTRY_TAG, "", 0, tag)))
        return false;
    tell_recorded(sheet, tag, bearer);
    return leave_tag_mode(sheet);
}

/* A fish carries its tag from stage to stage; in its own round, or in another spawning, somebody is
 * wrong. */
static bool is_doubtful(const struct tag_bearer *bearer)
{
    return bearer->fish != 0 && (bearer->same_round || !bearer->same_spawning);
}

static bool ask_about(struct sheet *sheet, const char *tag, const struct tag_bearer *bearer)
{
    char text[ERR_TEXT_SIZE];
    const char *own = sheet_current(sheet)->tag;
    bearer_text(bearer, text);
    if (is_doubtful(bearer))
        sheet_say(sheet, "Tag %s is %s. +: this fish; other key: no", tag, text);
    else
        sheet_say(sheet, "This fish has tag %s. +: %s instead; other key: no", own, tag);
    text_copy(sheet->question, sizeof sheet->question, sheet->message);
    sheet->message[0] = '\0';
    return sheet_set_mode(sheet, SHEET_ASK_TAG, tag);
}

bool sheet_find_bearer(struct sheet *sheet, const char *tag, struct tag_bearer *ret)
{
    struct err err;
    *ret = (struct tag_bearer){0};
    return tag[0] == '\0' || sheet->port.tag_bearer(sheet->port.context, tag, ret, &err) ||
           sheet_port_failed(sheet, &err);
}

bool sheet_take_tag(struct sheet *sheet, const char *tag)
{
    struct err err;
    struct tag_bearer bearer;
    const char *own = sheet_current(sheet)->tag;
    if (tag[0] == '\0' && own[0] == '\0')
        return leave_tag_mode(sheet);
    if (tag[0] != '\0' && !code_check(tag, "The tag", &err))
        return sheet_say(sheet, "%s", err.text);
    for (size_t i = 0; tag[0] != '\0' && i < sheet->fish_count; i++)
        if (strcmp(sheet->fish[i].tag, tag) == 0)
            return go_to_bearer(sheet, i, tag);
    if (sheet->resting && sheet->mode != SHEET_TAG)
        return sheet_refuse_unasked(sheet);
    if (!sheet_find_bearer(sheet, tag, &bearer))
        return false;
    if (tag[0] != '\0' && (own[0] != '\0' || is_doubtful(&bearer)))
        return ask_about(sheet, tag, &bearer);
    return record_tag(sheet, tag, &bearer);
}

bool sheet_take_doubtful_tag(struct sheet *sheet)
{
    char tag[NOTE_SIZE];
    struct tag_bearer bearer;
    if (sheet->mode != SHEET_ASK_TAG)
        return false;
    text_copy(tag, sizeof tag, sheet->line);
    return sheet_find_bearer(sheet, tag, &bearer) && record_tag(sheet, tag, &bearer);
}

/* Is there more to do than to give the fish that was in front the tag? */
static bool leads_elsewhere(const struct sheet *sheet, const struct tag_bearer *bearer)
{
    const struct sheet_mark *mark = &sheet->mark;
    return sheet->fish[mark->current].tag[0] != '\0' || is_doubtful(bearer) ||
           (mark->resting && mark->mode != SHEET_TAG);
}

/* What a reader's digits did is taken back in the transaction that gives the fish in front its tag;
 * where there is something to ask first, before it. */
bool sheet_scan(struct sheet *sheet, const char *tag)
{
    struct tag_bearer bearer;
    if (!sheet->mark.set)
        sheet_set_mark(sheet);
    bool any = sheet->undoable_count > sheet->mark.undoable_count;
    if (!sheet_find_bearer(sheet, tag, &bearer))
        return false;
    if (!any || leads_elsewhere(sheet, &bearer))
        return sheet_take_back(sheet, NULL) && sheet_take_tag(sheet, tag);
    if (!sheet_take_back(sheet, tag))
        return false;
    tell_recorded(sheet, tag, &bearer);
    if (sheet->message[0] == '\0')
        sheet_say(sheet, "Tag %s; its digits were taken back as scores.", tag);
    return leave_tag_mode(sheet);
}

bool sheet_misread(struct sheet *sheet, int digits)
{
    bool any = sheet->mark.set && sheet->undoable_count > sheet->mark.undoable_count;
    if (sheet_take_back(sheet, NULL))
        sheet_say(
            sheet,
            any ? "The tag reader sent %d digits, not %d; taken back as scores. Read it again."
                : "The tag reader sent %d digits, but a tag has %d; read it again.",
            digits, TAG_DIGITS);
    return false;
}
