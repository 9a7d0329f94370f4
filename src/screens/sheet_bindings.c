/* The keys of the sheet and the tally, with what is drawn and written from them. */
#include "senbetsu/screens/sheet_bindings.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/sheet_keys.h"
#include "senbetsu/screens/tally_screen.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define CHARACTER(c)                                                                               \
    {                                                                                              \
        KEY_CHARACTER, (c)                                                                         \
    }
#define PLAIN(kind)                                                                                \
    {                                                                                              \
        (kind), 0                                                                                  \
    }

const struct binding bindings[] = {
    /* At the fish. */
    {CONTEXT_SHEET, CHARACTER('0'), COMMAND_SCORE, 0, "0–9", "score",
     "score the aspect in front (0 is 10 where a scale ends at 10)"},
    {CONTEXT_SHEET, CHARACTER('1'), COMMAND_SCORE, 1, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('2'), COMMAND_SCORE, 2, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('3'), COMMAND_SCORE, 3, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('4'), COMMAND_SCORE, 4, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('5'), COMMAND_SCORE, 5, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('6'), COMMAND_SCORE, 6, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('7'), COMMAND_SCORE, 7, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('8'), COMMAND_SCORE, 8, NULL, NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('9'), COMMAND_SCORE, 9, NULL, NULL, NULL},
    {CONTEXT_SHEET, PLAIN(KEY_RETURN), COMMAND_TYPICAL, 0, "Enter", "typical",
     "typical score for all open aspects; fish done: to the front"},
    {CONTEXT_SHEET, PLAIN(KEY_NONE), COMMAND_FAULT, 0, "a–z", "fault",
     "the fault with this small letter: seen, or not after all"},
    {CONTEXT_SHEET, CHARACTER('*'), COMMAND_ENTER_MODE, SHEET_PICK_FAULT, "*", NULL,
     "then a digit: the fault with this number"},
    {CONTEXT_SHEET, PLAIN(KEY_NONE), COMMAND_ASPECT, 0, "A–Z", "aspect",
     "put the hand on the aspect with this capital letter"},
    {CONTEXT_SHEET, CHARACTER('/'), COMMAND_ENTER_MODE, SHEET_PICK_ASPECT, "/", NULL,
     "then a digit: put the hand on the aspect with this number"},
    {CONTEXT_SHEET, CHARACTER('-'), COMMAND_UNDO, 0, "-", "undo",
     "take the last key back, whichever fish it was for"},
    {CONTEXT_SHEET, CHARACTER('u'), COMMAND_UNDO, 0, "u", NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('+'), COMMAND_SKIP, 0, "+", "next",
     "leave the aspect open and go to the next open one"},
    {CONTEXT_SHEET, CHARACTER(' '), COMMAND_SKIP, 0, "Space", NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('.'), COMMAND_ENTER_MODE, SHEET_MENU, ".", "more",
     "all else by number: other fish, length, tag, note, by hand"},
    {CONTEXT_SHEET, CHARACTER(','), COMMAND_ENTER_MODE, SHEET_MENU, ",", NULL, NULL},
    {CONTEXT_SHEET, PLAIN(KEY_ARROW_UP), COMMAND_UP, 0, "Up", NULL, "the aspect above"},
    {CONTEXT_SHEET, PLAIN(KEY_ARROW_DOWN), COMMAND_DOWN, 0, "Down", NULL, "the aspect below"},
    {CONTEXT_SHEET, PLAIN(KEY_REMOVE), COMMAND_CLEAR, 0, "Del", NULL,
     "take the score of the aspect in front away"},
    {CONTEXT_SHEET, PLAIN(KEY_ERASE), COMMAND_CLEAR, 0, "Backspace", NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('p'), COMMAND_EARLIER, 0, "p", NULL, "the fish before"},
    {CONTEXT_SHEET, PLAIN(KEY_ARROW_LEFT), COMMAND_EARLIER, 0, "Left", NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('n'), COMMAND_LATER, 0, "n", NULL, "the fish after"},
    {CONTEXT_SHEET, PLAIN(KEY_ARROW_RIGHT), COMMAND_LATER, 0, "Right", NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('g'), COMMAND_FIRST_OPEN, 0, "g", NULL,
     "to the front: the first fish that is not done"},
    {CONTEXT_SHEET, CHARACTER('l'), COMMAND_ENTER_MODE, SHEET_LENGTH, "l", "length",
     "enter the length in mm"},
    {CONTEXT_SHEET, CHARACTER('t'), COMMAND_ENTER_MODE, SHEET_TAG, "t", "tag",
     "enter a tag; a tag reader needs no key before it"},
    {CONTEXT_SHEET, CHARACTER('m'), COMMAND_ENTER_MODE, SHEET_NOTE, "m", "note",
     "a note on the fish"},
    {CONTEXT_SHEET, CHARACTER('v'), COMMAND_ENTER_MODE, SHEET_VERDICT, "v", "by hand",
     "set the verdict by hand, with a reason"},
    {CONTEXT_SHEET, CHARACTER('b'), COMMAND_ENTER_MODE, SHEET_NEXT_BOWL, "b", "bowl",
     "go on with the next bowl"},
    {CONTEXT_SHEET, CHARACTER('?'), ACTION_HELP, 0, "?", "help", "all keys"},
    {CONTEXT_SHEET, {KEY_FUNCTION, 1}, ACTION_HELP, 0, "F1", NULL, NULL},
    {CONTEXT_SHEET, CHARACTER('q'), COMMAND_LEAVE, 0, "q", "leave",
     "leave the sheet; it opens again at this fish"},

    /* Fault or aspect by number. */
    {CONTEXT_SHEET_PICK, CHARACTER('1'), ACTION_PICK, 0, "1–9", "pick",
     "the one with this number beside it"},
    {CONTEXT_SHEET_PICK, CHARACTER('2'), ACTION_PICK, 1, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('3'), ACTION_PICK, 2, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('4'), ACTION_PICK, 3, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('5'), ACTION_PICK, 4, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('6'), ACTION_PICK, 5, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('7'), ACTION_PICK, 6, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('8'), ACTION_PICK, 7, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('9'), ACTION_PICK, 8, NULL, NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('0'), ACTION_PICK, 9, "0", "10th", "the tenth"},
    {CONTEXT_SHEET_PICK, CHARACTER('.'), ACTION_PICK, 10, ".", "11th", "the eleventh"},
    {CONTEXT_SHEET_PICK, CHARACTER(','), ACTION_PICK, 10, ",", NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('+'), ACTION_PICK, 11, "+", "12th", "the twelfth"},
    {CONTEXT_SHEET_PICK, CHARACTER('*'), ACTION_MORE, 0, "*", "further ones",
     "numbers for the next twelve, where there are more"},
    {CONTEXT_SHEET_PICK, CHARACTER('/'), ACTION_MORE, 0, "/", NULL, NULL},
    {CONTEXT_SHEET_PICK, CHARACTER('-'), COMMAND_CANCEL, 0, "-", "back", "back to the scores"},
    {CONTEXT_SHEET_PICK, PLAIN(KEY_ESCAPE), COMMAND_CANCEL, 0, "Esc", NULL, NULL},
    {CONTEXT_SHEET_PICK, PLAIN(KEY_ERASE), COMMAND_CANCEL, 0, "Backspace", NULL, NULL},

    /* Everything else by number. */
    {CONTEXT_SHEET_MENU, CHARACTER('1'), COMMAND_EARLIER, 0, "1", NULL, "the fish before"},
    {CONTEXT_SHEET_MENU, CHARACTER('2'), COMMAND_LATER, 0, "2", NULL, "the fish after"},
    {CONTEXT_SHEET_MENU, CHARACTER('3'), COMMAND_FIRST_OPEN, 0, "3", NULL, "to the front"},
    {CONTEXT_SHEET_MENU, CHARACTER('4'), COMMAND_ENTER_MODE, SHEET_LENGTH, "4", NULL, "length"},
    {CONTEXT_SHEET_MENU, CHARACTER('5'), COMMAND_ENTER_MODE, SHEET_TAG, "5", NULL, "tag"},
    {CONTEXT_SHEET_MENU, CHARACTER('6'), COMMAND_ENTER_MODE, SHEET_NOTE, "6", NULL, "note"},
    {CONTEXT_SHEET_MENU, CHARACTER('7'), COMMAND_ENTER_MODE, SHEET_VERDICT, "7", NULL,
     "verdict by hand"},
    {CONTEXT_SHEET_MENU, CHARACTER('8'), COMMAND_ENTER_MODE, SHEET_NEXT_BOWL, "8", NULL,
     "next bowl"},
    {CONTEXT_SHEET_MENU, CHARACTER('9'), ACTION_HELP, 0, "9", NULL, "help"},
    {CONTEXT_SHEET_MENU, CHARACTER('0'), COMMAND_LEAVE, 0, "0", NULL, "leave the sheet"},
    {CONTEXT_SHEET_MENU, CHARACTER('*'), COMMAND_CLEAR, 0, "*", NULL, "take the score away"},
    {CONTEXT_SHEET_MENU, CHARACTER('-'), COMMAND_CANCEL, 0, "-", "back", "back to the scores"},
    {CONTEXT_SHEET_MENU, PLAIN(KEY_ESCAPE), COMMAND_CANCEL, 0, "Esc", NULL, NULL},
    {CONTEXT_SHEET_MENU, PLAIN(KEY_ERASE), COMMAND_CANCEL, 0, "Backspace", NULL, NULL},

    /* Notes, verdicts and reasons to choose from. */
    {CONTEXT_SHEET_CHOICE, CHARACTER('0'), COMMAND_CHOOSE, 0, "0–9", "choose",
     "the line with this number"},
    {CONTEXT_SHEET_CHOICE, CHARACTER('1'), COMMAND_CHOOSE, 1, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('2'), COMMAND_CHOOSE, 2, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('3'), COMMAND_CHOOSE, 3, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('4'), COMMAND_CHOOSE, 4, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('5'), COMMAND_CHOOSE, 5, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('6'), COMMAND_CHOOSE, 6, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('7'), COMMAND_CHOOSE, 7, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('8'), COMMAND_CHOOSE, 8, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('9'), COMMAND_CHOOSE, 9, NULL, NULL, NULL},
    {CONTEXT_SHEET_CHOICE, CHARACTER('-'), COMMAND_CANCEL, 0, "-", "back", "back to the scores"},
    {CONTEXT_SHEET_CHOICE, PLAIN(KEY_ESCAPE), COMMAND_CANCEL, 0, "Esc", NULL, NULL},
    {CONTEXT_SHEET_CHOICE, PLAIN(KEY_ERASE), COMMAND_CANCEL, 0, "Backspace", NULL, NULL},

    /* Length, tag, text. */
    {CONTEXT_SHEET_LINE, PLAIN(KEY_RETURN), COMMAND_ACCEPT, 0, "Enter", "done",
     "take the line as typed"},
    {CONTEXT_SHEET_LINE, PLAIN(KEY_ERASE), COMMAND_ERASE, 0, "Backspace", "erase",
     "take the last character away"},
    {CONTEXT_SHEET_LINE, CHARACTER('-'), ACTION_MINUS, 0, "-", NULL,
     "on an empty line: back; in a number: erase a digit"},
    {CONTEXT_SHEET_LINE, PLAIN(KEY_ESCAPE), COMMAND_CANCEL, 0, "Esc", "back", "back, unchanged"},

    /* The tally. */
    {CONTEXT_TALLY, CHARACTER('+'), TALLY_DO_KEEP, 0, "+", "keep",
     "keep one: a fish, or a scoop while scoops are counted"},
    {CONTEXT_TALLY, PLAIN(KEY_RETURN), TALLY_DO_KEEP, 0, "Enter", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER(' '), TALLY_DO_KEEP, 0, "Space", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('1'), TALLY_DO_REJECT, 0, "1–9", "reject",
     "reject one for the reason with this number"},
    {CONTEXT_TALLY, CHARACTER('2'), TALLY_DO_REJECT, 1, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('3'), TALLY_DO_REJECT, 2, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('4'), TALLY_DO_REJECT, 3, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('5'), TALLY_DO_REJECT, 4, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('6'), TALLY_DO_REJECT, 5, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('7'), TALLY_DO_REJECT, 6, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('8'), TALLY_DO_REJECT, 7, NULL, NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('9'), TALLY_DO_REJECT, 8, NULL, NULL, NULL},
    {CONTEXT_TALLY, PLAIN(KEY_NONE), TALLY_DO_REJECT, 0, "a–z", "reason",
     "reject one for the reason with this letter"},
    {CONTEXT_TALLY, CHARACTER('0'), TALLY_DO_REJECT, -1, "0", "no reason",
     "reject one without a reason: the rest of a bowl"},
    {CONTEXT_TALLY, CHARACTER('n'), TALLY_DO_REJECT, -1, "n", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('/'), TALLY_DO_ENTER_MODE, TALLY_FURTHER, "/", "further",
     "then a digit: reject one for a reason beyond the ninth"},
    {CONTEXT_TALLY, CHARACTER('*'), TALLY_DO_UNIT, 0, "*", "fish or scoops",
     "count scoops instead of fish, or fish again"},
    {CONTEXT_TALLY, CHARACTER('b'), TALLY_DO_UNIT, 0, "b", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('-'), TALLY_DO_UNDO, 0, "-", "undo",
     "take your last key back, again and again"},
    {CONTEXT_TALLY, CHARACTER('u'), TALLY_DO_UNDO, 0, "u", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('.'), TALLY_DO_ENTER_MODE, TALLY_MENU, ".", "more",
     "all else by number: dead fish, size of a scoop, leave"},
    {CONTEXT_TALLY, CHARACTER(','), TALLY_DO_ENTER_MODE, TALLY_MENU, ",", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('m'), TALLY_DO_DEAD, 0, "m", "dead", "one found dead"},
    {CONTEXT_TALLY, CHARACTER('l'), TALLY_DO_ENTER_MODE, TALLY_SIZE, "l", "scoop",
     "measure the scoop: the fish counted in one or more of them"},
    {CONTEXT_TALLY, CHARACTER('g'), TALLY_FIRST_LOOK, 0, "g", NULL,
     "a first look: how many of some fish of the lot are good"},
    {CONTEXT_TALLY, CHARACTER('t'), TALLY_SAMPLES, 0, "t", NULL,
     "count the fish by samples: weighed, displaced or scooped"},
    {CONTEXT_TALLY, CHARACTER('?'), TALLY_HELP, 0, "?", "help", "all keys"},
    {CONTEXT_TALLY, {KEY_FUNCTION, 1}, TALLY_HELP, 0, "F1", NULL, NULL},
    {CONTEXT_TALLY, CHARACTER('q'), TALLY_DO_LEAVE, 0, "q", "leave",
     "leave the tally; it goes on from the same numbers"},

    /* A reason beyond the ninth. */
    {CONTEXT_TALLY_FURTHER, CHARACTER('1'), TALLY_REASON, 0, "0–9", "reject",
     "reject one for the reason with this number beside it"},
    {CONTEXT_TALLY_FURTHER, CHARACTER('2'), TALLY_REASON, 1, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('3'), TALLY_REASON, 2, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('4'), TALLY_REASON, 3, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('5'), TALLY_REASON, 4, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('6'), TALLY_REASON, 5, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('7'), TALLY_REASON, 6, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('8'), TALLY_REASON, 7, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('9'), TALLY_REASON, 8, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('0'), TALLY_REASON, 9, NULL, NULL, NULL},
    {CONTEXT_TALLY_FURTHER, CHARACTER('/'), TALLY_MORE, 0, "/", "further ones",
     "numbers for the next ten, where there are more"},
    {CONTEXT_TALLY_FURTHER, CHARACTER('-'), TALLY_DO_CANCEL, 0, "-", "back", "back to the tally"},
    {CONTEXT_TALLY_FURTHER, PLAIN(KEY_ESCAPE), TALLY_DO_CANCEL, 0, "Esc", NULL, NULL},
    {CONTEXT_TALLY_FURTHER, PLAIN(KEY_ERASE), TALLY_DO_CANCEL, 0, "Backspace", NULL, NULL},

    /* Everything else of the tally by number. */
    {CONTEXT_TALLY_MENU, CHARACTER('1'), TALLY_DO_DEAD, 0, "1", "dead", "one found dead"},
    {CONTEXT_TALLY_MENU, CHARACTER('2'), TALLY_DO_ENTER_MODE, TALLY_SIZE, "2", "measure the scoop",
     "measure the scoop"},
    {CONTEXT_TALLY_MENU, CHARACTER('3'), TALLY_FIRST_LOOK, 0, "3", "first look", "a first look"},
    {CONTEXT_TALLY_MENU, CHARACTER('4'), TALLY_SAMPLES, 0, "4", "count by samples",
     "count by samples"},
    {CONTEXT_TALLY_MENU, CHARACTER('9'), TALLY_HELP, 0, "9", "help", "help"},
    {CONTEXT_TALLY_MENU, CHARACTER('0'), TALLY_DO_LEAVE, 0, "0", "leave", "leave the tally"},
    {CONTEXT_TALLY_MENU, CHARACTER('-'), TALLY_DO_CANCEL, 0, "-", "back", "back to the tally"},
    {CONTEXT_TALLY_MENU, PLAIN(KEY_ESCAPE), TALLY_DO_CANCEL, 0, "Esc", NULL, NULL},
    {CONTEXT_TALLY_MENU, PLAIN(KEY_ERASE), TALLY_DO_CANCEL, 0, "Backspace", NULL, NULL},

    /* The size of a scoop. */
    {CONTEXT_TALLY_SIZE, PLAIN(KEY_NONE), TALLY_DO_TYPE, 0, "0–9", "fish",
     "the fish counted in a scoop"},
    {CONTEXT_TALLY_SIZE, CHARACTER('+'), TALLY_DO_TYPE, '+', "+", "next scoop",
     "before the next scoop; also a blank"},
    {CONTEXT_TALLY_SIZE, PLAIN(KEY_RETURN), TALLY_DO_ACCEPT, 0, "Enter", "done",
     "take the size; scoops are counted from now on"},
    {CONTEXT_TALLY_SIZE, PLAIN(KEY_ERASE), TALLY_DO_ERASE, 0, "Backspace", NULL,
     "take the last character away"},
    {CONTEXT_TALLY_SIZE, CHARACTER('-'), TALLY_MINUS, 0, "-", "erase, back",
     "take the last character away; on an empty line: back"},
    {CONTEXT_TALLY_SIZE, PLAIN(KEY_ESCAPE), TALLY_DO_CANCEL, 0, "Esc", "back", "back, unchanged"},
};

