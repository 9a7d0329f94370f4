/* The check of a whole ledger. Each rule is a statement that lists what breaks it, in one of three
 * tables: what was recorded and cannot be so, what was recorded and is unlikely, and what is
 * derived and can be worked out anew. Where the file itself is damaged nothing more is asked of it.
 * Names of people and fish go into the sentences as they stand in the file, so that cells are read
 * here without the checks of query.h and made fit to be shown. */
#include "senbetsu/store/check.h"

#include "connection.h"
#include "query.h"
#include "senbetsu/base/text.h"
#include "senbetsu/base/utf8.h"
#include "senbetsu/store/rounds.h"
#include "senbetsu/store/standards.h"
#include "strokes.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

struct rule {
    enum sql sql;       /* lists what breaks it */
    const char *format; /* a sentence: a '%' is the row's next column */
    const char *means;
};

#define BACKUP                                                                                     \
    "Something else than senbetsu wrote to the file, or the disk lost a part of it: put your "     \
    "latest backup in its place with senbetsu restore."
#define WORKED_OUT "senbetsu check --repair works it out again from what was recorded."

/* What every writer keeps to, so that something else must have written what breaks it. */
static const struct rule impossible[] = {
    {SQL_STATION_MISSING, "The ledger does not say which station it is.", BACKUP},
    {SQL_DAYS_WRONG, "%: % is no day of the calendar.", BACKUP},
    {SQL_NUMBERS_WRONG, "%: % fish are more than there can be.", BACKUP},
    {SQL_UNDO_ELSEWHERE, "Bowl %, fish %: an undo names a stroke of another fish, or another undo.",
     BACKUP},
    {SQL_TALLY_UNDO_ELSEWHERE,
     "The tally of lot %, stage %: an undo names a key of another round, or another undo.", BACKUP},
    {SQL_FIRST_LOOK_UNDO_ELSEWHERE,
     "The first look of lot %, stage %: an undo names a key of another round, or another undo.",
     BACKUP},
    {SQL_LOT_UNDO_ELSEWHERE, "Lot %: an undo names an event of another lot, or another undo.",
     BACKUP},
    {SQL_LOT_UNDO_TWICE, "Lot %: an event was undone twice.", BACKUP},
    {SQL_UNDO_TOO_EARLY, "%: an undo stands before what it takes back.", BACKUP},
    {SQL_STROKES_OUT_OF_ORDER, "Lot %, stage %, bowl %, fish %: its strokes are out of order.",
     BACKUP},
    {SQL_MARKS_MISFIT,
     "Lot %, stage %, bowl %, fish %: a stroke has more or fewer scores than its standard asks "
     "for.",
     BACKUP},
    {SQL_STANDARD_MISSING, "Lot %, stage %: its standard % is not in the ledger.",
     "Nothing can be judged in this cull: import the standard of that name, or choose another "
     "for it."},
    {SQL_DECISION_ELSEWHERE, "Lot %, stage %: its pass decided a fish of another cull.", BACKUP},
    {SQL_SCOOP_WRONG, "Lot %, stage %: no scoops can have held % fish in % samples.", BACKUP},
    {SQL_SCOOP_ELSEWHERE, "Lot %, stage %: a key of its tally counts with a scoop of another cull.",
     BACKUP},
    {SQL_MIXED_SOURCES_WRONG, "Lot %: it is mixed, but of fewer than two spawnings.", BACKUP},
    {SQL_LOT_EVENT_STRANGERS, "Lot %: it has fish of a spawning that is not one of its own.",
     BACKUP},
    {SQL_OWN_ANCESTOR, "Parent %: by its dams and sires it descends from itself.",
     "Kinship and the parents' effects cannot be worked out: put its dam and sire, or those of "
     "its forebears, right on its screen."},
    {SQL_WRONG_SEX, "%: its % % is %.",
     "One of the two is wrong: put the sex of the parent right, or choose another."},
    {SQL_HISTORY_OF_NONE, "A change of a % is logged that is not in the ledger.", BACKUP},
};

