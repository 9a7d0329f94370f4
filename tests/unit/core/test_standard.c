#include "chance.h"
#include "senbetsu/core/standard.h"
#include "support/standard.h"

static struct standard drawn(uint64_t seed)
{
    struct chance chance = {seed};
    struct standard standard;
    chance_standard(&chance, &standard);
    return standard;
}

static void aspects_and_faults_are_found_by_code(void **state)
{
    (void)state;
    const struct standard standard = {.aspect_count = 2,
                                      .aspects = {{.code = "white"}, {.code = "body"}},
                                      .fault_count = 1,
                                      .faults = {{.code = "spine"}}};
    assert_int_equal(standard_aspect(&standard, "white"), 0);
    assert_int_equal(standard_aspect(&standard, "body"), 1);
    assert_int_equal(standard_aspect(&standard, "spine"), -1);
    assert_int_equal(standard_aspect(&standard, ""), -1);
    assert_int_equal(standard_fault(&standard, "spine"), 0);
    assert_int_equal(standard_fault(&standard, "white"), -1);
}

static void a_standard_serves_the_varieties_it_names(void **state)
{
    (void)state;
    const struct standard standard = {.varieties = "Kohaku, Taisho Sanke, 菊翠"};
    assert_true(standard_serves(&standard, "Kohaku"));
    assert_true(standard_serves(&standard, "kohaku"));
    assert_true(standard_serves(&standard, "TAISHO SANKE"));
    assert_true(standard_serves(&standard, "菊翠"));
    assert_false(standard_serves(&standard, "Sanke"));
    assert_false(standard_serves(&standard, "Kohaku, Taisho Sanke"));
    assert_false(standard_serves(&standard, "Koha"));
    assert_false(standard_serves(&standard, ""));
    const struct standard nothing = {0};
    assert_false(standard_serves(&nothing, ""));
}

static void a_copy_is_equal(void **state)
{
    (void)state;
    for (uint64_t seed = 0; seed < 50; seed++) {
        struct standard standard = drawn(seed), copy = standard;
        memset(copy.name + strlen(copy.name) + 1, 'x',
               3); /* what stands behind the end is nothing */
        assert_true(standard_equal(&standard, &copy));
    }
}

#define assert_change_is_seen(change)                                                              \
    do {                                                                                           \
        struct standard changed = original;                                                        \
        change;                                                                                    \
        assert_false(standard_equal(&original, &changed));                                         \
    } while (0)

static void every_change_is_seen(void **state)
{
    (void)state;
    const struct standard original = {
        STANDARD("a", "Kohaku", STAGE_THIRD, 6500, 5500),
        ASPECTS(1, FLOORED_ASPECT("white", "White", 4, 2, VERDICT_REJECT)),
        FAULTS(1, DEDUCTION("eye", "Eye", 1000)),
    };
    assert_true(standard_equal(&original, &original));
    assert_change_is_seen(changed.name[0] = 'b');
    assert_change_is_seen(changed.varieties[0] = 'J');
    assert_change_is_seen(changed.note[0] = 'n');
    assert_change_is_seen(changed.stage = STAGE_FOURTH);
    assert_change_is_seen(changed.lowest = 2);
    assert_change_is_seen(changed.highest = 9);
    assert_change_is_seen(changed.typical = 4);
    assert_change_is_seen(changed.keep_at++);
    assert_change_is_seen(changed.hold_at--);
    assert_change_is_seen(changed.aspect_count = 0);
    assert_change_is_seen(changed.aspects[0].code[0] = 'v');
    assert_change_is_seen(changed.aspects[0].label[0] = 'V');
    assert_change_is_seen(changed.aspects[0].weight++);
    assert_change_is_seen(changed.aspects[0].floor = NO_FLOOR);
    assert_change_is_seen(changed.aspects[0].below_floor = VERDICT_HOLD);
    assert_change_is_seen(changed.aspects[0].key = 'W');
    assert_change_is_seen(changed.fault_count = 0);
    assert_change_is_seen(changed.faults[0].code[0] = 'o');
    assert_change_is_seen(changed.faults[0].label[0] = 'O');
    assert_change_is_seen(changed.faults[0].effect = EFFECT_HOLD);
    assert_change_is_seen(changed.faults[0].deduction++);
    assert_change_is_seen(changed.faults[0].key = 'e');
}

