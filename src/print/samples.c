/* What a count by samples has found, in lines under the command that asked.
 *
 * The number comes first, then what it rests on, then how sure it is, then what the samples tell
 * besides. It is plain ASCII and no page: it is read on a screen and copied into the ledger. The
 * CSV has only the columns that were asked for, so that a script names what it needs. Formulas:
 * stats/counting.h and core/fish.h. */
#include "senbetsu/print/samples.h"
#include "senbetsu/base/csv.h"
#include "senbetsu/core/fish.h"
#include "senbetsu/stats/counting.h"

#include <inttypes.h>
#include <math.h>

/* All samples as one. */
static struct sample sum_samples(const struct count_result *result)
{
    struct sample sum = {0};
    for (int i = 0; i < result->sample_count; i++) {
        sum.fish += result->samples[i].fish;
        sum.measure += result->samples[i].measure;
    }
    return sum;
}

void count_result_csv(const struct count_result *result, struct text *out)
{
    const struct counting *counting = &result->counting;
    struct sample sum = sum_samples(result);
    double weight = sum.measure / (double)sum.fish;
    int64_t more = counting_more_samples(counting, result->within);
    const struct { /* a column that is there only where it was asked for */
        const char *name;
        bool asked, known;
        double value;
    } asked[] = {
        {"more_samples", result->within > 0, more >= 0, (double)more},
        {"condition_factor", result->length_mm > 0, sum.fish > 0,
         condition_factor(weight, result->length_mm)},
        {"growth_per_day", result->days > 0, sum.fish > 0,
         growth_per_day(result->before, weight, (double)result->days)},
    };
    text_add(out, "number,low,high,cv");
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
        if (asked[i].asked)
            text_addf(out, ",%s", asked[i].name);
    text_addf(out, "\n%.0f", round(counting->number));
    csv_add_real(out, counting->has_interval, counting->low);
    csv_add_real(out, counting->has_interval, counting->high);
    csv_add_real(out, counting->has_interval, counting->cv);
    for (size_t i = 0; i < sizeof asked / sizeof *asked; i++)
        if (asked[i].asked)
            csv_add_real(out, asked[i].known, asked[i].value);
    csv_end_row(out);
}

static void add_samples(const struct count_result *result, struct sample sum, struct text *out)
{
    const char *measure = result->method == METHOD_WEIGHED ? "weigh" : "displace";
    int samples = result->sample_count;
    text_addf(out, "  %" PRId64 " fish in ", sum.fish);
    if (result->method == METHOD_SCOOPED) {
        text_addf(out, "the %d of %.0f scoops that were counted, %.4g to a scoop\n", samples,
                  result->total, (double)sum.fish / samples);
        return;
    }
    text_addf(out, "%d sample%s %s %.10g, all fish %.10g\n", samples, samples == 1 ? "" : "s",
              measure, sum.measure, result->total);
    if (sum.fish > 0)
        text_addf(out, "  1000 fish %s %.7g\n", measure, 1000 * (sum.measure / (double)sum.fish));
}

/* How sure the number is, and what it takes to be as sure as was asked for. */
static void add_precision(const struct count_result *result, struct text *out)
{
    const struct counting *counting = &result->counting;
    int64_t more = counting_more_samples(counting, result->within);
    double percent = 100 * result->within;
    if (counting->scoops == counting->samples)
        text_add(out, "  every scoop was counted, so the number is exact\n");
    else if (counting->has_interval)
        text_addf(out, "  95 %% interval %.0f to %.0f fish, cv %.4f\n", counting->low,
                  counting->high, counting->cv);
    else if (counting->samples == 1)
        text_add(out, "  no interval: a single sample does not say how much samples differ; take\n"
                      "  three or more\n");
    else
        text_add(out, "  no interval: there are no fish in the samples\n");
    if (result->within <= 0)
        return;
    if (more < 0)
        text_addf(out, "  how many samples %g %% to either side takes is not known yet\n", percent);
    else if (more == 0)
        text_addf(out, "  that is within %g %% to either side; no more samples are needed\n",
                  percent);
    else
        text_addf(out, "  %g %% to either side takes %" PRId64 " more sample%s like these\n",
                  percent, more, more == 1 ? "" : "s");
}

void count_result_print(const struct count_result *result, struct text *out)
{
    struct sample sum = sum_samples(result);
    double weight = sum.measure / (double)sum.fish; /* infinite where there is no fish */
    text_addf(out, "%.0f fish, %s\n", round(result->counting.number),
              method_terms[result->method].word);
    add_samples(result, sum, out);
    add_precision(result, out);
    if (sum.fish > 0 && result->length_mm > 0)
        text_addf(out, "  at %g g and %g mm: size class %d (bu), condition factor %.3f\n",
                  round(1000 * weight) / 1000, result->length_mm,
                  size_class_bu((int)ceil(result->length_mm)),
                  condition_factor(weight, result->length_mm));
    if (sum.fish > 0 && result->days > 0)
        text_addf(out, "  growth %.2f %% a day over %" PRId64 " day%s\n",
                  growth_per_day(result->before, weight, (double)result->days), result->days,
                  result->days == 1 ? "" : "s");
}
