/* A spawning and its rounds, or those of one lot, filled from the ledger. */
#include "senbetsu/base/alloc.h"
#include "senbetsu/base/text.h"
#include "senbetsu/print/counts.h"
#include "senbetsu/screens/round_lines.h"
#include "senbetsu/screens/screens.h"
#include "senbetsu/screens/spawning_view.h"
#include "senbetsu/store/tallies.h"

#include <stdlib.h>
#include <string.h>

struct spawning_screen {
    char code[CODE_SIZE]; /* of the spawning, or of one of those whose fish are in the lot */
    int64_t lot_id;       /* 0 = all lots of the spawning by itself */
    struct spawning_view view;
    int64_t *rounds; /* ids, as the view has them */
};

static void forget(struct spawning_screen *screen)
{
    free(screen->view.spawning.rounds);
    free(screen->rounds);
}

/* The line of the round with this id, else the last one, which begins a round. */
static int line_of(const int64_t *rounds, size_t count, int64_t id)
{
    size_t i = 0;
    while (i < count && rounds[i] != id)
        i++;
    return (int)i;
}

/* The id of the round in front, 0 = the line that begins one. */
static int64_t front_id(const struct spawning_screen *screen)
{
    size_t index = spawning_front(&screen->view);
    return index < screen->view.spawning.round_count ? screen->rounds[index] : 0;
}

/* Where the hand goes when the rounds have been read anew: it stays on its round; from the line
 * that begins one it goes to the round that has been begun, if there is one. */
static int line_in_front(const struct spawning_screen *screen, const int64_t *rounds, size_t count)
{
    size_t known = screen->view.spawning.round_count;
    int64_t front = front_id(screen);
    for (size_t i = 0; i < count && front == 0 && count > known; i++)
        if (line_of(screen->rounds, known, rounds[i]) == (int)known)
            front = rounds[i];
    return line_of(rounds, count, front);
}

/* Keeps the rounds that belong here. */
static size_t choose_rounds(const struct spawning_screen *screen, struct round_summary *rounds,
                            size_t count)
{
    size_t kept = 0;
    for (size_t i = 0; i < count; i++) {
        const struct round *round = &rounds[i].round;
        if (screen->lot_id != 0 ? round->lot_id == screen->lot_id
                                : strcmp(round->spawning, screen->code) == 0)
            rounds[kept++] = rounds[i];
    }
    return kept;
}

static void fill(struct spawning_screen *screen, struct home_spawning line,
                 const struct round_summary *rounds, size_t count)
{
    int64_t *ids = alloc_zeroed(count + 1, sizeof *ids);
    line.rounds = alloc_zeroed(count + 1, sizeof *line.rounds);
    line.round_count = count;
    for (size_t i = 0; i < count; i++) {
        ids[i] = rounds[i].round.id;
        line.rounds[i] = round_line_of(&rounds[i]);
        if (screen->lot_id != 0)
            line.rounds[i].lot[0] = '\0'; /* the title names it */
    }
    int front = screen->rounds != NULL ? line_in_front(screen, ids, count) : 0;
    forget(screen);
    screen->rounds = ids;
    screen->view.spawning = line;
    spawning_ready(&screen->view);
    list_to(&screen->view.list, front);
}

static bool describe_spawning(struct app *app, const struct spawning_screen *screen,
                              struct home_spawning *ret, struct err *err)
{
    struct spawning spawning;
    if (!spawning_get(app->ledger, screen->code, &spawning, err))
        return false;
    home_spawning_fill(ret, &spawning);
    return true;
}

static bool describe_lot(struct app *app, struct spawning_screen *screen, struct home_spawning *ret,
                         struct err *err)
{
    struct lot_origin *lots;
    size_t count;
    if (!lot_origins_list(app->ledger, &lots, &count, err))
        return false;
    const struct lot_origin *lot = lot_origin_find(lots, count, screen->lot_id);
    if (lot != NULL) {
        size_t length = strcspn(lot->spawnings, ";");
        text_copy(screen->code, length + 1, lot->spawnings);
        home_spawning_fill_lot(ret, lot);
    }
    lot_origins_free(lots, count);
    return lot != NULL || err_set(err, ERR_ABSENT, "This lot is not in the ledger.");
}

