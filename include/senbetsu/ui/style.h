/* What a piece of the screen means; how it looks is the terminal's business (term.c): colours where
 * there are some, attributes where there are none, and always a letter or mark beside it. */
#ifndef SENBETSU_UI_STYLE_H
#define SENBETSU_UI_STYLE_H

enum style {
    STYLE_PLAIN,
    STYLE_QUIET,  /* done, or of minor importance */
    STYLE_STRONG, /* what the eye should find */
    STYLE_TITLE,  /* the line at the top */
    STYLE_CURSOR, /* where the cursor is */
    STYLE_KEEP,
    STYLE_HOLD,
    STYLE_REJECT,
    STYLE_ALERT, /* something could not be done */
    STYLE_KEY,   /* a key's name in footer and help */
    STYLE_RULE,  /* lines between things */
    STYLE_COUNT,
};

#endif