/* What somebody may have entered so, or what two stations may have made of it. */
static const struct rule unlikely[] = {
    {SQL_PARENT_TOO_YOUNG, "%: its % % was born in %, not before it.",
     "One of the years is wrong: put it right on the screen of either."},
    {SQL_CULL_BEFORE_SPAWNING, "Lot %, stage %: its day % is before its spawning, %.",
     "One of the two days is wrong: put the cull's or the spawning's right."},
    {SQL_STROKE_BEFORE_BOWL, "Lot %, stage %, bowl %: it was judged before %, when it was set up.",
     "The bowl's day is wrong, or the clock was: put the day right on the bowl's form."},
    {SQL_LIVE_BELOW_RETIRED, "The % is not retired, but what it belongs to is.",
     "No list shows it: bring back what it belongs to, or retire it as well."},
    {SQL_JUDGED_AFTER_RETIRED, "Lot %, stage %, bowl %: it was judged after it was retired.",
     "Two stations may have done so, each for itself: bring it back, or leave it retired."},
    {SQL_JUDGE_CHAIN, "Judge % is said to be %, who is said to be somebody else.",
     "Say of the first whose name it should have been, on the screen of judges."},
    {SQL_OLD_INSTANTS, "%: % of before 2000, the first at % UTC.",
     "The clock of the machine was not set: see to it before the next cull, for days and paces "
     "go by it."},
    {SQL_CLOCK_JUMPS, "Station %: its clock went back from % to % UTC.",
     "What it recorded around then may be in a wrong order: see that its clock keeps time."},
};

struct derived {
    struct rule rule;
    enum sql rebuilds[2];
    int statements;
};

/* Each comes after what it is derived from, and what follows from a repair is repaired with it, so
 * that nothing is found wrong twice: bowls are counted anew before rounds, which add them up; what
 * stands of a fish is compared with its own row before that is compared with its strokes. */
static const struct derived before_verdicts[] = {
    {{SQL_LOT_SOURCES_WRONG, "Lot %: the spawnings of its fish are not those of its name.",
      "Rates and pairs count its fish for the wrong spawning: " WORKED_OUT},
     {SQL_LOT_SOURCES_CLEAR, SQL_LOT_SOURCES_REBUILD},
     2},
    {{SQL_WRONG_INSTANTS,
      "Bowl %, fish %: when it was closed, or by whom, is not what its strokes say.",
      "Paces and days are wrong: " WORKED_OUT},
     {SQL_INSTANTS_REBUILD},
     1},
    {{SQL_LATEST_PASS_WRONG, "Lot %, stage %: its latest pass is not the one it names.",
      "The list goes by the wrong pass: " WORKED_OUT},
     {SQL_LATEST_PASS_REBUILD},
     1},
    {{SQL_STANDING_WRONG,
      "Lot %, stage %, bowl %, fish %: what stands of it is not what its judgement and the latest "
      "pass say.",
      "The list and all counts go by it: " WORKED_OUT},
     {SQL_STANDING_REBUILD},
     1},
};
static const struct derived after_verdicts[] = {
    {{SQL_BOWLS_MISCOUNTED, "Lot %, stage %, bowl %: its fish by verdict are miscounted.",
      "Counts and rates go by it: " WORKED_OUT},
     {SQL_BOWLS_RECOUNT},
     1},
    {{SQL_ROUNDS_MISCOUNTED, "Lot %, stage %: its fish by verdict are miscounted.",
      "Counts and rates go by it: " WORKED_OUT},
     {SQL_ROUNDS_RECOUNT},
     1},
    {{SQL_PASSES_MISCOUNTED, "Lot %, stage %: the fish that a pass decided are miscounted.",
      "What has come in since the pass is told wrongly: " WORKED_OUT},
     {SQL_PASSES_RECOUNT},
     1},
    {{SQL_SERIAL_BEHIND, "Station %: it would give numbers a second time.",
      "New keys would be refused: " WORKED_OUT},
     {SQL_SERIAL_REBUILD},
     1},
};

