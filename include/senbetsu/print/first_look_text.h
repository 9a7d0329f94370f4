/* A first look in a few words, for lists and paper. */
#ifndef SENBETSU_PRINT_FIRST_LOOK_TEXT_H
#define SENBETSU_PRINT_FIRST_LOOK_TEXT_H

#include "senbetsu/core/first_look.h"

enum { FIRST_LOOK_TEXT_SIZE = 96, INTERVAL_TEXT_SIZE = 32 };

/* The 95 % interval of the share of good fish: "48.1 to 85.5 %"; "" where none was looked at. */
const char *first_look_interval_text(const struct first_look *look,
                                     char ret_text[INTERVAL_TEXT_SIZE]);

/* "14 of 20 good, 70.0 % (48.1 to 85.5 %)", "" where none was looked at. */
const char *first_look_text(const struct first_look *look, char ret_text[FIRST_LOOK_TEXT_SIZE]);

#endif
