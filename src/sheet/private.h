/* What the files of the sheet share with one another. */
#ifndef SENBETSU_SHEET_INNER_H
#define SENBETSU_SHEET_INNER_H

#include "senbetsu/sheet/sheet.h"

/* One sentence for the user. Returns false, so that a command that cannot be done ends with it. */
bool sheet_say(struct sheet *sheet, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* That nothing was recorded (first, for it must be seen on the narrowest screen), and the port's
 * own sentence. Returns false. */
bool sheet_port_failed(struct sheet *sheet, const struct err *err);

/* "fish 12", or "fish 12 of bowl 3" where the tray holds fish of several bowls. */
const char *sheet_fish_name(const struct sheet *sheet, const struct fish *fish, char ret_name[64]);

/* Where the hand is, or will be: `fish` may be fish_count, the fresh fish that will come there. */
struct hand {
    size_t fish;
    int aspect;
};

/* sheet_tray.c */
struct fish *tray_front(struct sheet *sheet);
/* Closed, and nothing open by the standard as it is now. */
bool tray_is_done(const struct sheet *sheet, const struct fish *fish);
/* The first aspect without a score from `from` downward, wrapping; aspect_count where all have. */
int tray_open_aspect(const struct sheet *sheet, const struct fish *fish, int from);
/* The first of `count` fish that is not done, going round from `first`; fish_count where all are.
 */
size_t tray_unfinished(const struct sheet *sheet, size_t first, size_t count);
/* The fish with this id, found soonest where it is at `near` or after; fish_count where none has
 * it.
 */
size_t tray_find(const struct sheet *sheet, int64_t id, size_t near);
/* The fish with this tag, or fish_count. */
size_t tray_find_tag(const struct sheet *sheet, const char *tag);
/* May another fish be added to the bowl? */
bool tray_has_room(const struct sheet *sheet);
/* Lets a fish that waits for this tray's look stand with that look begun. */
void tray_begin_look(const struct sheet *sheet, struct fish *fish);
/* After the fish changed: the fresh fish comes or goes, `full` and the tray's counts are made new.
 */
void tray_settle(struct sheet *sheet);
struct sheet_place tray_place(const struct sheet *sheet, struct hand hand);
/* Puts the hand there, the port told first; nothing to do where it is already. */
bool tray_move(struct sheet *sheet, struct hand hand);
/* Puts the hand on a fish's first open aspect. */
bool tray_move_to_fish(struct sheet *sheet, size_t fish);
bool tray_read_round(struct sheet *sheet, struct err *err);

/* sheet_strokes.c */
/* An empty stroke for the fish in front. */
void stroke_begin(struct sheet *sheet, struct stroke *ret);
void stroke_add(struct stroke *stroke, enum entry_kind kind, const char *what, int number,
                const char *text);
/* Applies the stroke to the fish in front, closing it where it is decided by it, and moves on. */
bool stroke_commit(struct sheet *sheet, struct stroke *stroke);
/* Records the stroke through the port, then lets `after` take the fish's place in the tray and puts
 * the hand down. `judged`: the fish's verdict may be another now. */
bool stroke_write(struct sheet *sheet, size_t index, struct fish *after, struct stroke *stroke,
                  struct hand hand, bool judged);
bool judge_score(struct sheet *sheet, int digit);
bool judge_clear(struct sheet *sheet);
bool judge_typical(struct sheet *sheet);
bool judge_fault(struct sheet *sheet, int fault);
bool judge_by_hand(struct sheet *sheet, enum verdict verdict, const char *reason);

/* sheet_undo.c */
bool sheet_undo(struct sheet *sheet);

/* sheet_tag.c */
bool sheet_take_tag(struct sheet *sheet, const char *tag);

/* sheet_modes.c */
void mode_set(struct sheet *sheet, enum sheet_mode mode, const char *line);
bool mode_enter(struct sheet *sheet, int mode);
bool mode_choose(struct sheet *sheet, int digit);
bool mode_type(struct sheet *sheet, int code);
bool mode_erase(struct sheet *sheet);
bool mode_accept(struct sheet *sheet, struct sheet_effects *effects);

#endif