const int binding_count = (int)(sizeof bindings / sizeof bindings[0]);

const struct binding *binding_find(enum context context, struct key key)
{
    if (key.kind == KEY_NONE)
        return NULL;
    for (int i = 0; i < binding_count; i++) {
        const struct binding *row = &bindings[i];
        if (row->context == context && row->key.kind == key.kind && row->key.code == key.code)
            return row;
    }
    return NULL;
}

/* The name of the key that the footer calls so, or NULL. */
static const char *key_labelled(enum context context, const char *label)
{
    for (int i = 0; i < binding_count; i++)
        if (bindings[i].context == context && bindings[i].label != NULL &&
            strcmp(bindings[i].label, label) == 0)
            return bindings[i].name;
    return NULL;
}

void binding_absent(enum context context, struct key key, char ret_sentence[NO_KEY_SIZE])
{
    char name[5] = "";
    const char *help = key_labelled(context, "help");
    if (key.kind == KEY_CHARACTER && key.code > ' ')
        utf8_encode(key.code, name);
    snprintf(ret_sentence, NO_KEY_SIZE, "%s does nothing here; %s %s.",
             name[0] != '\0' ? name : "This key",
             help != NULL ? help : key_labelled(context, "back"),
             help != NULL ? "shows the keys" : "goes back");
}

