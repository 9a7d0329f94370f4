/* What the commands need of sheet_queue.c (the fish, and which is in front) and sheet_record.c
 * (what is written of them). */
#ifndef SENBETSU_SHEET_SHEET_RECORD_H
#define SENBETSU_SHEET_SHEET_RECORD_H

#include "senbetsu/sheet/sheet.h"

/* `fish` may be fish_count: the new fish that will come there. */
struct cursor {
    size_t fish;
    int aspect;
};

/* One sentence for the user. Returns false, so that a command that cannot be done ends with it. */
bool sheet_say(struct sheet *sheet, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* That nothing was recorded (first, so that it is seen on the narrowest screen), unless that is
 * just what nobody knows, and the port's own sentence. Returns false. */
bool sheet_port_failed(struct sheet *sheet, const struct err *err);

struct fish *sheet_current(struct sheet *sheet);

/* Closed, and nothing open by the standard as it is now. */
bool sheet_is_done(const struct sheet *sheet, const struct fish *fish);

/* The first aspect without a score from `from` downward, wrapping; aspect_count where all have. */
int sheet_open_aspect(const struct sheet *sheet, const struct fish *fish, int from);

/* The first of `count` fish from `first` on, going round, that is not done; fish_count where all
 * are. */
size_t sheet_first_open(const struct sheet *sheet, size_t first, size_t count);

/* The fish with this id, found soonest where it is at `near` or after; fish_count where none is. */
size_t sheet_find(const struct sheet *sheet, int64_t id, size_t near);

/* Begins the queue's look on a fish that waits for it. */
void sheet_begin_look(const struct sheet *sheet, struct fish *fish);

/* That the queue is done, and what comes next. Returns false. */
bool sheet_say_full(struct sheet *sheet);

/* After a fish changed: the new fish comes or goes, `full` and the verdicts are counted again. */
void sheet_settle(struct sheet *sheet);

void sheet_remember(struct sheet *sheet, struct undoable undoable);

bool sheet_read_round(struct sheet *sheet, struct err *err);

/* Moves the cursor once the port has saved it; nothing to do where it is there already. */
bool sheet_move(struct sheet *sheet, struct cursor cursor);

/* Moves it to a fish's first open aspect. */
bool sheet_move_to_fish(struct sheet *sheet, size_t fish);

/* Where the cursor goes: after the current fish was closed to the next to judge, one that is not
 * done, else a new one, else it stays; after another stroke; after an undo to the aspect whose
 * score was taken back. */
struct cursor sheet_cursor_after_closing(const struct sheet *sheet, const struct fish *closed);
struct cursor sheet_cursor_on_same_fish(const struct sheet *sheet, const struct fish *after,
                                        bool reopened, bool scored);
struct cursor sheet_cursor_after_undo(const struct sheet *sheet, size_t index,
                                      const struct fish *after);

/* The place of a cursor in the ledger; and puts it there without telling the port. */
struct sheet_place sheet_place_of(const struct sheet *sheet, struct cursor cursor);
void sheet_set_cursor(struct sheet *sheet, struct cursor cursor);

/* Records one entry for the current fish, closes the fish where that decides it, and moves on. */
bool sheet_record(struct sheet *sheet, enum entry_kind kind, const char *what, int number,
                  const char *text);

/* The same with a score for every open aspect: the typical one, or what was seen before. */
bool sheet_record_rest(struct sheet *sheet, bool typical);

/* Gives the fish in front a tag and takes it from another one, which may be in another bowl. */
bool sheet_move_tag(struct sheet *sheet, const char *tag, int64_t from);

/* Records that the last stroke of the queue is taken back. */
bool sheet_undo(struct sheet *sheet);

/* Remembers how it is now, and takes back everything recorded since; the fish in front then gets
 * the tag in the same transaction (NULL = none). */
void sheet_set_mark(struct sheet *sheet);
bool sheet_take_back(struct sheet *sheet, const char *tag);

#endif
