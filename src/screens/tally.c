/* The tally on the stack of screens: a pick or remove round out of the ledger, and what each key
 * does in each mode of the machine (sheet/tally_sheet.h). */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/lots.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/ui/term.h"
#include "tally_view.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

struct tally_screen {
    struct ledger_port port;
    struct tally_sheet sheet;
    struct letters letters;
    char title[TITLE_SIZE];
    int page;  /* of the further reasons */
    bool help; /* the help is up; any key takes it away */
    bool leave;
};

/* Does one command of the machine. */
static void run(struct app *app, struct tally_screen *screen, enum tally_command_kind kind,
                int number)
{
    struct tally_effects effects =
        tally_sheet_do(&screen->sheet, &(struct tally_command){kind, number});
    if (screen->sheet.mode != TALLY_FURTHER)
        screen->page = 0;
    screen->leave |= effects.leave;
    if (effects.refused != ERR_NONE)
        app_refuse(app, effects.refused, screen->sheet.message);
    else if (effects.alert)
        app_ring(app);
}

/* What the keys do. */

static void command(struct app *app, void *state, int kind)
{
    run(app, state, (enum tally_command_kind)kind, 0);
}

static void reject(struct app *app, void *state, int fault)
{
    run(app, state, TALLY_DO_REJECT, fault);
}

static void reject_further(struct app *app, void *state, int place)
{
    struct tally_screen *screen = state;
    reject(app, state, TALLY_DIRECT + screen->page * TALLY_PAGE + place);
}

static void enter(struct app *app, void *state, int mode)
{
    run(app, state, TALLY_DO_ENTER_MODE, mode);
}

/* The next ten, round and round. */
static void turn_page(struct app *app, void *state, int number)
{
    struct tally_screen *screen = state;
    (void)app;
    (void)number;
    screen->page++;
    if (TALLY_DIRECT + screen->page * TALLY_PAGE >= screen->sheet.standard.fault_count)
        screen->page = 0;
}

static void plus(struct app *app, void *state, int number)
{
    (void)number;
    run(app, state, TALLY_DO_TYPE, '+');
}

/* The keypad has no Esc and no Backspace: its minus is both. */
static void minus(struct app *app, void *state, int number)
{
    struct tally_screen *screen = state;
    (void)number;
    run(app, screen, screen->sheet.line[0] == '\0' ? TALLY_DO_CANCEL : TALLY_DO_ERASE, 0);
}

static void first_look(struct app *app, void *state, int number)
{
    struct tally_screen *screen = state;
    (void)number;
    run(app, screen, TALLY_DO_CANCEL, 0);
    app_open_first_look(app, screen->port.round_id);
}

static void count_by_samples(struct app *app, void *state, int number)
{
    struct tally_screen *screen = state;
    (void)number;
    run(app, screen, TALLY_DO_CANCEL, 0);
    app_ask_samples(app, screen->port.round_id);
}

static void help(struct app *app, void *state, int number)
{
    (void)app;
    (void)number;
    ((struct tally_screen *)state)->help = true;
}

static const struct key_row tally_rows[] = {
    {"+ Enter Space", "keep", "keep one: a fish, or a scoop while scoops are counted",
     .handler = command, .number = TALLY_DO_KEEP},
    {"1–9", "reject", "reject one for the reason with this number", .handler = reject},
    {"a–z", "reason", "reject one for the reason with this letter", .handler = NULL},
    {"0 n", "no reason", "reject one without a reason: the rest of a bowl", .handler = reject,
     .number = -1},
    {"/", "further", "then a digit: reject one for a reason beyond the ninth", .handler = enter,
     .number = TALLY_FURTHER},
    {"* b", "fish or scoops", "count scoops instead of fish, or fish again", .handler = command,
     .number = TALLY_DO_UNIT},
    {"- u", "undo", "undo your last key, again and again", .handler = command,
     .number = TALLY_DO_UNDO},
    {". ,", "more", "the rest by number: dead fish, size of a scoop, leave", .handler = enter,
     .number = TALLY_MENU},
    {"m", "dead", "one found dead", .handler = command, .number = TALLY_DO_DEAD},
    {"l", "scoop", "measure the scoop: the fish counted in one or more of them", .handler = enter,
     .number = TALLY_SIZE},
    {"g", NULL, "a first look: what share of the lot is good", .handler = first_look},
    {"t", NULL, "count the fish by samples: weighed, displaced or scooped",
     .handler = count_by_samples},
    {"? F1", "help", "all keys", .handler = help},
    {"q", "leave", "leave the tally; it keeps its numbers", .handler = command,
     .number = TALLY_DO_LEAVE},
};

