/* The sheet on the stack of screens: a bowl or the held fish out of the ledger, and what each key
 * does in each mode of the machine (sheet/sheet.h). A key's way: the row of the mode's table makes
 * a command of it; digits also go to the watch for tag readers, which may say later that they were
 * none of the user's. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/report/pass.h"
#include "senbetsu/report/rounds.h"
#include "senbetsu/screens/ledger_port.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/sheet/tag_reader.h"
#include "senbetsu/ui/term.h"
#include "sheet_view.h"

#include <stdio.h>
#include <stdlib.h>

/* Nothing was typed for so long: the clock on the screen and what other sorters did are brought up
 * to date. */
enum { REFRESH_MS = 20 * 1000, KEY_NAMED = 0x110000 /* after all characters */ };

struct sheet_screen {
    struct standard standard; /* the port's */
    struct ledger_port port;
    struct sheet sheet;
    struct letters letters;
    char title[TITLE_SIZE];
    struct tag_reader reader;
    struct press press;           /* of the key that is being handled */
    struct press scan_end;        /* the Enter or Tab that ended the last reading */
    int marked_page, marked_help; /* as they were when the burst began */
    bool owes; /* a reader's digits could not be taken back: before anything else they must be */
    int page;  /* of the faults or aspects picked by number */
    int help;  /* the page of the help that is up, 0 = none; any key turns it */
    bool more_help;
    struct sheet_effects effects; /* of all commands of one key press, taken together */
};

static void take(struct sheet_screen *screen, struct sheet_effects effects)
{
    screen->effects.alert |= effects.alert;
    if (effects.refused != ERR_NONE)
        screen->effects.refused = effects.refused;
    screen->effects.leave |= effects.leave;
    if (effects.next_bowl) {
        screen->effects.next_bowl = true;
        screen->effects.expected = effects.expected;
    }
    if (effects.go) {
        screen->effects.go = true;
        screen->effects.to = effects.to;
    }
}

static void send(struct sheet_screen *screen, struct sheet_command command)
{
    command.press = screen->press;
    take(screen, sheet_do(&screen->sheet, &command));
}

static void run(struct sheet_screen *screen, enum sheet_command_kind kind, int number)
{
    screen->page = 0;
    send(screen, (struct sheet_command){.kind = kind, .number = number});
}

/* What the keys do. */

static void command(struct app *app, void *state, int kind)
{
    (void)app;
    run(state, (enum sheet_command_kind)kind, 0);
}

static void score(struct app *app, void *state, int digit)
{
    (void)app;
    run(state, COMMAND_SCORE, digit);
}

static void enter(struct app *app, void *state, int mode)
{
    (void)app;
    run(state, COMMAND_ENTER_MODE, mode);
}

static void choose(struct app *app, void *state, int digit)
{
    (void)app;
    run(state, COMMAND_CHOOSE, digit);
}

static bool picks_fault(const struct sheet_screen *screen)
{
    return screen->sheet.mode == SHEET_PICK_FAULT;
}

static int pick_count(const struct sheet_screen *screen)
{
    const struct standard *standard = &screen->sheet.standard;
    return picks_fault(screen) ? standard->fault_count : standard->aspect_count;
}

static void pick(struct app *app, void *state, int number)
{
    struct sheet_screen *screen = state;
    (void)app;
    int index = screen->page * PICK_KEYS + number;
    if (index < pick_count(screen)) {
        run(screen, picks_fault(screen) ? COMMAND_FAULT : COMMAND_ASPECT, index);
        return;
    }
    snprintf(screen->sheet.message, sizeof screen->sheet.message, "No %s has the number %s here.",
             picks_fault(screen) ? "fault" : "aspect", pick_names[number]);
    screen->effects.alert = true;
}

/* The next twelve, and the first again after the last. */
static void turn_page(struct app *app, void *state, int number)
{
    struct sheet_screen *screen = state;
    (void)app;
    (void)number;
    screen->page++;
    if (screen->page * PICK_KEYS >= pick_count(screen))
        screen->page = 0;
}

