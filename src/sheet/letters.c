/* Gives every aspect and fault of a standard its key.
 *
 * A sorter learns the letters with the hands, so they must never move: the same standard always
 * gets the same letters, whatever was typed before. Letters that the standard names are reserved
 * first, then the others are served in the standard's order, each from its own label, so that most
 * keys are the first letter of what they mean. Aspects have capitals and faults small letters, so
 * that the sheet shows by the letter alone what a key does; faults take capitals only when no small
 * letter is left. */
#include "senbetsu/sheet/letters.h"

#include <stdbool.h>
#include <string.h>

#define CAPITALS "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

static bool is_small(char c)
{
    return c >= 'a' && c <= 'z';
}

static bool is_capital(char c)
{
    return c >= 'A' && c <= 'Z';
}

/* The letter `c` in the case that `allowed` is written in. */
static char in_case_of(const char *allowed, char c)
{
    if (is_capital(c) && is_small(allowed[0]))
        return (char)(c - 'A' + 'a');
    if (is_small(c) && is_capital(allowed[0]))
        return (char)(c - 'a' + 'A');
    return c;
}

/* Takes the first letter of `text` that is allowed and not taken; 0 where there is none. */
static char take(const char *text, const char *allowed, bool taken[128])
{
    for (; *text != '\0'; text++) {
        char letter = in_case_of(allowed, *text);
        if (strchr(allowed, letter) == NULL || taken[(unsigned char)letter])
            continue;
        taken[(unsigned char)letter] = true;
        return letter;
    }
    return 0;
}

static char take_for(const char *label, const char *code, const char *allowed, bool taken[128])
{
    char letter = take(label, allowed, taken);
    if (letter == 0)
        letter = take(code, allowed, taken);
    if (letter == 0)
        letter = take(allowed, allowed, taken);
    return letter;
}

static void reserve(char key, bool taken[128])
{
    if (key > 0)
        taken[(unsigned char)key] = true;
}

struct letters letters_assign(const struct standard *standard)
{
    struct letters letters = {0};
    bool taken[128] = {false};
    for (int i = 0; i < standard->aspect_count; i++)
        reserve(standard->aspects[i].key, taken);
    for (int i = 0; i < standard->fault_count; i++)
        reserve(standard->faults[i].key, taken);

    for (int i = 0; i < standard->aspect_count; i++) {
        const struct aspect *aspect = &standard->aspects[i];
        letters.aspects[i] = aspect->key;
        if (aspect->key == 0)
            letters.aspects[i] = take_for(aspect->label, aspect->code, CAPITALS, taken);
    }
    for (int i = 0; i < standard->fault_count; i++) {
        const struct fault *fault = &standard->faults[i];
        letters.faults[i] = fault->key;
        if (letters.faults[i] == 0)
            letters.faults[i] = take_for(fault->label, fault->code, STANDARD_SMALL_LETTERS, taken);
        if (letters.faults[i] == 0)
            letters.faults[i] = take_for(fault->label, fault->code, CAPITALS, taken);
    }
    return letters;
}
