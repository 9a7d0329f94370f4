/* The scenarios: the life of the file first, then what is recorded. Strokes and tallies go through
 * the sheet and the tally as machines, on the ledger's own ports, so that what is counted as told
 * is what the screen would show. */
#include "scenario.h"

#include "connection.h"
#include "senbetsu/base/text.h"
#include "senbetsu/exchange/exchange.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/store/backup.h"
#include "senbetsu/store/check.h"
#include "senbetsu/store/daily.h"
#include "senbetsu/store/join.h"
#include "senbetsu/store/restore.h"
#include "senbetsu/store/tallies.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The file. */

static bool open_it(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return subject_open(subject, 0, err);
}

static bool open_later(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return subject_open(subject, 2, err);
}

static bool close_it(struct subject *subject, int step, struct err *err)
{
    (void)step;
    (void)err;
    ledger_close(subject->ledger);
    subject->ledger = NULL;
    return true;
}

static bool checkpoint(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return connection_checkpoint(subject->ledger->db, subject->path, err);
}

static void drop(void *context, const struct finding *finding)
{
    (void)context;
    (void)finding;
}

static bool check(struct subject *subject, int step, struct err *err)
{
    struct check_result result;
    struct check_listener listener = {.found = drop};
    (void)step;
    return ledger_check(subject->ledger, &listener, &result, err);
}

static bool back_up(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return ledger_backup(subject->ledger, subject->copy, err);
}

/* A copy that is older than the ledger. */
static bool prepare_restore(struct subject *subject, struct err *err)
{
    int64_t judge;
    return ledger_backup(subject->ledger, subject->copy, err) &&
           judge_named(subject->ledger, "After the copy", &judge, err);
}

static bool restore(struct subject *subject, int step, struct err *err)
{
    char kept[256];
    /* Whoever tries again does so a second later: what is put aside is called by the time. */
    int64_t now = subject->now + 1000 * subject->refusals;
    const struct clock clock = clock_fixed(&now);
    (void)step;
    return ledger_restore(subject->copy, subject->path, &clock, kept, sizeof kept, err);
}

static bool copy_of_the_day(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return daily_copy(subject->ledger, err);
}

/* Another station that began as a copy and went its own way. */
static const char *other_path(const struct subject *subject, char ret_path[128])
{
    snprintf(ret_path, 128, "%s/stick/other.db", subject->folder);
    return ret_path;
}

static bool prepare_join(struct subject *subject, struct err *err)
{
    char path[128];
    struct ledger_setup setup = {.path = other_path(subject, path),
                                 .clock = clock_fixed(&subject->now),
                                 .station = "far ponds",
                                 .seed = {9, 8, 7}};
    struct ledger *other;
    struct round round;
    struct bowl bowl;
    int64_t judge;
    bool is_new;
    if (!ledger_backup(subject->ledger, path, err) || !ledger_open(&setup, &other, &is_new, err))
        return false;
    bool filled = judge_named(other, "Hana", &judge, err) &&
                  round_find(other, "K1", "", STAGE_FIRST, &round, err) &&
                  bowl_begin(other, round.id, 2, 3, "2026-07-26", &bowl, err) &&
                  fish_begin(other, bowl.id, 1, &judge, err) &&
                  fish_begin(other, bowl.id, 2, &judge, err);
    ledger_close(other);
    return filled;
}

static bool join(struct subject *subject, int step, struct err *err)
{
    char path[128];
    struct join join;
    (void)step;
    if (!ledger_join(subject->ledger, other_path(subject, path), false, &join, err))
        return false;
    join_done(&join);
    return true;
}

/* The sheet. */

static bool open_sheet(struct subject *subject, struct err *err)
{
    struct fish *fish;
    struct undoable *undoable;
    size_t fish_count, undoable_count;
    struct ledger_port *port = &subject->port;
    *port = (struct ledger_port){.ledger = subject->ledger,
                                 .standard = &subject->standard.standard,
                                 .version = subject->standard.id,
                                 .round_id = subject->judged.id,
                                 .bowl_id = subject->bowl.id,
                                 .judge = subject->judge};
    if (!fish_of_bowl(subject->ledger, subject->bowl.id, port->standard, &fish, &fish_count, err))
        return false;
    if (!undoable_of(subject->ledger, subject->judged.id, subject->bowl.id, &undoable,
                     &undoable_count, err)) {
        free(fish);
        return false;
    }
    const struct sheet_setup setup = {.standard = port->standard,
                                      .judge = subject->judge,
                                      .bowl_id = subject->bowl.id,
                                      .bowl = subject->bowl.number,
                                      .expected = subject->bowl.expected,
                                      .fish = fish,
                                      .fish_count = fish_count,
                                      .undoable = undoable,
                                      .undoable_count = undoable_count,
                                      .port = ledger_port_for_sheet(port),
                                      .clock = clock_fixed(&subject->now)};
    subject->has_sheet = sheet_init(&subject->sheet, &setup, err);
    free(fish);
    free(undoable);
    if (!subject->has_sheet)
        ledger_port_done(port);
    return subject->has_sheet;
}

