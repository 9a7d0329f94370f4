/* Glyphs for terminals that show nothing but ASCII. */
#include "senbetsu/ui/glyphs.h"
#include <stddef.h>
#include <string.h>

static const struct {
    const char *glyph;
    char ascii;
} stand_ins[] = {
    {"█", '#'}, {"▒", '='}, {"▀", '"'}, {"▄", '.'},  {"─", '-'},  {"│", '|'}, {"┼", '+'},
    {"·", '.'}, {"…", '~'}, {"–", '-'}, {"—", '-'},  {"−", '-'},  {"×", 'x'}, {"▸", '>'},
    {"◂", '<'}, {"▲", '^'}, {"▼", 'v'}, {"←", '<'},  {"→", '>'},  {"↑", '^'}, {"↓", 'v'},
    {"≥", '>'}, {"“", '"'}, {"”", '"'}, {"‘", '\''}, {"’", '\''}, {"•", '*'}, {"✓", 'x'},
    {"├", '|'}, {"┤", '|'}, {"○", 'o'}, {"●", '#'},
};

char glyph_ascii(const char *glyph)
{
    if (glyph[0] >= ' ' && glyph[0] <= '~' && glyph[1] == '\0')
        return glyph[0];
    for (size_t i = 0; i < sizeof stand_ins / sizeof stand_ins[0]; i++)
        if (strcmp(stand_ins[i].glyph, glyph) == 0)
            return stand_ins[i].ascii;
    return '?';
}
