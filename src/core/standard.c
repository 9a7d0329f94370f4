#include "senbetsu/core/standard.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/utf8.h"

#include <string.h>

int standard_aspect(const struct standard *standard, const char *code)
{
    for (int i = 0; i < standard->aspect_count; i++)
        if (strcmp(standard->aspects[i].code, code) == 0)
            return i;
    return -1;
}

int standard_fault(const struct standard *standard, const char *code)
{
    for (int i = 0; i < standard->fault_count; i++)
        if (strcmp(standard->faults[i].code, code) == 0)
            return i;
    return -1;
}

bool standard_serves(const struct standard *standard, const char *variety)
{
    for (const char *item = standard->varieties; *item != '\0';) {
        size_t bytes = strcspn(item, ",");
        if (utf8_same_letters(item, bytes, variety))
            return true;
        item += bytes;
        item += strspn(item, ", ");
    }
    return false;
}

static void write_points(struct text *out, const char *before, int hundredths)
{
    char points[NUMBER_SIZE];
    number_from_hundredths(hundredths, points);
    text_addf(out, "%s%s\n", before, points);
}

static void write_key(struct text *out, char key)
{
    if (key != '\0')
        text_addf(out, "key = %c\n", key);
}

static void write_head(struct text *out, const struct standard *standard)
{
    text_addf(out, "[standard]\nname = %s\nvariety = %s\nstage = %s\n", standard->name,
              standard->varieties, stage_terms[standard->stage].word);
    text_addf(out, "scale = %d-%d\ntypical = %d\n", standard->lowest, standard->highest,
              standard->typical);
    write_points(out, "keep_at = ", standard->keep_at);
    write_points(out, "hold_at = ", standard->hold_at);
    if (standard->note[0] != '\0')
        text_addf(out, "note = %s\n", standard->note);
}

static void write_aspect(struct text *out, const struct aspect *aspect)
{
    text_addf(out, "\n[aspect %s]\nlabel = %s\nweight = %d\n", aspect->code, aspect->label,
              aspect->weight);
    if (aspect->floor != NO_FLOOR)
        text_addf(out, "floor = %d\n", aspect->floor);
    if (aspect->floor != NO_FLOOR || aspect->below_floor != VERDICT_REJECT)
        text_addf(out, "below_floor = %s\n", verdict_terms[aspect->below_floor].word);
    write_key(out, aspect->key);
}

static void write_fault(struct text *out, const struct fault *fault)
{
    text_addf(out, "\n[fault %s]\nlabel = %s\n", fault->code, fault->label);
    switch (fault->effect) {
    case EFFECT_REJECT:
        text_add(out, "effect = reject\n");
        break;
    case EFFECT_HOLD:
        text_add(out, "effect = hold\n");
        break;
    case EFFECT_DEDUCT:
        write_points(out, "effect = deduct ", fault->deduction);
        break;
    }
    write_key(out, fault->key);
}

void standard_write(const struct standard *standard, struct text *out)
{
    write_head(out, standard);
    for (int i = 0; i < standard->aspect_count; i++)
        write_aspect(out, &standard->aspects[i]);
    for (int i = 0; i < standard->fault_count; i++)
        write_fault(out, &standard->faults[i]);
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
