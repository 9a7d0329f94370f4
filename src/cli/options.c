/* The table of options, and how words become options. What a command takes of it stands in the
 * table of commands.
 *
 * Options are parsed here and not by getopt_long(), because they are described by a table (value,
 * range, what fits) from which help and error sentences are made too, and because getopt's messages
 * come out in the C library's words and on its own. */
#include "private.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/core/code.h"
#include "senbetsu/core/count.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/report/samples.h"
#include "senbetsu/sheet/sheet.h"

#include <string.h>

static bool is_stage(const char *value)
{
    return term_find(stage_terms, STAGE_COUNT, value) >= 0;
}

static bool is_name(const char *value)
{
    return code_check(value, "", NULL);
}

static bool is_sample(const char *value)
{
    struct sample sample;
    bool measured;
    return sample_from_text(value, &sample, &measured);
}

static bool is_measure(const char *value)
{
    double measure;
    return measure_from_text(value, &measure);
}

static bool is_length(const char *value)
{
    double mm;
    return measure_from_text(value, &mm) && mm >= 1 && mm <= 2000;
}

static bool is_fraction(const char *value)
{
    double fraction;
    return measure_from_text(value, &fraction) && fraction >= 0.001 && fraction <= 1;
}

/* Whatever day it is. */
static bool is_day(const char *value)
{
    char day[DATE_SIZE];
    return date_typed(value, "2000-12-31", day, NULL);
}

static bool is_by(const char *value)
{
    return term_find(rates_by_terms, BY_COUNT, value) >= 0;
}

static bool is_bounce(const char *value)
{
    int64_t ms;
    return number_whole(value, 0, BOUNCE_MOST_MS, &ms);
}

#define BYS "lot, spawning, pair, season or variety"
#define STAGES(last) "black, first, second, third, fourth, harvest " last " house"

