#include "senbetsu/ui/bindings.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/screens/first_look_view.h"
#include "senbetsu/screens/home_view.h"
#include "senbetsu/screens/lot_view.h"
#include "senbetsu/screens/pairs_view.h"
#include "senbetsu/screens/pass_view.h"
#include "senbetsu/screens/rates_view.h"
#include "senbetsu/screens/round_view.h"
#include "senbetsu/screens/sheet_keys.h"
#include "senbetsu/screens/spawning_view.h"
#include "senbetsu/screens/tally_screen.h"
#include "senbetsu/ui/form.h"
#include "senbetsu/ui/pager.h"

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

/* The keys that every list has. */
#define LIST_KEYS(context)                                                                         \
    {context, PLAIN(KEY_ARROW_UP), LIST_UP, 0, "Up", "above", "a line up"},                        \
        {context, CHARACTER('8'), LIST_UP, 0, "8", NULL, NULL},                                    \
        {context, CHARACTER('k'), LIST_UP, 0, "k", NULL, NULL},                                    \
        {context, PLAIN(KEY_ARROW_DOWN), LIST_DOWN, 0, "Down", "below", "a line down"},            \
        {context, CHARACTER('2'), LIST_DOWN, 0, "2", NULL, NULL},                                  \
        {context, CHARACTER('j'), LIST_DOWN, 0, "j", NULL, NULL},                                  \
        {context, PLAIN(KEY_PAGE_UP), LIST_PAGE_UP, 0, "PgUp", NULL, "a screenful up"},            \
        {context, CHARACTER('9'), LIST_PAGE_UP, 0, "9", NULL, NULL},                               \
        {context, PLAIN(KEY_PAGE_DOWN), LIST_PAGE_DOWN, 0, "PgDn", NULL, "a screenful down"},      \
        {context, CHARACTER('3'), LIST_PAGE_DOWN, 0, "3", NULL, NULL},                             \
        {context, CHARACTER(' '), LIST_PAGE_DOWN, 0, "Space", NULL, NULL},                         \
        {context, PLAIN(KEY_FIRST), LIST_FIRST, 0, "Home", NULL, "to the first line"},             \
        {context, CHARACTER('7'), LIST_FIRST, 0, "7", NULL, NULL},                                 \
        {context, PLAIN(KEY_LAST), LIST_LAST, 0, "End", NULL, "to the last line"},                 \
    {                                                                                              \
        context, CHARACTER('1'), LIST_LAST, 0, "1", NULL, NULL                                     \
    }

