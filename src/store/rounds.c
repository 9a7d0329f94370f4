/* Rounds and their bowls, with the counters of the fish judged one by one that their rows keep. The
 * numbers stated or tallied of a round are in round_counts.c; report puts both together. */
#include "senbetsu/store/rounds.h"

#include "audit_log.h"
#include "lots.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/number.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/standards.h"
#include "strokes.h"

#include <inttypes.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NO_PLACES = -1 };

/* Whoever has the id of a round has it from the ledger, where nothing is deleted. */
static const char no_such_round[] = "The round is retired.";

/* Columns as FISH_COUNTERS has them, without the instants. */
static void read_fish_counters(struct query *query, struct verdict_counts *ret)
{
    for (int verdict = VERDICT_OPEN; verdict < VERDICT_COUNT; verdict++)
        ret->verdicts[verdict] = row_int(query, 0, FISH_MOST);
    ret->judged =
        ret->verdicts[VERDICT_KEEP] + ret->verdicts[VERDICT_HOLD] + ret->verdicts[VERDICT_REJECT];
    ret->changed = row_int(query, 0, FISH_MOST);
}

static void read_round(struct query *query, void *ret_item)
{
    struct round *ret = ret_item;
    *ret = (struct round){.id = row_id(query)};
    ret->spawning_id = row_id_or_none(query);
    ret->lot_id = row_id(query);
    row_text(query, ret->spawning, sizeof ret->spawning);
    row_text(query, ret->variety, sizeof ret->variety);
    row_code(query, ret->lot, sizeof ret->lot);
    ret->own_lot = row_flag(query);
    ret->season = row_int_or(query, YEAR_LOWEST, YEAR_HIGHEST, 0);
    ret->stage = (enum stage)row_word(query, stage_terms, STAGE_COUNT);
    ret->manner = (enum manner)row_word(query, manner_terms, MANNER_COUNT);
    ret->waiting = (enum waiting)row_word(query, waiting_terms, WAITING_COUNT);
    ret->fate = (enum fate)row_word(query, fate_terms, FATE_COUNT);
    ret->places = row_int_or(query, 0, FISH_MOST, NO_PLACES);
    ret->expected = row_int_or(query, 1, NUMBER_MOST, 0);
    row_text(query, ret->standard, sizeof ret->standard);
}

static bool read_list(struct query *query, struct round **ret, size_t *ret_count, struct err *err)
{
    return query_rows(query, read_round, sizeof **ret, ret, ret_count, err);
}

bool round_get(struct ledger *ledger, int64_t id, struct round *ret, struct err *err)
{
    struct query query = query_with(ledger, SQL_ROUND_BY_ID, id);
    return query_row(&query, read_round, ret, no_such_round, err);
}

static bool absent(const char *spawning, const char *lot, enum stage stage, struct err *err)
{
    if (*lot == '\0')
        return err_set(err, ERR_ABSENT, "Spawning %s has no round at stage %s.", spawning,
                       stage_terms[stage].word);
    return err_set(err, ERR_ABSENT, "Lot %s of spawning %s has no round at stage %s.", lot,
                   spawning, stage_terms[stage].word);
}

static bool ambiguous(const struct round *rounds, size_t count, const char *spawning,
                      struct err *err)
{
    struct text lots;
    text_init(&lots);
    for (size_t i = 0; i < count; i++)
        text_addf(&lots, "%s%s", i == 0 ? "" : i + 1 < count ? ", " : " or ", rounds[i].lot);
    err_set(err, ERR_ABSENT, "Spawning %s has rounds at stage %s in several lots; say which: %s.",
            spawning, stage_terms[rounds[0].stage].word, lots.data);
    text_done(&lots);
    return false;
}

/* The one among a spawning's rounds at a stage that is meant, or -1. */
static int choose(const struct round *rounds, size_t count, const char *lot)
{
    for (size_t i = 0; i < count; i++)
        if (*lot == '\0' ? rounds[i].own_lot : strcmp(rounds[i].lot, lot) == 0)
            return (int)i;
    return *lot == '\0' && count == 1 ? 0 : -1;
}

