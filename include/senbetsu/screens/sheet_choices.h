/* What can be chosen by number in the sheet's menu and lists of ready words. */
#ifndef SENBETSU_SCREENS_SHEET_CHOICES_H
#define SENBETSU_SCREENS_SHEET_CHOICES_H

#include "senbetsu/sheet/sheet.h"
#include "senbetsu/ui/grid.h"
#include <stdbool.h>

/* Does this mode offer choices, which then stand where aspects and faults stand otherwise? */
bool choices_offered(enum sheet_mode mode);

void choices_draw(struct grid *grid, struct area area, const struct sheet *sheet);

#endif
