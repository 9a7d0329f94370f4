/* Counting by samples (docs/counting.md) in a form: the number stands below while the samples are
 * typed, and can be stated of a round. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/samples.h"
#include "senbetsu/report/samples.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/store/round_counts.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

enum { HOW, SAMPLES, TOTAL, WITHIN, USE, FIELD_COUNT };

/* What the number can be of a round. */
enum use { USE_NOTHING, USE_IN, USE_KEPT, USE_COUNT };

static const struct term use_terms[USE_COUNT] = {
    [USE_NOTHING] = {"not stated", ""},
    [USE_IN] = {"went in", ""},
    [USE_KEPT] = {"kept", ""},
};

static bool samples_right(const char *value, struct err *err)
{
    struct sample samples[LINE_SAMPLES];
    bool measured;
    return samples_from_text(value, samples, &measured) > 0 ||
           err_set(err, ERR_INPUT,
                   "Enter samples such as 36/1.5+35/1.6, or scoops such as 480+530.");
}

static bool measure_right(const char *value, struct err *err)
{
    double measure;
    return measure_from_text(value, &measure) ||
           err_set(err, ERR_INPUT, "Enter a number above 0 such as 316.8, not \"%s\".", value);
}

static const struct field_spec specs[FIELD_COUNT] = {
    [HOW] = {.label = "Fish are", .choices = &method_terms[METHOD_WEIGHED], .choice_count = 3},
    [SAMPLES] = {.label = "Samples",
                 .hint = "fish/weight or water: 36/1.5+35/1.6; scooped: 48+53",
                 .kind = FIELD_FIGURES,
                 .required = true,
                 .others = " .:/+;",
                 .check = samples_right},
    [TOTAL] = {.label = "All fish",
               .hint = "their weight or water in the same unit; all scoops",
               .kind = FIELD_FIGURES,
               .required = true,
               .others = ".",
               .check = measure_right},
    [WITHIN] = {.label = "Wanted within %",
                .hint = "5 = 5 % to either side; empty = not asked",
                .kind = FIELD_FIGURES,
                .others = ".",
                .check = measure_right},
    [USE] = {.label = "In the round", .choices = use_terms, .choice_count = USE_COUNT},
};

struct count_task {
    int64_t round_id; /* 0 = of none */
    bool asked;       /* another Enter states the number */
};

static bool read_form(const struct form *form, struct sample samples[LINE_SAMPLES],
                      struct count_result *ret, int *ret_field, struct err *err)
{
    static const int fields[] = {
        [COUNT_SAMPLES] = SAMPLES, [COUNT_TOTAL] = TOTAL, [COUNT_WITHIN] = WITHIN};
    const struct count_entry entry = {.method =
                                          METHOD_WEIGHED + (enum method)form->fields[HOW].choice,
                                      .samples = form->fields[SAMPLES].value,
                                      .total = form->fields[TOTAL].value,
                                      .within = form->fields[WITHIN].value};
    enum count_line wrong;
    if (count_from_entry(&entry, samples, ret, &wrong, err))
        return true;
    *ret_field = fields[wrong];
    return false;
}

static void show_number(struct form *form)
{
    struct sample samples[LINE_SAMPLES];
    struct count_result result;
    struct text text;
    struct err err;
    int field;
    text_init(&text);
    if (read_form(form, samples, &result, &field, &err))
        count_result_print(&result, &text);
    else
        text_add(&text, "The number of fish appears here.");
    text_copy(form->below, sizeof form->below, text.data);
    text_done(&text);
}

/* Any key but the one that accepts takes the question back. */
static void adjust(struct app *app, struct form *form, void *context)
{
    struct count_task *task = context;
    task->asked = false;
    show_number(form);
}