/* The keypad has no Esc and no Backspace: its minus is both, except where it can be part of what is
 * typed. */
static void minus(struct app *app, void *state, int number)
{
    struct sheet_screen *screen = state;
    (void)app;
    (void)number;
    enum sheet_mode mode = screen->sheet.mode;
    if (screen->sheet.line[0] == '\0')
        run(screen, COMMAND_CANCEL, 0);
    else if (mode == SHEET_LENGTH || mode == SHEET_NEXT_BOWL)
        run(screen, COMMAND_ERASE, 0);
    else
        run(screen, COMMAND_TYPE, '-');
}

static void help(struct app *app, void *state, int number)
{
    (void)app;
    (void)number;
    ((struct sheet_screen *)state)->help = 1;
}

static const struct key_row sheet_rows[] = {
    {"0–9", "score", "score the selected aspect (0 is 10 where a scale ends at 10)",
     .handler = score},
    {"Enter", "finish", "typical score for the rest; in a second look as seen before",
     .handler = command, .number = COMMAND_FINISH},
    {"=", NULL, "typical score for the rest, in a second look too", .handler = command,
     .number = COMMAND_TYPICAL},
    {"a–z", "fault", "mark the fault with this small letter, or unmark it", .handler = NULL},
    {"*", NULL, "then a digit: mark or unmark the fault with this number", .handler = enter,
     .number = SHEET_PICK_FAULT},
    {"A–Z", "aspect", "move the cursor to the aspect with this capital letter", .handler = NULL},
    {"/", NULL, "then a digit: move the cursor to the aspect with this number", .handler = enter,
     .number = SHEET_PICK_ASPECT},
    {"- u", "undo", "undo the last key, whichever fish it was for", .handler = command,
     .number = COMMAND_UNDO},
    {"+ Space", "next", "leave the aspect open and go to the next open one", .handler = command,
     .number = COMMAND_SKIP},
    {". ,", "more", "the rest by number: other fish, length, tag, note, by hand", .handler = enter,
     .number = SHEET_MENU},
    {"Up", NULL, "the aspect above", .handler = command, .number = COMMAND_UP},
    {"Down", NULL, "the aspect below", .handler = command, .number = COMMAND_DOWN},
    {"Delete Backspace", NULL, "clear the score of the selected aspect", .handler = command,
     .number = COMMAND_CLEAR},
    {"p Left", NULL, "the previous fish", .handler = command, .number = COMMAND_EARLIER},
    {"n Right", NULL, "the next fish", .handler = command, .number = COMMAND_LATER},
    {"g", NULL, "the first fish that is not done", .handler = command,
     .number = COMMAND_FIRST_OPEN},
    {"# F3", "find", "a fish by its number, by bowl-number, or by * and its tag", .handler = enter,
     .number = SHEET_FIND},
    {"l", "length", "enter the length in mm", .handler = enter, .number = SHEET_LENGTH},
    {"t", "tag", "enter a tag; a tag reader needs no key before it", .handler = enter,
     .number = SHEET_TAG},
    {"m", "note", "a note on the fish", .handler = enter, .number = SHEET_NOTE},
    {"v", "by hand", "set the verdict by hand, with a reason", .handler = enter,
     .number = SHEET_VERDICT},
    {"b", "bowl", "take the next bowl", .handler = enter, .number = SHEET_NEXT_BOWL},
    {"? F1", "help", "all keys", .handler = help},
    {"q", "leave", "leave the sheet; it opens again at this fish", .handler = command,
     .number = COMMAND_LEAVE},
};

