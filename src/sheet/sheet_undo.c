/* Taking back: the last stroke of the tray leaves the sum; that it was taken back is recorded. */
#include "private.h"

/* The aspect whose score the undo changes, or -1. */
static int changed_aspect(const struct sheet *sheet, const struct fish *before,
                          const struct fish *after)
{
    for (int i = 0; i < sheet->standard.aspect_count; i++)
        if (before->judgement.scores[i] != after->judgement.scores[i])
            return i;
    return -1;
}

/* On the aspect that was taken back; the hand that is on the fish already stays where it is. */
static struct hand hand_after_undo(const struct sheet *sheet, size_t index,
                                   const struct fish *after)
{
    int aspect = changed_aspect(sheet, &sheet->fish[index], after);
    if (aspect < 0 && index == sheet->current && sheet->aspect < sheet->standard.aspect_count)
        aspect = sheet->aspect;
    if (aspect < 0)
        aspect = tray_open_aspect(sheet, after, 0);
    return (struct hand){index, aspect};
}

bool sheet_undo(struct sheet *sheet)
{
    if (sheet->undoable_count == 0)
        return sheet_say(sheet, "There is nothing left to take back here.");
    struct sheet_undoable last = sheet->undoable[sheet->undoable_count - 1];
    size_t index = tray_find(sheet, last.fish, sheet->current);
    struct fish after = sheet->fish[index];
    struct err err;
    if (!sheet->port.reload(sheet->port.context, last.stroke, &after, &err))
        return sheet_port_failed(sheet, &err);
    struct stroke stroke = {
        .fish = last.fish,
        .judge = sheet->judge,
        .look = after.look == 0 ? 1 : after.look,
        .at_ms = clock_now(&sheet->clock),
        .undoes = last.stroke,
    };
    tray_begin_look(sheet, &after);
    struct hand hand = hand_after_undo(sheet, index, &after);
    if (!stroke_write(sheet, index, &after, &stroke, hand, true))
        return false;
    sheet->undoable_count--;
    if (sheet->message[0] == '\0') {
        char name[64];
        sheet_say(sheet, "Taken back on %s.", sheet_fish_name(sheet, tray_front(sheet), name));
    }
    return true;
}