#define COUNT_OF(list) (sizeof(list) / sizeof *(list))

enum { SHOWN = 3, STEPS = 40, TICKS = 200000 };

struct inspection {
    struct ledger *ledger;
    const struct check_listener *listener;
    struct check_result *result;
    bool repairs;
    int steps; /* done so far */
    /* What the rule at hand has found so far. */
    size_t count;
    struct text lines, says;
};

static void tell_step(struct inspection *inspection)
{
    if (inspection->listener->step != NULL)
        inspection->listener->step(inspection->listener->context,
                                   inspection->steps < STEPS ? inspection->steps : STEPS, STEPS);
}

static int tick(void *context)
{
    tell_step(context);
    return 0;
}

static void begin_rule(struct inspection *inspection)
{
    inspection->steps++;
    tell_step(inspection);
    inspection->count = 0;
    text_clear(&inspection->lines);
    text_clear(&inspection->says);
}

static void add_line(struct inspection *inspection, const char *line)
{
    if (inspection->count++ < SHOWN)
        text_addf(&inspection->lines, "%s\n", line);
}

/* Hands over what the rule at hand has found. */
static void end_rule(struct inspection *inspection, const char *means, bool remark, bool repaired)
{
    struct check_result *result = inspection->result;
    if (inspection->count == 0)
        return;
    *(repaired ? &result->repaired
      : remark ? &result->remarks
               : &result->wrong) += inspection->count;
    struct finding finding = {.remark = remark,
                              .repaired = repaired,
                              .count = inspection->count,
                              .lines = inspection->lines.data,
                              .means = means,
                              .says = inspection->says.data};
    inspection->listener->found(inspection->listener->context, &finding);
}

/* A cell as it can be shown, whatever stands in it: one line, not too long. */
static void add_cell(struct query *query, struct text *out)
{
    enum { CELL = 40 };
    const char *cell = (const char *)sqlite3_column_text(query->statement, query->column++);
    int count = 0;
    for (uint32_t code; cell != NULL && (code = utf8_next(&cell)) != 0;) {
        char bytes[8];
        if (count++ == CELL) {
            text_add(out, "…");
            return;
        }
        utf8_encode(utf8_printable(code) ? code : '?', bytes);
        text_add(out, bytes);
    }
}

static void add_row(struct query *query, const char *format, struct text *out)
{
    for (const char *at = format; *at != '\0'; at += *at == '%') {
        size_t plain = strcspn(at, "%");
        text_add_bytes(out, at, plain);
        at += plain;
        if (*at == '%')
            add_cell(query, out);
    }
}

/* A line for every row. */
static bool find_rows(struct inspection *inspection, struct query *query, const char *format,
                      struct err *err)
{
    struct text line;
    text_init(&line);
    while (query_step(query)) {
        text_clear(&line);
        add_row(query, format, &line);
        add_line(inspection, line.data);
    }
    text_done(&line);
    return query_end(query, err);
}

static bool check_rule(struct inspection *inspection, const struct rule *rule, bool remark,
                       struct err *err)
{
    begin_rule(inspection);
    struct query query = query_begin(inspection->ledger, rule->sql);
    if (!find_rows(inspection, &query, rule->format, err))
        return false;
    end_rule(inspection, rule->means, remark, false);
    return true;
}

/* The file itself. */

/* What SQLite says, by the words in it, and what that is to a breeder. */
static const struct {
    const char *word, *line;
} damages[] = {
    {"CHECK constraint", "A record holds a value that cannot be."},
    {"NULL value", "A record lacks a value that it must have."},
    {"value in", "A record holds a value that cannot be."},
    {"missing from index", "A record is not found by its name or number, though it is there."},
    {"index", "What finds records quickly does not fit the records."},
    {"", "A part of the file is not what was written to it."},
};

static const char *damage_line(const char *says)
{
    size_t i = 0;
    while (strstr(says, damages[i].word) == NULL)
        i++;
    return damages[i].line;
}