static const struct key_row pick_rows[] = {
    {"1–9", "pick", "the one with this number beside it", .handler = pick},
    {"0", "10th", "the tenth", .handler = pick, .number = 9},
    {". ,", "11th", "the eleventh", .handler = pick, .number = 10},
    {"+", "12th", "the twelfth", .handler = pick, .number = 11},
    {"* /", "further ones", "numbers for the next twelve, if there are more", .handler = turn_page},
    {"- Esc Backspace", "back", "back to the scores", .handler = command, .number = COMMAND_CANCEL},
};

static const struct key_row menu_rows[] = {
    {"1", NULL, "the previous fish", .handler = command, .number = COMMAND_EARLIER},
    {"2", NULL, "the next fish", .handler = command, .number = COMMAND_LATER},
    {"3", NULL, "the first open fish", .handler = command, .number = COMMAND_FIRST_OPEN},
    {"4", NULL, "length", .handler = enter, .number = SHEET_LENGTH},
    {"5", NULL, "tag", .handler = enter, .number = SHEET_TAG},
    {"6", NULL, "note", .handler = enter, .number = SHEET_NOTE},
    {"7", NULL, "verdict by hand", .handler = enter, .number = SHEET_VERDICT},
    {"8", NULL, "next bowl", .handler = enter, .number = SHEET_NEXT_BOWL},
    {"9", NULL, "help", .handler = help},
    {"0", NULL, "leave the sheet", .handler = command, .number = COMMAND_LEAVE},
    {"*", NULL, "clear the score", .handler = command, .number = COMMAND_CLEAR},
    {"/", NULL, "typical scores", .handler = command, .number = COMMAND_TYPICAL},
    {"+", NULL, "find a fish", .handler = enter, .number = SHEET_FIND},
    {"- Esc Backspace", "back", "back to the scores", .handler = command, .number = COMMAND_CANCEL},
};

static const struct key_row choice_rows[] = {
    {"0–9", "choose", "the line with this number", .handler = choose},
    {"- Esc Backspace", "back", "back to the scores", .handler = command, .number = COMMAND_CANCEL},
};

static const struct key_row line_rows[] = {
    {"Enter", "done", "accept the line", .handler = command, .number = COMMAND_ACCEPT},
    {"Backspace", "erase", "delete the last character", .handler = command,
     .number = COMMAND_ERASE},
    {"-", NULL, "on an empty line: back; in a number: delete a digit", .handler = minus},
    {"Esc", "back", "back, unchanged", .handler = command, .number = COMMAND_CANCEL},
};

static const struct key_row ask_rows[] = {
    {"+", "yes", "give the fish this tag", .handler = command, .number = COMMAND_YES},
    {"- Esc Backspace", "no", "any other key: no, the fish stays as it is", .handler = command,
     .number = COMMAND_CANCEL},
};

const struct key_table sheet_keys = KEY_TABLE("At the fish", sheet_rows);
const struct key_table sheet_pick_keys = KEY_TABLE("A fault or an aspect by number", pick_rows);
const struct key_table sheet_menu_keys = KEY_TABLE("Everything else by number", menu_rows);
const struct key_table sheet_choice_keys = KEY_TABLE("Choosing from a list", choice_rows);
const struct key_table sheet_line_keys = KEY_TABLE("Typing a line", line_rows);
const struct key_table sheet_ask_keys = KEY_TABLE("A tag that is asked about", ask_rows);

static const struct key_table *keys_of(const struct sheet *sheet)
{
    if (sheet->mode == SHEET_JUDGE)
        return &sheet_keys;
    if (sheet->mode == SHEET_MENU)
        return &sheet_menu_keys;
    if (sheet->mode == SHEET_ASK_TAG)
        return &sheet_ask_keys;
    if (sheet->mode == SHEET_PICK_FAULT || sheet->mode == SHEET_PICK_ASPECT)
        return &sheet_pick_keys;
    return sheet_types_line(sheet) ? &sheet_line_keys : &sheet_choice_keys;
}

/* From a key to its row. */

/* The place of a letter, or -1. */
static int letter_index(const char *letters, int count, uint32_t letter)
{
    for (int i = 0; i < count; i++)
        if (letter != 0 && (uint32_t)(unsigned char)letters[i] == letter)
            return i;
    return -1;
}

