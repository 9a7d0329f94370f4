/* The words after the program's name: options in any order, then a command and its arguments. One
 * table of options; what a command takes of it stands in the table of commands. */
#ifndef SENBETSU_CLI_OPTIONS_H
#define SENBETSU_CLI_OPTIONS_H

#include "senbetsu/base/err.h"
#include "senbetsu/base/text.h"
#include "senbetsu/core/terms.h"
#include <stdbool.h>
#include <stdint.h>

enum option {
    OPTION_LEDGER,
    OPTION_JUDGE,
    OPTION_MONO,
    OPTION_HELP,
    OPTION_VERSION,
    OPTION_SPAWNING,
    OPTION_STAGE,
    OPTION_LOT,
    OPTION_PLACES,
    OPTION_STANDARD,
    OPTION_DRY_RUN,
    OPTION_DATE,
    OPTION_CSV,
    OPTION_ASCII,
    OPTION_TO,
    OPTION_PRINTER,
    OPTION_BY,
    OPTION_SAMPLE,
    OPTION_TOTAL,
    OPTION_SCOOPS,
    OPTION_WITHIN,
    OPTION_LENGTH,
    OPTION_BEFORE,
    OPTION_DAYS,
    OPTION_YEAR,
    OPTION_VARIETY,
    OPTION_FRY,
    OPTION_COUNT,
};

#define OPTION_BIT(option) (1U << (option))

/* What every command takes. */
#define OPTIONS_EVERYWHERE                                                                         \
    (OPTION_BIT(OPTION_LEDGER) | OPTION_BIT(OPTION_JUDGE) | OPTION_BIT(OPTION_MONO) |              \
     OPTION_BIT(OPTION_HELP) | OPTION_BIT(OPTION_VERSION))

struct option_row {
    const char *name;    /* "spawning" */
    const char *value;   /* what its value is called, NULL = it takes none */
    bool may_stand_bare; /* the value may be left out */
    bool repeats;        /* it may be given more than once; there is one such option, --sample */
    const char *summary;
    bool (*fits)(const char *value); /* NULL = any value will do */
    const char *expected;            /* what fits, for the error sentence */
};

extern const struct option_row option_rows[OPTION_COUNT];

enum { ARGUMENTS = 4, PLACES_MOST = 1000000, SAMPLES_MOST = 200, DAYS_MOST = 10000 };

struct options {
    const char *command; /* NULL = none */
    const char *arguments[ARGUMENTS];
    int argument_count; /* may be more than ARGUMENTS; the rest is only counted */
    bool given[OPTION_COUNT];
    const char *values[OPTION_COUNT]; /* NULL = not given, or given bare; the last one given */
    const char *samples[SAMPLES_MOST];
    int sample_count;
};

/* Takes `--name value`, `--name=value`, `--name`; everything after `--` is no option. Fails
 * (ERR_USAGE), naming the word: unknown option, given twice or too often, value missing, value
 * where none is taken, value that does not fit. The strings stay the caller's. */
bool options_parse(int count, const char *const *words, struct options *ret, struct err *err);

/* What --stage says; it must have been given. */
enum stage options_stage(const struct options *options);

/* What --year says; it must have been given. */
int options_year(const struct options *options);

/* What --stage says, -1 where it was not given. */
int options_stage_or_none(const struct options *options);

/* What --fry says, 0 where it was not given. */
int64_t options_fry(const struct options *options);

/* What --places says, -1 where it was not given. */
int options_places(const struct options *options);

/* "--places N", "--printer [NAME]", "--csv". */
void option_usage(enum option option, struct text *out);

#endif
