/* `join` and `station`: another station's ledger, and which station this one is. */
#include "private.h"
#include "senbetsu/host/machine.h"
#include "senbetsu/print/join.h"
#include "senbetsu/store/join.h"
#include "senbetsu/store/station.h"

#include <stdlib.h>

static int offset_of(const struct session *session)
{
    return ledger_clock(session->ledger)->offset_minutes;
}

static bool list_differences(struct session *session, struct err *err)
{
    struct difference *differences;
    char **clashes;
    size_t count, clash_count;
    if (!difference_list(session->ledger, &differences, &count, err))
        return false;
    bool fine = clash_list(session->ledger, &clashes, &clash_count, err);
    if (fine) {
        differences_print(differences, count, clashes, clash_count, offset_of(session),
                          session_page(session), &session->out);
        clashes_free(clashes, clash_count);
    }
    free(differences);
    return fine;
}

/* Who joins says nothing by it: nothing is written under anybody's name. */
bool command_join(struct session *session, struct err *err)
{
    struct join join;
    const struct options *options = session->options;
    bool preview = options->given[OPTION_DRY_RUN];
    if (options->argument_count == 0)
        return list_differences(session, err);
    const char *file = options->arguments[0];
    if (!ledger_join(session->ledger, file, preview, &join, err))
        return false;
    join_print(&join, file, preview, offset_of(session), session_page(session), &session->out);
    join_done(&join);
    return true;
}

bool check_join(const struct options *options, struct err *err)
{
    return options->argument_count > 0 || !options->given[OPTION_DRY_RUN] ||
           err_set(err, ERR_USAGE, "join --dry-run needs the FILE that would be joined.");
}

static bool list_stations(struct session *session, struct err *err)
{
    struct station *stations;
    size_t count;
    if (!station_list(session->ledger, &stations, &count, err))
        return false;
    for (size_t i = 0; i < count; i++) {
        char day[DATE_SIZE];
        date_of_instant(stations[i].born_ms, offset_of(session), day);
        text_addf(&session->out, "%s, since %s%s\n", station_shown(stations[i].name), day,
                  stations[i].here ? ": this ledger" : "");
    }
    free(stations);
    return true;
}

static bool begin_station(struct session *session, const char *name, struct err *err)
{
    uint8_t seed[16];
    machine_seed(seed);
    if (!station_begin(session->ledger, seed, name, err))
        return false;
    text_addf(&session->out, "What is recorded from now on is of a new station, %s.\n", name);
    return true;
}

bool command_station(struct session *session, struct err *err)
{
    const struct options *options = session->options;
    const char *name = options->arguments[0];
    int64_t judge;
    if (options->argument_count == 0)
        return list_stations(session, err);
    if (options->given[OPTION_NEW])
        return begin_station(session, name, err);
    if (!session_judge(session, &judge, err) || !station_rename(session->ledger, name, judge, err))
        return false;
    text_addf(&session->out, "This ledger's station is called %s.\n", name);
    return true;
}

bool check_station(const struct options *options, struct err *err)
{
    return options->argument_count > 0 || !options->given[OPTION_NEW] ||
           err_set(err, ERR_USAGE, "station --new needs a NAME.");
}