static void press_letter(struct sheet_screen *screen, char letter)
{
    const struct standard *standard = &screen->sheet.standard;
    int fault = letter_index(screen->letters.faults, standard->fault_count, (uint32_t)letter);
    int aspect = letter_index(screen->letters.aspects, standard->aspect_count, (uint32_t)letter);
    if (fault >= 0 || aspect >= 0) {
        run(screen, fault >= 0 ? COMMAND_FAULT : COMMAND_ASPECT, fault >= 0 ? fault : aspect);
        return;
    }
    snprintf(screen->sheet.message, sizeof screen->sheet.message, "No %s has the letter %c.",
             letter >= 'a' ? "fault" : "aspect", letter);
    screen->effects.alert = true;
}

/* One key as it was typed, past the tag reader. */
static void press(struct app *app, struct sheet_screen *screen, struct key key)
{
    struct sheet *sheet = &screen->sheet;
    const struct key_table *keys = keys_of(sheet);
    bool character = key.kind == KEY_CHARACTER;
    bool letter =
        character && ((key.code >= 'a' && key.code <= 'z') || (key.code >= 'A' && key.code <= 'Z'));
    int number;
    if (screen->help > 0) {
        screen->help = screen->more_help ? screen->help + 1 : 0;
        return;
    }
    const struct key_row *row = keys_find(keys, key, &number);
    if (row != NULL) {
        row->handler(app, screen, number);
    } else if (character && sheet_types_line(sheet)) {
        run(screen, COMMAND_TYPE, (int)key.code);
    } else if (letter && sheet->mode == SHEET_JUDGE) {
        press_letter(screen, (char)key.code);
    } else if (sheet->mode == SHEET_ASK_TAG) {
        run(screen, COMMAND_CANCEL, 0);
    } else {
        char sentence[NO_KEY_SIZE];
        keys_absent(keys, key, sentence);
        text_copy(sheet->message, sizeof sheet->message, sentence);
        screen->effects.alert |= character;
    }
}

/* A burst of digits is over. Those of a reader are taken back, and so is what they did to the
 * screen. Returns whether it was a reader's. */
static bool end_burst(struct sheet_screen *screen)
{
    struct tag_reader burst = screen->reader;
    enum reader_result result = tag_reader_result(&burst);
    tag_reader_init(&screen->reader);
    if (result == READER_NONE)
        return false;
    screen->page = screen->marked_page;
    screen->help = screen->marked_help;
    screen->effects = (struct sheet_effects){0};
    screen->press = (struct press){0};
    if (result == READER_TAG)
        send(screen, (struct sheet_command){.kind = COMMAND_SCAN, .text = burst.digits});
    else
        send(screen, (struct sheet_command){.kind = COMMAND_MISREAD, .number = burst.count});
    screen->owes = screen->effects.refused != ERR_NONE;
    if (screen->owes)
        screen->reader = burst;
    return true;
}

/* Many readers send two keys at the end, or the terminal makes two of one. */
static bool ends_again(const struct sheet_screen *screen)
{
    int64_t since = screen->press.from_ms - screen->scan_end.to_ms;
    return screen->scan_end.to_ms != 0 && since >= 0 && since <= READER_SLOWEST_MS;
}

static void type_digit(struct app *app, struct sheet_screen *screen, struct key key)
{
    if (!tag_reader_goes_on(&screen->reader, &screen->press)) {
        struct press press = screen->press;
        end_burst(screen);
        if (screen->owes)
            return;
        screen->press = press;
        screen->marked_page = screen->page;
        screen->marked_help = screen->help;
        send(screen, (struct sheet_command){.kind = COMMAND_MARK});
    }
    tag_reader_add(&screen->reader, (int)(key.code - '0'), &screen->press);
    press(app, screen, key);
    if (screen->reader.count > 1 && screen->effects.refused == ERR_NONE)
        screen->effects.alert = false; /* a reader's digits that score nothing ring no bell each */
}