const struct option_row option_rows[OPTION_COUNT] = {
    [OPTION_LEDGER] = {.name = "ledger", .value = "FILE", .summary = "the ledger file"},
    [OPTION_JUDGE] = {.name = "judge",
                      .value = "NAME",
                      .summary = "who judges; else whoever judged last",
                      .fits = is_name,
                      .expected = "a name of at most 32 characters without , ; + is expected"},
    [OPTION_MONO] = {.name = "mono", .summary = "screens without colour"},
    [OPTION_BOUNCE] = {.name = "bounce",
                       .value = "MS",
                       .summary = "how long a key that closed a fish closes no other; 0 = off",
                       .fits = is_bounce,
                       .expected = "a time from 0 to 1000 ms is expected"},
    [OPTION_HELP] = {.name = "help", .summary = "how the command is used"},
    [OPTION_VERSION] = {.name = "version", .summary = "name and version of the program"},
    [OPTION_SPAWNING] = {.name = "spawning", .value = "S", .summary = "code of the spawning"},
    [OPTION_STAGE] = {.name = "stage",
                      .value = "T",
                      .summary = STAGES("or"),
                      .fits = is_stage,
                      .expected = "the stages are " STAGES("and")},
    [OPTION_LOT] = {.name = "lot",
                    .value = "L",
                    .summary = "code of the lot; else the spawning's own"},
    [OPTION_PLACES] = {.name = "places",
                       .value = "N",
                       .summary = "number of places; else the round's",
                       .highest = PLACES_MOST,
                       .expected = "a whole number from 0 to 1000000 is expected"},
    [OPTION_STANDARD] = {.name = "standard",
                         .value = "NAME",
                         .summary = "the standard to apply; else the round's"},
    [OPTION_DRY_RUN] = {.name = "dry-run", .summary = "show the result and record nothing"},
    [OPTION_DATE] = {.name = "date",
                     .value = "D",
                     .summary = "the day, such as 2026-11-05, 5.11. or -2; else today",
                     .fits = is_day,
                     .expected = "a day is written like 2026-11-05, 5.11., yesterday or -2"},
    [OPTION_CSV] = {.name = "csv", .summary = "print CSV"},
    [OPTION_ASCII] = {.name = "ascii", .summary = "plain ASCII only"},
    [OPTION_TO] = {.name = "to", .value = "FILE", .summary = "write to FILE"},
    [OPTION_FORCE] = {.name = "force", .summary = "replace FILE if it is there, but no ledger"},
    [OPTION_PRINTER] = {.name = "printer",
                        .value = "NAME",
                        .may_stand_bare = true,
                        .summary = "print on NAME, else on the default printer"},
    [OPTION_BY] = {.name = "by",
                   .value = "B",
                   .summary = BYS "; else spawning",
                   .fits = is_by,
                   .expected = "rates are by " BYS},
    [OPTION_SAMPLE] = {.name = "sample",
                       .value = "N[:W]",
                       .repeats = true,
                       .summary = "N fish, weighing or displacing W; or N in a scoop",
                       .fits = is_sample,
                       .expected = "N:W or N is expected, such as 200:10.5 or 480"},
    [OPTION_TOTAL] = {.name = "total",
                      .value = "W",
                      .summary = "what all fish weigh or displace, in the same unit",
                      .fits = is_measure,
                      .expected = "a number over 0 is expected, such as 316.8"},
    [OPTION_SCOOPS] = {.name = "scoops",
                       .value = "K",
                       .summary = "how many scoops there are, counted ones included",
                       .lowest = 1,
                       .highest = FISH_MOST,
                       .expected = "a whole number from 1 to 100000000 is expected"},
    [OPTION_WITHIN] = {.name = "within",
                       .value = "D",
                       .summary = "wanted precision: 0.05 is 5 % to either side",
                       .fits = is_fraction,
                       .expected = "a number from 0.001 to 1 is expected, such as 0.05"},
    [OPTION_LENGTH] = {.name = "length",
                       .value = "MM",
                       .summary = "mean length of the fish; weights are then in g",
                       .fits = is_length,
                       .expected = "millimetres from 1 to 2000 are expected, such as 32.5"},
    [OPTION_BEFORE] = {.name = "before",
                       .value = "W",
                       .summary = "mean weight of a fish at the weighing before",
                       .fits = is_measure,
                       .expected = "a number over 0 is expected, such as 0.85"},
    [OPTION_DAYS] = {.name = "days",
                     .value = "N",
                     .summary = "days since --before, or days to look ahead (due: else 14)",
                     .lowest = 1,
                     .highest = DAYS_MOST,
                     .expected = "a whole number from 1 to 10000 is expected"},
    [OPTION_SEASON] = {.name = "season",
                       .also = "year",
                       .value = "Y",
                       .summary = "only this season, such as 2026",
                       .lowest = 1900,
                       .highest = 2199,
                       .expected = "a year from 1900 to 2199 is expected"},
    [OPTION_VARIETY] = {.name = "variety",
                        .value = "V",
                        .summary = "only spawnings of this variety, in any spelling",
                        .fits = is_name,
                        .expected = "a name of at most 32 characters without , ; + is expected"},
    [OPTION_REPAIR] = {.name = "repair", .summary = "work out anew what is derived and wrong"},
    [OPTION_FRY] = {.name = "fry",
                    .value = "N",
                    .summary = "also show the tosai to expect of N fish that go in",
                    .lowest = 1,
                    .highest = FISH_MOST,
                    .expected = "a whole number from 1 to 100000000 is expected"},
    [OPTION_NEW] = {.name = "new", .summary = "begin a new station, for a cloned ledger"},
};

static bool fits(const struct option_row *row, const char *value)
{
    int64_t number;
    return row->highest > 0 ? number_whole(value, row->lowest, row->highest, &number)
                            : row->fits == NULL || row->fits(value);
}

static bool is_called(const char *called, const char *name, size_t length)
{
    return called != NULL && strlen(called) == length && memcmp(called, name, length) == 0;
}

static int find_option(const char *name, size_t length)
{
    for (int i = 0; i < OPTION_COUNT; i++)
        if (is_called(option_rows[i].name, name, length) ||
            is_called(option_rows[i].also, name, length))
            return i;
    return -1;
}

