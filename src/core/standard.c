/* A standard and its text form (INI, docs/standards/README.md). Each kind of section has one table
 * of keys, by which it is both read and written, so that what is written always reads back. The INI
 * library splits lines into sections, keys and values; what it passes over in silence (cut names,
 * empty sections, text behind a section) is noticed here, in the reader that hands it the lines. */
#include "senbetsu/core/standard.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"

#include <ini.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Asked for every score that is replayed: most codes differ in their first letter. */
static bool same_code(const char *a, const char *b)
{
    return a[0] == b[0] && strcmp(a, b) == 0;
}

int standard_aspect(const struct standard *standard, const char *code)
{
    for (int i = 0; i < standard->aspect_count; i++)
        if (same_code(standard->aspects[i].code, code))
            return i;
    return -1;
}

int standard_fault(const struct standard *standard, const char *code)
{
    for (int i = 0; i < standard->fault_count; i++)
        if (same_code(standard->faults[i].code, code))
            return i;
    return -1;
}

bool standard_next_variety(const char **list, char ret_name[CODE_SIZE])
{
    size_t length = strcspn(*list, ",");
    if (length == 0)
        return false;
    text_copy(ret_name, length < CODE_SIZE ? length + 1 : CODE_SIZE, *list);
    *list += length;
    *list += strspn(*list, ", ");
    return true;
}

bool standard_serves(const struct standard *standard, const char *variety)
{
    char name[CODE_SIZE];
    for (const char *list = standard->varieties; standard_next_variety(&list, name);)
        if (utf8_same_letters(name, strlen(name), variety))
            return true;
    return false;
}

bool standard_add_variety(struct standard *standard, const char *name)
{
    size_t used = strlen(standard->varieties);
    if (standard_serves(standard, name))
        return true;
    if (used + strlen(", ") + strlen(name) >= STANDARD_VARIETIES)
        return false;
    snprintf(standard->varieties + used, STANDARD_VARIETIES - used, "%s%s", used > 0 ? ", " : "",
             name);
    return true;
}

enum {
    LINE_BYTES = 1024,  /* the longest line taken; the longest note needs 800 bytes */
    SECTION_BYTES = 49, /* the library cuts a section's name after so many */
    KEYS_MOST = 8,      /* of a section */
    POINTS_MOST = 10000,
    LABEL_CHARACTERS = 40,
    NOTE_CHARACTERS = 200,
};

enum key_kind {
    KEY_NAME,
    KEY_VARIETIES, /* one, or several separated by commas */
    KEY_STAGE,
    KEY_SCALE,  /* two numbers with a hyphen between them */
    KEY_WHOLE,  /* an int */
    KEY_POINTS, /* an int, in hundredths */
    KEY_NOTE,
    KEY_LABEL,
    KEY_FLOOR, /* an int, NO_FLOOR where it is not said */
    KEY_BELOW_FLOOR,
    KEY_EFFECT,
    KEY_LETTER, /* a char */
};

/* `at` is the member's place in the standard, aspect or fault whose section this is. */
struct key {
    const char *name;
    bool required;
    enum key_kind kind;
    size_t at;
    int lowest, highest;
};

static const struct key standard_keys[] = {
    {"name", true, KEY_NAME, offsetof(struct standard, name), 0, 0},
    {"variety", true, KEY_VARIETIES, offsetof(struct standard, varieties), 0, 0},
    {"stage", true, KEY_STAGE, offsetof(struct standard, stage), 0, 0},
    {"scale", true, KEY_SCALE, offsetof(struct standard, lowest), 0, 0},
    {"typical", true, KEY_WHOLE, offsetof(struct standard, typical), 0, 10},
    {"keep_at", true, KEY_POINTS, offsetof(struct standard, keep_at), 0, 0},
    {"hold_at", true, KEY_POINTS, offsetof(struct standard, hold_at), 0, 0},
    {"note", false, KEY_NOTE, offsetof(struct standard, note), 0, 0},
};

static const struct key aspect_keys[] = {
    {"label", true, KEY_LABEL, offsetof(struct aspect, label), 0, 0},
    {"weight", true, KEY_WHOLE, offsetof(struct aspect, weight), 1, 100},
    {"floor", false, KEY_FLOOR, offsetof(struct aspect, floor), 0, 10},
    {"below_floor", false, KEY_BELOW_FLOOR, offsetof(struct aspect, below_floor), 0, 0},
    {"key", false, KEY_LETTER, offsetof(struct aspect, key), 0, 0},
};