static void type(struct app *app, struct sheet_screen *screen, struct key key)
{
    bool may_end = key.kind == KEY_RETURN || key.kind == KEY_TABULATOR;
    struct press now = screen->press;
    if (key.kind == KEY_CHARACTER && key.code >= '0' && key.code <= '9') {
        type_digit(app, screen, key);
        return;
    }
    bool in_time = tag_reader_ends(&screen->reader, &now);
    if (end_burst(screen) && may_end && in_time) {
        screen->scan_end = now;
        return;
    }
    if (screen->owes)
        return;
    screen->press = now;
    if (may_end && ends_again(screen))
        return;
    press(app, screen, key);
}

static void leave(struct app *app, const struct sheet_screen *screen)
{
    struct sheet_place at = sheet_place(&screen->sheet);
    struct place place = ledger_port_place(&screen->port, &at, false);
    struct err err;
    bool kept = place_save(app->ledger, &place, &err);
    app_pop(app);
    if (!kept)
        app_fail(app, &err);
}

/* Last of all, for the screen may be gone then. */
static void carry_out(struct app *app, struct sheet_screen *screen)
{
    struct sheet_effects effects = screen->effects;
    screen->effects = (struct sheet_effects){0};
    if (effects.refused != ERR_NONE)
        app_refuse(app, effects.refused, screen->sheet.message);
    else if (effects.alert)
        app_ring(app);
    if (effects.go) {
        struct sheet_place to = effects.to;
        struct place place = ledger_port_place(&screen->port, &to, true);
        app_pop(app);
        app_open_sheet(app, to.bowl_id, &place);
    } else if (effects.next_bowl) {
        int64_t round_id = screen->port.round_id;
        app_pop(app);
        app_open_next_bowl(app, round_id, effects.expected);
    } else if (effects.leave) {
        leave(app, screen);
    }
}

/* A digit of the menu may be the first of a reader's, and once the sheet is left nothing can be
 * taken back: leaving waits until no further digit can follow. */
static bool leaving_waits(const struct sheet_screen *screen)
{
    return screen->effects.leave && screen->reader.count > 0;
}

/* What a reader's digits did stands on the sheet still, and the next key would be taken for a fish
 * that they made up: it only tries once more to take them back. When that fails too, they stand,
 * and whoever cannot wait for the disk must be able to leave. */
static void pay(struct app *app, struct sheet_screen *screen)
{
    struct sheet *sheet = &screen->sheet;
    end_burst(screen);
    if (screen->owes)
        snprintf(sheet->message, sizeof sheet->message,
                 "The tag reader's digits stand as scores, for they could not be taken back; undo "
                 "them one by one.");
    screen->owes = false;
    tag_reader_init(&screen->reader);
    carry_out(app, screen);
    app_hold_keys(app);
}

static struct press press_of(const struct app *app, const struct sheet_screen *screen,
                             struct key key)
{
    uint32_t code = key.kind == KEY_CHARACTER ? key.code : KEY_NAMED + (uint32_t)key.kind;
    struct press press = {code, app->pressed.from_ms, app->pressed.to_ms};
    if (press.to_ms == 0) /* nobody said */
        press.from_ms = press.to_ms = clock_now(&screen->sheet.clock);
    return press;
}

static void take_key(struct app *app, void *state, struct key key)
{
    struct sheet_screen *screen = state;
    bool left = leaving_waits(screen);
    screen->press = press_of(app, screen, key);
    if (screen->owes) {
        pay(app, screen);
        return;
    }
    if (left && !tag_reader_goes_on(&screen->reader, &screen->press)) {
        tag_reader_init(&screen->reader);
        carry_out(app, screen);
        app_key(app, key);
        return;
    }
    screen->effects.leave = false;
    type(app, screen, key);
    if (!leaving_waits(screen))
        carry_out(app, screen);
}

