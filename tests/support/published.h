/* Tables of tests/data that hold published numbers. Each row names its source and how well it is
 * known: PRIMARY-SEEN was read in its source, QUOTED-SEEN where somebody else quotes it, MEMORY is
 * recalled, RECOMPUTED and DERIVED have no published value behind them. */
#ifndef SENBETSU_TESTS_SUPPORT_PUBLISHED_H
#define SENBETSU_TESTS_SUPPORT_PUBLISHED_H

#include "senbetsu/base/csv.h"
#include "support/source.h"

#include <math.h>

/* Initializes `ret` with the table at `path` under the source tree. */
static inline void published_load(const char *path, struct csv *ret)
{
    struct text bytes;
    struct err err;
    source_file(path, &bytes);
    assert_ok(csv_parse(&bytes, ret, &err), &err);
    text_done(&bytes);
}

static inline const char *published_field(const struct csv *csv, size_t row, const char *column)
{
    int at = csv_column(csv, column);
    if (at < 0)
        fail_msg("there is no column %s", column);
    return csv_field(csv, row, at);
}

static inline int64_t published_whole(const struct csv *csv, size_t row, const char *column)
{
    return strtoll(published_field(csv, row, column), NULL, 10);
}

/* As many decimals as were printed, and the same digits. */
static inline void assert_printed_as(const char *name, const char *printed, double value)
{
    if (*printed == '\0')
        return;
    char ours[32];
    snprintf(ours, sizeof ours, "%.*f", (int)strlen(strchr(printed, '.') + 1), value);
    if (strcmp(ours, printed) != 0)
        fail_msg("%s: %s is published, %s came out", name, printed, ours);
}

/* To 12 of the 15 digits, however small it is; what should be 0 is so to 15 decimals. */
static inline void assert_recomputed(const char *name, const char *expected, double value)
{
    double exact = strtod(expected, NULL);
    if (!(fabs(exact - value) <= 1e-12 * fabs(exact) + 1e-15 * (exact == 0)))
        fail_msg("%s: %s expected, %.15g came out", name, expected, value);
}

/* Every row of a table has a source, and a status that is known. */
static inline void assert_sources_named(const char *path)
{
    static const char *const known[] = {"PRIMARY-SEEN", "QUOTED-SEEN", "MEMORY", "RECOMPUTED",
                                        "DERIVED"};
    struct csv csv;
    published_load(path, &csv);
    for (size_t i = 0; i < csv.row_count; i++) {
        const char *status = published_field(&csv, i, "status");
        assert_true(*published_field(&csv, i, "source") != '\0');
        size_t at = 0;
        while (at < sizeof known / sizeof *known && strcmp(known[at], status) != 0)
            at++;
        assert_true(at < sizeof known / sizeof *known);
    }
    csv_done(&csv);
}

#endif
