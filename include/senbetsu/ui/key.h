/* A key press, or something else that woke the terminal. */
#ifndef SENBETSU_UI_KEY_H
#define SENBETSU_UI_KEY_H

#include <stdint.h>

enum key_kind {
    KEY_NONE,      /* nothing came within the time given */
    KEY_CHARACTER, /* `code` */
    KEY_RETURN,
    KEY_ERASE,
    KEY_ESCAPE,
    KEY_TABULATOR,
    KEY_BACKTAB,
    KEY_ARROW_UP,
    KEY_ARROW_DOWN,
    KEY_ARROW_LEFT,
    KEY_ARROW_RIGHT,
    KEY_FIRST, /* Home */
    KEY_LAST,  /* End */
    KEY_PAGE_UP,
    KEY_PAGE_DOWN,
    KEY_REMOVE,   /* Delete */
    KEY_FUNCTION, /* `code` = 1 for F1 … */
    KEY_RESIZED,  /* the terminal has another size */
    KEY_HANGUP,   /* the line is cut or the program was told to end */
};

struct key {
    enum key_kind kind;
    uint32_t code;
};

#endif
