/* The tally on screen: keys in, the tally's commands done, the grid drawn. */
#ifndef SENBETSU_SCREENS_TALLY_SCREEN_H
#define SENBETSU_SCREENS_TALLY_SCREEN_H

#include "senbetsu/screens/sheet_bindings.h"
#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/tally_sheet.h"
#include <stdbool.h>

/* Actions of the tally's contexts beyond enum tally_command_kind. */
enum tally_action {
    TALLY_REASON = TALLY_DO_LEAVE + 1, /* number = which of the ten further reasons, from 0 */
    TALLY_MORE,                        /* the ten after these */
    TALLY_MINUS,                       /* the keypad's way back while a line is typed */
    TALLY_HELP,
    TALLY_FIRST_LOOK, /* this one and the next are the caller's to do */
    TALLY_SAMPLES,
};

struct tally_screen {
    struct tally_sheet *sheet; /* the caller's */
    struct letters letters;
    int page;   /* of the further reasons */
    bool help;  /* the help is up; any key takes it away */
    int wanted; /* what the last key asks of the caller: TALLY_FIRST_LOOK, …, 0 = nothing */
};

/* The sheet must outlive the screen. */
void tally_screen_init(struct tally_screen *screen, struct tally_sheet *sheet);

/* The table's context for a mode. */
enum context tally_context(enum tally_mode mode);

/* Does what a key says; KEY_NONE, after a wait, asks for the round anew. KEY_HANGUP does nothing:
 * the caller leaves. */
struct tally_effects tally_screen_key(struct tally_screen *screen, struct key key);

/* Draws the whole screen for the grid's size. */
void tally_screen_draw(const struct tally_screen *screen, struct grid *grid);

#endif
