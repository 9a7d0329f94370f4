/* What was stated of a round's numbers, what was tallied in it, and what is known by both. */
#include "senbetsu/store/round_counts.h"

#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>

static void row_count(struct query *query, struct count *ret)
{
    ret->number = row_number_or(query, NOT_COUNTED);
    ret->method = (enum method)row_word(query, method_terms, METHOD_COUNT);
    ret->cv = (int)row_number(query);
}

/* `*ret_revision` is the highest so far, 0 where nothing was stated. */
static bool load(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                 int64_t *ret_revision, struct err *err)
{
    struct round_counts said;
    struct query query;
    round_counts_init(ret);
    *ret_revision = 0;
    query_begin(&query, ledger, SQL_ROUND_COUNTS);
    query_number(&query, round_id);
    while (query_step(&query)) {
        row_count(&query, &said.in);
        row_count(&query, &said.kept);
        said.rejected = row_number_or(&query, NOT_COUNTED);
        said.dead = row_number_or(&query, NOT_COUNTED);
        row_text(&query, said.day, sizeof said.day);
        row_text(&query, said.note, sizeof said.note);
        *ret_revision = row_number(&query);
        round_counts_apply(ret, &said);
    }
    return query_end(&query, err);
}

bool round_counts_get(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                      struct err *err)
{
    struct round_counts known;
    int64_t revision;
    if (!load(ledger, round_id, &known, &revision, err))
        return false;
    *ret = known;
    return true;
}

/* The number of a round's lot, and what is done in it. */
static bool read_lot(struct ledger *ledger, int64_t round_id, struct count *ret,
                     enum manner *ret_manner, struct err *err)
{
    struct round_counts stated;
    int expected = 0;
    struct query query;
    if (!round_counts_get(ledger, round_id, &stated, err))
        return false;
    query_begin(&query, ledger, SQL_ROUND_MANNER);
    query_number(&query, round_id);
    bool found = query_step(&query);
    if (found) {
        *ret_manner = (enum manner)row_word(&query, manner_terms, MANNER_COUNT);
        expected = (int)row_number(&query);
    }
    if (!query_end(&query, err))
        return false;
    *ret = stated.in;
    if (ret->number == NOT_COUNTED && expected > 0)
        *ret = (struct count){expected, METHOD_UNSAID, 0};
    return found || err_set(err, ERR_ABSENT, "There is no such round in the ledger.");
}

bool tally_lot(struct ledger *ledger, int64_t round_id, struct count *ret, struct err *err)
{
    enum manner manner;
    return read_lot(ledger, round_id, ret, &manner, err);
}

static bool read_days(struct ledger *ledger, int64_t round_id, struct tally_totals *totals,
                      struct err *err)
{
    int offset = ledger->clock.offset_minutes;
    struct query query;
    query_begin(&query, ledger, SQL_TALLY_DAYS);
    query_number(&query, round_id);
    if (query_step(&query)) { /* one row, of NULLs where nothing is tallied */
        int64_t first = row_number_or(&query, -1), last = row_number_or(&query, -1);
        if (first >= 0) {
            date_of_instant(first, offset, totals->first_day);
            date_of_instant(last, offset, totals->last_day);
        }
    }
    return query_end(&query, err);
}

bool tally_totals(struct ledger *ledger, int64_t round_id, struct tally_totals *ret,
                  struct err *err)
{
    struct count in;
    enum manner manner;
    struct tally_line *lines;
    size_t count;
    if (!read_lot(ledger, round_id, &in, &manner, err) ||
        !tally_lines(ledger, round_id, &lines, &count, err))
        return false;
    struct tally_totals totals = tally_totals_of(lines, count);
    free(lines);
    if (count > 0)
        tally_settle(&totals, manner, &in);
    if (!read_days(ledger, round_id, &totals, err))
        return false;
    *ret = totals;
    return true;
}

static void bind_count(struct query *query, const struct count *count)
{
    query_number_or_null(query, count->number, NOT_COUNTED);
    query_text_or_null(query, method_terms[count->method].word);
    query_number_or_null(query, count->cv, 0);
}

static bool add(struct ledger *ledger, int64_t round_id, int64_t revision,
                const struct round_counts *said, int64_t judge, struct err *err)
{
    int64_t id;
    struct query query;
    if (!new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_ROUND_COUNT_ADD);
    query_number(&query, id);
    query_number(&query, round_id);
    query_number(&query, revision);
    bind_count(&query, &said->in);
    bind_count(&query, &said->kept);
    query_number_or_null(&query, said->rejected, NOT_COUNTED);
    query_number_or_null(&query, said->dead, NOT_COUNTED);
    query_text_or_null(&query, said->day);
    query_text(&query, said->note);
    query_number_or_null(&query, judge, 0);
    query_number(&query, clock_now(&ledger->clock));
    return query_run(&query, err);
}

