/* Varieties in the ledger. A spawning or a parent keeps its variety by name, as a foreign key that
 * follows when the name changes, so that reports read it without looking anything up; other
 * spellings are settled when a record is written. */
#include "senbetsu/store/varieties.h"
#include "audit_log.h"
#include "senbetsu/base/text.h"

#include <stdlib.h>
#include <string.h>

static void read_variety(struct query *query, void *ret_item)
{
    struct variety *ret = ret_item;
    *ret = (struct variety){.id = row_id(query)};
    row_record(query, variety_columns, VARIETY_COLUMN_COUNT, ret);
}

bool variety_list(struct ledger *ledger, struct variety **ret, size_t *ret_count, struct err *err)
{
    struct query query = query_begin(ledger, SQL_VARIETY_LIST);
    return query_rows(&query, read_variety, sizeof **ret, ret, ret_count, err);
}

static bool refuse(const struct variety *varieties, size_t count, const char *text, struct err *err)
{
    bool typo;
    const struct variety *nearest = variety_nearest(varieties, count, text, &typo);
    if (nearest == NULL)
        return err_set(err, ERR_ABSENT, "There is no variety \"%s\".", text);
    return err_set(err, ERR_ABSENT, "There is no variety \"%s\"; the nearest is %s%s%s.", text,
                   nearest->name, nearest->japanese[0] != '\0' ? " " : "", nearest->japanese);
}

bool variety_get(struct ledger *ledger, const char *text, struct variety *ret, struct err *err)
{
    struct variety *varieties;
    size_t count;
    if (!variety_list(ledger, &varieties, &count, err))
        return false;
    const struct variety *found = variety_find(varieties, count, text);
    if (found != NULL)
        *ret = *found;
    else
        refuse(varieties, count, text, err);
    bool known = found != NULL;
    free(varieties);
    return known;
}

/* Most are written as the list has them: those are not looked for in every spelling. */
bool variety_settle(struct ledger *ledger, char text[CODE_SIZE], struct err *err)
{
    struct variety variety;
    int64_t known = 0;
    struct query query = query_begin(ledger, SQL_VARIETY_NAMED);
    query_text(&query, text);
    if (!query_single(&query, &known, err))
        return false;
    if (known || text[0] == '\0')
        return true;
    if (!variety_get(ledger, text, &variety, err))
        return false;
    text_copy(text, CODE_SIZE, variety.name);
    return true;
}

/* No name may be that of two. */
static bool check_name(const struct variety *varieties, size_t count, const struct variety *variety,
                       const char *name, struct err *err)
{
    for (size_t i = 0; name[0] != '\0' && i < count; i++)
        if (varieties[i].id != variety->id && variety_is(&varieties[i], name))
            return err_set(err, ERR_INPUT, "%s is a name of the variety %s already.", name,
                           varieties[i].name);
    return true;
}

/* A retired one keeps its name: it comes back where that is said again. */
static bool name_is_not_retired(struct ledger *ledger, const struct variety *variety,
                                struct err *err)
{
    int64_t retired = 0;
    struct query query = query_begin(ledger, SQL_VARIETY_RETIRED_NAMED);
    query_text(&query, variety->name);
    return query_single(&query, &retired, err) &&
           (retired == 0 || retired == variety->id ||
            err_set(err, ERR_INPUT, "%s is a variety that is retired; choose another name.",
                    variety->name));
}

static bool check(struct ledger *ledger, const struct variety *variety, struct err *err)
{
    struct variety *varieties;
    size_t count;
    char spelling[CODE_SIZE];
    if (!code_check(variety->name, "The variety's name", err) ||
        !name_is_not_retired(ledger, variety, err) ||
        !variety_list(ledger, &varieties, &count, err))
        return false;
    bool fine = check_name(varieties, count, variety, variety->name, err) &&
                check_name(varieties, count, variety, variety->japanese, err);
    for (const char *list = variety->spellings; fine && code_next(&list, spelling);)
        fine = check_name(varieties, count, variety, spelling, err);
    free(varieties);
    return fine;
}

