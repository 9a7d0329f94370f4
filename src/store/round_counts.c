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

/* Rounds whose fish were judged one by one. */
struct judged {
    int64_t round_id;
    int64_t in, kept, rejected;
    int64_t first_ms;
    int64_t expected; /* -1 = nobody said how many there are */
};

static bool list_judged(struct ledger *ledger, struct judged **ret, size_t *ret_count,
                        struct err *err)
{
    struct judged *judged = NULL;
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

/* Counted fish by fish, for all that is said. */
static bool is_exact(const struct count *count)
{
    return count->number != NOT_COUNTED && count->cv == 0 && !count_error_unknown(count);
}

static void note_work(struct round_figures *figures, int64_t done, int64_t whole)
{
    if (done < whole) {
        figures->done = done;
        figures->whole = whole;
    }
}

static void take_judged(struct round_figures *figures, const struct judged *judged,
                        int offset_minutes)
{
    int64_t whole = judged->expected;
    if (figures->in.number != NOT_COUNTED)
        whole = is_exact(&figures->in) ? figures->in.number : judged->in;
    else {
        figures->in = (struct count){judged->in, METHOD_COUNTED, 0};
        figures->in_so_far = judged->expected < 0 || judged->in < judged->expected;
    }
    if (figures->day[0] == '\0' && judged->first_ms >= 0)
        date_of_instant(judged->first_ms, offset_minutes, figures->day);
    if (figures->kept.number != NOT_COUNTED)
        return;
    note_work(figures, judged->in, whole);
    figures->kept = (struct count){judged->kept, METHOD_COUNTED, 0};
    if (figures->rejected == NOT_COUNTED)
        figures->rejected = judged->rejected;
}

/* Both in order of the round. */
static void take_all_judged(struct round_figures *figures, size_t count,
                            const struct judged *judged, size_t judged_count, int offset_minutes)
{
    for (size_t i = 0, at = 0; i < count && at < judged_count; i++)
        if (figures[i].round_id == judged[at].round_id)
            take_judged(&figures[i], &judged[at++], offset_minutes);
}

/* Fish still to come of a counted lot that both sides are tallied of, fish by fish. An estimate
 * that does not come out even is no reason to wait for more. */
static void note_tally_work(struct round_figures *figures, const struct tally_totals *totals)
{
    if (totals->left > 0 && is_exact(&totals->in) && is_exact(&totals->kept) &&
        is_exact(&totals->rejected))
        note_work(figures, tally_handled(totals), totals->in.number);
}

static bool take_tally(struct ledger *ledger, struct round_figures *figures, struct err *err)
{
    struct round_counts stated;
    struct tally_totals totals;
    if (!tally_totals(ledger, figures->round_id, &totals, err))
        return false;
    round_counts_init(&stated);
    stated.in = figures->in;
    stated.kept = figures->kept;
    stated.rejected = figures->rejected;
    stated.dead = figures->dead;
    text_copy(stated.day, sizeof stated.day, figures->day);
    struct round_counts known = tally_counts(&totals, &stated);
    if (stated.kept.number == NOT_COUNTED) {
        figures->covariance = totals.covariance;
        note_tally_work(figures, &totals);
    }
    figures->in = known.in;
    figures->kept = known.kept;
    figures->rejected = known.rejected;
    figures->dead = known.dead;
    text_copy(figures->day, sizeof figures->day, known.day);
    return true;
}

/* Figures and rounds are both in order of the round. */
static bool take_all_tallied(struct ledger *ledger, struct round_figures *figures, size_t count,
                             struct err *err)
{
    int64_t *rounds;
    size_t round_count;
    bool fine = true;
    if (!tallied_rounds(ledger, &rounds, &round_count, err))
        return false;
    for (size_t i = 0, at = 0; fine && i < count && at < round_count; i++)
        if (figures[i].round_id == rounds[at]) {
            fine = take_tally(ledger, &figures[i], err);
            at++;
        }
    free(rounds);
    return fine;
}

static bool list_rounds(struct ledger *ledger, struct round_figures **ret, size_t *ret_count,
                        struct err *err)
{
    struct round_figures *figures = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_ROUND_LOTS);
    while (query_step(&query)) {
        figures = alloc_room(figures, count, &capacity, sizeof *figures);
        struct round_figures *round = &figures[count++];
        *round = (struct round_figures){.in.number = NOT_COUNTED,
                                        .kept.number = NOT_COUNTED,
                                        .rejected = NOT_COUNTED,
                                        .dead = NOT_COUNTED};
        round->round_id = row_number(&query);
        round->lot_id = row_number(&query);
        round->stage = (enum stage)row_word(&query, stage_terms, STAGE_COUNT);
    }
    return query_list(&query, figures, count, ret, ret_count, err);
}

static void take_statement(struct query *query, struct round_figures *figures)
{
    struct count count;
    row_count(query, &count);
    count_apply(&figures->in, &count);
    row_count(query, &count);
    count_apply(&figures->kept, &count);
    figures->rejected = row_number_or(query, figures->rejected);
    figures->dead = row_number_or(query, figures->dead);
    const char *day = row_text_in_place(query);
    if (day[0] != '\0')
        text_copy(figures->day, sizeof figures->day, day);
}

/* Statements and `figures` both in order of the round. */
static bool take_statements(struct ledger *ledger, struct round_figures *figures, size_t count,
                            struct err *err)
{
    size_t at = 0;
    struct query query;
    query_begin(&query, ledger, SQL_ROUND_COUNTS_ALL);
    while (query_step(&query)) {
        int64_t round_id = row_number(&query);
        while (at < count && figures[at].round_id < round_id)
            at++;
        if (at < count && figures[at].round_id == round_id)
            take_statement(&query, &figures[at]);
    }
    return query_end(&query, err);
}

static bool take_all(struct ledger *ledger, struct round_figures *figures, size_t count,
                     struct err *err)
{
    struct judged *judged;
    size_t judged_count;
    if (!take_statements(ledger, figures, count, err) ||
        !list_judged(ledger, &judged, &judged_count, err))
        return false;
    take_all_judged(figures, count, judged, judged_count, ledger->clock.offset_minutes);
    free(judged);
    return take_all_tallied(ledger, figures, count, err);
}

bool round_figures_list(struct ledger *ledger, struct round_figures **ret, size_t *ret_count,
                        struct err *err)
{
    struct round_figures *figures;
    size_t count;
    if (!list_rounds(ledger, &figures, &count, err))
        return false;
    if (!take_all(ledger, figures, count, err)) {
        free(figures);
        return false;
    }
    *ret = figures;
    *ret_count = count;
    return true;
}
