/* Plain ASCII for printers and terminals that know nothing else. */
#ifndef SENBETSU_BASE_ASCII_H
#define SENBETSU_BASE_ASCII_H

#include "senbetsu/base/text.h"

/* Adds `string` (UTF-8) as ASCII: signs that have a usual ASCII form get it ("×" x, "–" -, "…" ...,
 * box lines - and |), letters lose their marks ("ō" o), and whatever is left, such as a Japanese
 * character, becomes one '?'. The result may be wider than what it came from. */
void text_add_ascii(struct text *out, const char *string);

#endif
