#include "senbetsu/screens/tally_screen.h"
#include "senbetsu/base/text.h"
#include "senbetsu/screens/tally_view.h"
#include "senbetsu/ui/frame.h"

#include <stddef.h>

void tally_screen_init(struct tally_screen *screen, struct tally_sheet *sheet)
{
    *screen = (struct tally_screen){.sheet = sheet, .letters = letters_assign(&sheet->standard)};
}

enum context tally_context(enum tally_mode mode)
{
    static const enum context contexts[TALLY_MODE_COUNT] = {
        [TALLY_COUNTING] = CONTEXT_TALLY,
        [TALLY_FURTHER] = CONTEXT_TALLY_FURTHER,
        [TALLY_MENU] = CONTEXT_TALLY_MENU,
        [TALLY_SIZE] = CONTEXT_TALLY_SIZE,
    };
    return contexts[mode];
}

/* The next ten, round and round. */
static int page_after(const struct tally_screen *screen)
{
    int next = TALLY_DIRECT + (screen->page + 1) * TALLY_PAGE;
    return next < screen->sheet->standard.fault_count ? screen->page + 1 : 0;
}

/* A key that the table does not have: a reason's letter, or a character of the line. */
static bool other_key(const struct tally_screen *screen, struct key key, struct tally_command *ret)
{
    const struct tally_sheet *sheet = screen->sheet;
    if (key.kind != KEY_CHARACTER)
        return false;
    if (sheet->mode == TALLY_SIZE) {
        *ret = (struct tally_command){TALLY_DO_TYPE, (int)key.code};
        return true;
    }
    for (int i = 0; i < sheet->standard.fault_count && sheet->mode == TALLY_COUNTING; i++) {
        if ((uint32_t)(unsigned char)screen->letters.faults[i] != key.code)
            continue;
        *ret = (struct tally_command){TALLY_DO_REJECT, i};
        return true;
    }
    return false;
}

static struct tally_command command_of(const struct tally_screen *screen, const struct binding *row)
{
    if (row->action == TALLY_REASON)
        return (struct tally_command){TALLY_DO_REJECT,
                                      TALLY_DIRECT + screen->page * TALLY_PAGE + row->number};
    if (row->action == TALLY_MINUS)
        return (struct tally_command){
            screen->sheet->line[0] == '\0' ? TALLY_DO_CANCEL : TALLY_DO_ERASE, 0};
    return (struct tally_command){(enum tally_command_kind)row->action, row->number};
}

/* A key that the mode does not have. */
static struct tally_effects refused(struct tally_screen *screen, struct key key)
{
    char sentence[NO_KEY_SIZE];
    binding_absent(tally_context(screen->sheet->mode), key, sentence);
    text_copy(screen->sheet->message, sizeof screen->sheet->message, sentence);
    return (struct tally_effects){.alert = true};
}

static struct tally_effects press(struct tally_screen *screen, struct key key)
{
    struct tally_command command;
    const struct binding *row = binding_find(tally_context(screen->sheet->mode), key);
    if (row != NULL && row->action == TALLY_HELP) {
        screen->help = true;
        return (struct tally_effects){.alert = false};
    }
    if (row != NULL && (row->action == TALLY_FIRST_LOOK || row->action == TALLY_SAMPLES)) {
        screen->wanted = row->action;
        return tally_sheet_do(screen->sheet, &(struct tally_command){TALLY_DO_CANCEL, 0});
    }
    if (row != NULL && row->action == TALLY_MORE) {
        screen->page = page_after(screen);
        return (struct tally_effects){.alert = false};
    }
    if (row != NULL)
        command = command_of(screen, row);
    else if (!other_key(screen, key, &command))
        return refused(screen, key);
    struct tally_effects effects = tally_sheet_do(screen->sheet, &command);
    if (screen->sheet->mode != TALLY_FURTHER)
        screen->page = 0;
    return effects;
}

struct tally_effects tally_screen_key(struct tally_screen *screen, struct key key)
{
    screen->wanted = 0;
    if (key.kind == KEY_RESIZED || key.kind == KEY_HANGUP)
        return (struct tally_effects){.alert = false};
    if (key.kind == KEY_NONE)
        return tally_sheet_do(screen->sheet, &(struct tally_command){TALLY_DO_REFRESH, 0});
    if (screen->help) {
        screen->help = false;
        return (struct tally_effects){.alert = false};
    }
    return press(screen, key);
}

void tally_screen_draw(const struct tally_screen *screen, struct grid *grid)
{
    if (frame_too_small(grid))
        return;
    if (screen->help)
        help_draw(grid, tally_context(screen->sheet->mode));
    else
        tally_view_draw(grid, screen->sheet, &screen->letters, screen->page);
}
