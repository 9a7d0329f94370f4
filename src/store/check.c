#include "cached_verdicts.h"
#include "connection.h"
#include "migrate.h"
#include "query.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/backup.h"

#include <stdlib.h>
#include <string.h>

/* Where findings go, and how many there were. */
struct inspection {
    struct ledger *ledger;
    void (*found)(void *context, const char *sentence);
    void *context;
    int findings;
};

static void report(struct inspection *inspection, const char *sentence)
{
    inspection->findings++;
    inspection->found(inspection->context, sentence);
}

static bool check_pages(struct inspection *inspection, struct err *err)
{
    struct text sentence;
    struct query query;
    text_init(&sentence);
    query_begin(&query, inspection->ledger, SQL_INTEGRITY_CHECK);
    while (query_step(&query)) {
        const char *line = row_text_in_place(&query);
        if (strcmp(line, "ok") == 0)
            continue;
        text_clear(&sentence);
        text_addf(&sentence, "The file is damaged: %s.", line);
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

static bool check_references(struct inspection *inspection, struct err *err)
{
    char table[64];
    char parent[64];
    struct text sentence;
    struct query query;
    text_init(&sentence);
    query_begin(&query, inspection->ledger, SQL_FOREIGN_KEY_CHECK);
    while (query_step(&query)) {
        row_text(&query, table, sizeof table);
        int64_t row = row_number(&query);
        row_text(&query, parent, sizeof parent);
        text_clear(&sentence);
        text_addf(&sentence, "A record of %s (row %lld) belongs to a %s that is not there.", table,
                  (long long)row, parent);
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

/* Statements that list fish by bowl and number, and what is the matter with them. */
static bool check_fish(struct inspection *inspection, enum sql sql, const char *matter,
                       struct err *err)
{
    struct text sentence;
    struct query query;
    text_init(&sentence);
    query_begin(&query, inspection->ledger, sql);
    while (query_step(&query)) {
        int bowl = (int)row_number(&query);
        int number = (int)row_number(&query);
        text_clear(&sentence);
        text_addf(&sentence, "Bowl %d, fish %d: %s.", bowl, number, matter);
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

/* Rounds in which a key takes back what it must not; `what` the keys were pressed in. */
static bool check_keys(struct inspection *inspection, enum sql sql, const char *what,
                       struct err *err)
{
    char lot[CODE_SIZE];
    struct text sentence;
    struct query query;
    text_init(&sentence);
    query_begin(&query, inspection->ledger, sql);
    while (query_step(&query)) {
        row_text(&query, lot, sizeof lot);
        text_clear(&sentence);
        text_addf(&sentence,
                  "The %s of lot %s, stage %s: a key takes back one that is not of its round or "
                  "is itself taking back.",
                  what, lot, row_text_in_place(&query));
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

/* Statements that list lots, and what is the matter with them. */
static bool check_lots(struct inspection *inspection, enum sql sql, const char *matter,
                       struct err *err)
{
    struct text sentence;
    struct query query;
    text_init(&sentence);
    query_begin(&query, inspection->ledger, sql);
    while (query_step(&query)) {
        text_clear(&sentence);
        text_addf(&sentence, "Lot %s: %s.", row_text_in_place(&query), matter);
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

static bool check_all_lots(struct inspection *inspection, struct err *err)
{
    return check_lots(inspection, SQL_LOT_SOURCES_WRONG,
                      "the spawnings that its fish are of are not those of its name", err) &&
           check_lots(inspection, SQL_LOT_EVENT_STRANGERS,
                      "fish of a spawning that it is not of were put into it", err) &&
           check_lots(inspection, SQL_LOT_UNDO_ELSEWHERE,
                      "an event takes back one that is not its own or is itself taking back",
                      err) &&
           check_lots(inspection, SQL_LOT_UNDO_TWICE, "an event was taken back twice", err);
}

static void standing_differs(void *context, const struct round *round, int bowl, int number)
{
    struct text sentence;
    text_init(&sentence);
    text_addf(&sentence,
              "Lot %s, stage %s, bowl %d, fish %d: its verdict so far was not what was recorded of "
              "it; it has been summed anew.",
              round->lot, stage_terms[round->stage].word, bowl, number);
    report(context, sentence.data);
    text_done(&sentence);
}

static bool check_standings(struct inspection *inspection, struct err *err)
{
    struct standing_reporter reporter = {standing_differs, inspection};
    struct round_summary *rounds;
    size_t count;
    bool fine = true;
    if (!round_list(inspection->ledger, NULL, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = standings_rebuild(inspection->ledger, &rounds[i].round, &reporter, err);
    free(rounds);
    return fine;
}

static bool check_instants(struct inspection *inspection, struct err *err)
{
    int before = inspection->findings;
    if (!check_fish(inspection, SQL_STANDING_WRONG_INSTANTS,
                    "when it was closed, or by whom, was not what was recorded; it has been summed "
                    "anew",
                    err))
        return false;
    if (inspection->findings == before)
        return true;
    struct query query;
    query_begin(&query, inspection->ledger, SQL_STANDING_INSTANTS);
    return query_run(&query, err);
}

/* What is derived is put right at once; nothing that was recorded is ever touched. */
static bool check_derived(struct inspection *inspection, struct err *err)
{
    struct ledger *ledger = inspection->ledger;
    return write_begin(ledger, err) &&
           write_end(ledger, check_instants(inspection, err) && check_standings(inspection, err),
                     err);
}

bool ledger_check(struct ledger *ledger, void (*found)(void *context, const char *sentence),
                  void *context, int *ret_findings, struct err *err)
{
    struct inspection inspection = {ledger, found, context, 0};
    bool ran =
        check_pages(&inspection, err) && check_references(&inspection, err) &&
        check_fish(&inspection, SQL_UNDO_ELSEWHERE,
                   "a stroke takes back one that is not its own or is itself taking back", err) &&
        check_keys(&inspection, SQL_TALLY_UNDO_ELSEWHERE, "tally", err) &&
        check_keys(&inspection, SQL_FIRST_LOOK_UNDO_ELSEWHERE, "first look", err) &&
        check_all_lots(&inspection, err);
    /* A damaged file is not written to. */
    if (ran && inspection.findings == 0)
        ran = check_derived(&inspection, err);
    if (ran)
        *ret_findings = inspection.findings;
    return ran;
}