static const char example[] = "; A worked example.\n"                /* 1 */
                              "[standard]\n"                         /* 2 */
                              "name = kikusui-harvest\n"             /* 3 */
                              "variety = Kikusui, Doitsu Hariwake\n" /* 4 */
                              "stage = harvest\n"                    /* 5 */
                              "scale = 1-5\n"                        /* 6 */
                              "typical = 3\n"                        /* 7 */
                              "keep_at = 65.25\n"                    /* 8 */
                              "hold_at = 55\n"                       /* 9 */
                              "\n"                                   /* 10 */
                              "[aspect white]\n"                     /* 11 */
                              "label = White ground; 白地\n"         /* 12 */
                              "weight = 4\n"                         /* 13 */
                              "floor = 2\n"                          /* 14 */
                              "below_floor = hold\n"                 /* 15 */
                              "key = w\n"                            /* 16 */
                              "\n"                                   /* 17 */
                              "[aspect body]\n"                      /* 18 */
                              "label = Body\n"                       /* 19 */
                              "weight = 2\n"                         /* 20 */
                              "\n"                                   /* 21 */
                              "[fault spine]\n"                      /* 22 */
                              "label = Bent spine\n"                 /* 23 */
                              "effect = reject\n"                    /* 24 */
                              "key = s\n"                            /* 25 */
                              "\n"                                   /* 26 */
                              "[fault eye]\n"                        /* 27 */
                              "label = Colour over the eye\n"        /* 28 */
                              "effect = deduct 10.5\n";              /* 29 */

static void parse(const char *text, struct standard *ret)
{
    struct err err;
    assert_ok(standard_parse(text, strlen(text), "kikusui.ini", ret, &err), &err);
}

static void the_example_is_read(void **state)
{
    (void)state;
    struct standard standard;
    parse(example, &standard);
    assert_string_equal(standard.name, "kikusui-harvest");
    assert_string_equal(standard.varieties, "Kikusui, Doitsu Hariwake");
    assert_string_equal(standard.note, "");
    assert_int_equal(standard.stage, STAGE_HARVEST);
    assert_int_equal(standard.lowest, 1);
    assert_int_equal(standard.highest, 5);
    assert_int_equal(standard.typical, 3);
    assert_int_equal(standard.keep_at, 6525);
    assert_int_equal(standard.hold_at, 5500);
    assert_int_equal(standard.aspect_count, 2);
    assert_string_equal(standard.aspects[0].code, "white");
    assert_string_equal(standard.aspects[0].label, "White ground; 白地");
    assert_int_equal(standard.aspects[0].weight, 4);
    assert_int_equal(standard.aspects[0].floor, 2);
    assert_int_equal(standard.aspects[0].below_floor, VERDICT_HOLD);
    assert_int_equal(standard.aspects[0].key, 'w');
    assert_int_equal(standard.aspects[1].floor, NO_FLOOR);
    assert_int_equal(standard.aspects[1].below_floor, VERDICT_REJECT);
    assert_int_equal(standard.aspects[1].key, 0);
    assert_int_equal(standard.fault_count, 2);
    assert_int_equal(standard.faults[0].effect, EFFECT_REJECT);
    assert_int_equal(standard.faults[0].key, 's');
    assert_int_equal(standard.faults[1].effect, EFFECT_DEDUCT);
    assert_int_equal(standard.faults[1].deduction, 1050);
}

/* `example` with the first `from` replaced by `to`. */
static void edited(const char *from, const char *to, struct text *ret)
{
    const char *at = strstr(example, from);
    assert_non_null(at);
    text_init(ret);
    text_add_bytes(ret, example, (size_t)(at - example));
    text_add(ret, to);
    text_add(ret, at + strlen(from));
}

static void assert_refused(const char *from, const char *to, const char *sentence)
{
    struct text text;
    edited(from, to, &text);
    struct standard standard = {.keep_at = 77};
    struct err err;
    assert_says(standard_parse(text.data, text.length, "kikusui.ini", &standard, &err), &err,
                sentence);
    assert_int_equal(err.code, ERR_INPUT);
    assert_int_equal(standard.keep_at, 77);
    assert_int_equal(err.text[strlen(err.text) - 1], '.');
    text_done(&text);
}

struct refusal {
    const char *from, *to, *sentence;
};

