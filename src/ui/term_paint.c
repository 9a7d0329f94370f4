/* What a grid has the terminal carry: of each row the cells that are not as they were painted last,
 * in the words of terminfo. Written here and not by ncurses because a sheet's line may be a radio:
 * a key costs half the bytes, and they are one piece, where ncurses writes at every move of the
 * cursor.
 *
 * What is painted is all that is known of the terminal. So every piece begins with where it stands,
 * and ends without a style, which whatever else is written there must not inherit. */
#include "term_paint.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/ui/glyphs.h"

#include <curses.h>

#include <stdlib.h>
#include <string.h>

enum { BOLD = 1, REVERSE = 2, UNDERLINE = 4 };
enum { BLACK = COLOR_BLACK, RED = COLOR_RED, GREEN = COLOR_GREEN };
enum { YELLOW = COLOR_YELLOW, WHITE = COLOR_WHITE };

/* How a meaning looks. With colours, verdicts and alerts are plates with their own background, so
 * that they read the same on a dark screen indoors and on a light one in the sun. Everything else
 * keeps the terminal's own colours; grey is the one that stands out as far from black as from
 * white. Without colours, attributes do what they can; letters and marks are always there. */
static const struct look {
    int foreground, background; /* -1 = the terminal's own */
    unsigned attributes;
    unsigned mono;
} looks[STYLE_COUNT] = {
    [STYLE_PLAIN] = {-1, -1, 0, 0},
    [STYLE_QUIET] = {243, -1, 0, 0},
    [STYLE_STRONG] = {-1, -1, BOLD, BOLD},
    [STYLE_TITLE] = {-1, -1, BOLD, BOLD},
    [STYLE_CURSOR] = {-1, -1, REVERSE | BOLD, REVERSE | BOLD},
    [STYLE_KEEP] = {BLACK, GREEN, 0, BOLD},
    [STYLE_HOLD] = {BLACK, YELLOW, 0, UNDERLINE},
    [STYLE_REJECT] = {WHITE, RED, BOLD, REVERSE},
    [STYLE_ALERT] = {WHITE, RED, BOLD, REVERSE | BOLD},
    [STYLE_KEY] = {-1, -1, BOLD, BOLD},
    [STYLE_RULE] = {243, -1, 0, 0},
};

/* Capabilities as they are written; "" = the terminal has no such. */
struct capabilities {
    char *place, *right;       /* with parameters: the cursor to a cell; so many to the right */
    char *clear, *clear_right; /* the screen; from the cursor to the end of the row */
    char *plain;               /* no style */
};

static struct {
    bool unicode;
    bool fills;      /* clearing leaves the background of the style */
    bool may_scroll; /* after its last cell */
    struct capabilities can;
    struct style_code {
        char *after_plain, *after_other;
        bool inked; /* seen on a blank */
    } styles[STYLE_COUNT];
    struct grid seen; /* as painted last; no cells: not known */
    enum style style; /* while a grid is painted: of what is written next, … */
    int row, column;  /* … and where; row -1 = not known */
} painter;

void capability_add(const char *name, struct text *out)
{
    const char *value = tigetstr(name);
    if (value == NULL || value == (char *)-1)
        return;
    while (*value != '\0') {
        size_t plain = strncmp(value, "$<", 2) == 0 ? 0 : 1 + strcspn(value + 1, "$");
        text_add_bytes(out, value, plain);
        value += plain > 0 ? plain : strcspn(value, ">");
        value += plain == 0 && *value == '>';
    }
}

static char *capability(const char *name)
{
    struct text text;
    text_init(&text);
    capability_add(name, &text);
    return text.data;
}

static void add_colour(const char *name, int colour, struct text *out)
{
    char *format = capability(name);
    if (colour >= 0 && colour < tigetnum("colors"))
        text_add(out, tiparm(format, colour));
    free(format);
}