/* Of a key that is thrown away only the watch hears: a reader may be in the middle of its digits,
 * and those that were recorded before must be taken back. Digits that begin a burst of their own
 * were meant for another fish, or for another aspect. */
static void hear(struct app *app, void *state, struct key key)
{
    struct sheet_screen *screen = state;
    screen->press = press_of(app, screen, key);
    struct press now = screen->press;
    bool digit = key.kind == KEY_CHARACTER && key.code >= '0' && key.code <= '9';
    if (screen->owes)
        return;
    if (digit && tag_reader_goes_on(&screen->reader, &now)) {
        tag_reader_add(&screen->reader, (int)(key.code - '0'), &now);
        return;
    }
    bool may_end = key.kind == KEY_RETURN || key.kind == KEY_TABULATOR;
    bool in_time = tag_reader_ends(&screen->reader, &now);
    if (end_burst(screen) && may_end && in_time)
        screen->scan_end = now;
    carry_out(app, screen);
}

/* What nobody was sure of is in the ledger, so the sheet is behind it: it is opened anew. */
static void settled(struct app *app, void *state, bool recorded)
{
    struct place place;
    struct err err;
    if (!recorded)
        return;
    if (!place_get(app->ledger, app->judge, &place, &err)) {
        app_fail(app, &err);
        return;
    }
    app_pop(app);
    app_open_place(app, &place);
}

static void idle(struct app *app, void *state)
{
    struct sheet_screen *screen = state;
    screen->press = (struct press){0};
    if (!end_burst(screen))
        send(screen, (struct sheet_command){.kind = COMMAND_REFRESH});
    carry_out(app, screen);
}

static int wait_ms(const void *state)
{
    const struct sheet_screen *screen = state;
    int more_ms = leaving_waits(screen) ? READER_SLOWEST_MS + READER_SLACK_MS
                                        : tag_reader_wait_ms(&screen->reader);
    if (screen->owes)
        return IDLE_MS;
    return more_ms > 0 ? more_ms : REFRESH_MS;
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct sheet_screen *screen = state;
    const struct sheet_view view = {.sheet = &screen->sheet,
                                    .letters = &screen->letters,
                                    .page = screen->page,
                                    .title = screen->title,
                                    .judge = app->judge_name,
                                    .said = app->message,
                                    .alert = app->alert,
                                    .keys = keys_of(&screen->sheet)};
    if (screen->help)
        screen->more_help = keys_help(grid, view.keys, screen->help - 1);
    else
        sheet_view_draw(grid, &view);
}

static void done(void *state)
{
    struct sheet_screen *screen = state;
    sheet_done(&screen->sheet);
    ledger_port_done(&screen->port);
    free(screen);
}

static const struct screen_kind sheet_kind = {.keys = &sheet_keys,
                                              .draw = draw,
                                              .key = take_key,
                                              .thrown_away = hear,
                                              .settled = settled,
                                              .wait_ms = wait_ms,
                                              .idle = idle,
                                              .done = done};

/* Opening. */

/* What a sheet is made from; freed as soon as it is up. */
struct queue {
    struct round round;
    struct standard_version version;
    struct bowl bowl; /* id 0 in a second look */
    struct fish *fish;
    size_t fish_count;
    struct undoable *undoable;
    size_t undoable_count;
};