static void refused(const struct refusal *refusals, size_t count)
{
    for (size_t i = 0; i < count; i++)
        assert_refused(refusals[i].from, refusals[i].to, refusals[i].sentence);
}

#define LENGTH(array) (sizeof(array) / sizeof *(array))

static void values_out_of_range_are_refused(void **state)
{
    (void)state;
    static const struct refusal refusals[] = {
        {"weight = 4", "weight = 0",
         "kikusui.ini, line 13: weight is 0; a whole number from 1 to 100 is expected."},
        {"weight = 4", "weight = 101", "line 13: weight is 101;"},
        {"weight = 4", "weight = 1.5", "line 13: weight is 1.5;"},
        {"weight = 4", "weight = four", "line 13: weight is four;"},
        {"weight = 4", "weight =", "line 13: weight is empty;"},
        {"floor = 2", "floor = 0", "line 14: floor is 0; a whole number from 1 to 5 is expected."},
        {"floor = 2", "floor = 6", "line 14: floor is 6; a whole number from 1 to 5"},
        {"floor = 2", "floor = -1", "line 14: floor is -1;"},
        {"below_floor = hold", "below_floor = keep",
         "line 15: below_floor is keep; reject or hold is expected."},
        {"below_floor = hold", "below_floor = ", "line 15: below_floor is empty;"},
        {"typical = 3", "typical = 6", "line 7: typical is 6; a whole number from 1 to 5"},
        {"typical = 3", "typical = 0", "line 7: typical is 0; a whole number from 1 to 5"},
        {"typical = 3", "typical = x", "line 7: typical is x;"},
        {"keep_at = 65.25", "keep_at = 100.01",
         "line 8: keep_at is 100.01; a number from 0 to 100"},
        {"keep_at = 65.25", "keep_at = 65.255", "line 8: keep_at is 65.255;"},
        {"keep_at = 65.25", "keep_at = 65,25", "line 8: keep_at is 65,25;"},
        {"hold_at = 55", "hold_at = 65.26", "line 9: hold_at is above keep_at"},
        {"hold_at = 55", "hold_at = -1", "line 9: hold_at is -1;"},
        {"stage = harvest", "stage = autumn",
         "line 5: stage is autumn; black, first, second, third, fourth, harvest or house is"},
        {"stage = harvest", "stage = Harvest", "line 5: stage is Harvest;"},
        {"effect = reject", "effect = maybe", "line 24: effect is maybe; reject, hold or deduct N"},
        {"effect = reject", "effect = deduct", "line 24: effect is deduct;"},
        {"effect = reject", "effect = deduct 100.5", "line 24: effect is deduct 100.5;"},
        {"effect = reject", "effect = deduct -3", "line 24: effect is deduct -3;"},
        {"effect = reject", "effect = reject 5", "line 24: effect is reject 5;"},
    };
    refused(refusals, LENGTH(refusals));
}

static void scales_that_no_key_can_enter_are_refused(void **state)
{
    (void)state;
    static const char *const scales[] = {
        "0-10",  "1-11", "5-1", "3-3",   "-1-5",          "1", "1-", "-5",
        "1 - 5", "1–5",  "a-b", "1-5-9", "00000000001-5", ""};
    for (size_t i = 0; i < LENGTH(scales); i++) {
        char line[64];
        snprintf(line, sizeof line, "scale = %s", scales[i]);
        assert_refused("scale = 1-5", line, "line 6: scale is ");
    }
    assert_refused("scale = 1-5", "scale = 0-10",
                   "scale is 0-10; a scale such as 1-5, within 0-9 or 1-10, is expected.");
}

static void other_scales_are_taken(void **state)
{
    (void)state;
    static const char *const scales[] = {"0-9", "1-10", "2-10", "2-3", "0-3", "1-3"};
    for (size_t i = 0; i < LENGTH(scales); i++) {
        char line[64];
        snprintf(line, sizeof line, "scale = %s", scales[i]);
        struct text text;
        edited("scale = 1-5", line, &text);
        struct standard standard;
        parse(text.data, &standard);
        assert_int_equal(standard.lowest, atoi(scales[i]));
        assert_int_equal(standard.highest, atoi(strchr(scales[i], '-') + 1));
        text_done(&text);
    }
}