#define LIST_END(context, label, help)                                                             \
    {context, CHARACTER('?'), LIST_HELP, 0, "?", "help", "all keys"},                              \
        {context, CHARACTER('.'), LIST_HELP, 0, ".", NULL, NULL},                                  \
        {context, {KEY_FUNCTION, 1}, LIST_HELP, 0, "F1", NULL, NULL},                              \
        {context, CHARACTER('q'), LIST_LEAVE, 0, "q", label, help},                                \
        {context, CHARACTER('0'), LIST_LEAVE, 0, "0", NULL, NULL},                                 \
    {                                                                                              \
        context, PLAIN(KEY_ESCAPE), LIST_LEAVE, 0, "Esc", NULL, NULL                               \
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

    /* Seasons and spawnings. */
    {CONTEXT_HOME, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "open",
     "open the spawning in front, or do what the line says"},
    {CONTEXT_HOME, CHARACTER('+'), HOME_ADD, 0, "+", "add", "add a spawning"},
    {CONTEXT_HOME, CHARACTER('n'), HOME_ADD, 0, "n", NULL, NULL},
    {CONTEXT_HOME, CHARACTER('*'), HOME_CHANGE, 0, "*", "change",
     "change what is known of the spawning in front"},
    {CONTEXT_HOME, CHARACTER('c'), HOME_CHANGE, 0, "c", NULL, NULL},
    {CONTEXT_HOME, CHARACTER('/'), HOME_JUDGE, 0, "/", "who", "say who judges"},
    {CONTEXT_HOME, CHARACTER('w'), HOME_JUDGE, 0, "w", NULL, NULL},
    {CONTEXT_HOME, CHARACTER('5'), HOME_RATES, 0, "5", "rates",
     "the season in front, from the eggs to the fish kept"},
    {CONTEXT_HOME, CHARACTER('r'), HOME_RATES, 0, "r", NULL, NULL},
    {CONTEXT_HOME, CHARACTER('4'), HOME_PAIRS, 0, "4", "pairs",
     "pairs over the seasons, and crosses not tried yet"},
    {CONTEXT_HOME, CHARACTER('x'), HOME_PAIRS, 0, "x", NULL, NULL},
    {CONTEXT_HOME, CHARACTER('6'), HOME_SAMPLES, 0, "6", "count",
     "count fish by samples: weighed, displaced or scooped"},
    {CONTEXT_HOME, CHARACTER('t'), HOME_SAMPLES, 0, "t", NULL, NULL},
    LIST_KEYS(CONTEXT_HOME),
    LIST_END(CONTEXT_HOME, "leave", "leave the program"),

    /* The rates of a season. */
    {CONTEXT_RATES, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "open",
     "open the spawning in front"},
    {CONTEXT_RATES, PLAIN(KEY_ARROW_LEFT), RATES_BEFORE, 0, "Left", "season before",
     "the season before"},
    {CONTEXT_RATES, CHARACTER('4'), RATES_BEFORE, 0, "4", NULL, NULL},
    {CONTEXT_RATES, CHARACTER('h'), RATES_BEFORE, 0, "h", NULL, NULL},
    {CONTEXT_RATES, PLAIN(KEY_ARROW_RIGHT), RATES_AFTER, 0, "Right", "after", "the season after"},
    {CONTEXT_RATES, CHARACTER('6'), RATES_AFTER, 0, "6", NULL, NULL},
    {CONTEXT_RATES, CHARACTER('l'), RATES_AFTER, 0, "l", NULL, NULL},
    {CONTEXT_RATES, CHARACTER('5'), RATES_BOOK, 0, "5", "book",
     "the season book, to read, save or print"},
    {CONTEXT_RATES, CHARACTER('p'), RATES_BOOK, 0, "p", NULL, NULL},
    {CONTEXT_RATES, CHARACTER('+'), RATES_PAIRS, 0, "+", "pairs",
     "pairs over the seasons, and crosses not tried yet"},
    {CONTEXT_RATES, CHARACTER('x'), RATES_PAIRS, 0, "x", NULL, NULL},
    LIST_KEYS(CONTEXT_RATES),
    LIST_END(CONTEXT_RATES, "back", "back to the spawnings"),

    /* Pairs over the seasons. */
    {CONTEXT_PAIRS, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "spawnings",
     "the spawnings of the pair in front"},
    {CONTEXT_PAIRS, PLAIN(KEY_ARROW_LEFT), PAIRS_STAGE, -1, "Left", "cull before",
     "the cull before, first of all the whole way"},
    {CONTEXT_PAIRS, CHARACTER('4'), PAIRS_STAGE, -1, "4", NULL, NULL},
    {CONTEXT_PAIRS, CHARACTER('h'), PAIRS_STAGE, -1, "h", NULL, NULL},
    {CONTEXT_PAIRS, PLAIN(KEY_ARROW_RIGHT), PAIRS_STAGE, 1, "Right", "after", "the cull after"},
    {CONTEXT_PAIRS, CHARACTER('6'), PAIRS_STAGE, 1, "6", NULL, NULL},
    {CONTEXT_PAIRS, CHARACTER('l'), PAIRS_STAGE, 1, "l", NULL, NULL},
    {CONTEXT_PAIRS, CHARACTER('*'), PAIRS_SORT, 0, "*", "sort", "sort by the next column"},
    {CONTEXT_PAIRS, CHARACTER('s'), PAIRS_SORT, 0, "s", NULL, NULL},
    {CONTEXT_PAIRS, CHARACTER('/'), PAIRS_UNTRIED, 0, "/", "untried",
     "show the crosses not tried yet, or only pairs that were set"},
    {CONTEXT_PAIRS, CHARACTER('u'), PAIRS_UNTRIED, 0, "u", NULL, NULL},
    {CONTEXT_PAIRS, CHARACTER('+'), PAIRS_WHAT_IF, 0, "+", "what if",
     "choose a dam and a sire, and find their cross in the chart"},
    {CONTEXT_PAIRS, CHARACTER('w'), PAIRS_WHAT_IF, 0, "w", NULL, NULL},
    {CONTEXT_PAIRS, CHARACTER('5'), PAIRS_PAGE, 0, "5", "page",
     "the pairs on a page, to read, save or print"},
    {CONTEXT_PAIRS, CHARACTER('p'), PAIRS_PAGE, 0, "p", NULL, NULL},
    LIST_KEYS(CONTEXT_PAIRS),
    LIST_END(CONTEXT_PAIRS, "back", "back to where you were"),

    /* A pair's spawnings. */
    {CONTEXT_PAIR, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "open",
     "open the spawning in front"},
    LIST_KEYS(CONTEXT_PAIR),
    LIST_END(CONTEXT_PAIR, "back", "back to the pairs"),

    /* A spawning and its rounds. */
    {CONTEXT_SPAWNING, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "open",
     "open the round in front"},
    {CONTEXT_SPAWNING, CHARACTER('+'), SPAWNING_BEGIN, 0, "+", "begin a round", "begin a round"},
    {CONTEXT_SPAWNING, CHARACTER('n'), SPAWNING_BEGIN, 0, "n", NULL, NULL},
    {CONTEXT_SPAWNING, CHARACTER('*'), SPAWNING_CHANGE, 0, "*", "change",
     "change the round: standard, places, fish expected, fates"},
    {CONTEXT_SPAWNING, CHARACTER('c'), SPAWNING_CHANGE, 0, "c", NULL, NULL},
    {CONTEXT_SPAWNING, CHARACTER('5'), SPAWNING_PASS, 0, "5", "pass",
     "the culling pass of the round in front"},
    {CONTEXT_SPAWNING, CHARACTER('p'), SPAWNING_PASS, 0, "p", NULL, NULL},
    {CONTEXT_SPAWNING, CHARACTER('6'), SPAWNING_LIST, 0, "6", "list",
     "the cull list of the round in front"},
    {CONTEXT_SPAWNING, CHARACTER('l'), SPAWNING_LIST, 0, "l", NULL, NULL},
    {CONTEXT_SPAWNING, CHARACTER('-'), SPAWNING_FATES, 0, "-", "fates",
     "say where the rejects of the round in front went"},
    {CONTEXT_SPAWNING, CHARACTER('r'), SPAWNING_FATES, 0, "r", NULL, NULL},
    {CONTEXT_SPAWNING, CHARACTER('/'), SPAWNING_LOTS, 0, "/", "lots",
     "its lots: split, put together, dead fish, ponds"},
    {CONTEXT_SPAWNING, CHARACTER('o'), SPAWNING_LOTS, 0, "o", NULL, NULL},
    LIST_KEYS(CONTEXT_SPAWNING),
    LIST_END(CONTEXT_SPAWNING, "back", "back to the spawnings"),

    /* A spawning's lots. */
    {CONTEXT_LOTS, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "rounds",
     "the rounds of the lot in front; begin one"},
    {CONTEXT_LOTS, CHARACTER('+'), LOT_DEAD, 0, "+", "dead, lost, found, counted",
     "fish found dead; the form also takes lost, found, counted"},
    {CONTEXT_LOTS, CHARACTER('d'), LOT_DEAD, 0, "d", NULL, NULL},
    {CONTEXT_LOTS, CHARACTER('l'), LOT_LOST, 0, "l", NULL, "fish are missing"},
    {CONTEXT_LOTS, CHARACTER('f'), LOT_FOUND, 0, "f", NULL, "fish turned up again"},
    {CONTEXT_LOTS, CHARACTER('c'), LOT_COUNT, 0, "c", NULL, "the whole lot was counted"},
    {CONTEXT_LOTS, CHARACTER('5'), LOT_SPLIT, 0, "5", "split",
     "put some of its fish into a new lot, or another"},
    {CONTEXT_LOTS, CHARACTER('s'), LOT_SPLIT, 0, "s", NULL, NULL},
    {CONTEXT_LOTS, CHARACTER('6'), LOT_MERGE, 0, "6", "put together",
     "put all its fish together with another lot's"},
    {CONTEXT_LOTS, CHARACTER('g'), LOT_MERGE, 0, "g", NULL, NULL},
    {CONTEXT_LOTS, CHARACTER('*'), LOT_MOVE, 0, "*", "pond", "move the lot to another pond"},
    {CONTEXT_LOTS, CHARACTER('m'), LOT_MOVE, 0, "m", NULL, NULL},
    {CONTEXT_LOTS, CHARACTER('-'), LOT_UNDO, 0, "-", "undo",
     "take back what was recorded last of the lot (pressed twice)"},
    {CONTEXT_LOTS, CHARACTER('u'), LOT_UNDO, 0, "u", NULL, NULL},
    {CONTEXT_LOTS, CHARACTER('/'), LOT_HISTORY, 0, "/", "history",
     "all that happened to the lot, to read, save or print"},
    {CONTEXT_LOTS, CHARACTER('h'), LOT_HISTORY, 0, "h", NULL, NULL},
    LIST_KEYS(CONTEXT_LOTS),
    LIST_END(CONTEXT_LOTS, "back", "back to the rounds"),

    /* A round's bowls. */
    {CONTEXT_ROUND, PLAIN(KEY_RETURN), LIST_CHOOSE, 0, "Enter", "judge",
     "judge on in the bowl in front"},
    {CONTEXT_ROUND, CHARACTER('+'), ROUND_NEXT_BOWL, 0, "+", "next bowl", "take the next bowl"},
    {CONTEXT_ROUND, CHARACTER('b'), ROUND_NEXT_BOWL, 0, "b", NULL, NULL},
    {CONTEXT_ROUND, CHARACTER('4'), ROUND_SECOND_LOOK, 0, "4", "second look",
     "judge the held fish again, one after another"},
    {CONTEXT_ROUND, CHARACTER('h'), ROUND_SECOND_LOOK, 0, "h", NULL, NULL},
    {CONTEXT_ROUND, CHARACTER('5'), ROUND_PASS, 0, "5", "pass", "the culling pass"},
    {CONTEXT_ROUND, CHARACTER('p'), ROUND_PASS, 0, "p", NULL, NULL},
    {CONTEXT_ROUND, CHARACTER('6'), ROUND_LIST, 0, "6", "list", "the cull list"},
    {CONTEXT_ROUND, CHARACTER('l'), ROUND_LIST, 0, "l", NULL, NULL},
    {CONTEXT_ROUND, CHARACTER('g'), ROUND_FIRST_LOOK, 0, "g", NULL,
     "a first look: how many of some fish of the lot are good"},
    {CONTEXT_ROUND, CHARACTER('*'), ROUND_CHANGE, 0, "*", "change",
     "change the round: standard, places, fish expected, fates"},
    {CONTEXT_ROUND, CHARACTER('c'), ROUND_CHANGE, 0, "c", NULL, NULL},
    {CONTEXT_ROUND, CHARACTER('/'), ROUND_COUNT, 0, "/", NULL,
     "say how many fish the bowl in front holds"},
    {CONTEXT_ROUND, CHARACTER('f'), ROUND_COUNT, 0, "f", NULL, NULL},
    {CONTEXT_ROUND, CHARACTER('t'), ROUND_SAMPLES, 0, "t", NULL,
     "count the fish by samples: weighed, displaced or scooped"},
    {CONTEXT_ROUND, CHARACTER('-'), ROUND_FATES, 0, "-", "fates", "say where the rejects went"},
    {CONTEXT_ROUND, CHARACTER('r'), ROUND_FATES, 0, "r", NULL, NULL},
    LIST_KEYS(CONTEXT_ROUND),
    LIST_END(CONTEXT_ROUND, "back", "back to the rounds"),

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

    /* The first look. */
    {CONTEXT_FIRST_LOOK, CHARACTER('+'), FIRST_LOOK_GOOD, 0, "+", "good", "this fish is good"},
    {CONTEXT_FIRST_LOOK, PLAIN(KEY_RETURN), FIRST_LOOK_GOOD, 0, "Enter", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER(' '), FIRST_LOOK_GOOD, 0, "Space", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER('g'), FIRST_LOOK_GOOD, 0, "g", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER('0'), FIRST_LOOK_NOT_GOOD, 0, "0", "not good",
     "this fish is not good"},
    {CONTEXT_FIRST_LOOK, CHARACTER('n'), FIRST_LOOK_NOT_GOOD, 0, "n", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER('-'), FIRST_LOOK_UNDO, 0, "-", "undo",
     "take your last key back, again and again"},
    {CONTEXT_FIRST_LOOK, CHARACTER('u'), FIRST_LOOK_UNDO, 0, "u", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER('.'), FIRST_LOOK_MORE, 0, ".", "more",
     "then a digit: 9 help, 0 leave"},
    {CONTEXT_FIRST_LOOK, CHARACTER(','), FIRST_LOOK_MORE, 0, ",", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER('?'), FIRST_LOOK_HELP, 0, "?", "help", "all keys"},
    {CONTEXT_FIRST_LOOK, {KEY_FUNCTION, 1}, FIRST_LOOK_HELP, 0, "F1", NULL, NULL},
    {CONTEXT_FIRST_LOOK, CHARACTER('q'), FIRST_LOOK_LEAVE, 0, "q", "leave",
     "back to the round; the look goes on from the same numbers"},

    /* Everything else of the first look by number. */
    {CONTEXT_FIRST_LOOK_MORE, CHARACTER('9'), FIRST_LOOK_HELP, 0, "9", "help", "help"},
    {CONTEXT_FIRST_LOOK_MORE, CHARACTER('0'), FIRST_LOOK_LEAVE, 0, "0", "leave",
     "back to the round"},
    {CONTEXT_FIRST_LOOK_MORE, CHARACTER('-'), FIRST_LOOK_BACK, 0, "-", "back", "back to the fish"},
    {CONTEXT_FIRST_LOOK_MORE, PLAIN(KEY_ESCAPE), FIRST_LOOK_BACK, 0, "Esc", NULL, NULL},
    {CONTEXT_FIRST_LOOK_MORE, PLAIN(KEY_ERASE), FIRST_LOOK_BACK, 0, "Backspace", NULL, NULL},

    /* The pass. */
    {CONTEXT_PASS, PLAIN(KEY_ARROW_LEFT), PASS_DIAL, -1, "Left", NULL,
     "the threshold or the places before"},
    {CONTEXT_PASS, CHARACTER('4'), PASS_DIAL, -1, "4", NULL, NULL},
    {CONTEXT_PASS, CHARACTER('h'), PASS_DIAL, -1, "h", NULL, NULL},
    {CONTEXT_PASS, PLAIN(KEY_ARROW_RIGHT), PASS_DIAL, 1, "Right", "which",
     "the threshold or the places after"},
    {CONTEXT_PASS, CHARACTER('6'), PASS_DIAL, 1, "6", NULL, NULL},
    {CONTEXT_PASS, CHARACTER('l'), PASS_DIAL, 1, "l", NULL, NULL},
    {CONTEXT_PASS, PLAIN(KEY_TABULATOR), PASS_DIAL, 1, "Tab", NULL, NULL},
    {CONTEXT_PASS, CHARACTER('+'), PASS_TURN, 1, "+", "more", "half a point or one place more"},
    {CONTEXT_PASS, CHARACTER('-'), PASS_TURN, -1, "-", "less", "half a point or one place less"},
    {CONTEXT_PASS, CHARACTER('*'), PASS_TURN, 10, "*", "10 more", "five points or ten places more"},
    {CONTEXT_PASS, CHARACTER('/'), PASS_TURN, -10, "/", "10 less",
     "five points or ten places less"},
    {CONTEXT_PASS, CHARACTER('5'), PASS_CHANGED, 0, "5", "changed only",
     "only the fish that change side, or all again"},
    {CONTEXT_PASS, CHARACTER('c'), PASS_CHANGED, 0, "c", NULL, NULL},
    {CONTEXT_PASS, PLAIN(KEY_RETURN), PASS_RECORD, 0, "Enter", "record",
     "record the pass (pressed twice)"},
    LIST_KEYS(CONTEXT_PASS),
    LIST_END(CONTEXT_PASS, "leave as it was", "leave without a trace"),

    /* The reader. */
    {CONTEXT_PAGER, CHARACTER('4'), PAGER_SAVE, 0, "4", "save", "save it to a file"},
    {CONTEXT_PAGER, CHARACTER('s'), PAGER_SAVE, 0, "s", NULL, NULL},
    {CONTEXT_PAGER, CHARACTER('5'), PAGER_PRINT, 0, "5", "print", "send it to the printer"},
    {CONTEXT_PAGER, CHARACTER('p'), PAGER_PRINT, 0, "p", NULL, NULL},
    {CONTEXT_PAGER, CHARACTER('6'), PAGER_ASCII, 0, "6", "plain ASCII",
     "plain ASCII, or all characters again"},
    {CONTEXT_PAGER, CHARACTER('a'), PAGER_ASCII, 0, "a", NULL, NULL},
    LIST_KEYS(CONTEXT_PAGER),
    LIST_END(CONTEXT_PAGER, "back", "back"),

    /* Forms. */
    {CONTEXT_FORM, PLAIN(KEY_RETURN), FORM_ENTER, 0, "Enter", "next line; last: save",
     "the next line; on the last one, save"},
    {CONTEXT_FORM, CHARACTER('-'), FORM_MINUS, 0, "-", "back",
     "the line above, then back; while typing: erase a digit"},
    {CONTEXT_FORM, PLAIN(KEY_ARROW_UP), FORM_UP, 0, "Up", "above", "the line above"},
    {CONTEXT_FORM, PLAIN(KEY_BACKTAB), FORM_UP, 0, "Shift-Tab", NULL, NULL},
    {CONTEXT_FORM, PLAIN(KEY_ARROW_DOWN), FORM_DOWN, 0, "Down", "below", "the line below"},
    {CONTEXT_FORM, PLAIN(KEY_TABULATOR), FORM_DOWN, 0, "Tab", NULL, NULL},
    {CONTEXT_FORM, PLAIN(KEY_ARROW_LEFT), FORM_BEFORE, 0, "Left", NULL, "the choice before"},
    {CONTEXT_FORM, PLAIN(KEY_ARROW_RIGHT), FORM_AFTER, 0, "Right", "choice",
     "the choice after (also Space, or its number)"},
    {CONTEXT_FORM, PLAIN(KEY_ERASE), FORM_ERASE, 0, "Backspace", NULL,
     "take the last character away"},
    {CONTEXT_FORM, PLAIN(KEY_REMOVE), FORM_EMPTY, 0, "Delete", "empty", "empty the line"},
    {CONTEXT_FORM, {KEY_FUNCTION, 2}, FORM_ACCEPT, 0, "F2", "save", "save from any line"},
    {CONTEXT_FORM, {KEY_FUNCTION, 1}, FORM_HELP, 0, "F1", "help", "all keys"},
    {CONTEXT_FORM, PLAIN(KEY_ESCAPE), FORM_LEAVE, 0, "Esc", "leave", "back without saving"},
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
        [CONTEXT_HOME] = "Seasons and spawnings",
        [CONTEXT_RATES] = "A season's rates",
        [CONTEXT_PAIRS] = "Pairs over the seasons",
        [CONTEXT_PAIR] = "The spawnings of a pair",
        [CONTEXT_SPAWNING] = "The rounds of a spawning",
        [CONTEXT_LOTS] = "The lots of a spawning",
        [CONTEXT_ROUND] = "The bowls of a round",
        [CONTEXT_TALLY] = "At the tally",
        [CONTEXT_TALLY_FURTHER] = "A reason beyond the ninth",
        [CONTEXT_TALLY_MENU] = "Everything else of the tally by number",
        [CONTEXT_TALLY_SIZE] = "The size of a scoop",
        [CONTEXT_FIRST_LOOK] = "At the first look",
        [CONTEXT_FIRST_LOOK_MORE] = "Everything else of the first look by number",
        [CONTEXT_PASS] = "The pass",
        [CONTEXT_PAGER] = "Reading a list",
        [CONTEXT_FORM] = "Filling in a form",
    };
    return titles[context];
}
