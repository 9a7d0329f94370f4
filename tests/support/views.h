/* Screens compared with what they should look like: as text, at the smallest size and a larger. */
#ifndef SENBETSU_TESTS_SUPPORT_VIEWS_H
#define SENBETSU_TESTS_SUPPORT_VIEWS_H

#include "senbetsu/ui/keys.h"
#include "support/source.h"

/* Draws with the view's own function and compares with tests/data/views/NAME-COLUMNSxROWS.txt. */
#define assert_screen_of(name, rows_, columns_, draw, view)                                        \
    do {                                                                                           \
        struct grid grid_;                                                                         \
        struct text text_;                                                                         \
        char path_[128];                                                                           \
        grid_init(&grid_, rows_, columns_);                                                        \
        text_init(&text_);                                                                         \
        draw(&grid_, view);                                                                        \
        grid_text(&grid_, &text_);                                                                 \
        snprintf(path_, sizeof path_, "tests/data/views/%s-%dx%d.txt", name, grid_.columns,        \
                 grid_.rows);                                                                      \
        assert_as_in_source(path_, text_.data);                                                    \
        text_done(&text_);                                                                         \
        grid_done(&grid_);                                                                         \
    } while (0)

/* At 80×24 and at 120×40. */
#define assert_screens(name, draw, view)                                                           \
    do {                                                                                           \
        assert_screen_of(name, 24, 80, draw, view);                                                \
        assert_screen_of(name, 40, 120, draw, view);                                               \
    } while (0)

static inline struct key key_of(char character)
{
    return (struct key){KEY_CHARACTER, (uint32_t)(unsigned char)character};
}

#endif