static void names_that_break_the_rules_are_refused(void **state)
{
    (void)state;
    static const struct refusal refusals[] = {
        {"name = kikusui-harvest", "name = a,b",
         "line 3: the standard's name \"a,b\" contains \",\""},
        {"name = kikusui-harvest", "name = ", "line 3: the standard's name is empty."},
        {"name = kikusui-harvest", "name = 123456789 123456789 123456789 123",
         "line 3: the standard's name \"123456789 123456789 123456789 123\" is longer than 32"},
        {"variety = Kikusui, Doitsu Hariwake", "variety = Kikusui,",
         "line 4: the variety is empty."},
        {"variety = Kikusui, Doitsu Hariwake", "variety =", "line 4: the variety is empty."},
        {"variety = Kikusui, Doitsu Hariwake", "variety = Kikusui, kikusui",
         "line 4: the variety kikusui is named twice."},
        {"variety = Kikusui, Doitsu Hariwake", "variety = a+b",
         "line 4: the variety \"a+b\" contains"},
        {"label = Body", "label =", "line 19: label is empty;"},
        {"label = Body", "label = 12345678901234567890123456789012345678901",
         "line 19: label has 41 characters; at most 40 are allowed."},
        {"label = Body", "label = a\tb", "line 19: label contains a tab"},
        {"[aspect white]", "[aspect White]",
         "line 11: the aspect's code \"White\" must begin with"},
        {"[aspect white]", "[aspect tag]", "line 11: the aspect's code \"tag\" is a column name"},
        {"[aspect white]", "[aspect ]", "line 11: the aspect's code is empty."},
        {"[fault eye]", "[fault e y e]", "line 27: the fault's code \"e y e\" must begin with"},
        {"key = w", "key = q", "line 16: key is q; a capital letter or one of"},
        {"key = w", "key = ww", "line 16: key is ww;"},
        {"key = w", "key = 1", "line 16: key is 1;"},
        {"key = w", "key = é", "line 16: key is é;"},
        {"key = w", "key =", "line 16: key is empty;"},
        {"key = s", "key = w", "line 25: key w is already used on line 16."},
    };
    refused(refusals, LENGTH(refusals));
}

static void too_many_varieties_are_refused(void **state)
{
    (void)state;
    struct text line;
    text_init(&line);
    text_add(&line, "variety = variety number 10");
    for (int i = 11; i < 50; i++)
        text_addf(&line, ", variety number %d", i);
    assert_refused("variety = Kikusui, Doitsu Hariwake", line.data,
                   "line 4: variety has too many names; at most 511 bytes are allowed.");
    text_done(&line);
}

static void sections_and_keys_out_of_place_are_refused(void **state)
{
    (void)state;
    static const struct refusal refusals[] = {
        {"weight = 4", "wieght = 4",
         "line 13: wieght is unknown in [aspect white]; its keys are label, weight, floor, "
         "below_floor, key."},
        {"typical = 3", "typical = 3\nweight = 4", "line 8: weight is unknown in [standard]"},
        {"weight = 4", "Weight = 4", "line 13: Weight is unknown"},
        {"weight = 4", "= 4", "line 13: a key without a name is unknown"},
        {"weight = 4", "weight = 4\nweight = 4", "line 14: weight is already on line 13."},
        {"weight = 4\n", "", "line 11: weight is missing in [aspect white]."},
        {"label = Body\n", "", "line 18: label is missing in [aspect body]."},
        {"effect = deduct 10.5\n", "", "line 27: effect is missing in [fault eye]."},
        {"scale = 1-5\n", "", "line 2: scale is missing in [standard]."},
        {"hold_at = 55\n", "", "line 2: hold_at is missing in [standard]."},
        {"[aspect body]", "[aspect white]",
         "line 18: the section [aspect white] is already on line 11."},
        {"[fault eye]", "[fault spine]",
         "line 27: the section [fault spine] is already on line 22."},
        {"[fault eye]", "[standard]", "line 27: the section [standard] is already on line 2."},
        {"[fault spine]", "[flaw spine]",
         "line 22: unknown section [flaw spine]; use [standard], [aspect CODE] or"},
        {"[aspect body]", "[aspect]", "line 18: unknown section [aspect]"},
        {"[aspect body]", "[]", "line 18: the section has no name."},
        {"[standard]\n", "", "line 2: there is a key before the first [section]."},
        {"[aspect body]", "[aspect tail]\n\n[aspect body]",
         "line 18: the section that begins here is empty."},
        {"effect = deduct 10.5\n", "effect = hold\n[fault nose]\n; nothing\n",
         "line 30: the section that begins here is empty."},
        {"[aspect body]", "[aspect body",
         "line 18: the ] that ends the section's name is missing."},
        {"[aspect body]", "[aspect body] weight = 4",
         "line 18: text follows the ] of the section."},
        {"[aspect body]", "[aspect bodybodybodybodybodybodybodybodybodybodybody]",
         "line 18: the section's name is too long."},
        {"weight = 4", "heavy", "line 13: this is neither [section] nor key = value."},
        {"weight = 4", "  heavy, indented", "line 13: this is neither [section] nor key = value."},
    };
    refused(refusals, LENGTH(refusals));
}

