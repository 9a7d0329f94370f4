#include "standard_keys.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { LABEL_CHARACTERS = 40, NOTE_CHARACTERS = 200 };

bool standard_refuse(struct standard_input *input, int line, const char *format, ...)
{
    char sentence[2 * ERR_TEXT_SIZE]; /* err_set cuts it, at a whole character */
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    input->failed = true;
    err_set(input->err, ERR_INPUT, "%s", sentence);
    return err_at(input->err, "%s, line %d", input->file, line);
}

bool standard_refuse_value(struct standard_input *input, int line, const char *name,
                           const char *value, const char *expected)
{
    char shown[64];
    text_copy(shown, sizeof shown, value);
    return standard_refuse(input, line, "%s is %s; %s is expected.", name,
                           *value == '\0' ? "empty" : shown, expected);
}

static bool whole_value(struct standard_input *input, const struct standard_key *key,
                        const char *value, int lowest, int highest, int *ret)
{
    int64_t number;
    if (number_whole(value, lowest, highest, &number)) {
        *ret = (int)number;
        return true;
    }
    char expected[64];
    snprintf(expected, sizeof expected, "a whole number from %d to %d", lowest, highest);
    return standard_refuse_value(input, input->line, key->name, value, expected);
}

static bool words_value(struct standard_input *input, const struct standard_key *key,
                        const char *value, size_t characters, size_t size, char *ret)
{
    size_t count = utf8_count(value);
    if (count > characters)
        return standard_refuse(input, input->line,
                               "%s has %zu characters; at most %zu are allowed.", key->name, count,
                               characters);
    if (strchr(value, '\t') != NULL)
        return standard_refuse(input, input->line, "%s has a tab in it; put spaces there.",
                               key->name);
    text_copy(ret, size, value);
    return true;
}

static bool points_value(struct standard_input *input, const struct standard_key *key,
                         const char *value, int *ret)
{
    return number_hundredths(value, 0, 10000, ret) ||
           standard_refuse_value(input, input->line, key->name, value,
                                 "a number from 0 to 100 with at most two decimals");
}

static bool code_value(struct standard_input *input, const char *what, const char *code)
{
    struct err why;
    return code_check(code, what, &why) || standard_refuse(input, input->line, "%s", why.text);
}

static bool set_name(struct standard_input *input, const struct standard_key *key,
                     const char *value)
{
    (void)key;
    if (!code_value(input, "the standard's name", value))
        return false;
    text_copy(input->standard->name, CODE_SIZE, value);
    return true;
}

/* Copies the item that ends at the next comma, without the blanks around it. */
static void copy_item(const char *value, char ret_item[STANDARD_LINE_BYTES])
{
    value += strspn(value, " \t");
    size_t bytes = strcspn(value, ",");
    while (bytes > 0 && strchr(" \t", value[bytes - 1]) != NULL)
        bytes--;
    memcpy(ret_item, value, bytes);
    ret_item[bytes] = '\0';
}

static bool add_variety(struct standard_input *input, const char *variety)
{
    if (!code_value(input, "the variety", variety))
        return false;
    if (standard_serves(input->standard, variety))
        return standard_refuse(input, input->line, "the variety %s is named twice.", variety);
    char *varieties = input->standard->varieties;
    size_t used = strlen(varieties);
    const char *comma = used > 0 ? ", " : "";
    if (used + strlen(comma) + strlen(variety) >= STANDARD_VARIETIES)
        return standard_refuse(input, input->line,
                               "variety holds too many names; %d bytes are the most.",
                               STANDARD_VARIETIES - 1);
    text_copy(varieties + used, STANDARD_VARIETIES - used, comma);
    used += strlen(comma);
    text_copy(varieties + used, STANDARD_VARIETIES - used, variety);
    return true;
}

static bool set_variety(struct standard_input *input, const struct standard_key *key,
                        const char *value)
{
    (void)key;
    for (;;) {
        char variety[STANDARD_LINE_BYTES];
        copy_item(value, variety);
        if (!add_variety(input, variety))
            return false;
        value += strcspn(value, ",");
        if (*value == '\0')
            return true;
        value++;
    }
}

static bool set_stage(struct standard_input *input, const struct standard_key *key,
                      const char *value)
{
    int stage = term_find(stage_terms, STAGE_COUNT, value);
    if (stage < 0) {
        char words[128];
        term_list(stage_terms, STAGE_COUNT, words, sizeof words);
        return standard_refuse_value(input, input->line, key->name, value, words);
    }
    input->standard->stage = (enum stage)stage;
    return true;
}

/* Two numbers with a hyphen between them. A score is one key, and the key 0 can stand for 0 or for
 * 10 but not for both. */
