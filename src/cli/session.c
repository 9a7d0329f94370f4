/* One run of the program: where its ledger is, who is at work, where what it says goes. Commands
 * write into a text, which is delivered only when they have succeeded: a pipe or a file never gets
 * half a report. */
#include "private.h"
#include "senbetsu/base/number.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/host/file.h"
#include "senbetsu/host/machine.h"
#include "senbetsu/host/output.h"
#include "senbetsu/report/season.h"
#include "senbetsu/sheet/sheet.h"
#include "senbetsu/store/fish.h"
#include "senbetsu/store/judges.h"
#include "senbetsu/store/spawnings.h"
#include "senbetsu/store/standards.h"
#include "senbetsu/store/varieties.h"

#include <stdlib.h>
#include <string.h>

struct progress progress_begin(const char *what)
{
    struct clock clock = machine_clock();
    return (struct progress){.what = what, .began_ms = clock_now(&clock)};
}

void progress_tell(void *context, int64_t done, int64_t of)
{
    struct progress *progress = context;
    struct clock clock = machine_clock();
    int64_t now = clock_now(&clock);
    if (now - progress->began_ms < 1000 || now - progress->told_ms < 100)
        return;
    progress->told_ms = now;
    output_progress(progress->what, done, of);
}

void session_init(struct session *session, const struct options *options)
{
    *session = (struct session){.options = options};
    text_init(&session->out);
}

void session_done(struct session *session)
{
    ledger_close(session->ledger);
    session->ledger = NULL;
    text_done(&session->out);
}

/* An empty variable counts as not set. */
static const char *variable(const char *name)
{
    const char *value = getenv(name);
    return value != NULL && value[0] != '\0' ? value : NULL;
}

bool session_ledger_path(const struct options *options, struct text *ret_path, struct err *err)
{
    const char *named = options->values[OPTION_LEDGER];
    const char *data = variable("XDG_DATA_HOME");
    const char *home = variable("HOME");
    if (named == NULL)
        named = variable("SENBETSU_LEDGER");
    if (named == NULL && data == NULL && home == NULL)
        return err_set(err, ERR_SYSTEM,
                       "There is no home folder for the ledger; name a file with --ledger FILE.");
    text_clear(ret_path);
    if (named != NULL)
        text_add(ret_path, named);
    else if (data != NULL)
        text_addf(ret_path, "%s/senbetsu/ledger.db", data);
    else
        text_addf(ret_path, "%s/.local/share/senbetsu/ledger.db", home);
    return true;
}

/* A ledger without any standard was not completely created. */
static bool begin_with_standards(struct ledger *ledger, struct err *err)
{
    struct standard_version *standards;
    size_t count;
    if (!standard_list(ledger, &standards, &count, err))
        return false;
    free(standards);
    return count > 0 || starting_standards_save(ledger, err);
}

static bool open_at(struct session *session, const char *path, enum ledger_use use, struct err *err)
{
    char station[64];
    struct ledger_setup setup = {.path = path,
                                 .only_read = use == LEDGER_READ,
                                 .create = use == LEDGER_CREATE,
                                 .clock = machine_clock(),
                                 .station = station};
    machine_seed(setup.seed);
    machine_name(station, sizeof station);
    if ((setup.create && !file_make_folders(path, err)) ||
        !ledger_open(&setup, &session->ledger, &session->made, err))
        return false;
    if (machine_shares(path))
        ledger_notice(session->ledger,
                      "The ledger is on a disk that other machines share, where a power cut may "
                      "cost more than a key; keep it on this machine: %s.",
                      path);
    return !setup.create || begin_with_standards(session->ledger, err);
}

/* The screens begin with them. */
static void say_notices(const struct ledger *ledger)
{
    char *const *sentences;
    size_t count = ledger_notices(ledger, &sentences);
    for (size_t i = 0; i < count; i++)
        output_note(sentences[i]);
}

bool session_open(struct session *session, enum ledger_use use, struct err *err)
{
    struct text path;
    text_init(&path);
    bool opened = use == LEDGER_NONE || (session_ledger_path(session->options, &path, err) &&
                                         open_at(session, path.data, use, err));
    text_done(&path);
    if (opened && session->ledger != NULL && session->options->command != NULL)
        say_notices(session->ledger);
    return opened;
}

void session_discard_new(struct session *session)
{
    if (!session->made)
        return;
    ledger_discard(session->ledger);
    session->ledger = NULL;
    session->made = false;
}

const char *session_judge_name(const struct options *options)
{
    const char *named = options->values[OPTION_JUDGE];
    return named != NULL ? named : variable("SENBETSU_JUDGE");
}