static bool check_pages(struct inspection *inspection, struct err *err)
{
    struct text said;
    text_init(&said);
    begin_rule(inspection);
    connection_refused(inspection->ledger->db);
    struct query query = query_begin(inspection->ledger, SQL_INTEGRITY_CHECK);
    while (query_step(&query)) {
        text_clear(&said);
        add_cell(&query, &said);
        const char *line = damage_line(said.data);
        if (strstr(inspection->lines.data, line) == NULL)
            text_addf(&inspection->lines, "%s\n", line);
        if (inspection->count++ < SHOWN)
            text_addf(&inspection->says, "%s%s", inspection->says.length > 0 ? "; " : "",
                      said.data);
    }
    text_done(&said);
    if (!query_end(&query, err))
        return false;
    int refused = connection_refused(inspection->ledger->db);
    if (inspection->count > 0 && refused != SQLITE_OK)
        return sqlite_error(inspection->ledger->path, refused, "", err);
    end_rule(inspection,
             "What was entered since may be lost: work on no further, put your latest backup in "
             "its place with senbetsu restore, and have the disk looked at.",
             false, false);
    return true;
}

/* What a table's rows are called. */
static const struct {
    const char *table, *one, *many;
} called[] = {
    {"stroke", "stroke", "strokes"},
    {"fish", "fish", "fish"},
    {"bowl", "bowl", "bowls"},
    {"round", "cull", "culls"},
    {"lot", "lot", "lots"},
    {"lot_source", "lot", "lots"},
    {"lot_event", "event", "events of lots"},
    {"spawning", "spawning", "spawnings"},
    {"spawning_sire", "sire", "sires of spawnings"},
    {"parent", "parent", "parents"},
    {"judge", "judge", "judges"},
    {"variety", "variety", "records of a variety"},
    {"standard_version", "standard", "standards"},
    {"standard_item", "aspect or fault", "aspects and faults"},
    {"pass", "pass", "passes"},
    {"decision", "decision", "decisions of passes"},
    {"decision_reason", "reason", "reasons of passes"},
    {"round_count", "statement", "numbers of culls"},
    {"reject_fate", "statement", "fates of rejects"},
    {"scoop", "scoop", "scoops"},
    {"tally_stroke", "key", "keys of tallies"},
    {"first_look_stroke", "key", "keys of first looks"},
    {"audit_log", "change", "logged changes"},
    {"place", "cursor", "cursors of judges"},
    {"station", "station", "stations"},
};

static const char *name_of(const char *table, bool many)
{
    for (size_t i = 0; table != NULL && i < COUNT_OF(called); i++)
        if (strcmp(called[i].table, table) == 0)
            return many ? called[i].many : called[i].one;
    return many ? "records" : "record";
}

static bool check_belonging(struct inspection *inspection, struct err *err)
{
    struct text line;
    text_init(&line);
    begin_rule(inspection);
    struct query query = query_begin(inspection->ledger, SQL_DANGLING_BY_TABLE);
    while (query_step(&query)) {
        const char *from = (const char *)sqlite3_column_text(query.statement, 0);
        const char *to = (const char *)sqlite3_column_text(query.statement, 1);
        text_clear(&line);
        text_addf(&line, "%" PRId64 " %s: the %s that they belong to is missing.",
                  (int64_t)sqlite3_column_int64(query.statement, 2), name_of(from, true),
                  name_of(to, false));
        add_line(inspection, line.data);
    }
    text_done(&line);
    if (!query_end(&query, err))
        return false;
    end_rule(inspection, BACKUP, false, false);
    return true;
}