/* The fish of a bowl; of a round's held fish where `bowl_id` is 0. */
static bool read_queue(struct app *app, int64_t bowl_id, int64_t round_id, struct queue *queue,
                       struct err *err)
{
    const struct standard *standard = &queue->version.standard;
    struct round_summary summary;
    if (bowl_id != 0 && !bowl_get(app->ledger, bowl_id, &queue->bowl, err))
        return false;
    if (bowl_id != 0)
        round_id = queue->bowl.round_id;
    if (!round_get(app->ledger, round_id, &queue->round, err) ||
        !round_standard(app->ledger, &queue->round, NULL, &queue->version, err) ||
        !undoable_of(app->ledger, round_id, bowl_id, &queue->undoable, &queue->undoable_count, err))
        return false;
    if (bowl_id != 0)
        return fish_of_bowl(app->ledger, bowl_id, standard, &queue->fish, &queue->fish_count, err);
    if (!round_summary_get(app->ledger, round_id, &summary, err) ||
        !fish_of_round(app->ledger, round_id, standard, &queue->fish, &queue->fish_count, err))
        return false;
    queue->fish_count =
        second_look_pick(queue->fish, queue->fish_count, summary.pass.id != 0, summary.picked);
    return queue->fish_count > 0 ||
           err_set(err, ERR_ABSENT,
                   "No fish of this round is held, so none can be looked at again.");
}

/* A round keeps the name of the standard by which its first fish was judged. */
static bool settle_standard(struct app *app, struct queue *queue, struct err *err)
{
    if (queue->round.standard[0] != '\0')
        return true;
    text_copy(queue->round.standard, sizeof queue->round.standard, queue->version.standard.name);
    return round_save(app->ledger, &queue->round, app->judge, err);
}

static bool start(struct app *app, struct queue *queue, const struct place *at,
                  struct sheet_screen *screen, struct err *err)
{
    bool second_look = queue->bowl.id == 0;
    char whose[STATION_NAME_SIZE + 16] = "";
    if (queue->bowl.station[0] != '\0') /* there are two of this number */
        snprintf(whose, sizeof whose, "bowl of %s", queue->bowl.station);
    screen->standard = queue->version.standard;
    screen->letters = letters_assign(&screen->standard);
    tag_reader_init(&screen->reader);
    screen->port = (struct ledger_port){.ledger = app->ledger,
                                        .standard = &screen->standard,
                                        .version = queue->version.id,
                                        .round_id = queue->round.id,
                                        .bowl_id = queue->bowl.id,
                                        .judge = app->judge,
                                        .second_look = second_look};
    struct sheet_setup setup = {.standard = &screen->standard,
                                .judge = app->judge,
                                .bowl_id = queue->bowl.id,
                                .bowl = queue->bowl.number,
                                .expected = queue->bowl.expected,
                                .second_look = second_look,
                                .unnumbered = second_look && queue->round.waiting == WAITING_BASIN,
                                .fish = queue->fish,
                                .fish_count = queue->fish_count,
                                .undoable = queue->undoable,
                                .undoable_count = queue->undoable_count,
                                .bounce_ms = app->bounce_ms,
                                .port = ledger_port_for_sheet(&screen->port),
                                .clock = *ledger_clock(app->ledger)};
    if (at != NULL) {
        setup.place = (struct sheet_place){.bowl_id = at->bowl_id, .number = at->number};
        text_copy(setup.place.aspect, sizeof setup.place.aspect, at->aspect);
    }
    return settle_standard(app, queue, err) &&
           round_title(app->ledger, &queue->round, whose, screen->title, err) &&
           sheet_init(&screen->sheet, &setup, err);
}

static void open_queue(struct app *app, int64_t bowl_id, int64_t round_id, const struct place *at)
{
    struct sheet_screen *screen = alloc_zeroed(1, sizeof *screen);
    struct queue queue = {0};
    struct err err;
    if (read_queue(app, bowl_id, round_id, &queue, &err) && start(app, &queue, at, screen, &err)) {
        app_push(app, &sheet_kind, screen);
    } else {
        ledger_port_done(&screen->port);
        free(screen);
        app_fail(app, &err);
    }
    free(queue.fish);
    free(queue.undoable);
}

void app_open_sheet(struct app *app, int64_t bowl_id, const struct place *at)
{
    open_queue(app, bowl_id, 0, at);
}

void app_open_second_look(struct app *app, int64_t round_id, const struct place *at)
{
    open_queue(app, 0, round_id, at);
}
