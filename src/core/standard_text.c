/* Reads the text form of a standard. The INI library splits lines into sections, keys and values;
 * what the library passes over in silence (cut names, empty sections, text behind a section) is
 * noticed here, in the reader that hands it the lines. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/core/standard.h"

#include <ini.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    LINE_BYTES = 1024,  /* the longest line taken; the longest note needs 800 bytes */
    SECTION_BYTES = 49, /* the library cuts a section's name after so many */
    LABEL_CHARACTERS = 40,
    NOTE_CHARACTERS = 200,
    KEYS = 9, /* no section has more */
    LETTERS = 128,
};

/* The lines on which a section and its keys stand; 0 = not seen. */
struct places {
    int section;
    int keys[KEYS];
};

struct parser {
    const char *file;
    const char *at; /* the next line */
    int line;       /* the line handed out last, from 1 */
    struct err *err;
    bool failed;

    struct standard *standard;
    struct places standard_places;
    struct places aspect_places[STANDARD_ASPECTS];
    struct places fault_places[STANDARD_FAULTS];
    int letter_lines[LETTERS]; /* where a key letter was given away */

    int section_line;                /* where the section being read begins, 0 = none yet */
    char section[SECTION_BYTES + 1]; /* its name as written; "" = no key of it seen yet */
    const struct key *keys;          /* what it may hold */
    struct places *places;
    struct aspect *aspect;
    struct fault *fault;
};

/* A key of a section: `set` reads its value and says on its own line what is wrong with it. */
struct key {
    const char *name;
    bool required;
    bool (*set)(struct parser *parser, const struct key *key, const char *value);
};