static void assert_text_refused(const char *text, size_t length, const char *sentence)
{
    struct standard standard;
    struct err err;
    assert_says(standard_parse(text, length, "x.ini", &standard, &err), &err, sentence);
}

static void texts_that_are_no_standard_are_refused(void **state)
{
    (void)state;
    assert_text_refused("", 0, "x.ini, line 1: the section [standard] is missing.");
    assert_text_refused("; nothing\n\n", 11, "x.ini, line 1: the section [standard] is missing.");
    static const char faults_only[] = "[fault a]\nlabel = A\neffect = hold\n";
    assert_text_refused(faults_only, strlen(faults_only), "the section [standard] is missing.");
    struct text head;
    text_init(&head);
    text_add_bytes(&head, example, (size_t)(strstr(example, "[aspect white]") - example));
    assert_text_refused(head.data, head.length, "x.ini, line 2: the standard has no aspect;");
    text_done(&head);
}

static void bytes_that_are_no_text_are_refused(void **state)
{
    (void)state;
    assert_refused("label = Body",
                   "label = B\xF6"
                   "dy",
                   "line 19: these bytes are not UTF-8");
    assert_refused("label = Body", "label = B\x01", "line 19: the line has a control character");
    assert_refused("label = Body", "label = B\xC2\x85",
                   "line 19: the line has a control character");
    assert_refused("label = Body\n", "label = Body\rweight = 2\n",
                   "line 19: the line has a control character");
    assert_text_refused("[standard]\nname\0 = x\n", 21,
                        "x.ini, line 2: the line has a control character");
}

static void lines_that_are_too_long_are_refused(void **state)
{
    (void)state;
    struct text line;
    text_init(&line);
    text_add(&line, "label = ");
    text_add_repeated(&line, "x", 2000);
    assert_refused("label = Body", line.data, "line 19: the line has 2008 bytes; at most 1022 are");
    text_clear(&line);
    text_add_repeated(&line, "y", 900);
    text_add(&line, " = 1");
    assert_refused("label = Body", line.data, "line 19: yyyyyyyyyy");
    text_done(&line);
}

static void too_many_aspects_and_faults_are_refused(void **state)
{
    (void)state;
    struct text more;
    text_init(&more);
    for (int i = 2; i < STANDARD_ASPECTS + 1; i++)
        text_addf(&more, "[aspect a%d]\nlabel = A\nweight = 1\n", i);
    text_add(&more, "[fault spine]");
    assert_refused("[fault spine]", more.data, "line 88: a standard has at most 24 aspects.");
    text_clear(&more);
    for (int i = 2; i < STANDARD_FAULTS + 1; i++)
        text_addf(&more, "[fault f%d]\nlabel = F\neffect = hold\n", i);
    text_add(&more, "[fault eye]");
    assert_refused("[fault eye]", more.data, "line 102: a standard has at most 26 faults.");
    text_done(&more);
}

static void a_long_value_is_shortened_in_the_sentence(void **state)
{
    (void)state;
    assert_refused("weight = 4", "weight = 鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉",
                   "weight is 鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉鯉; a whole number");
}

