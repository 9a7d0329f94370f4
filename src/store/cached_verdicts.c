#include "cached_verdicts.h"

#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/standards.h"

#include <stdlib.h>

bool standing_save(struct ledger *ledger, int64_t fish, const struct standing *standing,
                   struct err *err)
{
    enum { NO_SCORE = -1 };
    struct query query;
    query_begin(&query, ledger, SQL_STANDING_SAVE);
    query_number(&query, fish);
    query_text(&query, verdict_terms[standing->verdict].word);
    query_number(&query, standing->could_be_kept);
    query_number_or_null(&query, standing->scored ? standing->score : NO_SCORE, NO_SCORE);
    query_number_or_null(&query, standing->scored ? standing->unit : NO_SCORE, NO_SCORE);
    return query_run(&query, err);
}

bool standings_count(struct ledger *ledger, enum sql sql, int64_t id, struct verdict_counts *ret,
                     int64_t *ret_first_ms, int64_t *ret_last_ms, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, sql);
    query_number(&query, id);
    if (query_step(&query)) {
        for (int verdict = VERDICT_OPEN; verdict < VERDICT_COUNT; verdict++)
            ret->verdicts[verdict] = (int)row_number(&query);
        *ret_first_ms = row_number_or(&query, -1);
        *ret_last_ms = row_number_or(&query, -1);
    }
    ret->judged =
        ret->verdicts[VERDICT_KEEP] + ret->verdicts[VERDICT_HOLD] + ret->verdicts[VERDICT_REJECT];
    return query_end(&query, err);
}

/* Numbers in one column. */
static bool read_numbers(struct query *query, int64_t **ret, size_t *ret_count, struct err *err)
{
    int64_t *numbers = NULL;
    size_t count = 0;
    size_t capacity = 0;
    while (query_step(query)) {
        numbers = alloc_room(numbers, count, &capacity, sizeof *numbers);
        numbers[count++] = row_number(query);
    }
    return query_list(query, numbers, count, ret, ret_count, err);
}

bool standing_scores(struct ledger *ledger, int64_t round_id, int64_t unit, int64_t **ret,
                     size_t *ret_count, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_STANDING_SCORES);
    query_number(&query, round_id);
    query_number(&query, unit);
    return read_numbers(&query, ret, ret_count, err);
}

bool closings_of(struct ledger *ledger, int64_t round_id, int64_t judge, int64_t since_ms,
                 int64_t **ret, size_t *ret_count, struct err *err)
{
    struct query query;
    query_begin(&query, ledger, SQL_STANDING_CLOSINGS);
    query_number(&query, round_id);
    query_number_or_null(&query, judge, 0);
    query_number(&query, since_ms);
    return read_numbers(&query, ret, ret_count, err);
}

/* The standings as they are kept, in the order of fish_of_round. A fish that was never judged may
 * have none: it is open. */
static bool read_kept(struct ledger *ledger, int64_t round_id, struct standing **ret,
                      size_t *ret_count, struct err *err)
{
    struct standing *kept = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_STANDINGS_OF_ROUND);
    query_number(&query, round_id);
    while (query_step(&query)) {
        kept = alloc_room(kept, count, &capacity, sizeof *kept);
        kept[count] = (struct standing){
            .verdict = (enum verdict)row_word(&query, verdict_terms, VERDICT_COUNT)};
        kept[count].could_be_kept = row_number(&query);
        kept[count].score = row_number_or(&query, -1);
        kept[count].unit = row_number(&query);
        kept[count].scored = kept[count].unit != 0;
        count++;
    }
    return query_list(&query, kept, count, ret, ret_count, err);
}

static bool equal(const struct standing *a, const struct standing *b)
{
    return a->verdict == b->verdict && a->could_be_kept == b->could_be_kept &&
           a->scored == b->scored && (!a->scored || (a->score == b->score && a->unit == b->unit));
}

static bool rebuild_one(struct ledger *ledger, const struct round *round,
                        const struct standard *standard, const struct fish *fish,
                        const struct standing *kept, const struct standing_reporter *reporter,
                        struct err *err)
{
    struct judgement deciding = fish_deciding(fish, standard);
    struct standing standing = standing_of(standard, &deciding);
    if (equal(&standing, kept))
        return true;
    if (reporter != NULL)
        reporter->differs(reporter->context, round, fish->bowl, fish->number);
    return standing_save(ledger, fish->id, &standing, err);
}

/* Both lists come from one transaction, so they are of the same fish. */
static bool rebuild_all(struct ledger *ledger, const struct round *round,
                        const struct standard *standard, const struct standing_reporter *reporter,
                        struct err *err)
{
    struct fish *fish = NULL;
    struct standing *kept = NULL;
    size_t fish_count = 0;
    size_t kept_count = 0;
    bool fine = fish_of_round(ledger, round->id, standard, &fish, &fish_count, err) &&
                read_kept(ledger, round->id, &kept, &kept_count, err);
    for (size_t i = 0; fine && i < fish_count && i < kept_count; i++)
        fine = rebuild_one(ledger, round, standard, &fish[i], &kept[i], reporter, err);
    free(fish);
    free(kept);
    return fine;
}

bool standings_rebuild(struct ledger *ledger, const struct round *round,
                       const struct standing_reporter *reporter, struct err *err)
{
    struct standard_version version;
    if (*round->standard == '\0')
        return true;
    return standard_named(ledger, round->standard, &version, err) &&
           rebuild_all(ledger, round, &version.standard, reporter, err);
}

bool standings_rebuild_by(struct ledger *ledger, const char *standard, struct err *err)
{
    struct round *rounds;
    size_t count;
    bool fine = true;
    if (!round_list_by_standard(ledger, standard, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = standings_rebuild(ledger, &rounds[i], NULL, err);
    free(rounds);
    return fine;
}