/* Sequences of ECMA-48 that set attributes, one after the other, can be said as one. */
static char *joined(const char *before, const char *after)
{
    static const char seam[] = "m\033[";
    struct text text;
    text_init(&text);
    text_addf(&text, "%s%s", before, after);
    for (char *at = text.data; (at = strstr(at, seam)) != NULL;) {
        *at++ = ';';
        memmove(at, at + strlen(seam) - 1, strlen(at + strlen(seam) - 1) + 1);
    }
    return text.data;
}

static struct style_code style_code(const struct look *look, bool colours)
{
    struct text text;
    unsigned attributes = colours ? look->attributes : look->mono;
    text_init(&text);
    if (attributes & BOLD)
        capability_add("bold", &text);
    if (attributes & REVERSE)
        capability_add("rev", &text);
    if (attributes & UNDERLINE)
        capability_add("smul", &text);
    if (colours) {
        add_colour("setaf", look->foreground, &text);
        add_colour("setab", look->background, &text);
    }
    struct style_code code = {joined("", text.data), joined(painter.can.plain, text.data),
                              (attributes & (REVERSE | UNDERLINE)) != 0 ||
                                  (colours && look->background >= 0)};
    text_done(&text);
    return code;
}

/* Nothing here goes into the alternate character set, so it is not left with every style. */
static char *plain_code(void)
{
    static const char leave[] = "\033(B";
    struct text text;
    char *whole = capability("sgr0");
    text_init(&text);
    text_add(&text, whole + (strncmp(whole, leave, strlen(leave)) == 0 ? strlen(leave) : 0));
    if (strchr(text.data, '[') == NULL) /* only those of ECMA-48 are known to end colours, too */
        capability_add("op", &text);
    free(whole);
    return text.data;
}

bool painter_begin(bool colours, bool unicode)
{
    painter.can = (struct capabilities){.place = capability("cup"),
                                        .right = capability("cuf"),
                                        .clear = capability("clear"),
                                        .clear_right = capability("el"),
                                        .plain = plain_code()};
    char *foreground = capability("setaf"), *background = capability("setab");
    colours = colours && tigetnum("colors") > WHITE && *foreground != '\0' && *background != '\0';
    free(foreground);
    free(background);
    for (int style = 0; style < STYLE_COUNT; style++)
        painter.styles[style] = style_code(&looks[style], colours);
    painter.unicode = unicode;
    painter.fills = tigetflag("bce") > 0;
    painter.may_scroll = tigetflag("am") > 0 && tigetflag("xenl") <= 0;
    return painter.can.place[0] != '\0' && painter.can.clear[0] != '\0';
}

void painter_forget(void)
{
    grid_done(&painter.seen);
}

void painter_end(void)
{
    painter_forget();
    free(painter.can.place);
    free(painter.can.right);
    free(painter.can.clear);
    free(painter.can.clear_right);
    free(painter.can.plain);
    for (int style = 0; style < STYLE_COUNT; style++) {
        free(painter.styles[style].after_plain);
        free(painter.styles[style].after_other);
    }
}

const char *cell_shown(const struct cell *cell, bool unicode, char ascii[2])
{
    if (unicode)
        return cell->glyph;
    ascii[0] = (char)(cell->glyph[0] == '\0' ? '?' : glyph_ascii(cell->glyph));
    ascii[1] = '\0';
    return ascii;
}

/* Painting. */

static bool is_blank(const struct cell *cell)
{
    return cell->glyph[0] == ' ' && cell->glyph[1] == '\0';
}

/* On blanks, styles that are not seen there are as good as another. */
static bool same_style(const struct cell *cell, enum style style)
{
    return cell->style == style ||
           (is_blank(cell) && !painter.styles[cell->style].inked && !painter.styles[style].inked);
}

static bool same_cell(const struct cell *a, const struct cell *b)
{
    return strcmp(a->glyph, b->glyph) == 0 && same_style(a, b->style);
}

static void set_style(enum style style, struct text *out)
{
    if (painter.style == style)
        return;
    const struct style_code *code = &painter.styles[style];
    text_add(out, painter.style == STYLE_PLAIN ? code->after_plain : code->after_other);
    painter.style = style;
}