static bool sheet_key(struct subject *subject, enum sheet_command_kind kind, int number,
                      const char *text, struct err *err)
{
    const struct sheet_command command = {.kind = kind, .number = number, .text = text};
    struct sheet_effects effects = sheet_do(&subject->sheet, &command);
    return !effects.alert || err_set(err, ERR_SYSTEM, "%s", subject->sheet.message);
}

/* Several commands are one step where only the last of them records. */
static bool sheet_line(struct subject *subject, enum sheet_mode mode, const char *line,
                       struct err *err)
{
    if (subject->sheet.mode == SHEET_JUDGE &&
        !sheet_key(subject, COMMAND_ENTER_MODE, (int)mode, NULL, err))
        return false;
    if (subject->sheet.line[0] == '\0')
        for (; *line != '\0'; line++)
            if (!sheet_key(subject, COMMAND_TYPE, *line, NULL, err))
                return false;
    return sheet_key(subject, COMMAND_ACCEPT, 0, NULL, err);
}

static bool score(struct subject *subject, int step, struct err *err)
{
    return sheet_key(subject, COMMAND_SCORE, 2 + step % 4, NULL, err);
}

static bool fault(struct subject *subject, int step, struct err *err)
{
    return sheet_key(subject, COMMAND_FAULT, step == 0 ? 1 : 0, NULL, err);
}

static bool close_fish(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return sheet_key(subject, COMMAND_FINISH, 0, NULL, err);
}

static bool prepare_undo(struct subject *subject, struct err *err)
{
    return open_sheet(subject, err) && score(subject, 0, err) && close_fish(subject, 0, err);
}

static bool undo(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return sheet_key(subject, COMMAND_UNDO, 0, NULL, err);
}

static bool verdict_by_hand(struct subject *subject, int step, struct err *err)
{
    (void)step;
    if (subject->sheet.mode == SHEET_JUDGE &&
        !sheet_key(subject, COMMAND_ENTER_MODE, SHEET_VERDICT, NULL, err))
        return false;
    if (subject->sheet.mode == SHEET_VERDICT && !sheet_key(subject, COMMAND_CHOOSE, 1, NULL, err))
        return false;
    return sheet_key(subject, COMMAND_CHOOSE, 1, NULL, err);
}

static bool tag(struct subject *subject, int step, struct err *err)
{
    return sheet_key(subject, COMMAND_TAG, 0, step == 0 ? "9001" : "9002", err);
}

static bool length(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return sheet_line(subject, SHEET_LENGTH, "42", err);
}

static bool note(struct subject *subject, int step, struct err *err)
{
    (void)step;
    if (subject->sheet.mode == SHEET_JUDGE &&
        (!sheet_key(subject, COMMAND_ENTER_MODE, SHEET_NOTE, NULL, err) ||
         !sheet_key(subject, COMMAND_CHOOSE, 0, NULL, err)))
        return false;
    return sheet_line(subject, SHEET_NOTE_TEXT, "bent", err);
}

static bool move(struct subject *subject, int step, struct err *err)
{
    return sheet_key(subject, step % 2 == 0 ? COMMAND_EARLIER : COMMAND_LATER, 0, NULL, err);
}

/* A bowl as a hand goes through it. */
static bool judge_bowl(struct subject *subject, int step, struct err *err)
{
    static const struct {
        enum sheet_command_kind kind;
        int number;
    } keys[] = {{COMMAND_SCORE, 4}, {COMMAND_SCORE, 3}, {COMMAND_FINISH, 0}, {COMMAND_FAULT, 1},
                {COMMAND_UNDO, 0},  {COMMAND_SCORE, 5}, {COMMAND_FAULT, 0}};
    return sheet_key(subject, keys[step].kind, keys[step].number, NULL, err);
}

/* The tally. */

static bool open_tally(struct subject *subject, struct err *err)
{
    subject->port = (struct ledger_port){
        .ledger = subject->ledger, .round_id = subject->tallied.id, .judge = subject->judge};
    const struct tally_setup setup = {.manner = MANNER_PICK,
                                      .standard = &subject->standard.standard,
                                      .by_book = {.number = NOT_COUNTED},
                                      .port = ledger_port_for_tally(&subject->port),
                                      .clock = clock_fixed(&subject->now)};
    subject->has_tally = tally_sheet_init(&subject->tally, &setup, err);
    return subject->has_tally;
}