static bool refuse_at(struct parser *parser, int line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static bool refuse_at(struct parser *parser, int line, const char *format, ...)
{
    char sentence[ERR_TEXT_SIZE];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    parser->failed = true;
    err_set(parser->err, ERR_INPUT, "%s", sentence);
    return err_at(parser->err, "%s, line %d", parser->file, line);
}

/* "weight is 0; a whole number from 1 to 100 is expected." */
static bool refuse_value(struct parser *parser, int line, const char *name, const char *value,
                         const char *expected)
{
    char shown[64];
    text_copy(shown, sizeof shown, value);
    return refuse_at(parser, line, "%s is %s; %s is expected.", name,
                     *value == '\0' ? "empty" : shown, expected);
}

static bool whole_value(struct parser *parser, const struct key *key, const char *value, int lowest,
                        int highest, int *ret)
{
    int64_t number;
    if (number_whole(value, lowest, highest, &number)) {
        *ret = (int)number;
        return true;
    }
    char expected[64];
    snprintf(expected, sizeof expected, "a whole number from %d to %d", lowest, highest);
    return refuse_value(parser, parser->line, key->name, value, expected);
}

static bool words_value(struct parser *parser, const struct key *key, const char *value,
                        size_t characters, size_t size, char *ret)
{
    size_t count = utf8_count(value);
    if (count > characters)
        return refuse_at(parser, parser->line, "%s has %zu characters; at most %zu are allowed.",
                         key->name, count, characters);
    text_copy(ret, size, value);
    return true;
}

static bool points_value(struct parser *parser, const struct key *key, const char *value, int *ret)
{
    return number_hundredths(value, 0, 10000, ret) ||
           refuse_value(parser, parser->line, key->name, value,
                        "a number from 0 to 100 with at most two decimals");
}

static bool code_value(struct parser *parser, const char *what, const char *code,
                       bool (*check)(const char *, const char *, struct err *))
{
    struct err why;
    return check(code, what, &why) || refuse_at(parser, parser->line, "%s", why.text);
}

static bool set_name(struct parser *parser, const struct key *key, const char *value)
{
    (void)key;
    if (!code_value(parser, "the standard's name", value, code_check))
        return false;
    text_copy(parser->standard->name, CODE_SIZE, value);
    return true;
}

static bool add_variety(struct parser *parser, const char *start, size_t bytes, struct text *list)
{
    char variety[LINE_BYTES];
    while (bytes > 0 && (*start == ' ' || *start == '\t')) {
        start++;
        bytes--;
    }
    while (bytes > 0 && (start[bytes - 1] == ' ' || start[bytes - 1] == '\t'))
        bytes--;
    memcpy(variety, start, bytes);
    variety[bytes] = '\0';
    if (!code_value(parser, "the variety", variety, code_check))
        return false;
    if (standard_serves(parser->standard, variety))
        return refuse_at(parser, parser->line, "the variety %s is named twice.", variety);
    text_addf(list, "%s%s", list->length > 0 ? ", " : "", variety);
    if (list->length >= STANDARD_VARIETIES)
        return refuse_at(parser, parser->line, "variety names too many; %d bytes are the most.",
                         STANDARD_VARIETIES - 1);
    text_copy(parser->standard->varieties, STANDARD_VARIETIES, list->data);
    return true;
}

static bool set_variety(struct parser *parser, const struct key *key, const char *value)
{
    (void)key;
    struct text list;
    text_init(&list);
    bool taken;
    for (;;) {
        size_t bytes = strcspn(value, ",");
        taken = add_variety(parser, value, bytes, &list);
        if (!taken || value[bytes] == '\0')
            break;
        value += bytes + 1;
    }
    text_done(&list);
    return taken;
}

static bool set_stage(struct parser *parser, const struct key *key, const char *value)
{
    int stage = term_find(stage_terms, STAGE_COUNT, value);
    if (stage < 0) {
        char words[128];
        term_list(stage_terms, STAGE_COUNT, words, sizeof words);
        return refuse_value(parser, parser->line, key->name, value, words);
    }
    parser->standard->stage = (enum stage)stage;
    return true;
}

/* Two numbers with a hyphen between them. A score is one key, and the key 0 can stand for 0 or for
 * 10 but not for both. */
static bool set_scale(struct parser *parser, const struct key *key, const char *value)
{
    const char *hyphen = strchr(value, '-');
    char first[8];
    int64_t lowest, highest;
    if (hyphen != NULL && hyphen - value < (int)sizeof first) {
        text_copy(first, (size_t)(hyphen - value) + 1, value);
        if (number_whole(first, 0, 9, &lowest) &&
            number_whole(hyphen + 1, lowest + 1, lowest == 0 ? 9 : 10, &highest)) {
            parser->standard->lowest = (int)lowest;
            parser->standard->highest = (int)highest;
            return true;
        }
    }
    return refuse_value(parser, parser->line, key->name, value,
                        "lowest-highest, such as 1-5, within 0-9 or 1-10,");
}

static bool set_typical(struct parser *parser, const struct key *key, const char *value)
{
    return whole_value(parser, key, value, 0, 10, &parser->standard->typical);
}

static bool set_keep_at(struct parser *parser, const struct key *key, const char *value)
{
    return points_value(parser, key, value, &parser->standard->keep_at);
}

static bool set_hold_at(struct parser *parser, const struct key *key, const char *value)
{
    return points_value(parser, key, value, &parser->standard->hold_at);
}

static bool set_note(struct parser *parser, const struct key *key, const char *value)
{
    return words_value(parser, key, value, NOTE_CHARACTERS, NOTE_SIZE, parser->standard->note);
}

static bool set_label(struct parser *parser, const struct key *key, const char *value)
{
    char *label = parser->aspect != NULL ? parser->aspect->label : parser->fault->label;
    if (*value == '\0')
        return refuse_value(parser, parser->line, key->name, value,
                            "a name of up to 40 characters");
    return words_value(parser, key, value, LABEL_CHARACTERS, LABEL_SIZE, label);
}

static bool set_weight(struct parser *parser, const struct key *key, const char *value)
{
    return whole_value(parser, key, value, 1, 100, &parser->aspect->weight);
}

static bool set_floor(struct parser *parser, const struct key *key, const char *value)
{
    return whole_value(parser, key, value, 0, 10, &parser->aspect->floor);
}

static bool set_below_floor(struct parser *parser, const struct key *key, const char *value)
{
    int verdict = term_find(verdict_terms, VERDICT_COUNT, value);
    if (verdict != VERDICT_REJECT && verdict != VERDICT_HOLD)
        return refuse_value(parser, parser->line, key->name, value, "reject or hold");
    parser->aspect->below_floor = (enum verdict)verdict;
    return true;
}

static bool set_effect(struct parser *parser, const struct key *key, const char *value)
{
    static const char deduct[] = "deduct ";
    struct fault *fault = parser->fault;
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
    return refuse_value(parser, parser->line, key->name, value,
                        "reject, hold or deduct N with N from 0 to 100");
}

static bool set_key(struct parser *parser, const struct key *key, const char *value)
{
    char letter = value[0];
    bool capital = letter >= 'A' && letter <= 'Z';
    bool small = letter != '\0' && strchr(STANDARD_SMALL_LETTERS, letter) != NULL;
    if (!(capital || small) || value[1] != '\0')
        return refuse_value(parser, parser->line, key->name, value,
                            "a capital letter or one of " STANDARD_SMALL_LETTERS);
    int *taken = &parser->letter_lines[(unsigned char)letter];
    if (*taken != 0)
        return refuse_at(parser, parser->line, "key %c is taken already, on line %d.", letter,
                         *taken);
    *taken = parser->line;
    if (parser->aspect != NULL)
        parser->aspect->key = letter;
    else
        parser->fault->key = letter;
    return true;
}

static const struct key standard_keys[KEYS + 1] = {
    {"name", true, set_name},       {"variety", true, set_variety}, {"stage", true, set_stage},
    {"scale", true, set_scale},     {"typical", true, set_typical}, {"keep_at", true, set_keep_at},
    {"hold_at", true, set_hold_at}, {"note", false, set_note},      {0},
};

static const struct key aspect_keys[KEYS + 1] = {
    {"label", true, set_label},  {"weight", true, set_weight},
    {"floor", false, set_floor}, {"below_floor", false, set_below_floor},
    {"key", false, set_key},     {0},
};

static const struct key fault_keys[KEYS + 1] = {
    {"label", true, set_label},
    {"effect", true, set_effect},
    {"key", false, set_key},
    {0},
};

static int key_index(const struct key *keys, const char *name)
{
    for (int i = 0; keys[i].name != NULL; i++)
        if (strcmp(keys[i].name, name) == 0)
            return i;
    return -1;
}

/* The line on which a key of the section stands; its own line where the key is missing. */
static int line_of(const struct places *places, const struct key *keys, const char *name)
{
    int line = places->keys[key_index(keys, name)];
    return line != 0 ? line : places->section;
}

static bool repeated_section(struct parser *parser, const struct places *earlier)
{
    return refuse_at(parser, parser->section_line, "the section [%s] is there already, on line %d.",
                     parser->section, earlier->section);
}

static bool begin_standard(struct parser *parser)
{
    if (parser->standard_places.section != 0)
        return repeated_section(parser, &parser->standard_places);
    parser->keys = standard_keys;
    parser->places = &parser->standard_places;
    return true;
}

static bool begin_aspect(struct parser *parser, const char *code)
{
    struct standard *standard = parser->standard;
    int same = standard_aspect(standard, code);
    if (same >= 0)
        return repeated_section(parser, &parser->aspect_places[same]);
    if (standard->aspect_count == STANDARD_ASPECTS)
        return refuse_at(parser, parser->section_line, "a standard has at most %d aspects.",
                         STANDARD_ASPECTS);
    int index = standard->aspect_count++;
    parser->aspect = &standard->aspects[index];
    *parser->aspect = (struct aspect){.floor = NO_FLOOR, .below_floor = VERDICT_REJECT};
    text_copy(parser->aspect->code, sizeof parser->aspect->code, code);
    parser->keys = aspect_keys;
    parser->places = &parser->aspect_places[index];
    return true;
}

static bool begin_fault(struct parser *parser, const char *code)
{
    struct standard *standard = parser->standard;
    int same = standard_fault(standard, code);
    if (same >= 0)
        return repeated_section(parser, &parser->fault_places[same]);
    if (standard->fault_count == STANDARD_FAULTS)
        return refuse_at(parser, parser->section_line, "a standard has at most %d faults.",
                         STANDARD_FAULTS);
    int index = standard->fault_count++;
    parser->fault = &standard->faults[index];
    text_copy(parser->fault->code, sizeof parser->fault->code, code);
    parser->keys = fault_keys;
    parser->places = &parser->fault_places[index];
    return true;
}

/* "aspect white" with the word "aspect" → "white"; NULL where the section is of another kind. */
static const char *code_after(const char *section, const char *word)
{
    size_t bytes = strlen(word);
    if (strncmp(section, word, bytes) != 0 || section[bytes] != ' ')
        return NULL;
    section += bytes;
    return section + strspn(section, " ");
}

static bool begin_kind(struct parser *parser)
{
    const char *code;
    struct err why;
    if (strcmp(parser->section, "standard") == 0)
        return begin_standard(parser);
    if ((code = code_after(parser->section, "aspect")) != NULL)
        return code_check_plain(code, "the aspect's code", &why)
                   ? begin_aspect(parser, code)
                   : refuse_at(parser, parser->section_line, "%s", why.text);
    if ((code = code_after(parser->section, "fault")) != NULL)
        return code_check_plain(code, "the fault's code", &why)
                   ? begin_fault(parser, code)
                   : refuse_at(parser, parser->section_line, "%s", why.text);
    return refuse_at(
        parser, parser->section_line,
        "the section [%s] is not known; [standard], [aspect CODE] and [fault CODE] are.",
        parser->section);
}

static bool begin_section(struct parser *parser, const char *section)
{
    text_copy(parser->section, sizeof parser->section, section);
    parser->aspect = NULL;
    parser->fault = NULL;
    if (!begin_kind(parser))
        return false;
    parser->places->section = parser->section_line;
    return true;
}

static bool unknown_key(struct parser *parser, const char *name)
{
    struct text known;
    text_init(&known);
    for (const struct key *key = parser->keys; key->name != NULL; key++)
        text_addf(&known, "%s%s", known.length > 0 ? ", " : "", key->name);
    char shown[64];
    text_copy(shown, sizeof shown, name);
    refuse_at(parser, parser->line, "%s is not known in [%s]; its keys are %s.",
              *shown == '\0' ? "a key without a name" : shown, parser->section, known.data);
    text_done(&known);
    return false;
}

/* The library's handler: 1 goes on, 0 stops. */
static int take_key(void *context, const char *section, const char *name, const char *value)
{
    struct parser *parser = context;
    if (parser->failed)
        return 0;
    if (parser->section_line == 0)
        return refuse_at(parser, parser->line, "a key stands before the first [section].");
    if (parser->section[0] == '\0' && !begin_section(parser, section))
        return 0;
    int index = key_index(parser->keys, name);
    if (index < 0)
        return unknown_key(parser, name);
    if (parser->places->keys[index] != 0)
        return refuse_at(parser, parser->line, "%s is there already, on line %d.", name,
                         parser->places->keys[index]);
    parser->places->keys[index] = parser->line;
    return parser->keys[index].set(parser, &parser->keys[index], value);
}

static bool finish_section(struct parser *parser)
{
    if (parser->section_line == 0)
        return true;
    if (parser->section[0] == '\0')
        return refuse_at(parser, parser->section_line, "the section that begins here is empty.");
    for (int i = 0; parser->keys[i].name != NULL; i++)
        if (parser->keys[i].required && parser->places->keys[i] == 0)
            return refuse_at(parser, parser->section_line, "%s is missing in [%s].",
                             parser->keys[i].name, parser->section);
    return true;
}

/* Looks at a line "[…]" before the library does: it would cut a long name and pass over whatever
 * follows the bracket. */
static bool see_section(struct parser *parser, const char *line)
{
    if (!finish_section(parser))
        return false;
    parser->section_line = parser->line;
    parser->section[0] = '\0';
    const char *end = strchr(line, ']');
    if (end == NULL)
        return refuse_at(parser, parser->line, "the ] that ends the section's name is missing.");
    if (end == line + 1)
        return refuse_at(parser, parser->line, "the section has no name.");
    if (end - line - 1 > SECTION_BYTES)
        return refuse_at(parser, parser->line, "the section's name is too long.");
    const char *rest = end + 1;
    rest += strspn(rest, " \t\r\n");
    if (*rest != '\0' && *rest != ';' && *rest != '#')
        return refuse_at(parser, parser->line, "text follows the ] of the section.");
    return true;
}

/* The library's reader: hands out one line as fgets would, and NULL at the end or after an error.
 */
static char *next_line(char *buffer, int size, void *context)
{
    struct parser *parser = context;
    if (parser->failed || *parser->at == '\0')
        return NULL;
    parser->line++;
    size_t bytes = strcspn(parser->at, "\n");
    if (bytes + 2 > (size_t)size) {
        refuse_at(parser, parser->line, "the line has %zu bytes; at most %d are allowed.", bytes,
                  size - 2);
        return NULL;
    }
    memcpy(buffer, parser->at, bytes);
    buffer[bytes] = '\0';
    parser->at += bytes;
    if (*parser->at == '\n') {
        parser->at++;
        memcpy(buffer + bytes, "\n", 2);
    }
    const char *start = buffer + strspn(buffer, " \t");
    if (*start == '[' && !see_section(parser, start))
        return NULL;
    return buffer;
}

static int line_at(const char *text, size_t offset)
{
    int line = 1;
    for (size_t i = 0; i < offset; i++)
        line += text[i] == '\n';
    return line;
}

static bool check_bytes(struct parser *parser, const char *text, size_t length)
{
    size_t at;
    if (!utf8_valid(text, length, &at))
        return refuse_at(parser, line_at(text, at),
                         "these bytes are not UTF-8; save the file as UTF-8.");
    for (at = 0; at < length; at++) {
        unsigned char byte = (unsigned char)text[at];
        bool line_end = byte == '\n' || (byte == '\r' && at + 1 < length && text[at + 1] == '\n');
        if ((byte < 0x20 || byte == 0x7F) && !line_end && byte != '\t')
            return refuse_at(parser, line_at(text, at),
                             "a control character stands in the line; take it out.");
    }
    return true;
}

static bool check_scores(struct parser *parser)
{
    const struct standard *standard = parser->standard;
    char value[16], expected[64];
    snprintf(expected, sizeof expected, "a whole number from %d to %d", standard->lowest,
             standard->highest);
    if (standard->typical < standard->lowest || standard->typical > standard->highest) {
        snprintf(value, sizeof value, "%d", standard->typical);
        return refuse_value(parser, line_of(&parser->standard_places, standard_keys, "typical"),
                            "typical", value, expected);
    }
    for (int i = 0; i < standard->aspect_count; i++) {
        int floor = standard->aspects[i].floor;
        if (floor == NO_FLOOR || (floor >= standard->lowest && floor <= standard->highest))
            continue;
        snprintf(value, sizeof value, "%d", floor);
        return refuse_value(parser, line_of(&parser->aspect_places[i], aspect_keys, "floor"),
                            "floor", value, expected);
    }
    return true;
}

/* What can only be said when every section has been read, in whatever order. */
static bool check_whole(struct parser *parser)
{
    const struct standard *standard = parser->standard;
    if (parser->standard_places.section == 0)
        return refuse_at(parser, 1, "the section [standard] is missing.");
    if (standard->aspect_count == 0)
        return refuse_at(parser, parser->standard_places.section,
                         "the standard has no aspect; at least one [aspect CODE] is needed.");
    if (standard->hold_at > standard->keep_at)
        return refuse_at(parser, line_of(&parser->standard_places, standard_keys, "hold_at"),
                         "hold_at is above keep_at; it must be the same or lower.");
    return check_scores(parser);
}

/* Longer lines than the library takes by itself, and an indented line is a line like any other. */
static void configure_library(void)
{
    ini_use_stack = false;
    ini_max_line = LINE_BYTES;
    ini_initial_alloc = LINE_BYTES;
    ini_allow_multiline = false;
    ini_stop_on_first_error = true;
}

static bool parse_lines(struct parser *parser)
{
    configure_library();
    int wrong_line = ini_parse_stream(next_line, parser, take_key, parser);
    if (parser->failed)
        return false;
    if (wrong_line != 0)
        return refuse_at(parser, parser->line, "this is neither [section] nor key = value.");
    return finish_section(parser) && check_whole(parser);
}

bool standard_parse(const char *text, size_t length, const char *file, struct standard *ret,
                    struct err *err)
{
    struct standard standard = {0};
    struct parser parser = {.file = file, .err = err, .standard = &standard};
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    if (!check_bytes(&parser, text, length))
        return false;
    struct text copy;
    text_init(&copy);
    text_add_bytes(&copy, text, length);
    parser.at = copy.data;
    bool parsed = parse_lines(&parser);
    text_done(&copy);
    if (parsed)
        *ret = standard;
    return parsed;
}
