/* Reads the text form of a standard. The INI library splits lines into sections, keys and values;
 * what the library passes over in silence (cut names, empty sections, text behind a section) is
 * noticed here, in the reader that hands it the lines. */
#include "senbetsu/base/utf8.h"
#include "standard_keys.h"

#include <ini.h>
#include <stdio.h>
#include <string.h>

enum { SECTION_BYTES = 49 }; /* the library cuts a section's name after so many */

/* The lines on which a section and its keys stand; 0 = not seen. */
struct lines {
    int section;
    int keys[STANDARD_KEYS];
};

struct parser {
    struct standard_input input;
    const char *at; /* the next line */

    struct lines standard_lines;
    struct lines aspect_lines[STANDARD_ASPECTS];
    struct lines fault_lines[STANDARD_FAULTS];

    int section_line;                /* where the section being read begins, 0 = none yet */
    char section[SECTION_BYTES + 1]; /* its name as written; "" = no key of it seen yet */
    const struct standard_key *keys; /* what it may hold */
    struct lines *lines;
};

/* The line on which a key of the section stands. */
static int line_of(const struct lines *lines, const struct standard_key *keys, const char *name)
{
    return lines->keys[standard_key_index(keys, name)];
}

static bool repeated_section(struct parser *parser, const struct lines *earlier)
{
    return standard_refuse(&parser->input, parser->section_line,
                           "the section [%s] is there already, on line %d.", parser->section,
                           earlier->section);
}

static bool begin_standard(struct parser *parser)
{
    if (parser->standard_lines.section != 0)
        return repeated_section(parser, &parser->standard_lines);
    parser->keys = standard_keys;
    parser->lines = &parser->standard_lines;
    return true;
}

static bool begin_aspect(struct parser *parser, const char *code)
{
    struct standard *standard = parser->input.standard;
    int same = standard_aspect(standard, code);
    if (same >= 0)
        return repeated_section(parser, &parser->aspect_lines[same]);
    if (standard->aspect_count == STANDARD_ASPECTS)
        return standard_refuse(&parser->input, parser->section_line,
                               "a standard has at most %d aspects.", STANDARD_ASPECTS);
    int index = standard->aspect_count++;
    parser->input.aspect = &standard->aspects[index];
    *parser->input.aspect = (struct aspect){.floor = NO_FLOOR, .below_floor = VERDICT_REJECT};
    text_copy(parser->input.aspect->code, sizeof parser->input.aspect->code, code);
    parser->keys = aspect_keys;
    parser->lines = &parser->aspect_lines[index];
    return true;
}

static bool begin_fault(struct parser *parser, const char *code)
{
    struct standard *standard = parser->input.standard;
    int same = standard_fault(standard, code);
    if (same >= 0)
        return repeated_section(parser, &parser->fault_lines[same]);
    if (standard->fault_count == STANDARD_FAULTS)
        return standard_refuse(&parser->input, parser->section_line,
                               "a standard has at most %d faults.", STANDARD_FAULTS);
    int index = standard->fault_count++;
    parser->input.fault = &standard->faults[index];
    text_copy(parser->input.fault->code, sizeof parser->input.fault->code, code);
    parser->keys = fault_keys;
    parser->lines = &parser->fault_lines[index];
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
                   : standard_refuse(&parser->input, parser->section_line, "%s", why.text);
    if ((code = code_after(parser->section, "fault")) != NULL)
        return code_check_plain(code, "the fault's code", &why)
                   ? begin_fault(parser, code)
                   : standard_refuse(&parser->input, parser->section_line, "%s", why.text);
    return standard_refuse(
        &parser->input, parser->section_line,
        "the section [%s] is not known; [standard], [aspect CODE] and [fault CODE] are.",
        parser->section);
}

static bool begin_section(struct parser *parser, const char *section)
{
    text_copy(parser->section, sizeof parser->section, section);
    parser->input.aspect = NULL;
    parser->input.fault = NULL;
    if (!begin_kind(parser))
        return false;
    parser->lines->section = parser->section_line;
    return true;
}

static bool unknown_key(struct parser *parser, const char *name)
{
    struct text known;
    text_init(&known);
    for (const struct standard_key *key = parser->keys; key->name != NULL; key++)
        text_addf(&known, "%s%s", known.length > 0 ? ", " : "", key->name);
    char shown[64];
    text_copy(shown, sizeof shown, name);
    standard_refuse(&parser->input, parser->input.line, "%s is not known in [%s]; its keys are %s.",
                    *shown == '\0' ? "a key without a name" : shown, parser->section, known.data);
    text_done(&known);
    return false;
}

/* The library's handler: 1 goes on, 0 stops. */
static int take_key(void *context, const char *section, const char *name, const char *value)
{
    struct parser *parser = context;
    if (parser->section_line == 0)
        return standard_refuse(&parser->input, parser->input.line,
                               "a key stands before the first [section].");
    if (parser->section[0] == '\0' && !begin_section(parser, section))
        return 0;
    int index = standard_key_index(parser->keys, name);
    if (index < 0)
        return unknown_key(parser, name);
    if (parser->lines->keys[index] != 0)
        return standard_refuse(&parser->input, parser->input.line,
                               "%s is there already, on line %d.", name,
                               parser->lines->keys[index]);
    parser->lines->keys[index] = parser->input.line;
    return parser->keys[index].set(&parser->input, &parser->keys[index], value);
}