static bool tally_key(struct subject *subject, enum tally_command_kind kind, int number,
                      struct err *err)
{
    const struct tally_command command = {kind, number};
    struct tally_effects effects = tally_sheet_do(&subject->tally, &command);
    return !effects.alert || err_set(err, ERR_SYSTEM, "%s", subject->tally.message);
}

static bool tally(struct subject *subject, int step, struct err *err)
{
    return step == 0   ? tally_key(subject, TALLY_DO_KEEP, 0, err)
           : step == 1 ? tally_key(subject, TALLY_DO_REJECT, 0, err)
                       : tally_key(subject, TALLY_DO_DEAD, 0, err);
}

static bool prepare_tally_undo(struct subject *subject, struct err *err)
{
    return open_tally(subject, err) && tally(subject, 0, err) && tally(subject, 1, err);
}

static bool tally_undo_key(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return tally_key(subject, TALLY_DO_UNDO, 0, err);
}

static bool scoop(struct subject *subject, int step, struct err *err)
{
    const char *line = "48 52";
    if (step == 1)
        return tally_key(subject, TALLY_DO_KEEP, 0, err);
    if (subject->tally.mode != TALLY_SIZE &&
        !tally_key(subject, TALLY_DO_ENTER_MODE, TALLY_SIZE, err))
        return false;
    if (subject->tally.line[0] == '\0')
        for (; *line != '\0'; line++)
            if (!tally_key(subject, TALLY_DO_TYPE, *line, err))
                return false;
    return tally_key(subject, TALLY_DO_ACCEPT, 0, err);
}

static bool first_look(struct subject *subject, int step, struct err *err)
{
    struct place place = round_place(subject->judge, subject->judged.id, AT_FIRST_LOOK, true);
    return step < 2
               ? first_look_record(subject->ledger, subject->judged.id, subject->judge, step == 0,
                                   &place, err)
               : first_look_undo(subject->ledger, subject->judged.id, subject->judge, &place, err);
}

/* A culling pass. */

static bool pass(struct subject *subject, int step, struct err *err)
{
    struct pass_run run;
    bool recorded = false;
    (void)step;
    if (!pass_run_load(subject->ledger, &subject->judged, NULL, &run, err))
        return false;
    run.standard.keep_at += 100;
    run.places = 2;
    pass_run_decide(&run);
    bool done = pass_run_record(subject->ledger, &run, subject->judge, &recorded, err);
    pass_run_done(&run);
    return done && (recorded || err_set(err, ERR_INPUT, "The round was judged meanwhile."));
}

/* Imports. */

static bool import(struct subject *subject, bool (*take)(struct import *, struct err *),
                   const char *text, struct err *err)
{
    struct text bytes;
    struct import import = {
        .ledger = subject->ledger, .file = "office.csv", .bytes = &bytes, .judge = subject->judge};
    text_init(&bytes);
    text_add(&bytes, text);
    bool done = transaction_begin(subject->ledger, err) && take(&import, err) &&
                transaction_commit(subject->ledger, err);
    if (!done)
        transaction_rollback(subject->ledger);
    text_done(&bytes);
    return done;
}

static bool import_more_varieties(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_varieties, "variety\nBeni Sora\nAo Kumo\n", err);
}

static bool import_more_parents(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_parents,
                  "parent,sex,variety,dam,sire\nD2,f,Kikusui,D1,S1\nS3,m,Kikusui,,\n", err);
}

static bool import_more_spawnings(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_spawnings,
                  "spawning,season,date,variety,dam,sires\nK2,2026,2026-06-11,Kikusui,D1,S1;S2\n",
                  err);
}

static bool import_more_rounds(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_rounds,
                  "spawning,lot,stage,date,manner,in,in_how,kept,kept_how,rejected,dead\n"
                  "K1,,third,2026-09-01,remove,800,counted,300,counted,495,5\n"
                  "K1,west,third,2026-09-01,remove,80,counted,30,counted,50,\n",
                  err);
}

static bool import_more_lots(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_lots,
                  "spawning,lot,date,event,number,how,pond\n"
                  "K1,,2026-07-11,move,,,Lower 2\nK1,,2026-07-20,dead,41,counted,\n",
                  err);
}

