/* The numbers of rounds whose fish were not judged one by one, and where rejects went. Statements
 * are only ever added, in order of their revision, and each says only what it says: what is known
 * is all of them applied in turn, so that two stations' statements join without a conflict. A tally
 * fills what nobody stated. */
#include "senbetsu/store/round_counts.h"

#include "query.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>

/* One statement: columns as COUNT_COLUMNS has them. */
static void read_said(struct query *query, struct round_counts *ret)
{
    round_counts_init(ret);
    row_count(query, &ret->in);
    row_count(query, &ret->kept);
    ret->rejected = row_fish(query);
    ret->dead = row_fish(query);
    row_day(query, ret->day);
    row_text(query, ret->note, sizeof ret->note);
}

/* `*ret_revision` is the highest so far, 0 where nothing was stated. */
static bool load(struct ledger *ledger, int64_t round_id, struct round_counts *ret,
                 int64_t *ret_revision, struct err *err)
{
    struct round_counts said;
    round_counts_init(ret);
    *ret_revision = 0;
    struct query query = query_with(ledger, SQL_ROUND_COUNTS, round_id);
    while (query_step(&query)) {
        read_said(&query, &said);
        *ret_revision = row_between(&query, 1, INT64_MAX - 1);
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

static void read_bare(struct query *query, void *ret_item)
{
    struct cull_numbers *ret = ret_item;
    *ret = (struct cull_numbers){.id = row_id(query),
                                 .in.number = NOT_COUNTED,
                                 .kept.number = NOT_COUNTED,
                                 .dead = NOT_COUNTED};
    ret->lot_id = row_id(query);
    ret->stage = (enum stage)row_word(query, stage_terms, STAGE_COUNT);
    ret->bare = row_flag(query);
}

static void take_said(struct cull_numbers *numbers, const struct round_counts *said)
{
    struct round_counts known = {.in = numbers->in, .kept = numbers->kept, .dead = numbers->dead};
    text_copy(known.day, sizeof known.day, numbers->day);
    round_counts_apply(&known, said);
    numbers->in = known.in;
    numbers->kept = known.kept;
    numbers->dead = known.dead;
    text_copy(numbers->day, sizeof numbers->day, known.day);
}

/* Rounds and statements are both read in order of the round: to look for each round's would cost
 * more than to read them. */
bool cull_numbers_stated(struct ledger *ledger, struct cull_numbers **ret, size_t *ret_count,
                         struct err *err)
{
    struct cull_numbers *rounds;
    size_t count, at = 0;
    struct query query = query_begin(ledger, SQL_ROUNDS_BARE);
    if (!query_rows(&query, read_bare, sizeof *rounds, &rounds, &count, err))
        return false;
    query = query_begin(ledger, SQL_ROUND_COUNTS_ALL);
    while (query_step(&query)) {
        struct round_counts said;
        read_said(&query, &said);
        int64_t id = row_id(&query);
        while (at < count && rounds[at].id < id)
            at++;
        if (at < count && rounds[at].id == id)
            take_said(&rounds[at], &said);
    }
    return query_list(&query, rounds, count, ret, ret_count, err);
}

/* The number of a round's lot, and what is done in it. */
static bool read_lot(struct ledger *ledger, int64_t round_id, struct count *ret,
                     enum manner *ret_manner, struct err *err)
{
    struct round_counts stated;
    int expected = 0;
    if (!round_counts_get(ledger, round_id, &stated, err))
        return false;
    struct query query = query_with(ledger, SQL_ROUND_MANNER, round_id);
    bool found = query_step(&query);
    if (found) {
        *ret_manner = (enum manner)row_word(&query, manner_terms, MANNER_COUNT);
        expected = row_int_or(&query, 1, NUMBER_MOST, 0);
    }
    if (!query_end(&query, err))
        return false;
    *ret = stated.in;
    if (ret->number == NOT_COUNTED && expected > 0)
        *ret = (struct count){expected, METHOD_UNSAID, 0};
    return found || err_set(err, ERR_ABSENT, "The round is retired.");
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
    struct query query = query_with(ledger, SQL_TALLY_DAYS, round_id);
    if (query_step(&query)) { /* one row, of NULLs where nothing is tallied */
        int64_t first = row_instant_or(&query, INT64_MIN);
        int64_t last = row_instant_or(&query, INT64_MIN);
        if (first != INT64_MIN) {
            date_of_instant(first, offset, totals->first_day);
            date_of_instant(last, offset, totals->last_day);
        }
    }
    return query_end(&query, err);
}

/* Only a round with something tallied is settled: without a key there is nothing to take from the
 * number of the lot. The keys of a judged round are picks, which say nothing of its lot. */
bool tally_totals(struct ledger *ledger, int64_t round_id, struct tally_totals *ret,
                  struct err *err)
{
    struct count in;
    enum manner manner = MANNER_JUDGE;
    struct tally_line *lines;
    size_t count;
    if (!read_lot(ledger, round_id, &in, &manner, err) ||
        !tally_lines(ledger, round_id, &lines, &count, err))
        return false;
    struct tally_totals totals = tally_totals_of(lines, manner == MANNER_JUDGE ? 0 : count);
    free(lines);
    if (count > 0 && manner != MANNER_JUDGE)
        tally_settle(&totals, manner, &in);
    if (manner != MANNER_JUDGE && !read_days(ledger, round_id, &totals, err))
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
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_ROUND_COUNT_ADD, id);
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

/* What is said is compared with what is known by statements and tally together: saying again what
 * was tallied adds nothing. */
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
    if (!check(said, err) || !transaction_begin(ledger, err) ||
        !transaction_end(ledger, record(ledger, round_id, said, judge, &saved, err), err))
        return false;
    *ret_saved = saved;
    return true;
}

/* `*ret_revision` is the highest so far, 0 where nothing was stated. */
static bool load_fates(struct ledger *ledger, int64_t round_id, struct fates *ret,
                       int64_t *ret_revision, struct err *err)
{
    *ret = (struct fates){0};
    *ret_revision = 0;
    struct query query = query_with(ledger, SQL_REJECT_FATES, round_id);
    while (query_step(&query)) {
        int fate = row_word(&query, fate_terms, FATE_COUNT);
        row_require(&query, fate != FATE_UNDECIDED);
        ret->fish[fate] = row_between_or(&query, 0, FISH_MOST, 0);
        *ret_revision = row_between(&query, 1, INT64_MAX - 1);
    }
    return query_end(&query, err);
}

bool reject_fates_get(struct ledger *ledger, int64_t round_id, struct fates *ret, struct err *err)
{
    struct fates stated;
    int64_t revision;
    if (!load_fates(ledger, round_id, &stated, &revision, err))
        return false;
    *ret = stated;
    return true;
}

static bool add_fate(struct ledger *ledger, int64_t round_id, int64_t revision, int fate,
                     int64_t fish, int64_t judge, struct err *err)
{
    int64_t id;
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_REJECT_FATE_ADD, id);
    query_number(&query, round_id);
    query_number(&query, revision);
    query_text(&query, fate_terms[fate].word);
    query_number(&query, fish);
    query_number_or_null(&query, judge, 0);
    query_number(&query, clock_now(&ledger->clock));
    return query_run(&query, err);
}

