/* The check of a whole ledger. What was recorded is compared with the rules that every writer
 * keeps; what is derived (verdicts, instants, counters) is worked out anew from what was recorded,
 * compared, and corrected. */
#include "query.h"
#include "senbetsu/base/text.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"
#include "strokes.h"

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

/* One finding for every row of a statement: a '%' of `format` is the row's next column. */
static bool check_rows(struct inspection *inspection, enum sql sql, const char *format,
                       struct err *err)
{
    struct text sentence;
    text_init(&sentence);
    struct query query = query_begin(inspection->ledger, sql);
    while (query_step(&query)) {
        text_clear(&sentence);
        row_sentence(&query, format, &sentence);
        report(inspection, sentence.data);
    }
    text_done(&sentence);
    return query_end(&query, err);
}

/* What SQLite itself can tell, and what must hold between the records as they were made. A wrong
 * one of these cannot be put right here: it says that something else wrote to the file. */
static const struct rule {
    enum sql sql; /* lists what breaks it */
    const char *format;
} rules[] = {
    {SQL_INTEGRITY_CHECK, "The file is damaged: %."},
    {SQL_DANGLING_RECORDS, "A record of % (row %) belongs to a % that is missing."},
    {SQL_UNDO_ELSEWHERE,
     "Bowl %, fish %: an undo names a stroke of another fish, or another undo."},
    {SQL_TALLY_UNDO_ELSEWHERE,
     "The tally of lot %, stage %: an undo names a key of another round, or another undo."},
    {SQL_FIRST_LOOK_UNDO_ELSEWHERE,
     "The first look of lot %, stage %: an undo names a key of another round, or another undo."},
    {SQL_LOT_SOURCES_WRONG, "Lot %: the spawnings of its fish are not those of its name."},
    {SQL_LOT_EVENT_STRANGERS, "Lot %: it has fish of a spawning that is not one of its own."},
    {SQL_LOT_UNDO_ELSEWHERE, "Lot %: an undo names an event of another lot, or another undo."},
    {SQL_LOT_UNDO_TWICE, "Lot %: an event was undone twice."},
};

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
    struct round *rounds;
    size_t count;
    bool fine = true;
    if (!round_list(inspection->ledger, NULL, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++) {
        struct standard_version version;
        struct round *round = &rounds[i];
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

/* Reports the rows of one statement and, where there are any, puts all right with another. */
static bool rebuild(struct inspection *inspection, enum sql wrong, const char *format,
                    enum sql rebuilds, struct err *err)
{
    int before = inspection->findings;
    if (!check_rows(inspection, wrong, format, err))
        return false;
    if (inspection->findings == before)
        return true;
    struct query query = query_begin(inspection->ledger, rebuilds);
    return query_run(&query, err);
}

/* Whatever is derived is put right at once; nothing that was recorded is ever touched. Each comes
 * after what it is derived from, and what follows from a correction is corrected with it, so that
 * nothing is found wrong twice: bowls are counted anew before rounds, which add them up; what
 * stands of a fish is compared with its own row before that is compared with its strokes. */
static bool check_derived(struct inspection *inspection, struct err *err)
{
    return rebuild(
               inspection, SQL_WRONG_INSTANTS,
               "Bowl %, fish %: when it was closed, or by whom, did not match its strokes; it was "
               "corrected.",
               SQL_INSTANTS_REBUILD, err) &&
           rebuild(inspection, SQL_LATEST_PASS_WRONG,
                   "Lot %, stage %: its latest pass was not the one it names; it was corrected.",
                   SQL_LATEST_PASS_REBUILD, err) &&
           rebuild(inspection, SQL_STANDING_WRONG,
                   "Lot %, stage %, bowl %, fish %: what stands of it did not match its judgement "
                   "and the latest pass; it was corrected.",
                   SQL_STANDING_REBUILD, err) &&
           check_verdicts(inspection, err) &&
           rebuild(inspection, SQL_BOWLS_MISCOUNTED,
                   "Lot %, stage %, bowl %: its fish by verdict were miscounted; they were counted "
                   "again.",
                   SQL_BOWLS_RECOUNT, err) &&
           rebuild(inspection, SQL_ROUNDS_MISCOUNTED,
                   "Lot %, stage %: its fish by verdict were miscounted; they were counted again.",
                   SQL_ROUNDS_RECOUNT, err);
}

bool ledger_check(struct ledger *ledger, void (*found)(void *context, const char *sentence),
                  void *context, int *ret_findings, struct err *err)
{
    struct inspection inspection = {ledger, found, context, 0};
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (!check_rows(&inspection, rules[i].sql, rules[i].format, err))
            return false;
    /* A damaged file is not written to. */
    if (inspection.findings == 0 &&
        (!transaction_begin(ledger, err) ||
         !transaction_end(ledger, check_derived(&inspection, err), err)))
        return false;
    *ret_findings = inspection.findings;
    return true;
}
