/* The loop of the screens, and what it needs of a terminal (ui/term.h). */
#ifndef SENBETSU_SCREENS_LOOP_H
#define SENBETSU_SCREENS_LOOP_H

#include "senbetsu/screens/screen.h"

struct loop_terminal {
    void (*size)(int *ret_rows, int *ret_columns);
    void (*show)(const struct grid *grid);
    struct key (*read)(int timeout_ms);
};

/* Until the last screen is left, or the line is cut (KEY_HANGUP). */
void app_loop(struct app *app, const struct loop_terminal *terminal);

#endif
