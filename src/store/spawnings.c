#include "senbetsu/store/spawnings.h"

#include "audit_log.h"
#include "lots.h"
#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/date.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/parents.h"

#include <stdlib.h>
#include <string.h>

enum { SPAWNING_FIELDS = 9, SIRES_MOST = SIRES_SIZE / 2 };

static void list_fields(const struct spawning *spawning, struct field ret[SPAWNING_FIELDS])
{
    ret[0] = field_number("season", spawning->season, 0);
    ret[1] = field_text("date", spawning->date);
    ret[2] = field_text("variety", spawning->variety);
    ret[3] = field_text("dam", spawning->dam);
    ret[4] = field_text("sires", spawning->sires);
    ret[5] = field_text("siring", siring_terms[spawning->siring].word);
    ret[6] = field_number("eggs", spawning->eggs, UNKNOWN_COUNT);
    ret[7] = field_number("hatched", spawning->hatched, UNKNOWN_COUNT);
    ret[8] = field_text("note", spawning->note);
}

static void read_spawning(struct query *query, struct spawning *ret)
{
    *ret = (struct spawning){.id = row_number(query)};
    row_text(query, ret->code, sizeof ret->code);
    ret->season = (int)row_number(query);
    row_text(query, ret->date, sizeof ret->date);
    row_text(query, ret->variety, sizeof ret->variety);
    row_text(query, ret->dam, sizeof ret->dam);
    row_text(query, ret->sires, sizeof ret->sires);
    ret->siring = (enum siring)row_word(query, siring_terms, SIRING_COUNT);
    ret->eggs = row_number_or(query, UNKNOWN_COUNT);
    ret->hatched = row_number_or(query, UNKNOWN_COUNT);
    row_text(query, ret->note, sizeof ret->note);
}

static bool find(struct ledger *ledger, const char *code, struct spawning *ret, struct err *err)
{
    struct query query;
    *ret = (struct spawning){.id = 0, .eggs = UNKNOWN_COUNT, .hatched = UNKNOWN_COUNT};
    query_begin(&query, ledger, SQL_SPAWNING_NAMED);
    query_text(&query, code);
    if (query_step(&query))
        read_spawning(&query, ret);
    return query_end(&query, err);
}

bool spawning_get(struct ledger *ledger, const char *code, struct spawning *ret, struct err *err)
{
    struct spawning spawning;
    if (!find(ledger, code, &spawning, err))
        return false;
    if (spawning.id == 0)
        return err_set(err, ERR_ABSENT, "There is no spawning %s in the ledger.", code);
    *ret = spawning;
    return true;
}

bool spawning_list(struct ledger *ledger, struct spawning **ret, size_t *ret_count, struct err *err)
{
    struct spawning *spawnings = NULL;
    size_t count = 0;
    size_t capacity = 0;
    struct query query;
    query_begin(&query, ledger, SQL_SPAWNING_LIST);
    while (query_step(&query)) {
        spawnings = alloc_room(spawnings, count, &capacity, sizeof *spawnings);
        read_spawning(&query, &spawnings[count++]);
    }
    return query_list(&query, spawnings, count, ret, ret_count, err);
}

static struct spawning merge(const struct spawning *known, const struct spawning *said)
{
    struct spawning merged = *said;
    merged.id = known->id;
    if (said->season == 0)
        merged.season = known->season;
    if (said->eggs == UNKNOWN_COUNT)
        merged.eggs = known->eggs;
    if (said->hatched == UNKNOWN_COUNT)
        merged.hatched = known->hatched;
    if (*said->date == '\0')
        text_copy(merged.date, sizeof merged.date, known->date);
    if (*said->variety == '\0')
        text_copy(merged.variety, sizeof merged.variety, known->variety);
    if (*said->dam == '\0')
        text_copy(merged.dam, sizeof merged.dam, known->dam);
    if (*said->sires == '\0')
        text_copy(merged.sires, sizeof merged.sires, known->sires);
    if (*said->note == '\0')
        text_copy(merged.note, sizeof merged.note, known->note);
    return merged;
}

/* The sires one by one; the codes point into `list`, which is cut up. */
static int split_sires(char *list, char *ret_codes[SIRES_MOST])
{
    int count = 0;
    char *rest = NULL;
    for (char *code = strtok_r(list, ";", &rest); code != NULL; code = strtok_r(NULL, ";", &rest))
        ret_codes[count++] = code;
    return count;
}

static int compare_codes(const void *a, const void *b)
{
    const char *const *left = a;
    const char *const *right = b;
    return strcmp(*left, *right);
}

/* In order of code and each once, as the ledger gives them back. */
static void sort_sires(char sires[SIRES_SIZE])
{
    char list[SIRES_SIZE];
    char *codes[SIRES_MOST];
    struct text sorted;
    text_copy(list, sizeof list, sires);
    int count = split_sires(list, codes);
    qsort(codes, (size_t)count, sizeof *codes, compare_codes);

    text_init(&sorted);
    for (int i = 0; i < count; i++) {
        if (i > 0 && strcmp(codes[i], codes[i - 1]) == 0)
            continue;
        text_addf(&sorted, "%s%s", i > 0 ? ";" : "", codes[i]);
    }
    text_copy(sires, SIRES_SIZE, sorted.data);
    text_done(&sorted);
}