bool round_find(struct ledger *ledger, const char *spawning, const char *lot, enum stage stage,
                struct round *ret, struct err *err)
{
    struct spawning exists;
    struct round *rounds;
    size_t count;
    if (lot == NULL)
        lot = "";
    if (!spawning_get(ledger, spawning, &exists, err))
        return false;
    struct query query = query_begin(ledger, SQL_ROUNDS_AT_STAGE);
    query_text(&query, spawning);
    query_text(&query, stage_terms[stage].word);
    if (!read_list(&query, &rounds, &count, err))
        return false;
    int chosen = choose(rounds, count, lot);
    if (chosen >= 0)
        *ret = rounds[chosen];
    else if (*lot == '\0' && count > 1)
        ambiguous(rounds, count, spawning, err);
    else
        absent(spawning, lot, stage, err);
    free(rounds);
    return chosen >= 0;
}

static bool round_of_lot(struct ledger *ledger, int64_t lot, enum stage stage, struct round *ret,
                         struct err *err)
{
    struct query query = query_with(ledger, SQL_ROUND_OF_LOT, lot);
    query_text(&query, stage_terms[stage].word);
    *ret = (struct round){.id = 0};
    return query_row(&query, read_round, ret, NULL, err);
}

static bool add_round(struct ledger *ledger, int64_t lot, enum stage stage, enum manner manner,
                      struct err *err)
{
    int64_t id;
    char what[64];
    struct round begun = {.id = 0};
    snprintf(what, sizeof what, "%" PRId64 ";%s", lot, stage_terms[stage].word);
    if (!office_id(ledger, "round", what, &id, err))
        return false;
    struct change about = {"round", id, 0, ""};
    struct query query = query_with(ledger, SQL_ROUND_ADD, id);
    query_number(&query, lot);
    query_text(&query, stage_terms[stage].word);
    query_text(&query, manner_terms[manner].word);
    query_text(&query, waiting_terms[WAITING_BASIN].word);
    return query_run(&query, err) && round_get(ledger, id, &begun, err) &&
           audit_log_begin_record(ledger, &about, round_columns, ROUND_COLUMN_COUNT, &begun, err);
}

/* A lot has at most one round a stage, so that beginning one twice, from two windows or two
 * imports, finds it the second time. */
static bool find_or_begin(struct ledger *ledger, const char *spawnings, const char *code,
                          enum stage stage, enum manner manner, struct round *ret, bool *ret_new,
                          struct err *err)
{
    int64_t lot;
    if (!lot_find_or_add(ledger, spawnings, code, &lot, err) ||
        !round_of_lot(ledger, lot, stage, ret, err))
        return false;
    *ret_new = ret->id == 0;
    if (!*ret_new)
        return true;
    return add_round(ledger, lot, stage, manner, err) && round_of_lot(ledger, lot, stage, ret, err);
}

bool round_begin_as(struct ledger *ledger, const char *spawnings, const char *lot, enum stage stage,
                    enum manner manner, struct round *ret, bool *ret_new, struct err *err)
{
    struct round round;
    bool is_new = false;
    const char *code = lot == NULL ? "" : lot;
    if (!transaction_begin(ledger, err) ||
        !transaction_end(
            ledger, find_or_begin(ledger, spawnings, code, stage, manner, &round, &is_new, err),
            err))
        return false;
    *ret = round;
    *ret_new = is_new;
    return true;
}

bool round_begin(struct ledger *ledger, const char *spawning, const char *lot, enum stage stage,
                 struct round *ret, struct err *err)
{
    bool is_new;
    return round_begin_as(ledger, spawning, lot, stage, MANNER_JUDGE, ret, &is_new, err);
}

/* Columns as SQL_ROUND_CHANGE has them; 'not said' is NULL in the ledger. */
static bool store(struct ledger *ledger, const struct round *round, struct err *err)
{
    struct query query = query_with(ledger, SQL_ROUND_CHANGE, round->lot_id);
    query_text(&query, stage_terms[round->stage].word);
    query_text(&query, waiting_terms[round->waiting].word);
    query_text_or_null(&query, fate_terms[round->fate].word);
    query_number_or_null(&query, round->places, NO_PLACES);
    query_number_or_null(&query, round->expected, 0);
    query_text_or_null(&query, round->standard);
    query_text(&query, manner_terms[round->manner].word);
    query_number(&query, round->id);
    return query_run(&query, err);
}