static const struct key_row further_rows[] = {
    {"1–9", "reject", "reject one for the reason with this number beside it",
     .handler = reject_further},
    {"0", NULL, "the tenth", .handler = reject_further, .number = TALLY_PAGE - 1},
    {"/", "further ones", "numbers for the next ten, if there are more", .handler = turn_page},
    {"- Esc Backspace", "back", "back to the tally", .handler = command, .number = TALLY_DO_CANCEL},
};

static const struct key_row menu_rows[] = {
    {"1", "dead", "one found dead", .handler = command, .number = TALLY_DO_DEAD},
    {"2", "measure the scoop", "measure the scoop", .handler = enter, .number = TALLY_SIZE},
    {"3", "first look", "a first look", .handler = first_look},
    {"4", "count by samples", "count by samples", .handler = count_by_samples},
    {"9", "help", "help", .handler = help},
    {"0", "leave", "leave the tally", .handler = command, .number = TALLY_DO_LEAVE},
    {"- Esc Backspace", "back", "back to the tally", .handler = command, .number = TALLY_DO_CANCEL},
};

static const struct key_row size_rows[] = {
    {"0–9", "fish", "the fish counted in a scoop", .handler = NULL},
    {"+", "next scoop", "before the next scoop; also a blank", .handler = plus},
    {"Enter", "done", "accept the size; keys count scoops from now on", .handler = command,
     .number = TALLY_DO_ACCEPT},
    {"Backspace", NULL, "delete the last character", .handler = command, .number = TALLY_DO_ERASE},
    {"-", "erase, back", "delete the last character; on an empty line: back", .handler = minus},
    {"Esc", "back", "back, unchanged", .handler = command, .number = TALLY_DO_CANCEL},
};

const struct key_table tally_keys = KEY_TABLE("At the tally", tally_rows);
const struct key_table tally_further_keys = KEY_TABLE("A reason beyond the ninth", further_rows);
const struct key_table tally_menu_keys =
    KEY_TABLE("Everything else of the tally by number", menu_rows);
const struct key_table tally_size_keys = KEY_TABLE("The size of a scoop", size_rows);

static const struct key_table *keys_of(const struct tally_sheet *sheet)
{
    static const struct key_table *const tables[TALLY_MODE_COUNT] = {
        [TALLY_COUNTING] = &tally_keys,
        [TALLY_FURTHER] = &tally_further_keys,
        [TALLY_MENU] = &tally_menu_keys,
        [TALLY_SIZE] = &tally_size_keys,
    };
    return tables[sheet->mode];
}

/* The reason with this letter, or -1. */
static int reason_of_letter(const struct tally_screen *screen, struct key key)
{
    for (int i = 0; i < screen->sheet.standard.fault_count; i++)
        if (screen->letters.faults[i] != '\0' &&
            (uint32_t)(unsigned char)screen->letters.faults[i] == key.code)
            return i;
    return -1;
}

static void press(struct app *app, struct tally_screen *screen, struct key key)
{
    struct tally_sheet *sheet = &screen->sheet;
    bool character = key.kind == KEY_CHARACTER;
    int number,
        reason = sheet->mode == TALLY_COUNTING && character ? reason_of_letter(screen, key) : -1;
    if (screen->help) {
        screen->help = false;
        return;
    }
    const struct key_row *row = keys_find(keys_of(sheet), key, &number);
    if (row != NULL) {
        row->handler(app, screen, number);
    } else if (sheet->mode == TALLY_SIZE && character) {
        run(app, screen, TALLY_DO_TYPE, (int)key.code);
    } else if (reason >= 0) {
        reject(app, screen, reason);
    } else {
        char sentence[NO_KEY_SIZE];
        keys_absent(keys_of(sheet), key, sentence);
        text_copy(sheet->message, sizeof sheet->message, sentence);
        app_ring(app);
    }
}