static const struct key fault_keys[] = {
    {"label", true, KEY_LABEL, offsetof(struct fault, label), 0, 0},
    {"effect", true, KEY_EFFECT, offsetof(struct fault, effect), 0, 0},
    {"key", false, KEY_LETTER, offsetof(struct fault, key), 0, 0},
};

static const struct section {
    const char *word;
    const struct key *keys;
    int count;
} of_standard = {"standard", standard_keys, sizeof standard_keys / sizeof *standard_keys},
  of_aspect = {"aspect", aspect_keys, sizeof aspect_keys / sizeof *aspect_keys},
  of_fault = {"fault", fault_keys, sizeof fault_keys / sizeof *fault_keys};

static void write_points(struct text *out, const char *before, int hundredths)
{
    char points[NUMBER_SIZE];
    number_from_hundredths(hundredths, points);
    text_addf(out, "%s%s\n", before, points);
}

static void write_effect(struct text *out, const struct fault *fault)
{
    switch (fault->effect) {
    case EFFECT_REJECT:
        text_add(out, "reject\n");
        break;
    case EFFECT_HOLD:
        text_add(out, "hold\n");
        break;
    case EFFECT_DEDUCT:
        write_points(out, "deduct ", fault->deduction);
        break;
    }
}

/* What a section need not say is left out. */
static bool is_left_out(const struct key *key, const void *of)
{
    const char *text = (const char *)of + key->at;
    const struct aspect *aspect = of;
    if (key->kind == KEY_NOTE || key->kind == KEY_LETTER)
        return text[0] == '\0';
    if (key->kind == KEY_FLOOR)
        return aspect->floor == NO_FLOOR;
    return key->kind == KEY_BELOW_FLOOR && aspect->floor == NO_FLOOR &&
           aspect->below_floor == VERDICT_REJECT;
}

static void write_section(const struct section *section, const void *of, struct text *out)
{
    for (int i = 0; i < section->count; i++) {
        const struct key *key = &section->keys[i];
        const void *member = (const char *)of + key->at;
        const struct standard *standard = of;
        const int *number = member;
        if (is_left_out(key, of))
            continue;
        text_addf(out, "%s = ", key->name);
        switch (key->kind) {
        case KEY_NAME:
        case KEY_VARIETIES:
        case KEY_NOTE:
        case KEY_LABEL:
            text_addf(out, "%s\n", (const char *)member);
            break;
        case KEY_STAGE:
            text_addf(out, "%s\n", stage_terms[standard->stage].word);
            break;
        case KEY_SCALE:
            text_addf(out, "%d-%d\n", standard->lowest, standard->highest);
            break;
        case KEY_WHOLE:
        case KEY_FLOOR:
            text_addf(out, "%d\n", *number);
            break;
        case KEY_POINTS:
            write_points(out, "", *number);
            break;
        case KEY_BELOW_FLOOR:
            text_addf(out, "%s\n", verdict_terms[((const struct aspect *)of)->below_floor].word);
            break;
        case KEY_EFFECT:
            write_effect(out, of);
            break;
        case KEY_LETTER:
            text_addf(out, "%c\n", *(const char *)member);
            break;
        }
    }
}

void standard_write(const struct standard *standard, struct text *out)
{
    text_add(out, "[standard]\n");
    write_section(&of_standard, standard, out);
    for (int i = 0; i < standard->aspect_count; i++) {
        text_addf(out, "\n[aspect %s]\n", standard->aspects[i].code);
        write_section(&of_aspect, &standard->aspects[i], out);
    }
    for (int i = 0; i < standard->fault_count; i++) {
        text_addf(out, "\n[fault %s]\n", standard->faults[i].code);
        write_section(&of_fault, &standard->faults[i], out);
    }
}

bool standard_equal(const struct standard *a, const struct standard *b)
{
    struct text text_a, text_b;
    text_init(&text_a);
    text_init(&text_b);
    standard_write(a, &text_a);
    standard_write(b, &text_b);
    bool equal = strcmp(text_a.data, text_b.data) == 0;
    text_done(&text_a);
    text_done(&text_b);
    return equal;
}

/* The lines on which a section and its keys stand; 0 = not seen. */
struct lines {
    int section;
    int keys[KEYS_MOST];
};

struct reader {
    const char *file;
    const char *at; /* the next line */
    int line;       /* the one being read, from 1 */
    struct err *err;
    bool failed;
    struct standard standard;
    int letter_lines[128]; /* by letter: the line that gave it away, 0 = it is free */
    struct lines standard_lines, aspect_lines[STANDARD_ASPECTS], fault_lines[STANDARD_FAULTS];