static bool store(struct ledger *ledger, enum sql sql, const struct variety *variety,
                  struct err *err)
{
    struct query query = query_with(ledger, sql, variety->id);
    query_record(&query, variety_columns, VARIETY_COLUMN_COUNT, variety);
    return query_run(&query, err);
}

static bool change(struct ledger *ledger, const struct variety *known, const struct variety *said,
                   int64_t judge, const char *why, enum saved *ret_saved, struct err *err)
{
    struct variety variety = *said;
    struct change change = {"variety", known->id, judge, why};
    if (!variety_add_spelling(&variety, known->name))
        return err_set(err, ERR_INPUT, "%s has no room for another spelling.", known->name);
    bool same = columns_equal(variety_columns, VARIETY_COLUMN_COUNT, known, &variety);
    *ret_saved = same ? SAVED_SAME : SAVED_CHANGED;
    return same ||
           (check(ledger, &variety, err) && store(ledger, SQL_VARIETY_CHANGE, &variety, err) &&
            audit_log_compare(ledger, &change, variety_columns, VARIETY_COLUMN_COUNT, known,
                              &variety, err));
}

/* A name that was retired comes back where it is said again. */
static bool bring_back(struct ledger *ledger, const char *name, int64_t judge, const char *why,
                       struct err *err)
{
    int64_t retired = 0;
    struct query query = query_begin(ledger, SQL_VARIETY_RETIRED_NAMED);
    query_text(&query, name);
    if (!query_single(&query, &retired, err))
        return false;
    if (retired == 0)
        return true;
    struct change change = {"variety", retired, judge, why};
    query = query_with(ledger, SQL_VARIETY_UNRETIRE, retired);
    return query_run(&query, err) && audit_log_add(ledger, &change, "retired", "yes", "", err);
}

static bool add(struct ledger *ledger, struct variety *variety, int64_t judge, const char *why,
                struct err *err)
{
    if (!office_id(ledger, "variety", variety->name, &variety->id, err))
        return false;
    struct change about = {"variety", variety->id, judge, why};
    return store(ledger, SQL_VARIETY_ADD, variety, err) &&
           audit_log_begin_record(ledger, &about, variety_columns, VARIETY_COLUMN_COUNT, variety,
                                  err);
}

static bool save(struct ledger *ledger, const struct variety *said, int64_t judge, const char *why,
                 enum saved *ret_saved, struct err *err)
{
    struct variety variety = *said, known = {.id = 0};
    struct err none = {0};
    if (!bring_back(ledger, said->name, judge, why, err))
        return false;
    if (variety_get(ledger, said->name, &known, &none)) {
        text_copy(variety.name, sizeof variety.name, known.name);
        columns_merge(variety_columns, VARIETY_COLUMN_COUNT, &known, &variety);
        variety.id = known.id;
        return change(ledger, &known, &variety, judge, why, ret_saved, err);
    }
    if (none.code != ERR_ABSENT)
        return err_set(err, none.code, "%s", none.text);
    *ret_saved = SAVED_NEW;
    return check(ledger, &variety, err) && add(ledger, &variety, judge, why, err);
}

bool variety_save(struct ledger *ledger, const struct variety *variety, int64_t judge,
                  const char *why, enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, save(ledger, variety, judge, why, ret_saved, err), err);
}

static bool change_one(struct ledger *ledger, const struct variety *variety, int64_t judge,
                       const char *why, enum saved *ret_saved, struct err *err)
{
    struct variety known;
    struct query query = query_with(ledger, SQL_VARIETY_BY_ID, variety->id);
    return query_row(&query, read_variety, &known, "This variety is not in the ledger.", err) &&
           change(ledger, &known, variety, judge, why, ret_saved, err);
}

bool variety_change(struct ledger *ledger, const struct variety *variety, int64_t judge,
                    const char *why, enum saved *ret_saved, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, change_one(ledger, variety, judge, why, ret_saved, err), err);
}