static void take_key(struct app *app, void *state, struct key key)
{
    struct tally_screen *screen = state;
    press(app, screen, key);
    if (!screen->leave)
        return;
    struct err err;
    struct place place = tally_place(&screen->port, screen->sheet.scoops, false);
    bool kept = place_save(app->ledger, &place, &err);
    app_pop(app);
    if (!kept)
        app_fail(app, &err);
}

/* After a screen over it, and now and then: others' keys and the lot's number may be new. */
static bool refresh(struct app *app, void *state, struct err *err)
{
    (void)err;
    run(app, state, TALLY_DO_REFRESH, 0);
    return true;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    const struct tally_screen *screen = state;
    const struct tally_view view = {.sheet = &screen->sheet,
                                    .letters = &screen->letters,
                                    .page = screen->page,
                                    .title = screen->title,
                                    .judge = app->judge_name,
                                    .said = app->message,
                                    .alert = app->alert,
                                    .keys = keys_of(&screen->sheet)};
    if (screen->help)
        keys_help(grid, view.keys, 0);
    else
        tally_view_draw(grid, &view);
}

static void done(void *state)
{
    struct tally_screen *screen = state;
    tally_sheet_done(&screen->sheet);
    free(screen);
}

static const struct screen_kind tally_kind = {
    .keys = &tally_keys, .refresh = refresh, .draw = draw, .key = take_key, .done = done};

/* Opening. */

/* The earliest culls have no standard: they are tallied without reasons. */
static bool find_standard(struct app *app, const struct round *round,
                          struct standard_version *version, const struct standard **ret,
                          struct err *err)
{
    *ret = &version->standard;
    if (round_standard(app->ledger, round, NULL, version, err))
        return true;
    *ret = NULL;
    return err->code == ERR_ABSENT;
}

/* What was stated of a round outranks its tally: whoever opens one that is done should know. */
static bool find_notice(struct app *app, int64_t round_id, char ret[TALLY_NOTICE_SIZE],
                        struct err *err)
{
    struct round_counts stated;
    if (!round_counts_get(app->ledger, round_id, &stated, err))
        return false;
    ret[0] = '\0';
    if (round_counts_whole(&stated))
        snprintf(ret, TALLY_NOTICE_SIZE,
                 "Done: %" PRId64 " kept was stated%s%s; keys here do not change that.",
                 stated.kept.number, stated.day[0] == '\0' ? "" : " on ", stated.day);
    return true;
}

static bool start(struct app *app, int64_t round_id, bool scoops, struct tally_screen *screen,
                  struct err *err)
{
    struct round round;
    struct standard_version version;
    struct tally_setup setup = {.scoops = scoops, .clock = *ledger_clock(app->ledger)};
    screen->port =
        (struct ledger_port){.ledger = app->ledger, .round_id = round_id, .judge = app->judge};
    setup.port = ledger_port_for_tally(&screen->port);
    if (!round_get(app->ledger, round_id, &round, err) ||
        !find_notice(app, round_id, setup.notice, err) ||
        !lot_book_before(app->ledger, round_id, &setup.by_book, err) ||
        !find_standard(app, &round, &version, &setup.standard, err) ||
        !round_title(app->ledger, &round, manner_terms[round.manner].word, screen->title, err))
        return false;
    setup.manner = round.manner;
    if (!tally_sheet_init(&screen->sheet, &setup, err))
        return false;
    screen->letters = letters_assign(&screen->sheet.standard);
    return true;
}

void app_open_tally(struct app *app, int64_t round_id, bool scoops)
{
    struct tally_screen *screen = alloc_zeroed(1, sizeof *screen);
    struct err err;
    if (start(app, round_id, scoops, screen, &err)) {
        app_push(app, &tally_kind, screen);
    } else {
        free(screen);
        app_fail(app, &err);
    }
}