static bool check_sires(struct ledger *ledger, const struct spawning *spawning, struct err *err)
{
    char list[SIRES_SIZE];
    char *codes[SIRES_MOST];
    text_copy(list, sizeof list, spawning->sires);
    int count = split_sires(list, codes);
    for (int i = 0; i < count; i++)
        if (!parent_serves(ledger, codes[i], false, err))
            return false;
    if (spawning->siring == SIRING_SINGLE && count > 1)
        return err_set(err, ERR_INPUT,
                       "Spawning %s has %d sires, so its siring is split, pooled or group, not "
                       "single.",
                       spawning->code, count);
    return true;
}

static bool check(struct ledger *ledger, const struct spawning *spawning, struct err *err)
{
    if (*spawning->date != '\0' && !date_valid(spawning->date))
        return err_set(err, ERR_INPUT, "%s is not a date such as 2026-06-14.", spawning->date);
    if (*spawning->date != '\0' && date_year(spawning->date) != spawning->season)
        return err_set(err, ERR_INPUT, "Spawning %s is of %s, so its season is %d, not %d.",
                       spawning->code, spawning->date, date_year(spawning->date), spawning->season);
    if (spawning->season < 1900 || spawning->season > 2199)
        return err_set(err, ERR_INPUT, "Spawning %s needs a season, a year such as 2026.",
                       spawning->code);
    if (*spawning->dam != '\0' && !parent_serves(ledger, spawning->dam, true, err))
        return false;
    return check_sires(ledger, spawning, err);
}

static bool store_sires(struct ledger *ledger, const struct spawning *spawning, struct err *err)
{
    char list[SIRES_SIZE];
    char *codes[SIRES_MOST];
    struct query query;
    text_copy(list, sizeof list, spawning->sires);
    int count = split_sires(list, codes);
    query_begin(&query, ledger, SQL_SIRES_CLEAR);
    query_number(&query, spawning->id);
    bool fine = query_run(&query, err);
    for (int i = 0; fine && i < count; i++) {
        query_begin(&query, ledger, SQL_SIRE_ADD);
        query_number(&query, spawning->id);
        query_text(&query, codes[i]);
        fine = query_run(&query, err);
    }
    return fine;
}

static bool store(struct ledger *ledger, enum sql sql, const struct spawning *spawning,
                  struct err *err)
{
    struct query query;
    query_begin(&query, ledger, sql);
    query_number(&query, spawning->id);
    query_text(&query, spawning->code);
    query_number(&query, spawning->season);
    query_text_or_null(&query, spawning->date);
    query_text(&query, spawning->variety);
    query_text(&query, spawning->dam);
    query_text(&query, siring_terms[spawning->siring].word);
    query_number_or_null(&query, spawning->eggs, UNKNOWN_COUNT);
    query_number_or_null(&query, spawning->hatched, UNKNOWN_COUNT);
    query_text(&query, spawning->note);
    return query_run(&query, err) && store_sires(ledger, spawning, err);
}

static bool add(struct ledger *ledger, struct spawning *spawning, enum saved *ret_saved,
                struct err *err)
{
    int64_t lot;
    if (!new_id(ledger, &spawning->id, err) || !store(ledger, SQL_SPAWNING_ADD, spawning, err) ||
        !lot_add(ledger, spawning->id, spawning->code, true, &lot, err))
        return false;
    *ret_saved = SAVED_NEW;
    return true;
}

static bool change(struct ledger *ledger, const struct spawning *known,
                   const struct spawning *merged, int64_t judge, const char *why,
                   enum saved *ret_saved, struct err *err)
{
    struct field was[SPAWNING_FIELDS];
    struct field becomes[SPAWNING_FIELDS];
    list_fields(known, was);
    list_fields(merged, becomes);
    if (fields_equal(was, becomes, SPAWNING_FIELDS)) {
        *ret_saved = SAVED_SAME;
        return true;
    }
    struct change about = {"spawning", known->id, judge, why};
    if (!store(ledger, SQL_SPAWNING_CHANGE, merged, err) ||
        !amendments_record(ledger, &about, was, becomes, SPAWNING_FIELDS, err))
        return false;
    *ret_saved = SAVED_CHANGED;
    return true;
}

static bool save(struct ledger *ledger, const struct spawning *spawning, int64_t judge,
                 const char *why, enum saved *ret_saved, struct err *err)
{
    struct spawning known;
    if (!code_check(spawning->code, "The spawning's code", err) ||
        !find(ledger, spawning->code, &known, err))
        return false;
    struct spawning merged = merge(&known, spawning);
    sort_sires(merged.sires);
    if (!check(ledger, &merged, err))
        return false;
    return known.id == 0 ? add(ledger, &merged, ret_saved, err)
                         : change(ledger, &known, &merged, judge, why, ret_saved, err);
}

bool spawning_save(struct ledger *ledger, const struct spawning *spawning, int64_t judge,
                   const char *why, enum saved *ret_saved, struct err *err)
{
    return write_begin(ledger, err) &&
           write_end(ledger, save(ledger, spawning, judge, why, ret_saved, err), err);
}
