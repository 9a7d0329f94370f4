/* From a key to a command of the sheet: the table of keys, the letters of the standard, and the
 * mode the sheet is in. */
#ifndef SENBETSU_SCREENS_SHEET_KEYS_H
#define SENBETSU_SCREENS_SHEET_KEYS_H

#include "senbetsu/screens/sheet_bindings.h"
#include "senbetsu/sheet/letters.h"
#include "senbetsu/sheet/sheet.h"

/* Actions of the sheet's contexts beyond enum sheet_command_kind. */
enum sheet_action {
    ACTION_PICK = COMMAND_LEAVE + 1, /* number = which key of the pick layer, from 0 */
    ACTION_MORE,                     /* the pick layer's next twelve */
    ACTION_MINUS,                    /* the keypad's way back while a line is typed */
    ACTION_HELP,
};

/* Keys of a pick layer: 1 to 9, 0, point, plus. */
enum { PICK_KEYS = 12 };

/* "1" … "9", "0", ".", "+". */
const char *pick_name(int index);

/* The table's context for a mode. */
enum context sheet_context(enum sheet_mode mode);

/* What a key asks for. Letters of aspects and faults count in SHEET_JUDGE only; in the typing modes
 * every character that the table does not claim is typed. `page` is the pick layer's (0 = the first
 * twelve). False: the key means nothing here. `ret_action` may be one of enum sheet_action; for
 * those the command's kind is not to be used. */
bool sheet_key(const struct sheet *sheet, const struct letters *letters, int page, struct key key,
               int *ret_action, struct sheet_command *ret_command);

/* Why such a key means nothing here, in one sentence: "No fault has the letter z." */
void sheet_key_absent(const struct sheet *sheet, struct key key, char ret_sentence[NO_KEY_SIZE]);

#endif