/* A lot has one round of a stage. */
static bool stage_is_free(struct ledger *ledger, const struct round *known,
                          const struct round *round, struct err *err)
{
    struct round other;
    if (known->lot_id == round->lot_id && known->stage == round->stage)
        return true;
    return round_of_lot(ledger, round->lot_id, round->stage, &other, err) &&
           (other.id == 0 ||
            err_set(err, ERR_INPUT, "Lot %s has another %s cull; change or retire that one first.",
                    other.lot, stage_terms[round->stage].word));
}

/* Fish that were judged one by one are no tally, nor is a tally fish by fish. */
static bool manner_fits(struct ledger *ledger, const struct round *known, const struct round *round,
                        struct err *err)
{
    struct counted_round counted;
    int64_t tallied = 0;
    bool was_judged = known->manner == MANNER_JUDGE;
    if (was_judged == (round->manner == MANNER_JUDGE))
        return true;
    struct query query = query_with(ledger, SQL_TALLY_ANY, round->id);
    if (!counted_round_get(ledger, round->id, &counted, err) ||
        !query_single(&query, &tallied, err))
        return false;
    const struct verdict_counts *tally = &counted.counters.tally;
    int fish = tally->judged + tally->verdicts[VERDICT_OPEN];
    if (was_judged && fish > 0)
        return err_set(err, ERR_INPUT,
                       "%d fish of this round were judged one by one; retire their bowls first.",
                       fish);
    return was_judged || tallied == 0 ||
           err_set(err, ERR_INPUT,
                   "Fish of this round were tallied; retire it and begin one that is judged.");
}

static bool log_changes(struct ledger *ledger, const struct round *known, const struct round *round,
                        int64_t judge, struct err *err)
{
    const struct change about = {"round", round->id, judge, ""};
    /* Lots of two spawnings may have the same name. */
    bool namesake = known->lot_id != round->lot_id && strcmp(known->lot, round->lot) == 0;
    return audit_log_compare(ledger, &about, round_columns, ROUND_COLUMN_COUNT, known, round,
                             err) &&
           (!namesake || audit_log_add(ledger, &about, "lot", known->lot, round->lot, err));
}

/* What is filled in when a round begins is no change of it. */
static bool log_filled(struct ledger *ledger, const struct round *known, const struct round *round,
                       struct err *err)
{
    const struct change about = {"round", round->id, 0, ""};
    char text[CODES_SIZE];
    for (int i = 0; i < ROUND_COLUMN_COUNT; i++) {
        const struct column *column = &round_columns[i];
        if (!column_equal(column, known, round) &&
            !audit_log_add(ledger, &about, column->name, NULL, column_text(column, round, text),
                           err))
            return false;
    }
    return true;
}

/* Another standard means other weights and floors: the verdicts cached with the round's fish are
 * worked out again in the same transaction, so that nobody reads one by the old standard. */
static bool save(struct ledger *ledger, const struct round *round, bool begins, int64_t judge,
                 struct err *err)
{
    struct round known = {.id = 0};
    if (!round_get(ledger, round->id, &known, err))
        return false;
    if (!stage_is_free(ledger, &known, round, err) || !manner_fits(ledger, &known, round, err))
        return false;
    if (!store(ledger, round, err) || !(begins ? log_filled(ledger, &known, round, err)
                                               : log_changes(ledger, &known, round, judge, err)))
        return false;
    struct standard_version version;
    if (strcmp(known.standard, round->standard) == 0 || round->standard[0] == '\0')
        return true;
    return standard_named(ledger, round->standard, &version, err) &&
           verdicts_rebuild(ledger, round->id, &version.standard, NULL, err);
}

