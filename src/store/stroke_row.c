/* Packing and unpacking of strokes. A version never changes, so its codes are read once and kept as
 * long as the ledger is open. */
#include "strokes.h"

#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/fish.h"

#include <stdlib.h>
#include <string.h>

enum { UNTOUCHED = '.', TAKEN_AWAY = '-', SEEN = '+', TEN = 'X' };

/* The codes of a standard's version in its order. */
struct item_codes {
    int64_t standard;
    int aspect_count, fault_count;
    char aspects[STANDARD_ASPECTS][CODE_CHARACTERS + 1];
    char faults[STANDARD_FAULTS][CODE_CHARACTERS + 1];
};

void item_codes_forget(struct ledger *ledger)
{
    free(ledger->codes);
    ledger->codes = NULL;
    ledger->code_count = ledger->code_capacity = 0;
}

static const struct term item_kinds[] = {{"aspect", NULL}, {"fault", NULL}};

static bool read_codes(struct ledger *ledger, int64_t standard, struct item_codes *ret,
                       struct err *err)
{
    *ret = (struct item_codes){.standard = standard};
    struct query query = query_with(ledger, SQL_STANDARD_ITEMS, standard);
    while (query_step(&query)) {
        bool aspect = row_word(&query, item_kinds, 2) == 0;
        int *count = aspect ? &ret->aspect_count : &ret->fault_count;
        int position = row_int(&query, 1, aspect ? STANDARD_ASPECTS : STANDARD_FAULTS);
        row_require(&query, position == *count + 1);
        *count = position;
        row_code(&query, aspect ? ret->aspects[position - 1] : ret->faults[position - 1],
                 sizeof *ret->aspects);
    }
    return query_end(&query, err);
}

/* NULL where they cannot be read. */
static const struct item_codes *codes_of(struct ledger *ledger, int64_t standard, struct err *err)
{
    struct item_codes codes;
    for (size_t i = ledger->code_count; i-- > 0;)
        if (ledger->codes[i].standard == standard)
            return &ledger->codes[i];
    if (!read_codes(ledger, standard, &codes, err))
        return NULL;
    ledger->codes =
        alloc_room(ledger->codes, ledger->code_count, &ledger->code_capacity, sizeof codes);
    ledger->codes[ledger->code_count] = codes;
    return &ledger->codes[ledger->code_count++];
}

/* Marks as the table stroke has them (migrations/0001_ledger.sql). */
static char mark_of(const struct entry *entry)
{
    if (entry->kind == ENTRY_FAULT)
        return entry->number != 0 ? SEEN : TAKEN_AWAY;
    if (entry->number == SCORE_NONE)
        return TAKEN_AWAY;
    if (entry->number == 10)
        return TEN;
    return (char)('0' + entry->number);
}

/* Most codes differ in their first letter. */
static int place_of(const char *code, const char (*codes)[CODE_CHARACTERS + 1], int count)
{
    int at = 0;
    while (at < count && (codes[at][0] != code[0] || strcmp(codes[at], code) != 0))
        at++;
    return at;
}

/* Puts a mark at the place that the code has among `count`; the text begins with the first. */
static bool put_mark(const struct entry *entry, const char (*codes)[CODE_CHARACTERS + 1], int count,
                     char *text, struct err *err)
{
    int at = place_of(entry->what, codes, count);
    if (at == count)
        return err_set(err, ERR_INPUT, "The standard has no %s %s.",
                       entry->kind == ENTRY_FAULT ? "fault" : "aspect", entry->what);
    if (text[0] == '\0') {
        memset(text, UNTOUCHED, (size_t)count);
        text[count] = '\0';
    }
    text[at] = mark_of(entry);
    return true;
}

static bool put_marks(struct ledger *ledger, const struct stroke *stroke,
                      struct stroke_texts *texts, struct err *err)
{
    for (int i = 0; i < stroke->entry_count; i++) {
        const struct entry *entry = &stroke->entries[i];
        if (entry->kind != ENTRY_SCORE && entry->kind != ENTRY_FAULT)
            continue;
        const struct item_codes *codes = codes_of(ledger, stroke->standard, err);
        if (codes == NULL ||
            !(entry->kind == ENTRY_SCORE
                  ? put_mark(entry, codes->aspects, codes->aspect_count, texts->scores, err)
                  : put_mark(entry, codes->faults, codes->fault_count, texts->faults, err)))
            return false;
    }
    return true;
}

/* A hold for want of a place is a word of its own. */
static const char *closing_word(const struct entry *close)
{
    return close->what[0] != '\0' ? close->what : verdict_terms[close->number].word;
}

/* Scores and faults may be many; of any other kind the last entry of a stroke is kept. NULL in a
 * column says nothing; what is taken away is said by an empty text or 0. */