static bool finish_section(struct parser *parser)
{
    if (parser->section_line == 0)
        return true;
    if (parser->section[0] == '\0')
        return standard_refuse(&parser->input, parser->section_line,
                               "the section that begins here is empty.");
    for (int i = 0; parser->keys[i].name != NULL; i++)
        if (parser->keys[i].required && parser->lines->keys[i] == 0)
            return standard_refuse(&parser->input, parser->section_line, "%s is missing in [%s].",
                                   parser->keys[i].name, parser->section);
    return true;
}

/* Looks at a line "[…]" before the library does: it would cut a long name and pass over whatever
 * follows the bracket. */
static bool see_section(struct parser *parser, const char *line)
{
    if (!finish_section(parser))
        return false;
    parser->section_line = parser->input.line;
    parser->section[0] = '\0';
    const char *end = strchr(line, ']');
    if (end == NULL)
        return standard_refuse(&parser->input, parser->input.line,
                               "the ] that ends the section's name is missing.");
    if (end == line + 1)
        return standard_refuse(&parser->input, parser->input.line, "the section has no name.");
    if (end - line - 1 > SECTION_BYTES)
        return standard_refuse(&parser->input, parser->input.line,
                               "the section's name is too long.");
    const char *rest = end + 1;
    rest += strspn(rest, " \t\r\n");
    if (*rest != '\0' && *rest != ';' && *rest != '#')
        return standard_refuse(&parser->input, parser->input.line,
                               "text follows the ] of the section.");
    return true;
}

/* The library's reader: hands out one line as fgets would, and NULL at the end or after an error.
 */
static char *next_line(char *buffer, int size, void *context)
{
    struct parser *parser = context;
    if (*parser->at == '\0')
        return NULL;
    parser->input.line++;
    size_t bytes = strcspn(parser->at, "\n");
    if (bytes + 2 > (size_t)size) {
        standard_refuse(&parser->input, parser->input.line,
                        "the line has %zu bytes; at most %d are allowed.", bytes, size - 2);
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

/* Looks through the whole text once, so that whatever follows reads clean UTF-8 lines. */
static bool check_bytes(struct parser *parser, const char *text, size_t length)
{
    int line = 1;
    for (size_t at = 0; at < length;) {
        uint32_t code;
        size_t bytes = utf8_decode(text + at, length - at, &code);
        if (bytes == 0)
            return standard_refuse(&parser->input, line,
                                   "these bytes are not UTF-8; save the file as UTF-8.");
        bool line_end = code == '\n' || (code == '\r' && at + 1 < length && text[at + 1] == '\n');
        if (utf8_control(code) && !line_end && code != '\t')
            return standard_refuse(&parser->input, line,
                                   "a control character stands in the line; take it out.");
        line += code == '\n';
        at += bytes;
    }
    return true;
}

static bool check_scores(struct parser *parser)
{
    const struct standard *standard = parser->input.standard;
    char value[16], expected[64];
    snprintf(expected, sizeof expected, "a whole number from %d to %d", standard->lowest,
             standard->highest);
    if (standard->typical < standard->lowest || standard->typical > standard->highest) {
        snprintf(value, sizeof value, "%d", standard->typical);
        return standard_refuse_value(&parser->input,
                                     line_of(&parser->standard_lines, standard_keys, "typical"),
                                     "typical", value, expected);
    }
    for (int i = 0; i < standard->aspect_count; i++) {
        int floor = standard->aspects[i].floor;
        if (floor == NO_FLOOR || (floor >= standard->lowest && floor <= standard->highest))
            continue;
        snprintf(value, sizeof value, "%d", floor);
        return standard_refuse_value(&parser->input,
                                     line_of(&parser->aspect_lines[i], aspect_keys, "floor"),
                                     "floor", value, expected);
    }
    return true;
}

/* What can only be said when every section has been read, in whatever order. */
static bool check_whole(struct parser *parser)
{
    const struct standard *standard = parser->input.standard;
    if (parser->standard_lines.section == 0)
        return standard_refuse(&parser->input, 1, "the section [standard] is missing.");
    if (standard->aspect_count == 0)
        return standard_refuse(&parser->input, parser->standard_lines.section,
                               "the standard has no aspect; at least one [aspect CODE] is needed.");
    if (standard->hold_at > standard->keep_at)
        return standard_refuse(&parser->input,
                               line_of(&parser->standard_lines, standard_keys, "hold_at"),
                               "hold_at is above keep_at; it must be the same or lower.");
    return check_scores(parser);
}

/* Longer lines than the library takes by itself, and an indented line is a line like any other. */
static void configure_library(void)
{
    ini_use_stack = false;
    ini_max_line = STANDARD_LINE_BYTES;
    ini_initial_alloc = STANDARD_LINE_BYTES;
    ini_allow_multiline = false;
    ini_stop_on_first_error = true;
}

static bool parse_lines(struct parser *parser)
{
    configure_library();
    int wrong_line = ini_parse_stream(next_line, parser, take_key, parser);
    if (parser->input.failed)
        return false;
    if (wrong_line != 0)
        return standard_refuse(&parser->input, parser->input.line,
                               "this is neither [section] nor key = value.");
    return finish_section(parser) && check_whole(parser);
}

bool standard_parse(const char *text, size_t length, const char *file, struct standard *ret,
                    struct err *err)
{
    struct standard standard = {0};
    struct parser parser = {.input = {.file = file, .err = err, .standard = &standard}};
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
