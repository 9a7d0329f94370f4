/* `pass`: applies a standard to a round, records the result and prints it. The rows are for people
 * in order of rank; CSV keeps the order of bowl and number, so that two passes can be compared line
 * by line. Nothing is printed before the result is on disk. */
#include "senbetsu/print/pass.h"
#include "private.h"
#include "senbetsu/report/cull_list.h"
#include "senbetsu/report/pass.h"

static void add_title(const struct pass_run *run, bool dry_run, struct text *out)
{
    text_addf(out, "%s, %s%s%s: %s version %d", run->round.spawning,
              stage_terms[run->round.stage].word, run->round.own_lot ? "" : ", lot ",
              run->round.own_lot ? "" : run->round.lot, run->version.standard.name,
              run->version.version);
    if (run->places >= 0)
        text_addf(out, ", %d place%s", run->places, run->places == 1 ? "" : "s");
    text_add(out, dry_run ? " (dry run)" : "");
}

static void row_of(const void *run, size_t index, struct fish_row *ret)
{
    pass_run_row(run, index, ret);
}

static void filed_row_of(const void *run, size_t index, struct fish_row *ret)
{
    pass_run_row_filed(run, index, ret);
}

static void print_rows(struct session *session, const struct pass_run *run, int unseen)
{
    const struct options *options = session->options;
    if (options->given[OPTION_CSV]) {
        struct pass_rows filed = {run, filed_row_of, run->count};
        pass_csv(&filed, &session->out);
        return;
    }
    char open_text[TIE_TEXT_SIZE];
    bool open;
    struct text title;
    text_init(&title);
    add_title(run, options->given[OPTION_DRY_RUN], &title);
    struct pass_result result = {.title = title.data,
                                 .rows = {run, row_of, run->count},
                                 .order = run->order,
                                 .unseen = unseen,
                                 .picked = picks_total(&run->picks),
                                 .open = pass_run_open_text(run, &open, open_text)};
    pass_print(&result, session_page(session), &session->out);
    text_done(&title);
}

/* Nobody has seen the result yet: where fish were judged meanwhile it is worked out again, while
 * nobody else can write. */
static bool record(struct session *session, struct pass_run *run, struct err *err)
{
    struct ledger *ledger = session->ledger;
    int64_t judge;
    bool recorded = false;
    if (!session_judge(session, &judge, err) ||
        !pass_run_record(ledger, run, judge, &recorded, err))
        return false;
    if (recorded)
        return true;
    if (!transaction_begin(ledger, err))
        return false;
    if (pass_run_reload(ledger, run, err) && pass_run_record(ledger, run, judge, &recorded, err) &&
        transaction_commit(ledger, err))
        return true;
    transaction_rollback(ledger);
    return false;
}

bool command_pass(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    struct round round;
    struct pass_run run;
    int unseen;
    if (!session_round(session, &round, err) ||
        !pass_run_load(session->ledger, &round, options->values[OPTION_STANDARD], &run, err))
        return false;
    if (options->given[OPTION_PLACES]) {
        run.places = (int)options_whole(options, OPTION_PLACES, -1);
        pass_run_decide(&run);
    }
    bool done = cull_list_unseen(session->ledger, &run, &unseen, err) &&
                (options->given[OPTION_DRY_RUN] || record(session, &run, err));
    if (done)
        print_rows(session, &run, unseen);
    pass_run_done(&run);
    return done;
}