    /* The section being read. */
    int section_line;              /* where it begins, 0 = none yet */
    char name[SECTION_BYTES + 1];  /* as written; "" = no key of it seen yet */
    const struct section *section; /* what it may hold */
    void *of;                      /* the standard, aspect or fault that it fills */
    struct lines *lines;
};

/* "kikusui.ini, line 12: …" */
static bool refuse_at(struct reader *reader, int line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static bool refuse_at(struct reader *reader, int line, const char *format, ...)
{
    char sentence[2 * ERR_TEXT_SIZE]; /* err_set cuts it, at a whole character */
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    reader->failed = true;
    err_set(reader->err, ERR_INPUT, "%s", sentence);
    return err_at(reader->err, "%s, line %d", reader->file, line);
}

#define refuse(reader, ...) refuse_at(reader, (reader)->line, __VA_ARGS__)

/* "weight is 0; a whole number from 1 to 100 is expected." */
static bool refuse_value(struct reader *reader, int line, const char *name, const char *value,
                         const char *expected)
{
    char shown[64];
    text_copy(shown, sizeof shown, value);
    return refuse_at(reader, line, "%s is %s; %s is expected.", name,
                     *value == '\0' ? "empty" : shown, expected);
}

static bool read_whole(struct reader *reader, const struct key *key, const char *value, int *ret)
{
    int64_t number;
    char expected[64];
    if (number_whole(value, key->lowest, key->highest, &number)) {
        *ret = (int)number;
        return true;
    }
    snprintf(expected, sizeof expected, "a whole number from %d to %d", key->lowest, key->highest);
    return refuse_value(reader, reader->line, key->name, value, expected);
}

static bool read_words(struct reader *reader, const struct key *key, const char *value,
                       size_t characters, size_t size, char *ret)
{
    size_t count = utf8_count(value);
    if (count > characters)
        return refuse(reader, "%s has %zu characters; at most %zu are allowed.", key->name, count,
                      characters);
    if (strchr(value, '\t') != NULL)
        return refuse(reader, "%s contains a tab; use spaces.", key->name);
    text_copy(ret, size, value);
    return true;
}

static bool check_name(struct reader *reader, const char *what, const char *code)
{
    struct err why;
    return code_check(code, what, &why) || refuse(reader, "%s", why.text);
}

static bool add_variety(struct reader *reader, const char *variety)
{
    if (!check_name(reader, "the variety", variety))
        return false;
    if (standard_serves(&reader->standard, variety))
        return refuse(reader, "the variety %s is named twice.", variety);
    return standard_add_variety(&reader->standard, variety) ||
           refuse(reader, "variety has too many names; at most %d bytes are allowed.",
                  STANDARD_VARIETIES - 1);
}

static bool read_varieties(struct reader *reader, const char *value)
{
    for (;; value++) {
        char variety[LINE_BYTES];
        value += strspn(value, " \t");
        size_t whole = strcspn(value, ","), bytes = whole;
        while (bytes > 0 && strchr(" \t", value[bytes - 1]) != NULL)
            bytes--;
        memcpy(variety, value, bytes);
        variety[bytes] = '\0';
        if (!add_variety(reader, variety))
            return false;
        value += whole;
        if (*value == '\0')
            return true;
    }
}

static bool read_stage(struct reader *reader, const struct key *key, const char *value)
{
    char words[128];
    int stage = term_find(stage_terms, STAGE_COUNT, value);
    if (stage < 0)
        return refuse_value(reader, reader->line, key->name, value,
                            term_list(stage_terms, STAGE_COUNT, words, sizeof words));
    reader->standard.stage = (enum stage)stage;
    return true;
}

/* A score is one key, and the key 0 can stand for 0 or for 10 but not for both. */
static bool read_scale(struct reader *reader, const struct key *key, const char *value)
{
    const char *hyphen = strchr(value, '-');
    char first[8];
    int64_t lowest, highest;
    if (hyphen != NULL && hyphen - value < (int)sizeof first) {
        text_copy(first, (size_t)(hyphen - value) + 1, value);
        if (number_whole(first, 0, 9, &lowest) &&
            number_whole(hyphen + 1, lowest + 1, lowest == 0 ? 9 : 10, &highest)) {
            reader->standard.lowest = (int)lowest;
            reader->standard.highest = (int)highest;
            return true;
        }
    }
    return refuse_value(reader, reader->line, key->name, value,
                        "a scale such as 1-5, within 0-9 or 1-10,");
}

static bool read_effect(struct reader *reader, const struct key *key, const char *value,
                        struct fault *fault)
{
    static const char deduct[] = "deduct ";
    bool deducts = strncmp(value, deduct, strlen(deduct)) == 0;
    const char *points = value + (deducts ? strlen(deduct) : 0);
    fault->effect = deducts                      ? EFFECT_DEDUCT
                    : strcmp(value, "hold") == 0 ? EFFECT_HOLD
                                                 : EFFECT_REJECT;
    if (deducts ? number_hundredths(points + strspn(points, " "), 0, POINTS_MOST, &fault->deduction)
                : fault->effect == EFFECT_HOLD || strcmp(value, "reject") == 0)
        return true;
    return refuse_value(reader, reader->line, key->name, value,
                        "reject, hold or deduct N with N from 0 to 100");
}

static bool read_letter(struct reader *reader, const struct key *key, const char *value, char *ret)
{
    char letter = value[0];
    bool capital = letter >= 'A' && letter <= 'Z';
    bool small = letter != '\0' && strchr(STANDARD_SMALL_LETTERS, letter) != NULL;
    if (!(capital || small) || value[1] != '\0')
        return refuse_value(reader, reader->line, key->name, value,
                            "a capital letter or one of " STANDARD_SMALL_LETTERS);
    int *taken = &reader->letter_lines[(unsigned char)letter];
    if (*taken != 0)
        return refuse(reader, "key %c is already used on line %d.", letter, *taken);
    *taken = reader->line;
    *ret = letter;
    return true;
}

static bool read_value(struct reader *reader, const struct key *key, const char *value)
{
    void *member = (char *)reader->of + key->at;
    switch (key->kind) {
    case KEY_NAME:
        if (!check_name(reader, "the standard's name", value))
            return false;
        text_copy(member, CODE_SIZE, value);
        return true;
    case KEY_VARIETIES:
        return read_varieties(reader, value);
    case KEY_STAGE:
        return read_stage(reader, key, value);
    case KEY_SCALE:
        return read_scale(reader, key, value);
    case KEY_WHOLE:
    case KEY_FLOOR:
        return read_whole(reader, key, value, member);
    case KEY_POINTS:
        return number_hundredths(value, 0, POINTS_MOST, member) ||
               refuse_value(reader, reader->line, key->name, value,
                            "a number from 0 to 100 with at most two decimals");
    case KEY_NOTE:
        return read_words(reader, key, value, NOTE_CHARACTERS, NOTE_SIZE, member);
    case KEY_LABEL:
        if (*value == '\0')
            return refuse_value(reader, reader->line, key->name, value,
                                "a name of up to 40 characters");
        return read_words(reader, key, value, LABEL_CHARACTERS, LABEL_SIZE, member);
    case KEY_BELOW_FLOOR:
        if (strcmp(value, "reject") != 0 && strcmp(value, "hold") != 0)
            return refuse_value(reader, reader->line, key->name, value, "reject or hold");
        ((struct aspect *)reader->of)->below_floor =
            (enum verdict)term_find(verdict_terms, VERDICT_COUNT, value);
        return true;
    case KEY_EFFECT:
        return read_effect(reader, key, value, reader->of);
    case KEY_LETTER:
        return read_letter(reader, key, value, member);
    }
    return false;
}

static int find_key(const struct section *section, const char *name)
{
    for (int i = 0; i < section->count; i++)
        if (strcmp(section->keys[i].name, name) == 0)
            return i;
    return -1;
}

/* "aspect white" with the word "aspect" → "white"; NULL where the section is of another kind. */
static const char *code_after(const char *name, const char *word)
{
    size_t bytes = strlen(word);
    if (strncmp(name, word, bytes) != 0 || name[bytes] != ' ')
        return NULL;
    name += bytes;
    return name + strspn(name, " ");
}

/* `items` and `lines` are all there can be of a kind, `*count` the ones there are, `same` the one
 * of this code or -1. */
static bool begin_part(struct reader *reader, const struct section *section, int same, int *count,
                       int most, void *items, size_t size, struct lines *lines)
{
    if (same >= 0)
        return refuse_at(reader, reader->section_line, "the section [%s] is already on line %d.",
                         reader->name, lines[same].section);
    if (*count == most)
        return refuse_at(reader, reader->section_line, "a standard has at most %d %ss.", most,
                         section->word);
    reader->section = section;
    reader->lines = &lines[*count];
    reader->lines->section = reader->section_line;
    reader->of = (char *)items + (size_t)*count * size;
    ++*count;
    return true;
}

static bool begin_aspect(struct reader *reader, const char *code)
{
    struct standard *standard = &reader->standard;
    struct err why;
    if (!code_check_plain(code, "the aspect's code", &why))
        return refuse_at(reader, reader->section_line, "%s", why.text);
    if (!begin_part(reader, &of_aspect, standard_aspect(standard, code), &standard->aspect_count,
                    STANDARD_ASPECTS, standard->aspects, sizeof *standard->aspects,
                    reader->aspect_lines))
        return false;
    struct aspect *aspect = reader->of;
    aspect->floor = NO_FLOOR;
    aspect->below_floor = VERDICT_REJECT;
    text_copy(aspect->code, sizeof aspect->code, code);
    return true;
}

static bool begin_fault(struct reader *reader, const char *code)
{
    struct standard *standard = &reader->standard;
    struct err why;
    if (!code_check_plain(code, "the fault's code", &why))
        return refuse_at(reader, reader->section_line, "%s", why.text);
    if (!begin_part(reader, &of_fault, standard_fault(standard, code), &standard->fault_count,
                    STANDARD_FAULTS, standard->faults, sizeof *standard->faults,
                    reader->fault_lines))
        return false;
    struct fault *fault = reader->of;
    text_copy(fault->code, sizeof fault->code, code);
    return true;
}

/* The library names a section only with its first key, so a section begins here. */
static bool begin_section(struct reader *reader, const char *name)
{
    const char *code;
    int count = 0;
    text_copy(reader->name, sizeof reader->name, name);
    if ((code = code_after(name, of_aspect.word)) != NULL)
        return begin_aspect(reader, code);
    if ((code = code_after(name, of_fault.word)) != NULL)
        return begin_fault(reader, code);
    if (strcmp(name, of_standard.word) == 0)
        return begin_part(reader, &of_standard, reader->standard_lines.section != 0 ? 0 : -1,
                          &count, 1, &reader->standard, sizeof reader->standard,
                          &reader->standard_lines);
    return refuse_at(reader, reader->section_line,
                     "unknown section [%s]; use [standard], [aspect CODE] or [fault CODE].", name);
}

static bool unknown_key(struct reader *reader, const char *name)
{
    struct text known;
    char shown[64];
    text_init(&known);
    for (int i = 0; i < reader->section->count; i++)
        text_join(&known, ", ", reader->section->keys[i].name);
    text_copy(shown, sizeof shown, name);
    refuse(reader, "%s is unknown in [%s]; its keys are %s.",
           *shown == '\0' ? "a key without a name" : shown, reader->name, known.data);
    text_done(&known);
    return false;
}

/* The library's handler: 1 goes on, 0 stops. */
static int take_key(void *context, const char *section, const char *name, const char *value)
{
    struct reader *reader = context;
    if (reader->section_line == 0)
        return refuse(reader, "there is a key before the first [section].");
    if (reader->name[0] == '\0' && !begin_section(reader, section))
        return 0;
    int index = find_key(reader->section, name);
    if (index < 0)
        return unknown_key(reader, name);
    int *line = &reader->lines->keys[index];
    if (*line != 0)
        return refuse(reader, "%s is already on line %d.", name, *line);
    *line = reader->line;
    return read_value(reader, &reader->section->keys[index], value);
}

static bool finish_section(struct reader *reader)
{
    if (reader->section_line == 0)
        return true;
    if (reader->name[0] == '\0')
        return refuse_at(reader, reader->section_line, "the section that begins here is empty.");
    for (int i = 0; i < reader->section->count; i++)
        if (reader->section->keys[i].required && reader->lines->keys[i] == 0)
            return refuse_at(reader, reader->section_line, "%s is missing in [%s].",
                             reader->section->keys[i].name, reader->name);
    return true;
}

/* Looks at a line "[…]" before the library does: it would cut a long name and pass over whatever
 * follows the bracket. */
static bool see_section(struct reader *reader, const char *line)
{
    if (!finish_section(reader))
        return false;
    reader->section_line = reader->line;
    reader->name[0] = '\0';
    const char *end = strchr(line, ']');
    if (end == NULL)
        return refuse(reader, "the ] that ends the section's name is missing.");
    if (end == line + 1)
        return refuse(reader, "the section has no name.");
    if (end - line - 1 > SECTION_BYTES)
        return refuse(reader, "the section's name is too long.");
    const char *rest = end + 1;
    rest += strspn(rest, " \t\r\n");
    return *rest == '\0' || *rest == ';' || *rest == '#' ||
           refuse(reader, "text follows the ] of the section.");
}

/* The library's reader: hands out one line as fgets would, and NULL at the end or after an error.
 */
static char *next_line(char *buffer, int size, void *context)
{
    struct reader *reader = context;
    if (*reader->at == '\0')
        return NULL;
    reader->line++;
    size_t bytes = strcspn(reader->at, "\n");
    if (bytes + 2 > (size_t)size) {
        refuse(reader, "the line has %zu bytes; at most %d are allowed.", bytes, size - 2);
        return NULL;
    }
    bytes += reader->at[bytes] == '\n';
    memcpy(buffer, reader->at, bytes);
    buffer[bytes] = '\0';
    reader->at += bytes;
    const char *start = buffer + strspn(buffer, " \t");
    return *start == '[' && !see_section(reader, start) ? NULL : buffer;
}

/* Looks through the whole text once, so that whatever follows reads clean UTF-8 lines. */
static bool check_bytes(struct reader *reader, const char *text, size_t length)
{
    int line = 1;
    for (size_t at = 0; at < length;) {
        uint32_t code;
        size_t bytes = utf8_decode(text + at, length - at, &code);
        if (bytes == 0)
            return refuse_at(reader, line, "these bytes are not UTF-8; save the file as UTF-8.");
        bool line_end = code == '\n' || (code == '\r' && at + 1 < length && text[at + 1] == '\n');
        if (utf8_control(code) && !line_end && code != '\t')
            return refuse_at(reader, line, "the line has a control character; remove it.");
        line += code == '\n';
        at += bytes;
    }
    return true;
}

/* A score that a key of some section names must be on the scale. */
static bool check_score(struct reader *reader, const struct section *section,
                        const struct lines *lines, const char *name, int score)
{
    const struct standard *standard = &reader->standard;
    char value[16], expected[64];
    if (score >= standard->lowest && score <= standard->highest)
        return true;
    snprintf(value, sizeof value, "%d", score);
    snprintf(expected, sizeof expected, "a whole number from %d to %d", standard->lowest,
             standard->highest);
    return refuse_value(reader, lines->keys[find_key(section, name)], name, value, expected);
}

/* Checks that need all sections, whatever their order. */
static bool check_whole(struct reader *reader)
{
    const struct standard *standard = &reader->standard;
    const struct lines *lines = &reader->standard_lines;
    if (lines->section == 0)
        return refuse_at(reader, 1, "the section [standard] is missing.");
    if (standard->aspect_count == 0)
        return refuse_at(reader, lines->section,
                         "the standard has no aspect; at least one [aspect CODE] is needed.");
    if (standard->hold_at > standard->keep_at)
        return refuse_at(reader, lines->keys[find_key(&of_standard, "hold_at")],
                         "hold_at is above keep_at; it must be the same or lower.");
    if (!check_score(reader, &of_standard, lines, "typical", standard->typical))
        return false;
    for (int i = 0; i < standard->aspect_count; i++)
        if (standard->aspects[i].floor != NO_FLOOR &&
            !check_score(reader, &of_aspect, &reader->aspect_lines[i], "floor",
                         standard->aspects[i].floor))
            return false;
    return true;
}

static bool parse_lines(struct reader *reader)
{
    /* Longer lines than the library takes by itself, and an indented line is a line like any
     * other. */
    ini_use_stack = false;
    ini_max_line = LINE_BYTES;
    ini_initial_alloc = LINE_BYTES;
    ini_allow_multiline = false;
    ini_stop_on_first_error = true;
    int wrong_line = ini_parse_stream(next_line, reader, take_key, reader);
    if (reader->failed)
        return false;
    if (wrong_line != 0)
        return refuse(reader, "this is neither [section] nor key = value.");
    return finish_section(reader) && check_whole(reader);
}

bool standard_parse(const char *text, size_t length, const char *file, struct standard *ret,
                    struct err *err)
{
    struct reader reader = {.file = file, .err = err};
    if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0) {
        text += 3;
        length -= 3;
    }
    if (!check_bytes(&reader, text, length))
        return false;
    struct text copy;
    text_init(&copy);
    text_add_bytes(&copy, text, length);
    reader.at = copy.data;
    bool parsed = parse_lines(&reader);
    text_done(&copy);
    if (parsed)
        *ret = reader.standard;
    return parsed;
}