/* One row for each fate whose number changes, all of one revision. */
static bool record_fates(struct ledger *ledger, int64_t round_id, const struct fates *said,
                         int64_t judge, enum saved *ret_saved, struct err *err)
{
    struct fates known;
    int64_t revision;
    if (!load_fates(ledger, round_id, &known, &revision, err))
        return false;
    *ret_saved = fates_equal(&known, said) ? SAVED_SAME : revision == 0 ? SAVED_NEW : SAVED_CHANGED;
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        if (known.fish[fate] != said->fish[fate] &&
            !add_fate(ledger, round_id, revision + 1, fate, said->fish[fate], judge, err))
            return false;
    return true;
}

static bool check_fates(const struct fates *said, struct err *err)
{
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        if (said->fish[fate] < 0 || said->fish[fate] > FISH_MOST)
            return err_set(err, ERR_INPUT, "The number of rejects (%s) must be from 0 to %d.",
                           fate_terms[fate].word, FISH_MOST);
    return true;
}

bool reject_fates_record(struct ledger *ledger, int64_t round_id, const struct fates *said,
                         int64_t judge, enum saved *ret_saved, struct err *err)
{
    enum saved saved = SAVED_SAME;
    if (!check_fates(said, err) || !transaction_begin(ledger, err) ||
        !transaction_end(ledger, record_fates(ledger, round_id, said, judge, &saved, err), err))
        return false;
    *ret_saved = saved;
    return true;
}