/* A value never begins with two dashes unless it is tied to its option with "=". */
static bool is_value(const char *word)
{
    return word != NULL && strncmp(word, "--", 2) != 0;
}

static bool take_sample(const char *value, struct options *options, struct err *err)
{
    if (options->sample_count == SAMPLES_MOST)
        return err_set(err, ERR_USAGE, "--sample can be given %d times at most.", SAMPLES_MOST);
    options->samples[options->sample_count++] = value;
    return true;
}

/* The option at `words[0]`; `*ret_used` says how many words it took. A bare option takes the next
 * word only after the command, which it might be otherwise. */
static bool take_option(const char *const *words, int left, struct options *options, int *ret_used,
                        struct err *err)
{
    const char *name = words[0] + 2;
    size_t length = strcspn(name, "=");
    const char *tied = name[length] == '=' ? name + length + 1 : NULL;
    const char *next = left > 1 ? words[1] : NULL;
    int option = strncmp(words[0], "--", 2) == 0 ? find_option(name, length) : -1;
    if (option < 0)
        return err_set(err, ERR_USAGE, "There is no option %s; --help lists the options.",
                       words[0]);
    const struct option_row *row = &option_rows[option];
    if (options->given[option] && !row->repeats)
        return err_set(err, ERR_USAGE, "The option --%s is given twice.", row->name);
    if (tied != NULL && row->value == NULL)
        return err_set(err, ERR_USAGE, "The option --%s takes no value.", row->name);
    *ret_used = 1;
    if (tied == NULL && row->value != NULL && is_value(next) &&
        (!row->may_stand_bare || options->command != NULL)) {
        tied = next;
        *ret_used = 2;
    }
    if (row->value != NULL && !row->may_stand_bare && (tied == NULL || tied[0] == '\0'))
        return err_set(err, ERR_USAGE, "The option --%s needs a value: --%s %s.", row->name,
                       row->name, row->value);
    if (tied != NULL && !fits(row, tied))
        return err_set(err, ERR_USAGE, "--%s \"%s\" is not valid: %s.", row->name, tied,
                       row->expected);
    options->given[option] = true;
    options->values[option] = tied;
    return !row->repeats || take_sample(tied, options, err);
}

static void take_word(const char *word, struct options *options)
{
    if (options->command == NULL)
        options->command = word;
    else if (options->argument_count++ < ARGUMENTS)
        options->arguments[options->argument_count - 1] = word;
}

bool options_parse(int count, const char *const *words, struct options *ret, struct err *err)
{
    struct options options = {0};
    bool only_words = false;
    for (int i = 0, used = 1; i < count; i += used, used = 1) {
        if (!only_words && strcmp(words[i], "--") == 0)
            only_words = true;
        else if (only_words || words[i][0] != '-' || words[i][1] == '\0')
            take_word(words[i], &options);
        else if (!take_option(words + i, count - i, &options, &used, err))
            return false;
    }
    *ret = options;
    return true;
}

int options_stage(const struct options *options)
{
    return options->given[OPTION_STAGE]
               ? term_find(stage_terms, STAGE_COUNT, options->values[OPTION_STAGE])
               : -1;
}

int64_t options_whole(const struct options *options, enum option option, int64_t absent)
{
    const struct option_row *row = &option_rows[option];
    int64_t number = absent;
    if (options->given[option])
        number_whole(options->values[option], row->lowest, row->highest, &number);
    return number;
}

double options_measure(const struct options *options, enum option option)
{
    double measure = 0;
    if (options->given[option])
        measure_from_text(options->values[option], &measure);
    return measure;
}

void option_usage(enum option option, struct text *out)
{
    const struct option_row *row = &option_rows[option];
    text_addf(out, "--%s", row->name);
    if (row->value != NULL)
        text_addf(out, row->may_stand_bare ? " [%s]" : " %s", row->value);
    text_add(out, row->repeats ? " …" : "");
}