/* What a standard's text says is what its aspects and faults are read from. */
static bool check_standards(struct inspection *inspection, struct err *err)
{
    int64_t *ids;
    size_t count, unreadable = 0;
    struct query query = query_begin(inspection->ledger, SQL_STANDARD_IDS);
    if (!query_ids(&query, &ids, &count, err))
        return false;
    begin_rule(inspection);
    for (size_t i = 0; i < count; i++) {
        struct standard_version version;
        struct err why = {0};
        if (standard_version_get(inspection->ledger, ids[i], &version, &why))
            continue;
        unreadable++;
        add_line(inspection, why.text);
    }
    free(ids);
    end_rule(inspection, BACKUP, false, false);
    return true;
}

/* Can the file be trusted at all? */
static bool check_file(struct inspection *inspection, struct err *err)
{
    return check_pages(inspection, err) &&
           (inspection->result->wrong > 0 ||
            (check_belonging(inspection, err) && check_standards(inspection, err)));
}

/* What is derived. */

static bool check_derived(struct inspection *inspection, const struct derived *derived,
                          struct err *err)
{
    begin_rule(inspection);
    struct query query = query_begin(inspection->ledger, derived->rule.sql);
    if (!find_rows(inspection, &query, derived->rule.format, err))
        return false;
    bool repairs = inspection->repairs && inspection->count > 0;
    for (int i = 0; repairs && i < derived->statements; i++) {
        query = query_begin(inspection->ledger, derived->rebuilds[i]);
        if (!query_run(&query, err))
            return false;
    }
    end_rule(inspection, derived->rule.means, false, repairs);
    return true;
}

static bool check_all_derived(struct inspection *inspection, const struct derived *derived,
                              size_t count, struct err *err)
{
    for (size_t i = 0; i < count; i++)
        if (!check_derived(inspection, &derived[i], err))
            return false;
    return true;
}

static void items_differ(void *context, const char *name, int version)
{
    struct text line;
    text_init(&line);
    text_addf(&line, "Standard %s, version %d: its aspects and faults are not those of its text.",
              name, version);
    add_line(context, line.data);
    text_done(&line);
}

static bool check_items(struct inspection *inspection, struct err *err)
{
    begin_rule(inspection);
    if (!standard_items_check(inspection->ledger, inspection->repairs, items_differ, inspection,
                              err))
        return false;
    end_rule(inspection, "Scores are read for the wrong aspects: " WORKED_OUT, false,
             inspection->repairs);
    return true;
}

/* Hears of fish of a round. */
struct round_inspection {
    struct inspection *inspection;
    const struct round *round;
};

static void verdict_differs(void *context, int bowl, int number)
{
    const struct round_inspection *about = context;
    struct text line;
    text_init(&line);
    text_addf(&line,
              "Lot %s, stage %s, bowl %d, fish %d: its verdict is not what its strokes add up to.",
              about->round->lot, stage_terms[about->round->stage].word, bowl, number);
    add_line(about->inspection, line.data);
    text_done(&line);
}

static bool check_verdicts_of(struct inspection *inspection, const struct round *round,
                              struct err *err)
{
    struct standard_version version;
    struct round_inspection about = {inspection, round};
    struct verdict_reporter reporter = {verdict_differs, &about};
    struct err why = {0};
    tell_step(inspection);
    if (round->standard[0] == '\0')
        return true;
    if (!standard_named(inspection->ledger, round->standard, &version, &why))
        return why.code == ERR_ABSENT || err_set(err, why.code, "%s", why.text);
    bool repairs = inspection->repairs;
    if ((repairs ? verdicts_rebuild : verdicts_compare)(inspection->ledger, round->id,
                                                        &version.standard, &reporter, &why))
        return true;
    if (repairs || why.code != ERR_DAMAGE)
        return err_set(err, why.code, "%s", why.text);
    add_line(inspection, why.text);
    return true;
}

static bool check_verdicts(struct inspection *inspection, struct err *err)
{
    struct round *rounds;
    size_t count;
    bool fine = true;
    begin_rule(inspection);
    if (!round_list(inspection->ledger, NULL, &rounds, &count, err))
        return false;
    for (size_t i = 0; fine && i < count; i++)
        fine = check_verdicts_of(inspection, &rounds[i], err);
    free(rounds);
    end_rule(inspection, "The list and all counts go by it: " WORKED_OUT, false,
             inspection->repairs);
    return fine;
}

