/* `count`: how many fish there are, from samples on the command line. It needs no ledger.
 *
 * Samples are given as "fish:measure", so that one option can be repeated and a shell's history
 * shows what was weighed. What can be derived besides (condition, growth) is asked for by the
 * option that carries its missing number. */
#include "senbetsu/core/count.h"
#include "private.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/print/samples.h"
#include "senbetsu/report/samples.h"

#include <stdlib.h>

/* Condition and growth need weights, and growth needs both of its options. */
static bool check_growth(const struct options *options, enum method method, struct err *err)
{
    static const enum option growth[] = {OPTION_LENGTH, OPTION_BEFORE, OPTION_DAYS};
    for (size_t i = 0; i < sizeof growth / sizeof *growth; i++)
        if (options->given[growth[i]] && method != METHOD_WEIGHED)
            return err_set(err, ERR_USAGE, "count %s takes no option --%s.",
                           method_terms[method].word, option_rows[growth[i]].name);
    if (options->given[OPTION_BEFORE] != options->given[OPTION_DAYS])
        return err_set(err, ERR_USAGE, "--before and --days go together.");
    return true;
}

/* Scooped goes with --scoops, weighed and displaced with --total. */
static bool check_options(const struct options *options, enum method method, struct err *err)
{
    enum option needed = method == METHOD_SCOOPED ? OPTION_SCOOPS : OPTION_TOTAL;
    enum option other = method == METHOD_SCOOPED ? OPTION_TOTAL : OPTION_SCOOPS;
    if (!options->given[needed])
        return err_set(err, ERR_USAGE, "count %s needs --%s %s.", method_terms[method].word,
                       option_rows[needed].name, option_rows[needed].value);
    if (options->given[other])
        return err_set(err, ERR_USAGE, "count %s takes no option --%s.", method_terms[method].word,
                       option_rows[other].name);
    return check_growth(options, method, err);
}

static bool read_method(const char *word, enum method *ret, struct err *err)
{
    int method = term_find(method_terms, METHOD_COUNT, word);
    if (method != METHOD_WEIGHED && method != METHOD_DISPLACED && method != METHOD_SCOOPED)
        return err_set(err, ERR_USAGE, "\"%s\" is not valid: HOW is weighed, displaced or scooped.",
                       word);
    *ret = (enum method)method;
    return true;
}

/* `samples` has room for all that are given. */
static bool read_samples(const struct options *options, enum method method, struct sample *samples,
                         struct err *err)
{
    for (int i = 0; i < options->sample_count; i++) {
        const char *text = options->samples[i];
        bool measured = false;
        sample_from_text(text, &samples[i], &measured);
        if (measured == (method == METHOD_SCOOPED))
            return err_set(err, ERR_USAGE,
                           "--sample \"%s\" is not valid: count %s takes samples %s.", text,
                           method_terms[method].word,
                           method == METHOD_SCOOPED   ? "N, the fish in a scoop"
                           : method == METHOD_WEIGHED ? "N:W, N fish that weigh W"
                                                      : "N:W, N fish that displace W");
    }
    return true;
}

static bool count_all(const struct options *options, struct count_result *result, struct err *err)
{
    result->within = options_measure(options, OPTION_WITHIN);
    result->length_mm = options_measure(options, OPTION_LENGTH);
    result->before = options_measure(options, OPTION_BEFORE);
    result->days = options_whole(options, OPTION_DAYS, 0);
    if (result->method != METHOD_SCOOPED) {
        result->total = options_measure(options, OPTION_TOTAL);
        result->counting = counting_measured(result->samples, result->sample_count, result->total);
        return true;
    }
    int64_t scoops = options_whole(options, OPTION_SCOOPS, 0);
    if (scoops < result->sample_count)
        return err_set(err, ERR_USAGE,
                       "%d scoops were counted, but --scoops is %d; give the number of all scoops.",
                       result->sample_count, (int)scoops);
    result->total = (double)scoops;
    result->counting = counting_scooped(result->samples, result->sample_count, scoops);
    return true;
}

bool command_count_fish(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct sample *samples = alloc_zeroed((size_t)options->sample_count, sizeof *samples);
    struct count_result result = {.samples = samples, .sample_count = options->sample_count};
    bool done = read_method(options->arguments[0], &result.method, err) &&
                check_options(options, result.method, err) &&
                read_samples(options, result.method, samples, err) &&
                count_all(options, &result, err);
    if (done && options->given[OPTION_CSV])
        count_result_csv(&result, &session->out);
    else if (done)
        count_result_print(&result, &session->out);
    free(samples);
    return done;
}
