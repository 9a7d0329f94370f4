#include "senbetsu/screens/sheet_keys.h"

#include <stdio.h>

const char *pick_name(int index)
{
    static const char *const names[PICK_KEYS] = {"1", "2", "3", "4", "5", "6",
                                                 "7", "8", "9", "0", ".", "+"};
    return names[index];
}

enum context sheet_context(enum sheet_mode mode)
{
    static const enum context contexts[SHEET_MODE_COUNT] = {
        [SHEET_JUDGE] = CONTEXT_SHEET,
        [SHEET_PICK_FAULT] = CONTEXT_SHEET_PICK,
        [SHEET_PICK_ASPECT] = CONTEXT_SHEET_PICK,
        [SHEET_MENU] = CONTEXT_SHEET_MENU,
        [SHEET_LENGTH] = CONTEXT_SHEET_LINE,
        [SHEET_TAG] = CONTEXT_SHEET_LINE,
        [SHEET_NOTE] = CONTEXT_SHEET_CHOICE,
        [SHEET_NOTE_TEXT] = CONTEXT_SHEET_LINE,
        [SHEET_VERDICT] = CONTEXT_SHEET_CHOICE,
        [SHEET_REASON] = CONTEXT_SHEET_CHOICE,
        [SHEET_REASON_TEXT] = CONTEXT_SHEET_LINE,
        [SHEET_NEXT_BOWL] = CONTEXT_SHEET_LINE,
    };
    return contexts[mode];
}

/* The place of a letter, or -1. */
static int letter_index(const char *letters, int count, uint32_t letter)
{
    for (int i = 0; i < count; i++)
        if (letter != 0 && (uint32_t)(unsigned char)letters[i] == letter)
            return i;
    return -1;
}

static bool letter_key(const struct sheet *sheet, const struct letters *letters, uint32_t letter,
                       struct sheet_command *ret)
{
    int fault = letter_index(letters->faults, sheet->standard.fault_count, letter);
    int aspect = letter_index(letters->aspects, sheet->standard.aspect_count, letter);
    if (fault >= 0)
        *ret = (struct sheet_command){COMMAND_FAULT, fault, NULL};
    else if (aspect >= 0)
        *ret = (struct sheet_command){COMMAND_ASPECT, aspect, NULL};
    return fault >= 0 || aspect >= 0;
}

/* A key that the table does not have. */
static bool other_key(const struct sheet *sheet, const struct letters *letters, struct key key,
                      struct sheet_command *ret)
{
    if (key.kind != KEY_CHARACTER)
        return false;
    if (sheet->mode == SHEET_JUDGE)
        return letter_key(sheet, letters, key.code, ret);
    if (sheet_context(sheet->mode) != CONTEXT_SHEET_LINE)
        return false;
    *ret = (struct sheet_command){COMMAND_TYPE, (int)key.code, NULL};
    return true;
}

/* The fault or aspect that a pick key names, if there are so many. */
static bool pick(const struct sheet *sheet, int index, struct sheet_command *ret)
{
    bool fault = sheet->mode == SHEET_PICK_FAULT;
    int count = fault ? sheet->standard.fault_count : sheet->standard.aspect_count;
    *ret = (struct sheet_command){fault ? COMMAND_FAULT : COMMAND_ASPECT, index, NULL};
    return index < count;
}

/* The keypad has no Esc and no Backspace: its minus is both, except where it can be part of what is
 * typed. */
static void minus(const struct sheet *sheet, struct sheet_command *ret)
{
    bool number = sheet->mode == SHEET_LENGTH || sheet->mode == SHEET_NEXT_BOWL;
    if (sheet->line[0] == '\0')
        *ret = (struct sheet_command){COMMAND_CANCEL, 0, NULL};
    else if (number)
        *ret = (struct sheet_command){COMMAND_ERASE, 0, NULL};
    else
        *ret = (struct sheet_command){COMMAND_TYPE, '-', NULL};
}

bool sheet_key(const struct sheet *sheet, const struct letters *letters, int page, struct key key,
               int *ret_action, struct sheet_command *ret_command)
{
    struct sheet_command command = {COMMAND_CANCEL, 0, NULL};
    const struct binding *row = binding_find(sheet_context(sheet->mode), key);
    bool known = true;
    if (row == NULL)
        known = other_key(sheet, letters, key, &command);
    else if (row->action == ACTION_PICK)
        known = pick(sheet, page * PICK_KEYS + row->number, &command);
    else if (row->action == ACTION_MINUS)
        minus(sheet, &command);
    else if (row->action <= COMMAND_LEAVE)
        command = (struct sheet_command){(enum sheet_command_kind)row->action, row->number, NULL};
    if (!known)
        return false;
    bool beyond = row != NULL && (row->action == ACTION_MORE || row->action == ACTION_HELP);
    *ret_action = beyond ? row->action : (int)command.kind;
    *ret_command = command;
    return true;
}

static bool is_letter(struct key key)
{
    return key.kind == KEY_CHARACTER &&
           ((key.code >= 'a' && key.code <= 'z') || (key.code >= 'A' && key.code <= 'Z'));
}

void sheet_key_absent(const struct sheet *sheet, struct key key, char ret_sentence[NO_KEY_SIZE])
{
    enum context context = sheet_context(sheet->mode);
    const struct binding *row = binding_find(context, key);
    if (row != NULL && row->action == ACTION_PICK)
        snprintf(ret_sentence, NO_KEY_SIZE, "No %s has the number %s here.",
                 sheet->mode == SHEET_PICK_FAULT ? "fault" : "aspect", pick_name(row->number));
    else if (sheet->mode == SHEET_JUDGE && is_letter(key))
        snprintf(ret_sentence, NO_KEY_SIZE, "No %s has the letter %c.",
                 key.code >= 'a' ? "fault" : "aspect", (char)key.code);
    else
        binding_absent(context, key, ret_sentence);
}