/* The number that is stated so far, in a few words. */
static bool describe(struct app *app, const struct count_task *task, enum use use, char *ret_text,
                     size_t size, struct err *err)
{
    struct round_counts known;
    char number[COUNT_TEXT_SIZE];
    if (!round_counts_known(app->ledger, task->round_id, &known, err))
        return false;
    const struct count *count = use == USE_IN ? &known.in : &known.kept;
    if (count->number == NOT_COUNTED)
        text_copy(ret_text, size, "The round has no such number yet.");
    else
        snprintf(ret_text, size, "So far it was %s.", count_text(count, number));
    return true;
}

/* "7096 fish (standard error 3.3 %)": the form shows a 95 % interval beside it, and ± alone would
 * be taken for that. */
static const char *fish_text(const struct count *count, char ret_text[2 * COUNT_TEXT_SIZE])
{
    struct count bare = {count->number, count->method, 0};
    char number[COUNT_TEXT_SIZE], percent[NUMBER_SIZE];
    if (count->cv == 0) {
        snprintf(ret_text, (size_t)2 * COUNT_TEXT_SIZE, "%s fish", count_text(&bare, number));
        return ret_text;
    }
    number_to_tenth(count->cv, CV_ONE / 100, percent);
    snprintf(ret_text, (size_t)2 * COUNT_TEXT_SIZE, "%" PRId64 " fish (standard error %s %%)",
             count->number, percent);
    return ret_text;
}

/* The question is a refusal that the next Enter overrides. */
static bool ask(struct app *app, struct count_task *task, const struct count *count, enum use use,
                struct err *err)
{
    char number[2 * COUNT_TEXT_SIZE], so_far[2 * COUNT_TEXT_SIZE];
    if (!describe(app, task, use, so_far, sizeof so_far, err))
        return false;
    task->asked = true;
    return err_set(err, ERR_INPUT, "Enter again records it: %s %s. %s", fish_text(count, number),
                   use == USE_IN ? "went in" : "were kept", so_far);
}

/* The day stays where the round has one. */
static bool state(struct app *app, const struct count_task *task, const struct count *count,
                  enum use use, struct err *err)
{
    struct round_counts said, known;
    enum saved saved;
    round_counts_init(&said);
    if (!round_counts_known(app->ledger, task->round_id, &known, err))
        return false;
    if (known.day[0] == '\0')
        app_today(app, said.day);
    *(use == USE_IN ? &said.in : &said.kept) = *count;
    return round_counts_record(app->ledger, task->round_id, &said, app->judge, &saved, err);
}

static bool accept(struct app *app, struct form *form, void *context, int *ret_field,
                   struct err *err)
{
    struct count_task *task = context;
    enum use use = (enum use)form->fields[USE].choice;
    struct sample samples[LINE_SAMPLES];
    struct count_result result;
    struct count count;
    char number[COUNT_TEXT_SIZE];
    show_number(form);
    if (!read_form(form, samples, &result, ret_field, err))
        return false;
    if (task->round_id == 0)
        return err_set(err, ERR_INPUT, "That is the number; nothing was recorded.");
    *ret_field = USE;
    if (use == USE_NOTHING)
        return err_set(err, ERR_INPUT,
                       "Choose whether these fish went in or were kept, or go back.");
    *ret_field = SAMPLES;
    if (!count_to_state(&result, &count, err))
        return false;
    *ret_field = -1;
    if (!task->asked)
        return ask(app, task, &count, use, err);
    if (!state(app, task, &count, use, err))
        return false;
    app_say(app, "%s fish %s.", count_text(&count, number),
            use == USE_IN ? "went into the round" : "were kept");
    app_pop(app);
    return true;
}

void app_ask_samples(struct app *app, int64_t round_id)
{
    static const struct form_task functions = {.accept = accept, .adjust = adjust, .done = free};
    struct count_task *task = alloc_zeroed(1, sizeof *task);
    struct form form;
    task->round_id = round_id;
    form_init(&form, "Count fish by samples", specs, round_id != 0 ? FIELD_COUNT : USE);
    show_number(&form);
    app_push_form(app, &form, &functions, task);
}
