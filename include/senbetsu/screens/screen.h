/* A screen on the stack: what shows and what answers keys. The one on top is in front; the others
 * wait below it as they were. */
#ifndef SENBETSU_SCREENS_SCREEN_H
#define SENBETSU_SCREENS_SCREEN_H

#include "senbetsu/core/code.h"
#include "senbetsu/store/ledger.h"
#include "senbetsu/ui/bindings.h"
#include "senbetsu/ui/form.h"
#include "senbetsu/ui/grid.h"
#include "senbetsu/ui/key.h"

struct app;

/* How long a screen lies idle before it looks into the ledger again: others may be at work. */
enum { IDLE_MS = 5000, SCREENS_MOST = 16 };

/* Everything but `draw`, `key` and `done` may be NULL. */
struct screen_kind {
    /* Fills the model from the ledger: when the screen comes to the front, and now and then. */
    bool (*refresh)(struct app *app, void *state, struct err *err);
    void (*draw)(struct app *app, void *state, struct grid *grid);
    void (*key)(struct app *app, void *state, struct key key);
    /* How long to wait for a key; IDLE_MS where there is no such function. */
    int (*wait_ms)(const void *state);
    /* Nothing was pressed for that long; `refresh` where there is no such function. */
    void (*idle)(struct app *app, void *state);
    void (*done)(void *state); /* frees it */
    /* Every key of the screen stands in the table, under `context`: a key that does not is told to
     * do nothing. It is given to `key` nevertheless, for it may end a question. */
    bool all_bound;
    enum context context;
};

struct screen {
    const struct screen_kind *kind;
    void *state;
};

struct app {
    struct ledger *ledger;
    int64_t judge; /* 0 = not said */
    char judge_name[CODE_SIZE];
    struct screen screens[SCREENS_MOST];
    int screen_count;
    bool stale;            /* the screen in front has to be filled anew */
    char added[CODE_SIZE]; /* a spawning just added: home puts it in front */
    char message[ERR_TEXT_SIZE];
    bool alert;
    struct grid grid;
};

/* Puts a screen in front; the app owns the state from now on. */
void app_push(struct app *app, const struct screen_kind *kind, void *state);

/* Leaves the screen in front: its state is gone when this returns. */
void app_pop(struct app *app);

/* One sentence for the screen in front, until the next key. */
void app_say(struct app *app, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* The same for a failure, with a signal. Returns false. */
bool app_fail(struct app *app, const struct err *err);

/* The day it is now, where the program runs. */
void app_today(const struct app *app, char ret_day[11]);

/* What a form is for. */
struct form_task {
    /* Every line is right: carries it out and leaves the form with app_pop, or refuses a line with
     * form_refuse and stays. */
    void (*accept)(struct app *app, struct form *form, void *context);
    /* After every key, where a choice changes what other lines offer; may be NULL. */
    void (*adjust)(struct app *app, struct form *form, void *context);
    void (*done)(void *context); /* frees the context; may be NULL */
};

/* Puts a form in front. `form` is copied; `context` is given to the task's functions. */
void app_push_form(struct app *app, const struct form *form, const struct form_task *task,
                   void *context);

/* Carries the form in front out, as if the user had accepted it: after a form over it has filled
 * in what it was waiting for. */
void app_accept_form(struct app *app);

void app_push_help(struct app *app, enum context context);

/* What the keys of every screen of rows do alike: the keys of the one in front, and leaving it. */
void app_list_act(struct app *app, int action);

#endif