static void write_cell(const struct cell *cell, struct text *out)
{
    char ascii[2];
    if (!same_style(cell, painter.style))
        set_style(cell->style, out);
    text_add(out, cell_shown(cell, painter.unicode, ascii));
}

/* Over a few cells by writing them once more, where that is shortest. */
static void go_to(const struct cell *cells, int row, int column, struct text *out)
{
    enum { FEW = 3 };
    int between = painter.row == row ? column - painter.column : -1;
    bool few = between >= 0 && between <= FEW;
    for (int i = painter.column; few && i < column; i++)
        few = strlen(cells[i].glyph) == 1 && same_style(&cells[i], painter.style);
    if (few)
        while (painter.column < column)
            write_cell(&cells[painter.column++], out);
    else if (between > 0 && painter.can.right[0] != '\0')
        text_add(out, tiparm(painter.can.right, between));
    else
        text_add(out, tiparm(painter.can.place, row, column));
    painter.row = row;
    painter.column = column;
}

/* Is the row blank from this column on, in one style that clearing leaves? */
static bool can_clear(const struct cell *cells, int column, int columns)
{
    bool inked = painter.styles[cells[column].style].inked;
    bool blank = painter.can.clear_right[0] != '\0' && (!inked || painter.fills);
    for (int i = column; blank && i < columns; i++)
        blank = is_blank(&cells[i]) && same_style(&cells[i], cells[column].style);
    return blank;
}

/* Returns the column after what was painted. */
static int paint_piece(const struct cell *cells, int row, int column, int columns, struct text *out)
{
    enum { WORTH = 4 };
    go_to(cells, row, column, out);
    if (columns - column >= WORTH && can_clear(cells, column, columns)) {
        if (!same_style(&cells[column], painter.style))
            set_style(cells[column].style, out);
        text_add(out, painter.can.clear_right);
        return columns;
    }
    do
        write_cell(&cells[column++], out);
    while (painter.unicode && column < columns && cells[column].glyph[0] == '\0');
    painter.column = column;
    if (column == columns) /* on some terminals the cursor is in the next row now */
        painter.row = -1;
    return column;
}

/* The first column from `column` on that is not as it is seen. */
static int next_changed(const struct cell *cells, const struct cell *seen, int column, int columns)
{
    while (column < columns && same_cell(&cells[column], &seen[column]))
        column++;
    return column;
}

static void paint_row(const struct grid *grid, int row, int columns, struct text *out)
{
    const struct cell *cells = &grid->cells[(size_t)row * (size_t)grid->columns];
    struct cell *seen = &painter.seen.cells[(size_t)row * (size_t)grid->columns];
    if (memcmp(cells, seen, (size_t)grid->columns * sizeof *cells) == 0)
        return;
    for (int column = 0; (column = next_changed(cells, seen, column, columns)) < columns;) {
        while (painter.unicode && column > 0 && cells[column].glyph[0] == '\0')
            column--;
        column = paint_piece(cells, row, column, columns, out);
    }
    memcpy(seen, cells, (size_t)grid->columns * sizeof *cells);
}

/* Another size, or what stands there is not known: it begins empty. */
static void begin_empty(const struct grid *grid, struct text *out)
{
    grid_done(&painter.seen);
    grid_init(&painter.seen, grid->rows, grid->columns);
    capability_add("sgr0", out);
    text_add(out, painter.can.clear);
}

void paint(const struct grid *grid, int rows, int columns, struct text *out)
{
    if (painter.seen.rows != grid->rows || painter.seen.columns != grid->columns)
        begin_empty(grid, out);
    painter.row = -1;
    painter.style = STYLE_PLAIN;
    columns = columns < grid->columns ? columns : grid->columns;
    for (int row = 0; row < grid->rows && row < rows; row++)
        paint_row(grid, row, columns - (painter.may_scroll && row == rows - 1), out);
    set_style(STYLE_PLAIN, out);
}
