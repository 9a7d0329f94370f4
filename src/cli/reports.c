/* The commands that report: each makes its report of the ledger and prints it, as CSV or for
 * people. A report command is one REPORT here and its row in commands.c. */
#include "private.h"
#include "senbetsu/base/date.h"
#include "senbetsu/print/comparison.h"
#include "senbetsu/print/cull_list.h"
#include "senbetsu/print/day.h"
#include "senbetsu/print/due.h"
#include "senbetsu/print/effects.h"
#include "senbetsu/print/kin.h"
#include "senbetsu/print/pairs.h"
#include "senbetsu/print/rates.h"
#include "senbetsu/print/season.h"

#include <stdlib.h>

/* Name, type of what is made, how it is made, its CSV, its print, how it ends. In these stand
 * `session` and its `options`; `of`, the spawnings it is narrowed to; `made`, what is made; `out`
 * and `page`, where it goes; `err`. */
#define REPORT(name, type, make, csv, print, done)                                                 \
    bool report_##name(struct session *session, struct err *err)                                   \
    {                                                                                              \
        const struct options *options = session->options;                                          \
        struct page_setup page = session_page(session);                                            \
        struct text *out = &session->out;                                                          \
        struct selection of;                                                                       \
        type made;                                                                                 \
        if (!session_selection(session, &of, err) || !(make))                                      \
            return false;                                                                          \
        if (options->given[OPTION_CSV])                                                            \
            (csv);                                                                                 \
        else                                                                                       \
            (print);                                                                               \
        done;                                                                                      \
        return true;                                                                               \
    }

static bool make_day(const struct session *session, struct day_sheet *ret, struct err *err)
{
    char day[DATE_SIZE];
    session_day(session, day);
    return day_sheet_make(session->ledger, day, ret, err);
}

REPORT(day, struct day_sheet, make_day(session, &made, err), day_sheet_csv(&made, out),
       day_sheet_print(&made, page, out), day_sheet_done(&made))

static bool make_due(const struct session *session, const struct selection *of,
                     struct due_list *ret, struct err *err)
{
    enum { DAYS_USUAL = 14 };
    char day[DATE_SIZE];
    session_day(session, day);
    return due_list_make(session->ledger, day,
                         (int)options_whole(session->options, OPTION_DAYS, DAYS_USUAL), of, ret,
                         err);
}

REPORT(due, struct due_list, make_due(session, &of, &made, err), due_list_csv(&made, out),
       due_list_print(&made, page, out), free(made.dues))

static enum rates_by chosen_by(const struct options *options)
{
    return options->given[OPTION_BY]
               ? (enum rates_by)term_find(rates_by_terms, BY_COUNT, options->values[OPTION_BY])
               : BY_SPAWNING;
}

REPORT(rates, struct rates,
       rates_make(session->ledger, chosen_by(options), options_stage(options), &of, &made, err),
       rates_csv(chosen_by(options), made.rows, made.count, out),
       rates_print(chosen_by(options), made.rows, made.count, page, out), rates_done(&made))

REPORT(compare, struct comparison,
       compare_make(session->ledger, options->arguments[0], options->arguments[1],
                    options_stage(options), &of, &made, err),
       compare_csv(&made, out), compare_print(&made, page, out), compare_done(&made))

REPORT(pairs, struct pairs_table,
       pairs_make(session->ledger, options_stage(options), &of,
                  options_whole(options, OPTION_FRY, 0), NULL, &made, err),
       pairs_csv(&made, out), pairs_print(&made, page, out), pairs_done(&made))

static bool make_effects(const struct session *session, const struct selection *of,
                         struct parents_fit *ret, struct err *err)
{
    if (!parents_fit_make(session->ledger, options_stage(session->options), of, ret, err))
        return false;
    if (ret->model != NULL)
        return true;
    *err = ret->no_model;
    parents_fit_done(ret);
    return false;
}

REPORT(effects, struct parents_fit, make_effects(session, &of, &made, err), effects_csv(&made, out),
       effects_print(&made, page, out), parents_fit_done(&made))

static bool make_season(const struct session *session, const struct selection *of,
                        struct season_book *ret, struct err *err)
{
    bool narrowed = of->variety[0] != '\0' || of->spawning[0] != '\0';
    int season;
    return session_season(session, &season, err) &&
           season_book_make(session->ledger, season, narrowed ? of : NULL, ret, err);
}

REPORT(season, struct season_book, make_season(session, &of, &made, err),
       season_book_csv(&made, out), season_book_print(&made, page, out), season_book_done(&made))

struct kin_made {
    struct pedigree pedigree;
    struct kinship kinship;
    struct kin kin;
};

static bool find_kin(struct kin_made *made, const char *const codes[2], struct err *err)
{
    const struct pedigree *pedigree = &made->pedigree;
    int pair[2];
    for (int i = 0; i < 2; i++) {
        pair[i] = pedigree_place(pedigree, codes[i]);
        if (pair[i] == UNKNOWN_PARENT)
            return err_set(err, ERR_ABSENT, "There is no parent %s in the ledger.", codes[i]);
    }
    made->kin = (struct kin){.kinship = &made->kinship,
                             .a = pair[0],
                             .b = pair[1],
                             .sex_a = pedigree->parents[pair[0]].sex,
                             .sex_b = pedigree->parents[pair[1]].sex};
    return kinship_make(pedigree->fish, pedigree->count, pair, 2, &made->kinship, err);
}

static bool make_kin(struct ledger *ledger, const char *const codes[2], struct kin_made *ret,
                     struct err *err)
{
    if (!pedigree_read(ledger, &ret->pedigree, err))
        return false;
    if (find_kin(ret, codes, err))
        return true;
    pedigree_done(&ret->pedigree);
    return false;
}

static void kin_done(struct kin_made *made)
{
    kinship_done(&made->kinship);
    pedigree_done(&made->pedigree);
}

REPORT(kin, struct kin_made, make_kin(session->ledger, options->arguments, &made, err),
       kin_csv(&made.kin, out), kin_print(&made.kin, page, out), kin_done(&made))

bool check_list(const struct options *options, struct err *err)
{
    const char *date = options->values[OPTION_DATE];
    bool round = options->given[OPTION_SPAWNING] || options->given[OPTION_STAGE] ||
                 options->given[OPTION_LOT];
    if (date != NULL && round)
        return err_set(err, ERR_USAGE, "list takes either --date, or --spawning and --stage.");
    if (round && !options->given[OPTION_SPAWNING])
        return err_set(err, ERR_USAGE, "list needs --spawning S with --stage.");
    if (round && !options->given[OPTION_STAGE])
        return err_set(err, ERR_USAGE, "list needs --stage T with --spawning.");
    return true;
}

static bool make_list(const struct session *session, struct cull_list *ret, struct err *err)
{
    char day[DATE_SIZE];
    struct round round;
    session_day(session, day);
    if (!session->options->given[OPTION_SPAWNING])
        return cull_list_of_day(session->ledger, day, ret, err);
    return session_round(session, &round, err) &&
           cull_list_of_round(session->ledger, &round, ret, err);
}

REPORT(list, struct cull_list, make_list(session, &made, err), cull_list_csv(&made, out),
       cull_list_print(&made, page, out), cull_list_done(&made))
