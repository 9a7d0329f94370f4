#include "cached_verdicts.h"
#include "query.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"

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
        text_addf(&sentence, "A record of %s (row %lld) belongs to a %s that is missing.", table,
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
        text_addf(
            &sentence,
            "The %s of lot %s, stage %s: an undo names a key of another round, or another undo.",
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
                      "the spawnings of its fish are not those of its name", err) &&
           check_lots(inspection, SQL_LOT_EVENT_STRANGERS,
                      "it has fish of a spawning that is not one of its own", err) &&
           check_lots(inspection, SQL_LOT_UNDO_ELSEWHERE,
                      "an undo names an event of another lot, or another undo", err) &&
           check_lots(inspection, SQL_LOT_UNDO_TWICE, "an event was undone twice", err);
}

/* Hears of fish of a round. */
struct round_inspection {
    struct inspection *inspection;
    const struct round *round;
};

static void verdict_differs(void *context, int bowl, int number)
{
    const struct round_inspection *about = context;
    struct text sentence;
    text_init(&sentence);
    text_addf(&sentence,
              "Lot %s, stage %s, bowl %d, fish %d: its verdict did not match its strokes; it was "
              "corrected.",
              about->round->lot, stage_terms[about->round->stage].word, bowl, number);
    report(about->inspection, sentence.data);
    text_done(&sentence);
}

static bool check_verdicts(struct inspection *inspection, struct err *err)
{
    struct round_summary *rounds;
    size_t count;
    bool fine = true;
    if (!round_list(inspection->ledger, NULL, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++) {
        struct standard_version version;
        struct round *round = &rounds[i].round;
        struct round_inspection about = {inspection, round};
        struct verdict_reporter reporter = {verdict_differs, &about};
        if (round->standard[0] != '\0')
            fine =
                standard_named(inspection->ledger, round->standard, &version, err) &&
                verdicts_rebuild(inspection->ledger, round->id, &version.standard, &reporter, err);
    }
    free(rounds);
    return fine;
}

static bool rebuild(struct inspection *inspection, enum sql sql, struct err *err)
{
    struct query query;
    query_begin(&query, inspection->ledger, sql);
    return query_run(&query, err);
}

static bool check_instants(struct inspection *inspection, struct err *err)
{
    int before = inspection->findings;
    return check_fish(inspection, SQL_WRONG_INSTANTS,
                      "when it was closed, or by whom, did not match its strokes; it was corrected",
                      err) &&
           (inspection->findings == before || rebuild(inspection, SQL_INSTANTS_REBUILD, err));
}

/* Statements that list bowls (lot, stage, number) or rounds (lot, stage) that are miscounted. */
static bool check_counters(struct inspection *inspection, enum sql sql, bool bowls, struct err *err)
{
    char lot[CODE_SIZE];
    struct text sentence;
    struct query query;
    text_init(&sentence);
    query_begin(&query, inspection->ledger, sql);
    while (query_step(&query)) {
        row_text(&query, lot, sizeof lot);
        text_clear(&sentence);
        text_addf(&sentence, "Lot %s, stage %s", lot, row_text_in_place(&query));
        if (bowls)
            text_addf(&sentence, ", bowl %d", (int)row_number(&query));
        text_add(&sentence, ": its fish by verdict were miscounted; they were counted again.");
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

/* Bowls are counted anew before rounds, which add them up; but a round that differs only because a
 * bowl did is not found wrong twice. */
static bool check_all_counters(struct inspection *inspection, struct err *err)
{
    return check_counters(inspection, SQL_BOWLS_MISCOUNTED, true, err) &&
           rebuild(inspection, SQL_BOWLS_RECOUNT, err) &&
           check_counters(inspection, SQL_ROUNDS_MISCOUNTED, false, err) &&
           rebuild(inspection, SQL_ROUNDS_RECOUNT, err);
}

/* What is derived is put right at once; nothing that was recorded is ever touched. */
static bool check_derived(struct inspection *inspection, struct err *err)
{
    struct ledger *ledger = inspection->ledger;
    return write_begin(ledger, err) &&
           write_end(ledger,
                     check_instants(inspection, err) && check_verdicts(inspection, err) &&
                         check_all_counters(inspection, err),
                     err);
}

bool ledger_check(struct ledger *ledger, void (*found)(void *context, const char *sentence),
                  void *context, int *ret_findings, struct err *err)
{
    struct inspection inspection = {ledger, found, context, 0};
    bool ran = check_pages(&inspection, err) && check_references(&inspection, err) &&
               check_fish(&inspection, SQL_UNDO_ELSEWHERE,
                          "an undo names a stroke of another fish, or another undo", err) &&
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
