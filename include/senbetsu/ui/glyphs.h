/* What stands for a glyph where it cannot be shown. */
#ifndef SENBETSU_UI_GLYPHS_H
#define SENBETSU_UI_GLYPHS_H

/* One ASCII character for a cell's glyph: '#' for a block, '-' for a line, … and '?' for whatever
 * has no stand-in. */
char glyph_ascii(const char *glyph);

#endif
