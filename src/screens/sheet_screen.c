#include "senbetsu/screens/sheet_screen.h"
#include "senbetsu/screens/sheet_view.h"
#include "senbetsu/ui/frame.h"

#include <stdio.h>

/* Nothing was typed for so long: the clock on the screen and what other sorters did are brought up
 * to date. */
enum { REFRESH_MS = 20 * 1000 };

void sheet_screen_init(struct sheet_screen *screen, struct sheet *sheet)
{
    *screen = (struct sheet_screen){.sheet = sheet};
    screen->letters = letters_assign(&sheet->standard);
    tag_reader_init(&screen->reader);
}

static struct sheet_effects together(struct sheet_effects a, struct sheet_effects b)
{
    return (struct sheet_effects){
        .alert = a.alert || b.alert,
        .leave = a.leave || b.leave,
        .next_bowl = a.next_bowl || b.next_bowl,
        .expected = b.next_bowl ? b.expected : a.expected,
    };
}

/* The pick layer's next twelve, and the first again after the last. */
static void turn_page(struct sheet_screen *screen)
{
    const struct standard *standard = &screen->sheet->standard;
    int count =
        screen->sheet->mode == SHEET_PICK_FAULT ? standard->fault_count : standard->aspect_count;
    screen->page++;
    if (screen->page * PICK_KEYS >= count)
        screen->page = 0;
}

static struct sheet_effects absent(struct sheet *sheet, struct key key)
{
    char sentence[NO_KEY_SIZE];
    sheet_key_absent(sheet, key, sentence);
    snprintf(sheet->message, sizeof sheet->message, "%s", sentence);
    return (struct sheet_effects){.alert = key.kind == KEY_CHARACTER};
}

/* One key as it was typed, past the tag reader's watch. */
static struct sheet_effects press(struct sheet_screen *screen, struct key key)
{
    int action;
    struct sheet_command command;
    if (screen->help) {
        screen->help = false;
        return (struct sheet_effects){0};
    }
    if (!sheet_key(screen->sheet, &screen->letters, screen->page, key, &action, &command))
        return absent(screen->sheet, key);
    if (action == ACTION_HELP) {
        screen->help = true;
        return (struct sheet_effects){0};
    }
    if (action == ACTION_MORE) {
        turn_page(screen);
        return (struct sheet_effects){0};
    }
    screen->page = 0;
    return sheet_do(screen->sheet, &command);
}

static struct sheet_effects release(struct sheet_screen *screen)
{
    struct tag_reader held = screen->reader;
    tag_reader_init(&screen->reader);
    struct sheet_effects effects = {0};
    for (int i = 0; i < held.count; i++) {
        struct key digit = {KEY_CHARACTER, (uint32_t)(unsigned char)held.digits[i]};
        effects = together(effects, press(screen, digit));
    }
    return effects;
}

static struct sheet_effects take_tag(struct sheet_screen *screen)
{
    struct tag_reader held = screen->reader;
    tag_reader_init(&screen->reader);
    return sheet_do(screen->sheet, &(struct sheet_command){COMMAND_TAG, 0, held.digits});
}

static struct sheet_effects drop_garbled(struct sheet_screen *screen)
{
    struct sheet *sheet = screen->sheet;
    snprintf(sheet->message, sizeof sheet->message,
             "The tag reader sent %d digits, a tag has %d: read it again.", screen->reader.count,
             TAG_DIGITS);
    tag_reader_init(&screen->reader);
    return (struct sheet_effects){.alert = true};
}

/* What a burst that is over turned out to be. */
static struct sheet_effects burst(struct sheet_screen *screen, enum reader_result result)
{
    if (result == READER_RELEASE)
        return release(screen);
    return result == READER_TAG ? take_tag(screen) : drop_garbled(screen);
}

static struct sheet_effects waited(struct sheet_screen *screen)
{
    enum reader_result result =
        tag_reader_timeout(&screen->reader, clock_now(&screen->sheet->clock));
    if (result == READER_PASS)
        sheet_do(screen->sheet, &(struct sheet_command){COMMAND_REFRESH, 0, NULL});
    else if (result != READER_WAIT)
        return burst(screen, result);
    return (struct sheet_effects){0};
}

static struct sheet_effects typed(struct sheet_screen *screen, struct key key)
{
    bool is_digit = key.kind == KEY_CHARACTER && key.code >= '0' && key.code <= '9';
    int digit = is_digit ? (int)key.code - '0' : -1;
    enum reader_result result =
        tag_reader_key(&screen->reader, digit, clock_now(&screen->sheet->clock));
    if (result == READER_PASS)
        return press(screen, key);
    if (result == READER_WAIT)
        return (struct sheet_effects){0};
    struct sheet_effects effects = burst(screen, result);
    if (key.kind == KEY_RETURN && result != READER_RELEASE)
        return effects;
    /* This key may begin another burst, so it is looked at anew; with no digit waiting it is not
     * sent here a second time. */
    return together(effects, typed(screen, key));
}

struct sheet_effects sheet_screen_key(struct sheet_screen *screen, struct key key)
{
    if (key.kind == KEY_RESIZED || key.kind == KEY_HANGUP)
        return (struct sheet_effects){0};
    if (key.kind == KEY_NONE)
        return waited(screen);
    return typed(screen, key);
}

int sheet_screen_timeout(const struct sheet_screen *screen)
{
    int wait_ms = tag_reader_wait_ms(&screen->reader);
    return wait_ms > 0 ? wait_ms : REFRESH_MS;
}

void sheet_screen_draw(const struct sheet_screen *screen, struct grid *grid)
{
    if (frame_too_small(grid))
        return;
    if (screen->help)
        help_draw(grid, sheet_context(screen->sheet->mode));
    else
        sheet_view_draw(grid, screen->sheet, &screen->letters, screen->page);
}