/* The lines stand in the order of the ids. */
static bool fill_first_looks(struct app *app, struct spawning_screen *screen, struct err *err)
{
    for (size_t i = 0; i < screen->view.spawning.round_count; i++) {
        struct first_look look;
        if (!first_look_get(app->ledger, screen->rounds[i], &look, err))
            return false;
        first_look_text(&look, screen->view.spawning.rounds[i].first_look);
    }
    return true;
}

static bool refresh(struct app *app, void *state, struct err *err)
{
    struct spawning_screen *screen = state;
    struct home_spawning line;
    struct round_summary *rounds;
    size_t count;
    if (!(screen->lot_id != 0 ? describe_lot(app, screen, &line, err)
                              : describe_spawning(app, screen, &line, err)) ||
        !round_list(app->ledger, screen->code, &rounds, &count, err))
        return false;
    fill(screen, line, rounds, choose_rounds(screen, rounds, count));
    free(rounds);
    return fill_first_looks(app, screen, err);
}

static void draw(struct app *app, void *state, struct grid *grid)
{
    struct spawning_screen *screen = state;
    screen->view.message = app->message;
    screen->view.alert = app->alert;
    spawning_draw(grid, &screen->view);
}

static void with_round(struct app *app, const struct spawning_screen *screen,
                       void (*what)(struct app *app, int64_t round_id))
{
    int64_t id = front_id(screen);
    if (id != 0)
        what(app, id);
    else
        app_say(app, "Go to a round first, or begin one with +.");
}

static void begin_round(struct app *app, const struct spawning_screen *screen)
{
    if (screen->lot_id != 0)
        app_ask_new_round_of_lot(app, screen->lot_id);
    else
        app_ask_new_round(app, screen->code);
}

/* The last line begins a round. */
static void choose(struct app *app, const struct spawning_screen *screen)
{
    if (front_id(screen) != 0)
        with_round(app, screen, app_open_round);
    else
        begin_round(app, screen);
}

/* The same for what only fish judged one by one have. */
static void with_judged_round(struct app *app, const struct spawning_screen *screen,
                              void (*what)(struct app *app, int64_t round_id))
{
    size_t index = spawning_front(&screen->view);
    if (front_id(screen) != 0 && screen->view.spawning.rounds[index].tallied)
        app_say(app, "The fish of this round are tallied, not judged one by one.");
    else
        with_round(app, screen, what);
}

static void press(struct app *app, void *state, struct key key)
{
    struct spawning_screen *screen = state;
    int action = list_key(&screen->view.list, CONTEXT_SPAWNING, key);
    switch (action) {
    case LIST_CHOOSE:
        choose(app, screen);
        break;
    case SPAWNING_BEGIN:
        begin_round(app, screen);
        break;
    case SPAWNING_LOTS:
        app_open_lots(app, screen->code);
        break;
    case SPAWNING_CHANGE:
        with_round(app, screen, app_ask_round);
        break;
    case SPAWNING_PASS:
        with_judged_round(app, screen, app_open_pass);
        break;
    case SPAWNING_LIST:
        with_judged_round(app, screen, app_open_list);
        break;
    case SPAWNING_FATES:
        with_round(app, screen, app_ask_fates);
        break;
    default:
        app_list_act(app, action);
        break;
    }
}

static void done(void *state)
{
    struct spawning_screen *screen = state;
    forget(screen);
    free(screen);
}

static const struct screen_kind spawning_kind = {.refresh = refresh,
                                                 .draw = draw,
                                                 .key = press,
                                                 .done = done,
                                                 .all_bound = true,
                                                 .context = CONTEXT_SPAWNING};

void app_open_spawning(struct app *app, const char *code)
{
    struct spawning_screen *screen = alloc_zeroed(1, sizeof *screen);
    text_copy(screen->code, sizeof screen->code, code);
    app_push(app, &spawning_kind, screen);
}

void app_open_lot(struct app *app, int64_t lot_id)
{
    struct spawning_screen *screen = alloc_zeroed(1, sizeof *screen);
    screen->lot_id = lot_id;
    app_push(app, &spawning_kind, screen);
}
