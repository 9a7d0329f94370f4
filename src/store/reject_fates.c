#include "senbetsu/store/reject_fates.h"

#include "query.h"
#include "senbetsu/core/count.h"

/* `*ret_revision` is the highest so far, 0 where nothing was stated. */
static bool load(struct ledger *ledger, int64_t round_id, struct fates *ret, int64_t *ret_revision,
                 struct err *err)
{
    struct query query;
    *ret = (struct fates){0};
    *ret_revision = 0;
    query_begin(&query, ledger, SQL_REJECT_FATES);
    query_number(&query, round_id);
    while (query_step(&query)) {
        int fate = row_word(&query, fate_terms, FATE_COUNT);
        ret->fish[fate] = row_number(&query);
        *ret_revision = row_number(&query);
    }
    return query_end(&query, err);
}

bool reject_fates_get(struct ledger *ledger, int64_t round_id, struct fates *ret, struct err *err)
{
    struct fates stated;
    int64_t revision;
    if (!load(ledger, round_id, &stated, &revision, err))
        return false;
    *ret = stated;
    return true;
}

static bool add(struct ledger *ledger, int64_t round_id, int64_t revision, int fate, int64_t fish,
                int64_t judge, struct err *err)
{
    int64_t id;
    struct query query;
    if (!new_id(ledger, &id, err))
        return false;
    query_begin(&query, ledger, SQL_REJECT_FATE_ADD);
    query_number(&query, id);
    query_number(&query, round_id);
    query_number(&query, revision);
    query_text(&query, fate_terms[fate].word);
    query_number(&query, fish);
    query_number_or_null(&query, judge, 0);
    query_number(&query, clock_now(&ledger->clock));
    return query_run(&query, err);
}

static bool record(struct ledger *ledger, int64_t round_id, const struct fates *said, int64_t judge,
                   enum saved *ret_saved, struct err *err)
{
    struct fates known;
    int64_t revision;
    if (!load(ledger, round_id, &known, &revision, err))
        return false;
    *ret_saved = fates_equal(&known, said) ? SAVED_SAME : revision == 0 ? SAVED_NEW : SAVED_CHANGED;
    for (int fate = FATE_UNDECIDED + 1; fate < FATE_COUNT; fate++)
        if (known.fish[fate] != said->fish[fate] &&
            !add(ledger, round_id, revision + 1, fate, said->fish[fate], judge, err))
            return false;
    return true;
}

static bool check(const struct fates *said, struct err *err)
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
    if (!check(said, err) || !write_begin(ledger, err) ||
        !write_end(ledger, record(ledger, round_id, said, judge, &saved, err), err))
        return false;
    *ret_saved = saved;
    return true;
}
