/* Names that have to fit. */
#ifndef SENBETSU_UI_LABEL_H
#define SENBETSU_UI_LABEL_H

#include "senbetsu/core/code.h"

/* The label, without the gloss in brackets at its end if it does not fit into `columns` with it. */
const char *label_fit(const char *label, int columns, char ret_text[LABEL_SIZE]);

#endif