static bool check_whatever_is_derived(struct inspection *inspection, struct err *err)
{
    return check_items(inspection, err) &&
           check_all_derived(inspection, before_verdicts, COUNT_OF(before_verdicts), err) &&
           check_verdicts(inspection, err) &&
           check_all_derived(inspection, after_verdicts, COUNT_OF(after_verdicts), err);
}

/* What was recorded. */

static bool check_rules(struct inspection *inspection, const struct rule *rules, size_t count,
                        bool remarks, struct err *err)
{
    for (size_t i = 0; i < count; i++)
        if (!check_rule(inspection, &rules[i], remarks, err))
            return false;
    return true;
}

/* A day's grace: two stations' clocks are never quite the same. */
static bool check_future(struct inspection *inspection, struct err *err)
{
    begin_rule(inspection);
    struct query query = query_with(inspection->ledger, SQL_FUTURE_INSTANTS,
                                    clock_now(&inspection->ledger->clock) + DAY_MS);
    if (!find_rows(inspection, &query, "%: % of after now, the last at % UTC.", err))
        return false;
    end_rule(inspection,
             "The clock was ahead when they were recorded, or is behind now: set it right, for "
             "days and paces go by it.",
             true, false);
    return true;
}

static bool count_all(struct inspection *inspection, struct err *err)
{
    struct check_result *result = inspection->result;
    struct query query = query_begin(inspection->ledger, SQL_HOW_MUCH);
    if (query_step(&query)) {
        result->fish = row_between(&query, 0, INT64_MAX);
        result->bowls = row_between(&query, 0, INT64_MAX);
        result->rounds = row_between(&query, 0, INT64_MAX);
        result->lots = row_between(&query, 0, INT64_MAX);
        result->parents = row_between(&query, 0, INT64_MAX);
    }
    return query_end(&query, err);
}

static bool check_everything(struct inspection *inspection, struct err *err)
{
    if (!count_all(inspection, err) || !check_file(inspection, err))
        return false;
    return inspection->result->wrong > 0 ||
           (check_rules(inspection, impossible, COUNT_OF(impossible), false, err) &&
            check_whatever_is_derived(inspection, err) &&
            check_rules(inspection, unlikely, COUNT_OF(unlikely), true, err) &&
            check_future(inspection, err));
}

/* What else is wrong cannot be worked out, and does not hinder it. */
static bool repair(struct inspection *inspection, struct err *err)
{
    struct ledger *ledger = inspection->ledger;
    if (!count_all(inspection, err) || !check_file(inspection, err))
        return false;
    if (inspection->result->wrong > 0)
        return ledger_damaged(ledger, err, "nothing was written to it");
    inspection->repairs = true;
    return check_whatever_is_derived(inspection, err);
}

static bool inspect(struct ledger *ledger, const struct check_listener *listener,
                    bool (*does)(struct inspection *inspection, struct err *err),
                    struct check_result *ret, struct err *err)
{
    struct check_result result = {0};
    struct inspection inspection = {.ledger = ledger, .listener = listener, .result = &result};
    text_init(&inspection.lines);
    text_init(&inspection.says);
    sqlite3_progress_handler(ledger->db, TICKS, tick, &inspection);
    bool done = does(&inspection, err);
    sqlite3_progress_handler(ledger->db, 0, NULL, NULL);
    text_done(&inspection.lines);
    text_done(&inspection.says);
    *ret = result;
    return done;
}

bool ledger_check(struct ledger *ledger, const struct check_listener *listener,
                  struct check_result *ret, struct err *err)
{
    return inspect(ledger, listener, check_everything, ret, err);
}

bool ledger_repair(struct ledger *ledger, const struct check_listener *listener,
                   struct check_result *ret, struct err *err)
{
    return transaction_begin(ledger, err) &&
           transaction_end(ledger, inspect(ledger, listener, repair, ret, err), err);
}
