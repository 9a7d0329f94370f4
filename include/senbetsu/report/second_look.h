/* Which fish of a round are looked at again. */
#ifndef SENBETSU_REPORT_SECOND_LOOK_H
#define SENBETSU_REPORT_SECOND_LOOK_H

#include "senbetsu/core/entry.h"

/* Moves the fish of the second look to the front of `fish`, in their order, and returns how many.
 * The look that is due is the lowest that a held fish has still to come; the tray holds the fish
 * that wait for it, and those that have had it already, so that a look broken off goes on where it
 * was. Fish still held after it come up together in the look after. */
size_t second_look_pick(struct fish *fish, size_t count, const struct standard *standard);

#endif