/* Said again in full, a number keeps how it was made whatever order statements are joined in. */
static struct round_counts in_full(const struct round_counts *said,
                                   const struct round_counts *becomes)
{
    struct round_counts full = *said;
    if (said->in.number != NOT_COUNTED)
        full.in = becomes->in;
    if (said->kept.number != NOT_COUNTED)
        full.kept = becomes->kept;
    return full;
}

bool round_counts_known(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                        struct err *err)
{
    struct round_counts stated;
    struct tally_totals totals;
    if (!round_counts_get(ledger, round_id, &stated, err) ||
        !tally_totals(ledger, round_id, &totals, err))
        return false;
    *ret = tally_counts(&totals, &stated);
    return true;
}

static bool record(struct ledger *ledger, int64_t round_id, const struct round_counts *said,
                   int64_t judge, enum saved *ret_saved, struct err *err)
{
    struct round_counts stated;
    struct tally_totals totals;
    int64_t revision;
    if (!load(ledger, round_id, &stated, &revision, err) ||
        !tally_totals(ledger, round_id, &totals, err))
        return false;
    struct round_counts known = tally_counts(&totals, &stated);
    struct round_counts becomes = known;
    round_counts_apply(&becomes, said);
    *ret_saved = round_counts_equal(&known, &becomes) ? SAVED_SAME
                 : revision == 0                      ? SAVED_NEW
                                                      : SAVED_CHANGED;
    struct round_counts full = in_full(said, &becomes);
    return *ret_saved == SAVED_SAME || add(ledger, round_id, revision + 1, &full, judge, err);
}

static bool check(const struct round_counts *said, struct err *err)
{
    if (said->day[0] != '\0' && !date_valid(said->day))
        return err_set(err, ERR_INPUT, "%s is not a date such as 2026-06-14.", said->day);
    return count_check(&said->in, err) && count_check(&said->kept, err);
}

bool round_counts_record(struct ledger *ledger, int64_t round_id, const struct round_counts *said,
                         int64_t judge, enum saved *ret_saved, struct err *err)
{
    enum saved saved = SAVED_SAME;
    if (!check(said, err) || !write_begin(ledger, err) ||
        !write_end(ledger, record(ledger, round_id, said, judge, &saved, err), err))
        return false;
    *ret_saved = saved;
    return true;
}

bool judged_rounds_list(struct ledger *ledger, struct judged_round **ret, size_t *ret_count,
                        struct err *err)
{
    struct judged_round *judged = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_ROUNDS_JUDGED);
    while (query_step(&query)) {
        judged = alloc_room(judged, count, &capacity, sizeof *judged);
        judged[count].round_id = row_number(&query);
        judged[count].in = row_number(&query);
        judged[count].kept = row_number(&query);
        judged[count].rejected = row_number(&query);
        judged[count].first_ms = row_number_or(&query, -1);
        judged[count].expected = row_number_or(&query, -1);
        count += judged[count].in > 0;
    }
    return query_list(&query, judged, count, ret, ret_count, err);
}

bool stated_rounds_list(struct ledger *ledger, struct stated_round **ret, size_t *ret_count,
                        struct err *err)
{
    struct stated_round *rounds = NULL;
    size_t count = 0, capacity = 0, at = 0;
    struct query query;
    query_begin(&query, ledger, SQL_ROUND_LOTS);
    while (query_step(&query)) {
        rounds = alloc_room(rounds, count, &capacity, sizeof *rounds);
        struct stated_round *round = &rounds[count++];
        round->round_id = row_number(&query);
        round->lot_id = row_number(&query);
        round->stage = (enum stage)row_word(&query, stage_terms, STAGE_COUNT);
        round_counts_init(&round->counts);
    }
    if (!query_list(&query, rounds, count, ret, ret_count, err))
        return false;
    query_begin(&query, ledger, SQL_ROUND_COUNTS_ALL); /* in order of the round as well */
    while (query_step(&query)) {
        struct round_counts said;
        int64_t round_id = row_number(&query);
        round_counts_init(&said);
        row_count(&query, &said.in);
        row_count(&query, &said.kept);
        said.rejected = row_number_or(&query, NOT_COUNTED);
        said.dead = row_number_or(&query, NOT_COUNTED);
        row_text(&query, said.day, sizeof said.day);
        while (at < count && rounds[at].round_id < round_id)
            at++;
        if (at < count && rounds[at].round_id == round_id)
            round_counts_apply(&rounds[at].counts, &said);
    }
    if (query_end(&query, err))
        return true;
    free(rounds);
    return false;
}
