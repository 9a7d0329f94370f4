/* What two stations said differently. Nothing is kept about it but the log: an entry says how many
 * about the same field were known when it was made (`revision`), so one that has more before it
 * than that did not know them all. Where the latest is such a one, somebody has to decide between
 * it and what the other stations said last; whoever says anything about the field has decided, for
 * the entry that this makes knows all of them. */
#include "senbetsu/store/join.h"

#include "derived.h"
#include "query.h"
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "settle.h"

#include <stdlib.h>
#include <string.h>

enum { SAID_MOST = sizeof((struct difference *)NULL)->said / sizeof(struct statement_of) };

/* One row of the list: a station's say, with the field that it is about. */
struct say {
    char title[DIFFERENCE_TEXT_SIZE];
    char field[CODE_SIZE];
    struct statement_of said;
};

static void read_say(struct query *query, void *ret_item)
{
    struct say *ret = ret_item;
    *ret = (struct say){.title = ""};
    row_text_cut(query, ret->title, sizeof ret->title);
    row_text_cut(query, ret->field, sizeof ret->field);
    ret->said.entry = row_id(query);
    row_text_cut(query, ret->said.value, sizeof ret->said.value);
    row_text_cut(query, ret->said.judge, sizeof ret->said.judge);
    row_text_cut(query, ret->said.station, sizeof ret->said.station);
    ret->said.at_ms = row_between(query, INT64_MIN, INT64_MAX);
    ret->said.stands = row_flag(query);
}

/* The one that stands is the first about its field. */
static size_t gather(const struct say *says, size_t count, struct difference *differences)
{
    size_t found = 0;
    for (size_t i = 0; i < count; i++) {
        if (says[i].said.stands) {
            struct difference *difference = &differences[found++];
            *difference = (struct difference){.count = 0};
            text_copy(difference->title, sizeof difference->title, says[i].title);
            text_copy(difference->field, sizeof difference->field, says[i].field);
        }
        if (found > 0 && differences[found - 1].count < SAID_MOST)
            differences[found - 1].said[differences[found - 1].count++] = says[i].said;
    }
    return found;
}

bool difference_list(struct ledger *ledger, struct difference **ret, size_t *ret_count,
                     struct err *err)
{
    struct say *says;
    size_t count;
    struct query query = query_begin(ledger, SQL_DIFFERENCES);
    if (!query_rows(&query, read_say, sizeof *says, &says, &count, err))
        return false;
    struct difference *differences = alloc_zeroed(count + 1, sizeof *differences);
    *ret_count = gather(says, count, differences);
    *ret = differences;
    free(says);
    return true;
}

static bool say_again(struct ledger *ledger, int64_t entry, int64_t judge, const char *why,
                      struct err *err)
{
    int64_t id;
    if (!new_id(ledger, &id, err))
        return false;
    struct query query = query_with(ledger, SQL_DIFFERENCE_DECIDE, id);
    query_number(&query, entry);
    query_number(&query, clock_now(&ledger->clock));
    query_number_or_null(&query, judge, 0);
    query_text(&query, why);
    if (!query_run(&query, err))
        return false;
    return sqlite3_changes(ledger->db) == 1 ||
           err_set(err, ERR_ABSENT, "There is no such entry in the audit log.");
}

/* Where a fish is are two entries, made one after the other. */
static bool also_number(struct ledger *ledger, int64_t entry, int64_t judge, const char *why,
                        struct err *err)
{
    int64_t number = 0;
    struct query query = query_with(ledger, SQL_DIFFERENCE_PAIR, entry);
    return query_single(&query, &number, err) &&
           (number == 0 || say_again(ledger, number, judge, why, err));
}

static bool decide(struct ledger *ledger, int64_t entry, int64_t judge, const char *why,
                   struct err *err)
{
    return say_again(ledger, entry, judge, why, err) &&
           also_number(ledger, entry, judge, why, err) && records_settle(ledger, err) &&
           derived_rebuild(ledger, err);
}

bool difference_decide(struct ledger *ledger, int64_t entry, int64_t judge, const char *why,
                       struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, decide(ledger, entry, judge, why, err), err);
}

/* What a statement lists, and the sentence over each of its rows. */
static const struct {
    enum sql sql;
    const char *format;
} clashes[] = {
    {SQL_CLASH_NAMES, "Two live records were named %: one is shown as %; rename or retire one."},
    {SQL_CLASH_BOWLS, "Two bowls got the number % (% cull of lot %): one is shown as %; look at "
                      "what is painted on them."},
    {SQL_CLASH_ROUNDS, "Lot % has two % culls; change or retire one."},
    {SQL_CLASH_HELD, "The % was retired, but something that is not retired needs it: so it stays."},
    {SQL_CLASH_STANDARDS,
     "Two stations saved a version % of the standard %: the later stands; save it once more, as it "
     "is to be."},
};

bool clash_list(struct ledger *ledger, char ***ret, size_t *ret_count, struct err *err)
{
    char **sentences = NULL;
    size_t count = 0, capacity = 0;
    bool fine = true;
    for (size_t i = 0; fine && i < sizeof clashes / sizeof *clashes; i++) {
        struct query query = query_begin(ledger, clashes[i].sql);
        while (query_step(&query)) {
            struct text sentence;
            text_init(&sentence);
            row_sentence(&query, clashes[i].format, &sentence);
            sentences = alloc_room(sentences, count, &capacity, sizeof *sentences);
            sentences[count++] = alloc_text(sentence.data);
            text_done(&sentence);
        }
        fine = query_end(&query, err);
    }
    if (!fine) {
        clashes_free(sentences, count);
        return false;
    }
    *ret = sentences;
    *ret_count = count;
    return true;
}

void clashes_free(char **sentences, size_t count)
{
    for (size_t i = 0; i < count; i++)
        free(sentences[i]);
    free(sentences);
}