static bool import_more_fish(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_fish,
                  "spawning,lot,stage,bowl,fish,judge,date,length_mm,tag,faults,body,white\n"
                  "K1,,first,2,1,Ines,2026-07-18,42,T-1,eye,3,4\n"
                  "K1,,first,2,2,Ines,2026-07-18,,,spine,,\n"
                  "K1,,first,2,3,Ines,2026-07-18,,,,5,5\n",
                  err);
}

static bool import_a_standard(struct subject *subject, int step, struct err *err)
{
    (void)step;
    return import(subject, import_standard,
                  "[standard]\nname = plain-first\nvariety = Kikusui\nstage = first\n"
                  "scale = 1-5\ntypical = 3\nkeep_at = 65\nhold_at = 55\n"
                  "[aspect body]\nlabel = Body line\nweight = 2\n",
                  err);
}

#define FILE_STEP(of_name, of_ground, later, of_step)                                              \
    {                                                                                              \
        .name = (of_name), .ground = (of_ground), .closed = true, .in_parts = true,                \
        .later_steps = (later), .steps = 1, .step = (of_step)                                      \
    }
#define OPEN_STEPS(of_name, of_steps, of_prepare, of_step)                                         \
    {                                                                                              \
        .name = (of_name), .ground = GROUND_CLEAN, .steps = (of_steps), .prepare = (of_prepare),   \
        .step = (of_step)                                                                          \
    }
#define WITHOUT_WAL(of_name, of_steps, of_prepare, of_step)                                        \
    {                                                                                              \
        .name = (of_name), .ground = GROUND_OLDER, .steps = (of_steps), .prepare = (of_prepare),   \
        .step = (of_step)                                                                          \
    }

const struct scenario scenarios[] = {
    FILE_STEP("new ledger", GROUND_NONE, 0, open_it),
    FILE_STEP("open, clean", GROUND_CLEAN, 0, open_it),
    FILE_STEP("open, hot", GROUND_HOT, 0, open_it),
    FILE_STEP("upgrade", GROUND_CLEAN, 2, open_later),
    FILE_STEP("upgrade, hot", GROUND_HOT, 2, open_later),
    OPEN_STEPS("closing", 1, NULL, close_it),
    OPEN_STEPS("checkpoint", 1, prepare_restore, checkpoint),
    OPEN_STEPS("check", 1, NULL, check),
    OPEN_STEPS("backup", 1, NULL, back_up),
    {.name = "restore",
     .ground = GROUND_CLEAN,
     .closed = true,
     .steps = 1,
     .prepare = prepare_restore,
     .step = restore},
    OPEN_STEPS("join", 1, prepare_join, join),
    OPEN_STEPS("copy of the day", 1, NULL, copy_of_the_day),
    OPEN_STEPS("stroke: score", 2, open_sheet, score),
    OPEN_STEPS("stroke: fault", 2, open_sheet, fault),
    OPEN_STEPS("stroke: close", 2, open_sheet, close_fish),
    OPEN_STEPS("stroke: undo", 2, prepare_undo, undo),
    OPEN_STEPS("stroke: verdict by hand", 1, open_sheet, verdict_by_hand),
    OPEN_STEPS("stroke: tag", 2, open_sheet, tag),
    OPEN_STEPS("stroke: length", 1, open_sheet, length),
    OPEN_STEPS("stroke: note", 1, open_sheet, note),
    OPEN_STEPS("stroke: move", 2, open_sheet, move),
    OPEN_STEPS("a bowl judged", 7, open_sheet, judge_bowl),
    WITHOUT_WAL("a bowl without WAL", 7, open_sheet, judge_bowl),
    OPEN_STEPS("tally: keys", 3, open_tally, tally),
    OPEN_STEPS("tally: undo", 2, prepare_tally_undo, tally_undo_key),
    WITHOUT_WAL("a tally without WAL", 3, open_tally, tally),
    OPEN_STEPS("tally: scoop", 2, open_tally, scoop),
    OPEN_STEPS("first look", 3, NULL, first_look),
    OPEN_STEPS("pass", 1, NULL, pass),
    OPEN_STEPS("import: varieties", 1, NULL, import_more_varieties),
    OPEN_STEPS("import: parents", 1, NULL, import_more_parents),
    OPEN_STEPS("import: spawnings", 1, NULL, import_more_spawnings),
    OPEN_STEPS("import: rounds", 1, NULL, import_more_rounds),
    OPEN_STEPS("import: lots", 1, NULL, import_more_lots),
    OPEN_STEPS("import: fish", 1, NULL, import_more_fish),
    OPEN_STEPS("import: standard", 1, NULL, import_a_standard),
};
const int scenario_count = sizeof scenarios / sizeof *scenarios;