bool session_bounce(const struct options *options, int *ret_ms, struct err *err)
{
    const char *value = options->values[OPTION_BOUNCE];
    int64_t ms = BOUNCE_MS;
    if (value == NULL)
        value = variable("SENBETSU_BOUNCE");
    if (value != NULL && !number_whole(value, 0, BOUNCE_MOST_MS, &ms))
        return err_set(err, ERR_INPUT, "$SENBETSU_BOUNCE must be a time from 0 to %d ms, 0 = off.",
                       BOUNCE_MOST_MS);
    *ret_ms = (int)ms;
    return true;
}

bool session_judge(struct session *session, int64_t *ret_judge, struct err *err)
{
    const char *name = session_judge_name(session->options);
    if (name != NULL)
        return code_check(name, "$SENBETSU_JUDGE", err) &&
               judge_named(session->ledger, name, ret_judge, err);
    struct place place;
    struct err none = {0};
    if (place_get(session->ledger, -1, &place, &none)) {
        *ret_judge = place.judge;
        return true;
    }
    if (none.code != ERR_ABSENT)
        return err_set(err, none.code, "%s", none.text);
    *ret_judge = 0;
    return true;
}

bool session_selection(const struct session *session, struct selection *ret, struct err *err)
{
    const struct options *options = session->options;
    const char *variety = options->values[OPTION_VARIETY];
    const char *spawning = options->values[OPTION_SPAWNING];
    struct selection selection = {.season = (int)options_whole(options, OPTION_SEASON, 0)};
    struct variety found;
    struct spawning known;
    if (variety != NULL) {
        if (!variety_get(session->ledger, variety, &found, err))
            return false;
        text_copy(selection.variety, sizeof selection.variety, found.name);
    }
    if (spawning != NULL) {
        if (!spawning_get(session->ledger, spawning, &known, err))
            return false;
        text_copy(selection.spawning, sizeof selection.spawning, spawning);
    }
    *ret = selection;
    return true;
}

void session_day(const struct session *session, char ret_day[DATE_SIZE])
{
    char today[DATE_SIZE];
    clock_today(ledger_clock(session->ledger), today);
    memcpy(ret_day, today, DATE_SIZE);
    if (session->options->given[OPTION_DATE])
        date_typed(session->options->values[OPTION_DATE], today, ret_day, NULL);
}

bool session_season(const struct session *session, int *ret, struct err *err)
{
    char today[DATE_SIZE];
    int season;
    clock_today(ledger_clock(session->ledger), today);
    if (!season_current(session->ledger, today, &season, err))
        return false;
    *ret = (int)options_whole(session->options, OPTION_SEASON, season);
    return true;
}

bool session_round(const struct session *session, struct round *ret, struct err *err)
{
    const struct options *options = session->options;
    return round_find(session->ledger, options->values[OPTION_SPAWNING],
                      options->values[OPTION_LOT], (enum stage)options_stage(options), ret, err);
}

/* Files and printers get pages for paper, whatever the terminal is like. */
static bool is_paper(const struct options *options)
{
    return options->given[OPTION_TO] || options->given[OPTION_PRINTER];
}

struct page_setup session_page(const struct session *session)
{
    struct page_setup setup = page_default();
    setup.ascii = session->options->given[OPTION_ASCII];
    if (output_is_terminal() && !is_paper(session->options))
        setup.lines = 0;
    return setup;
}

bool session_write(struct session *session, const char *path, struct err *err)
{
    const char *ledger = session->ledger != NULL ? ledger_path(session->ledger) : NULL;
    bool replace = session->options->given[OPTION_FORCE];
    struct err why = {0};
    if (!output_file(path, ledger, replace, &session->out, &why))
        return why.code == ERR_EXISTS
                   ? err_set(err, ERR_EXISTS,
                             "There is already a file %s; choose another name, or --force to "
                             "replace it.",
                             path)
                   : err_set(err, why.code, "%s", why.text);
    text_clear(&session->out);
    return true;
}

/* Files and names are quoted as they came: on a terminal they move no cursor and hide nothing. What
 * another program reads stays as it is. */
static void show_lines(struct text *out)
{
    struct text shown;
    text_init(&shown);
    for (const char *line = out->data; *line != '\0';) {
        size_t length = strcspn(line, "\n\f");
        char end[] = {line[length], '\0'};
        out->data[(size_t)(line - out->data) + length] = '\0';
        text_add_shown(&shown, line);
        text_add(&shown, end);
        line += length + (end[0] != '\0');
    }
    text_done(out);
    *out = shown;
}

static bool is_data(const struct options *options)
{
    return options->given[OPTION_CSV] ||
           (options->command != NULL && strcmp(options->command, "export") == 0);
}

bool session_deliver(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    if (session->ledger != NULL && !ledger_held_still(session->ledger, err))
        return false;
    if (options->given[OPTION_TO])
        return session_write(session, options->values[OPTION_TO], err);
    if (options->given[OPTION_PRINTER])
        return output_printer(options->values[OPTION_PRINTER], &session->out, err);
    if (!is_data(options))
        show_lines(&session->out);
    return output_standard(&session->out, err);
}