const char *context_title(enum context context)
{
    static const char *const titles[CONTEXT_COUNT] = {
        [CONTEXT_SHEET] = "At the fish",
        [CONTEXT_SHEET_PICK] = "A fault or an aspect by number",
        [CONTEXT_SHEET_MENU] = "Everything else by number",
        [CONTEXT_SHEET_CHOICE] = "Choosing from a list",
        [CONTEXT_SHEET_LINE] = "Typing a line",
        [CONTEXT_TALLY] = "At the tally",
        [CONTEXT_TALLY_FURTHER] = "A reason beyond the ninth",
        [CONTEXT_TALLY_MENU] = "Everything else of the tally by number",
        [CONTEXT_TALLY_SIZE] = "The size of a scoop",
    };
    return titles[context];
}

enum { FOOTER_GAP = 2, NAMES_SIZE = 64, HELP_NAMES = 18 };

void footer_draw(struct grid *grid, int row, int rows, enum context context)
{
    int column = 0, line = 0;
    for (int i = 0; i < binding_count; i++) {
        const struct binding *binding = &bindings[i];
        if (binding->context != context || binding->label == NULL)
            continue;
        int width = utf8_width(binding->name) + 1 + utf8_width(binding->label);
        if (column > 0 && column + width > grid->columns) {
            line++;
            column = 0;
        }
        if (line >= rows)
            return;
        column += grid_put(grid, row + line, column, -1, STYLE_KEY, binding->name) + 1;
        column += grid_put(grid, row + line, column, -1, STYLE_PLAIN, binding->label) + FOOTER_GAP;
    }
}