static void the_form_of_the_file_does_not_matter(void **state)
{
    (void)state;
    struct standard plain, other;
    parse(example, &plain);
    struct text text;
    text_init(&text);
    text_add(&text, "\xEF\xBB\xBF# another comment\r\n\r\n");
    /* Sections in another order, CRLF, colons, indented lines, comments behind values. */
    const char *aspects = strstr(example, "[aspect white]");
    for (const char *c = aspects; *c != '\0'; c++)
        text_add(&text, *c == '\n' ? " ; noted\r\n" : *c == '=' ? ":" : (char[]){*c, '\0'});
    for (const char *c = strstr(example, "[standard]"); c < aspects; c++)
        text_add(&text, *c == '\n' ? "\r\n\t  " : (char[]){*c, '\0'});
    parse(text.data, &other);
    assert_true(standard_equal(&plain, &other));
    text_done(&text);
    edited("Kikusui, Doitsu Hariwake", "Kikusui \t ,  Doitsu Hariwake", &text);
    parse(text.data, &other);
    assert_true(standard_equal(&plain, &other));
    text_clear(&text);
    text_add_bytes(&text, example, strlen(example) - 1); /* no last line break */
    parse(text.data, &other);
    assert_true(standard_equal(&plain, &other));
    text_done(&text);
}

static void the_longest_texts_are_taken(void **state)
{
    (void)state;
    struct text note, text;
    text_init(&note);
    text_add(&note, "hold_at = 55\nnote = ");
    text_add_repeated(&note, "\xF0\x9F\x90\x9F", 200);
    edited("hold_at = 55", note.data, &text);
    struct standard standard;
    parse(text.data, &standard);
    assert_int_equal(strlen(standard.note), 800);
    text_done(&text);
    text_add(&note, "x");
    assert_refused("hold_at = 55", note.data, "line 10: note has 201 characters; at most 200");
    text_done(&note);
}

static void what_is_written_is_the_text_form(void **state)
{
    (void)state;
    struct standard standard;
    parse(example, &standard);
    struct text text;
    text_init(&text);
    standard_write(&standard, &text);
    assert_string_equal(text.data, strstr(example, "[standard]"));
    text_done(&text);
}

static void whatever_is_written_is_read_back_equal(void **state)
{
    (void)state;
    struct chance chance = {11};
    for (int i = 0; i < 300; i++) {
        struct standard standard, again;
        struct text text;
        chance_standard(&chance, &standard);
        text_init(&text);
        standard_write(&standard, &text);
        parse(text.data, &again);
        assert_true(standard_equal(&standard, &again));
        text_done(&text);
    }
}

/* Any bytes at all: an answer, never a crash (run under the sanitizers). */
static void damaged_texts_are_answered(void **state)
{
    (void)state;
    struct chance chance = {13};
    int refused_count = 0;
    for (int i = 0; i < 3000; i++) {
        char damaged[sizeof example];
        memcpy(damaged, example, sizeof example);
        for (int hits = chance_between(&chance, 1, 6); hits > 0; hits--)
            damaged[chance_below(&chance, (int)strlen(example))] = (char)chance_below(&chance, 256);
        struct standard standard;
        struct err err;
        if (!standard_parse(damaged, strlen(example), "x.ini", &standard, &err)) {
            refused_count++;
            assert_int_equal(strncmp(err.text, "x.ini, line ", 12), 0);
        }
    }
    assert_true(refused_count > 1000);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(aspects_and_faults_are_found_by_code),
        cmocka_unit_test(a_standard_serves_the_varieties_it_names),
        cmocka_unit_test(a_copy_is_equal),
        cmocka_unit_test(every_change_is_seen),
        cmocka_unit_test(the_example_is_read),
        cmocka_unit_test(values_out_of_range_are_refused),
        cmocka_unit_test(scales_that_no_key_can_enter_are_refused),
        cmocka_unit_test(other_scales_are_taken),
        cmocka_unit_test(names_that_break_the_rules_are_refused),
        cmocka_unit_test(too_many_varieties_are_refused),
        cmocka_unit_test(sections_and_keys_out_of_place_are_refused),
        cmocka_unit_test(texts_that_are_no_standard_are_refused),
        cmocka_unit_test(bytes_that_are_no_text_are_refused),
        cmocka_unit_test(lines_that_are_too_long_are_refused),
        cmocka_unit_test(too_many_aspects_and_faults_are_refused),
        cmocka_unit_test(a_long_value_is_shortened_in_the_sentence),
        cmocka_unit_test(the_form_of_the_file_does_not_matter),
        cmocka_unit_test(the_longest_texts_are_taken),
        cmocka_unit_test(what_is_written_is_the_text_form),
        cmocka_unit_test(whatever_is_written_is_read_back_equal),
        cmocka_unit_test(damaged_texts_are_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
