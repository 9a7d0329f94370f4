/* The sheet on screen: keys in, the sheet's commands done, the grid drawn. A loop around it only
 * has to read keys, wait no longer than asked, and heed the effects. */
#ifndef SENBETSU_SCREENS_SHEET_SCREEN_H
#define SENBETSU_SCREENS_SHEET_SCREEN_H

#include "senbetsu/screens/sheet_keys.h"
#include "senbetsu/sheet/tag_reader.h"

struct sheet_screen {
    struct sheet *sheet; /* the caller's */
    struct letters letters;
    struct tag_reader reader;
    int page;  /* of the pick layer */
    bool help; /* the help is up; any key takes it away */
};

/* The sheet must outlive the screen; its standard must not change. */
void sheet_screen_init(struct sheet_screen *screen, struct sheet *sheet);

/* Does what a key says, or KEY_NONE after a wait: digits that might come from a tag reader are held
 * for a moment, and a long wait asks for the round anew. KEY_HANGUP does nothing: the caller
 * leaves. The effects of several commands are taken together. */
struct sheet_effects sheet_screen_key(struct sheet_screen *screen, struct key key);

/* How long to wait for the next key, in ms; then call sheet_screen_key with KEY_NONE. */
int sheet_screen_timeout(const struct sheet_screen *screen);

/* Draws the whole screen for the grid's size. */
void sheet_screen_draw(const struct sheet_screen *screen, struct grid *grid);

#endif