bool stroke_row_bind(struct query *query, const struct stroke *stroke, struct stroke_texts *texts,
                     struct err *err)
{
    const struct entry *says[ENTRY_KIND_COUNT] = {NULL};
    *texts = (struct stroke_texts){.scores = ""};
    if (!put_marks(query->ledger, stroke, texts, err))
        return false;
    for (int i = 0; i < stroke->entry_count; i++)
        says[stroke->entries[i].kind] = &stroke->entries[i];
    const struct entry *by_hand = says[ENTRY_VERDICT], *close = says[ENTRY_CLOSE];
    const struct entry *length = says[ENTRY_LENGTH], *tag = says[ENTRY_TAG];
    bool marks = says[ENTRY_SCORE] != NULL || says[ENTRY_FAULT] != NULL;
    query_number_or_null(query, marks ? stroke->standard : 0, 0);
    query_text_or_null(query, texts->scores);
    query_text_or_null(query, texts->faults);
    query_text(query, by_hand == NULL ? NULL : verdict_terms[by_hand->number].word);
    query_text(query, by_hand == NULL ? NULL : by_hand->text);
    query_text(query, close == NULL ? NULL : closing_word(close));
    query_number_or_null(query, length == NULL ? -1 : length->number, -1);
    query_text(query, tag == NULL ? NULL : tag->text);
    query_text(query, says[ENTRY_NOTE] == NULL ? NULL : says[ENTRY_NOTE]->text);
    return true;
}

/* What is done with the entries of a row. */
struct replay {
    const struct standard *standard;
    int look;
    int64_t at_ms;
    struct fish *fish;
};

static void apply(const struct replay *replay, enum entry_kind kind, const char *what, int number,
                  const char *text)
{
    struct entry entry; /* not cleared: it is large */
    entry.kind = kind;
    entry.number = number;
    text_copy(entry.what, sizeof entry.what, what);
    text_copy(entry.text, sizeof entry.text, text);
    fish_apply(replay->fish, replay->standard, replay->look, replay->at_ms, &entry);
}

/* A character for each of the version's codes, or nothing. */
static bool are_marks(const char *text, int count, const char *marks)
{
    size_t length = strlen(text);
    return length == strspn(text, marks) && (length == 0 || length == (size_t)count);
}

/* The standard's aspect, or fault, of a code of the version: most often they have one order. */
static int aspect_of(const struct standard *standard, const char *code, int place)
{
    bool same = place < standard->aspect_count && strcmp(standard->aspects[place].code, code) == 0;
    return same ? place : standard_aspect(standard, code);
}

static int fault_of(const struct standard *standard, const char *code, int place)
{
    bool same = place < standard->fault_count && strcmp(standard->faults[place].code, code) == 0;
    return same ? place : standard_fault(standard, code);
}

static int score_of(char mark)
{
    return mark == TAKEN_AWAY ? SCORE_NONE : mark == TEN ? 10 : mark - '0';
}

static void apply_marks(const struct replay *replay, const struct item_codes *codes,
                        const char *scores, const char *faults)
{
    const struct standard *standard = replay->standard;
    for (int i = 0; scores[i] != '\0'; i++)
        if (scores[i] != UNTOUCHED)
            fish_apply_score(replay->fish, standard, replay->look, replay->at_ms,
                             aspect_of(standard, codes->aspects[i], i), score_of(scores[i]));
    for (int i = 0; faults[i] != '\0'; i++)
        if (faults[i] != UNTOUCHED)
            fish_apply_fault(replay->fish, replay->look, replay->at_ms,
                             fault_of(standard, codes->faults[i], i), faults[i] == SEEN);
}

/* Marks are read by the version that the stroke was made with. */
static bool apply_marked(struct query *query, const struct replay *replay, struct err *err)
{
    static const struct item_codes none;
    int64_t version = row_id_or_none(query);
    const struct item_codes *codes = version == 0 ? &none : codes_of(query->ledger, version, err);
    if (codes == NULL)
        return false;
    const char *scores = row_text_in_place(query);
    bool right = are_marks(scores, codes->aspect_count, "0123456789X-.");
    row_require(query, right);
    const char *faults = row_text_in_place(query);
    right = right && are_marks(faults, codes->fault_count, "+-.");
    row_require(query, right);
    if (right)
        apply_marks(replay, codes, scores, faults);
    return true;
}

static void apply_by_hand(struct query *query, const struct replay *replay)
{
    const char *word = row_text_or_null(query);
    int verdict = word == NULL ? -1 : term_find(verdict_terms, VERDICT_COUNT, word);
    row_require(query, word == NULL || verdict >= 0);
    const char *reason = row_text_within(query, NOTE_SIZE);
    if (verdict >= 0)
        apply(replay, ENTRY_VERDICT, "", verdict, reason == NULL ? "" : reason);
}

static void apply_closing(struct query *query, const struct replay *replay)
{
    const char *word = row_text_or_null(query);
    bool no_place = word != NULL && strcmp(word, CLOSE_NO_PLACE) == 0;
    int verdict = no_place       ? VERDICT_HOLD
                  : word == NULL ? -1
                                 : term_find(verdict_terms, VERDICT_COUNT, word);
    row_require(query, word == NULL || verdict >= 0);
    if (verdict >= 0)
        apply(replay, ENTRY_CLOSE, no_place ? word : "", verdict, "");
}

bool stroke_row_apply(struct query *query, const struct standard *standard, int look, int64_t at_ms,
                      struct fish *fish, struct err *err)
{
    struct replay replay = {standard, look, at_ms, fish};
    if (!apply_marked(query, &replay, err))
        return false;
    apply_by_hand(query, &replay);
    apply_closing(query, &replay);
    int length = row_int_or(query, 0, LENGTH_MOST, -1);
    const char *tag = row_text_within(query, CODE_SIZE);
    const char *note = row_text_within(query, NOTE_SIZE);
    if (length >= 0)
        apply(&replay, ENTRY_LENGTH, "", length, "");
    if (tag != NULL)
        apply(&replay, ENTRY_TAG, "", 0, tag);
    if (note != NULL)
        apply(&replay, ENTRY_NOTE, "", 0, note);
    return true;
}