bool round_save(struct ledger *ledger, const struct round *round, int64_t judge, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, save(ledger, round, false, judge, err), err);
}

bool round_fill(struct ledger *ledger, const struct round *begun, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, save(ledger, begun, true, 0, err), err);
}

static void read_pass(struct query *query, struct latest_pass *ret)
{
    ret->id = row_id_or_none(query);
    ret->at_ms = row_instant_or(query, 0);
    ret->places = row_int_or(query, 0, FISH_MOST, NO_PLACES);
    ret->fish = row_int_or(query, 0, FISH_MOST, 0);
    row_text(query, ret->standard, sizeof ret->standard);
    ret->version = row_int_or(query, 1, INT_MAX - 1, 0);
    ret->newest = row_int_or(query, 1, INT_MAX - 1, 0);
}

/* A bowl holds what turned up in it where that is more than was counted, or nothing was; only of
 * the last bowl nobody can tell yet. */
static void read_counted(struct query *query, void *ret_item)
{
    struct counted_round *ret = ret_item;
    struct round_counters *counters = &ret->counters;
    read_round(query, &ret->round);
    *counters = (struct round_counters){.bowls = row_int(query, 0, INT_MAX)};
    counters->held = row_int_or(query, 0, FISH_MOST, 0);
    bool last_is_counted = row_flag(query);
    counters->tally.expected = last_is_counted ? counters->held : 0;
    counters->stated = row_flag(query);
    counters->tallied = row_flag(query);
    read_fish_counters(query, &counters->tally);
    counters->first_ms = row_instant_or(query, -1);
    counters->last_ms = row_instant_or(query, -1);
    read_pass(query, &counters->pass);
}

bool counted_round_get(struct ledger *ledger, int64_t id, struct counted_round *ret,
                       struct err *err)
{
    struct query query = query_with(ledger, SQL_COUNTED_ROUND_BY_ID, id);
    return query_row(&query, read_counted, ret, no_such_round, err);
}

bool counted_round_list(struct ledger *ledger, const char *spawning, struct counted_round **ret,
                        size_t *ret_count, struct err *err)
{
    struct query query = query_begin(ledger, spawning == NULL ? SQL_COUNTED_ROUNDS_ALL
                                                              : SQL_COUNTED_ROUNDS_OF_SPAWNING);
    if (spawning != NULL)
        query_text(&query, spawning);
    return query_rows(&query, read_counted, sizeof **ret, ret, ret_count, err);
}

bool round_list(struct ledger *ledger, const char *spawning, struct round **ret, size_t *ret_count,
                struct err *err)
{
    struct query query =
        query_begin(ledger, spawning == NULL ? SQL_ROUNDS_ALL : SQL_ROUNDS_OF_SPAWNING);
    if (spawning != NULL)
        query_text(&query, spawning);
    return read_list(&query, ret, ret_count, err);
}

bool round_list_of_day(struct ledger *ledger, const char *day, struct round **ret,
                       size_t *ret_count, struct err *err)
{
    int64_t begin = date_begins(day, ledger->clock.offset_minutes);
    struct query query = query_begin(ledger, SQL_ROUNDS_OF_DAY);
    query_text(&query, day);
    query_number(&query, begin);
    query_number(&query, begin + DAY_MS);
    return read_list(&query, ret, ret_count, err);
}

static void read_bowl(struct query *query, void *ret_item)
{
    struct bowl *ret = ret_item;
    *ret = (struct bowl){.id = row_id(query)};
    ret->round_id = row_id(query);
    ret->number = row_int(query, 1, NUMBER_MOST);
    ret->expected = row_int_or(query, 1, NUMBER_MOST, 0);
    ret->tally.expected = ret->expected;
    row_day(query, ret->day);
    row_require(query, ret->day[0] != '\0');
    row_text_cut(query, ret->station, sizeof ret->station);
    read_fish_counters(query, &ret->tally);
}

const char *bowl_title(const struct bowl *bowl, char ret_title[BOWL_TITLE_SIZE])
{
    bool alone = bowl->station[0] == '\0';
    snprintf(ret_title, BOWL_TITLE_SIZE, alone ? "%d" : "%d (%s)", bowl->number, bowl->station);
    return ret_title;
}