static bool set_scale(struct standard_input *input, const struct standard_key *key,
                      const char *value)
{
    const char *hyphen = strchr(value, '-');
    char first[8];
    int64_t lowest, highest;
    if (hyphen != NULL && hyphen - value < (int)sizeof first) {
        text_copy(first, (size_t)(hyphen - value) + 1, value);
        if (number_whole(first, 0, 9, &lowest) &&
            number_whole(hyphen + 1, lowest + 1, lowest == 0 ? 9 : 10, &highest)) {
            input->standard->lowest = (int)lowest;
            input->standard->highest = (int)highest;
            return true;
        }
    }
    return standard_refuse_value(input, input->line, key->name, value,
                                 "a scale such as 1-5, within 0-9 or 1-10,");
}

static bool set_typical(struct standard_input *input, const struct standard_key *key,
                        const char *value)
{
    return whole_value(input, key, value, 0, 10, &input->standard->typical);
}

static bool set_keep_at(struct standard_input *input, const struct standard_key *key,
                        const char *value)
{
    return points_value(input, key, value, &input->standard->keep_at);
}

static bool set_hold_at(struct standard_input *input, const struct standard_key *key,
                        const char *value)
{
    return points_value(input, key, value, &input->standard->hold_at);
}

static bool set_note(struct standard_input *input, const struct standard_key *key,
                     const char *value)
{
    return words_value(input, key, value, NOTE_CHARACTERS, NOTE_SIZE, input->standard->note);
}

static bool set_label(struct standard_input *input, const struct standard_key *key,
                      const char *value)
{
    char *label = input->aspect != NULL ? input->aspect->label : input->fault->label;
    if (*value == '\0')
        return standard_refuse_value(input, input->line, key->name, value,
                                     "a name of up to 40 characters");
    return words_value(input, key, value, LABEL_CHARACTERS, LABEL_SIZE, label);
}

static bool set_weight(struct standard_input *input, const struct standard_key *key,
                       const char *value)
{
    return whole_value(input, key, value, 1, 100, &input->aspect->weight);
}

static bool set_floor(struct standard_input *input, const struct standard_key *key,
                      const char *value)
{
    return whole_value(input, key, value, 0, 10, &input->aspect->floor);
}

static bool set_below_floor(struct standard_input *input, const struct standard_key *key,
                            const char *value)
{
    int verdict = term_find(verdict_terms, VERDICT_COUNT, value);
    if (verdict != VERDICT_REJECT && verdict != VERDICT_HOLD)
        return standard_refuse_value(input, input->line, key->name, value, "reject or hold");
    input->aspect->below_floor = (enum verdict)verdict;
    return true;
}

static bool set_effect(struct standard_input *input, const struct standard_key *key,
                       const char *value)
{
    static const char deduct[] = "deduct ";
    struct fault *fault = input->fault;
    if (strcmp(value, "reject") == 0) {
        fault->effect = EFFECT_REJECT;
        return true;
    }
    if (strcmp(value, "hold") == 0) {
        fault->effect = EFFECT_HOLD;
        return true;
    }
    fault->effect = EFFECT_DEDUCT;
    if (strncmp(value, deduct, sizeof deduct - 1) == 0) {
        const char *points = value + sizeof deduct - 1;
        if (number_hundredths(points + strspn(points, " "), 0, 10000, &fault->deduction))
            return true;
    }
    return standard_refuse_value(input, input->line, key->name, value,
                                 "reject, hold or deduct N with N from 0 to 100");
}

static bool set_key(struct standard_input *input, const struct standard_key *key, const char *value)
{
    char letter = value[0];
    bool capital = letter >= 'A' && letter <= 'Z';
    bool small = letter != '\0' && strchr(STANDARD_SMALL_LETTERS, letter) != NULL;
    if (!(capital || small) || value[1] != '\0')
        return standard_refuse_value(input, input->line, key->name, value,
                                     "a capital letter or one of " STANDARD_SMALL_LETTERS);
    int *taken = &input->letter_lines[(unsigned char)letter];
    if (*taken != 0)
        return standard_refuse(input, input->line, "key %c is taken already, on line %d.", letter,
                               *taken);
    *taken = input->line;
    if (input->aspect != NULL)
        input->aspect->key = letter;
    else
        input->fault->key = letter;
    return true;
}

const struct standard_key standard_keys[] = {
    {"name", true, set_name},       {"variety", true, set_variety}, {"stage", true, set_stage},
    {"scale", true, set_scale},     {"typical", true, set_typical}, {"keep_at", true, set_keep_at},
    {"hold_at", true, set_hold_at}, {"note", false, set_note},      {0},
};

const struct standard_key aspect_keys[] = {
    {"label", true, set_label},  {"weight", true, set_weight},
    {"floor", false, set_floor}, {"below_floor", false, set_below_floor},
    {"key", false, set_key},     {0},
};

const struct standard_key fault_keys[] = {
    {"label", true, set_label},
    {"effect", true, set_effect},
    {"key", false, set_key},
    {0},
};

int standard_key_index(const struct standard_key *keys, const char *name)
{
    for (int i = 0; keys[i].name != NULL; i++)
        if (strcmp(keys[i].name, name) == 0)
            return i;
    return -1;
}