/* The first row of a group (one help line and its keys) at or after `index`; binding_count at the
 * end. */
static int group_from(int index, enum context context)
{
    while (index < binding_count &&
           (bindings[index].context != context || bindings[index].help == NULL))
        index++;
    return index;
}

/* "-, u": all names of a group. */
static void group_names(int index, char ret_names[NAMES_SIZE])
{
    enum context context = bindings[index].context;
    text_copy(ret_names, NAMES_SIZE, bindings[index].name);
    for (int i = index + 1; i < binding_count; i++) {
        const struct binding *row = &bindings[i];
        if (row->context != context || row->help != NULL)
            break;
        size_t used = strlen(ret_names);
        if (row->name == NULL || used + strlen(row->name) + 3 > NAMES_SIZE)
            continue;
        text_copy(ret_names + used, NAMES_SIZE - used, ", ");
        text_copy(ret_names + used + 2, NAMES_SIZE - used - 2, row->name);
    }
}

static int draw_group(struct grid *grid, int row, int index)
{
    char names[NAMES_SIZE];
    group_names(index, names);
    grid_put(grid, row, 2, HELP_NAMES - 1, STYLE_KEY, names);
    grid_put(grid, row, 2 + HELP_NAMES, -1, STYLE_PLAIN, bindings[index].help);
    return row + 1;
}

void help_draw(struct grid *grid, enum context context)
{
    grid_clear(grid);
    grid_putf(grid, 0, 0, -1, STYLE_TITLE, "Keys: %s", context_title(context));
    int row = 1;
    for (int i = group_from(0, context); i < binding_count; i = group_from(i + 1, context))
        row = draw_group(grid, row, i);
    grid_put(grid, grid->rows - 1, 0, -1, STYLE_QUIET, "any key: back");
}

void bindings_markdown(struct text *out)
{
    for (int context = 0; context < CONTEXT_COUNT; context++) {
        text_addf(out, "%s### %s\n\n| key | what it does |\n|---|---|\n", context == 0 ? "" : "\n",
                  context_title((enum context)context));
        for (int i = group_from(0, (enum context)context); i < binding_count;
             i = group_from(i + 1, (enum context)context)) {
            char names[NAMES_SIZE];
            group_names(i, names);
            text_addf(out, "| `%s` | %s |\n", names, bindings[i].help);
        }
    }
}