bool bowl_get(struct ledger *ledger, int64_t id, struct bowl *ret, struct err *err)
{
    struct query query = query_with(ledger, SQL_BOWL_BY_ID, id);
    return query_row(&query, read_bowl, ret, "There is no such bowl in the ledger.", err);
}

bool bowl_list(struct ledger *ledger, int64_t round_id, struct bowl **ret, size_t *ret_count,
               struct err *err)
{
    struct query query = query_with(ledger, SQL_BOWL_LIST, round_id);
    return query_rows(&query, read_bowl, sizeof **ret, ret, ret_count, err);
}

static bool find_bowl(struct ledger *ledger, int64_t round_id, int number, struct bowl *ret,
                      struct err *err)
{
    struct query query = query_with(ledger, SQL_BOWL_NUMBERED, round_id);
    query_number(&query, number);
    *ret = (struct bowl){.id = 0};
    return query_row(&query, read_bowl, ret, NULL, err);
}

static bool log_begun(struct ledger *ledger, int64_t id, int number, int expected, const char *day,
                      struct err *err)
{
    struct change about = {"bowl", id, 0, ""};
    char numbered[NUMBER_SIZE], counted[NUMBER_SIZE] = "";
    snprintf(numbered, sizeof numbered, "%d", number);
    if (expected != 0)
        snprintf(counted, sizeof counted, "%d", expected);
    return audit_log_begin(ledger, &about, "number", numbered, err) &&
           audit_log_begin(ledger, &about, "expected", counted, err) &&
           audit_log_begin(ledger, &about, "day", day, err);
}

static bool add_bowl(struct ledger *ledger, int64_t round_id, int number, int expected,
                     const char *day, struct err *err)
{
    int64_t id;
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_BOWL_ADD, id);
    query_number(&query, round_id);
    query_number(&query, number);
    query_number_or_null(&query, expected, 0);
    query_text(&query, day);
    return query_run(&query, err) && log_begun(ledger, id, number, expected, day, err);
}

/* Where a bowl is counted again the old number is kept in the audit log. */
static bool expect_fish(struct ledger *ledger, const struct bowl *bowl, int expected,
                        struct err *err)
{
    struct change about = {"bowl", bowl->id, 0, ""};
    char was[NUMBER_SIZE] = "", becomes[NUMBER_SIZE];
    if (bowl->expected != 0)
        snprintf(was, sizeof was, "%d", bowl->expected);
    snprintf(becomes, sizeof becomes, "%d", expected);
    struct query query = query_with(ledger, SQL_BOWL_EXPECT, expected);
    query_number(&query, bowl->id);
    return query_run(&query, err) && audit_log_add(ledger, &about, "expected", was, becomes, err);
}

/* `bowl` is what was found before the transaction began, and somebody may have been quicker. */
static bool add_or_expect(struct ledger *ledger, struct bowl *bowl, int expected, const char *day,
                          struct err *err)
{
    int64_t round_id = bowl->round_id;
    int number = bowl->number;
    if (!find_bowl(ledger, round_id, number, bowl, err))
        return false;
    bool written = bowl->id == 0 ? add_bowl(ledger, round_id, number, expected, day, err)
                                 : expect_fish(ledger, bowl, expected, err);
    return written && find_bowl(ledger, round_id, number, bowl, err);
}

bool bowl_begin(struct ledger *ledger, int64_t round_id, int number, int expected, const char *day,
                struct bowl *ret, struct err *err)
{
    struct bowl bowl;
    if (!find_bowl(ledger, round_id, number, &bowl, err))
        return false;
    bool begins = bowl.id == 0;
    if (begins || (expected != 0 && expected != bowl.expected)) {
        bowl.round_id = round_id;
        bowl.number = number;
        if (!transaction_begin(ledger, err) ||
            !transaction_end(ledger, add_or_expect(ledger, &bowl, expected, day, err), err))
            return false;
        bowl.begun = begins;
    }
    *ret = bowl;
    return true;
}
